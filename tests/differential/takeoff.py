"""What the takeoff says of a model: its surfaces, and the elements that it left out."""

import json
import subprocess
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from expected import Areas

ACCOUNTED = ("IfcWall", "IfcRoof", "IfcSlab", "IfcCovering", "IfcCurtainWall", "IfcPlate")
"""Every element of these classes is a surface or is named as left out."""


@dataclass
class Part:
    """One surface of an element that gives several, or its only one."""

    gross: float
    opening: float
    pitch: float


@dataclass
class Takeoff:
    """By `(GlobalId, entity)`."""

    walls: dict = field(default_factory=dict)
    plates: dict = field(default_factory=dict)
    left_out: dict = field(default_factory=dict)
    refused: str = ""


def run_takeoff(binary, path, frame=None, chimneys=frozenset()):
    """The takeoff of a model; one that the takeoff refuses gives nothing but the reason.

    With framing, walls that run past floors are cut there; their parts are added up again. What is cut out for
    `chimneys`, by GlobalId, is no opening of the model and is not taken for one.
    """
    with tempfile.TemporaryDirectory() as directory:
        saved = Path(directory) / "takeoff.json"
        command = [str(binary), "takeoff", str(path), "--exposure", "all", "--save", str(saved)]
        command += ["--frame", f"*: {frame}"] if frame else []
        run = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
        if run.returncode == 2:
            return Takeoff(refused=run.stderr.strip().splitlines()[0])
        if run.returncode != 0:
            raise SystemExit(f"`{' '.join(command)}` ended with status {run.returncode}:\n{run.stderr[-2000:]}")
        return _read(json.loads(saved.read_text()), chimneys)


def _read(takeoff, chimneys):
    found = Takeoff()
    for surface in takeoff["surfaces"]:
        key = surface["id"], surface["source"]["entity"]
        gross, opening = surface["gross_area_m2"], surface["opening_area_m2"]
        opening -= sum(one["area_m2"] for one in surface["openings"] if one["id"] in chimneys)
        if surface["kind"] != "wall":
            found.plates.setdefault(key, []).append(Part(gross, opening, surface["pitch_deg"]))
        else:
            rest = found.walls.get(key, Areas(0.0, 0.0, 0.0))
            found.walls[key] = Areas(rest.gross + gross, rest.opening + opening, rest.net + gross - opening)
    for element in takeoff["left_out_elements"]:
        found.left_out[element["id"], element["source"]["entity"]] = element["reason"]
    return found


def chimneys_of(model):
    """GlobalIds of the chimneys that stand as bodies of their own."""
    return frozenset(chimney.GlobalId for chimney in _by_type(model, "IfcChimney"))


def unaccounted(model, takeoff):
    """Elements of the file that are no surface and stand in no list."""
    known = {key for group in (takeoff.walls, takeoff.plates, takeoff.left_out) for key in group}
    entities = {entity for _, entity in known}
    elements = (element for name in ACCOUNTED for element in _by_type(model, name))
    return [element for element in elements if f"#{element.id()}" not in entities]


def _by_type(model, name):
    try:
        return model.by_type(name)
    except RuntimeError:
        return []

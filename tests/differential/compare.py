#!/usr/bin/env python3
"""Compares the takeoff of walls with an independent geometry kernel, wall by wall.

    compare.py --binary target/release/cavitally [MODEL.ifc ...]
    compare.py --stored DIRECTORY [MODEL.ifc ...]

Gross area and opening area of every wall with a body of its own are computed a second time: ifcopenshell builds the
solid with and without its openings, numpy cuts the mesh by the plane in which the contract measures, shapely gives the
areas. Without models, those of `samples` and of `$CAVITALLY_MODELS/ifc` are taken. With `--stored`, the binary is left
out and the second computation itself is held against values stored beside the models.

Exit status 1 when a wall differs and `known.json` does not explain it.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import ifcopenshell
from body import body_items, classes_below
from expected import Areas, expected_areas

PLANE_TOLERANCE = 1e-6
"""Relative to gross, for bodies with plane faces only."""
ARC_TOLERANCE = 1e-4
"""Relative to gross, for bodies that a mesh can only come close to."""
STORED_TOLERANCE_M2 = 1e-4
"""Stored values are rounded to four decimals."""
SECOND_KERNEL = "cgal"
FIRST_KERNEL = {"walls_474.ifc": "cgal"}
"""Models that the default back end builds wrongly: it misses subtractions there."""
MAY_BE_UNMEASURED = {"IfcAdvancedBrep", "IfcAdvancedBrepWithVoids", "IfcRevolvedAreaSolid", "IfcSweptDiskSolid",
                     "IfcSurfaceCurveSweptAreaSolid", "IfcFixedReferenceSweptAreaSolid", "IfcSectionedSpine", "IfcSphere"}
"""Ways of shaping a body that the takeoff may leave out, as long as it says so."""


@dataclass
class Report:
    """The outcome for one model."""

    model: str
    compared: int = 0
    varying: int = 0
    second_kernel: int = 0
    worst: float = 0.0
    worst_id: str = "-"
    skipped: Counter = field(default_factory=Counter)
    failed: list = field(default_factory=list)
    explained: list = field(default_factory=list)


def main():
    options = arguments()
    models = options.models or default_models()
    against = "stored" if options.stored else "takeoff"
    known = json.loads((Path(__file__).parent / "known.json").read_text())
    known = [entry for entry in known if entry["against"] == against]
    reports = [compare_model(path, options, known) for path in models]
    print_reports(reports)
    failed = sum(len(report.failed) for report in reports)
    passed = sum(report.compared for report in reports) - failed
    skipped = sum(sum(report.skipped.values()) for report in reports)
    if not models:
        print("skipped: no models in `samples` and CAVITALLY_MODELS is not set")
    print(f"{passed} passed, {failed} failed, {skipped} skipped")
    return 1 if failed else 0


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    source = parser.add_mutually_exclusive_group(required=True)
    source.add_argument("--binary", type=Path, help="the cavitally binary to compare")
    source.add_argument("--stored", type=Path, help="directory of stored values to hold the second computation against")
    parser.add_argument("models", nargs="*", type=Path)
    return parser.parse_args()


def default_models():
    root = Path(__file__).resolve().parents[2]
    found = sorted((root / "samples").glob("*.ifc"))
    shared = os.environ.get("CAVITALLY_MODELS")
    if shared:
        found += sorted((Path(shared) / "ifc").glob("*.ifc"))
    return found


def compare_model(path, options, known):
    report = Report(path.name)
    model = ifcopenshell.open(str(path))
    ours = stored_areas(options.stored, path) if options.stored else takeoff_areas(options.binary, path)
    walls = []
    for wall in model.by_type("IfcWall"):
        reason = None if body_items(wall) else "no body of its own"
        if reason:
            report.skipped[reason] += 1
        else:
            walls.append(wall)
    found = expected_areas(model, walls, FIRST_KERNEL.get(path.name, "opencascade"), options.stored)
    doubtful = []
    for wall in walls:
        expected = found[wall.id()]
        if isinstance(expected, str):
            report.skipped[expected] += 1
            continue
        difference = judge(areas_of(ours, wall), expected, options)
        if difference is None:
            report.skipped[left_out_reason(model, wall, report, known)] += 1
        elif difference[0] > difference[1]:
            doubtful.append((wall, expected, difference))
        else:
            count(report, expected, wall, difference)
    settle(model, doubtful, ours, options, report, known)
    report.skipped.pop(None, None)
    return report


def settle(model, doubtful, ours, options, report, known):
    """Walls that differ are built once more by the other back end, which decides."""
    again = expected_areas(model, [wall for wall, _, _ in doubtful], SECOND_KERNEL, options.stored)
    for wall, expected, difference in doubtful:
        second = again[wall.id()]
        if not isinstance(second, str):
            other = judge(areas_of(ours, wall), second, options)
            if other[0] <= other[1]:
                report.second_kernel += 1
                expected, difference = second, other
        count(report, expected, wall, difference)
        if difference[0] > difference[1]:
            areas = areas_of(ours, wall)
            middle = expected.at[0]
            fail(report, known, wall, f"gross {areas.gross or 0.0:.7f}, opening {areas.opening:.7f} m2; kernel gross "
                 f"{middle.gross:.7f}, opening {middle.opening:.7f} m2; difference {difference[0]:.2e}"
                 f"{', the section varies' if expected.varies else ''}")


def count(report, expected, wall, difference):
    report.compared += 1
    report.varying += expected.varies
    if difference[0] > report.worst:
        report.worst, report.worst_id = difference[0], wall.GlobalId


def fail(report, known, wall, text):
    for entry in known:
        if entry["model"] == report.model and entry["global_id"] == wall.GlobalId:
            report.explained.append(f"{wall.GlobalId} {text}: {entry['explanation']}")
            return
    report.failed.append(f"{wall.GlobalId} {text}")


def left_out_reason(model, wall, report, known):
    """The takeoff gives no area for a wall: fine for shapes that it need not measure, a failure for all others."""
    shapes = classes_below(model, body_items(wall)) & MAY_BE_UNMEASURED
    if shapes:
        return f"not measured: {', '.join(sorted(shapes))}"
    report.compared += 1
    fail(report, known, wall, "has a body and is missing from the takeoff")
    return None


def judge(areas, expected, options):
    """`(difference, tolerance)` against the nearest right answer; `None` where there is nothing to compare."""
    if areas is None:
        return None
    scale = 1.0 if options.stored else max(expected.at[0].gross, 1e-9)
    nearest = min(apart(areas, at) for at in expected.at) / scale
    if options.stored:
        return nearest, STORED_TOLERANCE_M2
    return nearest, ARC_TOLERANCE if expected.arcs else PLANE_TOLERANCE


def apart(areas, at):
    if areas.gross is None:
        return abs(areas.net - at.net)
    return max(abs(areas.gross - at.gross), abs(areas.opening - at.opening), abs(areas.net - at.net))


def takeoff_areas(binary, path):
    """`{(GlobalId, entity): Areas}` from the saved takeoff."""
    with tempfile.TemporaryDirectory() as directory:
        saved = Path(directory) / "takeoff.json"
        command = [str(binary), "takeoff", str(path), "--exposure", "all", "--save", str(saved)]
        run = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
        if run.returncode != 0:
            raise SystemExit(f"`{' '.join(command)}` ended with status {run.returncode}:\n{run.stderr[-2000:]}")
        takeoff = json.loads(saved.read_text())
    surfaces = [surface for surface in takeoff["surfaces"] if surface["kind"] == "wall" and surface["part"] == 0]
    found = {}
    for surface in surfaces:
        gross, opening = surface["gross_area_m2"], surface["opening_area_m2"]
        found[surface["id"], surface["source"]["entity"]] = Areas(gross, opening, gross - opening)
    return found


def stored_areas(directory, path):
    """The same from values stored beside the models, at mid thickness.

    Where the export cut the openings out of the body, stored gross areas fill doors as well, which the contract does
    not; then only the net area is compared.
    """
    stored = json.loads((directory / path.name).with_suffix(".json").read_text())
    found = {}
    for element in stored["elements"]:
        if element.get("method") == "slice" and "gross_side_area" in element:
            gross, net = element["gross_side_area"], element["net_side_area"]
            found[element["GlobalId"], None] = Areas(None if element.get("openings_precut") else gross, gross - net, net)
    return found


def areas_of(ours, wall):
    return ours.get((wall.GlobalId, f"#{wall.id()}")) or ours.get((wall.GlobalId, None))


def print_reports(reports):
    print(f"{'model':32} {'walls':>6} {'varies':>6} {'2nd':>4} {'worst':>9}  GlobalId")
    for report in reports:
        print(f"{report.model:32} {report.compared:6} {report.varying:6} {report.second_kernel:4} {report.worst:9.1e}"
              f"  {report.worst_id}")
        for reason, number in sorted(report.skipped.items()):
            print(f"    skipped {number}: {reason}")
        for text in report.explained:
            print(f"    known: {text}")
        for text in report.failed:
            print(f"    FAILED: {text}")


if __name__ == "__main__":
    sys.exit(main())

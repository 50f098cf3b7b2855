#!/usr/bin/env python3
"""Findings as topics, read by another library against the types of BCF 3.0: no unknown or missing field, every pattern
kept, each element in the model and in the middle of its camera's picture."""

import argparse
import json
import math
import re
import subprocess
import sys
import tempfile
import warnings
from dataclasses import fields, is_dataclass
from pathlib import Path

import bcf.v3.bcfxml
import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.shape
from other_models import other_models

SAMPLE = ["samples/house.ifc", "--job", "samples/house.toml"]
# Coordinates far from the origin and large models make shapes slow.
LARGEST = 500_000


def check_patterns(value: object) -> int:
    """Lengths and patterns that the schema sets for texts, in all that hangs below a value."""
    if isinstance(value, list):
        return sum(check_patterns(one) for one in value)
    if not is_dataclass(value):
        return 0
    checked = 0
    for field in fields(value):
        own = getattr(value, field.name)
        if field.metadata.get("required"):
            assert own is not None, f"{type(value).__name__} has no {field.name}"
        if isinstance(own, str):
            pattern, length = field.metadata.get("pattern"), field.metadata.get("length")
            assert pattern is None or re.fullmatch(pattern, own), own
            assert length is None or len(own) == length, own
            assert len(own) >= field.metadata.get("min_length", 0), field.name
            checked += 1
        checked += check_patterns(own)
    return checked


def is_seen(camera: object, element: ifcopenshell.entity_instance) -> bool | None:
    """Whether the middle of an element's shape is near the middle of the picture; None where the kernel has no shape."""
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    try:
        shape = ifcopenshell.geom.create_shape(settings, element)
    except RuntimeError:
        return None
    low, high = ifcopenshell.util.shape.get_bbox(ifcopenshell.util.shape.get_vertices(shape.geometry))
    middle = [(a + b) / 2 for a, b in zip(low, high)]
    eye = [getattr(camera.camera_view_point, axis) for axis in "xyz"]
    look = [getattr(camera.camera_direction, axis) for axis in "xyz"]
    way = [a - b for a, b in zip(middle, eye)]
    cosine = sum(a * b for a, b in zip(way, look)) / math.hypot(*way)
    return bool(cosine > math.cos(math.radians(camera.field_of_view / 2)))


def check(binary: str, arguments: list[str]) -> tuple[int, int]:
    with tempfile.TemporaryDirectory() as folder:
        saved, written = Path(folder) / "takeoff.json", Path(folder) / "findings.bcf"
        command = [binary, "takeoff", *arguments, "--save", str(saved), "--save", str(written)]
        done = subprocess.run(command, capture_output=True, text=True)
        if done.returncode == 2 and arguments is not SAMPLE:
            return 0, 0
        assert done.returncode == 0, done.stderr
        takeoff, model, cameras = json.loads(saved.read_text()), ifcopenshell.open(arguments[0]), 0
        with bcf.v3.bcfxml.BcfXml.load(written) as topics:
            assert topics.version.version_id == "3.0"
            check_patterns(topics.extensions)
            wanted = [one for one in takeoff["findings"] if len(one.get("id", "")) == 22]
            assert len(topics.topics) == min(len(wanted), 2000), (len(topics.topics), len(wanted))
            for topic in topics.topics.values():
                assert check_patterns(topic.markup) > 5
                assert topic.topic.topic_type in topics.extensions.topic_types.topic_type
                (view,) = topic.viewpoints.values()
                check_patterns(view.visualization_info)
                (component,) = view.visualization_info.components.selection.component
                element = model.by_guid(component.ifc_guid)
                if camera := view.visualization_info.perspective_camera:
                    seen = is_seen(camera, element)
                    assert seen is not False, (arguments[0], component.ifc_guid, camera)
                    cameras += seen is True
            return len(topics.topics), cameras


def main() -> int:
    warnings.simplefilter("error", category=UserWarning)
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    options = parser.parse_args()
    cases = [SAMPLE]
    cases += [[str(model)] for model in other_models("saved findings") if model.stat().st_size <= LARGEST]
    counts = [check(options.binary, arguments) for arguments in cases]
    topics, cameras = (sum(one) for one in zip(*counts))
    assert counts[0][0] > 5 and counts[0][1] > 5, counts[0]
    print(f"{topics} topics of {sum(1 for one in counts if one[0])} models, {cameras} of them with a camera")
    return 0


if __name__ == "__main__":
    sys.exit(main())

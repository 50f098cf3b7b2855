#!/usr/bin/env python3
"""Checks that the sample plan is HPXML by the standard's own schemas, and reads the same in every version.

The sample is carried over to versions 3.1, 4.2 and 5.0, validated with the XML Schemas that the package
`hpxml-version-translator` carries, and taken off; all versions must give the same areas.

    hpxml_check.py [BINARY]        BINARY: the program; by default target/debug/cavitally

The last line says `N passed, N failed`; the exit status is 1 if a check failed.
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile

import hpxml_version_translator
from lxml import etree

ROOT = pathlib.Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "samples" / "house-plan.xml"
SCHEMAS = pathlib.Path(hpxml_version_translator.__file__).parent / "schemas"
NAMESPACES = {
    "3.1": "http://hpxmlonline.com/2019/10",
    "4.2": "http://hpxmlonline.com/2023/09",
    "5.0": "http://hpxmlonline.com/2025/12",
}


def in_version(text, version):
    """The sample in another version: namespace and number, and version 3's own name for floors."""
    text = text.replace(NAMESPACES["4.2"], NAMESPACES[version]).replace('"4.2"', f'"{version}"')
    if version == "3.1":
        text = re.sub(r"\s*<FloorOrCeiling>.*</FloorOrCeiling>", "", text)
        text = text.replace("Floors>", "FrameFloors>").replace("<Floor>", "<FrameFloor>")
        text = text.replace("</Floor>", "</FrameFloor>").replace("conditioned space", "living space")
    return text


def areas(binary, path):
    """Gross and opening area of each surface, as the program takes them off."""
    saved = path.with_suffix(".json")
    subprocess.run([binary, "takeoff", path, "--save", saved], check=True, capture_output=True)
    surfaces = json.loads(saved.read_text(encoding="utf-8"))["surfaces"]
    return [(one["id"], one["kind"], one["gross_area_m2"], one["opening_area_m2"]) for one in surfaces]


def main():
    binary = sys.argv[1] if len(sys.argv) > 1 else ROOT / "target" / "debug" / "cavitally"
    passed, failed, found = 0, 0, []
    with tempfile.TemporaryDirectory() as folder:
        for version in NAMESPACES:
            text = in_version(SAMPLE.read_text(encoding="utf-8"), version)
            path = pathlib.Path(folder) / f"plan-{version}.xml"
            path.write_text(text, encoding="utf-8")
            schema = etree.XMLSchema(etree.parse(SCHEMAS / f"v{version}" / "HPXML.xsd"))
            is_valid = schema.validate(etree.parse(path))
            found.append(areas(binary, path))
            is_same = found[0] == found[-1] and len(found[-1]) == 4
            for name, is_good in (("valid", is_valid), ("same areas", is_same)):
                passed, failed = passed + is_good, failed + (not is_good)
                print(f"{'ok' if is_good else 'FAILED'}: version {version}, {name}")
            for error in schema.error_log:
                print(f"  line {error.line}: {error.message}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

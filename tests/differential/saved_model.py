#!/usr/bin/env python3
"""The model with the takeoff as an independent kernel reads it: its quantities are those of the JSON, every record that was
there is as it was, and validation finds nothing that it did not find before."""

import argparse
import json
import math
import os
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

import ifcopenshell
import ifcopenshell.util.element
import ifcopenshell.validate
from other_models import other_models

SAMPLE = ["samples/house.ifc", "--job", "samples/house.toml"]
FRAMED = ["--frame", "*: 2x6 @ 16 in", "--exposure", "all"]
QUANTITIES = {
    "GrossArea": "gross_area_m2",
    "OpeningArea": "opening_area_m2",
    "MemberArea": "member_area_m2",
    "BayArea": "bay_area_m2",
    "LeftOutArea": "left_out_area_m2",
    "BayVolume": "bay_volume_m3",
    "FillMass": "mass_kg",
}
# Larger models take validation too long.
LARGEST = 1_000_000
# The schemas' own rules take longer still: one small model of each schema is held against them.
LARGEST_BY_RULES = 120_000
BY_RULES: set[str] = set()


def breaches(model: ifcopenshell.file, by_rules: bool) -> Counter:
    """What validation finds: the rule and the instance that breaks it. How a rule was computed differs from run to run."""
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, logger, express_rules=by_rules)
    instance = lambda message: message.rstrip().rsplit("\n", 1)[-1]
    return Counter((str(one.get("type")), one.get("attribute") or "", instance(one["message"])) for one in logger.statements)


def near(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


def sums(takeoff: dict) -> dict[str, dict[str, float]]:
    """What each element comes to, over its counted surfaces."""
    elements: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for surface in takeoff["surfaces"]:
        if surface["counted"]:
            for key in QUANTITIES.values():
                elements[surface["id"]][key] += surface[key] or 0.0
            elements[surface["id"]]["bays"] += len(surface["bays"]) * surface["count"]
    return elements


def check(binary: str, arguments: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder:
        saved, written = Path(folder) / "takeoff.json", Path(folder) / "model.takeoff.ifc"
        command = [binary, "takeoff", *arguments, "--save", str(saved), "--save", str(written)]
        done = subprocess.run(command, capture_output=True, text=True)
        if done.returncode == 2 and "--frame" in arguments:
            return 0
        assert done.returncode == 0, done.stderr
        takeoff, before, after = json.loads(saved.read_text()), ifcopenshell.open(arguments[0]), ifcopenshell.open(written)
    for record in before:
        assert str(record) == str(after.by_id(record.id())), record
    schema = before.schema_identifier
    by_rules = schema not in BY_RULES and len(sums(takeoff)) > 0 and os.path.getsize(arguments[0]) <= LARGEST_BY_RULES
    if by_rules:
        BY_RULES.add(schema)
    new = breaches(after, by_rules) - breaches(before, by_rules)
    assert not new, f"{arguments[0]}: {new.most_common(3)}"
    ids = [root.GlobalId for root in after.by_type("IfcRoot")]
    assert len(ids) - len(set(ids)) == len(before.by_type("IfcRoot")) - len({r.GlobalId for r in before.by_type("IfcRoot")})
    elements = sums(takeoff)
    for global_id, own in elements.items():
        element = after.by_guid(global_id)
        sets = ifcopenshell.util.element.get_psets(element)
        stated, fill = sets["Cavitally_Takeoff"], sets["Cavitally_Fill"]
        for name, key in QUANTITIES.items():
            assert near(stated[name], own[key]), (global_id, name, stated[name], own[key])
        assert stated["Bays"] == own["bays"], (global_id, stated["Bays"])
        assert near(fill["FillMass"], own["mass_kg"]) and fill["Assembly"] and fill["Fill"], fill
        if own["bay_volume_m3"] > 0:
            assert near(fill["Density"] * own["bay_volume_m3"], own["mass_kg"]), fill
    return len(elements)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    options = parser.parse_args()
    cases = [SAMPLE]
    cases += [[str(model), *FRAMED] for model in other_models("saved models") if model.stat().st_size <= LARGEST]
    schemas: Counter = Counter()
    total = 0
    for arguments in cases:
        if count := check(options.binary, arguments):
            total += count
            schemas[ifcopenshell.open(arguments[0]).schema_identifier] += 1
    assert total > 20, total
    named = ", ".join(f"{count} {schema}" for schema, count in sorted(schemas.items()))
    print(f"{total} elements of {sum(schemas.values())} models ({named}) hold their takeoff, and nothing else changed")
    return 0


if __name__ == "__main__":
    sys.exit(main())

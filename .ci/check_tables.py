#!/usr/bin/env python3
"""Validates the table schemas and the sample sheets with frictionless.

A sheet `NAME-surfaces.csv` and its `NAME-openings.csv` are checked together, since openings name surfaces; a sheet of
both kinds is checked by itself. Sheets whose headings carry units are beyond a table schema, and are listed.
"""

import csv
import sys
from pathlib import Path

from frictionless import FrictionlessException, Package, Resource, Schema, system

ROOT = Path(__file__).resolve().parents[1]
SCHEMAS = ROOT / "schemas"
BOTH = "surfaces-and-openings"


def main():
    paths = sorted(SCHEMAS.glob("*.table.json"))
    if not paths:
        return report(["no table schemas in `schemas`"], 0)
    wrong = [text for path in paths for text in schema_errors(path)]
    checked = len(paths)
    with system.use_context(trusted=True):
        for path in sorted((ROOT / "samples").rglob("*.datapackage.json")):
            wrong += errors(path, Package(str(path)).validate())
            checked += 1
        for path in sorted((ROOT / "samples").rglob("*.csv")):
            package = package_of(path)
            if package is not None:
                wrong += errors(path, package.validate())
                checked += 1
    return report(wrong, checked)


def schema_errors(path):
    try:
        Schema.from_descriptor(str(path))
    except FrictionlessException as error:
        return [f"{path.relative_to(ROOT)}: {reason.message}" for reason in error.reasons or [error.error]]
    return []


def package_of(path):
    """The sheets to check with this one; `None` for one that goes with another or is beyond a schema."""
    if path.stem.endswith("openings"):
        return None
    if path.stem.endswith("surfaces"):
        openings = path.with_name(path.stem.removesuffix("surfaces") + "openings.csv")
        resources = [resource(path, "surfaces")]
        if openings.exists():
            resources.append(resource(openings, "openings"))
        return Package(resources=resources)
    fields = {field["name"] for field in Schema.from_descriptor(str(schema_path(BOTH))).to_descriptor()["fields"]}
    with path.open(newline="", encoding="utf-8") as sheet:
        headings = next(csv.reader(sheet))
    if not set(headings) <= fields:
        print(f"not checked, headings carry units or notes: {path.relative_to(ROOT)}")
        return None
    return Package(resources=[resource(path, BOTH)])


def resource(path, schema):
    name = "surfaces" if schema == BOTH else schema
    return Resource(name=name, path=str(path), schema=Schema.from_descriptor(str(schema_path(schema))))


def schema_path(name):
    return SCHEMAS / f"{name}.table.json"


def errors(path, outcome):
    found = [f"{path.relative_to(ROOT)}: {error.message}" for error in outcome.errors]
    for task in outcome.tasks:
        found += [f"{path.relative_to(ROOT)}: {task.name}: {error.message}" for error in task.errors]
    return found


def report(wrong, checked):
    for text in wrong:
        print(f"FAILED: {text}")
    print(f"{checked} schemas, packages and sheets checked, {len(wrong)} errors")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

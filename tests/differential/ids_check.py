#!/usr/bin/env python3
"""Checks `schemas/takeoff.ids` with `ifctester`, an implementation of IDS 1.0 by others.

The file must validate against the schema that `ifctester` carries; its classes and property sets must exist in every
schema that it names; the sample models must pass it; and a model that lacks any one thing must fail, in the
specification that asks for it.

    ids_check.py [MODEL ...]        MODEL: models that must pass; by default the samples of the project

The last line says `N passed, N failed`; the exit status is 1 if a check failed or there was no model.
"""

import pathlib
import sys

import ifcopenshell
import ifcopenshell.guid
import ifcopenshell.util.pset
from ifctester import ids

ROOT = pathlib.Path(__file__).resolve().parents[2]
SPECIFICATION = ROOT / "schemas" / "takeoff.ids"


class Report:
    """Counts checks and says which failed."""

    def __init__(self):
        self.passed = 0
        self.failed = 0

    def check(self, holds, what):
        if holds:
            self.passed += 1
        else:
            self.failed += 1
            print(f"failed: {what}")


def failing(model):
    """Names of the specifications that a model does not meet."""
    specification = ids.open(str(SPECIFICATION))
    specification.validate(model)
    return {one.name for one in specification.specifications if not one.status}


def names(value):
    """The names that a value of a facet allows; `ifctester` keeps them as a text or a restriction."""
    return [value] if isinstance(value, str) else list(value.options["enumeration"])


def check_words(specification, report):
    for one in specification.specifications:
        for version in one.ifcVersion:
            schema = ifcopenshell.ifcopenshell_wrapper.schema_by_name(version)
            sets = ifcopenshell.util.pset.PsetQto(version.split("_")[0])
            for facet in one.applicability + one.requirements:
                where = f"{one.name}, {version}"
                if isinstance(facet, (ids.Entity, ids.PartOf)):
                    for name in names(facet.name):
                        report.check(has_class(schema, name), f"{where}: class {name}")
                if isinstance(facet, ids.Property):
                    template = sets.get_by_name(facet.propertySet)
                    known = template and any(p.Name == facet.baseName for p in template.HasPropertyTemplates)
                    report.check(known, f"{where}: property {facet.propertySet}.{facet.baseName}")


def has_class(schema, name):
    try:
        return schema.declaration_by_name(name).name().upper() == name
    except RuntimeError:
        return False


def new(model, kind, **attributes):
    return model.create_entity(kind, GlobalId=ifcopenshell.guid.new(), **attributes)


def drop_relations(model, kind, element):
    for relation in model.by_type(kind):
        related = getattr(relation, "RelatedObjects", None) or relation.RelatedElements
        rest = [one for one in related if one != element]
        name = "RelatedObjects" if hasattr(relation, "RelatedObjects") else "RelatedElements"
        setattr(relation, name, rest)


def clear(kind, attribute):
    """Takes an attribute of the first element of a class away."""

    def change(model):
        setattr(model.by_type(kind)[0], attribute, None)

    return change


def unplace(model):
    drop_relations(model, "IfcRelContainedInSpatialStructure", model.by_type("IfcWall")[0])


def unlayer(model):
    wall = model.by_type("IfcWall")[0]
    drop_relations(model, "IfcRelAssociatesMaterial", wall)
    drop_relations(model, "IfcRelDefinesByType", wall)


def hide_exposure(model):
    model.by_type("IfcPropertySet")[0].Name = "Other"


def misname_exposure(model):
    model.by_type("IfcPropertySingleValue")[0].NominalValue = model.create_entity("IfcLabel", "yes")


def add(kind, **attributes):
    """Adds an element that has nothing but these attributes."""

    def change(model):
        new(model, kind, **attributes)

    return change


# What is changed, and the beginning of the name of the one specification that must fail; empty where none may.
CHANGES = [
    ("a project without units", clear("IfcProject", "UnitsInContext"), "The project states"),
    ("a storey without a name", clear("IfcBuildingStorey", "Name"), "Every storey"),
    ("a wall without a body", clear("IfcWall", "Representation"), "Every wall has"),
    ("a wall outside of every storey", unplace, "Every wall has"),
    ("a wall without a material", unlayer, "Every wall has"),
    ("a wall that does not say whether it is external", hide_exposure, "Every wall has"),
    ("a wall whose answer is a text", misname_exposure, "Every wall has"),
    ("a type without a name", clear("IfcWallType", "Name"), "Every wall type"),
    ("a slab with nothing", add("IfcSlab", Name="Slab"), "Every slab"),
    ("a roof outside of every storey", add("IfcRoof", Name="Roof"), "Every roof"),
    ("a covering with nothing", add("IfcCovering", Name="Ceiling"), "Every covering"),
    ("an opening without a body", clear("IfcOpeningElement", "Representation"), "Every opening"),
    ("a space without a name", add("IfcSpace"), "Every space"),
    ("a proxy for a wall", add("IfcBuildingElementProxy", Name="Basic Wall:7"), "No wall, roof"),
    ("a proxy for a tree", add("IfcBuildingElementProxy", Name="Tree by the wallflowers"), ""),
]


def check_changes(path, report):
    for what, change, due in CHANGES:
        model = ifcopenshell.open(path)
        change(model)
        found = failing(model)
        fits = len(found) == 1 and next(iter(found)).startswith(due) if due else not found
        report.check(fits, f"{path.name} as {what}: fails {sorted(found)}, due `{due}`")


def main(arguments):
    report = Report()
    try:
        specification = ids.open(str(SPECIFICATION), validate=True)
    except ids.IdsXmlValidationError as error:
        report.check(False, f"{SPECIFICATION.name} is not valid: {error}")
        print(f"{report.passed} passed, {report.failed} failed")
        return 1
    report.check(len(specification.specifications) > 0, "there are specifications")
    check_words(specification, report)
    models = [pathlib.Path(path) for path in arguments] or sorted((ROOT / "samples").glob("*.ifc"))
    report.check(len(models) > 0, "there are models to check")
    for path in models:
        found = failing(ifcopenshell.open(path))
        report.check(not found, f"{path.name} fails {sorted(found)}")
    if models:
        check_changes(models[0], report)
    print(f"{report.passed} passed, {report.failed} failed")
    return 1 if report.failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Bodies of walls: what shapes them, and their meshes from the independent kernel."""

import multiprocessing

import ifcopenshell
import ifcopenshell.geom
import numpy as np
from section import Mesh

CURVED = {"IfcCircle", "IfcEllipse", "IfcTrimmedCurve", "IfcCircleProfileDef", "IfcEllipseProfileDef", "IfcArcIndex",
          "IfcCircleHollowProfileDef", "IfcRoundedRectangleProfileDef", "IfcBSplineCurve", "IfcBSplineCurveWithKnots"}
BODY_NAMES = ("Body", "Facetation")


def body_items(product):
    """The items of the product's body; empty where it has none of its own."""
    shape = getattr(product, "Representation", None)
    for representation in getattr(shape, "Representations", None) or ():
        if representation.RepresentationIdentifier in BODY_NAMES:
            return list(representation.Items)
    return []


def classes_below(model, items):
    """Names of all classes that the items are made of."""
    return {entity.is_a() for item in items for entity in model.traverse(item)}


def has_arcs(model, wall):
    """Whether the wall or one of its openings has a curved edge, which a mesh can only come close to."""
    openings = [relation.RelatedOpeningElement for relation in wall.HasOpenings]
    return any(classes_below(model, body_items(product)) & CURVED for product in [wall, *openings])


def meshes(model, walls, with_openings, fine=False, library="opencascade"):
    """`{entity id: (mesh, placement matrix)}`, in metres and in the wall's own coordinates."""
    settings = ifcopenshell.geom.settings()
    settings.set("disable-opening-subtractions", not with_openings)
    if fine:
        settings.set("mesher-linear-deflection", 1e-6)
        settings.set("mesher-angular-deflection", 0.01)
        settings.set("circle-segments", 720)
    found = {}
    if not walls:
        return found
    threads = multiprocessing.cpu_count()
    iterator = ifcopenshell.geom.iterator(settings, model, threads, include=walls, geometry_library=library)
    if not iterator.initialize():
        return found
    while True:
        shape = iterator.get()
        if len(shape.geometry.faces):
            found[shape.id] = (_mesh(shape.geometry), _matrix(shape.transformation.matrix))
        if not iterator.next():
            return found


def _mesh(geometry):
    vertices = np.array(geometry.verts, dtype=float).reshape(-1, 3)
    faces = np.array(geometry.faces, dtype=int).reshape(-1, 3)
    items = np.array(geometry.item_ids, dtype=int)
    if len(items) != len(faces):
        items = np.zeros(len(faces), dtype=int)
    return Mesh(vertices, [faces[items == item] for item in dict.fromkeys(items.tolist())])


def _matrix(values):
    return np.array(values, dtype=float).reshape(4, 4).T

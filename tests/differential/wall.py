"""The plane in which a wall is measured: the middle of its cavity layer, or mid thickness.

Written from the takeoff's contract, not from its code: the layer whose material says stud, frame or timber frame; else
the insulation layer between two others; else none, and then the plane runs at mid thickness. Of several, one that is
said to bear load or is twice as thick as any other; else none.
"""

from dataclasses import dataclass

import ifcopenshell.util.element
import numpy as np
from words import meanings

SAME_M = 1e-4


@dataclass
class Plane:
    """A plane across the wall's thickness, in the wall's own coordinates."""

    normal: np.ndarray
    up: np.ndarray
    low: float
    high: float
    layer: tuple | None
    note: str
    share: float

    def offsets(self):
        """Middle first, then a quarter to each side, within the layer or the thickness."""
        low, high = self.layer or (self.low, self.high)
        return [low + share * (high - low) for share in (0.5, 0.25, 0.75)]


# What frames an element that lies.
LYING_FRAMES = frozenset({"stud", "frame", "rafter", "joist"})


def plane_of(wall, mesh, matrix, length_unit):
    """The measuring plane of a wall whose gross body is `mesh`."""
    up = matrix[:3, :3].T @ np.array([0.0, 0.0, 1.0])
    usage = _usage(wall)
    widest, share = _widest_normal(mesh, up)
    if usage is not None and usage.LayerSetDirection == "AXIS2" and abs(up[1]) < 1e-9:
        normal = np.array([0.0, 1.0, 0.0])
    else:
        normal = widest
    low, high = mesh.extent(normal)
    layer, note = _cavity(wall, usage, low, high, length_unit)
    return Plane(normal, up - normal * (normal @ up), low, high, layer, note, share)


def cavity_layer(element, normal, low, high, length_unit):
    """Both ends of the cavity layer of an element that lies, along its upward normal; `None` where it has none.

    A set that is placed along z may run against the normal; its offset is told from the element's own plane.
    """
    usage = _usage(element)
    turn = float(normal[2]) if usage is not None and usage.LayerSetDirection == "AXIS3" else 0.0
    if abs(turn) < 1.0 - 1e-9:
        usage, turn = None, 1.0
    return _cavity(element, usage, low, high, length_unit, np.sign(turn), LYING_FRAMES)[0]


def cavity_index(layers, frames=frozenset({"stud", "frame"})):
    """Index of the cavity layer among `(name, thickness, categories)`, or `None`."""
    kinds = [_kind(name, categories, frames) for name, _, categories in layers]
    sized = [i for i, (_, thickness, _) in enumerate(layers) if thickness > 0.0]
    framed = [i for i in sized if kinds[i] == "studs"]
    bearing = [i for i in framed if "loadbearing" in layers[i][2]]
    if len(bearing) == 1:
        return bearing[0]
    between = [i for i in sized if 0 < i < len(layers) - 1 and kinds[i] == "insulation"]
    rivals = sorted(framed or between, key=lambda i: -layers[i][1])
    if len(rivals) > 1 and layers[rivals[0]][1] < 2.0 * layers[rivals[1]][1] * (1.0 - 1e-9):
        return None
    return rivals[0] if rivals else None


def _kind(name, categories, frames):
    says = meanings(name)
    solid = "masonry" in says and "no masonry" not in says
    if says & frames and "no frame" not in says and not solid:
        return "studs"
    if "insulation" in says and "no insulation" not in says:
        return "insulation"
    known = says & {"air", "board", "membrane", "mass timber"}
    if solid or known:
        return "other"
    if "insulation" in categories and "wood" not in says:
        return "insulation"
    return "studs" if "loadbearing" in categories and "wood" in says else "other"


def _usage(wall):
    material = ifcopenshell.util.element.get_material(wall)
    return material if material is not None and material.is_a("IfcMaterialLayerSetUsage") else None


def _cavity(wall, usage, low, high, length_unit, turn=1.0, frames=frozenset({"stud", "frame"})):
    layer_set = ifcopenshell.util.element.get_material(wall, should_skip_usage=True)
    if layer_set is None or not layer_set.is_a("IfcMaterialLayerSet"):
        return None, "no layers"
    layers = [(_layer_name(layer), (layer.LayerThickness or 0.0) * length_unit, _categories(layer))
              for layer in layer_set.MaterialLayers]
    index = cavity_index(layers, frames)
    if index is None:
        return None, "no cavity layer"
    before = sum(thickness for _, thickness, _ in layers[:index])
    total = sum(thickness for _, thickness, _ in layers)
    sense = -turn if usage is not None and usage.DirectionSense == "NEGATIVE" else turn
    start = usage.OffsetFromReferenceLine * length_unit * turn if usage is not None else low
    stack = sorted((start, start + sense * total))
    note = "layers as placed"
    if abs(stack[0] - low) > SAME_M or abs(stack[1] - high) > SAME_M:
        start, note = (low if sense > 0.0 else high), "layers aligned to the body"
    ends = sorted((start + sense * before, start + sense * (before + layers[index][1])))
    if ends[0] < low - SAME_M or ends[1] > high + SAME_M or ends[1] - ends[0] <= 0.0:
        return None, "cavity layer outside the body"
    return tuple(ends), note


def _layer_name(layer):
    names = (getattr(layer.Material, "Name", None), getattr(layer, "Name", None))
    return " ".join(name for name in names if name)


def _categories(layer):
    own = getattr(layer, "Category", None) or getattr(layer.Material, "Category", None) or ""
    return {"".join(letter for letter in own.lower() if letter.isalpha())}


def _widest_normal(mesh, up):
    corners = mesh.vertices[mesh.faces()]
    doubled = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(doubled, axis=1)
    doubled, area = doubled[area > 0.0], area[area > 0.0]
    direction = doubled / area[:, None]
    level = np.abs(direction @ up) < 1e-3
    direction, area = direction[level], area[level]
    alike = np.abs(direction @ direction.T) > 1.0 - 1e-6
    widest = int(np.argmax(alike @ area))
    chosen = alike[widest]
    signs = np.sign(direction[chosen] @ direction[widest])
    mean = (direction[chosen] * (signs * area[chosen])[:, None]).sum(axis=0)
    mean -= up * (mean @ up)
    return mean / np.linalg.norm(mean), area[chosen].sum() / area.sum()

"""What the independent kernel finds for elements that lie: roofs, slabs, coverings.

A flat one is cut at mid thickness, or in the middle of its cavity layer, at right angles to its large faces; of a folded
one the faces that look up are added.
"""

from dataclasses import dataclass

import ifcopenshell.util.unit
import numpy as np
from body import has_arcs, meshes
from expected import Areas
from section import OpenMesh, filled, section, volume
from wall import cavity_layer

FLAT_SHARE = 0.6
"""The two large faces of a flat body have this share of its surface at least."""
PRISM_SHARE = 0.01
"""A block as thick as it is wide is flat as well, where its section by its thickness is its volume."""
LOOKS_UP = 0.1
"""Cosine of the steepest pitch of a flat element that is no wall."""
FACET_LOOKS_UP = 0.02
"""The same of a facet: the lowest ones of a barrel roof come near to upright."""
SAME_PITCH_DEG = 0.02
FOLDED_PITCH_DEG = 0.1
"""Faces of a fine mesh that differ by less than this may be taken for one plane."""


@dataclass
class Faces:
    """Triangles of a mesh: unit normals, areas and one corner."""

    normal: np.ndarray
    area: np.ndarray
    corner: np.ndarray

    def some(self, chosen):
        return Faces(self.normal[chosen], self.area[chosen], self.corner[chosen])


@dataclass
class Plate:
    """Every answer that is right for one element; a folded one has the pitch of each face beside its area."""

    at: list
    is_flat: bool
    varies: bool
    arcs: bool
    pitch: float
    faces: list


def expected_plates(model, elements, library):
    """`{entity id: Plate, or the reason why there is none}`."""
    unit = ifcopenshell.util.unit.calculate_unit_scale(model)
    arcs = {element.id() for element in elements if has_arcs(model, element)}
    found = {}
    for fine in (False, True):
        some = [element for element in elements if (element.id() in arcs) == fine]
        gross = meshes(model, some, False, fine, library)
        net = meshes(model, some, True, fine, library)
        for element in some:
            shapes = gross.get(element.id()), net.get(element.id())
            found[element.id()] = _expected(element, *shapes, unit, fine)
    return found


def _expected(element, gross, net, unit, arcs):
    if gross is None:
        return "the kernel gives no shape"
    mesh, matrix = gross
    up = matrix[:3, :3].T @ np.array([0.0, 0.0, 1.0])
    faces = _faces(mesh)
    normal, share = _widest(faces, up)
    if normal is None:
        return "no face looks up or down"
    net_mesh = net[0] if net else None
    try:
        flat = _flat(element, mesh, net_mesh, normal, up, unit, arcs)
    except OpenMesh:
        return "the mesh is open"
    low, high = mesh.extent(normal)
    is_prism = abs(flat.at[0].gross * (high - low) - volume(mesh)) < PRISM_SHARE * volume(mesh)
    return flat if share >= FLAT_SHARE or is_prism else _folded(faces, net_mesh, up, arcs)


def _flat(element, mesh, net, normal, up, unit, arcs):
    low, high = mesh.extent(normal)
    slope = up - normal * (normal @ up)
    along = slope if np.linalg.norm(slope) > 1e-9 else np.cross(normal, [1.0, 0.0, 0.0])
    if np.linalg.norm(along) < 1e-6:
        along = np.cross(normal, [0.0, 1.0, 0.0])
    along = along / np.linalg.norm(along)

    def areas(offset):
        gross = filled(section(mesh, normal, along, offset)).area
        rest = section(net, normal, along, offset).area if net else 0.0
        return Areas(gross, gross - rest, rest)

    def between(ends, share):
        return ends[0] + share * (ends[1] - ends[0])

    whole = (low, high)
    layer = cavity_layer(element, normal, low, high, unit) or whole
    middle = areas(between(layer, 0.5))
    beside = [areas(between(whole, share)) for share in (0.25, 0.5, 0.75)]
    varies = any(abs(other.gross - middle.gross) + abs(other.net - middle.net) > 1e-9 * middle.gross for other in beside)
    return Plate([middle], True, varies, arcs, _pitch(normal, up), [])


def _folded(faces, net, up, arcs):
    upward = faces.some(faces.normal @ up >= FACET_LOOKS_UP)
    gross = upward.area.sum()
    rest = 0.0
    if net:
        left = _faces(net)
        left = left.some(left.normal @ up >= FACET_LOOKS_UP)
        rest = left.some(_in_planes_of(left, upward)).area.sum()
    pairs = [(_pitch(normal, up), area) for normal, area in zip(upward.normal, upward.area, strict=True)]
    return Plate([Areas(gross, gross - rest, rest)], False, False, arcs, None, pairs)


def _in_planes_of(faces, others):
    """Which faces lie in the plane of one of the others: a reveal of an opening does not."""
    if not len(others.area):
        return np.zeros(len(faces.area), dtype=bool)
    chosen = np.zeros(len(faces.area), dtype=bool)
    height = (others.normal * others.corner).sum(axis=1)
    for index, (normal, corner) in enumerate(zip(faces.normal, faces.corner, strict=True)):
        level = np.abs(others.normal @ corner - height) < 1e-4
        chosen[index] = np.any(level & (others.normal @ normal > 1.0 - 1e-8))
    return chosen


def same_pitch_area(plate, pitch):
    """Area of the faces of a folded body that have a pitch."""
    return sum(area for other, area in plate.faces if abs(other - pitch) < FOLDED_PITCH_DEG)


def _faces(mesh):
    corners = mesh.vertices[mesh.faces()]
    doubled = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(doubled, axis=1) / 2.0
    sound = area > 1e-12
    return Faces(doubled[sound] / (2.0 * area[sound, None]), area[sound], corners[sound, 0])


def _widest(faces, up):
    """The upward normal of the two largest faces that lie, and their share of all."""
    lying = faces.some(np.abs(faces.normal @ up) >= LOOKS_UP)
    if not len(lying.area):
        return None, 0.0
    alike = np.abs(lying.normal @ lying.normal.T) > 1.0 - 1e-6
    widest = int(np.argmax(alike @ lying.area))
    chosen = alike[widest]
    signs = np.sign(lying.normal[chosen] @ lying.normal[widest])
    mean = (lying.normal[chosen] * (signs * lying.area[chosen])[:, None]).sum(axis=0)
    mean *= np.sign(mean @ up)
    return mean / np.linalg.norm(mean), lying.area[chosen].sum() / faces.area.sum()


def _pitch(normal, up):
    return float(np.degrees(np.arctan2(np.linalg.norm(np.cross(normal, up)), normal @ up)))

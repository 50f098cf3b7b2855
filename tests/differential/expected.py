"""What the independent kernel finds for walls: gross and opening area in the measuring plane."""

from dataclasses import dataclass

import ifcopenshell.util.unit
import numpy as np
from body import has_arcs, meshes
from curved import round_wall
from section import OpenMesh, filled, section
from wall import plane_of

STEP_ASIDE_M = 1e-5
"""A plane that falls on a face of the body is measured just beside it."""
BENDS_BELOW = 0.4
"""A wall bends when its widest pair of sides is less than this share of its upright faces."""


@dataclass
class Areas:
    """Gross and opening area of one wall, at one offset of the plane; `gross` may be missing in stored values."""

    gross: float | None
    opening: float
    net: float


@dataclass
class Expected:
    """Every answer that is right for one wall; the first is for the middle of its cavity layer."""

    at: list
    varies: bool
    arcs: bool
    by_volume: float | None = None
    """Of a round wall: gross volume by thickness."""


def expected_areas(model, walls, library, mid_thickness=False):
    """`{entity id: Expected, or the reason why there is none}`; on request at mid thickness, whatever the layers."""
    unit = ifcopenshell.util.unit.calculate_unit_scale(model)
    arcs = {wall.id() for wall in walls if has_arcs(model, wall)}
    found = {}
    for fine in (False, True):
        some = [wall for wall in walls if (wall.id() in arcs) == fine]
        gross = meshes(model, some, False, fine, library)
        net = meshes(model, some, True, fine, library)
        for wall in some:
            shapes = gross.get(wall.id()), net.get(wall.id())
            found[wall.id()] = _expected(wall, *shapes, unit, fine, mid_thickness)
    return found


def _expected(wall, gross, net, unit, arcs, mid_thickness):
    if gross is None:
        return "the kernel gives no shape"
    mesh, matrix = gross
    plane = plane_of(wall, mesh, matrix, unit)
    if arcs and plane.share < BENDS_BELOW:
        return _bent(mesh, net, plane.up)
    if mid_thickness:
        plane.layer = None
    middle, *others = plane.offsets()
    try:
        at = [_areas(mesh, net, plane, middle)]
        aside = [_areas(mesh, net, plane, middle + step) for step in (STEP_ASIDE_M, -STEP_ASIDE_M)]
        beside = [_areas(mesh, net, plane, offset) for offset in others]
    except OpenMesh:
        return "the mesh is open"
    varies = any(_apart(areas, at[0]) > 1e-9 for areas in beside)
    if varies and _jumps(at[0], *aside):
        at += [*aside, _mean(*aside)]
    return Expected(at, varies, arcs)


def _bent(mesh, net, up):
    found = round_wall(mesh, net[0] if net else None, up / np.linalg.norm(up))
    if isinstance(found, str):
        return found
    return Expected([Areas(found.gross, found.gross - found.net, found.net)], False, True, found.by_volume)


def _areas(mesh, net, plane, offset):
    whole = section(mesh, plane.normal, plane.up, offset)
    rest = section(net[0], plane.normal, plane.up, offset).area if net else 0.0
    gross = filled(whole).area
    return Areas(gross, gross - rest, rest)


def _mean(a, b):
    return Areas((a.gross + b.gross) / 2, (a.opening + b.opening) / 2, (a.net + b.net) / 2)


def _apart(a, b):
    return (abs(a.gross - b.gross) + abs(a.opening - b.opening)) / max(b.gross, 1e-9)


def _jumps(middle, above, below):
    """Whether the middle plane falls on a face, where the area has two values: a step far beyond a slanting side's."""
    one, other = _apart(above, middle), _apart(below, middle)
    return min(one, other) < 0.1 * max(one, other) or (one == 0.0) != (other == 0.0)

"""Round walls: their mesh is unrolled about the axis that their sides share, and cut at one radius.

Every triangle is split in sixteen first, so that bending it costs nothing that counts.
"""

from dataclasses import dataclass

import numpy as np
from section import Mesh, OpenMesh, filled, section, volume

SPLITS = 2
ROUND_M = 1e-3
"""Corners of the sides lie this close to one of two radii."""


@dataclass
class Round:
    """Gross and net area at the middle of the thickness, and gross volume by thickness, which is the same area."""

    gross: float
    net: float
    by_volume: float


def round_wall(gross, net, up):
    """The areas of a round wall, or the reason why there are none."""
    found = _axis(gross, up)
    if found is None:
        return "bends along its length, and not in a circle"
    centre, (inner, outer) = found
    middle = (inner + outer) / 2.0
    try:
        whole = filled(_unrolled(gross, up, centre, middle))
        rest = _unrolled(net, up, centre, middle) if net else whole.difference(whole)
    except OpenMesh:
        return "the mesh is open"
    return Round(whole.area, rest.area, volume(gross) / (outer - inner))


def _plan_axes(up):
    x = np.cross(up, [0.0, 0.0, 1.0]) if abs(up[2]) < 0.9 else np.array([1.0, 0.0, 0.0])
    x = x - up * (x @ up)
    x = x / np.linalg.norm(x)
    return x, np.cross(up, x)


def _axis(mesh, up):
    """Centre in plan and the radii of both sides: the point that the normals of the sides meet in.

    The ends have normals too; least absolute distances keep them from pulling at the centre.
    """
    x, y = _plan_axes(up)
    corners = mesh.vertices[mesh.faces()]
    doubled = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(doubled, axis=1)
    upright = (area > 1e-12) & (np.abs(doubled @ up) < 1e-3 * area)
    corners, area = corners[upright], area[upright]
    normal = doubled[upright] / area[:, None]
    across = np.column_stack([-(normal @ y), normal @ x])
    middle = corners.mean(axis=1)
    at = np.column_stack([middle @ x, middle @ y])
    weight = area.copy()
    for _ in range(30):
        left = (across * weight[:, None]).T @ across
        centre = np.linalg.lstsq(left, (across * weight[:, None]).T @ (across * at).sum(axis=1), rcond=None)[0]
        off = np.abs((across * (at - centre)).sum(axis=1))
        weight = area / np.maximum(off, ROUND_M)
    sides = off < ROUND_M
    radius = np.hypot(corners[sides] @ x - centre[0], corners[sides] @ y - centre[1])
    if not sides.any() or area[sides].sum() < 0.5 * area.sum():
        return None
    inner, outer = radius.min(), radius.max()
    near = np.minimum(np.abs(radius - inner), np.abs(radius - outer))
    if near.max() > ROUND_M or outer - inner < ROUND_M:
        return None
    return centre, (inner, outer)


def _unrolled(mesh, up, centre, radius):
    x, y = _plan_axes(up)
    vertices, pieces = mesh.vertices, mesh.pieces
    for _ in range(SPLITS):
        vertices, pieces = _split(vertices, pieces)
    a, b = vertices @ x - centre[0], vertices @ y - centre[1]
    ahead = np.arctan2(b.mean(), a.mean())
    angle = (np.arctan2(b, a) - ahead + np.pi) % (2.0 * np.pi) - np.pi
    flat = np.column_stack([angle * radius, vertices @ up, np.hypot(a, b)])
    return section(Mesh(flat, pieces), np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0]), radius)


def _split(vertices, pieces):
    """Every triangle as four, with the middles of its edges shared."""
    points, middles, split = list(vertices), {}, []

    def middle(i, j):
        key = (min(i, j), max(i, j))
        if key not in middles:
            middles[key] = len(points)
            points.append((vertices[i] + vertices[j]) / 2.0)
        return middles[key]

    for faces in pieces:
        some = []
        for i, j, k in faces.tolist():
            ij, jk, ki = middle(i, j), middle(j, k), middle(k, i)
            some += [(i, ij, ki), (ij, j, jk), (ki, jk, k), (ij, jk, ki)]
        split.append(np.array(some))
    return np.array(points), split

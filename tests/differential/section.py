"""Plane sections of a triangle mesh, as polygons, in double precision.

Each triangle that the plane crosses gives one segment between two mesh edges. A vertex is above the plane or not,
never on it (a half-open rule), so every crossing of an edge is found by both triangles that share it and the segments
chain into closed rings without comparing coordinates.
"""

from collections import defaultdict

import numpy as np
import shapely


class OpenMesh(Exception):
    """The section of a mesh does not close, so it has no area."""


class Mesh:
    """Triangles in metres; `pieces` holds the vertex indices of each separate body."""

    def __init__(self, vertices, pieces):
        self.vertices = vertices
        self.pieces = pieces

    def faces(self):
        return np.vstack(self.pieces)

    def extent(self, normal):
        along = self.vertices[np.unique(self.faces())] @ normal
        return along.min(), along.max()


def section(mesh, normal, up, offset):
    """The mesh cut by the plane `normal . p = offset`; x runs along `up x normal`, y along `up`."""
    across = np.cross(up, normal)
    flat = np.column_stack([mesh.vertices @ across, mesh.vertices @ up])
    height = mesh.vertices @ normal - offset
    regions = [_even_odd(_rings(faces, flat, height)) for faces in mesh.pieces]
    return shapely.union_all(regions)


def volume(mesh):
    """Volume of a closed mesh whose faces all look outward."""
    corners = mesh.vertices[mesh.faces()]
    return abs(np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])).sum()) / 6.0


def filled(region):
    """The region with its holes filled."""
    parts = shapely.get_parts(region)
    rings = [shapely.Polygon(part.exterior) for part in parts if part.geom_type == "Polygon"]
    return shapely.union_all(rings)


def _rings(faces, flat, height):
    """Closed rings; which way a triangle faces is of no account, since shells of mixed orientation exist."""
    beside = defaultdict(list)
    for face in faces.tolist():
        ends = _crossed_edges(face, height)
        if ends:
            beside[ends[0]].append(ends[1])
            beside[ends[1]].append(ends[0])
    if any(len(edges) % 2 for edges in beside.values()):
        raise OpenMesh
    rings = []
    while beside:
        at = start = next(iter(beside))
        ring = []
        while True:
            ring.append(_on_edge(at, flat, height))
            onward = _take(beside, at)
            _take(beside, onward, at)
            at = onward
            if at == start:
                break
        rings.append(np.array(ring))
    return rings


def _take(beside, edge, wanted=None):
    others = beside[edge]
    other = others.pop() if wanted is None else others.pop(others.index(wanted))
    if not others:
        del beside[edge]
    return other


def _crossed_edges(face, height):
    """The two edges of a triangle that the plane crosses, or none."""
    pairs = ((face[0], face[1]), (face[1], face[2]), (face[2], face[0]))
    return [(min(pair), max(pair)) for pair in pairs if (height[pair[0]] >= 0.0) != (height[pair[1]] >= 0.0)]


def _on_edge(edge, flat, height):
    a, b = edge
    t = height[a] / (height[a] - height[b])
    return flat[a] + t * (flat[b] - flat[a])


def _even_odd(rings):
    region = shapely.Polygon()
    for ring in rings:
        if len(ring) < 3:
            continue
        polygon = shapely.Polygon(ring)
        if not polygon.is_valid:
            polygon = shapely.make_valid(polygon)
        region = shapely.symmetric_difference(region, polygon)
    return region

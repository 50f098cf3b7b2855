#!/usr/bin/env python3
"""Checks with `shapely` that members, bays, openings and what is left out tile every framed surface.

Takes each model and sheet off, reads the saved takeoff and asks of every counted surface that has an outline: its
pieces do not overlap, together they are the outline, and its partial members lie in the bays and take from each just
what the bay says. Volumes and masses are added up anew from the outlines.

    tiling.py --binary target/release/cavitally [INPUT ...]

INPUT: a model, or sheets and a job file joined with `+` (`surfaces.csv+openings.csv+job.toml`); by default the samples
and the models in the folder that CAVITALLY_MODELS names. The last line says `N surfaces, N failed`; the exit status is
1 if one failed or there was none.
"""

import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

import shapely
from other_models import other_models
from shapely import STRtree
from shapely.geometry import Polygon
from shapely.ops import unary_union

ROOT = pathlib.Path(__file__).resolve().parents[2]
# Areas may differ by the rounding of f64 in two different engines.
SAME = 1e-9


def polygon(rings):
    """Rings of one polygon, the outer one first."""
    whole = Polygon(rings[0], rings[1:]) if rings else Polygon()
    # Rounding may lay two edges of a faceted outline over each other; what is mended must keep the stated area.
    return whole if whole.is_valid else shapely.make_valid(whole)


def region(rings):
    """Rings of several polygons: outer ones turn left, holes turn right."""
    outers = [polygon([ring]) for ring in rings if not is_hole(ring)]
    holes = [polygon([ring]) for ring in rings if is_hole(ring)]
    return unary_union(outers).difference(unary_union(holes))


def is_hole(ring):
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1])) < 0


class Checks:
    """What does not hold of one surface."""

    def __init__(self, surface):
        self.surface = surface
        self.gross_m2 = surface["gross_area_m2"] / surface["count"]
        self.failures = []

    def same(self, found, due, what, scale):
        if abs(found - due) > SAME * max(scale, 1e-9):
            self.failures.append(f"{what}: {found!r}, by shapely {due!r}")

    def none(self, area_m2, what):
        if area_m2 > SAME * self.gross_m2:
            self.failures.append(f"{what}: {area_m2:.3e} m2")


def overlaps(polygons):
    """Area that any two of them share."""
    tree = STRtree(polygons)
    shared = 0.0
    for index, one in enumerate(polygons):
        for other in tree.query(one, predicate="intersects"):
            if other > index:
                shared += one.intersection(polygons[other]).area
    return shared


def check_tiles(surface, checks):
    kinds = ("openings", "members", "bays", "left_out")
    pieces = {kind: [polygon(entry["outline_m"]) for entry in surface[kind] if entry["outline_m"]] for kind in kinds}
    for kind in kinds:
        stated = sum(entry["area_m2"] for entry in surface[kind] if entry["outline_m"])
        checks.same(stated, sum(piece.area for piece in pieces[kind]), f"area of {kind}", checks.gross_m2)
    everything = [piece for kind in kinds for piece in pieces[kind]]
    checks.none(overlaps(everything), "pieces overlap")
    outline = region(surface["outline_m"])
    checks.same(checks.gross_m2, outline.area, "gross area", checks.gross_m2)
    checks.none(unary_union(everything).symmetric_difference(outline).area, "pieces are not the outline")
    return pieces


def check_partial(surface, pieces, checks):
    """Partial members lie in bays and left-out pieces; those of one depth do not overlap."""
    partial = [(entry, polygon(entry["outline_m"])) for entry in surface["partial_members"]]
    ends = sorted({entry[key] for entry, _ in partial for key in ("from_m", "to_m")})
    for low, high in zip(ends, ends[1:]):
        middle = (low + high) / 2
        at = [outline for entry, outline in partial if entry["from_m"] < middle < entry["to_m"]]
        checks.none(overlaps(at), f"partial members overlap at a depth of {middle:.4f} m")
    taken = unary_union(pieces["members"] + pieces["openings"])
    for entry, outline in partial:
        checks.none(outline.intersection(taken).area, f"a partial {entry['role']} lies in a member or an opening")
    for bay, outline in zip((bay for bay in surface["bays"] if bay["outline_m"]), pieces["bays"]):
        displaced = 0.0
        for entry, piece in partial:
            if entry["area_m2"] > 0:
                displaced += entry["volume_m3"] * piece.intersection(outline).area / entry["area_m2"]
        whole_m3 = bay["area_m2"] * bay["depth_m"]
        checks.same(bay["displaced_m3"], displaced, f"displaced in bay {bay['id']}", whole_m3)


def check_sums(surface, checks):
    # What has a volume and no area of its own stays empty within bays: old fill, pipes, the wedge at the eaves.
    within = [entry["volume_m3"] for entry in surface["left_out"] if not entry["outline_m"] and entry["area_m2"] == 0]
    empty_m3 = sum(bay["empty_m3"] for bay in surface["bays"])
    checks.same(empty_m3, sum(within), "volume that stays empty within bays", surface["gross_volume_m3"])
    for bay in surface["bays"]:
        whole_m3 = bay["area_m2"] * bay["depth_m"]
        due_m3 = whole_m3 - bay["displaced_m3"] - bay["empty_m3"]
        checks.same(bay["volume_m3"], due_m3, f"volume of bay {bay['id']}", whole_m3)
        checks.same(bay["mass_kg"], bay["volume_m3"] * bay["density_kg_m3"], f"mass of bay {bay['id']}", bay["mass_kg"])
    total_kg = sum(bay["mass_kg"] for bay in surface["bays"]) * surface["count"]
    checks.same(surface["mass_kg"], total_kg, "mass", total_kg)
    volumes = ("opening", "member", "bay", "left_out")
    gross_m3 = surface["gross_volume_m3"]
    checks.same(gross_m3, sum(surface[f"{name}_volume_m3"] for name in volumes), "gross volume", gross_m3)


def check(surface):
    checks = Checks(surface)
    pieces = check_tiles(surface, checks)
    check_partial(surface, pieces, checks)
    check_sums(surface, checks)
    return checks.failures


def takeoff(binary, given, folder):
    saved = pathlib.Path(folder) / "takeoff.json"
    paths = [str(path) for path in given.split("+")]
    jobs = [path for path in paths if path.endswith(".toml")]
    command = [binary, "takeoff", *(path for path in paths if path not in jobs)]
    if not jobs:
        # Roofs are counted only where a vent gap is given.
        jobs = [str(pathlib.Path(folder) / "job.toml")]
        pathlib.Path(jobs[0]).write_text('[layout]\nvent_gap = "1 in"\n')
        command += ["--frame", "*: 2x6 @ 16 in", "--exposure", "all"]
    command += ["--job", jobs[0]]
    subprocess.run([*command, "--save", str(saved)], check=True, capture_output=True)
    return json.loads(saved.read_text())


def inputs():
    samples = ROOT / "samples"
    found = ["+".join(str(samples / "start" / name) for name in ("surfaces.csv", "openings.csv", "job.toml"))]
    house = ["house-surfaces.csv", "house-openings.csv", "house.toml"]
    found += ["+".join(str(samples / name) for name in house)]
    found += [f"{path}+{path.with_suffix('.toml')}" for path in sorted(samples.glob("*.ifc"))]
    return found + [str(path) for path in other_models("tiling")]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--binary", required=True)
    parser.add_argument("input", nargs="*")
    arguments = parser.parse_args()
    count = failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for given in arguments.input or inputs():
            surfaces = takeoff(arguments.binary, given, folder)["surfaces"]
            framed = [surface for surface in surfaces if surface["counted"] and surface["outline_m"]]
            wrong = [(surface, failures) for surface in framed if (failures := check(surface))]
            count += len(framed)
            failed += len(wrong)
            print(f"{pathlib.Path(given.split('+')[0]).name}: {len(framed)} framed surfaces, {len(wrong)} failed")
            for surface, failures in wrong[:5]:
                print(f"  {surface['id']} part {surface['part']}: {'; '.join(failures[:3])}")
    print(f"{count} surfaces, {failed} failed")
    return 1 if failed or not count else 0


if __name__ == "__main__":
    sys.exit(main())

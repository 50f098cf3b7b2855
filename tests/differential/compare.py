#!/usr/bin/env python3
"""Compares the takeoff of walls, roofs, slabs and coverings with an independent geometry kernel, one by one.

    compare.py --binary target/release/cavitally [--frame "2x6 @ 16 in"] [MODEL.ifc ...]
    compare.py --stored DIRECTORY [MODEL.ifc ...]

Gross area and opening area of every element with a body of its own are computed a second time: ifcopenshell builds the
solid with and without its openings, numpy cuts the mesh by the plane in which the contract measures, shapely gives the
areas. Round walls are unrolled; of folded roofs the faces that look up are added. Every wall, roof, slab, covering,
curtain wall and plate of the file must be a surface or be named as left out. Without models, those of `samples` and of `$CAVITALLY_MODELS/ifc` are taken. With `--stored`, the binary is left
out and the second computation itself is held against values stored beside the models.

Exit status 1 when an element differs and `known.json` does not explain it.
"""

import argparse
import json
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import ifcopenshell
from body import body_items, classes_below
from expected import Areas, expected_areas
from lying import compare_plates
from other_models import other_models
from package_models import package_models
from takeoff import chimneys_of, run_takeoff, unaccounted

PLANE_TOLERANCE = 1e-6
"""Relative to gross, for bodies with plane faces only."""
ARC_TOLERANCE = 1e-4
"""Relative to gross, for bodies that a mesh can only come close to."""
VOLUME_TOLERANCE = 0.005
"""Relative to gross, of round walls against their volume by their thickness."""
STORED_TOLERANCE_M2 = 1e-4
"""Stored values are rounded to four decimals."""
SECOND_KERNEL = "cgal"
FIRST_KERNEL = {"walls_474.ifc": "cgal"}
"""Models that the default back end builds wrongly: it misses subtractions there."""
MAY_BE_UNMEASURED = {"IfcAdvancedBrep", "IfcAdvancedBrepWithVoids", "IfcRevolvedAreaSolid", "IfcSweptDiskSolid",
                     "IfcSurfaceCurveSweptAreaSolid", "IfcFixedReferenceSweptAreaSolid", "IfcSectionedSpine", "IfcSphere"}
"""Ways of shaping a body that the takeoff may leave out, as long as it says so."""


@dataclass
class Report:
    """The outcome for one model."""

    model: str
    known: list
    compared: int = 0
    plates: int = 0
    varying: int = 0
    second_kernel: int = 0
    worst: float = 0.0
    worst_id: str = "-"
    skipped: Counter = field(default_factory=Counter)
    failed: list = field(default_factory=list)
    explained: list = field(default_factory=list)

    def note(self, element, difference):
        """Keeps the largest difference."""
        if difference > self.worst:
            self.worst, self.worst_id = difference, element.GlobalId

    def fail(self, element, text):
        """A difference, explained or not; without an element it is the model's."""
        global_id = element.GlobalId if element else "-"
        for entry in self.known:
            if entry["model"] == self.model and entry["global_id"] == global_id:
                self.explained.append(f"{global_id} {text}: {entry['explanation']}")
                return
        self.failed.append(f"{global_id} {text}")


def main():
    options = arguments()
    models = options.models or default_models()
    models += package_models() if options.packages else []
    against = "stored" if options.stored else "takeoff"
    known = json.loads((Path(__file__).parent / "known.json").read_text())
    known = [entry for entry in known if entry["against"] == against]
    reports = [compare_model(path, options, known) for path in models]
    print_reports(reports)
    failed = sum(len(report.failed) for report in reports)
    compared = sum(report.compared + report.plates for report in reports)
    explained = sum(len(report.explained) for report in reports)
    passed = compared - failed - explained
    skipped = sum(sum(report.skipped.values()) for report in reports)
    if not models:
        print("skipped: no models in `samples` nor by others")
    print(f"{passed} passed, {failed} failed, {skipped + explained} skipped")
    return 1 if failed else 0


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    source = parser.add_mutually_exclusive_group(required=True)
    source.add_argument("--binary", type=Path, help="the cavitally binary to compare")
    source.add_argument("--stored", type=Path, help="directory of stored values to hold the second computation against")
    parser.add_argument("--packages", action="store_true", help="add the models that published packages carry")
    parser.add_argument("--frame", metavar="FRAMING", help="frame all surfaces so: walls are cut at floors, and add up")
    parser.add_argument("models", nargs="*", type=Path)
    return parser.parse_args()


def default_models():
    root = Path(__file__).resolve().parents[2]
    found = sorted((root / "samples").glob("*.ifc"))
    return found + other_models("bodies by an independent kernel")


def compare_model(path, options, known):
    report = Report(path.name, known)
    try:
        model = ifcopenshell.open(str(path))
    except (ifcopenshell.Error, OSError) as error:
        report.skipped[f"the kernel cannot open it: {error}"] += 1
        return report
    if options.stored:
        compare_walls(model, stored_areas(options.stored, path), options, report)
        return report
    takeoff = run_takeoff(options.binary, path, options.frame, chimneys_of(model))
    if takeoff.refused:
        report.fail(None, f"is refused: {takeoff.refused}")
        return report
    for element in unaccounted(model, takeoff):
        report.fail(element, f"{element.is_a()} is neither a surface nor left out with a reason")
    compare_walls(model, takeoff.walls, options, report)
    library = FIRST_KERNEL.get(report.model, "opencascade")
    compare_plates(model, takeoff, report, library, {False: PLANE_TOLERANCE, True: ARC_TOLERANCE})
    return report


def compare_walls(model, ours, options, report):
    walls = []
    for wall in model.by_type("IfcWall"):
        reason = None if body_items(wall) else "no body of its own"
        if reason:
            report.skipped[reason] += 1
        else:
            walls.append(wall)
    library = FIRST_KERNEL.get(report.model, "opencascade")
    found = expected_areas(model, walls, library, options.stored)
    doubtful = []
    for wall in walls:
        expected = found[wall.id()]
        if isinstance(expected, str):
            report.skipped[expected] += 1
            continue
        difference = judge(areas_of(ours, wall), expected, options)
        if difference is None and options.stored:
            report.skipped["no section is stored"] += 1
        elif difference is None:
            report.skipped[left_out_reason(model, wall, report)] += 1
        elif difference[0] > difference[1]:
            doubtful.append((wall, expected, difference))
        else:
            count(report, expected, wall, difference)
    settle(model, doubtful, ours, options, report)
    report.skipped.pop(None, None)


def settle(model, doubtful, ours, options, report):
    """Walls that differ are built once more by the other back end, which decides."""
    again = expected_areas(model, [wall for wall, _, _ in doubtful], SECOND_KERNEL, options.stored)
    for wall, expected, difference in doubtful:
        second = again[wall.id()]
        if not isinstance(second, str):
            other = judge(areas_of(ours, wall), second, options)
            if other[0] <= other[1]:
                report.second_kernel += 1
                expected, difference = second, other
        count(report, expected, wall, difference)
        if difference[0] > difference[1]:
            areas = areas_of(ours, wall)
            middle = expected.at[0]
            report.fail(wall, f"gross {areas.gross or 0.0:.7f}, opening {areas.opening:.7f} m2; kernel gross "
                 f"{middle.gross:.7f}, opening {middle.opening:.7f} m2; difference {difference[0]:.2e}"
                 f"{', the section varies' if expected.varies else ''}")


def count(report, expected, wall, difference):
    report.compared += 1
    report.varying += expected.varies
    report.note(wall, difference[0])


def left_out_reason(model, wall, report):
    """The takeoff gives no area for a wall: fine for shapes that it need not measure, a failure for all others."""
    shapes = classes_below(model, body_items(wall)) & MAY_BE_UNMEASURED
    if shapes:
        return f"not measured: {', '.join(sorted(shapes))}"
    report.compared += 1
    report.fail(wall, "has a body and is missing from the takeoff")
    return None


def judge(areas, expected, options):
    """`(difference, tolerance)` against the nearest right answer; `None` where there is nothing to compare."""
    if areas is None:
        return None
    scale = 1.0 if options.stored else max(expected.at[0].gross, 1e-9)
    nearest = min(apart(areas, at) for at in expected.at) / scale
    if expected.by_volume and abs(areas.gross - expected.by_volume) > VOLUME_TOLERANCE * scale:
        return abs(areas.gross - expected.by_volume) / scale, VOLUME_TOLERANCE
    if options.stored:
        return nearest, STORED_TOLERANCE_M2
    return nearest, ARC_TOLERANCE if expected.arcs else PLANE_TOLERANCE


def apart(areas, at):
    if areas.gross is None:
        return abs(areas.net - at.net)
    return max(abs(areas.gross - at.gross), abs(areas.opening - at.opening), abs(areas.net - at.net))


def stored_areas(directory, path):
    """The same from values stored beside the models, at mid thickness.

    Where the export cut the openings out of the body, stored gross areas fill doors as well, which the contract does
    not; then only the net area is compared.
    """
    stored = json.loads((directory / path.name).with_suffix(".json").read_text())
    found = {}
    for element in stored["elements"]:
        if element.get("method") == "slice" and "gross_side_area" in element:
            gross, net = element["gross_side_area"], element["net_side_area"]
            found[element["GlobalId"], None] = Areas(None if element.get("openings_precut") else gross, gross - net, net)
    return found


def areas_of(ours, wall):
    return ours.get((wall.GlobalId, f"#{wall.id()}")) or ours.get((wall.GlobalId, None))


def print_reports(reports):
    print(f"{'model':44} {'walls':>6} {'plates':>6} {'varies':>6} {'2nd':>4} {'worst':>9}  GlobalId")
    for report in reports:
        print(f"{report.model:44} {report.compared:6} {report.plates:6} {report.varying:6} {report.second_kernel:4} "
              f"{report.worst:9.1e}  {report.worst_id}")
        for reason, number in sorted(report.skipped.items()):
            print(f"    skipped {number}: {reason}")
        for text in report.explained:
            print(f"    known: {text}")
        for text in report.failed:
            print(f"    FAILED: {text}")


if __name__ == "__main__":
    sys.exit(main())

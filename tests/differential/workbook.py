#!/usr/bin/env python3
"""The saved workbook as another program computes it: masses and bags equal those of the JSON, and follow a changed density.

Stored results are taken out of the workbook first, so that every figure is LibreOffice's own.
"""

import argparse
import csv
import json
import math
import re
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

POUND_KG = 0.45359237
CUBIC_FOOT_M3 = 0.3048**3
UNITS = {"si": (1.0, 1.0), "us": (POUND_KG, CUBIC_FOOT_M3)}
CASES = [
    (["samples/house.ifc", "--job", "samples/house.toml"], "si"),
    (["samples/house.ifc", "--job", "samples/house.toml"], "us"),
    (["samples/start/surfaces.csv", "samples/start/openings.csv", "--job", "samples/start/job.toml"], "us"),
    (["samples/cabin.csv", "--job", "samples/cabin-job.toml"], "us"),
]
# All sheets, values in full and not as shown.
AS_CSV = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"


def emptied(source: Path, target: Path, factor: float) -> None:
    """Copies a workbook without the results of its formulas, its densities multiplied by a factor."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            data = old.read(entry)
            if entry.filename.startswith("xl/worksheets/sheet"):
                text, formulas = re.subn(r"(<f>[^<]*</f>)<v>[^<]*</v>", r"\1", data.decode())
                if entry.filename.endswith("sheet1.xml"):
                    assert formulas, "the order has no formulas"
                    text = scaled(text, factor)
                data = text.encode()
            new.writestr(entry, data)


def scaled(sheet: str, factor: float) -> str:
    """Multiplies the numbers of column B that are no formulas: the densities."""
    number = re.compile(r'(<c r="B\d+"(?: s="\d+")?><v>)([^<]+)(</v>)')
    sheet, count = number.subn(lambda m: f"{m[1]}{float(m[2]) * factor!r}{m[3]}", sheet)
    assert count, "the order has no densities"
    return sheet


def computed(workbook: Path, folder: Path) -> dict[str, list[list[str]]]:
    """The sheets of a workbook, as LibreOffice computes them."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    subprocess.run(
        ["soffice", profile, "--headless", "--convert-to", AS_CSV, "--outdir", str(folder), str(workbook)],
        check=True,
        capture_output=True,
        timeout=180,
    )
    sheets = {}
    for name in ["Order", "Surfaces", "Bays", "Assumptions", "Findings"]:
        with open(folder / f"{workbook.stem}-{name}.csv", encoding="utf-8", newline="") as file:
            sheets[name] = list(csv.reader(file))
    return sheets


def near(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


def check(binary: str, arguments: list[str], units: str, factor: float, folder: Path) -> int:
    saved, plain, changed = (folder / name for name in ["takeoff.json", "takeoff.xlsx", "emptied.xlsx"])
    command = [binary, "takeoff", *arguments, "--units", units, "--save", str(saved), "--save", str(plain)]
    subprocess.run(command, check=True, capture_output=True)
    takeoff = json.loads(saved.read_text())
    emptied(plain, changed, factor)
    sheets = computed(changed, folder)
    (mass_kg, volume_m3), checked = UNITS[units], 0
    lines = sheets["Order"][3 : 3 + len(takeoff["fills"])]
    for line, fill in zip(lines, takeoff["fills"], strict=True):
        assert line[0] == fill["name"], line
        assert near(float(line[1]) * volume_m3, fill["volume_m3"]), (line, fill["volume_m3"])
        assert near(float(line[2]) * mass_kg, fill["mass_kg"] * factor), (line, fill["mass_kg"])
        checked += 2
        if fill["bags_order"] is not None:
            exact = fill["mass_kg"] * factor / fill["bag_kg"]
            assert near(float(line[4]), exact), (line, exact)
            order = math.ceil(exact * (1 + fill["allowance"]) - 1e-9)
            assert factor != 1.0 or order == fill["bags_order"]
            assert float(line[6]) == order, (line, order)
            checked += 2
    heading = next(index for index, text in enumerate(sheets["Surfaces"][0]) if text.startswith("mass"))
    for row, surface in zip(sheets["Surfaces"][1:], takeoff["surfaces"], strict=True):
        mass = float(row[heading] or 0.0) * mass_kg
        assert near(mass, (surface["mass_kg"] or 0.0) * factor), (row, surface["mass_kg"])
        checked += 1
    heading = next(index for index, text in enumerate(sheets["Bays"][0]) if text.startswith("mass"))
    bays = sum(float(row[heading]) * float(row[4]) for row in sheets["Bays"][1:]) * mass_kg
    assert near(bays, sum(fill["mass_kg"] for fill in takeoff["fills"]) * factor), bays
    return checked + 1


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--binary", required=True)
    options = parser.parse_args()
    checked = 0
    for arguments, units in CASES:
        for factor in [1.0, 2.0]:
            with tempfile.TemporaryDirectory() as folder:
                checked += check(options.binary, arguments, units, factor, Path(folder))
    print(f"{checked} figures of {len(CASES)} workbooks are the same in LibreOffice")
    return 0


if __name__ == "__main__":
    sys.exit(main())

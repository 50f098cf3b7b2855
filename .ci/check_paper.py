#!/usr/bin/env python3
"""The papers of the sample house hold what they must as text that can be selected: by the text tool of another PDF library."""

import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SHEETS = ["samples/house-surfaces.csv", "samples/house-openings.csv"]
FT2_OF_M2 = 1 / 0.3048**2
BTU_OF_SI = 5.678263  # h ft2 F/Btu in a m2 K/W


def saved(command, inputs, more, folder):
    """Paper and record of a command; their pages as text."""
    paper, record = Path(folder, f"{command}.pdf"), Path(folder, f"{command}.json")
    run = [ROOT / "target/release/cavitally", command, *inputs, "--job", "samples/house.toml", *more]
    outcome = subprocess.run([*run, "--save", paper, "--save", record], cwd=ROOT, capture_output=True, text=True)
    if outcome.returncode not in (0, 1):
        sys.exit(outcome.stderr)
    raw = subprocess.run(["pdftotext", "-layout", paper, "-"], check=True, capture_output=True, text=True).stdout
    pages = [" ".join(page.split()) for page in raw.split("\f")[:-1]]
    return pages, json.loads(record.read_text())


def of_all(name, pages, record):
    """What every paper holds: numbered pages, and in each footer the checksums of what it was made from."""
    wrong = [f"{name}: page {at} is not numbered" for at, page in enumerate(pages, 1) if f"{at} of {len(pages)}" not in page]
    return wrong + [f"{name}: no checksum of {one['path']} on page {at}" for one in record["inputs"]
                    for at, page in enumerate(pages, 1) if one["sha256"][:12] not in page]


def takeoff(folder):
    pages, record = saved("takeoff", ["samples/house.ifc"], [], folder)
    text = " ".join(pages)
    wrong = [f"no order of {fill['name']}" for fill in record["fills"]
             if f"{fill['bags_order']} bags of {fill['name']}" not in text]
    names = [surface["name"] for surface in record["surfaces"] if surface["counted"]]
    wrong += [f"surface {name} is not on the paper" for name in names if name.split(",")[0] not in text]
    return pages, wrong + of_all("takeoff", pages, record)


def opinion(folder):
    pages, record = saved("audit", SHEETS, ["--claims", "samples/house-claims.csv"], folder)
    text = " ".join(pages)
    wrong = [f"opinion: no cause of {claim['surfaces']}" for claim in record["claims"]
             if claim["cause"] and claim["cause"]["message"].split(":")[0] not in text]
    wrong += [f"opinion: no {words}" for words in ["Rater", "Licence number", "Signature", "Date", "no inspection"]
              if words not in text]
    return pages, wrong + of_all("opinion", pages, record)


def papers(folder):
    """16 CFR 460.17: coverage area, initial thickness, minimum settled thickness, R-value and bags, each part by itself."""
    pages, record = saved("closeout", SHEETS, ["--log", "samples/house-log.csv"], folder)
    titles = ["Receipt for insulation", "Insulation certificate", "Record of what was blown"]
    starts = [next((at for at, page in enumerate(pages) if page.startswith(title)), None) for title in titles]
    if None in starts:
        return pages, [f"papers: not each of {titles} begins a page"]
    receipt = " ".join(pages[starts[0]:starts[1]])
    rows = ["Coverage area", "Initial installed thickness", "Minimum settled thickness", "R-value", "Number of bags used"]
    # Parts of the receipt begin with what they are filled with.
    parts = receipt.split("Type of insulation")[1:]
    # A receipt says what was installed: places that were looked into alone are in the record.
    zones = [zone for zone in record["zones"] if zone["is_blown"]]
    wrong = [] if len(parts) == len(zones) else [f"receipt: {len(parts)} parts for {len(zones)}"]
    for zone, part in zip(zones, parts):
        wrong += [f"receipt: no {row} of {zone['name']}" for row in rows if row not in part]
        area_m2 = zone["attic"]["coverage_area_m2"] if zone["attic"] else zone["bay_area_m2"]
        used = zone["bags_used_exact"]
        figures = [f"Coverage area {area_m2 * FT2_OF_M2:,.1f} ft2"]
        figures.append(f"bags used {used:,.1f}" if used is not None else f"{zone['bags_exact']:,.1f} were taken")
        r_si = (zone["row"] or {}).get("r_m2k_w")
        figures.append(f"R-value R-{r_si * BTU_OF_SI:.0f} " if r_si else "R-value not printed here")
        wrong += [f"receipt: no `{figure}` of {zone['name']}" for figure in figures if figure not in part]
    area_ft2 = sum(zone["bay_area_m2"] for zone in record["zones"]) * FT2_OF_M2
    wrong += ["receipt: a total of areas"] if f"{area_ft2:,.1f}" in receipt else []
    wrong += ["receipt: a total"] if re.search(r"\b(total|sum)\b", receipt, re.IGNORECASE) else []
    wrong += [f"receipt: no {words}" for words in ["Installer's signature", "Date", "16 CFR 460.17"] if words not in receipt]
    wrong += [f"{title}: no licence number" for title, at in zip(titles, starts) if "Licence number" not in pages[at]]
    facts = [record["papers"][key] for key in ["address", "measured_by", "measured_on", "verified"]] + ["cavitally 0."]
    wrong += [f"papers: no {fact} on page {at}" for at, page in enumerate(pages, 1) for fact in facts if fact not in page]
    return pages, wrong + of_all("papers", pages, record)


def main():
    failed = 0
    for check in (takeoff, opinion, papers):
        with tempfile.TemporaryDirectory() as folder:
            pages, wrong = check(folder)
        for line in wrong:
            print(line)
        print(f"{check.__name__}: {len(pages)} pages, {len(wrong)} failed")
        failed += len(wrong)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())

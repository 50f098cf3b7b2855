#!/usr/bin/env python3
"""The paper of the sample house holds its order as text that can be selected: by the text tool of another PDF library."""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def main():
    with tempfile.TemporaryDirectory() as folder:
        paper, saved = Path(folder, "report.pdf"), Path(folder, "takeoff.json")
        command = [ROOT / "target/release/cavitally", "takeoff", "samples/house.ifc", "--job", "samples/house.toml"]
        subprocess.run([*command, "--save", paper, "--save", saved], cwd=ROOT, check=True, capture_output=True)
        raw = subprocess.run(["pdftotext", "-layout", paper, "-"], check=True, capture_output=True, text=True).stdout
        text = " ".join(raw.split())
        takeoff = json.loads(saved.read_text())
    wrong = [f"no order of {fill['name']}" for fill in takeoff["fills"]
             if f"{fill['bags_order']} bags of {fill['name']}" not in text]
    wrong += [f"no footer with the checksum of {one['path']}" for one in takeoff["inputs"] if one["sha256"][:12] not in text]
    names = [surface["name"] for surface in takeoff["surfaces"] if surface["counted"]]
    wrong += [f"surface {name} is not on the paper" for name in names if name.split(",")[0] not in text]
    pages = raw.count("\f")
    wrong += [] if f"1 of {pages}" in text and f"{pages} of {pages}" in text else ["pages are not numbered"]
    print(*wrong, sep="\n")
    print(f"paper: {pages} pages, {len(wrong)} failed")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

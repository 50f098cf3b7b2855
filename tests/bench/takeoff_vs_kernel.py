#!/usr/bin/env python3
"""Times the whole takeoff command beside an independent kernel, on the same model and in the same run.

    takeoff_vs_kernel.py --binary target/release/cavitally [--rounds 5] [--threads 2] [MODEL.ifc]

Ours is the command as a user runs it: read, measure, frame, cut bays, fill, order, save. The kernel's time is opening
the file and meshing its walls with their openings taken out (ifcopenshell), and no more; starting Python and loading
its modules is not counted. All run by turns with a warm file cache, and the medians are compared. The peak memory is
that of our process.
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

KERNEL = """
import json, sys, time
import ifcopenshell, ifcopenshell.geom
path, threads = sys.argv[1], int(sys.argv[2])
start = time.perf_counter()
model = ifcopenshell.open(path)
opened = time.perf_counter()
walls = model.by_type('IfcWall')
iterator = ifcopenshell.geom.iterator(ifcopenshell.geom.settings(), model, threads, include=walls)
shapes = 0
if walls and iterator.initialize():
    shapes = 1
    while iterator.next():
        shapes += 1
done = time.perf_counter()
print(json.dumps({'open': opened - start, 'all': done - start, 'walls': len(walls), 'shapes': shapes}))
"""


def main():
    options = arguments()
    model = options.model or default_model()
    if model is None:
        print("skipped: no model given and CAVITALLY_MODELS is not set")
        return 0
    model.read_bytes()
    ours, single, kernel = [], [], []
    for turn in range(options.rounds + 1):
        runs = run_ours(options, model, {}), run_ours(options, model, {"RAYON_NUM_THREADS": "1"})
        other = run_kernel(model, options.threads)
        if turn > 0:
            ours.append(runs[0])
            single.append(runs[1])
            kernel.append(other)
    show(model, options, ours, single, kernel)
    return 0


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--binary", type=Path, required=True)
    parser.add_argument("--frame", default="2x6 @ 16 in", help="framing of ours; empty for none")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--threads", type=int, default=2, help="threads of the kernel")
    parser.add_argument("model", nargs="?", type=Path)
    return parser.parse_args()


def default_model():
    shared = os.environ.get("CAVITALLY_MODELS")
    return Path(shared) / "ifc" / "office_a.ifc" if shared else None


def run_ours(options, model, extra):
    """Seconds and peak memory in MB of one whole command."""
    with tempfile.TemporaryDirectory() as directory:
        saved = Path(directory) / "x.json"
        frame = ["--frame", options.frame] if options.frame else []
        command = [str(options.binary), "takeoff", str(model), *frame, "--save", str(saved)]
        start = time.perf_counter()
        with open(Path(directory) / "stderr", "wb") as stderr:
            child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=stderr, env=os.environ | extra)
            _, status, usage = os.wait4(child.pid, 0)
        seconds = time.perf_counter() - start
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode != 0:
            raise SystemExit((Path(directory) / "stderr").read_text())
        json.loads(saved.read_text())
    return seconds, usage.ru_maxrss / 1024.0


def run_kernel(model, threads):
    command = [sys.executable, "-c", KERNEL, str(model), str(threads)]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def show(model, options, ours, single, kernel):
    all_cores = statistics.median(seconds for seconds, _ in ours)
    one_thread = statistics.median(seconds for seconds, _ in single)
    whole = statistics.median(run["all"] for run in kernel)
    opening = statistics.median(run["open"] for run in kernel)
    memory = max(peak for _, peak in ours + single)
    size = model.stat().st_size / 1e6
    print(f"model                     {model.name}, {size:.1f} MB, {kernel[0]['walls']} walls")
    print(f"runs                      median of {options.rounds}, by turns, warm cache, {os.cpu_count()} cores")
    print(f"ours, all cores           {all_cores:8.3f} s")
    print(f"ours, one thread          {one_thread:8.3f} s")
    print(f"kernel, opening alone     {opening:8.3f} s")
    print(f"kernel, opening and walls {whole:8.3f} s  ({options.threads} threads)")
    print(f"ratio, all cores          {whole / all_cores:8.1f} times faster than opening and walls")
    print(f"ratio, one thread         {whole / one_thread:8.1f} times faster than opening and walls")
    print(f"ratio to opening alone    {opening / all_cores:8.1f} times faster")
    print(f"peak memory of ours       {memory:8.1f} MB, {memory / size:.1f} times the file")


if __name__ == "__main__":
    sys.exit(main())

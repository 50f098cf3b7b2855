"""Friction factors, losses of hoses and pressures of the standard atmosphere against another library, through the program itself.

For each of a set of rigs a job file is written, `rig --save` is run, and its figures are compared with those that the
library gives for the same flow. The last line says how many were compared.
"""

import argparse
import itertools
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

from fluids import ATMOSPHERE_1976, Reynolds, one_phase_dP
from fluids.friction import Colebrook

INCH, FOOT, CUBIC_FOOT = 0.0254, 0.3048, 0.3048**3
DIAMETERS_IN = (1.5, 2, 2.5, 3, 4)
FLOWS_FT3_MIN = (30, 60, 100, 250)
ROUGHNESSES_MM = (0, 0.0015, 0.05, 0.5)
ALTITUDES_FT = (0, 900, 5280, 12000)
LENGTH_FT = 150
# Both sides solve the same equation in f64.
FACTOR_RATIO = 1e-9
# The standard's constants are written with more or fewer digits.
PRESSURE_RATIO = 1e-6


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--binary", required=True)
    binary = Path(parser.parse_args().binary).resolve()
    wrong, compared = [], 0
    with tempfile.TemporaryDirectory() as folder:
        for case in itertools.product(DIAMETERS_IN, FLOWS_FT3_MIN, ROUGHNESSES_MM, ALTITUDES_FT):
            found = run(binary, Path(folder), *case)
            faults, count = compare(found, *case)
            wrong += [f"{case}: {fault}" for fault in faults]
            compared += count
    print("\n".join(wrong[:20]))
    print(f"friction: {compared} figures compared with another library, {len(wrong)} differ")
    return 1 if wrong or compared == 0 else 0


def run(binary, folder, diameter_in, flow_ft3_min, roughness_mm, altitude_ft):
    job, saved = folder / "job.toml", folder / "rig.json"
    job.write_text(
        f'[site]\naltitude = "{altitude_ft} ft"\nair = "68 F"\n[rig.x.hose]\nair_flow = "{flow_ft3_min} ft3/min"\n'
        f'roughness = "{roughness_mm} mm"\nsection = [{{ diameter = "{diameter_in} in", length = "{LENGTH_FT} ft" }}]\n',
        encoding="utf-8",
    )
    subprocess.run([binary, "rig", "--job", job, "--save", saved], check=True, stderr=subprocess.DEVNULL)
    return json.loads(saved.read_text(encoding="utf-8"))


def compare(found, diameter_in, flow_ft3_min, roughness_mm, altitude_ft):
    """What differs, and how many figures were compared."""
    hose = found["hose"]
    section = hose["sections"][0]
    diameter, roughness = diameter_in * INCH, roughness_mm / 1000
    flow = flow_ft3_min * CUBIC_FOOT / 60
    speed = flow / (math.pi * diameter**2 / 4)
    density, viscosity = hose["air_density_kg_m3"], hose["viscosity_pa_s"]
    reynolds = Reynolds(V=speed, D=diameter, rho=density, mu=viscosity)
    air = ATMOSPHERE_1976(altitude_ft * FOOT)
    pairs = [
        ("air pressure", found["pressure"]["air_pa"], air.P, PRESSURE_RATIO),
        ("Reynolds number", section["reynolds_number"], reynolds, FACTOR_RATIO),
        # The library's own viscosity of the standard's formula, at 20 °C.
        ("viscosity", viscosity, ATMOSPHERE_1976.viscosity(293.15), PRESSURE_RATIO),
        ("density", density, ATMOSPHERE_1976.density(293.15, air.P), PRESSURE_RATIO),
    ]
    if reynolds > 4000:
        factor = Colebrook(reynolds, roughness / diameter)
        loss = one_phase_dP(
            m=flow * density, rho=density, mu=viscosity, D=diameter, roughness=roughness, L=LENGTH_FT * FOOT, Method="Colebrook"
        )
        pairs += [
            ("friction factor", section["friction_factor"], factor, FACTOR_RATIO),
            ("loss", section["straight_pa"], loss, FACTOR_RATIO),
        ]
    return [
        f"{what}: {ours!r} is not {theirs!r}" for what, ours, theirs, ratio in pairs if abs(ours - theirs) > ratio * abs(theirs)
    ], len(pairs)


if __name__ == "__main__":
    sys.exit(main())

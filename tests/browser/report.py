#!/usr/bin/env python3
"""Opens saved reports in headless Chromium, as people will.

Checked on the sample house, on 500 walls, and on a large model where `CAVITALLY_MODELS` names the folder that has it: no
message on the console, no request beyond the file itself, figures as in the JSON, every bay number of a drawing in the
crew sheet, order, reach and first caution on the first screen of a laptop, no sideways scroll on a telephone, text of 9 pt
or more on paper, contrast of 4.5 : 1 or more, light and dark, size and time to open.

    report.py --binary target/release/cavitally --keep target/ci/screenshots

The last line says `N passed, N failed`; the exit status is 1 if a check failed.
"""

import argparse
import base64
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "differential"))
from other_models import other_models
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

ROOT = pathlib.Path(__file__).resolve().parents[2]
FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --hide-scrollbars"
).split()
LAPTOP, TELEPHONE, PAPER = (1366, 768), (360, 740), (680, 960)
LARGEST_BYTES = 8_000_000
LONGEST_S = 2.0

CONTRAST = """
const channel = v => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
const bright = c => 0.2126 * channel(c[0]) + 0.7152 * channel(c[1]) + 0.0722 * channel(c[2]);
const parse = text => text.match(/[0-9.]+/g).map(Number);
const ground = element => {
  for (let at = element; at; at = at.parentElement) {
    const c = parse(getComputedStyle(at).backgroundColor);
    if (c.length === 3 || c[3] > 0) return c;
  }
  return [255, 255, 255];
};
let worst = [21, ''];
for (const element of document.querySelectorAll('body *')) {
  if (element.closest('svg') || ![...element.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue;
  const [a, b] = [bright(parse(getComputedStyle(element).color)), bright(ground(element))].sort((x, y) => y - x);
  const ratio = (a + 0.05) / (b + 0.05);
  if (ratio < worst[0]) worst = [ratio, element.outerHTML.slice(0, 80)];
}
return worst;
"""
SMALLEST = """
let worst = [99, ''];
for (const element of document.querySelectorAll('body *')) {
  if (![...element.childNodes].some(n => n.nodeType === 3 && n.data.trim()) || element.closest('title, desc')) continue;
  const drawing = element.closest('svg.drawing');
  const scale = drawing ? drawing.getBoundingClientRect().width / drawing.viewBox.baseVal.width : 1;
  const points = parseFloat(getComputedStyle(element).fontSize) * scale * 0.75;
  if (points < worst[0]) worst = [points, element.outerHTML.slice(0, 80)];
}
return worst;
"""
FIGURES = """
const sum = (selector, key) => [...document.querySelectorAll(selector)].reduce((s, e) => s + Number(e.dataset[key]), 0);
return {
  articles: sum('article', 'massKg'), headlines: sum('p[data-fill]', 'massKg'), rows: sum('article tr', 'kg'),
  gross: sum('[data-gross-area-m2]:not(article)', 'grossAreaM2'),
  bags: [...document.querySelectorAll('[data-bags-order]')].map(e => Number(e.dataset.bagsOrder)),
  stray: [...document.querySelectorAll('article')].flatMap(article => {
    // `4`, or `4-7` for bays that are alike and follow one another, and `7-4` where they run from the right.
    const rows = new Set([...article.querySelectorAll('tbody th')].flatMap(th => {
      const [a, b] = th.textContent.split('-').map(Number), last = b ?? a;
      return Array.from({length: Math.abs(last - a) + 1}, (_, i) => String(Math.min(a, last) + i));
    }));
    const numbers = [...article.querySelectorAll('.d-text text')].map(t => t.textContent.match(/^(\\d+)(:.*)?$/));
    return numbers.filter(found => found && !rows.has(found[1])).map(found => article.id + ' ' + found[1]);
  }),
};
"""


class Report:
    """Counts checks and says which failed."""

    def __init__(self):
        self.passed = 0
        self.failed = 0

    def check(self, holds, what):
        if holds:
            self.passed += 1
        else:
            self.failed += 1
            print(f"failed: {what}", flush=True)


class Browser:
    """One headless browser with an empty profile."""

    def __init__(self):
        self.profile = tempfile.TemporaryDirectory()
        options = Options()
        for flag in [*FLAGS, f"--user-data-dir={self.profile.name}"]:
            options.add_argument(flag)
        options.binary_location = shutil.which("chromium")
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        self.driver = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
        # What a browser loads by itself when it starts is no matter of the page.
        self.driver.get("about:blank")
        time.sleep(0.5)
        self.requests()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.driver.quit()
        self.profile.cleanup()

    def look(self, size, dark=False, media=""):
        metrics = {"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": False}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
        scheme = [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media, "features": scheme})

    def open(self, page):
        self.driver.get(page.as_uri())

    def run(self, script):
        return self.driver.execute_script(script)

    def scripts(self, are_on):
        self.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not are_on})

    def requests(self):
        messages = [json.loads(entry["message"])["message"] for entry in self.driver.get_log("performance")]
        sent = [one["params"]["request"]["url"] for one in messages if one["method"] == "Network.requestWillBeSent"]
        return [url for url in sent if not url.startswith("data:")]

    def console(self):
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def shot(self, path):
        path.write_bytes(base64.b64decode(self.driver.execute_cdp_cmd("Page.captureScreenshot", {})["data"]))

    def print(self, path, width_in, height_in):
        settings = {"paperWidth": width_in, "paperHeight": height_in, "preferCSSPageSize": False, "printBackground": True}
        path.write_bytes(base64.b64decode(self.driver.execute_cdp_cmd("Page.printToPDF", settings)["data"]))


def save(binary, arguments, folder, name):
    page, data = folder / f"{name}.html", folder / f"{name}.json"
    command = [binary, "takeoff", *arguments, "--save", page, "--save", data]
    subprocess.run([str(part) for part in command], check=True, cwd=ROOT, stderr=subprocess.DEVNULL)
    return page, json.loads(data.read_text())


def check_figures(report, name, found, takeoff):
    counted = [surface for surface in takeoff["surfaces"] if surface["counted"]]
    mass_kg = sum(surface["mass_kg"] for surface in counted)

    def near(a, b):
        return abs(a - b) <= 1e-6 * max(1.0, abs(b))

    report.check(near(found["articles"], mass_kg), f"{name}: stops take {found['articles']} kg, not {mass_kg}")
    report.check(near(found["headlines"], mass_kg), f"{name}: the order is for {found['headlines']} kg, not {mass_kg}")
    gross = takeoff["balance"]["gross_area_m2"]
    report.check(near(found["gross"], gross), f"{name}: the balance says {found['gross']} m2, not {gross}")
    bags = [fill["bags_order"] for fill in takeoff["fills"] if fill["bags_order"] is not None and fill["mass_kg"] > 0]
    report.check(found["bags"] == bags, f"{name}: {found['bags']} bags, not {bags}")
    report.check(not found["stray"], f"{name}: numbers in drawings that no table has: {found['stray'][:5]}")


def settled(browser, script, most):
    """What a script measures, once a busy machine has set the page out anew for another size of the window."""
    for _ in range(20):
        found = browser.run(script)
        if found <= most:
            break
        time.sleep(0.2)
    return found


def check_page(report, browser, name, page, takeoff, keep):
    browser.look(LAPTOP)
    browser.open(page)
    requests = browser.requests()
    report.check(requests == [page.as_uri()], f"{name}: requests: {requests}")
    console = browser.console()
    report.check(not console, f"{name}: console: {console}")
    check_figures(report, name, browser.run(FIGURES), takeoff)
    low = browser.run(
        "return Math.max(...['.big', '.big small', '.caution p'].map(s => document.querySelector(s)"
        ".getBoundingClientRect().bottom))"
    )
    report.check(low <= LAPTOP[1], f"{name}: order, reach and first caution end at {low} px")
    browser.shot(keep / f"{name}-laptop.png")
    for dark in (False, True):
        browser.look(LAPTOP, dark)
        ratio, where = browser.run(CONTRAST)
        report.check(ratio >= 4.5, f"{name}: contrast {ratio:.2f} at {where}, dark: {dark}")
    browser.run("document.querySelector('#stop-1').scrollIntoView()")
    time.sleep(0.3)
    browser.shot(keep / f"{name}-stop-dark.png")
    browser.look(LAPTOP)
    time.sleep(0.3)
    browser.shot(keep / f"{name}-stop-light.png")
    browser.look(TELEPHONE)
    wide = settled(browser, "window.scrollTo(0, 0); return document.documentElement.scrollWidth", TELEPHONE[0])
    report.check(wide <= TELEPHONE[0], f"{name}: {wide} px wide on a telephone")
    browser.shot(keep / f"{name}-telephone.png")
    browser.look(PAPER, media="print")
    points, where = browser.run(SMALLEST)
    report.check(points >= 9.0 - 0.01, f"{name}: text of {points:.1f} pt on paper: {where}")
    browser.shot(keep / f"{name}-paper.png")
    browser.look(LAPTOP)
    browser.scripts(False)
    browser.open(page)
    browser.shot(keep / f"{name}-without-scripts.png")
    browser.scripts(True)
    drawn = browser.run("return document.querySelectorAll('svg.drawing').length")
    report.check(drawn > 0, f"{name}: no drawing without scripts")


def sheets_of_500_walls(folder):
    """Walls of an invented block of flats, two windows each."""
    walls = ["id,kind,storey,zone,assembly,length (ft),height (ft),partitions"]
    openings = ["surface,id,kind,width (ft),height (ft),sill (ft),offset (ft)"]
    for number in range(500):
        length = (24, 30, 36, 40)[number % 4]
        storey, zone = number // 100 + 1, number // 20 + 1
        walls.append(f"W{number:03},wall,Level {storey},Zone {zone},2x6 @ 16 in,{length},9,{number % 3}")
        openings += [f"W{number:03},W{number:03}-{at},window,3.5,4.5,2.8,{at}" for at in (3, 12)]
    paths = folder / "walls.csv", folder / "openings.csv"
    for path, lines in zip(paths, (walls, openings)):
        path.write_text("\n".join(lines) + "\n")
    return paths


def check_large(report, binary, folder, keep):
    page, takeoff = save(binary, [*sheets_of_500_walls(folder), "--bag", "25 lb"], folder, "walls")
    size = page.stat().st_size
    report.check(size <= LARGEST_BYTES, f"500 walls take {size} bytes")
    best = float("inf")
    for _ in range(3):
        with Browser() as browser:
            browser.look(LAPTOP)
            browser.open(page)
            timing = "performance.getEntriesByType('navigation')[0].loadEventEnd / 1000"
            best = min(best, browser.run(f"return {timing}"))
            if best <= LONGEST_S:
                check_figures(report, "walls", browser.run(FIGURES), takeoff)
                break
    report.check(best <= LONGEST_S, f"500 walls open in {best:.2f} s")
    print(f"500 walls: {size / 1e6:.1f} MB, open in {best:.2f} s")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--binary", type=pathlib.Path, required=True)
    parser.add_argument("--keep", type=pathlib.Path, required=True, help="folder for screenshots")
    arguments = parser.parse_args()
    binary, keep = arguments.binary.resolve(), arguments.keep.resolve()
    keep.mkdir(parents=True, exist_ok=True)
    cases = {
        "house": ["samples/house.ifc", "--job", "samples/house.toml"],
        "cabin": ["samples/cabin.csv", "--job", "samples/cabin-job.toml"],
    }
    for model in other_models("report of a large model"):
        if model.name == "office_a.ifc":
            cases["office"] = [model, "--frame", "2x6 @ 16 in", "--exposure", "all"]
    report = Report()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        # A title without a place to break must not widen the page.
        far = folder / "a-folder-whose-name-goes-on" / "and-another-one-in-it"
        far.mkdir(parents=True)
        cases["far"] = [shutil.copy("samples/cabin.csv", far)]
        for case, inputs in cases.items():
            page, takeoff = save(binary, inputs, folder, case)
            with Browser() as browser:
                check_page(report, browser, case, page, takeoff, keep)
                if case == "house":
                    browser.print(keep / "house-a4.pdf", 8.27, 11.69)
                    browser.print(keep / "house-letter.pdf", 8.5, 11.0)
        check_large(report, binary, folder, keep)
    print(f"{report.passed} passed, {report.failed} failed")
    sys.exit(report.failed > 0)


if __name__ == "__main__":
    main()

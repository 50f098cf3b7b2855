"""Building models that published packages carry among their test files, as open data read from the packages' folders."""

import json
import subprocess
from pathlib import Path

MANIFEST = Path(__file__).parent / "models" / "Cargo.toml"
PACKAGES = ("ifc-lite-geometry", "ifc-lite-processing")


def package_models():
    """Paths of the models; fetches the packages where they are not there yet."""
    subprocess.run(["cargo", "fetch", "--quiet", "--locked", "--manifest-path", str(MANIFEST)], check=True)
    command = ["cargo", "metadata", "--format-version", "1", "--offline", "--locked", "--manifest-path", str(MANIFEST)]
    metadata = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    folders = sorted(Path(p["manifest_path"]).parent for p in metadata["packages"] if p["name"] in PACKAGES)
    return [path for folder in folders for path in sorted(folder.glob("tests/**/*.ifc"))]

"""Models by others, which are not part of the project."""

import os
from pathlib import Path


def other_models(check):
    """The IFC models in the folder that `CAVITALLY_MODELS` names; without it none, after a line in the log of skips."""
    if folder := os.environ.get("CAVITALLY_MODELS"):
        return sorted(Path(folder, "ifc").glob("*.ifc"))
    skip(check, "CAVITALLY_MODELS is not set, the models by others are left out")
    return []


def skip(check, reason):
    """Says that a check, or a part of it, was skipped, also in the file that `CAVITALLY_SKIP_LOG` names."""
    line = f"skipped: {check}: {reason}"
    print(line)
    if log := os.environ.get("CAVITALLY_SKIP_LOG"):
        with open(log, "a", encoding="utf-8") as file:
            print(line, file=file)

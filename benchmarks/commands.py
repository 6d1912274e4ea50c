"""How long a maker waits for each command, beside what Python needs to import the libraries that it stands on.

    python benchmarks/commands.py

Each row is the best of five runs in fresh processes; the ratio is to the peer of the same row in the same run. "cold"
means that no field is kept on the disk yet.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 5
BARE = "pass"
FILES = "import numpy, pydantic, tomlkit"
SOLVER = "import numpy, scipy.sparse.linalg, scipy.interpolate, scipy.special, pydantic"
SHEET = SOLVER + ", matplotlib.figure, typst"


def seconds(words: list[str], cache: Path, cold: bool = False) -> float:
    """The best of some runs of ``python`` with these words."""
    best = float("inf")
    for _ in range(RUNS):
        if cold:
            shutil.rmtree(cache, ignore_errors=True)
        began = time.perf_counter()
        environment = {**os.environ, "HANDWOUND_CACHE": str(cache), "OPENBLAS_NUM_THREADS": "1"}
        subprocess.run([sys.executable, *words], env=environment, check=True, capture_output=True)
        best = min(best, time.perf_counter() - began)
    return best


def main() -> None:
    """Print one row for each command."""
    with tempfile.TemporaryDirectory() as place:
        folder, cache = str(Path(place) / "open-day"), Path(place) / "cache"
        command = ["-m", "handwound"]
        seconds([*command, "demo", folder], cache)
        rows = [
            ("--help", [*command, "--help"], BARE, False),
            ("check", [*command, "check", folder], FILES, False),
            ("predict, cold", [*command, "predict", folder], SOLVER, True),
            ("predict, kept field", [*command, "predict", folder], SOLVER, False),
            ("search, cold", [*command, "search", folder], SOLVER, True),
            ("search, kept field", [*command, "search", folder], SOLVER, False),
            ("sheet, kept field", [*command, "sheet", folder], SHEET, False),
            ("demo, cold", [*command, "demo", folder], SHEET, True),
        ]
        print(f"{'command':<20} {'s':>6} {'peer, s':>8} {'ratio':>6}   peer")
        for name, words, peer, cold in rows:
            own, other = seconds(words, cache, cold), seconds(["-c", peer], cache)
            print(f"{name:<20} {own:6.2f} {other:8.2f} {own / other:6.1f}   {peer}", flush=True)


if __name__ == "__main__":
    main()

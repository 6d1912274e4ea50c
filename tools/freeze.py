"""Write down what the examples predict today:  python -m tools.freeze

An alarm, never the truth: a test fails when a number moves, so that whoever moved it looks at it and writes a line
under "Your numbers change" in CHANGELOG.md.
"""

from __future__ import annotations

import csv
import tempfile
from pathlib import Path

from handwound import Job

FROZEN = Path(__file__).resolve().parents[1] / "tests" / "frozen"
EXAMPLES = ("open-day", "repair-pair")


def place(name: str) -> Path:
    """Where the numbers of an example are written down."""
    return FROZEN / f"{name}.csv"


def today(name: str) -> dict[str, tuple[float, float, float]]:
    """Every number of the example's first build, with its band, in SI units."""
    with tempfile.TemporaryDirectory() as folder:
        job = Job.start(Path(folder) / name, name)
        job.choose(job.search().candidates[0])
        return {key: (band.value, band.low, band.high) for key, band in job.predict().bands.items()}


def then(name: str) -> dict[str, tuple[float, float, float]]:
    """The same as it was written down."""
    with place(name).open(encoding="utf8", newline="") as file:
        rows = csv.DictReader(file)
        return {row["name"]: (float(row["value"]), float(row["low"]), float(row["high"])) for row in rows}


if __name__ == "__main__":
    for name in EXAMPLES:
        with place(name).open("w", encoding="utf8", newline="") as file:
            rows = csv.writer(file, lineterminator="\n")
            rows.writerow(["name", "value", "low", "high"])
            rows.writerows([key, *(f"{value:.8g}" for value in band)] for key, band in today(name).items())
        print(place(name))

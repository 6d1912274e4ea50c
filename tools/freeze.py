"""Write down what the example predicts today:  python -m tools.freeze

An alarm, never the truth: a test fails when a number moves, so that whoever moved it looks at it and writes a line
under "Your numbers change" in CHANGELOG.md.
"""

from __future__ import annotations

import csv
import tempfile
from pathlib import Path

from handwound import Job

PLACE = Path(__file__).resolve().parents[1] / "tests" / "frozen" / "open-day.csv"


def today() -> dict[str, tuple[float, float, float]]:
    """Every number of the example's first build, with its band, in SI units."""
    with tempfile.TemporaryDirectory() as folder:
        job = Job.start(Path(folder) / "open-day")
        job.choose(job.search().candidates[0])
        return {name: (band.value, band.low, band.high) for name, band in job.predict().bands.items()}


def then() -> dict[str, tuple[float, float, float]]:
    """The same as it was written down."""
    with PLACE.open(encoding="utf8", newline="") as file:
        rows = csv.DictReader(file)
        return {row["name"]: (float(row["value"]), float(row["low"]), float(row["high"])) for row in rows}


if __name__ == "__main__":
    with PLACE.open("w", encoding="utf8", newline="") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["name", "value", "low", "high"])
        rows.writerows([name, *(f"{value:.8g}" for value in band)] for name, band in today().items())
    print(PLACE)

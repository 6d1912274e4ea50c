"""Make the pictures of the documents from the example job: ``python -m tools.pictures``."""

from __future__ import annotations

import tempfile
from pathlib import Path

from handwound import Job
from handwound.sheet.drawing.field_picture import flux_picture
from handwound.sheet.drawing.section import cross_section

PLACE = Path(__file__).parents[1] / "docs" / "pictures"


def pictures() -> dict[str, str]:
    """Each picture's file name and its SVG."""
    with tempfile.TemporaryDirectory() as folder:
        job = Job.start(Path(folder) / "open-day")
        job.choose(job.search().candidates[0])
        design, prediction = job.design, job.predict()
    curves = prediction.curves
    return {
        "open-day.svg": cross_section(design, prediction),
        "open-day-flux.svg": flux_picture(design, curves.flux_lines, curves.iron),
    }


if __name__ == "__main__":
    for name, svg in pictures().items():
        (PLACE / name).write_text(svg, encoding="utf8")
        print(PLACE / name)

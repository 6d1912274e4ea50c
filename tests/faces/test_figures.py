"""Every number on the printed sheet is found in ``predict --json``: the words of the PDF are walked, number by number.

The PDF is read back by pypdf; the JSON is what the command prints. A number that is neither in the JSON nor written by
the maker in the job's files, nor a constant of practice in a message (``tools.words`` reads those out of the sources),
is a number that nobody can trace.
"""

from __future__ import annotations

import datetime
import io
import json
import re
from collections.abc import Iterator
from typing import Any

import pypdf
import pytest

from handwound.faces import records
from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print, gather
from handwound.job import Job
from handwound.quantities import quantities, units
from tests import examples
from tools import words

NUMBER = re.compile(r"(?<![\w.])[+-]?\d+(?:\.\d+)?(?![\w])")
DAY = datetime.date(2026, 11, 29)
DRAWN = ("curves", "flux", "warming")
"""Pictures whose ticks stand for no one number."""


@pytest.fixture(scope="module", params=sorted(examples.CHOSEN))
def made(request, tmp_path_factory) -> tuple[Job, Any]:
    job = Job(examples.started(tmp_path_factory.mktemp(request.param) / "job", request.param))
    return job, job.predict()


@pytest.fixture(scope="module")
def record(made) -> dict[str, Any]:
    job, found = made
    return json.loads(records.text(records.prediction(job.design, job.brief, found, job.stock)))


def leaves(thing: Any, unit: str = "") -> Iterator[float]:
    """Every number of the JSON in the unit in which a reader is shown it, and in the plain SI unit."""
    if isinstance(thing, dict):
        inner = thing.get("unit", unit) if isinstance(thing.get("unit", ""), str) else unit
        quantity = quantities().get(str(thing.get("name", "")))
        for value in thing.values():
            yield from leaves(value, quantity.unit if quantity else inner)
    elif isinstance(thing, list):
        for each in thing:
            yield from leaves(each, unit)
    elif isinstance(thing, int | float) and not isinstance(thing, bool):
        yield float(thing)
        yield from (thing / each.scale for each in units().values() if each.si == unit)
    elif isinstance(thing, str):
        yield from (float(found) for found in NUMBER.findall(thing))


def runs(page: pypdf.PageObject) -> list[str]:
    """The texts of a page as they were set: numbers that stand beside one another in a drawing stay apart."""
    found: list[str] = []
    page.extract_text(visitor_text=lambda text, *_: found.append(text))
    return found


def is_rounded(token: str, values: list[float]) -> bool:
    """Whether some value, rounded as the token is, gives it; a whole number may end in zeros."""
    asked, places = abs(float(token)), len(token.partition(".")[2])
    step = 10.0**-places
    while not places and asked and asked % (10 * step) == 0:  # 1080 may be 1083, told to tens
        step *= 10
    return any(abs(abs(value) - asked) <= 0.501 * step for value in values)


def test_every_number_on_the_paper_is_in_the_json(made, record) -> None:
    job, found = made
    page = write.sheet_pdf(job.design, job.brief, found, Print(DAY), stock=job.stock)
    text = " ".join(run for each in pypdf.PdfReader(io.BytesIO(page)).pages for run in runs(each))
    text = re.sub(r"page \d+ of \d+|2026-11-29", " ", text.replace("\xa0", " ").replace("\u200b", ""))
    written = " ".join(path.read_text(encoding="utf8") for path in sorted(job.folder.glob("*.toml")))
    constant = " ".join(words.found().messages)
    drawn = json.dumps([gather(job.design, job.brief, found, Print(DAY), job.stock)[key] for key in DRAWN])
    free = {token.lstrip("+-") for token in NUMBER.findall(f"{written} {constant} {drawn}")}
    values = sorted(set(leaves(record)))
    lost = {token for token in NUMBER.findall(text) if token.lstrip("+-") not in free}
    assert [token for token in sorted(lost) if not is_rounded(token, values)] == []


def test_the_build_of_the_json_is_the_build_of_the_paper(made, record) -> None:
    """Operation by operation: the same codes, the same readings, value and band."""
    job, found = made
    printed = gather(job.design, job.brief, found, Print(DAY), job.stock)
    told = record["build"]["operations"]
    assert [each["code"] for each in printed["operations"]] == [each["code"] for each in told]
    for strip, operation in zip(printed["operations"], told, strict=True):
        for row, check in zip(strip["checks"], operation["checks"], strict=True):
            assert row["qr"]["code"] == check["code"] and row["what"] == check["what"]["text"]
            for figure in check["expected"]["figures"]:
                assert figure["printed"]["text"] in row["value"]
                assert figure["low"] is None or figure["low"] <= figure["value"] <= figure["high"]
    assert record["build"]["refused"] == []

"""What the how-to pages tell people to write can be used as it stands. Kind of truth: the program reads it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handwound.job import Job
from tests.rules import house

PAGE = (house.ROOT / "docs/how-to/write-a-job.md").read_text(encoding="utf8")
BLOCK = re.compile(r"^```toml\n# (\w+\.toml)\n(.*?)^```", re.M | re.S)


@pytest.fixture
def job(tmp_path) -> Path:
    """The job that the pieces of the page make, put together."""
    for name, text in BLOCK.findall(PAGE):
        with (tmp_path / name).open("a", encoding="utf8") as file:
            file.write(text + "\n")
    return tmp_path


def test_the_pieces_of_the_page_are_a_job(job) -> None:
    assert sorted(path.name for path in job.iterdir()) == ["brief.toml", "design.toml", "stock.toml"]
    assert [str(fault) for fault in Job(job).check()] == []


def test_a_search_finds_builds_for_it(job) -> None:
    found = Job(job).search()
    assert found.candidates, found.missed
    Job(job).choose(found.candidates[0])
    assert Job(job).check() == ()


def test_a_slip_in_them_would_be_seen(job) -> None:
    text = (job / "stock.toml").read_text(encoding="utf8")
    (job / "stock.toml").write_text(text.replace('"0.18 ± 0.005 mm"', '"18 mm"'), encoding="utf8")
    assert len(Job(job).check()) == 1

"""Every sentence that a spoiled file earns, word for word, on the line where the spoiling was done.

Kind of truth: each sentence was written out and judged by reading; the lines are found again by looking for the key.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import NamedTuple

import pytest

from handwound.errors import FileError
from handwound.files.brief import read_brief
from handwound.files.readings import read_readings
from handwound.files.stock import read_stock
from handwound.parts.design import Stock
from tests.files import bench

PLACE = re.compile(r"(?P<file>\w+\.toml)(?::(?P<line>\d+))?: (?P<labels>.*?): must be ")


class Case(NamedTuple):
    """One thing changed in one file, and what must be said about it."""

    name: str
    file: str
    old: str
    new: str
    said: list[str]


def cases() -> list[Case]:
    """The cases of faults.txt."""
    found = []
    for block in (Path(__file__).parent / "faults.txt").read_text(encoding="utf8").split("\n# ")[1:]:
        name, file, *lines = block.strip().splitlines()
        old, new, said = ([line[2:] for line in lines if line.startswith(sign)] for sign in "-+>")
        end = "\n" if not new else ""
        found.append(Case(name, file, "\n".join(old) + end, "\n".join(new), said))
    return found


CASES = cases()


def said_about(folder: Path) -> list[str]:
    """Everything that is said about a job."""
    try:
        faults = bench.together(folder)
    except FileError as error:
        faults = list(error.faults)
    return [without(folder, fault) for fault in faults]


def without(folder: Path, told: object) -> str:
    """The sentence without the folder, which is told as its user named it."""
    assert str(told).startswith(f"{folder}{os.sep}")
    return str(told).removeprefix(f"{folder}{os.sep}")


def test_the_sound_job_is_sound(tmp_path) -> None:
    bench.write(tmp_path)
    assert said_about(tmp_path) == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_fault_is_told_in_its_own_words(case, tmp_path) -> None:
    bench.write(tmp_path, case.file, case.old, case.new)
    assert said_about(tmp_path) == case.said
    assert case.said


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_fault_stands_on_the_line_of_its_key(case, tmp_path) -> None:
    """Kind of truth: second method, a plain search for the key in the text."""
    bench.write(tmp_path, case.file, case.old, case.new)
    for said in case.said:
        place = PLACE.match(said)
        if place is None or place["line"] is None or "column" in said:
            continue
        line = (tmp_path / place["file"]).read_text(encoding="utf8").splitlines()[int(place["line"]) - 1]
        last = place["labels"].split(": ")[-1].split(" ")[0]
        assert last in line or line.startswith("[") or place["line"] == "1"


def test_a_file_that_is_missing(tmp_path) -> None:
    with pytest.raises(FileError) as told:
        read_stock(tmp_path / "stock.toml")
    assert str(told.value) == f"{tmp_path / 'stock.toml'}: must be a file; found none of that name."


def test_a_folder_in_place_of_a_file(tmp_path) -> None:
    with pytest.raises(FileError) as told:
        read_stock(tmp_path)
    assert str(told.value).startswith(f"{tmp_path}: must be a file that can be read; found ")


def test_a_text_that_is_not_utf8(tmp_path) -> None:
    (tmp_path / "stock.toml").write_bytes('# shelf\n# 4 Ω\n[[bit]]\nname = "Öse"\n'.encode()[:-6] + b'\xd6se"\n')
    with pytest.raises(FileError) as told:
        read_stock(tmp_path / "stock.toml")
    assert without(tmp_path, told.value) == (
        "stock.toml:4: must be a text in UTF-8; found the byte 0xd6, which is not. "
        "Save the file as UTF-8 in your editor."
    )


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "wire = []\n"])
def test_an_empty_stock(text, tmp_path) -> None:
    (tmp_path / "stock.toml").write_text(text, encoding="utf8")
    with pytest.raises(FileError) as told:
        read_stock(tmp_path / "stock.toml")
    assert without(tmp_path, told.value) == (
        "stock.toml:1: must be a list of what is on the shelf; found nothing in it. "
        "Begin with a [[wire]]; docs/how-to/write-a-job.md shows every kind."
    )


def test_an_empty_brief_lacks_everything_at_once(tmp_path) -> None:
    (tmp_path / "brief.toml").write_text("", encoding="utf8")
    with pytest.raises(FileError) as told:
        read_brief(tmp_path / "brief.toml", Stock())
    assert len(told.value.faults) == 9
    assert {fault.found for fault in told.value.faults} == {"nothing"}


LOG = "time,where,quantity,value,note\n2025-03-14T15:09,field_coil layer 10,R_l,7.55 Ω,\n"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("time,where", "when,where", 'readings.csv:1: must be the heading time,where,quantity,value,note; '
         'found "when,where,quantity,value,note".'),
        ("2025-03-14T15:09", "this afternoon", 'readings.csv:2: time: must be a time such as 2025-03-14T15:09; '
         'found "this afternoon".'),
        ("field_coil layer 10", "", "readings.csv:2: where: must be the place of the reading, such as field_coil "
         "layer 10; found nothing."),
        ("R_l", "Rl", 'readings.csv:2: quantity: must be the name of a quantity; found "Rl". Did you mean "R_l"?'),
        ("7.55 Ω", '"7,55 Ω"', 'readings.csv:2: value: must be written with a decimal point; found "7,55 Ω". '
         'Write "7.55 Ω".'),
        ("7.55 Ω", "7,55 Ω", "readings.csv:2: must be 5 cells: time, where, quantity, value, note; found 6. "
         'A note with a comma in it stands in quotes: "like, this".'),
        ("7.55 Ω,", '7.55 Ω,"open', "readings.csv:2: must be a line of comma-separated cells; found this: "
         "unexpected end of data."),
    ],
)  # fmt: skip
def test_a_spoiled_log(old, new, said, tmp_path) -> None:
    (tmp_path / "readings.csv").write_text(LOG.replace(old, new, 1), encoding="utf8")
    with pytest.raises(FileError) as told:
        read_readings(tmp_path / "readings.csv")
    assert without(tmp_path, told.value) == said

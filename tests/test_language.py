"""The languages: every message is found by reading and is in every catalogue; nothing on the sheet is left English."""

from __future__ import annotations

import datetime
import re
import string
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import polib
import pytest

from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print, gather
from handwound.job import Job
from handwound.language import ENGLISH, FOLDER, Language, languages, pointed, speaking, spoken, translated
from handwound.quantities import quantities, units
from handwound.sheet.digits import to_place
from handwound.sheet.said import say
from tests import examples
from tests.sheet import demo
from tools import words

NOW = words.found()
OTHERS = [code for code in languages() if code != ENGLISH]
HOW = Print(datetime.date(2026, 11, 25))
PLAIN = {"stage", "code", "unit", "symbol", "language", "paper", "coil", "ladder", "qr", "day", "date"}
"""Fields of what the layout places that it looks things up by, or that hold signs instead of words."""
NAMES = {"name", "grade", "kind"}
"""What a maker writes into files, and materials by their own names."""
LETTERS = re.compile(r"[^\W\d_]{3,}")
"""From three letters on it is a word, not a unit or the symbol of a quantity."""


class Pseudo(Mapping[str, str]):
    """A language that says everything in brackets, with a decimal comma, and remembers what it was asked for."""

    def __init__(self) -> None:
        self.asked: set[str] = set()

    def __getitem__(self, message: str) -> str:
        self.asked.add(message)
        return f"⟦{re.sub(r'(?<=[0-9])[.](?=[0-9])', ',', message)}⟧"

    def __iter__(self) -> Iterator[str]:
        return iter(self.asked)

    def __len__(self) -> int:
        return len(self.asked)


@pytest.fixture(scope="module", params=sorted(examples.CHOSEN))
def said(request, tmp_path_factory) -> tuple[Job, Pseudo, dict[str, Any]]:
    """An example's sheet in the pseudo-language."""
    job = Job(examples.started(tmp_path_factory.mktemp(request.param) / "job", request.param))
    found, pseudo = job.predict(), Pseudo()
    with speaking(Language("xx", ",", pseudo)):
        return job, pseudo, gather(job.design, job.brief, found, HOW, job.stock)


def outside(text: str) -> str:
    """What stands outside of all brackets."""
    depth, left = 0, []
    for sign in text:
        depth += (sign == "⟦") - (sign == "⟧")
        left.append("" if depth or sign == "⟧" else sign)
    return "".join(left)


def texts(data: Any, place: str = "") -> Iterator[tuple[str, str]]:
    """Every text that gets on the sheet, those of one drawing together, under the name of its field."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in PLAIN and not (key == "name" and "stage" in data):
                yield from texts(value, key)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from texts(value, place)
    elif isinstance(data, str):
        yield place, drawn(data) if place == "svg" else data


def drawn(svg: str) -> str:
    """All texts of a drawing, one after the other: a sentence may be broken into lines."""
    return " ".join(each.text or "" for each in ET.fromstring(svg).iter() if each.tag.endswith(("}text", "}tspan")))


def names(part: Any) -> Iterator[str]:
    """All names in a design, a brief and a stock."""
    if is_dataclass(part):
        for each in fields(part):
            value = getattr(part, each.name)
            if each.name in NAMES and isinstance(value, str):
                yield value
            yield from names(value)
    elif isinstance(part, list | tuple):
        for each in part:
            yield from names(each)


def test_every_message_is_found_by_reading() -> None:
    assert NOW.faults == []
    assert len(NOW.messages) > 1000


def test_what_is_said_was_found_by_reading(said) -> None:
    """The tool reads, the sheet runs: whatever is asked for while a sheet is made must have been found."""
    _, pseudo, _ = said
    assert len(pseudo.asked) > 300
    assert pseudo.asked - set(NOW.messages) == set()


def without_names(text: str, job: Job) -> str:
    """The text without what the maker wrote, the longest first: a name may hold another."""
    for name in sorted({*names(job.design), *names(job.brief), *names(job.stock)}, key=len, reverse=True):
        text = text.replace(name, " ")
    return text


def test_no_word_of_the_sheet_is_outside_the_catalogue(said) -> None:
    job, _, data = said
    signs = {*units(), *quantities()}
    english = [
        (place, word)
        for place, text in texts(data)
        for word in LETTERS.findall(without_names(outside(text), job))
        if word not in signs
    ]
    assert english == []


def test_every_number_has_the_sign_of_the_language(said) -> None:
    job, _, data = said
    assert [text for _, text in texts(data) if re.search(r"\d\.\d", without_names(text, job))] == []


@pytest.mark.parametrize("code", OTHERS)
def test_a_catalogue_is_complete_and_of_today(code) -> None:
    catalogue = polib.pofile(str(FOLDER / f"{code}.po"))
    entries = [entry for entry in catalogue if not entry.obsolete]
    assert {entry.msgid for entry in entries} == set(NOW.messages)
    assert [entry.msgid for entry in entries if not entry.translated()] == []  # a fuzzy one is not translated either
    assert str(words.refreshed(catalogue, NOW.messages)) == (FOLDER / f"{code}.po").read_text(encoding="utf8")


@pytest.mark.parametrize("code", OTHERS)
def test_a_translation_has_the_places_of_its_message(code) -> None:
    """Read by Python's own formatter, which will fill them."""

    def places(text: str) -> set[str]:
        return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}

    for entry in polib.pofile(str(FOLDER / f"{code}.po")):
        assert places(entry.msgid) == places(entry.msgstr), entry.msgid
        assert "  " not in entry.msgstr.replace("A  ", "") and entry.msgstr == entry.msgstr.strip(), entry.msgid


@pytest.mark.parametrize("code", OTHERS)
def test_a_translation_keeps_the_numbers_of_its_message(code) -> None:
    """A slip of a digit in a caution or a limit would hurt."""
    point = polib.pofile(str(FOLDER / f"{code}.po")).metadata["X-Decimal-Point"]

    def numbers(text: str, point: str) -> list[str]:
        plain = re.sub(r"\{\w+\}", "", text).replace("½", "1/2")
        return sorted(each.replace(point, ".") for each in re.findall(rf"\d+(?:{re.escape(point)}\d+)?", plain))

    for entry in polib.pofile(str(FOLDER / f"{code}.po")):
        assert numbers(entry.msgid, ".") == numbers(entry.msgstr, point), entry.msgid


def test_german_is_spoken_inside_and_english_after() -> None:
    with speaking("de"):
        assert (spoken().code, spoken().point) == ("de", ",")
        assert translated("voice coil") == "Schwingspule" and to_place("D_w", 0.0296, 2) == "29,60"
        with speaking(ENGLISH):
            assert translated("voice coil") == "voice coil" and pointed("1.5") == "1.5"
        assert say("never") == "nie"
    assert say("never") == "never"


def test_a_message_that_a_catalogue_lacks_stays_english() -> None:
    with speaking(Language("xx", ",", {"never": "jamais"})):
        assert say("never") == "jamais" and say("not in any catalogue") == "not in any catalogue"


def test_figures_survive_a_translation_that_turns_them_round() -> None:
    turned = Language("xx", ",", {"{a} under {b}": "{b} over {a}"})
    with speaking(turned):
        text = say("{a} under {b}", a=to_place("D_w", 0.01, 1), b=to_place("D_f", 0.02, 1))
    assert text == "20,0 over 10,0" and [figure.name for figure in text.figures] == ["D_w", "D_f"]


@pytest.mark.parametrize("code", languages())
def test_the_sheet_is_made_in_every_language(code) -> None:
    page = write.sheet_pdf(*demo.job(), HOW, code)
    assert page.startswith(b"%PDF") and page == write.sheet_pdf(*demo.job(), HOW, code)


def test_the_tool_reads_what_may_be_said(tmp_path) -> None:
    """Both branches, a local name, a function that hands on; what only running tells is a fault."""
    (tmp_path / "handwound").mkdir()
    (tmp_path / "handwound" / "new.py").write_text(
        "from handwound.sheet.said import say\n\n\n"
        "def choose(warm):\n"
        "    asked = 'hot' if warm else 'cold'\n"
        "    return say(asked), say(message='by name')\n\n\n"
        "def hand_on(first, message):\n"
        "    return say(message)\n\n\n"
        "def use(n):\n"
        "    return hand_on(n, 'handed on'), say(f'{n} pieces'), say(n.strip())\n",
        encoding="utf8",
    )
    read = words.found(tmp_path / "handwound")
    assert list(read.messages) == ["hot", "cold", "by name", "handed on"]
    assert [fault.split(": ")[0] for fault in read.faults] == ["new.py:14", "new.py:14"]


def test_a_refreshed_catalogue_keeps_what_was_translated() -> None:
    old = words.begun("xx")
    old.append(polib.POEntry(msgid="kept", msgstr="gardé"))
    old.append(polib.POEntry(msgid="gone", msgstr="parti"))
    new = words.refreshed(old, {"fresh": ["a.py"], "kept": ["b.py"]})
    assert [(entry.msgid, entry.msgstr, entry.obsolete) for entry in new] == [
        ("fresh", "", False), ("kept", "gardé", False), ("gone", "parti", True),
    ]  # fmt: skip
    assert [entry.msgid for entry in polib.pofile(str(new)).untranslated_entries()] == ["fresh"]

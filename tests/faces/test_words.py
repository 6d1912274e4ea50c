"""Text for a terminal: tables fold to the line and lose no word. Kind of truth: limits, and counting words."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.faces import words
from tests.sheet import demo
from tests.sheet.test_motor import motor

WORD = st.text("abcdefgh", min_size=1, max_size=9)
CELL = st.lists(WORD, max_size=6).map(" ".join)


def test_an_empty_table_is_no_text() -> None:
    assert words.columns([]) == ""
    assert words.section("Iron", []) == []
    assert words.section("Iron", [("back", "1 T")], right=(1,)) == ["Iron\n  back  1 T"]


@given(st.lists(st.tuples(CELL, CELL, CELL), min_size=1, max_size=5), st.integers(40, 110))
def test_a_table_keeps_to_the_line_and_loses_no_word(rows, columns) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", str(columns))
        text = words.columns(rows, right=(2,), indent="  ")
    assert max(map(len, text.splitlines()), default=0) <= min(columns, 100)
    assert sorted(text.split()) == sorted(word for row in rows for cell in row for word in cell.split())


def test_a_number_is_not_parted_from_its_unit(monkeypatch) -> None:
    """However short the line: it is then longer than asked for, as nothing else would be right."""
    monkeypatch.setenv("COLUMNS", "1")
    rows = [("a name of very many short words", "1234567 mm"), ("b", "1 kg")]
    lines = words.columns(rows, right=(1,)).splitlines()
    assert lines[0].endswith("1234567 mm")
    assert max(map(len, lines)) <= words.NARROW


def test_paragraphs_are_as_wide_as_the_terminal(monkeypatch) -> None:
    for columns, widest in ((50, 50), (500, 100)):
        monkeypatch.setenv("COLUMNS", str(columns))
        assert max(map(len, words.filled("word " * 200).splitlines())) in range(widest - 4, widest + 1)


def test_a_table_without_rows_takes_its_note_with_it() -> None:
    """Kind of truth: by reading. A motor in which nothing matters has no table of what things are worth."""
    text = words.motor(motor(worths=()))
    assert "What each thing is worth" not in text
    assert "One change at a time" not in text
    assert "What each thing is worth" in words.motor(motor())


@pytest.mark.parametrize("columns", [60, 72, 100, 300])
@pytest.mark.parametrize("is_fed", [True, False])
def test_the_heat_is_told_and_drawn_within_the_line(columns, is_fed, monkeypatch) -> None:
    """Kind of truth: limits. Table, drawing and what heat spoils; nothing of a field coil where there is none."""
    monkeypatch.setenv("COLUMNS", str(columns))
    design, brief, made = demo.job()
    if not is_fed:
        cold = replace(made.warming, T_f=None, T_hot=None, T_spool=None, I_f=None, NI=None, P_f=None, Bl=None)
        made = replace(made, warming=cold, heat=None, excitation=None, field_winding=None, field_ladder=())
        design, brief = replace(design, field_coil=None), replace(brief, supply=None, T_touch=None)
    job = SimpleNamespace(design=design, brief=brief, stock=SimpleNamespace(sheets=()))
    text = words.prediction(job, made)
    heat = text[text.index("From cold") : text.index("Iron\n")]
    assert max(map(len, heat.splitlines())) <= min(columns, 100)
    drawn = [line for line in heat.splitlines() if line[:6].strip().isdigit() or line.startswith("      |")]
    assert len(drawn) > 10 and any(line.endswith("v") for line in drawn)
    assert any("h" in line for line in drawn) is is_fed
    assert ("ampere-turns" in heat, "hot spot" in heat, "touch" in heat) == (is_fed, is_fed, is_fed)
    assert "How far heat may go" in heat and "glue" in heat

"""Text for a terminal: tables fold to the line and lose no word. Kind of truth: limits, and counting words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.faces import words
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

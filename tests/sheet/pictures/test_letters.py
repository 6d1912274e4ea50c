"""Widths of text, against the font's own table of advances read by another library."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from handwound.sheet.drawing.letters import LACKING, drawable, font_folder, shortened, text_width, wrap

WORDS = st.lists(st.text("abcdefgXYZ 0123456789ΩÄ⌀", min_size=1, max_size=25), max_size=8).map(" ".join)


@pytest.mark.parametrize(("bold", "file"), [(False, "DejaVuSans.ttf"), (True, "DejaVuSans-Bold.ttf")])
@pytest.mark.parametrize("text", ["field coil", "⌀25.6 × 46 Ω", "ÄÖÜ äöü µ ²"])
def test_width_of_a_text(bold, file, text) -> None:
    """Second method: fontTools reads hmtx and cmap of the same file."""
    font = TTFont(font_folder() / file)
    names, advances = font.getBestCmap(), font["hmtx"]
    wanted = sum(advances[names[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm * 3.0
    assert text_width(text, 3.0, bold) == pytest.approx(wanted, rel=1e-3)


@given(WORDS, st.floats(8, 60), st.floats(0, 6))
def test_wrapping_loses_no_letter_and_keeps_to_the_width(text, width, indent) -> None:
    lines = wrap(text, 2.5, width, indent=indent)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(text_width(line, 2.5) <= width + 1e-9 for line in lines)
    assert text_width(lines[0], 2.5) <= width - indent + 1e-9 or len(lines[0].split()) == 0


@pytest.mark.parametrize("text", ["日本", "🧲", "𝛀", "a日b", "plain Ω"])
def test_what_the_typeface_lacks_becomes_a_box(text) -> None:
    """Second method: fontTools reads the cmap of both files."""
    files = [TTFont(font_folder() / name).getBestCmap() for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")]
    assert drawable(text) == "".join(letter if all(ord(letter) in f for f in files) else LACKING for letter in text)
    assert text_width(text, 3.0) == pytest.approx(text_width(drawable(text), 3.0))


@given(WORDS, st.floats(8, 60), st.integers(1, 3))
def test_a_shortened_text_keeps_to_its_lines(text, width, lines) -> None:
    short = shortened(text, 2.5, width, lines)
    assert short == text or short.endswith(" …")
    assert len(wrap(text, 2.5, width)) <= lines or len("".join(short.split())) <= len("".join(text.split()))


def test_wrapping_by_hand() -> None:
    em = text_width("n", 1.0)
    assert wrap("nn nn nnnn", 1.0, 5.5 * em) == ["nn nn", "nnnn"]
    assert wrap("", 1.0, 5.0) == [""]
    assert wrap("nnnnnnn", 1.0, 3.2 * em) == ["nnn", "nnn", "n"]
    assert wrap("nn nn", 1.0, 5.5 * em, indent=5 * em) == ["", "nn nn"]

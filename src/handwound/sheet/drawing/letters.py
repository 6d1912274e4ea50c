"""How wide a text is on paper, and how it breaks into lines, in the one typeface of the sheet."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import matplotlib
from matplotlib.ft2font import FT2Font

FAMILY = "DejaVu Sans"
"""Carried by matplotlib, so every machine has the same letters: a page prints the same everywhere."""
LACKING, ELLIPSIS = "□", "…"
"""What stands for a letter that the typeface lacks, and for words that have no room."""
EM = 1000
"""Size at which the advances are read: large, so that they are not rounded to a screen's dots."""


def font_folder() -> Path:
    """Where the typeface lies."""
    return Path(matplotlib.get_data_path()) / "fonts" / "ttf"


def drawable(text: str) -> str:
    """The text with a box in place of every letter that the typeface lacks: seen on the page, and no reason to stop."""
    return "".join(letter if _drawn(letter) else LACKING for letter in text)


def shortened(text: str, size: float, width: float, lines: int = 1, bold: bool = False) -> str:
    """As much of the text as goes on so many lines; an ellipsis stands for the rest."""
    kept = wrap(text, size, width, bold)
    if len(kept) <= lines:
        return text
    kept = wrap(text, size, width - text_width(f" {ELLIPSIS}", size, bold), bold)[:lines]
    return f"{' '.join(kept)} {ELLIPSIS}"


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of text, in the unit of ``size``."""
    return size * sum(_advance(letter, bold) for letter in text)


def wrap(text: str, size: float, width: float, bold: bool = False, indent: float = 0.0) -> list[str]:
    """The text in lines no wider than ``width``, the first shorter by ``indent``; a longer word is cut, never lost."""
    lines, room = [""], width - indent
    for word in text.split():
        for piece in _pieces(word, size, width, bold):
            longer = f"{lines[-1]} {piece}".strip()
            if text_width(longer, size, bold) <= room:
                lines[-1] = longer
            else:
                lines.append(piece)
                room = width
    return lines


def _pieces(word: str, size: float, width: float, bold: bool) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and text_width(pieces[-1] + letter, size, bold) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces


@cache
def _font(bold: bool) -> FT2Font:
    font = FT2Font(font_folder() / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"))
    font.set_size(EM, 72)
    return font


@cache
def _drawn(letter: str) -> bool:
    return all(_font(bold).get_char_index(ord(letter)) for bold in (False, True))


@cache
def _advance(letter: str, bold: bool) -> float:
    letter = letter if _drawn(letter) else LACKING
    advance: float = _font(bold).load_char(ord(letter)).linearHoriAdvance / 65536 / EM
    return advance

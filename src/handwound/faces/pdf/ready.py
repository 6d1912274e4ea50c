"""Texts ready to print: letters that the typeface has, units that stay with their numbers, words that can break."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from handwound.quantities import units
from handwound.sheet.drawing.svg import printable

LONG, PIECE, BREAK = re.compile(r"\S{25,}"), 20, "\u200b"
"""A word that may be wider than its column, and where a line may end in it."""
BAND, TIED = re.compile(r"\([\d.,+-]+ \S+ [\d.,+-]+\)"), "\xa0"


def ready(data: Any) -> Any:
    """Every text ready to print; drawings have been made so by their writer."""
    if isinstance(data, dict):
        return {key: value if key == "svg" else ready(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [ready(value) for value in data]
    return breakable(unbroken(printable(data))) if isinstance(data, str) else data


def unbroken(text: str) -> str:
    """The text with its units tied to their numbers and its bands tied together: no line ends inside them."""
    tied = BAND.sub(lambda band: band[0].replace(" ", TIED), text)
    return _unit_after_number().sub(TIED, tied)


def breakable(text: str) -> str:
    """The text with places where a line may end in words so long that they could leave their column."""
    return LONG.sub(lambda word: BREAK.join(word[0][k : k + PIECE] for k in range(0, len(word[0]), PIECE)), text)


@cache
def _unit_after_number() -> re.Pattern[str]:
    names = "|".join(re.escape(name) for name in sorted(units(), key=len, reverse=True) if name != "1")
    return re.compile(rf"(?<=\d) (?=(?:{names})(?![\w/]))")

"""The bar that every page carries: who lays a ruler on it knows whether the printer kept the size."""

from __future__ import annotations

from handwound.sheet.drawing.style import HAIR, THIN
from handwound.sheet.drawing.svg import Svg
from handwound.sheet.said import say
from handwound.sheet.template.strokes import BLACK, write

BAR = 16.0
"""Height of the strip at the foot of a page that the bar takes. [mm]"""
LONG, LEFT, TALL = 100.0, 2.0, 3.0
"""The bar's length, where it begins, and half the height of the crosses at its ends. [mm]"""
LETTERS = 2.9


def bar(page: Svg, height: float) -> None:
    """A bar of 100 mm between two fine crosses, a tick every 10 mm, and what to do with it."""
    y = height - 9.0
    with page.group("bar"):
        page.lines([(LEFT - 2, y), (LEFT + LONG + 2, y)], stroke=BLACK, line=HAIR)
        for k in range(11):
            x = LEFT + LONG * k / 10
            tall = TALL if k in (0, 10) else 1.2
            page.lines([(x, y - tall), (x, y + tall)], stroke=BLACK, line=HAIR if k in (0, 10) else THIN)
        write(page, LEFT + LONG + 3, y, say("100 mm"), LETTERS, anchor="start")
        words = say("Print at 100 %, “fit to page” off, and lay a ruler on the bar before you cut.")
        write(page, LEFT - 2, y + 6.0, words, LETTERS, anchor="start")

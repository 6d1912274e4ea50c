"""How many digits a number deserves: as many as its spread can stand behind."""

from __future__ import annotations

import math

from handwound.language import pointed
from handwound.parts.prediction import Band
from handwound.quantities import Num, plain, quantities, shown
from handwound.sheet.said import Said, printed, ranged, say

COUNTS = {"N", "N_l", "n_l"}
"""What is counted has no places after the point."""
FIGURES = 4
"""More figures than these no bench can read."""


def to_place(name: str, value: float, places: int) -> Said:
    """The value in the table's shown unit with so many places after the point, without the unit."""
    return printed(name, value, pointed(f"{shown(name, value):.{places}f}"))


def places_of(name: str, band: Band) -> int:
    """Places after the point at which half of the band still shows: one digit, two where it begins with 1 or 2.

    Below 0 where tens or hundreds are all that shows. One more where the low end would be rounded by a tenth of itself;
    no more than four figures of the value.
    """
    if name in COUNTS:
        return 0
    value, low, high = (abs(shown(name, value)) for value in (band.value, band.low, band.high))
    half = abs(shown(name, band.high) - shown(name, band.low)) / 2
    if half == 0 or value == 0:
        return 0
    exponent = math.floor(math.log10(half))
    places = -exponent + (half / 10.0**exponent < 3)
    if 0 < low and 0.5 * 10.0**-places > 0.1 * low:
        places += 1
    most = FIGURES - 1 - math.floor(math.log10(max(value, high)))
    return min(places, max(0, most))


def rounded(value: float, places: int) -> str:
    """The value with so many places after the point, or to tens where that is -1; never -0."""
    return pointed(f"{round(value, places) + 0.0:.{max(0, places)}f}")


def decibels(dL: Num, places: int = 2) -> Said:
    """A change of the level; what is as good as silent is not told further. An ear has enough with one place."""
    if dL < -60:
        return say("-60 dB or less")
    return printed("dL", dL, pointed(f"{round(float(dL), places) + 0.0:+.{places}f}"), "dB")  # and never -0.0


def banded(name: str, band: Band) -> tuple[str, str, str]:
    """The value, low and high as text, rounded alike. Without a band: three figures, all of a count."""
    values = (shown(name, band.value), shown(name, band.low), shown(name, band.high))
    if values[2] - values[1] <= 1e-9 * abs(values[0]):
        text = f"{values[0]:.0f}" if name in COUNTS else plain(values[0])
        return text, text, text
    places = places_of(name, band)
    return rounded(values[0], places), rounded(values[1], places), rounded(values[2], places)


def unit(name: str) -> str:
    """The unit in which the quantity is shown; nothing for a plain number."""
    text = quantities()[name].shown
    return "" if text == "1" else text


def with_band(name: str, band: Band) -> Said:
    """``"4.2 T·m (3.9 to 4.5)"``."""
    return ranged(name, band, banded(name, band), unit(name))

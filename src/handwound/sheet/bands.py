"""The band of a number that the sheet works out from sizes with spreads of their own: root of the sum of squares."""

from __future__ import annotations

import math

from handwound.parts.iron import Iron
from handwound.parts.part import Part
from handwound.parts.prediction import Band
from handwound.quantities import Num


def half(part: Part, name: str) -> float:
    """Half of the 5-95 % band of one number of a part; nothing where none is known. SI unit of the number."""
    return dict(part.spread).get(name, 0.0)


def about(value: Num, *halves: float) -> Band:
    """A number with the band of independent errors, each given as half of its own band."""
    wide = math.hypot(*halves)
    return Band(float(value), float(value) - wide, float(value) + wide, float(value))


def stack_height(iron: Iron) -> Band:
    """From the lowest face of the iron to its highest, with the spreads of all that lies between. [m]"""
    levels = iron.levels()
    low = min(levels, key=lambda name: float(levels[name][0]))
    high = max(levels, key=lambda name: float(levels[name][1]))
    # what carries both faces moves both and cancels
    between = _carriers(iron, high, upper=True).items() ^ _carriers(iron, low, upper=False).items()
    return about(levels[high][1] - levels[low][0], *(wide for _, wide in between))


def _carriers(iron: Iron, name: str, upper: bool) -> dict[tuple[str, str], float]:
    """Half a band of every size that carries a face: a ring hangs or stands by one face, its thickness the other."""
    ring = next(ring for ring in iron.rings if ring.name == name)
    carrier, hangs = ring.under or ring.on, bool(ring.under)
    found = {(name, "t"): half(ring, "t")} if upper is not hangs else {}
    if carrier is None:
        return {**found, (name, "z"): half(ring, "z")}
    return {**found, (name, "joint"): half(ring, "joint"), **_carriers(iron, carrier, upper=not hangs)}

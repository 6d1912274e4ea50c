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
    return Band(float(value), float(value) - wide, float(value) + wide)


def stack_height(iron: Iron) -> Band:
    """From the lowest face of the iron to its highest, with the spreads of all that lies between. [m]"""
    levels = iron.levels()
    low = min(levels, key=lambda name: float(levels[name][0]))
    high = max(levels, key=lambda name: float(levels[name][1]))
    # what carries both faces moves both and cancels
    between = _carriers(iron, high, own=True).items() ^ _carriers(iron, low, own=False).items()
    return about(levels[high][1] - levels[low][0], *(wide for _, wide in between))


def _carriers(iron: Iron, name: str, own: bool) -> dict[tuple[str, str], float]:
    """Half a band of every size that carries a face: the ring's own thickness under its upper face, not its lower."""
    rings = {ring.name: ring for ring in iron.rings}
    ring, found = rings[name], {}
    if own:
        found[name, "t"] = half(ring, "t")
    while ring.on:
        found[ring.name, "joint"] = half(ring, "joint")
        ring = rings[ring.on]
        found[ring.name, "t"] = half(ring, "t")
    found[ring.name, "z"] = half(ring, "z")
    return found

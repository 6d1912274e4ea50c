"""How straight a coil stands in its gap, as it is told; and whether it will rub, as it is found."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from handwound.parts.part import Part
from handwound.quantities import Num

DEGREE = pi / 180
OVAL = 0.05e-3
"""Ovality of a former whose diameters nobody has read: common practice, no source. [m]"""
ROCK, ROCK_SPIDER = 0.3 * DEGREE, 0.1 * DEGREE
"""Rocking at full stroke without and with a spider: common practice, no source. [rad]"""


@dataclass(frozen=True, kw_only=True)
class Centring(Part):
    """How well the voice coil stands in its gap: common practice, no source, where nothing is told.

    A number without a spread is what nine builds of ten keep within; one with a spread was measured. Either way nobody
    knows in which direction it lies. ``rock`` is None where it is not told; ``P_ok`` is a wish.
    """

    e_pole: Num = 0.05e-3
    e_vc: Num = 0.05e-3
    tilt: Num = 0.2 * DEGREE
    rock: Num | None = None
    t_glue: Num = 0.02e-3
    P_ok: Num = 0.01


@dataclass(frozen=True, kw_only=True)
class Cause(Part):
    """One thing that takes air: in one build of 20 it takes ``c_taken`` or more."""

    name: str
    c_taken: Num


@dataclass(frozen=True, kw_only=True)
class Side(Part):
    """One side of the voice coil over its stroke, at the least air round it.

    ``c_more`` of air would be needed for as few rubs as are wanted; ``causes`` stand with the largest first.
    """

    c_drawn: Num
    c_usual: Num
    c_low: Num
    P_rub: Num
    c_more: Num
    causes: tuple[Cause, ...]


@dataclass(frozen=True, kw_only=True)
class Rub(Part):
    """Whether the voice coil will rub: ``inside`` at what it goes round, ``outside`` at what goes round it.

    ``D_fi_lo`` and ``D_fi_hi`` are the smallest and largest inside of a former, wall and layers as they are, that rub
    in no more builds than ``P_ok``; ``n_most`` the most layers on this former that do so outside. None where there is
    none, and where nothing limits it.
    """

    inside: Side | None
    outside: Side | None
    P_rub: Num
    P_ok: Num
    D_fi_lo: Num | None
    D_fi_hi: Num | None
    n_most: int | None
    t_shim: Num | None

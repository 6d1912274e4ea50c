"""The moving parts beside the voice coil: diaphragm, cap, surround, spider, glue and the small things."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handwound.parts.part import Part
from handwound.parts.sheet import Adhesive, Sheet
from handwound.quantities import Count, Num

DIAPHRAGMS = ("disc", "cone", "dome")
"""A flat card, a straight cone, a shallow dome: part of a sphere."""
CAPS = ("disc", "dome")
SURROUNDS = ("flat", "roll", "pleats")
"""A flat ring, half a roll, or small waves side by side."""
SPIDERS = ("measured", "pleats", "arms")
"""One of which only the stiffness is known, waves pressed into cloth, or arms cut from sheet along a tangent."""
BONDS = ("neck", "rim", "cap", "seam", "spider", "coil")
"""Where glue lies: former to diaphragm, diaphragm to surround, under the cap, along the cone's seam, former to spider,
over the winding."""


@dataclass(frozen=True, kw_only=True)
class Ribs(Part):
    """Strips of sheet that stand on edge on the diaphragm, ``n_rib`` of them, each along a radius from ``d_in`` to
    ``d_out``."""

    sheet: Sheet
    n_rib: Count
    h_rib: Num
    d_in: Num
    d_out: Num


@dataclass(frozen=True, kw_only=True)
class Diaphragm(Part):
    """A disc, a cone or a dome of sheet, from ``d_in`` (0 where it closes the former) to ``d_out``. ``m_d`` if weighed.

    ``h_c`` is how far the edge of ``d_out`` stands above that of ``d_in`` in a cone, and how high a dome is.
    """

    form: str
    sheet: Sheet
    d_in: Num
    d_out: Num
    h_c: Num = 0.0
    w_seam: Num = 0.0
    m_d: Num | None = None
    ribs: Ribs | None = None

    @property
    def alpha_c(self) -> Num:
        """Slope of a cone's side against the plane of its rim. [rad]"""
        return np.arctan2(self.h_c, (self.d_out - self.d_in) / 2)

    def rise(self, d: Num) -> Num:
        """How far it stands, at a diameter, above a cone's inner edge, or above a dome's top: below it. [m]"""
        if self.form == "dome":
            bend = 8 * self.h_c / (self.d_out**2 + 4 * self.h_c**2)
            return -bend * d**2 / 4 / (1 + (1 - (bend * d / 2) ** 2) ** 0.5)
        return self.h_c * (d - self.d_in) / (self.d_out - self.d_in)


@dataclass(frozen=True, kw_only=True)
class Cap(Part):
    """What closes the middle of the diaphragm: a disc or a dome of sheet, ``d_out`` wide. ``m_cap`` if weighed."""

    form: str
    sheet: Sheet
    d_out: Num
    h_c: Num = 0.0
    m_cap: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Surround(Part):
    """A ring of sheet, free from ``d_in`` to ``d_out``: flat, half a roll of height ``h_r``, or ``n_pleat`` waves of
    depth ``h_r``. ``K_s`` where it was measured."""

    sheet: Sheet
    d_in: Num
    d_out: Num
    form: str = SURROUNDS[0]
    h_r: Num = 0.0
    n_pleat: Count = 0
    K_s: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Spider(Part):
    """A second suspension at the voice coil. ``K_sp`` and ``m_sp``, the share of its mass that moves, where measured.

    It is free from ``d_in`` to ``d_out``, in ``n_pleat`` waves of depth ``h_r``; or it is ``n_arm`` arms of length
    ``l_arm`` and width ``w_arm``. It holds the former ``z_sp`` behind the neck.
    """

    form: str = SPIDERS[0]
    sheet: Sheet | None = None
    d_in: Num | None = None
    d_out: Num | None = None
    h_r: Num = 0.0
    n_pleat: Count = 0
    n_arm: Count = 0
    l_arm: Num | None = None
    w_arm: Num | None = None
    z_sp: Num = 0.0
    K_sp: Num | None = None
    m_sp: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Bond(Part):
    """A line of glue, cured: where it lies, how wide (over a winding as high as that) and how thick."""

    name: str
    at: str
    glue: Adhesive
    w_bond: Num | None
    t_bond: Num


@dataclass(frozen=True, kw_only=True)
class Bit(Part):
    """A small thing that moves: a lead, a blob of glue."""

    name: str
    m: Num

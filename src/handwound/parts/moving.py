"""The moving parts beside the voice coil: diaphragm, surround, spider and the small things."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.parts.sheet import Sheet
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Diaphragm(Part):
    """A flat disc or a cone of sheet, from ``d_in`` (0 where it closes the former) to ``d_out``. ``m_d`` if weighed."""

    form: str
    sheet: Sheet
    d_in: Num
    d_out: Num
    h_c: Num = 0.0
    w_seam: Num = 0.0
    m_d: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Surround(Part):
    """A flat ring of sheet, free from ``d_in`` to ``d_out``. ``K_s`` where it was measured."""

    sheet: Sheet
    d_in: Num
    d_out: Num
    K_s: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Spider(Part):
    """A second suspension at the voice coil: its measured stiffness and the share of its mass that moves."""

    K_sp: Num
    m_sp: Num


@dataclass(frozen=True, kw_only=True)
class Bit(Part):
    """A small thing that moves: a lead, a cap, a blob of glue."""

    name: str
    m: Num

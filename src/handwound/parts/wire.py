"""Enamelled wire on a reel."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num

SALVAGED = 105.0
"""What the enamel of a wire of unknown age is taken to bear: thermal class A. [°C] Common practice (from memory)"""


@dataclass(frozen=True, kw_only=True)
class Wire(Part):
    """One reel. ``rho_20``, ``alpha_20`` and ``rho_m`` are those of its metal, ``T_max`` that of its enamel."""

    name: str
    d_cu: Num
    d_o: Num
    metal: str
    rho_20: Num
    alpha_20: Num
    rho_m: Num
    l_reel: Num | None = None
    T_max: Num = SALVAGED

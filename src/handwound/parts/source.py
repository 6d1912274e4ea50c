"""What feeds the driver: the bench supply of the field coil and the amplifier of the voice coil."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num

LEAST_SHARE = 0.8
"""Least impedance over the rated one: IEC 60268-5 (from memory)."""
COLD_SHARE = 0.9
"""Cold current of the field coil over the supply's limit, above which it may shut down: common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Supply(Part):
    """A bench supply with its two limits, and its ripple from peak to peak, None where that is not known."""

    name: str
    V_max: Num
    I_max: Num
    dV: Num | None = None
    f_mains: Num = 50.0


@dataclass(frozen=True, kw_only=True)
class Amplifier(Part):
    """An amplifier: rated power, the least load it is rated for, and the resistance it drives through."""

    name: str
    P_max: Num
    Z_least: Num
    R_out: Num = 0.0

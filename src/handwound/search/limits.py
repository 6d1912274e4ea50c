"""The hard limits of a brief, each as a margin over all candidates at once: at least zero where it is kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from handwound.parts.design import Brief
from handwound.parts.prediction import Chain
from handwound.quantities import Num, show
from handwound.search.table import Table

Array = npt.NDArray[np.float64]
LEAST_SHARE = 0.8
"""Least impedance over rated impedance: IEC 60268-5 (from memory)."""
CURRENT_SHARE = 0.9
"""Cold current of the field coil over the supply's limit: common practice, no source."""
WINDOW_AIR = 0.5e-3
"""Left free between the field winding and the iron around it. [m] Common practice, no source."""


@dataclass(frozen=True)
class Limit:
    """One limit: the quantity judged, its values, what it must stay at or below (or above), and a unit of missing it.

    ``scale`` makes the misses of different limits comparable: missing by one scale is equally bad for all.
    """

    name: str
    words: str
    quantity: str
    values: Array
    bound: float
    below: bool
    scale: float

    @property
    def margin(self) -> Array:
        """How far inside the limit each candidate is, in scales; negative where it misses."""
        room = self.bound - self.values if self.below else self.values - self.bound
        return np.asarray(room / self.scale)

    def sentence(self, index: tuple[int, ...]) -> str:
        """What this candidate has against what the limit asks."""
        side = "at most" if self.below else "at least"
        found = show(self.quantity, float(self.values[index]))
        return f"{self.words}: {found}, wanted {side} {show(self.quantity, self.bound)}"


def limits(table: Table, brief: Brief, found: Chain) -> tuple[Limit, ...]:
    """All limits in the order in which a maker would meet them."""

    def limit(name: str, words: str, quantity: str, values: Num | None, bound: Num, below: bool, scale: float) -> Limit:
        free = -np.inf if below else np.inf
        spread_out = np.broadcast_to(np.asarray(free if values is None else values, float), table.shape)
        return Limit(name, words, quantity, spread_out, float(bound), below, scale)

    coil, supply = table.design.field_coil, brief.supply
    _, window = table.design.iron.room(float(coil.D_f), float(coil.z_w), float(coil.z_w + coil.h_w))
    driver, Z_rated = found.driver, float(brief.Z_rated)
    wanted = [
        limit("wire", "wire missing on the reels", "l_w", wire_missing(table, found), 0.0, True, 10.0),
        limit("supply", "cold current of the field coil", "I_f", found.excitation.I_f,
              CURRENT_SHARE * supply.I_max, True, 0.2 * float(supply.I_max)),
        limit("heat", "outside of the motor in the end", "T_case", found.heat.T_case, brief.T_touch, True, 10.0),
        limit("clearance inside", "air between pole and former", "c_i", found.clearance.c_i, brief.c_min, False, 1e-4),
        limit("clearance outside", "air between winding and plate", "c_o", found.clearance.c_o, brief.c_min, False,
              1e-4),
        limit("impedance", "least impedance", "Z_min", driver.Z_min, LEAST_SHARE * Z_rated, False, 0.1 * Z_rated),
        limit("resistance", "d.c. resistance of the voice coil", "Re", driver.Re, Z_rated, True, 0.1 * Z_rated),
        limit("amplifier", "least impedance for the amplifier", "Z_min", driver.Z_min,
              LEAST_SHARE * brief.amplifier.Z_least, False, 0.1 * Z_rated),
        limit("lowest note", "resonance", "fs", driver.fs, brief.f_low, True, 0.1 * float(brief.f_low)),
        limit("loudness", "level at 1 m for 1 W", "L_1W", driver.L_1W, brief.L_want, False, 1.0),
    ]  # fmt: skip
    if window is not None:
        D_max = float(window) - 2 * WINDOW_AIR
        wound = found.field_winding.D_w
        wanted.insert(0, limit("window", "outer diameter of the field coil", "D_w", wound, D_max, True, 1e-3))
    return tuple(wanted)


def wire_missing(table: Table, found: Chain) -> Num:
    """Length of wire that the reels lack for both coils; negative where some stays. [m]"""
    on_field, on_voice = table.l_reel
    l_field, l_voice = found.field_winding.l_w, found.voice_winding.l_w
    apart = np.maximum(l_field - on_field, l_voice - on_voice)
    return np.where(table.same_reel, l_field + l_voice - on_field, apart)

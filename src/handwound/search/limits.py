"""The hard limits of a brief, each as a margin over all candidates at once: at least zero where it is kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from handwound.mounting import Lodging
from handwound.parts.design import Brief
from handwound.parts.prediction import Chain
from handwound.parts.source import LEAST_SHARE
from handwound.quantities import Num, show
from handwound.search.table import Table
from handwound.sounding import LOWEST, R_source, beside_reference
from handwound.warmth import POOREST, poorest, settle

Array = npt.NDArray[np.float64]
HEAT = "outside of the motor in the end, at worst"


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
        side, value = "at most" if self.below else "at least", float(self.values[index])
        pairs = (
            (show(self.quantity, value, digits), show(self.quantity, self.bound, digits)) for digits in range(3, 9)
        )
        found, bound = next((pair for pair in pairs if pair[0] != pair[1]), (show(self.quantity, value),) * 2)
        return f"{self.words}: {found}, wanted {side} {bound}"


def limits(table: Table, brief: Brief, found: Chain) -> tuple[Limit, ...]:
    """All limits in the order in which a maker would meet them."""

    def limit(name: str, words: str, quantity: str, values: Num | None, bound: Num, below: bool, scale: float) -> Limit:
        free = -np.inf if below else np.inf
        spread_out = np.broadcast_to(np.asarray(free if values is None else values, float), table.shape)
        return Limit(name, words, quantity, spread_out, float(bound), below, scale)

    driver, Z_rated, clearance = found.driver, float(brief.Z_rated), found.clearance
    T_worst, warm = _warmth(table, brief, found), ", warm" if found.heat else ""
    low, _ = beside_reference(brief.f_low, found, Lodging.of(brief, table.design.back), R_source(brief), brief.T_room)
    least = LEAST_SHARE * brief.amplifier.Z_least
    return (
        limit("wire", "wire missing on the reels", "l_w", wire_missing(table, found), 0.0, True, 10.0),
        *(limit("heat", HEAT, "T_case", T, touch, True, 2.0) for T, touch in T_worst),
        limit("clearance inside", "air inside the voice coil", "c_i", clearance.c_i, brief.c_min, False, 5e-5),
        limit("clearance outside", "air outside the voice coil", "c_o", clearance.c_o, brief.c_min, False, 5e-5),
        limit("impedance", "least impedance", "Z_min", driver.Z_min, LEAST_SHARE * Z_rated, False, 0.1 * Z_rated),
        limit("resistance", "d.c. resistance of the voice coil", "Re", driver.Re, Z_rated, True, 0.1 * Z_rated),
        limit("amplifier", "least impedance for the amplifier", "Z_min", driver.Z_min, least, False, 0.1 * Z_rated),
        limit("lowest note", "lowest note beside the level above it", "dL", low, -LOWEST, False, 1.0),
        limit("loudness", f"level at 1 m for 1 W{warm}", "L_1W", found.L_1W, brief.L_want, False, 1.0),
    )


def _warmth(table: Table, brief: Brief, found: Chain) -> list[tuple[Num, Num]]:
    """How warm a field coil makes the outside at worst, and how warm it may get; without one nothing. [°C]"""
    if found.field_winding is None or brief.T_touch is None:
        return []
    return [(settle(poorest(table.all_at_once), brief, POOREST, found.field_winding).T_case, brief.T_touch)]


def wire_missing(table: Table, found: Chain) -> Num:
    """Length of wire that the reels lack for the coils; negative where some stays. [m]"""
    on_field, on_voice = table.l_reel
    l_field, l_voice = found.field_winding.l_w if found.field_winding else 0.0, found.voice_winding.l_w
    apart = np.maximum(l_field - on_field, l_voice - on_voice)
    return np.where(table.same_reel, l_field + l_voice - on_field, apart)

"""What heat may spoil, how far each part is from it, and when it has come so far; in words of time and degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.quantities import Num, plain, units
from handwound.warmth import borne

if TYPE_CHECKING:
    from handwound.parts.prediction import Array

OF_FIELD_COIL = ("enamel of the field coil", "spool")
"""What only the field coil warms."""
MARKS = (1.0, 10.0, 60.0, 600.0, 3600.0, 8 * 3600.0, 24 * 3600.0)
"""Times written under a logarithmic axis. [s]"""


@dataclass(frozen=True)
class Limit:
    """What a part bears, how warm it gets as planned, and when from cold it has come to it; None for never."""

    name: str
    T_max: float
    T_end: float
    t_w: float | None

    @property
    def left(self) -> float:
        """Kelvins left in the end, negative where there are none."""
        return self.T_max - self.T_end


def limits(design: Design, brief: Brief, found: Prediction) -> tuple[Limit, ...]:
    """All that heat may spoil, and what a hand bears; none where no warming was followed."""
    warming, field = found.warming, design.field_coil
    if warming is None:
        return ()
    bears: list[tuple[str, Num | None, Array | None]] = [
        (OF_FIELD_COIL[0], field.wire.T_max if field and field.wire else None, warming.T_hot),
        (OF_FIELD_COIL[1], field.spool.T_max if field and field.spool else None, warming.T_spool),
        *((f"{part} of the voice coil", T_max, warming.T_vc) for part, T_max in borne(design).items()),
        ("outside, to touch", brief.T_touch, warming.T_case),
    ]
    return tuple(
        Limit(name, float(T_max), float(T[-1]), passes(warming.t_w, T, float(T_max)))
        for name, T_max, T in bears
        if T_max is not None and T is not None
    )


def passes(t_w: Array, T: Array, T_max: float) -> float | None:
    """When something that warms comes to a temperature; None for never. [s]"""
    over = np.flatnonzero(T >= T_max)
    if not len(over):
        return None
    k = max(int(over[0]), 1)
    return float(np.interp(T_max, T[k - 1 : k + 1], t_w[k - 1 : k + 1]))


def duration(t: float | None) -> str:
    """``"10 min"``, ``"2.5 h"``; ``"never"`` for None."""
    if t is None:
        return "never"
    hour, minute = units()["h"].scale, units()["min"].scale
    if t >= 1.5 * hour or t == hour:
        return f"{plain(t / hour, 2)} h"
    return f"{plain(t / minute, 2)} min" if t >= minute else f"{plain(t, 2)} s"


def degrees(T: Num) -> str:
    """Whole degrees: no more is known."""
    return f"{float(T):.0f} °C"


def weakest(design: Design) -> str:
    """The part of the voice coil that gives way first."""
    bears = borne(design)
    return min(bears, key=lambda part: bears[part])

"""What heat may spoil or hurt: the limits of a driver, how much of each is used up, and when it is reached."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.heat.driven import Driven
from handwound.parts.heat_study import Limit, State
from handwound.parts.prediction import Warming
from handwound.quantities import Num
from handwound.warmth import borne

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array

FOUND = 2e-3
"""A largest value is sought until it is known to this share of itself."""


class Bound(NamedTuple):
    """A limit: its name, what it bears, the temperature of a state that it holds for, whether of the field coil."""

    name: str
    T_max: float
    quantity: str
    is_field: bool


def bounds(build: Driven) -> tuple[Bound, ...]:
    """All that heat may spoil in a build, and what a hand bears."""
    return tuple(_bounds(build))


def _bounds(build: Driven) -> Iterator[Bound]:
    coil, T_touch = build.design.field_coil, build.brief.T_touch
    if T_touch is not None:
        yield Bound("outside, to touch", float(T_touch), "T_case", True)
    if coil and coil.wire:
        yield Bound("enamel of the field coil", float(coil.wire.T_max), "T_hot", True)
    if coil and coil.spool:
        yield Bound("spool", float(coil.spool.T_max), "T_spool", True)
    for name, T_max in borne(build.design).items():
        yield Bound(name if name == "former" else f"{name} of the voice coil", T_max, "T_vc", False)


def over(build: Driven, state: State) -> tuple[str, ...]:
    """The limits that a state oversteps, the one by most kelvins first."""
    above = {each.name: getattr(state, each.quantity) - each.T_max for each in bounds(build)}
    return tuple(sorted((name for name, dT in above.items() if dT > 0), key=lambda name: -above[name]))


def limits(build: Driven, run: Warming, end: State) -> tuple[Limit, ...]:
    """Every limit: what becomes of it in the end, and when it is reached in a run from cold."""
    T_room, found = float(build.brief.T_room), []
    for each in bounds(build):
        T_end = getattr(end, each.quantity)
        used = (T_end - T_room) / max(each.T_max - T_room, FOUND)
        t_lim = reached(run.t_w, getattr(run, each.quantity), each.T_max)
        found.append(Limit(name=each.name, T_max=each.T_max, T_end=T_end, used=used, t_lim=t_lim))
    return tuple(sorted(found, key=lambda limit: -limit.used))


def reached(t_w: Array, T: Array, T_max: Num) -> float | None:
    """When a temperature that rises comes to a limit; None where it does not. [s]"""
    above = np.flatnonzero(T >= T_max)
    if not len(above):
        return None
    k = int(above[0])
    return float(np.interp(T_max, T[k - 1 : k + 1], t_w[k - 1 : k + 1])) if k else float(t_w[0])


def largest(keeps: Callable[[float], bool], low: float, high: float, near: float = FOUND) -> float | None:
    """The largest value for which something still holds, on the safe side; None where it does not at ``low``.

    It holds below that value and no more above it; ``high`` where it always does.
    """
    if keeps(high):
        return high
    if not keeps(low):
        return None
    while high > low * (1 + near):
        middle = (low * high) ** 0.5
        low, high = (middle, high) if keeps(middle) else (low, middle)
    return low

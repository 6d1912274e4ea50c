"""What heat may spoil or hurt: the limits of a driver, how much of each is used up, and when it is reached."""

from __future__ import annotations

from collections.abc import Callable

from handwound.heat.driven import Driven
from handwound.parts.heat_study import Limit, State
from handwound.parts.prediction import Warming
from handwound.warming import bounds, reached

FOUND = 2e-3
"""A largest value is sought until it is known to this share of itself."""


def over(build: Driven, state: State) -> tuple[str, ...]:
    """The limits that a state oversteps, the one by most kelvins first."""
    above = {each.name: getattr(state, each.quantity) - each.T_max for each in bounds(build.design, build.brief)}
    return tuple(sorted((name for name, dT in above.items() if dT > 0), key=lambda name: -above[name]))


def limits(build: Driven, run: Warming, end: State) -> tuple[Limit, ...]:
    """Every limit: what becomes of it in the end, and when it is reached in a run from cold."""
    T_room, found = float(build.brief.T_room), []
    for each in bounds(build.design, build.brief):
        T_end = getattr(end, each.quantity)
        used = (T_end - T_room) / max(each.T_max - T_room, FOUND)
        t_lim = reached(run.t_w, getattr(run, each.quantity), each.T_max)
        found.append(Limit(name=each.name, T_max=each.T_max, T_end=T_end, used=used, t_lim=t_lim))
    return tuple(sorted(found, key=lambda limit: -limit.used))


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

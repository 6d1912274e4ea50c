"""Which limits a state oversteps, and the largest value that keeps them."""

from __future__ import annotations

from collections.abc import Callable

from handwound.heat.driven import Driven
from handwound.parts.heat_study import State
from handwound.warming import bounds

FOUND = 2e-3
"""A largest value is sought until it is known to this share of itself."""


def over(build: Driven, state: State) -> tuple[str, ...]:
    """The limits that a state oversteps, the one by most kelvins first."""
    above = {each.name: getattr(state, each.place) - each.T_lim for each in bounds(build.design, build.brief)}
    return tuple(sorted((name for name, dT in above.items() if dT > 0), key=lambda name: -above[name]))


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

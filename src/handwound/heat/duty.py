"""On and off, again and again: the round that a duty settles into, and the longest time on that keeps the limits."""

from __future__ import annotations

from dataclasses import replace
from math import log10
from typing import TYPE_CHECKING

import numpy as np

from handwound.heat.driven import Driven, states
from handwound.heat.limits import largest, over
from handwound.parts.heat_study import Duty, State

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array

USUAL = ((600.0, 1200.0), (1200.0, 1200.0), (1800.0, 1800.0), (7200.0, 3600.0))
"""Times on and off that are told where none are asked for. [s]"""
NEAR, ROUNDS = 3.0, 8
"""A round that ends as near as this to where it began is closed by the straight network [K]; mostly the first is."""
TOLD = 24
"""Moments of each half of a round that are looked at."""
SHORT, LONG = 30.0, 6 * 3600.0
"""Between these a longest time on is sought [s], to a twentieth."""


def duties(build: Driven, asked: tuple[float, float] | None) -> tuple[Duty, ...]:
    """The duty that was asked for, or those that are usual; nothing without a field coil."""
    if build.idle.fed is None:
        return ()
    return tuple(duty(build, *each) for each in ((asked,) if asked else USUAL))


def longest(build: Driven) -> float | None:
    """The longest time on, with as long a rest, that keeps every limit; None where even the shortest does not. [s]"""
    return largest(lambda t: not duty(build, t, t).over, SHORT, LONG, near=0.05)


def duty(build: Driven, t_on: float, t_rest: float) -> Duty:
    """What a duty comes to in the long run."""
    on, off = settled(build, t_on, t_rest)
    t = np.linspace(0.0, 1.0, TOLD + 1)
    fed, resting = build.told(t, on), build.told(t, off, 0.0)
    again, last = states(fed, [0, TOLD])
    both = (states(fed, list(range(TOLD + 1))), states(resting, list(range(TOLD + 1))))
    warm = {name: max(getattr(each, name) for half in both for each in half) for name in TEMPERATURES}
    hottest = replace(last, **warm)
    dL = 20 * log10(float(last.Bl or 0.0) / float(again.Bl or 0.0)) if last.Bl else None
    return Duty(t_on=t_on, t_rest=t_rest, hottest=hottest, again=again, dL=dL, over=over(build, hottest))


TEMPERATURES = tuple(name for name in State.__dataclass_fields__ if name.startswith("T_"))


def settled(build: Driven, t_on: float, t_rest: float) -> tuple[Array, Array]:
    r"""All nodes over the time on and over the rest [node, t], of the round that ends where it began.

    The network that is straight about the mean of the round tells where that begins, nearly. The round that is then
    followed in full misses its beginning by a little; how the straight network goes on with that closes it:

    .. math:: T_0 \leftarrow T_0 + (1 - M)^{-1} (T_{end} - T_0)
    """
    network, share = build.idle.model.network, t_on / (t_on + t_rest)

    def mean(T: Array) -> tuple[Array, Array]:
        q, slope = build.heat(T)
        return share * q, share * slope

    middle = network.steady(build.brief.T_room, mean, build.idle.T)
    steps = _straight(build, middle, t_on, t_rest)
    n, half = network.n, np.linspace(0.0, 1.0, TOLD + 1)
    whole = np.linalg.matrix_power(steps[1], TOLD) @ np.linalg.matrix_power(steps[0], TOLD)
    kept = np.linalg.inv(np.eye(n) - whole[:n, :n])
    begin = middle[:-1] + kept @ whole[:n, n]
    for _ in range(ROUNDS):
        on = network.run(half * t_on, np.append(begin, middle[-1]), build.heat).T
        off = network.run(half * t_rest, on[:, -1], _nothing).T
        missed = off[:-1, -1] - begin
        shift = kept @ missed
        if np.max(np.abs(missed)) < NEAR:
            break
        begin = begin + shift
    for T, step in zip((on, off), steps, strict=True):
        for k in range(TOLD + 1):
            T[:-1, k] += shift
            shift = step[:n, :n] @ shift if k < TOLD else shift
    return on, off


def _nothing(T: Array) -> tuple[Array, Array]:
    return np.zeros_like(T), np.zeros_like(T)


def _straight(build: Driven, middle: Array, t_on: float, t_rest: float) -> tuple[Array, Array]:
    """What the straight network makes of all nodes, above the mean of the round, in one step of the time on and of the
    rest; in the last column where it takes them from there. [1], [K]"""
    from scipy.linalg import expm

    network, share, n = build.idle.model.network, t_on / (t_on + t_rest), len(middle) - 1
    q, slope = (each / network.C_th for each in build.heat(middle[:-1]))
    G = network.slopes(middle, network.conductances(middle))
    lost = -network.matrix(G) / network.C_th[:, None]
    on, off = np.zeros((n + 1, n + 1)), np.zeros((n + 1, n + 1))
    on[:n], off[:n] = np.column_stack([lost + np.diag(slope), (1 - share) * q]), np.column_stack([lost, -share * q])
    return expm(on * t_on / TOLD), expm(off * t_rest / TOLD)

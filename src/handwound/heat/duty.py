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
SAME, ROUNDS = 0.05, 8
"""A round that ends where it began to this many kelvin goes on for ever; it is found in a few. [K]"""
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

    It is sought from the mean of its heat on. Each round that is followed tells how far it misses, and the straight
    network how that goes on:

    .. math:: T_0 \leftarrow T_0 + (1 - M)^{-1} (T_{end} - T_0)
    """
    network, share = build.idle.model.network, t_on / (t_on + t_rest)

    def mean(T: Array) -> tuple[Array, Array]:
        q, slope = build.heat(T)
        return share * q, share * slope

    start = network.steady(build.brief.T_room, mean, build.idle.T)
    M = _round(build, start, t_on, t_rest)
    half = np.linspace(0.0, 1.0, TOLD + 1)
    for _ in range(ROUNDS):
        on = network.run(half * t_on, start, build.heat).T
        off = network.run(half * t_rest, on[:, -1], _nothing).T
        missed = off[:-1, -1] - start[:-1]
        if np.max(np.abs(missed)) < SAME:
            break
        start = np.append(start[:-1] + np.linalg.solve(np.eye(len(M)) - M, missed), start[-1])
    return on, off


def _nothing(T: Array) -> tuple[Array, Array]:
    return np.zeros_like(T), np.zeros_like(T)


def _round(build: Driven, T: Array, t_on: float, t_rest: float) -> Array:
    """What a round makes of a small change of all nodes, about these temperatures."""
    from scipy.linalg import expm

    network = build.idle.model.network
    lost = -network.matrix(network.conductances(T)) / network.C_th[:, None]
    made = np.diag(build.heat(T[:-1])[1] / network.C_th)
    return np.asarray(expm(lost * t_rest) @ expm((lost + made) * t_on), float)

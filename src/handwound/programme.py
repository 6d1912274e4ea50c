"""A programme on one voice coil: from its crest factor or its sound file to the heat, stretch by stretch."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from handwound.parts.programme import Programme, Recording
from handwound.physics import programme as physics
from handwound.quantities import Num

Array = npt.NDArray[np.float64]
Impedance = npt.NDArray[np.complex128]
HOT = 1.4
"""Resistance of a copper coil 100 K warmer over the cold one: there the rule for the hot coil is exact."""
MINUTE = 60.0
"""A steady programme has no stretches; its one is this long. [s]"""


class Duty(NamedTuple):
    """So often on and off again. [s]"""

    t_on: float
    t_rest: float
    times: int


SHORT_TERM = Duty(1.0, 60.0, 60)
"""The short-term limit: what a driver bears for a second, 60 times a minute apart. IEC 60268-5 (from memory)."""
LONG_TERM = Duty(60.0, 120.0, 10)
"""The long-term limit: what it bears for a minute, ten times two minutes apart. IEC 60268-5 (from memory)."""


def usual(crest: Num, level: Num, f: Array, Z: Impedance, Re: Num) -> Programme:
    """Music of which no more is known than its crest factor: a pink band, as loud all the time."""
    heat_share, n_hot = physics.heat_share(f, Z, Re), physics.hot_exponent(physics.pink(f), Z, Re, HOT * Re)
    return Programme(
        name="usual programme",
        crest=crest,
        level=level,
        heat_share=heat_share,
        n_hot=n_hot,
        t_b=np.array([0.0, MINUTE]),
        P_rel=np.array([physics.programme_voltage(1.0, crest, level) ** 2 * heat_share]),
    )


def played(recording: Recording, level: Num, f: Array, Z: Impedance, Re: Num) -> Programme:
    """A sound file, its highest peak at a level below the amplifier's; ``Z`` at ``f`` must span what it holds."""
    Z_f = np.interp(np.log(recording.f), np.log(f), Z)
    heat, lasts = physics.heat_of(recording.u_f, Z_f, Re), np.diff(recording.t_b)
    whole = lasts @ recording.u_f
    return Programme(
        name=recording.name,
        crest=recording.crest,
        level=level,
        heat_share=float(lasts @ heat / whole.sum()),
        n_hot=physics.hot_exponent(whole, Z_f, Re, HOT * Re),
        t_b=recording.t_b,
        P_rel=np.asarray(heat * physics.programme_voltage(1.0, 0.0, level) ** 2),
    )


def mean_heat(programme: Programme) -> Num:
    """The mean of its heat, as ``P_rel`` is."""
    return float(np.diff(programme.t_b) @ programme.P_rel / programme.t_b[-1])


def bursts(programme: Programme, duty: Duty) -> Programme:
    """The mean heat of a programme for a while, then none for a while."""
    mean = mean_heat(programme)
    t_b = np.array([0.0, duty.t_on, duty.t_on + duty.t_rest])
    return replace(programme, t_b=t_b, P_rel=np.array([mean, 0.0 * mean]))


def blocks(programme: Programme, t_end: float) -> tuple[Array, Array]:
    """Edges of time from 0 to ``t_end`` and the heat between them, the programme again and again; as ``P_rel`` is."""
    t_b, P_rel = programme.t_b, programme.P_rel
    if len(P_rel) == 1:
        return np.array([0.0, t_end]), P_rel
    rounds = int(np.ceil(t_end / t_b[-1]))
    begins = (t_b[:-1] + t_b[-1] * np.arange(rounds)[:, None]).ravel()
    within = begins < t_end
    return np.append(begins[within], t_end), np.concatenate([P_rel] * rounds)[within]

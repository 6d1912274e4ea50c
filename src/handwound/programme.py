"""A programme on one voice coil: from its crest factor or its sound file to the heat, stretch by stretch."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from handwound.parts.programme import Programme, Recording
from handwound.physics import programme as physics
from handwound.quantities import Num

Array = npt.NDArray[np.float64]
Impedance = npt.NDArray[np.complex128]
HOT = 1.4
"""Resistance of a copper coil 100 K warmer over the cold one: there the rule for the hot coil is exact."""
USUAL = "usual programme"
MINUTE = 60.0
"""A steady programme has no stretches; its one is this long. [s]"""


SHORT, LONG = 1.0, 60.0
"""Heat that is borne for a second and for a minute [s]: the bursts of IEC 60268-5 (from memory), one of them alone."""


def usual(crest: Num, level: Num, f: Array, Z: Impedance, Re: Num) -> Programme:
    """Music of which no more is known than its crest factor: a pink band, as loud all the time."""
    heat_share, n_hot = physics.heat_share(f, Z, Re), physics.hot_exponent(physics.pink(f), Z, Re, HOT * Re)
    return Programme(
        name=USUAL,
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
    mean: Num = np.diff(programme.t_b) @ programme.P_rel / programme.t_b[-1]
    return mean


def turned(programme: Programme, crest: Num, level: Num) -> Programme:
    """The same music with its peaks at another level, and pressed to another crest factor; numbers or arrays."""
    U, U_before = (
        physics.programme_voltage(1.0, *each) for each in ((crest, level), (programme.crest, programme.level))
    )
    louder = (U / U_before) ** 2
    return replace(programme, crest=crest, level=level, P_rel=np.multiply.outer(programme.P_rel, louder))

"""What is heard and seen in each third-octave, and what arrives after a step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from handwound.heard.told import BREAKUP, THETA
from handwound.mounting import Lodging
from handwound.parts.sound_study import Step, Thirds
from handwound.physics import circuit
from handwound.physics.hum import Phasor
from handwound.physics.loudest import third_octaves
from handwound.sound.build import Build
from handwound.sounding import F_LOW, U_REF, Heard, R_source, heard

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

HALF = 10**0.05
"""From the middle of a third-octave to its ends: IEC 61260-1 (from memory)."""
TOLD = [int(np.argmin(np.abs(THETA - angle))) for angle in np.radians([30.0, 60.0, 90.0])]
FINE = np.geomspace(F_LOW / 4, BREAKUP[-1], 800)
"""Frequencies from which a slope and a step are taken. [Hz]"""
GONE = 0.1
"""Share of its peak below which a step is as good as over: common practice, no source."""


def thirds(build: Build) -> Thirds:
    """From 20 Hz to 20 kHz; what bends is told as in a wall, and shifted by what the place does to a stiff one."""
    told, response = build.found.sound, build.found.response
    assert told is not None, "a prediction tells of the sound"
    f_nom, f_mid = (np.asarray(each) for each in third_octaves(F_LOW, BREAKUP[-1]))
    L_off, L_placed = told.breakup.L_off, stiff(build, BREAKUP, _lodging(build))
    L_bent = L_off[:, 0] + L_placed - stiff(build, BREAKUP, Lodging())
    Z, v, p = _heard(build, FINE, _lodging(build))
    x_f = np.asarray(circuit.excursion(FINE, v))
    fine = np.log(FINE), np.log(f_mid)
    unseen = f_mid > response.f_piston
    band = [np.interp(f_mid, response.f, each - response.L_p) for each in (response.L_lo, response.L_hi)]
    L_stiff = mean_of_thirds(L_placed[:, None], f_mid)[:, 0]
    L_lo, L_hi = (np.where(unseen, np.nan, L_stiff + beside) for beside in band)
    axis = mean_of_thirds(L_off[:, :1], f_mid)
    return Thirds(
        f=f_nom, theta=THETA[TOLD], L_p=mean_of_thirds(L_bent[:, None], f_mid)[:, 0], L_stiff=L_stiff,
        L_lo=L_lo, L_hi=L_hi, dL_off=mean_of_thirds(L_off[:, TOLD], f_mid) - axis,
        **{name: np.interp(fine[1], fine[0], each) for name, each in (
            ("Z", np.abs(Z)), ("phase_Z", np.angle(Z)), ("phase", np.asarray(circuit.phase(p))),
            ("t_group", np.asarray(circuit.group_delay(FINE, p))), ("x_f", x_f),
        )},
    )  # fmt: skip


def mean_of_thirds(L: Array, f_mid: Array) -> Array:
    """Level of the mean power in each third-octave, of levels [frequency, column] at those of ``BREAKUP``."""
    power = 10 ** (L / 10)
    inside = (BREAKUP >= f_mid[:, None] / HALF) & (BREAKUP < f_mid[:, None] * HALF)
    return np.asarray(10 * np.log10(inside @ power / inside.sum(axis=1)[:, None]))


def stiff(build: Build, f: Array, lodging: Lodging) -> Array:
    """Level on the axis of a diaphragm that does not bend. [dB]"""
    return np.asarray(circuit.sound_level(_heard(build, f, lodging)[2]))


def step(build: Build) -> Step:
    """The diaphragm as stiff: what bends is over long before."""
    t_s, p_step = circuit.step_response(FINE, _heard(build, FINE, _lodging(build))[2] / U_REF)
    return told_of(np.asarray(t_s), np.asarray(p_step))


def told_of(t_s: Array, p_step: Array) -> Step:
    """Peak, end and note of a step that rises and swings back through nothing."""
    peak = int(np.argmax(np.abs(p_step)))
    p_pk = float(abs(p_step[peak]))
    still = int(np.flatnonzero(np.abs(p_step) > GONE * p_pk)[-1])
    after = p_step[peak : still + 1]
    crossed = peak + np.flatnonzero(after[1:] * after[:-1] < 0)
    t = [t_s[k] - p_step[k] * (t_s[k + 1] - t_s[k]) / (p_step[k + 1] - p_step[k]) for k in crossed]
    swings = len(t) > 1
    return Step(p_pk=p_pk, t_fall=float(t_s[still]), f_swing=float(0.5 / (t[-1] - t[-2])) if swings else None)


def _lodging(build: Build) -> Lodging:
    return Lodging.of(build.brief, build.design.back)


def _heard(build: Build, f: Array, lodging: Lodging) -> tuple[Phasor, Phasor, Phasor]:
    at = Heard(build.found, lodging, R_source(build.brief))
    return heard(f, at, float(build.brief.T_room), build.Z_b.at(f))

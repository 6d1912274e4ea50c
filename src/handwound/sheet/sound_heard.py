"""What is heard, as tables of words: third by third, off the axis, after a step."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, degrees, isfinite, sin
from typing import TYPE_CHECKING

import numpy as np

from handwound.parts.sound import Breakup
from handwound.parts.sound_study import SoundStudy, Step, Thirds
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import show

if TYPE_CHECKING:
    from handwound.parts.prediction import Array

ALL_ROUND = "Sound all round"
POLAR = (250.0, 1000.0, 2000.0, 4000.0, 8000.0)
"""Notes of which the sound to all sides is drawn. [Hz]"""
LETTERS = "abcde"
OUTER, RINGS = 12, (0.0, -10.0, -20.0)
"""Lines from the middle of the picture to its outer ring; levels beside the axis at which rings are drawn. [dB]"""
DEEPEST = -30.0
"""In the middle of the picture. [dB]"""
WIDE = 2
"""A letter is about so many times as high as wide."""
LEAST = 1e-5
"""Strokes and delays below this are not told further. [m], [s]"""
FAINT = -40.0
"""What is further below the axis is told as that. [dB]"""


def tables(found: SoundStudy) -> Iterator[Table]:
    """All but the picture."""
    yield _levels(found.thirds)
    yield _moves(found.thirds)
    yield _step(found.step)


def _levels(thirds: Thirds) -> Table:
    angles = [f"{degrees(angle):.0f}° off" for angle in thirds.theta.tolist()]
    rows: list[Row] = [("", "straight ahead", *angles, "were it stiff", "low", "high")]
    for k, f in enumerate(thirds.f.tolist()):
        ahead, *stiff = (
            f"{float(L):.0f} dB" if isfinite(L) else ""
            for L in (thirds.L_p[k], thirds.L_stiff[k], thirds.L_lo[k], thirds.L_hi[k])
        )
        off = (f"{max(float(dL), FAINT):+.0f} dB".replace("+0", "0").replace("-0 ", "0 ") for dL in thirds.dL_off[k])
        rows.append((show("f", f), ahead, *off, *stiff))
    note = (
        "At 1 m for 2.83 V, the mean of each third-octave, as the driver is built in, motor cold. The first column is "
        "of the diaphragm as it bends: peaks and dips between what is told are higher and deeper, and in the top "
        "octaves two of one build differ by some decibels. Off: beside straight ahead, in a large wall; an open board "
        "adds its own figure of eight to low notes. Low and high are the 5-95 % band of the stiff one, as far up as it "
        "is a piston (ka = 1.6); what bends has none. The room is not in it."
    )
    return Table("What is heard, third by third", tuple(rows), note, right=tuple(range(len(rows[0]))))


def _moves(thirds: Thirds) -> Table:
    rows: list[Row] = [("", "impedance", "its phase", "phase of sound", "group delay", "stroke to each side")]
    for k, f in enumerate(thirds.f.tolist()):
        turns = (f"{degrees(each[k]):.0f}°" for each in (thirds.phase_Z, thirds.phase))
        late, far = _small("t_group", float(thirds.t_group[k])), _small("x_f", float(thirds.x_f[k]))
        rows.append((show("f", f), show("Z", float(thirds.Z[k])), *turns, late, far))
    note = (
        "At the middle of each third for 2.83 V, of a diaphragm that does not bend on a suspension that stays as "
        "soft as at rest, motor cold. Phase and delay are without the way through the air."
    )
    return Table("What the amplifier sees, and how it moves", tuple(rows), note, right=tuple(range(len(rows[0]))))


def _small(name: str, value: float) -> str:
    """Metres or seconds; hundredths of thousandths are nothing here."""
    return show(name, value, 2) if abs(value) >= LEAST else f"under {show(name, LEAST)}"


def _step(step: Step) -> Table:
    rows: list[Row] = [
        ("peak at 1 m after a step of 1 V", show("p_pk", step.p_pk, 2)),
        ("within a tenth of it after", show("t_fall", step.t_fall, 2)),
    ]
    if step.f_swing is not None:
        rows.append(("swings on at", show("f_swing", step.f_swing, 2)))
    note = "Of a diaphragm that does not bend. "
    note += (
        "It swings on at its resonance: less with a stronger motor, a larger box or a lower resistance before it."
        if step.f_swing is not None
        else "It comes back without swinging on: the motor brakes it."
    )
    return Table("After a step", tuple(rows), note)


def polar(breakup: Breakup) -> str:
    """The sound to all sides in letters, its diaphragm at the left, looking to the right."""
    high, long = OUTER, WIDE * OUTER
    grid = [[" "] * (long + 1) for _ in range(2 * high + 1)]

    def put(angle: float, dL: float, sign: str) -> None:
        far = OUTER * max(0.0, 1 - dL / DEEPEST)
        grid[high - round(far * sin(angle))][round(WIDE * far * cos(angle))] = sign

    sides = np.linspace(-np.pi / 2, np.pi / 2, 181)
    for ring in RINGS:
        for angle in sides[::4]:
            put(float(angle), ring, "·")
    for sign, f in zip(LETTERS, POLAR, strict=True):
        for angle, dL in zip(sides, np.interp(np.abs(sides), breakup.theta, beside_axis(breakup, f)), strict=True):
            put(float(angle), min(float(dL), 0.0), sign)
    grid[high][0] = "O"
    return "\n".join("".join(row).rstrip() for row in grid)


def beside_axis(breakup: Breakup, f: float) -> Array:
    """Levels at all angles beside that on the axis, the mean power of the third-octave about a note. [dB]"""
    near = np.abs(np.log10(breakup.f / f)) <= 0.05
    power = np.mean(10 ** (breakup.L_off[near] / 10), axis=0)
    return np.asarray(10 * np.log10(power / power[0]))


def key() -> str:
    """What each letter is."""
    told = ", ".join(f"{sign} {show('f', f)}" for sign, f in zip(LETTERS, POLAR, strict=True))
    return f"O plays to the right: {told}. Rings {RINGS[0] - RINGS[1]:.0f} dB apart."

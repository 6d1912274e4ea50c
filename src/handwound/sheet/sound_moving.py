"""What moves and what holds it, as tables of words: masses, stiffness over the stroke, rocking, other suspensions."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

import numpy as np

from handwound.parts.sound import Held
from handwound.parts.sound_study import Budget, Copper, Hung, Suspension
from handwound.sheet.digits import decibels
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import show

NEAR = 0.04
"""Copper by its ohms this near to the plan is the plan: the meter and the tape are no better (common practice)."""
GIVES = 1.05
"""A suspension that lies for a minute gives by more than this where it is of foam or paper. [1]"""


def masses(found: Budget) -> Iterator[Table]:
    """Every part, and the copper once more by its ohms."""
    rows: list[Row] = [("", "mass", "share", "known by", "worth")]
    for each in found.masses:
        cells = (show("m", float(each.m)), show("m_share", float(each.m_share), 2))
        rows.append((each.name, *cells, each.known, decibels(each.dL, 1)))
    rows.append(("all that moves", show("Mmd", float(found.Mmd)), "", "the sum", ""))
    rows.append(("air that moves with it", show("m_air", float(found.m_air)), "", "a stiff disc in a wall", ""))
    rows.append(("together", show("Mms", float(found.Mms)), "", "the sum", ""))
    note = (
        "Worth: how much louder it would be above its resonance if that part weighed nothing. One gram more anywhere "
        f"takes {-found.dL_gram:.1f} dB. A letter balance that reads 0.1 g, and all of it weighed together before "
        "the surround is glued on (m_weighed), is worth more than any of these sums."
    )
    yield Table("What it weighs", tuple(rows), note, right=(1, 2, 4))
    yield _copper(found.copper)


def _copper(found: tuple[Copper, ...]) -> Table:
    rows: list[Row] = [("", "ohms at 20 °C", "copper by them", "wire with enamel, as planned")]
    for each in found:
        name = "as read on the coil" if each.is_read else "as planned"
        cells = (show(q, float(getattr(each, q))) for q in ("R_20", "m_cu", "m_w"))
        rows.append((name, *cells))
    plan = found[0]
    rest = 1 - float(plan.m_cu) / float(plan.m_w)
    note = (
        f"The same length with its ohms tells the copper without any balance; the other {100 * rest:.0f} % is enamel. "
    )
    read = [each for each in found if each.is_read]
    if not read:
        note += "Read the finished coil, write its ohms into readings.csv (where voice_coil, quantity R_T), look again."
    return Table("The voice coil by its ohms", tuple(rows), note + " ".join(_told(each, plan) for each in read),
                 right=(1, 2, 3))  # fmt: skip


def _told(each: Copper, plan: Copper) -> str:
    """What a reading says of the coil."""
    beside = float(each.m_cu) / float(plan.m_cu) - 1
    if abs(beside) < NEAR:
        return f"What was read agrees to {100 * abs(beside):.1f} %: as planned."
    if beside < 0:
        return (
            f"What was read would be {-100 * beside:.0f} % less copper in the planned length: thinner wire, or more "
            "turns. Weigh the coil: lighter than planned it is the wire, heavier it is the turns."
        )
    return (
        f"What was read would be {100 * beside:.0f} % more copper in the planned length: thicker wire, or fewer turns. "
        "Weigh the coil: heavier than planned it is the wire, lighter it is the turns."
    )


def suspension(found: Suspension) -> Iterator[Table]:
    """What holds it at rest, over the stroke, against rocking; then in another way."""
    yield _holds(found)
    yield _stroke(found)
    yield _others(found.others)


def _holds(found: Suspension) -> Table:
    held = found.held
    Kms = float(found.K_s) + float(found.K_sp or 0.0)
    rows: list[Row] = [("surround", show("K_s", float(found.K_s)), _share(found.K_s, Kms))]
    if found.K_sp is not None:
        rows.append(("spider", show("K_sp", float(found.K_sp)), _share(found.K_sp, Kms)))
        rows.append(("both", show("Kms", Kms), ""))
    rows.append(("sinks by its own weight, face up", show("sag", held.sag, 2), ""))
    rows += [(words, value, "") for words, value in _rocks(held)]
    if found.bare:
        rows += [(f"{words}, no spider", value, "") for words, value in _rocks(found.bare)]
    return Table("What holds it", tuple(rows), " ".join(_holding(found)), right=(1, 2))


def _share(K: object, Kms: float) -> str:
    return show("m_share", float(K) / Kms, 2)  # type: ignore[arg-type]


def _rocks(held: Held) -> Iterator[tuple[str, str]]:
    yield "against rocking", show("K_rock", held.K_rock)
    yield "rocks on a note near", show("f_rock", held.f_rock, 2)
    yield "leans where its axis lies level", show("tilt", held.tilt, 2)
    yield "mass on the rim that leans it as far as is usual", show("m_off", held.m_off, 2)


def _holding(found: Suspension) -> Iterator[str]:
    k_dyn = float(found.k_dyn)
    if k_dyn > GIVES:
        yield (
            f"These stiffnesses are those of music; under a weight that has lain for a minute it gives {k_dyn:.3g} "
            "times as much, and over hours and in a warm room more still: foam creeps. Turn a driver that stands with "
            "its axis level by half a turn from year to year."
        )
    if found.bare:
        gain = found.held.K_rock / found.bare.K_rock
        yield f"The spider makes it {gain:.2g} times as stiff against rocking: it holds the far end of the former."
    else:
        yield (
            "Without a spider nothing but the surround keeps the coil upright: keep leads and seam in balance, and "
            "look at the gap with its axis level."
        )
    yield "At its rocking note a lopsided diaphragm rubs first: trim it there with a crumb of putty."


def _stroke(found: Suspension) -> Table:
    rest = float(found.K_x[np.argmin(np.abs(found.x))])
    rows: list[Row] = [("displacement", "strokes", "stiffness", "over rest", "force")]
    for x, K, F in zip(found.x.tolist(), found.K_x.tolist(), found.F_x.tolist(), strict=True):
        cells = ("snaps", "", "")
        if isfinite(K):
            cells = (show("Kms", K), show("k_x", K / rest), show("F_x", F, 2))
        rows.append((show("x", x, 2), f"{x / float(found.x_pk):+.2g}" if x else "0", *cells))
    note = (
        "One stroke is what the brief wants. Outward is positive. The stiffness is the force that holds it there over "
        "how far that is; a third more than at rest, where 75 % of the give is left, is the limit of IEC 62458 (from "
        "memory)."
    )
    return Table("Stiffness over the stroke", tuple(rows), note, right=(0, 1, 2, 3, 4))


def _others(others: tuple[Hung, ...]) -> Table:
    rows: list[Row] = [("surround", "stiffness of all", "a third stiffer at", "resonance")]
    for each in others:
        end = "beyond what was looked at" if each.x_75 is None else show("x_75", float(each.x_75), 2)
        rows.append((each.name, show("Kms", float(each.Kms)), end, show("fs", float(each.fs), 2)))
    note = (
        "One change at a time, in the same width, all else as it is. A flat ring is stretched as it moves, a roll "
        "unrolls: that is why the roll stays soft for longer. Thinner sheet lowers the resonance, but a thinner flat "
        "ring is stretched sooner."
    )
    return Table("Hung in another way", tuple(rows), note, right=(1, 2, 3))

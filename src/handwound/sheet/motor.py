"""The motor in full as tables of words: one table a question, each with what to make of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite, pi

import numpy as np

from handwound.parts.prediction import MagnetState
from handwound.parts.study import (
    Alternating,
    Gap,
    Hum,
    Lift,
    MotorStudy,
    Pull,
    Sideways,
    Switching,
    Travel,
    Worth,
)
from handwound.quantities import Num
from handwound.sheet import winding_faults
from handwound.sheet.cautions import TOUCH_VOLTS, spark
from handwound.sheet.digits import decibels
from handwound.sheet.knee import knee_words
from handwound.sheet.said import show

Row = tuple[str, ...]
TRACE = 1e-4
"""Steps of less than this share of the first inductance are left out. [1]"""
HAIR = 1e-4
"""A shift of the coil that nobody can set by hand. [m]"""
SMALL = 0.03
"""Changes below this are not worth a line. [dB]"""
C_MOST = 10e-3
"""The largest capacitor that anybody would put behind a bridge (common practice). [F]"""
PUSH = 1.0
"""A push that lifts a part off while its glue is wet: the weight of a big washer (this project's own). [N]"""
PINCH = 20.0
"""A pull that pinches a finger badly (common practice, no source). [N]"""


@dataclass(frozen=True)
class Table:
    """A titled table, its columns of numbers named in ``right``, and what it means in a sentence or two."""

    title: str
    rows: tuple[Row, ...]
    note: str = ""
    right: tuple[int, ...] = (1,)


def tables(found: MotorStudy) -> tuple[Table, ...]:
    """Everything that there is to say about the motor, in the order in which one asks."""
    return tuple(_tables(found))


def _tables(found: MotorStudy) -> Iterator[Table]:
    has_coil = found.switching is not None
    yield _travel(found.travel, has_coil)
    yield _gap(found.gap)
    if found.iron:
        yield _iron(found)
    if found.magnets:
        yield _magnets(found.magnets)
    yield _worths(found.worths, found.dL_legs, has_coil)
    yield from _forces(found.pulls, found.sideways, found.lift_test)
    if found.switching:
        yield _switching(found.switching)
    if found.winding_faults:
        rows, note = winding_faults.rows(found.winding_faults), winding_faults.note(found.winding_faults)
        yield Table("What a fault in the winding would do", rows, note, right=tuple(range(1, len(rows[0]))))
        yield Table("How the meters tell them apart", winding_faults.ways_to_tell(found.winding_faults), right=())
    if found.voice_faults:
        rows = winding_faults.voice_rows(found.voice_faults)
        note, right = winding_faults.VOICE_NOTE, tuple(range(1, len(rows[0])))
        yield Table("What a fault in the voice coil would do", rows, note, right)
    yield _impedance(found.alternating, has_coil)
    yield _models(found.alternating, has_coil)
    if found.hum:
        yield _hum(found.hum)


def _known(name: str, value: Num, otherwise: str) -> str:
    return show(name, float(value)) if isfinite(float(value)) else otherwise


def _side(x: Num) -> str:
    shift = float(x)
    if not isfinite(shift):
        return "nowhere in reach"
    return f"{show('x', abs(shift), 2)} further {'out' if shift > 0 else 'in'}" if abs(shift) >= HAIR else "where it is"


def _travel(travel: Travel, has_coil: bool) -> Table:
    middle = float(travel.Bl_x[len(travel.x) // 2])
    rows = (
        ("Bl at rest", show("Bl", middle)),
        ("most Bl", f"{show('Bl', float(travel.Bl_max))}, with the coil {_side(travel.x_most)}"),
        ("most even Bl over the stroke", f"with the coil {_side(travel.x_even)}"),
        ("stroke inward to 82 % of Bl", _known("x_down", travel.x_down, "beyond what was computed")),
        ("stroke outward to 82 % of Bl", _known("x_up", travel.x_up, "beyond what was computed")),
        ("Bl outward against inward, at the ends of the stroke", show("A_Bl", float(travel.A_Bl), 2)),
    )
    note = "82 % is the limit of IEC 62458 (from memory). Even within 5 % is good, beyond 20 % set the coil elsewhere."
    if has_coil:
        note += " All tables are of the cold motor."
    return Table("Force factor over the stroke", rows, note)


def _gap(gap: Gap) -> Table:
    middle = len(gap.z) // 2
    places = (("at the back end of the winding", 0), ("in its middle", middle), ("at its front end", -1))
    rows = (
        *((f"radial flux density {words}", show("B_r", float(gap.B_r[k]), 2)) for words, k in places),
        ("flux that crosses the gap beside the plate", show("phi_g", float(gap.phi_g))),
        ("most flux through any disc or ring round the axis", show("phi", float(gap.phi))),
        ("share that goes round the gap", show("leak", float(gap.leak), 2)),
    )
    return Table("The gap", rows)


def _iron(found: MotorStudy) -> Table:
    rows = ((ring.name, show("phi", float(ring.phi)), show("B_s", float(ring.B_s)), ring.word) for ring in found.iron)
    note = "The most flux that runs through it, the flux density in its fullest section, and how full that one is."
    return Table("Steel", tuple(rows), note, right=(1, 2))


def _magnets(states: Sequence[MagnetState]) -> Table:
    rows = [("", "B", "H", "left before the knee")]
    rows += [
        (state.name, show("B_m", float(state.B_m)), show("H_m", float(state.H_m)), show("dH", float(state.dH)))
        for state in states
    ]
    said: dict[str, list[str]] = {}
    for state in states:
        said.setdefault(knee_words(state), []).append(state.name)
    each = " ".join(f"In {_listed(names)} {words}" for words, names in said.items())
    return Table("Magnets", tuple(rows), f"Of each its worst place counts. {each}", right=(1, 2, 3))


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _worths(worths: Sequence[Worth], dL_legs: Num | None, has_coil: bool) -> Table:
    rows = ((each.name, decibels(each.dL)) for each in worths if abs(float(each.dL)) >= SMALL)
    current = "currents in both coils" if has_coil else "current in the voice coil"
    note = (
        f"Change of the level, with the same {current}. One change at a time, all else stays as it is: a plate that "
        "rises leaves the pole behind."
    )
    if dL_legs is not None:
        note += (
            " The legs are taken as the ring of equal cross-section; as a thicker ring of thinned steel they would "
            f"give {decibels(dL_legs)} beside this: so much their true shape may cost or bring."
        )
    return Table("What each thing is worth", tuple(rows), note)


def _forces(pulls: Sequence[Pull], sideways: Sideways | None, lift: Lift | None) -> Iterator[Table]:
    rows = [(each.name, _newtons("F_hold", each.F_hold)) for each in pulls]
    note = "Each part with all that it carries, in the finished motor; weights are not in it."
    if any(each.F_hold < -PUSH for each in pulls):
        note += " What is pushed off must be held until its glue is hard, and better by a screw for good."
    if sideways:
        words = f"pole {show('e_pole', float(sideways.e_pole))} off the middle, to the near side"
        rows.append((words, show("F_side", float(sideways.F_side), 2)))
        note += " The sideways pull grows with the offset: nothing centres a pole but a ring that does not pull."
    if lift:
        size = f"{show('d_out', float(lift.d_out))} × {show('t', float(lift.t))}"
        words = f"steel disc {size} on {show('z', float(lift.z))} of card"
        rows.append((f"{words}, full current", show("F_hold", float(lift.F_hold), 2)))
        least = "more than there is" if lift.I_f is None else show("I_f", float(lift.I_f), 2)
        if lift.I_f == 0:
            least = "none: the magnet does it"
        rows.append((f"the same: current that just lifts its {show('m', float(lift.m))}", least))
        note += " The lift test is good to 20 %."
    if rows:
        yield Table("Pulls", tuple(rows), note)
    snaps = [each for each in pulls if len(each.lift)]
    if snaps:
        head = ("distance", *(show("lift", float(d), 2) for d in snaps[0].lift))
        lines = [(each.name, *(_newtons("F_lift", F) for F in each.F_lift.tolist())) for each in snaps]
        most = max(float(np.abs(each.F_lift).max()) for each in snaps)
        note = f"{'Keep fingers out: the parts snap together. ' if most > PINCH else ''}Use wedges or a jig."
        yield Table("Pull while a part is put on", (head, *lines), note, right=tuple(range(1, len(head))))


def _newtons(name: str, F: Num) -> str:
    """A pull; what pushes is said to."""
    return f"{show(name, abs(float(F)), 2)}{' off' * bool(F < 0)}"


def _switching(each: Switching) -> Table:
    rows: tuple[Row, ...] = (
        ("current at 63 and 95 % after", f"{show('t_I', each.t_I[0], 2)} and {show('t_I', each.t_I[1], 2)}"),
        ("flux at 63 and 95 % after", f"{show('t_psi', each.t_psi[0], 2)} and {show('t_psi', each.t_psi[1], 2)}"),
        ("later by eddy currents in the pole, at most", show("tau_e", float(each.tau_e), 2)),
        ("given back when switched off", show("W_off", float(each.W_off), 2)),
        ("diode across the coil: current, reverse voltage",
         f"{show('I_diode', float(each.I_diode), 2)}, {show('V_reverse', float(each.V_reverse), 2)} or more"),
        ("through the diode the current is gone after", show("t_off", float(each.t_off), 2)),
    )  # fmt: skip
    volts = spark(each.W_off, each.I_diode, each.V_max)
    note = (
        f"The diode stays on the coil, its ring to plus; without it the energy becomes a spark of {volts} of volts. "
        "Never pull a live clip."
    )
    if each.V_max > TOUCH_VOLTS:
        note += (
            f" At more than {show('V_max', TOUCH_VOLTS)} the coil is dangerous to touch: that is for licensed hands."
        )
    if each.Bl_left is not None:
        kept = f"Bl that steel with a coercivity of {show('H_c', float(each.H_c))} keeps"
        rows += ((kept, show("Bl_left", float(each.Bl_left), 1)),)
        note += " What the steel keeps is known to a factor of two."
    return Table("Switching the field on and off", rows, note)


def _impedance(each: Alternating, has_coil: bool) -> Table:
    omega = 2 * pi * each.f
    head: Row = ("", "R", "L", *(("R, field coil open", "L, field coil open") if has_coil else ()), "L, harder steel")
    rows = [head]
    for k, f in enumerate(each.f.tolist()):
        shut, left = each.Z_closed[k], each.Z_open[k]
        bare = (show("R_b", left.real, 2), show("L_b", left.imag / omega[k], 2)) if has_coil else ()
        cells = (show("R_b", shut.real, 2), show("L_b", shut.imag / omega[k], 2), *bare)
        rows.append((show("f", f, 2), *cells, show("L_soft", float(each.L_soft[k]), 2)))
    note = "The voice coil held still, without its Re."
    if has_coil:
        note += (
            " R and L are those with the field coil on a supply that holds its voltage: closed by its own wire it is a "
            "shorting ring, just as if a wire were laid across it."
        )
    note += (
        " Small currents meet less permeable steel than its curve tells: the last column has three tenths of it, and "
        "the truth lies between."
    )
    return Table("Voice coil on alternating current", tuple(rows), note, right=tuple(range(1, len(head))))


def _models(each: Alternating, has_coil: bool) -> Table:
    out, inward = float(each.L_x[-1]), float(each.L_x[0])
    steps = [
        (f"and in series: {show('L_step', L, 2)} beside", show("R_step", R, 2))
        for L, R in zip(each.L_step, each.R_step, strict=True)
        if L > TRACE * each.L_0
    ]
    way = "inward" if each.dL_dx < 0 else "outward"
    at = show("x", float(np.max(each.x)), 2)
    rows = (
        (f"slow inductance at rest{', field coil open' * has_coil}", show("L_x", float(each.L_x[len(each.x) // 2]))),
        (f"the same, {at} in and {at} out", f"{show('L_x', inward)} and {show('L_x', out)}"),
        (f"pull {way} of 1 A by the inductance alone", show("F_pull", abs(float(each.dL_dx)) / 2, 2)),
        ("R-L steps: first a coil of", show("L_0", float(each.L_0), 2)),
        *steps,
        ("worst error of these steps, 20 Hz to 20 kHz", _error("e_steps", each.e_steps)),
        (f"or one power law, from 500 Hz: {show('Z_1k', float(each.Z_1k))} at 1 kHz, rising with f to the power",
         show("n_L", float(each.n_L), 2)),
        ("its worst error", _error("e_power", each.e_power)),
    )  # fmt: skip
    return Table("Inductance over the stroke, and models of it for a circuit", rows)


def _error(name: str, error: Num) -> str:
    return show(name, float(error), 2) if error >= 1e-3 else f"under {show(name, 1e-3)}"


def _hum(hum: Hum) -> Table:
    head: Row = ("", "ripple, r.m.s.", "field current", "in the voice coil", "at 1 m")
    rows = [head]
    for tone in hum.tones:
        cells = [show(name, float(getattr(tone, name)), 2) for name in ("V_ripple", "I_ripple", "U_hum", "L_hum")]
        rows.append((show("f", float(tone.f)), *cells))
    whole = f"{show('dV', float(hum.dV), 2)} peak to peak"
    rows.append(("together, as the ear weighs it", whole, "", "", f"{show('L_A', float(hum.L_A), 2)}(A)"))
    note = f"{show('L_A', float(hum.L_want))}(A) or less is lost in a quiet room"
    note += f": {_quieter(hum)}" if hum.L_A > hum.L_want else ", as this is."
    note += (
        f"{'' if hum.known else ' The ripple of the supply is not known: this is a likely one.'}"
        " Reckoned with an amplifier that holds its voltage; anything joined to the mains is for a ready-made supply "
        "or licensed hands."
    )
    return Table("Hum of the supply", tuple(rows), note, right=(1, 2, 3, 4))


def _quieter(hum: Hum) -> str:
    """What brings a hum that would be heard down to what is wanted."""
    takes = f"behind a plain full bridge that takes {show('C_s', float(hum.C_s), 2)}"
    if hum.C_s > C_MOST:
        takes = "no handy capacitor behind a plain bridge does that, a regulated supply does"
    sense = "against" if hum.N_bucking >= 0 else "the same way as"
    return (
        f"the ripple may be {show('dV_least', float(hum.dV_least), 2)} from peak to peak; {takes}. A hum-bucking coil "
        f"of {abs(hum.N_bucking)} turns over the field coil, {sense} the voice coil and in series with it, takes "
        f"{abs(float(hum.dL_bucking)):.0f} dB off the lowest tone."
    )

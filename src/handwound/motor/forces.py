"""What the field pulls at: rings on their joints, fingers between them, a pole off the middle, a known piece."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from handwound.errors import FieldError
from handwound.materials import magnets, steels
from handwound.motor.build import Build
from handwound.parts.study import Lift, MagnetState, Pull, Sideways
from handwound.physics.field import Ring
from handwound.physics.field.forces import LIFTS, approach, lifting_force, lifting_NI, pull
from handwound.physics.field.sideways import sideways as sideways_pull
from handwound.physics.field.working_point import K_KNEE, WorkingPoint, knee_margin, knee_temperature, working_points

E_POLE = 1e-4
"""How far off the middle a pole is taken to stand: what a careful eye still misses. [m]"""
CARD, DISC = 1e-3, (0.040, 0.003)
"""The lift test: a card, and a disc of mild steel (across and thick) on it. [m]"""
RHO_M = 7850.0
"""Density of steel. [kg/m³] ISO 7089 ff. tables of masses use it (from memory)"""


def pulls(build: Build) -> tuple[Pull, ...]:
    """What holds each ring, with all that stands on it, to the one that carries it; weights are left out."""
    return tuple(_pulls(build))


def _pulls(build: Build) -> Iterator[Pull]:
    iron, field = build.design.iron, build.field
    magnetic = any(ring.magnet for ring in field.problem.rings)
    for ring in iron.rings:
        carrier = ring.on or ring.under
        if not carrier:
            continue
        names = _with_all_on(build, ring.name)
        try:
            held = pull(field.solution, names)
        except FieldError:  # it lies against a ring without any air between: no joint that could be pulled apart
            continue
        lift = np.array(LIFTS if magnetic and ring.on else ())
        F_lift = approach(field.problem, 0.0, names, tuple(lift)) if len(lift) else lift
        yield Pull(name=f"{ring.name} on {carrier}" if ring.on else f"{ring.name} under {carrier}",
                   F_pull=held, lift=lift, F_lift=np.abs(F_lift))  # fmt: skip


def _with_all_on(build: Build, name: str) -> set[str]:
    """A ring, all that stands on it or hangs under it, and what lies on those without any air."""
    names = {name}
    for ring in build.design.iron.rings:
        if ring.on in names or ring.under in names:
            names.add(ring.name)
    return names


def sideways(build: Build) -> Sideways | None:
    """What draws the pole aside in its bore; None where there is no pole in a bore."""
    low, high = (float(level) for level in build.design.iron.plate_levels())
    d_i, d_o = build.design.iron.room(2 * build.coil.r_in, low, high)
    if d_i is None or d_o is None:
        return None
    F = sideways_pull(build.field.solution, float(d_i) / 2, float(d_o) / 2, low, high, E_POLE)
    return Sideways(e_pole=E_POLE, F_side=F)


def lift(build: Build) -> Lift | None:
    """The current at which the field coil lifts a disc off a card on the front; None without a field coil."""
    if build.done.field_winding is None or build.done.excitation is None:
        return None
    problem, (d_out, t) = build.field.problem, DISC
    z = max(ring.z_hi for ring in problem.rings) + CARD
    disc = Ring("disc", 0.0, d_out / 2, z, z + t, steels.curve(steels.names()[0]))
    NI = np.concatenate([[0.02, 0.05, 0.1, 0.2, 0.5], [1.0]]) * float(build.done.excitation.NI)
    F, m = lifting_force(problem, disc, NI.tolist()), RHO_M * np.pi / 4 * d_out**2 * t
    lifted = lifting_NI(NI, F, m) / float(build.done.field_winding.N)
    return Lift(d_out=d_out, t=t, z=CARD, m=m, F_pull=abs(float(F[-1])), I_f=lifted if np.isfinite(lifted) else None)


def magnet_states(build: Build) -> tuple[MagnetState, ...]:
    """Where each magnet works, and how far its worst place is from losing strength for good."""
    rings = {ring.name: ring for ring in build.design.iron.rings}
    return tuple(_state(build.T, rings[point.name].grade, point) for point in working_points(build.field.solution))


def _state(T: float, grade: str, point: WorkingPoint) -> MagnetState:
    known = magnets.grade(grade)
    knee = (point.H_worst, T, known.alpha_B, known.HcJ, known.alpha_H, K_KNEE)
    return MagnetState(
        name=point.name, grade=grade, T=T, B_m=point.B_mean, H_m=point.H_mean,
        dH=float(knee_margin(*knee, T)), T_knee=float(knee_temperature(*knee)),
        word="cold" if known.alpha_H > known.alpha_B else "hot",
    )  # fmt: skip

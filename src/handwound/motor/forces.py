"""What the field pulls at: rings on their joints, fingers between them, a pole off the middle, a known piece."""

from __future__ import annotations

from collections.abc import Collection, Iterator

import numpy as np

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.motor.solved import Solved
from handwound.parts.study import Lift, Pull, Sideways
from handwound.physics.field import Ring
from handwound.physics.field.bh import Array
from handwound.physics.field.forces import LIFTS, approach, lifting_force, lifting_NI
from handwound.physics.field.sideways import sideways as sideways_pull
from handwound.stages import held

E_POLE = 1e-4
"""How far off the middle a pole is taken to stand: what a careful eye still misses. [m]"""
CARD, DISC = 1e-3, (0.040, 0.003)
"""The lift test: a card, and a disc of mild steel (across and thick) on it. [m]"""
RHO_M = 7850.0
"""Density of steel. [kg/m³] ISO 7089 ff. tables of masses use it (from memory)"""


def pulls(build: Solved) -> tuple[Pull, ...]:
    """What holds each ring, with all that stands on it, to the one that carries it; weights are left out."""
    return tuple(_pulls(build))


def _pulls(build: Solved) -> Iterator[Pull]:
    iron, solution = build.design.iron, build.field.solution
    drawn = {ring.name for ring in build.field.problem.rings if ring.curve or ring.magnet}
    standing = {ring.name for ring in iron.rings if ring.on}
    for each in held(iron, build.field):
        names, stands = iron.carried(each.name), each.name in standing
        if not names & drawn:
            continue
        lift, F_lift = _while_put_on(build, names, -1 if stands else 1)
        if len(lift) and not solution.NI:
            F_lift[0] = each.F_hold  # the same motor, on a finer grid
        name = f"{each.name} {'on' if stands else 'under'} {each.at}"
        yield Pull(name=name, F_hold=each.F_hold, lift=lift, F_lift=F_lift)


def _while_put_on(build: Solved, names: Collection[str], towards: int) -> tuple[Array, Array]:
    """Distances of a part from its place and the pull at each; none without magnets, or where another is in its way.

    ``towards`` is the way to its carrier: -1 down, 1 up.
    """
    nothing, lift = np.array([]), np.array(LIFTS)
    if not any(ring.magnet for ring in build.field.problem.rings):
        return nothing, nothing
    try:
        return lift, towards * approach(build.field.problem, 0.0, names, (-towards * lift).tolist())
    except FieldError:
        return nothing, nothing


def sideways(build: Solved) -> Sideways | None:
    """What draws the pole aside in its bore; None where there is no pole in a bore."""
    low, high = (float(level) for level in build.design.iron.plate_levels())
    steel = [ring.name for ring in build.field.problem.rings if ring.curve]
    d_i, d_o = build.design.iron.room(2 * build.coil.r_in, low, high, steel)
    if d_i is None or d_o is None:
        return None
    F = sideways_pull(build.field.solution, float(d_i) / 2, float(d_o) / 2, low, high, E_POLE)
    return Sideways(e_pole=E_POLE, F_side=F)


def lift(build: Solved) -> Lift | None:
    """The current at which the field coil lifts a disc off a card on the front; None without a field coil."""
    if build.done.field_winding is None or build.done.excitation is None:
        return None
    problem, (d_out, t) = build.field.problem, DISC
    z = max(ring.z_hi for ring in problem.rings) + CARD
    disc = Ring("disc", 0.0, d_out / 2, z, z + t, steels.curve(steels.names()[0]))
    NI = np.array([0.0, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0]) * float(build.done.excitation.NI)
    F, m = lifting_force(problem, disc, NI.tolist()), RHO_M * np.pi / 4 * d_out**2 * t
    lifted = lifting_NI(NI, F, m) / float(build.done.field_winding.N)
    return Lift(d_out=d_out, t=t, z=CARD, m=m, F_hold=abs(float(F[-1])), I_f=lifted if np.isfinite(lifted) else None)

"""What each part, joint and millimetre of a motor is worth, in decibels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Problem, Rectangle
from handwound.physics.field.sensitivity import sensitivity
from handwound.physics.field.solution import Solution
from handwound.physics.field.solver import solve

NOTHING = 1e-15  # the least share that has a level: -300 dB
ROUND_OFF = 1e-12  # metres
SMALL = 0.25  # of each distance between neighbouring edges: changes up to which the first order is good enough


@dataclass(frozen=True)
class Cost:
    """One change: its name, the force factor with it [T·m], what that is in decibels, and how it was found.

    ``by`` is "first order" or "solved".
    """

    name: str
    Bl: float
    dL: float
    by: str


def costs(solution: Solution, coil: Rectangle, changed: Sequence[tuple[str, Problem]], N: float = 1.0) -> list[Cost]:
    r"""Change of a coil's level for a list of changed motors at the same ampere-turns.

    .. math:: \Delta L = 20 \lg |Bl / Bl_0|

    Parameters
    ----------
    solution : Solution
        The field of the motor as it is. [-]
    coil : tuple
        r_in, r_out, z_lo, z_hi of the voice coil, which stays where it is. [m]
    changed : list
        Names and changed motors: rings missing or of another stuff, joints opened or closed, edges moved. [-]
    N : float
        Turns of the coil. [1]

    Returns
    -------
    cost : list
        One :class:`Cost` for each change, in the same order. [-]

    Notes
    -----
    The level of a driver at a fixed voltage goes with Bl, as long as Re and mass stay, but for the region of its
    resonance, where Bl also damps. A change that only moves edges, so little that no distance between neighbours of
    them changes by more than a quarter, is of first order (:func:`sensitivity`, within a tenth of itself); all others
    are solved, on FULL within 0.02 dB. The ampere-turns are those of before: what a change does to the field coil's own
    current is not in it.

    References
    ----------
    .. [1] Definition of the decibel.
    """
    small = [_is_small(solution.problem, problem) for _, problem in changed]
    first = [problem for (_, problem), is_small in zip(changed, small, strict=True) if is_small]
    answer = sensitivity(solution, coil, first, N)
    if answer.Bl_0 == 0:
        raise FieldError("costs: must be asked for a coil that the field drives; found a force factor of 0.")
    changes = iter(zip(answer.Bl.tolist(), answer.by, strict=True))
    found = []
    for (name, problem), is_small in zip(changed, small, strict=True):
        if is_small:
            change, by = next(changes)
            Bl = answer.Bl_0 + change
        else:
            Bl, by = float(_solved(solution, problem).Bl(*coil, N)), "solved"
        found.append(Cost(name, Bl, float(20 * np.log10(max(abs(Bl / answer.Bl_0), NOTHING))), by))
    return found


def _is_small(problem: Problem, other: Problem) -> bool:
    """Whether the other motor has the same parts of the same stuff, with no distance between edges much changed."""
    if [(a.name, a.curve, a.magnet) for a in problem.rings] != [(b.name, b.curve, b.magnet) for b in other.rings]:
        return False
    if (problem.winding is None, problem.ghosts, problem.zones) != (other.winding is None, other.ghosts, other.zones):
        return False
    for old, new in zip(_edges(problem), _edges(other), strict=True):
        order = np.argsort(old, kind="stable")
        before, after = np.diff(old[order]), np.diff(new[order])
        if np.any(np.abs(after - before) > SMALL * before + ROUND_OFF):
            return False
    return True


def _edges(problem: Problem) -> tuple[Array, Array]:
    """Every radius, that of the axis first, and every level at which a part begins or ends, in a fixed order."""
    solids = np.array(problem.solids)
    slopes = np.array([(*ring.lower, *ring.upper) for ring in problem.rings])
    return np.concatenate([[0.0], slopes.ravel(), solids[:, :2].ravel()]), solids[:, 2:].ravel()


def _solved(solution: Solution, problem: Problem) -> Solution:
    return solve(problem, solution.NI if problem.winding else 0.0, None, solution.r.order, solution.grid.fineness)

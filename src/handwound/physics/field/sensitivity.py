"""How a coil answers small changes of the motor: one adjoint solve for all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from handwound.physics.field.bh import Array, Curve
from handwound.physics.field.grid import Fineness, Lines
from handwound.physics.field.newton import Newton
from handwound.physics.field.problem import Magnet, Problem, Rectangle, Ring
from handwound.physics.field.solution import Solution
from handwound.physics.field.solver import solve
from handwound.physics.field.system import System

SHARE = 0.02  # of a move, over which its slope is taken
ROUND_OFF = 1e-12  # metres
FOR_DIFFERENCES = Fineness(edge=0.04, zone=0.015, growth=3.0, outside=3.0)  # changes to some per cent (measured)


@dataclass(frozen=True)
class Response:
    """Changes of a coil's Bl and linkage at x = 0, one for each changed problem, beside the unchanged values.

    ``by`` tells per change how it was found: "first order"; "solved" when it is of what a ring is made of or parts
    edges; "both" when the stuff was solved and the edges moved to first order.
    """

    Bl_0: float
    psi_0: float
    Bl: Array
    psi: Array
    by: tuple[str, ...]


def sensitivity(solution: Solution, coil: Rectangle, changed: Sequence[Problem], N: float = 1.0) -> Response:
    r"""Change of Bl and linkage of a coil for slightly changed motors at the same ampere-turns.

    .. math:: \Delta Bl = Bl(p + \Delta p; A) - Bl(p; A) - \lambda^T \left[R(p + \Delta p; A) - R(p; A)\right],
        \quad K \lambda = \frac{\partial Bl}{\partial A}

    Parameters
    ----------
    solution : Solution
        The field of the unchanged motor. [-]
    coil : tuple
        r_in, r_out, z_lo, z_hi of the coil, which stays where it is. [m]
    changed : list
        Motors with the same rings in the same order, each a little different. [-]
    N : float
        Turns of the coil. [1]

    Returns
    -------
    Bl : float
        Change of the force factor for each motor; the response also tells how each was found. [T·m]
    psi : float
        Change of the linkage for each motor. [Wb]

    Notes
    -----
    First order in the change: for the usual tolerances within some per cent of the change itself. The grid moves with
    the edges, so its error is not mistaken for an effect. Where edges that lay together part, or pass each other, no
    moved grid exists: then both motors are solved on one grid that holds the edges of both. Another steel or
    magnet is solved; where edges move as well, the two are added.

    References
    ----------
    .. [1] The adjoint method is textbook matter (from memory).
    """
    solution.refuse_memory("sensitivity")
    rows = np.stack(solution.system.forms(coil, N))
    adjoints = np.stack([solution.tangent.solve(row) for row in rows])
    changes, by = np.zeros((2, len(changed))), ["first order"] * len(changed)
    for k, problem in enumerate(changed):
        after = solution.grid.moved(problem)
        if after is None:
            changes[:, k], by[k] = _both_solved(solution, coil, N, problem), "solved"
            continue
        if any(_stuff(a) != _stuff(b) for a, b in zip(solution.problem.rings, problem.rings, strict=True)):
            changes[:, k], by[k] = rows @ _stuff_changed(solution, problem), "solved"
        lines = _pairs(solution, after)
        if any(np.abs(new - old).max() > ROUND_OFF for old, new in lines):
            residual, direct = _edges_moved(solution, lines, coil, N)
            changes[:, k] += direct - adjoints @ residual
            by[k] = "both" if by[k] == "solved" else "first order"
    Bl_0, psi_0 = (rows @ solution.A.ravel()).tolist()
    return Response(Bl_0, psi_0, changes[0], changes[1], tuple(by))


def _stuff(ring: Ring) -> tuple[Curve | None, Magnet | None]:
    return ring.curve, ring.magnet


def _stuff_changed(solution: Solution, problem: Problem) -> Array:
    """Change of the field when only what the rings are made of changes.

    Solved in full on the same grid, for two reasons: it takes a few steps from where the field is, and saturation bends
    the answer so much that the slope is off by a seventh for the spread of an unknown steel (measured on a pot).
    """
    rings = tuple(
        replace(a, curve=b.curve, magnet=b.magnet) for a, b in zip(solution.problem.rings, problem.rings, strict=True)
    )
    system, grid, A = solution.system, solution.grid, solution.A.ravel()
    problem = replace(solution.problem, rings=rings)
    new = System(problem, grid.r, grid.z, system.spans, system.order, system.bend)
    return Newton(new).solve(A, solution.NI).A - A


def _pairs(solution: Solution, after: Lines) -> list[tuple[Array, Array]]:
    """The grid's lines in r and z, and how they are bent unless they are straight in both motors, before and after."""
    r, z, bend = after
    grid, before = solution.grid, solution.bend
    pairs = [(grid.r, r), (grid.z, z)]
    if bend is not None:
        pairs.append((np.broadcast_to(grid.r, bend.shape) if before is None else before, bend))
    return pairs


def _edges_moved(
    solution: Solution, lines: list[tuple[Array, Array]], coil: Rectangle, N: float
) -> tuple[Array, Array]:
    """Change of the residual, and of Bl and linkage at fixed node values, when the grid lines move with the edges.

    A small share of the move to either side, scaled up: what is wanted is the slope, and a whole move can stretch a
    thin element by a third.
    """
    system, A = solution.system, solution.A.ravel()
    ends = []
    for share in (SHARE, -SHARE):
        r, z, *bend = (old + share * (new - old) for old, new in lines)
        moved = System(solution.problem, r, z, system.spans, system.order, *bend)
        ends.append((moved.state(A, solution.NI).residual, np.stack(moved.forms(coil, N)) @ A))
    residual, direct = ((plus - minus) / (2 * SHARE) for plus, minus in zip(*ends, strict=True))
    return residual, direct


def _both_solved(solution: Solution, coil: Rectangle, N: float, problem: Problem) -> tuple[float, float]:
    """Both motors in full, on one grid that has the edges of both, so that the grid's error drops out.

    Sloped sides that nearly coincide leave no room for such a grid: those motors are solved each on a fine grid.
    """
    both = []
    for one, other in ((solution.problem, problem), (problem, solution.problem)):
        if one.sloped or other.sloped:
            both.append(solve(one, solution.NI))
            continue
        with_edges = replace(one, ghosts=(*one.solids, *other.solids))
        both.append(solve(with_edges, solution.NI, fineness=FOR_DIFFERENCES))
    before, after = both
    Bl = after.Bl(*coil, N) - before.Bl(*coil, N)
    psi = after.linkage(*coil, N) - before.linkage(*coil, N)
    return float(Bl), float(psi)

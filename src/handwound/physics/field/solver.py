"""From a problem and its ampere-turns to the field, or to a curve of fields over the current."""

from __future__ import annotations

from collections.abc import Sequence

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.grid import FULL, Fineness, Grid
from handwound.physics.field.newton import Newton
from handwound.physics.field.problem import Problem
from handwound.physics.field.solution import Solution
from handwound.physics.field.system import System

FIRST_MU_R = 1000.0  # all steel, in the linear field from which the coarse Newton begins
COARSE_ENOUGH = 1e-3


def solve(
    problem: Problem, NI: float, start: Solution | None = None, order: int = 3, fineness: Fineness = FULL
) -> Solution:
    r"""The magnetic field of steel, magnets and a field coil, at direct current and with nothing around them.

    .. math:: \nabla\times\left(\nu(|B|)\,(\nabla\times A - B_{rem})\right) = J, \quad
        B_r = -\frac{\partial A}{\partial z}, \quad B_z = \frac{1}{r}\frac{\partial (rA)}{\partial r}

    Parameters
    ----------
    problem : Problem
        Rings, winding and the zones where the field is wanted. [-]
    NI : float
        Ampere-turns of the winding; 0 where there is none. [A]
    start : Solution
        A field of the same or a similar problem to begin from. [-]
    order : int
        Degree of the elements. [1]
    fineness : Fineness
        How close the grid lines are; SEARCH or FULL. [-]

    Returns
    -------
    solution : Solution
        The field. [-]

    Notes
    -----
    No remanence, no hysteresis, no eddy currents: the steel follows one curve. Errors of the grid: FULL under 0.1 %
    and SEARCH under 1 % of Bl, but where steel comes to a sharp sloped edge beside the coil (2 to 4 % and 8 to 11 % in
    the worst of 2000 random motors); the steel's curve is usually the larger doubt. A coil that carries a current of
    its own and has no fine lines at its ends (no zone) is driven by a force up to 0.4 % off.

    References
    ----------
    .. [1] The vector potential in axial symmetry and Newton's method on it are textbook matter (from memory).

    Examples
    --------
    >>> from handwound.physics.field import Winding
    >>> coil = Winding(r_in=0.010, r_out=0.016, z_lo=0, z_hi=0.020, N=500)
    >>> round(solve(Problem((), coil), NI=500).L_static() * 1e3, 3)
    4.206
    """
    _need_coil(problem, NI)
    if start is not None and start.fits(problem, order, fineness):
        A = Newton(start.system).solve(start.A.ravel(), NI).A
        return Solution.of(problem, NI, start.grid, start.system, A)
    grid, system = _laid(problem, order, fineness)
    A = _first(system, NI) if start is None else start.at_nodes(system)
    return Solution.of(problem, NI, grid, system, Newton(system).solve(A, NI).A)


def sweep(problem: Problem, NI: Sequence[float], order: int = 3, fineness: Fineness = FULL) -> list[Solution]:
    r"""The fields at several currents on one grid, each begun from the next stronger one.

    .. math:: A_k^{(0)} = A_{k+1}, \quad NI_k < NI_{k+1}

    Parameters
    ----------
    problem : Problem
        Rings, winding and the zones where the field is wanted. [-]
    NI : float
        Ampere-turns in any order; neighbours should be close. [A]
    order : int
        Degree of the elements. [1]
    fineness : Fineness
        How close the grid lines are; SEARCH or FULL. [-]

    Returns
    -------
    solution : list
        One field for each current, in the order given. [-]

    Notes
    -----
    The steel has no memory here: the order of solving changes only the time, not the fields. From full steel down it
    takes two thirds of the factorisations that the way up takes (measured).

    References
    ----------
    .. [1] this project
    """
    if not len(NI):
        return []
    _need_coil(problem, max(NI, key=abs))
    grid, system = _laid(problem, order, fineness)
    newton, found = Newton(system), {}
    A = _first(system, max(NI))
    for current in sorted(set(NI), reverse=True):
        A = newton.solve(A, current).A
        found[current] = Solution.of(problem, current, grid, system, A)
    return [found[current] for current in NI]


def _need_coil(problem: Problem, NI: float) -> None:
    if NI != 0 and problem.winding is None:
        raise FieldError(f"ampere-turns: must be 0 in a motor without a field coil; found {NI:g}. Give it a winding.")


def _laid(problem: Problem, order: int, fineness: Fineness) -> tuple[Grid, System]:
    """The grid of a problem and its equations on it."""
    grid = Grid(problem, fineness)
    return grid, System(problem, grid.r, grid.z, grid.spans(problem), order, grid.bend)


def _first(system: System, NI: float) -> Array:
    """A cheap field to begin from: degree 1 on the same lines, brought to the finer nodes."""
    if system.order == 1 or not len(system.steel):
        return system.linear(FIRST_MU_R).solve(system.drive(NI))
    coarse = System(system.problem, system.r.lines, system.z.lines, system.spans, 1, system.bend)
    state = Newton(coarse).solve(coarse.linear(FIRST_MU_R).solve(coarse.drive(NI)), NI, COARSE_ENOUGH)
    return system.carried(coarse.r, coarse.z, state.A)

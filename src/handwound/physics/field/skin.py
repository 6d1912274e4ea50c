"""Eddy currents on a grid that fits them: stiffness and conductance of one grid, and how its lines are chosen.

Where current flows in a skin, A falls off within some micrometres; elsewhere it hardly changes. No formula for the skin
knows which surface matters, so the grid finds out: solve, see which rows and columns of elements hold energy in the
highest degree of their polynomials, halve those, repeat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
from numpy.polynomial import legendre

from handwound.errors import FieldError
from handwound.physics.field.axis import Axis
from handwound.physics.field.bh import MU_0, Array
from handwound.physics.field.grid import Fineness, Grid
from handwound.physics.field.newton import Newton
from handwound.physics.field.problem import Winding
from handwound.physics.field.reduced import Reduced, Step
from handwound.physics.field.solution import Solution
from handwound.physics.field.system import State, System

FIRST = Fineness(edge=0.15, zone=0.15, growth=6.0, outside=6.0)
MARKED = 0.7  # of the energy in the highest degree: the rows and columns that are halved at a time
SETTLED = 1e-6  # of the load, to which the steady field is found again: R and L ask for no more
MOST_ELEMENTS = 12_000


class Eddies:
    """K and M of one grid: (K + s M) a = load is the small change a of A that grows or rotates as exp(s t).

    K is the derivative of the steady field's equations at its bias, M the conductance of rings with a ``sigma``.
    """

    def __init__(self, system: System, bias: State, k_mu: float = 1.0) -> None:
        self.system = system
        inner = (system.order + 1) ** 2
        self.K = np.empty((len(system.owner), inner, inner))
        self.K[system.linear_part] = system.K_linear
        along, across = (_reversible(nu, k_mu) for nu in (bias.dH, bias.nu))
        self.K[system.steel] = system.steel_matrices(across, (along - across) / bias.B_abs**2, bias.B)
        sigma = np.array([ring.sigma for ring in system.problem.rings] + [0.0])[system.owner]
        self.conducting, self.idle = np.flatnonzero(sigma > 0), np.flatnonzero(sigma == 0)
        weight = system.curl_at(self.conducting)[1] * sigma[self.conducting, None]
        self.M = np.matmul(system.value.T, weight[:, :, None] * system.value)
        self._idle_reduced = Reduced(self.K[self.idle], system.order)

    @classmethod
    def fitted(
        cls, solution: Solution, coils: Sequence[Winding], shifts: Array, share: float, k_mu: float = 1.0
    ) -> Eddies:
        """On the coarsest grid whose highest degree holds no more than a share of the energy at any shift s."""
        problem = replace(solution.problem, zones=_ways(coils))
        grid = Grid(problem, FIRST)
        while True:
            system = System(problem, grid.r, grid.z, grid.spans(problem), solution.r.order, grid.bend)
            A = solution.at_nodes(system)
            eddies = cls(system, system.state(A, solution.NI), k_mu)
            columns, rows = _unresolved(eddies, coils, shifts)
            left = float(columns.sum() + rows.sum())
            if left <= share:
                # the steady field again, on this very grid: halves the error of R where its own grid was coarser
                return cls(system, Newton(system).solve(A, solution.NI, SETTLED), k_mu)
            if len(eddies.K) > MOST_ELEMENTS:
                raise FieldError(
                    f"alternating field: must be resolved to a share of {share:.1e} of its energy; found {left:.1e} "
                    f"left with {len(eddies.K)} elements. Ask for a lower highest frequency or a larger error."
                )
            _halve(grid, columns, rows)

    def step(self, s: float) -> Step:
        """K + s M factored, s real: what is not a conductor is reduced but once."""
        moving = Reduced(self.K[self.conducting] + s * self.M, self.system.order)
        return Step(self.system.pattern, [(self.idle, self._idle_reduced), (self.conducting, moving)])

    def times_K(self, a: Array) -> Array:
        """K times columns of node values."""
        return self._times(self.K, np.arange(len(self.K)), a)

    def times_M(self, a: Array, ring: int | None = None) -> Array:
        """M, or one ring's share of it, times columns of node values."""
        of_ring = slice(None) if ring is None else np.flatnonzero(self.system.owner[self.conducting] == ring)
        return self._times(self.M[of_ring], self.conducting[of_ring], a)

    def _times(self, matrices: Array, elements: Array, a: Array) -> Array:
        nodes = self.system.nodes[elements]
        out = np.zeros_like(a)
        for k in range(a.shape[1]):
            product = np.matmul(matrices, a[nodes, k][:, :, None])
            out[:, k] = np.bincount(nodes.ravel(), product.ravel(), len(a))
        return out

    def load(self, coil: Winding) -> Array:
        """Right-hand side, per radian, of one ampere in a coil anywhere; 2 pi load times A is the coil's linkage."""
        return self.system.forms(coil.rectangle, coil.N)[1] / (2 * np.pi)

    def unresolved(self, step: Step, load: Array, s: float) -> tuple[Array, Array]:
        """What the highest degree holds of the answer to a load: along r for each column of elements, along z for each
        row. Its share of the energy, which is L, and its share of the heat, which is R and may be much less."""
        system, side = self.system, self.system.order + 1
        a = step.solve(load)
        nodal = a[system.nodes].reshape(-1, side, side)
        energy, heat = load @ a, s * (a @ self.times_M(a[:, None])[:, 0])
        shape, found = (system.z.elements, system.r.elements), []
        for part, axis in ((nodal @ _highest(system.order).T, 0), (_highest(system.order) @ nodal, 1)):
            flat = part.reshape(len(part), 1, -1)
            share = _squares(flat, self.K) / energy
            if heat > 0:
                of_heat = s * _squares(flat[self.conducting], self.M)
                share[self.conducting] += of_heat / energy + of_heat / heat
            found.append(share.reshape(shape).sum(axis=axis))
        return found[0], found[1]


def _squares(rows: Array, matrices: Array) -> Array:
    """Each row times its matrix times the row."""
    return np.matmul(np.matmul(rows, matrices), rows.transpose(0, 2, 1))[:, 0, 0]


@cache
def _highest(order: int) -> Array:
    """The matrix that keeps of an element's node values, along one side, only the highest Legendre polynomial."""
    of_degree = legendre.legvander(Axis(np.array([-1.0, 1.0]), order).places, order)
    return np.outer(of_degree[:, order], np.linalg.inv(of_degree)[order])


def _reversible(nu: Array, k_mu: float) -> Array:
    """Reluctivity when only the share k_mu of the steel's own susceptibility answers."""
    return nu if k_mu == 1 else 1 / (MU_0 + k_mu * (1 / nu - MU_0))


def _ways(coils: Sequence[Winding]) -> tuple[tuple[float, float, float, float], ...]:
    """One rectangle for all coils of the same radii: the way of a coil given at several positions."""
    radii = dict.fromkeys((coil.r_in, coil.r_out) for coil in coils)
    ways = []
    for pair in radii:
        same = [coil for coil in coils if (coil.r_in, coil.r_out) == pair]
        ways.append((*pair, min(coil.z_lo for coil in same), max(coil.z_hi for coil in same)))
    return tuple(ways)


def _unresolved(eddies: Eddies, coils: Sequence[Winding], shifts: Array) -> tuple[Array, Array]:
    """The worst of the columns and of the rows over coils and shifts."""
    loads, found = [eddies.load(coil) for coil in coils], []
    for s in shifts:
        step = eddies.step(float(s))
        found += [eddies.unresolved(step, load, float(s)) for load in loads]
    columns, rows = (np.max(parts, axis=0) for parts in zip(*found, strict=True))
    return columns, rows


def _halve(grid: Grid, columns: Array, rows: Array) -> None:
    """Put lines through the columns and rows that together hold most of what is unresolved."""
    both = np.concatenate([columns, rows])
    falling = np.argsort(-both)
    enough = np.searchsorted(np.cumsum(both[falling]), MARKED * both.sum()) + 1
    marked = np.zeros(len(both), bool)
    marked[falling[:enough]] = True
    middle = [(lines[1:] + lines[:-1]) / 2 for lines in (grid.r, grid.z)]
    grid.r = np.sort(np.concatenate([grid.r, middle[0][marked[: len(columns)]]]))
    grid.z = np.sort(np.concatenate([grid.z, middle[1][marked[len(columns) :]]]))

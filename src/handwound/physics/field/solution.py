"""A solved field and all that is read from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from handwound.errors import FieldError
from handwound.physics.field.axis import Axis
from handwound.physics.field.bh import Array, saturation
from handwound.physics.field.coils import flux_linkage, force_factor
from handwound.physics.field.grid import Fineness, Grid
from handwound.physics.field.newton import Newton
from handwound.physics.field.problem import Problem
from handwound.physics.field.reduced import Step
from handwound.physics.field.slices import Bent
from handwound.physics.field.system import State, System


@dataclass(frozen=True)
class RingFlux:
    """Flux density in one ring, tesla: mean and near-highest |B|, and the fullest sections across and around it.

    ``phi`` is the greatest flux through any of those sections, webers.
    """

    name: str
    B_mean: float
    B_peak: float
    B_axial: float
    B_radial: float
    B_s: float
    word: str
    phi: float


class Solution:
    """The field at one current. Lengths in metres; points are given as separate r and z and answered on [z, r]."""

    def __init__(self, problem: Problem, NI: float, grid: Grid, r: Axis, z: Axis, A: Array) -> None:
        self.problem, self.NI, self.grid, self.r, self.z = problem, NI, grid, r, z
        self.A, self.bend = A.reshape(z.count, r.count), grid.bend

    @classmethod
    def of(cls, problem: Problem, NI: float, grid: Grid, system: System, A: Array) -> Solution:
        """A solution that shares an already built system."""
        made = cls(problem, NI, grid, system.r, system.z, A)
        made.__dict__["system"], made.bend = system, system.bend
        return made

    def fits(self, problem: Problem, order: int, fineness: Fineness) -> bool:
        """Whether this field stands on the very grid that the problem would get."""
        same = self.problem == problem and self.r.order == order and self.grid.fineness == fineness
        return same and not self.system.remembers

    def refuse_memory(self, where: str) -> None:
        """Refuse what builds its equations from the problem, which knows nothing of what steel keeps."""
        if self.system.remembers:
            raise FieldError(
                f"{where}: must be asked of a solved field; found one of remanence. Solve the motor first."
            )

    def at_nodes(self, system: System) -> Array:
        """A at the nodes of another system, to begin from."""
        if self.bend is None and system.bend is None:
            return system.carried(self.r, self.z, self.A)
        r = np.minimum(system.node_radii, self.r.lines[-1])
        z = np.clip(system.z.places, *self.z.lines[[0, -1]])
        return np.concatenate([self.A_at(*place)[0] for place in zip(r, z, strict=True)])

    @cached_property
    def system(self) -> System:
        """The equations; built again when the solution was restored from arrays."""
        grid, spans = self.grid, self.grid.spans(self.problem)
        return System(self.problem, grid.r, grid.z, spans, self.r.order, self.bend)

    @cached_property
    def bent(self) -> Bent | None:
        """How the lines in r are bent, where they are."""
        return None if self.bend is None else Bent(self.r, self.z, self.bend)

    @cached_property
    def state(self) -> State:
        """Fields at the steel's Gauss points."""
        return self.system.state(self.A.ravel(), self.NI)

    @cached_property
    def tangent(self) -> Step:
        """The factored derivative at this field, for small changes of anything."""
        return self.system.tangent(self.state)

    # --- coils

    def Bl(
        self, r_in: ArrayLike, r_out: ArrayLike, z_lo: ArrayLike, z_hi: ArrayLike, N: ArrayLike, x: ArrayLike = 0.0
    ) -> Array:
        """Force factor of coils displaced by x, see :func:`coils.force_factor`. [T·m]"""
        return force_factor(self, r_in, r_out, z_lo, z_hi, N, x)

    def linkage(
        self, r_in: ArrayLike, r_out: ArrayLike, z_lo: ArrayLike, z_hi: ArrayLike, N: ArrayLike, x: ArrayLike = 0.0
    ) -> Array:
        """Flux linkage of coils displaced by x, see :func:`coils.flux_linkage`. [Wb]"""
        return flux_linkage(self, r_in, r_out, z_lo, z_hi, N, x)

    # --- points

    def A_at(self, r: ArrayLike, z: ArrayLike) -> Array:
        """Vector potential. [Wb/m]"""
        if self.bent:
            return self.bent.on_points(self.A, *(np.atleast_1d(np.asarray(v, float)) for v in (r, z)))[0]
        of_r, of_z = self.r.values(np.atleast_1d(r)), self.z.values(np.atleast_1d(z))
        return np.asarray(of_r @ (of_z @ self.A).T).T

    def B(self, r: ArrayLike, z: ArrayLike) -> tuple[Array, Array]:
        """Radial and axial flux density. [T]"""
        r, z = np.atleast_1d(np.asarray(r, float)), np.atleast_1d(np.asarray(z, float))
        if self.bent:
            A, dA_dr, dA_dz = self.bent.on_points(self.A, r, z)
            return -dA_dz, dA_dr + np.where(r > 0, A / np.where(r > 0, r, 1), dA_dr)
        A, dA_dz = self.z.values(z) @ self.A, self.z.slopes(z) @ self.A
        value, slope = self.r.values(r), self.r.slopes(r)
        dA_dr = np.asarray(slope @ A.T).T
        over_r = np.where(r > 0, np.asarray(value @ A.T).T / np.where(r > 0, r, 1), dA_dr)
        return -np.asarray(value @ dA_dz.T).T, dA_dr + over_r

    def flux(self, r: ArrayLike, z: ArrayLike) -> Array:
        """Flux through the circle of radius r at level z, 2 pi r A; its contours are the flux lines. [Wb]"""
        return 2 * np.pi * np.atleast_1d(r) * self.A_at(r, z)

    def most_flux(self) -> float:
        """The greatest flux through any ring between two circles about the axis: all that there is in the motor. [Wb]

        A ring magnet sends its flux up through a ring and brings it back through the hole: there the circles alone,
        or discs across them, hold only a part of it.
        """
        flux = 2 * np.pi * self.system.node_radii * self.A
        return float(flux.max() - flux.min())

    def gap_B(self, r: float, z_lo: float, z_hi: float) -> float:
        """Mean radial flux density at radius r between two levels. [T]"""
        low, high = self.A_at(r, [z_lo, z_hi])[:, 0]
        return float((low - high) / (z_hi - z_lo))

    def flux_lines(self, n: int, window: tuple[float, float, float, float] | None = None) -> list[Array]:
        """Flux lines in a window (r_in, r_out, z_lo, z_hi): between neighbours runs 1/n of the greatest flux. [m]"""
        from contourpy import contour_generator

        reach = 0.6 * self.problem.size
        z_lo, z_hi = self.grid.z_breaks.places[[0, -1]]
        around = (0.0, self.grid.r_breaks.places[-1] + reach, z_lo - reach, z_hi + reach)
        r_in, r_out, z_lo, z_hi = window or around
        r = np.union1d(np.linspace(r_in, r_out, 160), self.r.places[(self.r.places > r_in) & (self.r.places < r_out)])
        z = np.union1d(np.linspace(z_lo, z_hi, 240), self.z.places[(self.z.places > z_lo) & (self.z.places < z_hi)])
        flux = self.flux(r, z)
        most = np.abs(flux).max()
        lines = contour_generator(r, z, flux)
        levels = (np.arange(-n, n) + 0.5) / n * most
        return [np.asarray(line) for level in levels for line in lines.lines(level)]

    # --- steel

    def ring_B(self) -> list[RingFlux]:
        """How full of flux each ring of steel is; the word goes by its fullest section B_s."""
        owner = self.system.owner[self.system.steel]
        out = []
        for k, ring in enumerate(self.problem.rings):
            if ring.curve is None:
                continue
            B, weight = self.state.B_abs[owner == k].ravel(), self.system.weight[owner == k].ravel()
            rising = np.argsort(B)
            share = np.cumsum(weight[rising]) / weight.sum()
            peak = float(B[rising][np.searchsorted(share, 0.99)])
            axial, radial, phi = self._sections(k)
            most = max(axial, radial)
            mean = float(np.sum(B * weight) / weight.sum())
            out.append(RingFlux(ring.name, mean, peak, axial, radial, most, saturation(ring.curve, most), phi))
        return out

    def _sections(self, k: int) -> tuple[float, float, float]:
        """Largest mean axial B over the ring's flat sections, largest mean B through its round ones, largest flux.

        A round section runs along a line of the grid: in a sloped ring it is a cone like the ring's sides.
        """
        ring, order = self.problem.rings[k], self.r.order
        in_r, in_z = self.system.spans[k]
        nodes = slice(in_z.start * order, in_z.stop * order + 1), slice(in_r.start * order, in_r.stop * order + 1)
        radius = self.system.node_radii[nodes]
        block = 2 * np.pi * radius * self.A[nodes]
        across, along = np.abs(block[:, -1] - block[:, 0]), np.abs(block[-1] - block[0])
        if self.bend is None:
            areas = np.pi * (ring.r_out**2 - ring.r_in**2), 2 * np.pi * radius[0] * (ring.z_hi - ring.z_lo)
        else:
            rise, run = np.diff(self.z.places[nodes[0]])[:, None], np.diff(radius, axis=0)
            cones = np.pi * (radius[1:] + radius[:-1]) * np.hypot(rise, run)
            areas = np.pi * (radius[:, -1] ** 2 - radius[:, 0] ** 2), cones.sum(axis=0)
        off_axis = areas[1] > 0
        phi = max(float(across.max()), float(along.max()))
        return float((across / areas[0]).max()), float((along[off_axis] / areas[1][off_axis]).max()), phi

    # --- energy and inductance

    def energy(self) -> float:
        """Energy in the field; that of a magnet counts from its remanence. [J]"""
        return self.system.energy(self.state)

    def coenergy(self) -> float:
        """Co-energy, NI times linkage per turn less the energy. [J]"""
        return self.NI * self._per_turn(self.A.ravel()) - self.energy()

    def _per_turn(self, A: Array) -> float:
        return float(2 * np.pi * self.system.load @ A)

    @property
    def _N(self) -> float:
        if self.problem.winding is None:
            raise FieldError("inductance: must be asked of a motor with a field coil; found none.")
        return self.problem.winding.N

    def L_static(self) -> float:
        """Inductance of the winding as the linkage of its own current over it; at no current the differential. [H]"""
        if self.NI == 0:
            return self.L_differential()
        own = self._per_turn(self.A.ravel()) - self._per_turn(self._without_current)
        return self._N**2 * own / self.NI

    @cached_property
    def _without_current(self) -> Array:
        """A of the magnets alone, in the same steel."""
        if not self.system.load_magnets.any():
            return np.zeros(self.A.size)
        return Newton(self.system).solve(self.A.ravel(), 0.0).A

    def L_differential(self) -> float:
        """Inductance of the winding for a small change of current (without eddy currents). [H]"""
        return self._N**2 * self._per_turn(self.tangent.solve(self.system.load))

    # --- storing

    def to_arrays(self) -> dict[str, Array]:
        """All that is needed, besides the problem, to have this solution again."""
        self.refuse_memory("stored field")
        f = self.grid.fineness
        settings = [f.edge, f.zone, f.largest, f.growth, f.outside, f.box]
        return {
            "A": self.A, "NI": np.array(self.NI), "order": np.array(self.r.order), "fineness": np.array(settings),
            "r": self.grid.r, "z": self.grid.z, **({} if self.bend is None else {"bend": self.bend}),
        }  # fmt: skip

    @classmethod
    def from_arrays(cls, problem: Problem, arrays: Mapping[str, Any]) -> Solution:
        """Restore a solution without solving. The grid must be this motor's; its steel is taken on trust."""
        fineness = Fineness(*(float(v) for v in arrays["fineness"]))
        grid, order, A = Grid(problem, fineness), int(arrays["order"]), np.asarray(arrays["A"])
        r, z = Axis(grid.r, order), Axis(grid.z, order)
        lines = {"r": grid.r, "z": grid.z, **({} if grid.bend is None else {"bend": grid.bend})}
        if not all(name in arrays and np.array_equal(arrays[name], own) for name, own in lines.items()):
            raise FieldError("stored field: must belong to this motor; found another grid. Let it be computed again.")
        return cls(problem, float(arrays["NI"]), grid, r, z, A)

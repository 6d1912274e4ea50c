"""The equations on one grid: curl(nu (curl A - B_rem)) = J for A_phi, weakly, per radian, open at the box.

What is not steel is linear: air, winding, metal and magnets. A magnet is its recoil permeability and a load.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from handwound.physics.field.axis import Axis
from handwound.physics.field.bh import MU_0, Array, Curve
from handwound.physics.field.problem import DIRECTIONS, Problem, Rectangle, Winding
from handwound.physics.field.reduced import Pattern, Reduced, Step
from handwound.physics.field.slices import Bent

NU_0 = 1 / MU_0
Spans = list[tuple[slice, slice]]


@dataclass(frozen=True)
class State:
    """One A with the residual it leaves at each node and what the steel's Gauss points know of it."""

    A: Array
    residual: Array
    B: Array
    B_abs: Array
    nu: Array
    dH: Array


class System:
    """Degree-p products on the grid lines; ``spans`` are the elements (in r, in z) of each ring and of the winding.

    ``load`` is the right-hand side of one ampere-turn, ``load_magnets`` that of all magnets, and in a system that
    ``remembers`` also of what steel kept of an earlier field. ``bend`` is the radius of each line in r at each line in
    z, [z, r], where those lines are not straight; r then only counts them.
    """

    def __init__(
        self, problem: Problem, r_lines: Array, z_lines: Array, spans: Spans, order: int, bend: Array | None = None
    ) -> None:
        self.problem, self.order, self.spans, self.bend = problem, order, spans, bend
        self.r, self.z = Axis(r_lines, order), Axis(z_lines, order)
        self.bent = None if bend is None else Bent(self.r, self.z, bend)
        owner = np.full((self.z.elements, self.r.elements), -1)
        for k, (in_r, in_z) in enumerate(spans[: len(problem.rings)]):
            owner[in_z, in_r] = k
        self.owner = owner.ravel()
        is_steel = np.array([ring.curve is not None for ring in problem.rings] + [False])[self.owner]
        self.linear_part, self.steel = np.flatnonzero(~is_steel), np.flatnonzero(is_steel)
        self.nodes = self.z.nodes_of[:, None, :, None] * self.r.count + self.r.nodes_of[None, :, None, :]
        self.nodes = self.nodes.reshape(len(self.owner), -1)
        self.count = self.r.count * self.z.count
        self.curl, self.weight = self.curl_at(self.steel)
        self.K_linear = self._linear()
        self.load = self._load()
        self.load_magnets, self._magnets_alone = self._magnets()
        self.remembers = False

    @cached_property
    def curves(self) -> list[tuple[Curve, Array]]:
        """Each different steel with the steel elements made of it."""
        rings: dict[Curve, list[int]] = {}
        for k, ring in enumerate(self.problem.rings):
            if ring.curve:
                rings.setdefault(ring.curve, []).append(k)
        owner = self.owner[self.steel]
        return [(curve, np.flatnonzero(np.isin(owner, owners))) for curve, owners in rings.items()]

    def curl_at(self, elements: Array) -> tuple[Array, Array]:
        """B_r = -dA/dz, B_z = dA/dr + A/r at the Gauss points, [e, (B_r then B_z) q, i], and the weights r dr dz."""
        r, z, q = self.r, self.z, (self.order + 1) ** 2
        i_r, i_z = elements % r.elements, elements // r.elements
        value = self.value
        along_r = np.einsum("ai,bj->abij", z.shape, r.slope).reshape(q, q)
        along_z = np.einsum("ai,bj->abij", z.slope, r.shape).reshape(q, q)
        if self.bent:
            return self._curl_bent(self.bent, along_r, along_z, i_r, i_z)
        h_r, h_z = r.width[i_r, None], z.width[i_z, None]
        radius = np.tile(r.points[i_r], (1, self.order + 1))
        curl = np.empty((len(elements), 2 * q, q))
        curl[:, :q] = along_z * (-2 / h_z)[:, :, None]
        curl[:, q:] = along_r * (2 / h_r)[:, :, None]
        curl[:, q:] += value / radius[:, :, None]
        return curl, np.outer(z.weight, r.weight).ravel() * (h_r * h_z / 4) * radius

    def B(self, elements: Array, A: Array) -> tuple[Array, Array]:
        """B_r and B_z of any A at the Gauss points of some elements, [e, q]. [T]"""
        both = np.matmul(self.curl_at(elements)[0], A[self.nodes[elements]][:, :, None])[:, :, 0]
        half = both.shape[1] // 2
        return both[:, :half], both[:, half:]

    def places(self, elements: Array) -> tuple[Array, Array]:
        """Radii and levels of the Gauss points of some elements, [e, q]. [m]"""
        i_r, i_z, side = elements % self.r.elements, elements // self.r.elements, self.order + 1
        r = self.bent.gauss(i_r, i_z)[0] if self.bent else np.tile(self.r.points[i_r], (1, side))
        return r, np.repeat(self.z.points[i_z], side, axis=1)

    def carried(self, r: Axis, z: Axis, A: Array) -> Array:
        """A of other, straight axes at the nodes; where these lie beyond them, the value at their end."""
        of_r = r.values(np.clip(self.r.places, *r.lines[[0, -1]]))
        of_z = z.values(np.clip(self.z.places, *z.lines[[0, -1]]))
        return np.asarray(of_r @ (of_z @ A.reshape(z.count, -1)).T).T.ravel()

    def _curl_bent(self, bent: Bent, along_r: Array, along_z: Array, i_r: Array, i_z: Array) -> tuple[Array, Array]:
        """The same where r = rho(u, z): dA/dr = A_u / rho_u, and dA/dz at one radius is A_z - rho_z A_u / rho_u."""
        radius, rho_u, rho_z = bent.gauss(i_r, i_z)
        q = radius.shape[1]
        dA_dr = along_r / rho_u[:, :, None]
        curl = np.empty((len(i_r), 2 * q, q))
        curl[:, :q] = dA_dr * rho_z[:, :, None] - along_z * (2 / self.z.width[i_z, None, None])
        curl[:, q:] = dA_dr + self.value / radius[:, :, None]
        weight = np.outer(self.z.weight, self.r.weight).ravel() * self.z.width[i_z, None] / 2 * rho_u * radius
        return curl, weight

    @cached_property
    def value(self) -> Array:
        """Each of an element's polynomials at each of its Gauss points, [q, i]."""
        q = (self.order + 1) ** 2
        return np.einsum("ai,bj->abij", self.z.shape, self.r.shape).reshape(q, q)

    @cached_property
    def node_radii(self) -> Array:
        """The radius of every node, [z, r]."""
        straight = np.broadcast_to(self.r.places, (self.z.count, self.r.count))
        return self.bent.node_radii() if self.bent else straight

    def _ends(self) -> tuple[Axis, Axis]:
        """The axis in r at the bottom and at the top of the box."""
        if self.bend is None:
            return self.r, self.r
        return Axis(self.bend[0], self.order), Axis(self.bend[-1], self.order)

    def _linear(self) -> Array:
        """Element matrices of all that is not steel, with the open boundary in those at the box."""
        curl, weight = self.curl_at(self.linear_part)
        nu = np.array([NU_0 / ring.magnet.mu_rec if ring.magnet else NU_0 for ring in self.problem.rings] + [NU_0])
        weight = weight * nu[self.owner[self.linear_part], None]
        K = np.matmul(curl.transpose(0, 2, 1), curl * np.hstack([weight, weight])[:, :, None])
        at = np.full((self.z.elements, self.r.elements), -1)
        at.flat[self.linear_part] = np.arange(len(self.linear_part))
        local = np.arange((self.order + 1) ** 2).reshape(self.order + 1, -1)
        half = self.r.lines[-1]
        z = self.z.points - (self.z.lines[0] + self.z.lines[-1]) / 2
        # On the box the field is taken for a dipole's, A ~ r / rho^3, which fixes the tangential H there.
        wall = half * (2 / half - 3 * half / (half**2 + z**2))
        ends = [(axis, axis.points * (-3 * half / (axis.points**2 + half**2))) for axis in self._ends()]
        for elements, nodes, axis, factor in (
            (at[:, -1], local[:, -1], self.z, wall),
            (at[0], local[0], *ends[0]),
            (at[-1], local[-1], *ends[1]),
        ):
            weighted = axis.weight * axis.width[:, None] / 2 * factor * NU_0
            edge = np.einsum("eq,qi,qj->eij", weighted, axis.shape, axis.shape)
            K[elements[:, None, None], nodes[:, None], nodes] -= edge
        return K

    def _load(self) -> Array:
        """Right-hand side of one ampere-turn spread over the winding's section."""
        if self.problem.winding is None:
            return np.zeros(self.count)
        if self.bend is not None:
            return self._load_bent(self.problem.winding)
        in_r, in_z = self.spans[-1]
        r, z = self.r, self.z
        over_r, over_z = np.zeros(r.count), np.zeros(z.count)
        weighted = r.weight * r.points[in_r] * r.width[in_r, None] / 2
        np.add.at(over_r, r.nodes_of[in_r], weighted @ r.shape)
        np.add.at(over_z, z.nodes_of[in_z], z.width[in_z, None] / 2 * (z.weight @ z.shape))
        area = (r.lines[in_r.stop] - r.lines[in_r.start]) * (z.lines[in_z.stop] - z.lines[in_z.start])
        load = np.outer(over_z, over_r) / area
        load[:, 0] = 0.0
        return load.ravel()

    def _load_bent(self, winding: Winding) -> Array:
        """The same where lines inside the winding, though not its own sides, may be bent."""
        rows = np.arange(self.z.elements)[self.spans[-1][1]]
        elements = (rows[:, None] * self.r.elements + np.arange(self.r.elements)[self.spans[-1][0]]).ravel()
        weight = self.curl_at(elements)[1] / ((winding.r_out - winding.r_in) * (winding.z_hi - winding.z_lo))
        load = np.bincount(self.nodes[elements].ravel(), (weight @ self.value).ravel(), self.count)
        load.reshape(self.z.count, -1)[:, 0] = 0.0
        return load

    def forms(self, place: Rectangle, N: float) -> tuple[Array, Array]:
        """Bl and linkage of N turns spread over a place, as linear forms of the node values (nothing on the axis)."""
        r_in, r_out, z_lo, z_hi = place
        if self.bent:
            both = [self.bent.difference(place), self.bent.section(place)]
        else:
            ends = self.r.primitive(np.array([r_in, r_out]), 1).toarray()
            levels = np.array([z_lo, z_hi])
            value, whole = self.z.values(levels).toarray(), self.z.primitive(levels, 0).toarray()
            both = [np.outer(along_z, ends[1] - ends[0]) for along_z in (value[0] - value[1], whole[1] - whole[0])]
        scale = 2 * np.pi * N / ((r_out - r_in) * (z_hi - z_lo))
        for form in both:
            form[:, 0] = 0.0
        return scale * both[0].ravel(), scale * both[1].ravel()

    def _magnets(self) -> tuple[Array, float]:
        """Right-hand side of the magnets, and the energy per radian that their own fields would take from B = 0."""
        load, alone = np.zeros(self.count), 0.0
        for k, ring in enumerate(self.problem.rings):
            if ring.magnet is None:
                continue
            elements = np.flatnonzero(self.owner == k)
            curl, weight = self.curl_at(elements)
            H_c = NU_0 / ring.magnet.mu_rec * ring.magnet.B_rem
            field = np.repeat(DIRECTIONS[ring.magnet.direction], weight.shape[1]) * H_c
            load += self.load_of(elements, curl, np.tile(weight, 2) * field)
            alone += 0.5 * H_c * ring.magnet.B_rem * float(weight.sum())
        return load, alone

    def load_of(self, elements: Array, curl: Array, weighted: Array) -> Array:
        """Right-hand side of a field strength kept in some elements, (H_r then H_z) times the weights, [e, q]."""
        forces = np.matmul(weighted[:, None, :], curl)[:, 0]
        load = np.bincount(self.nodes[elements].ravel(), forces.ravel(), self.count)
        load.reshape(self.z.count, -1)[:, 0] = 0.0
        return load

    def scale(self, NI: float) -> float:
        """Size of what drives the field, against which a residual is measured."""
        return float(np.linalg.norm(self.drive(NI)))

    def drive(self, NI: float) -> Array:
        """Right-hand side of the winding at NI ampere-turns and of the magnets."""
        return NI * self.load + self.load_magnets

    @cached_property
    def pattern(self) -> Pattern:
        """Structure of the large matrix; the same for every problem laid on this grid's elements."""
        return Pattern(self.z.elements, self.r.elements, self.order, self.nodes)

    @cached_property
    def linear_reduced(self) -> Reduced:
        """The elements that are not steel, reduced to their rims."""
        return Reduced(self.K_linear, self.order)

    def state(self, A: Array, NI: float) -> State:
        """Fields and residual at A (A is zero on the axis)."""
        of_steel, of_others = A[self.nodes[self.steel]], A[self.nodes[self.linear_part]]
        B = np.matmul(self.curl, of_steel[:, :, None])[:, :, 0]
        half = self.weight.shape[1]
        B_abs = np.hypot(B[:, :half], B[:, half:]) + 1e-12
        H, dH = np.empty_like(B_abs), np.empty_like(B_abs)
        for curve, elements in self.curves:
            H[elements], dH[elements] = curve.H_dH(B_abs[elements])
        nu = H / B_abs
        forces = np.matmul((np.tile(self.weight * nu, 2) * B)[:, None, :], self.curl)[:, 0]
        in_others = np.matmul(self.K_linear, of_others[:, :, None])
        residual = -self.drive(NI)
        residual += np.bincount(self.nodes[self.steel].ravel(), forces.ravel(), self.count)
        residual += np.bincount(self.nodes[self.linear_part].ravel(), in_others.ravel(), self.count)
        residual.reshape(self.z.count, -1)[:, 0] = 0.0
        return State(A, residual, B, B_abs, nu, dH)

    def steel_matrices(self, nu: Array, excess: Array, B: Array) -> Array:
        """Element matrices of the steel with the tensor nu + excess B B^T at each Gauss point."""
        half = self.weight.shape[1]
        B_r, B_z = B[:, :half], B[:, half:]
        rr, rz, zz = (self.weight * t for t in (nu + excess * B_r**2, excess * B_r * B_z, nu + excess * B_z**2))
        flux = np.empty_like(self.curl)
        of_r, of_z = self.curl[:, :half], self.curl[:, half:]
        np.multiply(of_r, rr[:, :, None], out=flux[:, :half])
        flux[:, :half] += of_z * rz[:, :, None]
        np.multiply(of_z, zz[:, :, None], out=flux[:, half:])
        flux[:, half:] += of_r * rz[:, :, None]
        return np.matmul(self.curl.transpose(0, 2, 1), flux)

    def tangent(self, state: State) -> Step:
        """Factored derivative of the residual at a state: a solve with it is one Newton step."""
        excess = (state.dH - state.nu) / state.B_abs**2
        K = self.steel_matrices(state.nu, excess, state.B)
        return Step(self.pattern, [(self.linear_part, self.linear_reduced), (self.steel, Reduced(K, self.order))])

    def linear(self, mu_r: float) -> Step:
        """Factored system with the same permeability in all steel: where a solution begins."""
        nothing = np.zeros_like(self.weight)
        K = self.steel_matrices(nothing + NU_0 / mu_r, nothing, np.tile(nothing, 2))
        return Step(self.pattern, [(self.linear_part, self.linear_reduced), (self.steel, Reduced(K, self.order))])

    def energy(self, state: State) -> float:
        """Energy of the whole field, the part beyond the box included. [J]

        That of a magnet is the integral of H dB from its remanence, where it is nothing.
        """
        density = np.empty_like(state.B_abs)
        for curve, elements in self.curves:
            density[elements] = curve.energy(state.B_abs[elements])
        A = state.A[self.nodes[self.linear_part]]
        others = 0.5 * np.einsum("ei,eij,ej->", A, self.K_linear, A, optimize=True)
        others += self._magnets_alone - self.load_magnets @ state.A
        return float(2 * np.pi * (np.sum(self.weight * density) + others))

"""The field at single levels when grid lines are bent: at each level r is again an axis, with lines of its own."""

from __future__ import annotations

import numpy as np
from numpy.polynomial import legendre

from handwound.physics.field.axis import Axis
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Rectangle

AT_ONCE = 20_000  # corners of coils


class Slices:
    """The lines at many levels, [level, line], and how fast their radii change with the level."""

    def __init__(self, r: Axis, z: Axis, bend: Array, levels: Array) -> None:
        self.r, self.z, self.levels = r, z, levels
        row, s = z.locate(levels)
        share = (s[:, None] + 1) / 2
        self.lines = bend[row] * (1 - share) + bend[row + 1] * share
        self.rise = (bend[row + 1] - bend[row]) / z.width[row, None]
        self.width = np.diff(self.lines)

    def locate(self, at: Array, radii: Array) -> tuple[Array, Array]:
        """The element of each radius at level number ``at``, and its place in it from -1 to 1."""
        self.r.locate(radii)  # says so where one is beyond the box
        element = np.sum(self.lines[at] <= radii[:, None], axis=1) - 1
        element = np.clip(element, 0, self.r.elements - 1)
        return element, 2 * (radii - self.lines[at, element]) / self.width[at, element] - 1

    def value(self, rows: Array, at: Array, radii: Array) -> Array:
        """What has the node values ``rows`` at each level, at each radius there."""
        element, s = self.locate(at, radii)
        return np.einsum("ki,ki->k", self.r.basis(s)[0], rows[at[:, None], self.r.nodes_of[element]])

    def slope(self, rows: Array, at: Array, radii: Array) -> Array:
        """The same's slope along the radius."""
        element, s = self.locate(at, radii)
        shape = self.r.basis(s)[1] * (2 / self.width[at, element])[:, None]
        return np.einsum("ki,ki->k", shape, rows[at[:, None], self.r.nodes_of[element]])

    def lean(self, at: Array, radii: Array) -> Array:
        """How far the bent line through each place goes outwards per length upwards."""
        element, s = self.locate(at, radii)
        inner, outer = self.rise[at, element], self.rise[at, element + 1]
        return inner + (outer - inner) * (s + 1) / 2

    def inside(self, rows: Array, at: Array, radii: Array) -> Array:
        """Integral of r times the value from the axis to each radius, exact."""
        even, rising = self.r.areas(np.array(1.0))
        of_element = rows[:, self.r.nodes_of]
        whole = self.width / 2 * (self.lines[:, :-1] * (of_element @ even) + self.width * (of_element @ rising))
        whole = np.cumsum(np.pad(whole, ((0, 0), (1, 0))), axis=1)
        element, s = self.locate(at, radii)
        even, rising = self.r.areas(s)
        width = self.width[at, element]
        shape = self.lines[at, element][:, None] * even + width[:, None] * rising
        return whole[at, element] + width / 2 * np.einsum("ki,ki->k", shape, of_element[at, element])

    def form(self, r_in: float, r_out: float) -> Array:
        """What the integral of r times the value between two radii takes of each node, [level, node]."""
        ends = [2 * (np.array(r) - self.lines[:, :-1]) / self.width - 1 for r in (r_in, r_out)]
        (even_in, rising_in), (even_out, rising_out) = (self.r.areas(np.clip(s, -1, 1)) for s in ends)
        inner, width = self.lines[:, :-1, None], self.width[:, :, None]
        taken = width / 2 * (inner * (even_out - even_in) + width * (rising_out - rising_in))
        out = np.zeros((len(self.levels), self.r.count))
        for k in range(taken.shape[2]):
            out[:, self.r.nodes_of[:, k]] += taken[:, :, k]
        return out


class Bent:
    """The plane with bent lines: r counts them, z has the levels, ``bend`` [z, r] tells the radius of each at each."""

    def __init__(self, r: Axis, z: Axis, bend: Array) -> None:
        self.r, self.z, self.bend = r, z, bend

    def at(self, levels: Array) -> Slices:
        """The lines at levels."""
        return Slices(self.r, self.z, self.bend, levels)

    def node_radii(self) -> Array:
        """The radius of every node, [z, r]."""
        return np.stack([np.interp(self.r.places, self.r.lines, row) for row in self.at(self.z.places).lines])

    def gauss(self, i_r: Array, i_z: Array) -> tuple[Array, Array, Array]:
        """At elements' Gauss points, [e, q]: the radius, half its growth across the element, its slope in z."""
        t, s = ((legendre.leggauss(axis.order + 1)[0] + 1) / 2 for axis in (self.r, self.z))
        inner, outer = (np.stack([self.bend[i_z, i_r + k], self.bend[i_z + 1, i_r + k]], axis=1) for k in (0, 1))
        upward = np.stack([1 - s, s])
        low, high = inner @ upward, outer @ upward  # along the element's sides
        radius = low[:, :, None] * (1 - t) + high[:, :, None] * t
        rho_u = np.repeat((high - low) / 2, len(t), axis=1)
        rise = [np.diff(side, axis=1) / self.z.width[i_z, None] for side in (inner, outer)]
        rho_z = np.tile(rise[0] * (1 - t) + rise[1] * t, (1, len(s)))
        return radius.reshape(rho_u.shape), rho_u, rho_z

    def on_points(self, A: Array, r: Array, z: Array) -> tuple[Array, Array, Array]:
        """A, its slope along r and its slope along z at every pair of a radius and a level, [z, r]."""
        cut, rows, upward = self.at(z), self.z.values(z) @ A, self.z.slopes(z) @ A
        at, radii, shape = np.repeat(np.arange(len(z)), len(r)), np.tile(r, len(z)), (len(z), len(r))
        dA_dr = cut.slope(rows, at, radii)
        dA_dz = cut.value(upward, at, radii) - cut.lean(at, radii) * dA_dr
        return cut.value(rows, at, radii).reshape(shape), dA_dr.reshape(shape), dA_dz.reshape(shape)

    def corners(self, A: Array, radii: Array, levels: Array, integrals_in_z: int) -> Array:
        """The primitive of r A in r (and of that in z) at pairs of a radius and a level."""
        shape = np.broadcast_shapes(radii.shape, levels.shape)
        radii, levels = (np.broadcast_to(v, shape).ravel() for v in (radii, levels))
        primitive = self._inside_below if integrals_in_z else self._inside
        rising, out = np.argsort(levels, kind="stable"), np.empty(len(radii))
        for k in range(0, len(radii), AT_ONCE):
            part = rising[k : k + AT_ONCE]
            out[part] = primitive(A, radii[part], levels[part])
        return out.reshape(shape)

    def _inside(self, A: Array, radii: Array, levels: Array) -> Array:
        """Integral of r A from the axis to each radius at its level."""
        some, at = np.unique(levels, return_inverse=True)
        return self.at(some).inside(self.z.values(some) @ A, at, radii)

    def _inside_below(self, A: Array, radii: Array, levels: Array) -> Array:
        """The same's integral over z from the lowest row of elements asked for."""
        z = self.z
        row, s = z.locate(levels)
        first, last = row.min(), row.max()
        gauss, weight = legendre.leggauss(z.order + 1)
        half = z.width[row, None] * (s[:, None] + 1) / 4
        below = z.lines[row, None] + half * (gauss + 1)
        part = self._inside(A, np.repeat(radii, len(gauss)), below.ravel()).reshape(below.shape) @ weight * half[:, 0]
        some, at = np.unique(radii, return_inverse=True)
        places = z.lines[first:last, None] + z.width[first:last, None] * (gauss + 1) / 2
        whole = self._inside(A, np.tile(some, places.size), np.repeat(places.ravel(), len(some)))
        whole = np.einsum("kqr,q->kr", whole.reshape(*places.shape, len(some)), weight) * z.width[first:last, None] / 2
        whole = np.cumsum(np.pad(whole, ((1, 0), (0, 0))), axis=0)
        return whole[row - first, at] + part

    def difference(self, place: Rectangle) -> Array:
        """What the integral of r A over r, at the lower end of a place less the upper, takes of each node, [z, r]."""
        return self._form(place, np.array(place[2:]), np.array([1.0, -1.0]))

    def section(self, place: Rectangle) -> Array:
        """What the integral of r A over a place (r_in, r_out, z_lo, z_hi) takes of each node, [z, r]."""
        lines, (z_lo, z_hi) = self.z.lines, place[2:]
        ends = np.unique([z_lo, *lines[(lines > z_lo) & (lines < z_hi)], z_hi])
        gauss, weight = legendre.leggauss(self.z.order + 1)
        half = np.diff(ends)[:, None] / 2
        return self._form(place, (ends[:-1, None] + half * (gauss + 1)).ravel(), (half * weight).ravel())

    def _form(self, place: Rectangle, levels: Array, weight: Array) -> Array:
        across = self.at(levels).form(*place[:2])
        return np.asarray(self.z.values(levels).T @ (weight[:, None] * across))

"""Piecewise polynomials of one degree along one axis: values, slopes, exact integrals. The field is their product."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.polynomial import legendre
from scipy.sparse import csr_matrix

from handwound.errors import FieldError
from handwound.physics.field.bh import Array


@cache
def _reference(order: int) -> tuple[Array, Array]:
    """Gauss-Lobatto nodes on [-1, 1], and the matrix that turns powers of the coordinate into Lagrange polynomials."""
    inner = legendre.Legendre.basis(order).deriv().roots().real if order > 1 else np.zeros(0)
    nodes = np.concatenate([[-1.0], np.sort(inner), [1.0]])
    return nodes, np.linalg.inv(np.vander(nodes, increasing=True))


class Axis:
    """One axis of the grid with elements of the given degree; integrals are exact for what the elements can hold."""

    def __init__(self, lines: Array, order: int) -> None:
        self.lines, self.order = lines, order
        self.width = np.diff(lines)
        self.elements = len(self.width)
        self.count = self.elements * order + 1
        self.nodes_of = np.arange(self.elements)[:, None] * order + np.arange(order + 1)
        gauss, weight = legendre.leggauss(order + 1)
        self.weight = weight
        self.shape, self.slope = self.basis(gauss)
        self.points = lines[:-1, None] + self.width[:, None] * (gauss + 1) / 2
        nodes = _reference(order)[0]
        self.places = np.append((lines[:-1, None] + self.width[:, None] * (nodes[:-1] + 1) / 2).ravel(), lines[-1])

    def basis(self, s: Array) -> tuple[Array, Array]:
        """Values and slopes of the reference polynomials at s in [-1, 1]."""
        to_lagrange = _reference(self.order)[1]
        powers = np.vander(s, self.order + 1, increasing=True)
        slopes = np.zeros_like(powers)
        slopes[:, 1:] = powers[:, :-1] * np.arange(1, self.order + 1)
        return powers @ to_lagrange, slopes @ to_lagrange

    def areas(self, s: Array) -> tuple[Array, Array]:
        """Integrals of the reference polynomials from -1 to s, and of their products with (t + 1) / 2."""
        power = np.arange(1, self.order + 3)
        moments = (s[..., None] ** power - (-1.0) ** power) / power
        to_lagrange = _reference(self.order)[1]
        return moments[..., :-1] @ to_lagrange, (moments[..., :-1] + moments[..., 1:]) / 2 @ to_lagrange

    def locate(self, x: Array) -> tuple[Array, Array]:
        """The element of each point, and its place in it from -1 to 1."""
        first, last = self.lines[[0, -1]]
        if x.size and not (x.min() >= first and x.max() <= last):
            raise FieldError(
                f"field: must be asked for between {first:g} and {last:g} m, inside the computed box; found "
                f"{x.min():g} to {x.max():g} m."
            )
        element = np.clip(np.searchsorted(self.lines, x, side="right") - 1, 0, self.elements - 1)
        return element, 2 * (x - self.lines[element]) / self.width[element] - 1

    def _matrix(self, element: Array, values: Array) -> csr_matrix:
        start = np.arange(len(element) + 1) * (self.order + 1)
        return csr_matrix((values.ravel(), self.nodes_of[element].ravel(), start), (len(element), self.count))

    def values(self, x: Array) -> csr_matrix:
        """Rows that give the value at each x from the nodes' values."""
        element, s = self.locate(x)
        return self._matrix(element, self.basis(s)[0])

    def slopes(self, x: Array) -> csr_matrix:
        """Rows that give the slope at each x."""
        element, s = self.locate(x)
        return self._matrix(element, self.basis(s)[1] * (2 / self.width[element])[:, None])

    def primitive(self, x: Array, power: int) -> csr_matrix:
        """Rows that give the integral from the first line to each x of x^power times the function (power 0 or 1)."""
        element, s = self.locate(x)
        gauss, weight = legendre.leggauss(self.order + 1)
        half = (s + 1) / 2
        part = self._integrals(element, half[:, None] * (gauss + 1) - 1, half[:, None] * weight, power)
        full = self._integrals(np.arange(self.elements), gauss[None], weight[None], power)
        whole = np.zeros((self.elements + 1, self.count))
        for k in range(self.elements):
            whole[k + 1] = whole[k]
            whole[k + 1, self.nodes_of[k]] += full[k]
        return csr_matrix(whole)[element] + self._matrix(element, part)

    def _integrals(self, element: Array, s: Array, weight: Array, power: int) -> Array:
        """Weighted sums of the polynomials over points s of each element."""
        count = len(element)
        s, weight = np.broadcast_to(s, (count, s.shape[1])), np.broadcast_to(weight, (count, s.shape[1]))
        shape = self.basis(s.ravel())[0].reshape(count, s.shape[1], -1)
        x = self.lines[element, None] + self.width[element, None] * (s + 1) / 2
        return np.einsum("eq,eqi->ei", weight * x**power * self.width[element, None] / 2, shape)

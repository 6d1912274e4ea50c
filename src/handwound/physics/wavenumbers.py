"""Integrals over the wavenumbers along a plane, smooth and evanescent, for many frequencies at once."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.polynomial.legendre import leggauss, legvander
from numpy.typing import NDArray

Array = NDArray[Any]
ORDER = 12  # points a panel: a panel that is 2.5/a wide then follows what swings as cos(2 a kappa) to 1e-7
POINT, WEIGHT = leggauss(ORDER)
TO_POINTS = np.linalg.inv(legvander(POINT, ORDER - 1))


class Panels:
    """Wavenumbers from nought to ``top`` in panels with Gauss points; what is known there is known between them.

    The waves that a plane sends out have along their way the wavenumber kz with kz² = k² - kappa²; beyond kappa = k it
    is -j sqrt(kappa² - k²) and the wave only clings to the plane (e^{+jwt}). All that is integrated is even in kappa.
    """

    def __init__(self, top: float, width: float) -> None:
        self.edges = np.linspace(0.0, top, int(np.ceil(top / width)) + 1)
        self.half = self.edges[1] / 2
        self.kappa = (self.edges[:-1, None] + self.half * (1 + POINT)).ravel()
        self.plain = np.tile(self.half * WEIGHT, len(self.edges) - 1)
        """Weights of a plain integral over kappa."""

    def between(self, known: Array, kappa: Array) -> Array:
        """Each row of what is known at the points (rows, points), at that row's wavenumbers (rows, any number)."""
        panel = np.clip((kappa / (2 * self.half)).astype(int), 0, len(self.edges) - 2)
        points = panel[..., None] * ORDER + np.arange(ORDER)
        return np.sum(known[np.arange(len(known))[:, None, None], points] * self._shares(kappa, panel), axis=-1)

    def weights(self, k: Array, power: int = 0) -> Array:
        """Weights of the integral of kz^(2 power) kappa/kz over kappa: one row a wavenumber k, complex.

        With s = |kz| in place of kappa the root is gone: kappa dkappa / kz is ds below k and j ds above it.
        """
        below = self._part(k, np.minimum(self.edges, k[:, None]), -1, power)
        return below + 1j * self._part(k, np.maximum(self.edges, k[:, None]), 1, power)

    def _part(self, k: Array, edges: Array, sign: int, power: int) -> Array:
        """Weights of the panels on one side of k; ``sign`` is 1 above it. Panels on the other side have no length."""
        weights = np.zeros((len(k), len(self.edges) - 1, ORDER))
        root = np.sqrt(np.abs(edges**2 - k[:, None] ** 2))
        row, panel = np.nonzero(np.diff(root))
        low, high = root[row, panel], root[row, panel + 1]
        s = (low + high)[:, None] / 2 + (high - low)[:, None] / 2 * POINT
        kappa = np.sqrt(np.maximum(k[row, None] ** 2 + sign * s**2, 0.0))
        parts = np.abs(high - low)[:, None] / 2 * WEIGHT * (-sign * s**2) ** power
        weights[row, panel] = np.einsum("gs,gsn->gn", parts, self._shares(kappa, panel[:, None]))
        return weights.reshape(len(k), -1)

    def _shares(self, kappa: Array, panel: Array) -> Array:
        """What share each point of its panel has in the value at each wavenumber."""
        return legvander((kappa - self.edges[panel]) / self.half - 1, ORDER - 1) @ TO_POINTS

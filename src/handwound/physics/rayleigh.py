"""What a surface of revolution that bends radiates from an endless wall, and what the air in front does to it."""

from __future__ import annotations

from copy import copy
from typing import Any

import numpy as np
from numpy.polynomial.legendre import leggauss
from numpy.typing import ArrayLike, NDArray
from scipy.special import j0

from handwound.physics.wavenumbers import ORDER, Panels
from handwound.quantities import Num

Array = NDArray[Any]
REACH = 120.0  # largest kappa a that is integrated over; beyond it stands the fall behind an edge
LEAST_TOP = 600.0  # 1/m: sound of 30 kHz stays below it, however large the surface
WIDTH = 2.5  # width of a panel of wavenumbers, times a
TAIL = 5 * ORDER  # points of the last five panels: four swings of the flow's square, so that their mean is a mean


class Radiator:
    """A skin of revolution that faces the room, flattened into an endless wall.

    ``r``, ``z`` are its nodes [m] and ``elements`` its pieces of three nodes (end, middle, end), each from within
    outwards, from the axis or an inner edge to where the frame holds it. Its velocities are those of all nodes along r,
    then of all along z; with a ``basis`` they are basis @ q and everything below is in terms of q. What counts is the
    volume that each ring displaces, 2 pi r (w dr - u dz), as though it left the wall at its radius. r.m.s. phasors,
    e^{+jwt}.
    """

    def __init__(self, r: ArrayLike, z: ArrayLike, elements: ArrayLike, basis: Array | None = None) -> None:
        r, z, elements = np.asarray(r, float), np.asarray(z, float), np.asarray(elements, int)
        self.a = float(r[elements].max())
        top = max(REACH / self.a, LEAST_TOP)
        self.panels = Panels(top, WIDTH / self.a)
        radius, flow = _rings(r, z, elements, top)
        self.flow = j0(self.panels.kappa[:, None] * radius) @ flow
        """Hankel transform of the flow of each velocity, at the wavenumbers of the panels. [m²]"""
        self.volume = flow.sum(axis=0)
        """Volume that each velocity moves in a second. [m²]"""
        if basis is not None:
            self.flow, self.volume = self.flow @ basis, self.volume @ basis

    def on(self, basis: Array) -> Radiator:
        """The same surface, seen in other coordinates: its velocities so far are basis @ (new ones)."""
        other = copy(self)
        other.flow, other.volume = self.flow @ basis, self.volume @ basis
        return other

    def load(self, f: ArrayLike, rho_0: float, c_0: float) -> Array:
        """Matrices Z of one side, (frequencies, m, m): the air's forces are -Z @ velocities. [kg/s]"""
        k = self._k(f, c_0)
        m = self.flow.shape[1]
        i, j = np.triu_indices(m)
        weights = (self.panels.weights(k) + 1j * self._tail(k)) * (rho_0 * c_0 * k / (2 * np.pi))[:, None]
        products = self.flow[:, i] * self.flow[:, j]
        Z = np.empty((len(k), m, m), complex)
        Z.real[:, i, j] = weights.real @ products
        Z.imag[:, i, j] = weights.imag @ products
        Z[:, j, i] = Z[:, i, j]
        return Z

    def pressure(self, f: ArrayLike, theta: ArrayLike, v: ArrayLike, rho_0: float, c_0: float, r: float = 1.0) -> Array:
        """Far pressure (frequencies, angles) at r for velocities v (m,) or (frequencies, m); the way r/c taken off."""
        k = self._k(f, c_0)
        flow = self._flow(k[:, None] * np.sin(np.atleast_1d(theta)), v)
        return 1j * rho_0 * c_0 * k[:, None] / (2 * np.pi * r) * flow

    def power(self, f: ArrayLike, v: ArrayLike, rho_0: float, c_0: float) -> Array:
        """Power that passes the far half sphere, by its pressure there. [W]"""
        k = self._k(f, c_0)
        cosine, weight = leggauss(24 + int(np.max(k) * self.a))
        theta = np.arccos((1 + cosine) / 2)
        p = self.pressure(f, theta, v, rho_0, c_0)
        return np.abs(p) ** 2 @ (np.pi * weight) / (rho_0 * c_0)

    def _tail(self, k: Array) -> Array:
        """Weights for what lies beyond the panels, where flow that ends at an edge falls as kappa^-3 in the square."""
        top, kappa, mean = self.panels.edges[-1], self.panels.kappa[-TAIL:], self.panels.plain[-TAIL:]
        weights = np.zeros((len(k), len(self.panels.kappa)))
        beyond = 1 / (top**2 * (1 + np.sqrt(1 - (k / top) ** 2)))  # the integral of kappa^-3 ds
        weights[:, -TAIL:] = np.outer(beyond, mean / mean.sum() * kappa**3)
        return weights

    def _k(self, f: ArrayLike, c_0: float) -> Array:
        k = 2 * np.pi * np.atleast_1d(np.asarray(f, float)) / c_0
        if k.max() >= self.panels.edges[-1]:
            raise ValueError(f"{np.max(f):.0f} Hz is beyond the wavenumbers of this surface")
        return k

    def _flow(self, kappa: Array, v: ArrayLike) -> Array:
        """The whole flow's transform at wavenumbers (frequencies, angles)."""
        known = np.broadcast_to(np.asarray(v), (len(kappa), self.flow.shape[1])) @ self.flow.T
        return self.panels.between(known, kappa)


def deep_limit(h_c: Num, c_0: Num) -> Num:
    r"""Frequency up to which a cone may be flattened into its wall.

    .. math:: k h_c = 1, \quad f = c_0 / (2 \pi h_c)

    Parameters
    ----------
    h_c : float
        Depth of the cone. [m]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    f_deep : float
        Highest frequency at which the depth shifts phases by less than 1 rad. [Hz]

    Notes
    -----
    Seen from the axis the depth delays what leaves the neck by k h_c against what leaves the rim, and the air in the
    cone is a short horn. Beyond, the sound of a flattened cone is right in kind and not in detail.

    References
    ----------
    .. [1] The phase of a plane wave over the depth; 1 rad costs a rigid cone 0.24 dB on its axis.

    Examples
    --------
    >>> round(deep_limit(0.03, 343.2))
    1821
    """
    return c_0 / (2 * np.pi * h_c)


def _rings(r: Array, z: Array, elements: Array, top: float) -> tuple[Array, Array]:
    """Radii of thin rings over the skin, and the flow of each (rows) for each nodal velocity."""
    longest = np.max(np.hypot(r[elements[:, 2]] - r[elements[:, 0]], z[elements[:, 2]] - z[elements[:, 0]]))
    point, weight = leggauss(4 + int(top * longest / 2))
    shapes = np.stack([point * (point - 1) / 2, 1 - point**2, point * (point + 1) / 2])
    slopes = np.stack([point - 0.5, -2 * point, point + 0.5])
    radius = r[elements] @ shapes
    n, rings = len(r), np.arange(radius.size).reshape(radius.shape)
    flow = np.zeros((radius.size, 2 * n))
    for node, shape in zip(elements.T, shapes, strict=True):
        ring = 2 * np.pi * radius * weight * shape
        np.add.at(flow, (rings, node[:, None]), -ring * (z[elements] @ slopes))
        np.add.at(flow, (rings, n + node[:, None]), ring * (r[elements] @ slopes))
    return radius.ravel(), flow

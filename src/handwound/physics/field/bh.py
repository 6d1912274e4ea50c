"""The magnetisation curve of a steel: field strength H over flux density B, smooth and always rising."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from handwound.errors import FieldError

Array = NDArray[Any]
MU_0 = 4e-7 * np.pi
KNEE_MU, SATURATED_MU = 200.0, 25.0


@dataclass(frozen=True)
class Curve:
    """H(B) through a table: monotone cubics between the points, the slope of vacuum beyond the last one.

    Two curves with the same table are equal and share a hash, so a curve can key a cache.
    """

    B: tuple[float, ...]
    H: tuple[float, ...]

    def __init__(self, B: ArrayLike, H: ArrayLike) -> None:
        b, h = np.asarray(B, float), np.asarray(H, float)
        if b.shape != h.shape or b.ndim != 1 or len(b) < 3:
            raise FieldError(f"B-H table: must be at least 3 pairs of B and H; found {b.size} and {h.size} numbers.")
        if b[0] != 0 or h[0] != 0 or not np.all(np.isfinite(b + h)):
            raise FieldError("B-H table: must be finite numbers that begin with B = 0, H = 0.")
        rising = (np.diff(b) > 0) & (np.diff(h) > 0)
        if not rising.all():
            k = int(np.argmin(rising)) + 1
            raise FieldError(f"B-H table: B and H must rise from row to row; found B = {b[k]:g} T, H = {h[k]:g} A/m.")
        object.__setattr__(self, "B", tuple(b.tolist()))
        object.__setattr__(self, "H", tuple(h.tolist()))

    @cached_property
    def _cubics(self) -> tuple[Array, Array]:
        """The points B_k and, per piece, the coefficients of (B - B_k)^3, ^2, ^1, ^0; the last piece is vacuum."""
        b, h = np.array(self.B), np.array(self.H)
        step, rise = np.diff(b), np.diff(h) / np.diff(b)
        d = _pchip_slopes(step, rise)
        c2 = (3 * rise - 2 * d[:-1] - d[1:]) / step
        c3 = (d[:-1] + d[1:] - 2 * rise) / step**2
        vacuum = np.array([[0.0, 0.0, 1 / MU_0, h[-1]]]).T
        return b, np.hstack([np.array([c3, c2, d[:-1], h[:-1]]), vacuum])

    def _piece(self, B: Array) -> tuple[Array, Array]:
        b, c = self._cubics
        k = np.searchsorted(b, B, side="right") - 1
        return B - b[k], np.take(c, k, axis=1)

    def H_dH(self, B: ArrayLike) -> tuple[Array, Array]:
        """Field strength and its slope dH/dB at flux densities B >= 0. [A/m], [m/H]"""
        d, c = self._piece(np.asarray(B, float))
        return ((c[0] * d + c[1]) * d + c[2]) * d + c[3], (3 * c[0] * d + 2 * c[1]) * d + c[2]

    def energy(self, B: ArrayLike) -> Array:
        """Energy per volume to reach B, the integral of H dB. [J/m3]"""
        d, c = self._piece(np.asarray(B, float))
        b, coefficients = self._cubics
        ends = np.array([4, 3, 2, 1])
        whole = sum(coefficients[i, :-1] * np.diff(b) ** n / n for i, n in enumerate(ends))
        below = np.concatenate([[0.0], np.cumsum(whole)])
        k = np.searchsorted(b, np.asarray(B, float), side="right") - 1
        return below[k] + sum(c[i] * d**n / n for i, n in enumerate(ends))

    def B_of(self, H: ArrayLike) -> Array:
        """Flux density at field strengths H >= 0: the inverse of H(B), to round-off. [T]"""
        H = np.asarray(H, float)
        low, high = np.zeros_like(H), np.maximum(self.B[-1], self.B[-1] + (H - self.H[-1]) * MU_0)
        for _ in range(60):
            middle = (low + high) / 2
            below = self.H_dH(middle)[0] < H
            low, high = np.where(below, middle, low), np.where(below, high, middle)
        return (low + high) / 2

    def scaled(self, k_B: float, k_H: float = 1.0) -> Curve:
        """The curve of a steel that gives k_B times the polarisation J = B - mu_0 H, and takes k_H times the H for it.

        Only the steel's own part is scaled, so the slope in saturation stays that of vacuum.
        """
        b, h = np.array(self.B), np.array(self.H)
        return Curve(k_B * (b - MU_0 * h) + MU_0 * k_H * h, k_H * h)

    def mu_differential(self, B: ArrayLike) -> Array:
        """Differential permeability dB/dH over that of vacuum. [1]"""
        return 1 / (MU_0 * self.H_dH(B)[1])

    @cached_property
    def _B_steepest(self) -> float:
        b = np.linspace(0, self.B[-1], 400)
        return float(b[np.argmax(self.mu_differential(b))])

    def __hash__(self) -> int:
        return hash((self.B, self.H))

    def __getstate__(self) -> dict[str, Any]:
        return {"B": self.B, "H": self.H}


def _pchip_slopes(step: Array, rise: Array) -> Array:
    """Slopes at the points, by Fritsch and Butland's weighted harmonic mean, as scipy's PchipInterpolator has them."""
    w1, w2 = 2 * step[1:] + step[:-1], step[1:] + 2 * step[:-1]
    inner = (w1 + w2) / (w1 / rise[:-1] + w2 / rise[1:])

    def end(h0: float, h1: float, m0: float, m1: float) -> float:
        d = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1)
        # the table always rises, so only the lower limit of scipy's rule can act; zero would make the steel
        # infinitely permeable, hence a small share of the first rise instead
        return float(max(d, 1e-3 * m0))

    return np.concatenate([
        [end(step[0], step[1], rise[0], rise[1])], inner, [end(step[-1], step[-2], rise[-1], rise[-2])]
    ])  # fmt: skip


def saturation(curve: Curve, B: float) -> str:
    r"""The word for how full of flux a steel is.

    .. math:: \mu_d = \frac{1}{\mu_0}\,\frac{dB}{dH}

    Parameters
    ----------
    curve : Curve
        Magnetisation curve of the steel. [-]
    B : float
        Flux density in the steel. [T]

    Returns
    -------
    word : str
        "unsaturated" while the differential permeability is above 200 (or still rising), "knee" down to 25,
        "saturated" below: there ten more ampere-turns bring hardly more flux than they would in air. [-]

    Notes
    -----
    The two limits are this project's own; on mild steels they fall near 1.4 T and 1.7 T.

    References
    ----------
    .. [1] common practice

    Examples
    --------
    >>> steel = Curve([0, 1, 1.5, 1.8, 2.2], [0, 400, 2000, 9000, 90000])
    >>> saturation(steel, 0.9), saturation(steel, 1.6), saturation(steel, 2.1)
    ('unsaturated', 'knee', 'saturated')
    """
    if curve._B_steepest >= B:
        return "unsaturated"
    mu = float(curve.mu_differential(B))
    return "unsaturated" if mu > KNEE_MU else "knee" if mu > SATURATED_MU else "saturated"


def roschke_mu_r(B: ArrayLike, mu_i: float, B_my: float, c_a: float, c_b: float, n_my: float) -> Array:
    r"""Relative permeability of a steel over its flux density, in Roschke's form.

    .. math:: \mu_r = 1 + \frac{\mu_i - 1 + c_a x}{1 + c_b x + x^n}, \quad x = B / B_{my}

    Parameters
    ----------
    B : float
        Flux density. [T]
    mu_i : float
        Initial relative permeability. [1]
    B_my : float
        Flux density of the greatest permeability. [T]
    c_a : float
        First coefficient of the form. [1]
    c_b : float
        Second coefficient of the form. [1]
    n_my : float
        Exponent of the form. [1]

    Returns
    -------
    mu_r : float
        Relative permeability B / (mu_0 H). [1]

    Notes
    -----
    Fitted to about 2 T. Far above that the form lets the polarisation fall again: stop at its maximum.

    References
    ----------
    .. [1] Modelica Standard Library, Magnetic.FluxTubes, Material.SoftMagnetic and mu_rApprox (BSD-3).

    Examples
    --------
    >>> float(round(roschke_mu_r(B=1.0, mu_i=200, B_my=1.17, c_a=8100, c_b=2.59, n_my=10), 0))
    2082.0
    """
    x = np.asarray(B, float) / B_my
    return 1 + (mu_i - 1 + c_a * x) / (1 + c_b * x + x**n_my)


def tanh_B(H: ArrayLike, J_s: ArrayLike, k_s: ArrayLike) -> Array:
    r"""Flux density of a steel over its field strength, as a sum of saturating parts.

    .. math:: B = \mu_0 H + \sum_i J_i \tanh\frac{k_i \mu_0 H}{J_i}

    Parameters
    ----------
    H : float
        Field strength. [A/m]
    J_s : float
        Saturation polarisation of each part. [T]
    k_s : float
        Initial susceptibility of each part. [1]

    Returns
    -------
    B : float
        Flux density. [T]

    Notes
    -----
    No remanence and no hysteresis. Three parts describe a low carbon steel from zero to full saturation.

    References
    ----------
    .. [1] The closed form and its coefficients for steel with less than 0.13 % carbon are in the documentation of a
       public magnetostatics library; that H enters as mu_0 H in tesla is from memory.

    Examples
    --------
    >>> float(round(tanh_B(H=1000, J_s=[1.1488, 0.4268, 0.4759], k_s=[1596.3, 133.11, 18.713]), 4))
    1.2649
    """
    field = MU_0 * np.asarray(H, float)
    J, k = np.asarray(J_s, float), np.asarray(k_s, float)
    return field + np.sum(J * np.tanh(field[..., None] * k / J), axis=-1)

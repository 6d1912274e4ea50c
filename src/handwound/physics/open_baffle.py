"""A piston in an open board: both sides sound, and they meet round the edge."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from numpy.polynomial.chebyshev import chebvander
from numpy.polynomial.legendre import leggauss
from numpy.typing import ArrayLike, NDArray
from scipy.special import eval_legendre, spherical_jn

from handwound.physics.sound import directivity, radiation
from handwound.physics.wavenumbers import Panels

Array = NDArray[Any]
TERMS = 20  # of the pressure over the board; at KB_MAX a twenty-first changes nothing in six digits
STATIC = 500  # further terms: the air close to the piston, to which every note of ours is slow
KB_FADE, KB_MAX = 12.0, 24.0  # k times the board's radius: where its edge begins to fade out, and where it has
SAMPLES = 48  # wavenumbers from which the equations are known at all
REACH = 240.0  # largest kappa b that is integrated over; behind it they differ from slow air as its inverse cube
DIRECTIONS = 6  # from the middle of a board to one side, and as many to the next
N = np.arange(TERMS + STATIC)
SCALE = np.cumprod(np.append(1.0, (2 * N[1:] + 1) / (2 * N[1:])))
PANELS = Panels(REACH, 2.5)


def round_board(f: ArrayLike, a: float, b: float, rho_0: float, c_0: float, theta: ArrayLike) -> tuple[Array, Array]:
    r"""What a piston in the middle of a round open board feels, and what is heard of it.

    .. math:: p(r) = \rho_0 c_0 v \sum_n c_n \frac{P_{2n+1}(\sqrt{1 - r^2/b^2})}{s_n}, \quad
        \sum_m c_m \int_0^\infty \frac{j_{2n+1}(x) j_{2m+1}(x)}{x^2} \sqrt{k^2 b^2 - x^2} \, x \, dx
        = k b \int_0^{a/b} \frac{P_{2n+1}(\sqrt{1 - s^2})}{s_n} s \, ds

    Parameters
    ----------
    f : float
        Frequencies; k times b up to 24. [Hz]
    a : float
        Effective radius of the diaphragm. [m]
    b : float
        Radius of the board. [m]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    theta : float
        Angles off the axis. [rad]

    Returns
    -------
    Z_air : complex
        Mechanical impedance of the air on both sides, for each frequency. [kg/s]
    D_open : complex
        Far pressure over that on the axis in an endless wall, for each frequency and angle. [1]

    Notes
    -----
    Exact for a rigid flat piston and a thin rigid board; nine digits of power. Before and behind, the pressures are
    opposite and alike, so along the board (90°) there is none. The sound of a round board with its driver in the
    middle goes round all of its edge in step: no other board ripples as much. Radius a = b is a disc without a board.

    References
    ----------
    .. [1] The disc by odd Legendre functions: C. J. Bouwkamp (1941), from memory; derived anew.

    Examples
    --------
    >>> Z_air, D_open = round_board([100.0], 0.08, 0.30, 1.204, 343.2, [0.0])
    >>> round(float(20 * np.log10(abs(D_open[0, 0]))), 1)
    -8.7
    """
    kb = 2 * np.pi * np.atleast_1d(np.asarray(f, float)) * b / c_0
    theta = np.atleast_1d(np.asarray(theta, float))
    if a > b or np.max(kb, initial=0.0) > KB_MAX:
        raise ValueError("a piston larger than its board, or sound too fine for the sum")
    flow = _flow(np.sqrt(1 - (a / b) ** 2))
    steps = chebvander(2 * kb / KB_MAX - 1, SAMPLES - 1)
    left = np.tensordot(steps, _equations(), 1)
    c = np.linalg.solve(left, (kb[:, None] * flow[:TERMS])[..., None])[..., 0]
    slow = kb * np.sum(flow[TERMS:] ** 2 / _slow(N[TERMS:]))
    Z_air = 4 * np.pi * rho_0 * c_0 * b**2 * (c @ flow[:TERMS] + 1j * slow)
    heard = PANELS.between(c @ _transforms().T, kb[:, None] * np.sin(theta))
    return Z_air, 2 * (b / a) ** 2 * np.cos(theta) * heard


def open_baffle(
    f: ArrayLike, a: float, W_baffle: float, H_baffle: float, rho_0: float, c_0: float, theta: ArrayLike
) -> tuple[Array, Array]:
    r"""What a piston in the middle of an open rectangular board feels, and what is heard of it.

    .. math:: D = \frac{\int D_{round}(b(\varphi)) \, d\varphi / b(\varphi)}{\int d\varphi / b(\varphi)}

    Parameters
    ----------
    f : float
        Frequencies. [Hz]
    a : float
        Effective radius of the diaphragm. [m]
    W_baffle : float
        Width of the board. [m]
    H_baffle : float
        Height of the board. [m]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    theta : float
        Angles off the axis. [rad]

    Returns
    -------
    Z_air : complex
        Mechanical impedance of the air on both sides, for each frequency. [kg/s]
    D_open : complex
        Far pressure over that on the axis in an endless wall, for each frequency and angle. [1]

    Notes
    -----
    Round boards that reach to the edge in each direction, averaged; thus the edge's waves come one after the other. At
    low notes that is exact for elliptic boards and long strips. Towards k b = 24 what the edge adds fades into the
    endless wall, for in the end stand, room and driver's rim decide. Off the axis it is a mean of all planes. A driver
    off the middle ripples less.

    References
    ----------
    .. [1] :func:`round_board`; the flow past an elliptic plate, H. Lamb, Hydrodynamics, § 114 (from memory).

    Examples
    --------
    >>> Z_air, D_open = open_baffle([100.0], 0.08, 0.50, 0.60, 1.204, 343.2, [0.0])
    >>> round(float(20 * np.log10(abs(D_open[0, 0]))), 1)
    -8.6
    """
    f, theta = np.atleast_1d(np.asarray(f, float)), np.atleast_1d(np.asarray(theta, float))
    k = 2 * np.pi * f / c_0
    Z_wall = np.asarray(radiation(f, a, np.pi * a**2, rho_0, c_0))
    D_wall = np.asarray(directivity(k[:, None] * a * np.sin(theta))) + 0j
    Z_air, D_open = Z_wall.copy(), D_wall.copy()
    for b, share in zip(*_reaches(W_baffle, H_baffle), strict=True):
        near = k * b < KB_MAX
        edge = share * np.cos(np.pi / 2 * np.log2(np.maximum(k[near] * b / KB_FADE, 1.0))) ** 2
        Z_b, D_b = round_board(f[near], a, b, rho_0, c_0, theta)
        Z_air[near] += edge * (Z_b - Z_wall[near])
        D_open[near] += edge[:, None] * (D_b - D_wall[near])
    return Z_air, D_open


def _reaches(W_baffle: float, H_baffle: float) -> tuple[Array, Array]:
    """How far the board reaches in several directions, and the share of each."""
    corner = np.arctan2(H_baffle, W_baffle)
    point, weight = leggauss(DIRECTIONS)
    half, reach = [], []
    for angle, side in ((corner, W_baffle), (np.pi / 2 - corner, H_baffle)):
        reach.append(side / 2 / np.cos(angle / 2 * (1 + point)))
        half.append(angle / 2 * weight)
    b = np.concatenate(reach)
    shares = np.concatenate(half) / b
    return b, shares / shares.sum()


def _slow(n: Array) -> Array:
    """The diagonal of the equations for slow air, over -j; there is nothing beside it."""
    return np.pi / (2 * (4 * n + 3))


def _flow(mu: float) -> Array:
    """The piston's flow by each term, from the closed integral of P_n(s) s from mu to 1."""
    n = 2 * N[1:] + 1
    P_even, P_odd = eval_legendre(n - 1, mu), eval_legendre(n, mu)
    rest = (mu * n * (P_even - mu * P_odd) - (1 - mu**2) * P_odd) / ((n - 1) * (n + 2))
    return np.append((1 - mu**3) / 3, rest) / SCALE


@cache
def _transforms() -> Array:
    """Hankel transform of each term at the wavenumbers of the panels, over b²."""
    return np.stack([spherical_jn(2 * n + 1, PANELS.kappa) / PANELS.kappa for n in N[:TERMS]], axis=1)


@cache
def _equations() -> Array:
    """The left side of the equations in Chebyshev polynomials of k b from 0 to KB_MAX; they depend on nothing else."""
    angle = np.pi * (np.arange(SAMPLES) + 0.5) / SAMPLES
    kb = KB_MAX * (1 + np.cos(angle)) / 2
    terms = _transforms()
    weights = PANELS.weights(kb, 1) + 1j * PANELS.plain * PANELS.kappa**2  # less that of slow air, which is known
    left = np.einsum("kx,xn,xm->knm", weights, terms, terms, optimize=True) - 1j * np.diag(_slow(N[:TERMS]))
    series = 2 / SAMPLES * np.cos(np.outer(np.arange(SAMPLES), angle))
    series[0] /= 2
    return np.tensordot(series, left, 1)

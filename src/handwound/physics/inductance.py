"""Compact models of a blocked voice coil's impedance: a few resistors and coils, or one power of the frequency."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from handwound.errors import FieldError

Array = NDArray[Any]
MOST_STEPS = 8
CANDIDATES = 8  # time constants per decade from which the steps are chosen
F_SEMI = 1000.0  # Hz


@dataclass(frozen=True)
class Steps:
    """A coil L_0 in series with steps, each a coil L_k beside a resistor R_k; errors are shares of the modulus."""

    L_0: float
    L: tuple[float, ...]
    R: tuple[float, ...]
    rms: float
    worst: float

    def Z(self, f: ArrayLike) -> Array:
        """Complex impedance. [Ω]"""
        s = 2j * np.pi * np.asarray(f, float)[..., None]
        L, R = np.array(self.L), np.array(self.R)
        return s[..., 0] * self.L_0 + np.sum(s * L * R / (R + s * L), axis=-1)


@dataclass(frozen=True)
class SemiInductance:
    """Z_1k times (j f / 1 kHz) to the power n_L, the same as K (j omega)^n; errors are shares of the modulus."""

    Z_1k: float
    n_L: float
    rms: float
    worst: float

    @property
    def K(self) -> float:
        """The factor of (j omega)^n, in ohm times second to the power n."""
        return float(self.Z_1k / (2 * np.pi * F_SEMI) ** self.n_L)

    def Z(self, f: ArrayLike) -> Array:
        """Complex impedance. [Ω]"""
        return self.Z_1k * (1j * np.asarray(f, float) / F_SEMI) ** self.n_L


def r_l_steps(f: ArrayLike, Z_b: ArrayLike, error: float = 0.01) -> Steps:
    r"""The fewest R-L steps in series that follow a blocked impedance.

    .. math:: Z = j\omega L_0 + \sum_k \frac{j\omega L_k R_k}{R_k + j\omega L_k}

    Parameters
    ----------
    f : float
        Frequencies. [Hz]
    Z_b : complex
        Impedance at each, without the d.c. resistance. [Ω]
    error : float
        Root mean square of the error over the modulus that is good enough; with eight steps it ends anyway. [1]

    Returns
    -------
    model : Steps
        L_0, the steps from slow to fast, and how far they are off. [-]

    Notes
    -----
    Every eddy current is such a step, so a series of enough steps is exact; it holds between the frequencies of the
    fit, not beyond them. All L and R are positive: the model never gives energy.

    References
    ----------
    .. [1] Non-negative least squares over fixed time constants, the chosen ones merged and polished: textbook parts
       (from memory), put together here.

    Examples
    --------
    >>> f = np.geomspace(20, 20e3, 30)
    >>> s = 2j * np.pi * f
    >>> model = r_l_steps(f, s * 0.2e-3 + s * 0.5e-3 * 3 / (3 + s * 0.5e-3))
    >>> round(model.L_0 * 1e3, 3), [round(L * 1e3, 3) for L in model.L], [round(R, 2) for R in model.R]
    (0.2, [0.5], [3.0])
    """
    f, Z_b = _data(f, Z_b)
    L_0, L, tau = _chosen(f, Z_b)
    for count in range(1, MOST_STEPS + 1):
        model = _polished(f, Z_b, L_0, *_merged(L, tau, count))
        if model.rms <= error or count >= len(L):
            break
    return model


def semi_inductance(f: ArrayLike, Z_b: ArrayLike) -> SemiInductance:
    r"""One power of the frequency through a blocked impedance.

    .. math:: Z = Z_{1k} \left(\frac{j f}{1\,\mathrm{kHz}}\right)^{n_L} = K (j\omega)^{n_L}

    Parameters
    ----------
    f : float
        Frequencies. [Hz]
    Z_b : complex
        Impedance at each, without the d.c. resistance. [Ω]

    Returns
    -------
    model : SemiInductance
        Z_1k, n_L and how far they are off. [-]

    Notes
    -----
    n_L is 1 for a coil in air and 1/2 for a coil against solid iron with a thin skin; real motors lie between and bend
    from one to the other, so this is good over a decade or two. Least squares in the logarithm.

    References
    ----------
    .. [1] J. Audio Eng. Soc. 50 (2002), no. 6, p. 442 (from an excerpt: magnetic flux over current as omega^(n-1)).

    Examples
    --------
    >>> f = np.array([100.0, 1000.0, 10000.0])
    >>> model = semi_inductance(f, 0.02 * (2j * np.pi * f) ** 0.7)
    >>> round(model.Z_1k, 4), round(model.n_L, 4), round(model.K, 5)
    (9.115, 0.7, 0.02)
    """
    f, Z_b = _data(f, Z_b)
    height, angle = np.log(f / F_SEMI), np.full(len(f), np.pi / 2)
    one = np.concatenate([np.ones(len(f)), np.zeros(len(f))])
    columns = np.stack([one, np.concatenate([height, angle])], axis=1)
    wanted = np.concatenate([np.log(np.abs(Z_b)), np.angle(Z_b)])
    a, n_L = np.linalg.lstsq(columns, wanted, rcond=None)[0]
    model = SemiInductance(float(np.exp(a)), float(n_L), 0.0, 0.0)
    return SemiInductance(model.Z_1k, model.n_L, *_errors(model.Z(f), Z_b))


def _data(f: ArrayLike, Z_b: ArrayLike) -> tuple[Array, Array]:
    """Frequencies and impedances as arrays; everything wrong with them said."""
    f, Z_b = np.asarray(f, float), np.asarray(Z_b, complex)
    faults = []
    if f.ndim != 1 or f.shape != Z_b.shape or len(f) < 3:
        raise FieldError(
            f"blocked impedance: must be given at 3 frequencies or more, one value each; found {f.size} frequencies "
            f"and {Z_b.size} values."
        )
    if not np.all(f > 0) or len(np.unique(f)) < len(f):
        faults.append("blocked impedance: must be given at different frequencies above 0 Hz.")
    if not np.all(np.isfinite(Z_b)) or not np.all((Z_b.imag > 0) & (Z_b.real >= 0)):
        faults.append(
            "blocked impedance: must have R >= 0 and L > 0 at every frequency. Take off the d.c. resistance, no more."
        )
    if faults:
        raise FieldError("\n".join(faults))
    return f, Z_b


def _errors(Z: Array, Z_b: Array) -> tuple[float, float]:
    off = np.abs(Z / Z_b - 1)
    return float(np.sqrt(np.mean(off**2))), float(off.max())


def _chosen(f: Array, Z_b: Array) -> tuple[float, Array, Array]:
    """L_0 and those of many fixed time constants that a non-negative least-squares fit does not leave out."""
    from scipy.optimize import nnls

    s = 2j * np.pi * f[:, None]
    slow, fast = 10 / (2 * np.pi * f.min()), 0.1 / (2 * np.pi * f.max())
    tau = np.append(0.0, np.geomspace(fast, slow, int(CANDIDATES * np.log10(slow / fast))))
    columns = s / (1 + s * tau) / np.abs(Z_b)[:, None]
    aim = Z_b / np.abs(Z_b)
    scale = float(np.max(Z_b.imag / s[:, 0].imag))
    L = scale * nnls(scale * np.concatenate([columns.real, columns.imag]), np.concatenate([aim.real, aim.imag]))[0]
    used = np.flatnonzero(L[1:] > 1e-6 * scale) + 1
    if not len(used):
        return float(L[0]), np.array([1e-6 * scale]), tau[1:2]
    return float(L[0]), L[used], tau[used]


def _merged(L: Array, tau: Array, count: int) -> tuple[Array, Array]:
    """Steps joined, the nearest two first, until so many are left."""
    L, tau = L.copy(), tau.copy()
    while len(L) > count:
        k = int(np.argmin(np.diff(np.log(tau))))
        share = L[k] / (L[k] + L[k + 1])
        tau[k] = np.exp(share * np.log(tau[k]) + (1 - share) * np.log(tau[k + 1]))
        L[k] += L[k + 1]
        L, tau = np.delete(L, k + 1), np.delete(tau, k + 1)
    return L, tau


def _polished(f: Array, Z_b: Array, L_0: float, L: Array, tau: Array) -> Steps:
    """All values moved together to the least error; as logarithms, so that they stay positive."""
    from scipy.optimize import least_squares

    s, count = 2j * np.pi * f[:, None], len(L)

    def model(p: Array) -> Array:
        values = np.exp(p)
        return s[:, 0] * values[0] + np.sum(s * values[1 : count + 1] / (1 + s * values[count + 1 :]), axis=1)

    def off(p: Array) -> Array:
        share = (model(p) - Z_b) / np.abs(Z_b)
        return np.concatenate([share.real, share.imag])

    least = 1e-6 * float(np.sum(L))
    p = least_squares(off, np.log(np.concatenate([[max(L_0, least)], L, tau])), x_scale=1.0).x
    values = np.exp(p)
    slow_first = np.argsort(-values[count + 1 :])
    L, tau = values[1 : count + 1][slow_first], values[count + 1 :][slow_first]
    return Steps(float(values[0]), tuple(L.tolist()), tuple((L / tau).tolist()), *_errors(model(p), Z_b))

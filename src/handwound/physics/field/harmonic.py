"""Alternating current in coils and iron: impedances of blocked coils with eddy currents about the steady field."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Problem, Winding
from handwound.physics.field.skin import Eddies
from handwound.physics.field.solution import Solution

PER_DECADE, DEPTH = 1, 4  # real s at which the field is solved, and how often each: 2e-5 of R and L (measured)
BEYOND = 1.5  # how far they reach past the frequencies asked for
MOST_ERROR = 0.02  # a coarser grid can miss the skin, and not notice (seen at 0.05)
SHARE_OF_ERROR = 0.8  # of energy and heat left in the highest degree, over the error wanted of R and L (measured)


@dataclass(frozen=True)
class Harmonic:
    """What coils, iron and metal do to alternating current: eddy currents with a time constant ``tau`` each.

    ``psi[k, i]`` is the linkage of eddy current k with coil i, in the square root of henries; an eddy current with
    tau = 0 is no current but the part of the inductance that nothing shields. ``of_rings[m, k, l]`` is the share of
    ring m in the heat of the currents k and l.
    """

    coils: tuple[Winding, ...]
    tau: Array
    psi: Array
    of_rings: Array
    rings: tuple[str, ...]
    elements: int

    def Z(self, f: ArrayLike) -> Array:
        """Impedance matrix of the coils at frequencies, [f, i, j], complex, without their d.c. resistances. [Ω]"""
        s = 2j * np.pi * np.atleast_1d(np.asarray(f, float))[:, None]
        return np.einsum("fk,ki,kj->fij", s / (1 + s * self.tau), self.psi, self.psi)

    def L_slow(self) -> Array:
        """Inductance matrix when everything happens slowly: the differential one. [H]"""
        return self.psi.T @ self.psi

    def heat(self, f: ArrayLike, I: ArrayLike) -> Array:
        """Mean heat in each ring, [f, ring], of currents with the peak values I, one for each coil. [W]"""
        w = 2 * np.pi * np.atleast_1d(np.asarray(f, float))[:, None]
        y = self.psi @ np.atleast_1d(np.asarray(I, complex)) / (1 + 1j * w * self.tau)
        return np.einsum("fk,mkl,fl->fm", y.conj(), self.of_rings, y).real * w**2 / 2


def harmonic(
    solution: Solution, coils: Sequence[Winding], f_lo: float = 20.0, f_hi: float = 20e3, error: float = 0.005,
    k_mu: float = 1.0,
) -> Harmonic:  # fmt: skip
    r"""Impedances of blocked coils in iron and metal, with eddy currents, about a steady field.

    .. math:: (K + j\omega M)\,a_j = l_j, \quad Z_{ij} = 2\pi j\omega\, l_i^T a_j
        = \sum_k \frac{j\omega\,\psi_{ik}\psi_{jk}}{1 + j\omega\tau_k}

    Parameters
    ----------
    solution : Solution
        The steady field. Rings with a conductivity sigma carry eddy currents. [-]
    coils : list
        Coils of thin wire, each a Winding: the voice coil at its positions, the field coil, a hum-bucking coil. [-]
    f_lo : float
        Lowest frequency of interest. [Hz]
    f_hi : float
        Highest frequency of interest. [Hz]
    error : float
        Error of R and L to aim at, at most 0.02. [1]
    k_mu : float
        Share of the steel's differential susceptibility that answers a small alternating field. [1]

    Returns
    -------
    harmonic : Harmonic
        Impedances at any frequency between, and below down to zero; heat in each ring. [-]

    Notes
    -----
    K is the steady field's differential reluctivity: right for a small change that follows the curve. Real steel takes
    a small change along minor loops, with the lower, reversible permeability: k_mu below 1 (0.3 to 1 is usual, from
    memory) shows what that does. No hysteresis loss, no eddy current inside the coils' own wires.

    The field is solved at real s = 0 and some s between 2 pi f_lo and 2 pi f_hi and every other answer composed of
    these. K and M are symmetric and not negative, so the composed impedance matches at each s its value and its first
    seven derivatives, is the same both ways, and never gives energy. For the grid see skin.py. Of a hundred random
    motors beside refined ones, with 0.005 asked for, R was within 0.2 % for the middle one, beyond 0.5 % for four and
    1.5 % off for the worst; with 0.02 asked for 0.4 % and 2.4 %. L is better.

    References
    ----------
    .. [1] Rational Krylov projection is textbook matter (from memory); the tests compare with NGSolve and with Bessel
       functions.

    Examples
    --------
    >>> from handwound.physics.field import Problem, Ring, solve
    >>> pipe = Ring("pipe", 0.020, 0.022, -0.2, 0.2, sigma=35e6)
    >>> coil = Winding(0.018, 0.0185, -0.01, 0.01, 100)
    >>> Z = harmonic(solve(Problem((pipe,), coil), 0), [coil]).Z([0.01, 1000])[:, 0, 0]
    >>> [round(float(L) * 1e6) for L in Z.imag / (2 * np.pi * np.array([0.01, 1000]))]
    [353, 140]
    """
    solution.refuse_memory("alternating field")
    _refuse(solution, coils, f_lo, f_hi, error, k_mu)
    slow, fast = 2 * np.pi * f_lo, 2 * np.pi * f_hi
    ends = np.array([slow, np.sqrt(slow * fast), fast])
    eddies = Eddies.fitted(solution, coils, ends, SHARE_OF_ERROR * error, k_mu)
    count = int(np.ceil(PER_DECADE * np.log10(f_hi / f_lo))) + 1
    return _composed(eddies, coils, np.append(0.0, np.geomspace(slow / BEYOND, fast * BEYOND, max(count, 2))))


def closed(Z_b: ArrayLike, Z_c: Sequence[ArrayLike]) -> Array:
    r"""Impedance of the first coil when the others are closed by impedances.

    .. math:: Z_1 = Z_{11} - Z_{1c} \left(Z_{cc} + \mathrm{diag}\,Z_c\right)^{-1} Z_{c1}

    Parameters
    ----------
    Z_b : complex
        Impedance matrices, [f, i, j], without d.c. resistances. [Ω]
    Z_c : complex
        For each other coil what closes it, its own d.c. resistance included; one value or one for each frequency,
        infinite when it is open. [Ω]

    Returns
    -------
    Z_b : complex
        Impedance of the first coil at each frequency, without its d.c. resistance. [Ω]

    Notes
    -----
    Exact for coils without capacitance between their turns.

    References
    ----------
    .. [1] Kirchhoff's laws.

    Examples
    --------
    >>> [complex(closed([[[2j, 1j], [1j, 2j]]], [Z_c])[0]) for Z_c in (0, 2j, np.inf)]
    [1.5j, 1.75j, 2j]
    """
    Z = np.asarray(Z_b, complex)
    if len(Z_c) != Z.shape[1] - 1:
        raise FieldError(f"coupled coils: must each have what closes them, {Z.shape[1] - 1}; found {len(Z_c)}.")
    out = np.empty(len(Z), complex)
    closing = np.array([np.broadcast_to(np.asarray(z, complex), len(Z)) for z in Z_c]).reshape(len(Z_c), len(Z))
    for k, z in enumerate(Z):
        shut = np.flatnonzero(np.isfinite(closing[:, k])) + 1
        loop = z[np.ix_(shut, shut)] + np.diag(closing[shut - 1, k])
        out[k] = z[0, 0] - z[0, shut] @ np.linalg.solve(loop, z[shut, 0])
    return out


def displaced(coil: Winding, x: ArrayLike) -> list[Winding]:
    r"""A coil at several displacements, to be asked for together.

    .. math:: z_{lo,k} = z_{lo} + x_k, \quad z_{hi,k} = z_{hi} + x_k

    Parameters
    ----------
    coil : Winding
        The coil at x = 0. [-]
    x : float
        Displacements. [m]

    Returns
    -------
    coils : list
        The coil at each. [-]

    Notes
    -----
    Currents of such coils belong to different moments: of their impedance matrix only the diagonal has a meaning.

    References
    ----------
    .. [1] this project

    Examples
    --------
    >>> [coil.z_lo for coil in displaced(Winding(0.01, 0.011, 0, 0.01, 50), [-0.002, 0.002])]
    [-0.002, 0.002]
    """
    return [coil.raised(step) for step in np.atleast_1d(np.asarray(x, float)).tolist()]


def reluctance(solution: Solution, coil: Winding, x: ArrayLike) -> tuple[Array, Array]:
    r"""Inductance of a coil over its displacement, slowly, and the slope of it, about a steady field.

    .. math:: L(x) = 2\pi\, l(x)^T K^{-1} l(x), \quad \frac{dL}{dx} = 4\pi\, \frac{dl}{dx}^T K^{-1} l(x)

    Parameters
    ----------
    solution : Solution
        The steady field. [-]
    coil : Winding
        The coil at x = 0. [-]
    x : float
        Displacements. [m]

    Returns
    -------
    L_x : float
        Differential inductance at each displacement. [H]
    dL_dx : float
        Its slope; a current pulls the coil towards more inductance with half of it times the square. [H/m]

    Notes
    -----
    For currents small enough not to change the steel's state. The slope is no difference of two inductances: the coil's
    edges move, the field of its current stays. Without eddy currents, so for slow motion and slow currents.

    References
    ----------
    .. [1] this project; the tests compare with a printed device.
    """
    found = []
    for place in displaced(coil, x):
        Bl, psi = solution.system.forms(place.rectangle, place.N)
        a = solution.tangent.solve(psi) / (2 * np.pi)
        found.append((psi @ a, -2 * Bl @ a))
    L_x, dL_dx = np.array(found).T
    return L_x, dL_dx


def _refuse(solution: Solution, coils: Sequence[Winding], f_lo: float, f_hi: float, error: float, k_mu: float) -> None:
    """Say everything that is wrong with what is asked."""
    faults = []
    if not coils:
        faults.append("alternating field: must be asked for a coil; found none.")
    if not 0 < f_lo < f_hi < np.inf:
        faults.append(f"alternating field: must have 0 < f_lo < f_hi; found {f_lo:g} to {f_hi:g} Hz.")
    if not 0 < error <= MOST_ERROR:
        faults.append(f"alternating field: must have an error of at most {MOST_ERROR:g}, above 0; found {error:g}.")
    if not 0 <= k_mu <= 1:
        faults.append(f"alternating field: must have k_mu from 0 to 1; found {k_mu:g}.")
    for k, coil in enumerate(coils, 1):
        try:
            Problem(solution.problem.rings, coil)
        except FieldError as fault:
            faults.append(f"coil {k}: {fault}")
    if faults:
        raise FieldError("\n".join(faults))


def _composed(eddies: Eddies, coils: Sequence[Winding], shifts: Array) -> Harmonic:
    """The eddy currents that make up every answer: K and M seen by the fields at the shifts alone."""
    from scipy.linalg import eigh

    system = eddies.system
    loads = np.array([eddies.load(coil) for coil in coils])
    fields = []
    for s in shifts:
        step, answers = eddies.step(float(s)), list(loads)
        for _ in range(DEPTH):
            answers = [step.solve(load) for load in answers]
            fields += answers
            answers = list(eddies.times_M(np.array(answers).T).T)
    sizes = np.linalg.norm(fields, axis=1)
    there = sizes > 0  # without conductors nothing follows after the first
    basis = np.linalg.qr((np.array(fields)[there] / sizes[there, None]).T)[0]
    K, M = basis.T @ eddies.times_K(basis), basis.T @ eddies.times_M(basis)
    tau, modes = eigh((M + M.T) / 2, (K + K.T) / 2)
    basis = basis @ modes
    rings = [k for k, ring in enumerate(system.problem.rings) if ring.sigma > 0]
    of_rings = [basis.T @ eddies.times_M(basis, k) for k in rings]
    return Harmonic(
        tuple(coils), np.maximum(tau, 0.0), np.sqrt(2 * np.pi) * (loads @ basis).T,
        np.array(of_rings).reshape(len(rings), len(tau), len(tau)),
        tuple(system.problem.rings[k].name for k in rings), len(eddies.K),
    )  # fmt: skip

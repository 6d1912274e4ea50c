"""Large strokes of thin rings: an axisymmetric shell that may turn and shift as far as it likes.

Lengths, slopes and turns are exact, the material is linear: strains stay small where strokes are large. Ribs are left
out; nothing that hangs a diaphragm has any.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_banded
from scipy.sparse import coo_array
from scipy.sparse.csgraph import reverse_cuthill_mckee

from handwound.physics.moving import KAPPA
from handwound.physics.shell.meridian import Shell
from handwound.quantities import Num

Array = NDArray[np.float64]
XI = np.array([-1, 1]) / np.sqrt(3)
"""Two points of Gauss in an element of three nodes: fewer than would be exact, so that thin shells do not lock."""
SHAPE = np.stack([XI * (XI - 1) / 2, 1 - XI**2, XI * (XI + 1) / 2], axis=1)
SLOPE = np.stack([XI - 0.5, -2 * XI, XI + 0.5], axis=1)
TRIES, CLOSE, FAR = 12, 1e-7, 0.8
"""Steps of Newton's method for a stroke; the last step over the meridian's size; a step in radians that is astray."""
HALVINGS = 10
"""How often a stroke may be halved before the shell is said to snap."""


class Bent(NamedTuple):
    """The shell at one value of what drives it: displacements (u_r, w, turn by node), their slope, force, stiffness."""

    q: Array
    slope: Array
    F: float
    K: float


class Large:
    """A shell that is clamped at ``held`` and driven at ``moved`` along the axis, or by a pressure of 1 Pa along it."""

    def __init__(self, shell: Shell, held: Sequence[int], moved: Sequence[int] = ()) -> None:
        r, z = shell.r[shell.elements], shell.z[shell.elements]
        self.r, dr, dz = r @ SHAPE.T, r @ SLOPE.T, z @ SLOPE.T
        J = np.hypot(dr, dz)
        self.phi = np.arctan2(dz, dr)
        self.size = float(np.hypot(np.ptp(shell.r), np.ptp(shell.z)))
        self.area = 2 * np.pi * self.r * J
        self.dof = (3 * shell.elements[:, :, None] + np.arange(3)).reshape(len(r), 9)
        self.count = 3 * len(shell.r)
        self.local = _local(self.r, J)
        self.C = _material(shell)
        self.driven = np.zeros(self.count)
        self.driven[[3 * node + 1 for node in moved]] = 1
        plan = (2 * np.pi * self.r * dr)[..., None] * SHAPE  # along the axis a pressure sees the plan
        self.push = np.zeros(self.count) if len(moved) else self._gather(self.dof[:, 1::3], plan.sum(1))
        self._order(shell, held, moved)

    def _order(self, shell: Shell, held: Sequence[int], moved: Sequence[int]) -> None:
        """Numbers the free displacements so that the tangent is a narrow band."""
        free = np.ones((len(shell.r), 3), bool)
        free[shell.r == 0, 0::2] = False
        free[[*held, *moved]] = False
        rows, columns = np.repeat(self.dof, 9, axis=1), np.tile(self.dof, 9)
        graph = coo_array((np.ones(rows.size), (rows.ravel(), columns.ravel())), shape=(self.count, self.count)).tocsr()
        open_ = np.flatnonzero(free.ravel())
        self.free = open_[reverse_cuthill_mckee(graph[open_][:, open_], symmetric_mode=True)]
        place = np.full(self.count, -1)
        place[self.free] = np.arange(len(self.free))
        i, j = place[rows], place[columns]
        self.inside = (i >= 0) & (j >= 0)
        i, j = i[self.inside], j[self.inside]
        self.width = int(np.abs(i - j).max())
        self.cell = (self.width + i - j) * len(self.free) + j

    def _gather(self, dof: NDArray[np.intp], values: Array) -> Array:
        return np.asarray(np.bincount(dof.ravel(), values.ravel(), self.count), float)

    def strains(self, q: Array) -> tuple[Array, Array, tuple[Array, ...]]:
        """Strains at the points of Gauss, their slopes by the local numbers, and what bends those slopes.

        Strains: along, around, sliding, bending along, bending around. Local numbers: r' and z' of the meridian, turn,
        turn', u/r. With the turned tangent (c, s) the meridian stretches by r'c + z's - 1 and slides by z'c - r's.
        """
        p = self.local @ q[self.dof][:, None, :, None]
        a, b, turn, bend, around = np.moveaxis(p[..., 0], -1, 0)
        a, b = a + np.cos(self.phi), b + np.sin(self.phi)
        c, s = np.cos(self.phi + turn), np.sin(self.phi + turn)
        along, slide = a * c + b * s, b * c - a * s
        e = np.stack([along - 1, around, slide, bend, (s - np.sin(self.phi)) / self.r], axis=-1)
        G = np.zeros((*e.shape, 5))
        G[..., 0, 0], G[..., 0, 1], G[..., 0, 2] = c, s, slide
        G[..., 1, 4] = G[..., 3, 3] = 1
        G[..., 2, 0], G[..., 2, 1], G[..., 2, 2] = -s, c, -along
        G[..., 4, 2] = c / self.r
        return e, G, (c, s, along, slide, s / self.r)

    def tangent(self, q: Array) -> tuple[Array, Array]:
        """Forces of the nodes and the stiffness of the elements at displacements ``q``."""
        e, G, (c, s, along, slide, lean) = self.strains(q)
        stress = (self.C @ e[..., None])[..., 0]
        N_s, _, Q, _, M_t = np.moveaxis(stress, -1, 0)
        H = np.zeros_like(G)
        H[..., 0, 2] = H[..., 2, 0] = -N_s * s - Q * c
        H[..., 1, 2] = H[..., 2, 1] = N_s * c - Q * s
        H[..., 2, 2] = -N_s * along - Q * slide - M_t * lean
        GT, LT = np.swapaxes(G, -1, -2), np.swapaxes(self.local, -1, -2)
        weight = self.area[..., None, None]
        forces = (LT @ (GT @ stress[..., None]) * weight)[..., 0].sum(1)
        return self._gather(self.dof, forces), (LT @ (GT @ self.C @ G + H) @ self.local * weight).sum(1)

    def energy(self, q: Array) -> float:
        """Energy that is stored at displacements ``q``. [J]"""
        e = self.strains(q)[0]
        return float((((self.C @ e[..., None])[..., 0] * e).sum(-1) * self.area).sum() / 2)

    def settle(self, value: float, q: Array) -> Bent | None:
        """Newton's method from displacements ``q``; None where it does not come to rest."""
        q = np.where(self.driven > 0, value, q)
        for _ in range(TRIES):
            R, K = self.tangent(q)
            pull = self._gather(self.dof, (K @ self.driven[self.dof][..., None])[..., 0])
            band = np.bincount(self.cell, K.reshape(len(K), -1)[self.inside], (2 * self.width + 1) * len(self.free))
            sides = np.stack([value * self.push - R, self.push - pull], axis=1)[self.free]
            try:
                both = solve_banded((self.width, self.width), band.reshape(-1, len(self.free)), sides)
            except (np.linalg.LinAlgError, ValueError):
                return None
            step, slope = np.zeros(self.count), self.driven.copy()
            step[self.free], slope[self.free] = both[:, 0], both[:, 1]
            q = q + step
            if not np.abs(step[2::3]).max() < FAR:
                return None
            if max(np.abs(step[0::3]).max(), np.abs(step[1::3]).max()) < CLOSE * self.size:
                return Bent(q, slope, float(self.driven @ R + pull @ step), float(pull @ slope))
        return None

    def walk(self, values: Array) -> Iterator[Bent]:
        """The shell at each of the values, which lead away from 0; ends early where it snaps through."""
        now = self.settle(0.0, np.zeros(self.count))
        at = 0.0
        for value in values:
            step = value - at
            while at != value:
                reach = value if abs(value - at) <= abs(step) * (1 + 1e-9) else at + step
                found = now and self.settle(reach, now.q + now.slope * (reach - at))
                if found:
                    at, now = reach, found
                elif abs(step) < abs(values[-1]) / 2**HALVINGS:
                    return
                else:
                    step /= 2
            if now:
                yield now


def _local(r: Array, J: Array) -> Array:
    """From the nine displacements of an element to r', z', turn, turn' and u/r at its points of Gauss."""
    B = np.zeros((*r.shape, 5, 9))
    along = SLOPE / J[..., None]
    B[..., 0, 0::3] = B[..., 1, 1::3] = B[..., 3, 2::3] = along
    B[..., 2, 2::3] = SHAPE
    B[..., 4, 0::3] = SHAPE / r[..., None]
    return B


def _material(shell: Shell) -> Array:
    """Forces and moments per length for the five strains, element by element."""
    C = np.zeros((len(shell.elements), 1, 5, 5))
    stretch = shell.E * shell.t / (1 - shell.nu**2)
    for first, stiff in ((0, stretch), (3, stretch * shell.t**2 / 12)):
        second = first + 1
        C[:, 0, first, first] = C[:, 0, second, second] = stiff
        C[:, 0, first, second] = C[:, 0, second, first] = stiff * shell.nu
    C[:, 0, 2, 2] = KAPPA * shell.E * shell.t / (2 * (1 + shell.nu))
    return C


def large_stroke(shell: Shell, held: Sequence[int], moved: Sequence[int], x: Num) -> tuple[Array, Array]:
    r"""Force and stiffness of a ring whose inner edge is moved along the axis, however far.

    .. math:: F = \frac{\partial}{\partial x} \min_q W, \quad W = \pi \int \left[ C (\varepsilon_s^2
        + \varepsilon_\theta^2 + 2 \nu \varepsilon_s \varepsilon_\theta) + \kappa G t \gamma^2
        + D (\kappa_s^2 + \kappa_\theta^2 + 2 \nu \kappa_s \kappa_\theta) \right] r_0 \, ds

    Parameters
    ----------
    shell : Shell
        The ring. [-]
    held : list
        Nodes that the frame holds. [-]
    moved : list
        Nodes that the diaphragm moves along the axis, without stretch and turn. [-]
    x : array
        Displacements along z, in any order. [m]

    Returns
    -------
    F_x : float
        Force along z that holds the moved edge there, all round. [N]
    K_inc : float
        Its slope dF/dx: what a small further push meets. [N/m]

    Notes
    -----
    Reissner's shell: the meridian may turn as far as it likes, it stretches, slides and bends by a linear material, and
    u/r is its stretch around. Foam that is squeezed through its thickness is not in it, nor are wrinkles: a roll of
    thin film folds around its circumference before it stretches as far as told here, and is softer then. nan beyond a
    stroke at which the ring snaps through.

    References
    ----------
    .. [1] Reissner 1969, On finite symmetrical deflections of thin shells of revolution (from memory).

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> flat = piece(*line(0.050, 0.0, 0.060, 0.0, 16), 0.002, 0.4e6, 0.3, 0.3)
    >>> large_stroke(flat, [32], [0], np.array([0.0, 0.002]))[1].round(-1)
    array([1070., 3010.])
    """
    x = np.atleast_1d(np.asarray(x, float))
    body = Large(shell, held, moved)
    F, K = np.full((2, len(x)), np.nan)
    for side in (x >= 0, x < 0):
        outward = np.flatnonzero(side)[np.argsort(np.abs(x[side]), kind="stable")]
        for k, bent in zip(outward, body.walk(x[outward]), strict=False):
            F[k], K[k] = bent.F, bent.K
    return F, K


def large_load(shell: Shell, held: Sequence[int], p_side: Num) -> Array:
    r"""How far the nodes of a shell are pushed along the axis by a pressure.

    .. math:: \frac{\partial W}{\partial w_i} = 2 \pi p \int N_i \, r_0 \, dr_0

    Parameters
    ----------
    shell : Shell
        The shell. [-]
    held : list
        Nodes that are clamped. [-]
    p_side : array
        Pressures, rising from 0. [Pa]

    Returns
    -------
    w_p : array
        Displacement along z: a row for each pressure, a column for each node. [m]

    Notes
    -----
    The pressure goes on pushing along the axis, on the area as it was: fair for slopes up to some 20 degrees. The shell
    is that of ``large_stroke``. Rows are nan beyond a pressure at which it snaps through.

    References
    ----------
    .. [1] As for ``large_stroke``.

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> card = piece(*line(0.0, 0.0, 0.050, 0.0, 16), 0.00025, 3e9, 0.3, 0.18)
    >>> (large_load(card, [32], np.array([1.0, 100.0]))[:, 0] * 1000).round(4)
    array([0.0227, 0.5636])
    """
    p_side = np.atleast_1d(np.asarray(p_side, float))
    found = [bent.q[1::3] for bent in Large(shell, held).walk(p_side)]
    return np.array(found + [np.full(len(shell.r), np.nan)] * (len(p_side) - len(found)))

"""A diaphragm that is driven at one ring of it and bends: what it takes to move that, and how all the rest follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import eigh

from handwound.physics.rayleigh import Radiator
from handwound.physics.shell.element import Harmonic
from handwound.physics.shell.meridian import Array, Shell

F_TOP = 20e3
"""Up to where the answer is asked for: where hearing ends. [Hz] (from memory)"""
BEYOND = 2.0
"""Notes up to this many times that are taken along."""
AT_ONCE = 100
"""Frequencies at once: more need too much memory to be quick."""


class Answer(NamedTuple):
    """Of each frequency: force over velocity where it is driven [kg/s], and the nodes' velocities where that is 1.

    v is [frequency, (along r, along z), node].
    """

    Z_m: Array
    v: Array


class Driven:
    """Diaphragm, cap, surround and former as one shell that moves evenly all round, driven along the axis at one node.

    There a rigid ring, the winding, keeps it round and level: mass ``m_ring`` [kg], held with ``K_ring`` [N/m], complex
    where the spider loses. The shell's own losses are the loss factors of its sheets. Air loads the ``radiator``, the
    skin of the same nodes. Inside, the motion is a sum: how the shell follows when the node is moved slowly, and its
    notes while the node is held, up to ``BEYOND`` times ``f_top``.
    """

    def __init__(
        self,
        shell: Shell,
        neck: int,
        held: Sequence[int],
        m_ring: float = 0.0,
        K_ring: complex = 0.0,
        radiator: Radiator | None = None,
        f_top: float = F_TOP,
    ) -> None:
        body = Harmonic(shell, 0)
        none = np.array([], dtype=int)
        space = body.space(np.array(held, dtype=int), none, np.array([neck]))
        whole = body.stiffness(), body.stiffness(shell.eta), body.mass()
        K, K_lost, M = ((space.T @ matrix @ space).toarray() for matrix in whole)
        squares, notes = eigh(K[1:, 1:], M[1:, 1:], subset_by_value=(-np.inf, (2 * np.pi * BEYOND * f_top) ** 2))
        self.f_held = np.sqrt(np.maximum(squares, 0)) / (2 * np.pi)
        """Notes while the driven node is held. [Hz]"""
        followed = np.zeros((len(K), 1 + len(squares)))
        followed[0, 0], followed[1:, 0], followed[1:, 1:] = 1.0, -np.linalg.solve(K[1:, 1:], K[1:, 0]), notes
        self.K, self.M = ((followed.T @ matrix @ followed).astype(complex) for matrix in (K + 1j * K_lost, M))
        self.K[0, 0] += K_ring
        self.M[0, 0] += m_ring
        self.basis = _along_r_and_z(np.asarray(space @ followed))
        self.skin = radiator.on(self.basis) if radiator else None

    def answer(self, f: ArrayLike, rho_0: float, c_0: float, sides: int = 2) -> Answer:
        """What the driven node takes and how the rest moves, with the air on so many sides of the skin."""
        f = np.atleast_1d(np.asarray(f, float))
        parts = [self._some(f[k : k + AT_ONCE], rho_0, c_0, sides) for k in range(0, len(f), AT_ONCE)]
        return Answer(*(np.concatenate(each) for each in zip(*parts, strict=True)))

    def _some(self, f: Array, rho_0: float, c_0: float, sides: int) -> Answer:
        s = 2j * np.pi * f[:, None, None]
        Z = s * self.M + self.K / s
        if self.skin:
            Z += sides * self.skin.load(f, rho_0, c_0)
        followed = -np.linalg.solve(Z[:, 1:, 1:], Z[:, 1:, :1])
        Z_m = Z[:, 0, 0] + np.einsum("fj,fjk->f", Z[:, 0, 1:], followed)
        v = self.basis[:, 0] + followed[:, :, 0] @ self.basis[:, 1:].T
        return Answer(Z_m, v.reshape(len(v), 2, -1))


def _along_r_and_z(motions: Array) -> Array:
    """Of motions of all components, node by node, what goes along r at each node, then what goes along z."""
    of_nodes = motions.reshape(-1, 3, motions.shape[1])
    return np.concatenate([of_nodes[:, 0], of_nodes[:, 1]])

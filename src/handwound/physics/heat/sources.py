"""Windings as sources of heat: on a supply with two limits, at a steady voltage, or with a fixed power."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from handwound.physics.excitation import supply_current
from handwound.physics.wire import resistivity

if TYPE_CHECKING:
    import numpy.typing as npt

    from handwound.physics.heat.network import Heat
    from handwound.quantities import Num

    Array = npt.NDArray[np.float64]


@dataclass(frozen=True, eq=False, kw_only=True)
class Winding:
    """A winding on some nodes, its wire shared among them; each piece has the resistance of its own temperature."""

    nodes: tuple[int, ...]
    share: Array
    R_20: Num
    alpha_20: Num

    def parts(self, T: Array) -> Array:
        """Resistance of each piece. [Ω]"""
        return np.asarray(resistivity(self.R_20 * self.share, self.alpha_20, T[list(self.nodes)]))

    def R_T(self, T: Array) -> Num:
        """Resistance of the whole winding at the temperatures of all nodes. [Ω]"""
        return np.sum(self.parts(T), axis=0)

    def T_mean(self, T: Array) -> Num:
        """Temperature that its resistance tells. [°C]"""
        return np.sum(self.share * T[list(self.nodes)], axis=0)

    def _made(self, T: Array, parts: Array, P: Num, n: Num) -> tuple[Array, Array]:
        """The heat P over the pieces by their resistance, and its slope where P goes with R to the power n."""
        made = P * parts / np.sum(parts, axis=0)
        q = np.zeros((len(T), *np.broadcast_shapes(T.shape[1:], made.shape[1:])))
        slope = q.copy()
        q[list(self.nodes)] = made
        slope[list(self.nodes)] = n * made * self.alpha_20 * self.R_20 * self.share / parts
        return q, slope


@dataclass(frozen=True, eq=False, kw_only=True)
class Supplied(Winding):
    """A winding on a supply that gives ``V_max`` or ``I_max``, whichever is met first."""

    V_max: Num
    I_max: Num = np.inf

    def current(self, T: Array) -> Num:
        """Current. [A]"""
        return supply_current(self.R_T(T), self.V_max, self.I_max)

    def __call__(self, T: Array) -> tuple[Array, Array]:
        """Heat made in each node, and its slope over the node's temperature. [W], [W/K]"""
        parts = self.parts(T)
        R = np.sum(parts, axis=0)
        I = supply_current(R, self.V_max, self.I_max)
        # at a fixed current the heat grows with the resistance, at a fixed voltage it falls
        return self._made(T, parts, I**2 * R, np.where(I < self.I_max, -1.0, 1.0))


@dataclass(frozen=True, eq=False, kw_only=True)
class Played(Winding):
    """A winding under a programme that makes ``P_cold`` in it while its resistance is Re; at R it makes (Re/R) to the
    power ``n_hot`` of that."""

    P_cold: Num
    Re: Num
    n_hot: Num

    def P(self, T: Array) -> Num:
        """Heat in the whole winding. [W]"""
        return self.P_cold * (self.Re / self.R_T(T)) ** self.n_hot

    def __call__(self, T: Array) -> tuple[Array, Array]:
        """Heat made in each node, and its slope over the node's temperature. [W], [W/K]"""
        return self._made(T, self.parts(T), self.P(T), -self.n_hot)


@dataclass(frozen=True, eq=False)
class Fixed:
    """So much heat in each of some nodes, whatever their temperature."""

    nodes: tuple[int, ...]
    P: Array

    def __call__(self, T: Array) -> tuple[Array, Array]:
        """Heat made in each node, and its slope. [W], [W/K]"""
        q = np.zeros((len(T), *np.broadcast_shapes(T.shape[1:], np.shape(self.P)[1:])))
        q[list(self.nodes)] = self.P
        return q, np.zeros_like(q)


@dataclass(frozen=True, eq=False)
class Together:
    """Some sources of heat as one."""

    sources: Sequence[Heat]

    def __call__(self, T: Array) -> tuple[Array, Array]:
        """Heat made in each node, and its slope over the node's temperature. [W], [W/K]"""
        q, slope = np.zeros_like(T), np.zeros_like(T)
        for source in self.sources:
            made, steeper = source(T)
            q, slope = q + made, slope + steeper
        return q, slope

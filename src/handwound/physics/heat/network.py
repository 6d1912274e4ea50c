"""Heat in a few nodes: what they hold, what leads it between them, what gives it to the room; at rest and in time."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.sparse import csr_matrix

from handwound.physics.heat.convection import h_cylinder, h_down, h_layer, h_up, h_vertical
from handwound.physics.heat.radiation import h_radiation

if TYPE_CHECKING:
    import numpy.typing as npt

    from handwound.quantities import Num

    Array = npt.NDArray[np.float64]
    Ends = npt.NDArray[np.int64]

FILMS: dict[str, Callable[[Num, Num, Num], Num]] = {
    "cylinder": h_cylinder, "vertical": h_vertical, "up": h_up, "down": h_down,
}  # fmt: skip
"""Natural convection by how a face lies: a lying cylinder, an upright wall, a face that looks up or down."""
WARMER = 0.1
"""By so much every node is warmed to see how much better air and radiation then cool. [K]"""
PACE, DRAWN, STEPS = 1e-4, 1e-2, 60
"""A state of rest is found to this many kelvin, that of each of many networks at once to so many, in at most so many
steps."""
Heat = Callable[["Array"], "tuple[Array, Array]"]
"""Heat put into each node, and its slope over the node's temperature, at the temperatures of all nodes. [W], [W/K]"""


def _longer(rows: Array, more: Num) -> Array:
    """Rows with one more at the end, their further axes broadcast together."""
    more = np.asarray(more, float).reshape(1, *[1] * (rows.ndim - 1 - np.ndim(more)), *np.shape(more))
    shape = np.broadcast_shapes(rows.shape[1:], more.shape[1:])
    return np.concatenate([np.broadcast_to(each, (len(each), *shape)) for each in (rows, more)])


class NoRestError(ArithmeticError):
    """Heat outruns the cooling at every temperature."""


class Links(NamedTuple):
    """What leads heat from node to node: solid, its conductance does not hang on temperature. [W/K]"""

    i: Ends
    j: Ends
    G: Array


class Layers(NamedTuple):
    """Air between two walls: area, width, height, emissivity of both together, resistance of the solids before it."""

    i: Ends
    j: Ends
    A: Array
    d: Array
    height: Array
    eps: Array
    R_th: Array


class Faces(NamedTuple):
    """Faces that give heat to the air, node ``j``: area, size, emissivity, resistance of the solid before.

    ``A`` counts as much as it cools; ``A_touch`` is what of the face a hand can reach, 0 where it reaches none.
    """

    i: Ends
    j: Ends
    A: Array
    size: Array
    eps: Array
    R_th: Array
    A_touch: Array


class Few(NamedTuple):
    """Some nodes whose surroundings stay as they are: heat capacities [node, ...], conductances [node, node, ...]."""

    C_th: Array
    G: Array

    @property
    def tau_T(self) -> Num:
        """Heat kept over heat led away, for a kelvin of all of them. [s]"""
        tau: Num = np.sum(self.C_th, axis=0) / np.sum(self.G, axis=(0, 1))
        return tau

    def rise(self, share: Array, t_s: float) -> Array:
        r"""How much each has warmed some time after a watt was switched on and shared among them. [K/W]

        .. math:: C \dot T = P - G T, \quad T = \sum_k v_k \frac{1 - e^{-w_k t}}{w_k} (v_k \cdot P), \quad w, v
            \; \text{of} \; C^{-1/2} G C^{-1/2}
        """
        root = np.sqrt(self.C_th)
        w, v = np.linalg.eigh(np.moveaxis(self.G / (root * root[:, None]), (0, 1), (-2, -1)))
        into = np.einsum("...ik,i...->...k", v, share / root)
        return np.asarray(np.einsum("...ik,...k->i...", v, into * -np.expm1(-w * t_s) / w) / root)


@dataclass(frozen=True, eq=False)
class Run:
    """Temperatures of all nodes [node, t] over the times t, and the heat put in and given off until then."""

    t: Array
    T: Array
    E_in: Array
    E_out: Array


@dataclass(frozen=True, eq=False)
class Network:
    """``n`` nodes with heat capacities ``C_th`` [node, ...]; the room is one more node behind them.

    All numbers may carry further axes, along which as many networks are solved at once.
    """

    C_th: Array
    links: Links
    layers: Layers
    faces: Mapping[str, Faces]
    k_conv: Num = 1.0
    _kept: dict[str, Array] = field(default_factory=dict)

    @property
    def n(self) -> int:
        """Number of nodes."""
        return len(self.C_th)

    @cached_property
    def ends(self) -> tuple[Ends, Ends]:
        """The two nodes of every conductance, in the order of ``conductances``."""
        pairs = [(self.links.i, self.links.j), (self.layers.i, self.layers.j)]
        pairs += [(face.i, face.j) for face in self.faces.values()]
        i, j = zip(*pairs, strict=True)
        return np.concatenate(i), np.concatenate(j)

    def conductances(self, T: Array) -> Array:
        """Conductance of every link, layer and face at these temperatures, the room's the last. [W/K]"""
        found = [self.links.G]
        i, j, A, d, height, eps, R_th = self.layers
        if len(i):
            h = h_layer(T[i], T[j], d, height) + h_radiation(T[i], T[j], eps)
            found.append(1 / (R_th + 1 / (A * h)))
        for lies, face in self.faces.items():
            h = self._film(lies, T[face.i], T[face.j], face.size, face.eps)
            found.append(1 / (face.R_th + 1 / (face.A * h)))
        shape = np.broadcast_shapes(*(each.shape[1:] for each in found))
        return np.concatenate([np.broadcast_to(each, (len(each), *shape)) for each in found])

    def _film(self, lies: str, T_s: Array, T_a: Array, size: Array, eps: Array) -> Array:
        """What air and radiation take from a face. [W/(m²·K)]"""
        return np.asarray(self.k_conv * FILMS[lies](T_s, T_a, size) + h_radiation(T_s, T_a, eps))

    @cached_property
    def _out_of(self) -> csr_matrix:
        """Which flow leaves which node, the room the last: 1 where it begins, -1 where it ends."""
        found = np.zeros((self.n + 1, len(self.ends[0])))
        for sign, nodes in zip((1.0, -1.0), self.ends, strict=True):
            found[nodes, np.arange(len(nodes))] += sign
        return csr_matrix(found)

    def given_off(self, T: Array, G: Array) -> tuple[Array, Array]:
        """Heat that leaves each node, and the heat that all of them give to the room. [W]"""
        i, j = self.ends
        flow = G * (T[i] - T[j])
        out = (self._out_of @ flow.reshape(len(flow), -1)).reshape(self.n + 1, *flow.shape[1:])
        return out[:-1], -out[-1]

    def at_room(self, T_room: Num) -> Array:
        """All nodes as warm as the room. [°C]"""
        shape = np.broadcast_shapes(np.shape(T_room), self.C_th.shape[1:])
        return np.array(np.broadcast_to(T_room, (self.n + 1, *shape)), float)

    def few(self, nodes: Sequence[int], T: Array) -> Few:
        """Some nodes by themselves, all others held as warm as they are."""
        G = self.matrix(self.conductances(T))[np.ix_(nodes, nodes)]
        C_th = self.C_th[list(nodes)]
        return Few(C_th + 0.0 * G[0], G + 0.0 * C_th)

    def outside(self, T: Array) -> tuple[Num, Num]:
        """Area of all faces that a hand can reach, and the temperature of the warmest. [m²], [°C]

        The temperatures may have one axis more than the network: that of time.
        """
        areas, found = [], []
        for lies, face in self.faces.items():
            T_s, T_a = T[face.i], T[face.j]
            later = [1] * (T.ndim - face.A.ndim)
            A, size, eps, R_th = (each.reshape(*each.shape, *later) for each in face[2:6])
            at_face = T_a + (T_s - T_a) / (1 + self._film(lies, T_s, T_a, size, eps) * A * R_th)
            areas.append(np.sum(face.A_touch, axis=0))
            found += list(at_face[np.max(face.A_touch, axis=tuple(range(1, face.A_touch.ndim))) > 0])
        return sum(areas), np.max(np.stack(np.broadcast_arrays(*found)), axis=0)

    def matrix(self, G: Array) -> Array:
        """The conductances as a matrix [node, node, ...] that turns temperatures above the room into heat. [W/K]"""
        found = np.zeros((self.n, self.n, *G.shape[1:]))
        for i, j, each in zip(*self.ends, G, strict=True):
            found[i, i] += each
            if j < self.n:
                found[j, j] += each
                found[i, j] -= each
                found[j, i] -= each
        return found

    def steady(self, T_room: Num, heat: Heat, start: Array | None = None) -> Array:
        """Temperatures of the nodes and of the room when nothing changes any more. [°C]

        Newton's iteration with an inverse that is kept, for other heat in the same network too, while it still makes
        each step smaller by a third; what it does not know the steps themselves tell. Where a kept one leads astray, as
        from a cool network to one that glows, all begins anew without it, and long steps are cut short.
        """
        room = self.at_room(T_room)
        begin = room + 10.0 if start is None else room * 0.0 + start
        begin[-1] = room[-1]
        steps: list[Array] = []
        T, before, inverse = begin, np.inf, self._kept.get("inverse")
        is_kept = inverse is not None
        for _ in range(STEPS):
            G = self.conductances(T)
            out, _ = self.given_off(T, G)
            q, slope = heat(T[:-1])
            if inverse is None or inverse.shape[2:] != out.shape[1:]:
                inverse = self._kept["inverse"] = self._inverse(T, G, slope)
            step = _told(np.einsum("ij...,j...->i...", inverse, q - out), steps)
            step *= LEAP / np.maximum(np.max(np.abs(step), axis=0), LEAP)
            T = _longer(T[:-1] + step, room[-1])
            widest = np.max(np.abs(step))
            if not np.max(T) < HOTTEST or np.min(T) < COLDEST:
                if not is_kept:
                    break
                T, steps, before, inverse, is_kept = begin, [], np.inf, None, False
                continue
            if widest < (PACE if T[0].size == 1 else DRAWN):
                return T
            steps.append(step)
            if widest > min(before * 2 / 3, FAR):
                inverse, steps = None, []
            before = widest
        raise NoRestError

    def _inverse(self, T: Array, G: Array, slope: Array) -> Array:
        """The inverse of the slopes of heat given off, less those of heat made: temperatures for heat. [K/W]"""
        found: Array = self.matrix(self.slopes(T, G))
        found = found + np.zeros(np.broadcast_shapes(found.shape[2:], slope.shape[1:]))
        nodes = np.arange(self.n)
        found[nodes, nodes] -= slope
        inverse = np.linalg.inv(np.moveaxis(found, (0, 1), (-2, -1)))
        return np.asarray(np.moveaxis(inverse, (-2, -1), (0, 1)), float)

    def behind(self, G: Num, C_th: Num) -> Network:
        """The same network with its faces in a room of its own, the last node, and a conductance from it to the room.

        What led to the room without a face, the cone, still does. [W/K]
        """
        i, j, G_all = self.links
        outwards = np.where(j == self.n, self.n + 1, j)
        links = Links(np.append(i, self.n), np.append(outwards, self.n + 1), _longer(G_all, G))
        return replace(self, _kept={}, C_th=_longer(self.C_th, C_th), links=links)

    def slopes(self, T: Array, G: Array) -> Array:
        """What each conductance adds to the heat given off for a kelvin: warm faces cool better. [W/K]"""
        faces = slice(len(self.links.i) + len(self.layers.i), None)
        i, j = (ends[faces] for ends in self.ends)
        warm = T + WARMER
        warm[j] = T[j]
        warmer = self.conductances(warm)
        found = G + 0.0 * warmer
        found[faces] += (T[i] - T[j]) * (warmer - G)[faces] / WARMER
        return np.asarray(found)

    def run(self, t: Array, T_0: Array, heat: Heat) -> Run:
        """Temperatures over the times t, from ``T_0`` (the room's is its last) at the first of them on."""
        from scipy.integrate import solve_ivp

        n, room = self.n, T_0[-1:]

        def change(_: float, y: Array) -> Array:
            T = np.append(y[:n], room)
            out, lost = self.given_off(T, self.conductances(T))
            q, _slope = heat(y[:n])
            return np.concatenate([(q - out) / self.C_th, [np.sum(q), lost]])

        def jacobian(_: float, y: Array) -> Array:
            T = np.append(y[:n], room)
            G = self.slopes(T, self.conductances(T))
            _q, slope = heat(y[:n])
            found = np.zeros((n + 2, n + 2))
            found[:n, :n] = (np.diag(slope) - self.matrix(G)) / self.C_th[:, None]
            found[n, :n] = slope
            to_room = self.ends[1] == n
            np.add.at(found[n + 1], self.ends[0][to_room], G[to_room])
            return found

        start = np.concatenate([T_0[:n], [0.0, 0.0]])
        found = solve_ivp(change, (t[0], t[-1]), start, method="LSODA", t_eval=t, jac=jacobian, rtol=RTOL, atol=ATOL)
        if not found.success:
            raise NoRestError
        T = np.vstack([found.y[:n], np.full(len(t), room[0])])
        return Run(np.asarray(t, float), T, found.y[n], found.y[n + 1])


def _told(step: Array, steps: Sequence[Array]) -> Array:
    """A step of a kept inverse with what the steps before it tell of the slopes.

    Broyden's good update in limited memory (C. T. Kelley, from memory); no step is stretched to more than four.
    """
    for k, each in enumerate(steps):
        along = np.sum(each * step, axis=0) / np.maximum(np.sum(each**2, axis=0), LEAST_STEP)
        step = step + steps[k + 1] * along if k + 1 < len(steps) else step / (1 - np.minimum(along, 0.75))
    return step


LEAST_STEP = 1e-30
"""Square of a step that is none. [K²]"""
LEAP, FAR = 1000.0, 200.0
"""No step goes further than the first of these; after one that goes further than the second all slopes are new. [K]"""
HOTTEST, COLDEST = 5000.0, -200.0
"""No state of rest is looked for beyond. [°C]"""
RTOL, ATOL = 1e-5, 1e-3
"""How well a run in time is followed: relative, and in kelvin or joule."""

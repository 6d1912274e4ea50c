"""From round bodies in a stack to a network of heat: what touches, what faces what over air, what faces the room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from handwound.physics.heat.bodies import INNER, LOWER, OPPOSITE, OUTER, TOUCH, UPPER, Body, Sight
from handwound.physics.heat.network import Faces, Layers, Links, Network
from handwound.physics.heat.radiation import eps_between

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array
    from handwound.quantities import Num

Row = tuple[Any, ...]
"""Two nodes and the numbers of what stands between them."""


class Cover(NamedTuple):
    """The cone over the front: its radius, and of the air behind it the conductance through the cone to the room, and
    the heat that it stores. [m], [W/K], [J/K]"""

    r: Num
    G: Num
    C_th: Num


class Placed(NamedTuple):
    """How the motor lies: for each side how its faces do, nothing where they give off no heat; its cover in front."""

    lies: tuple[str, str, str, str]
    cover: Cover | None = None


class Fin(NamedTuple):
    """More area on the outermost piece of a body: which, how it lies, as much as it cools, its size, its emissivity,
    and all its area, that a hand can reach."""

    on: str
    lies: str
    A: Num
    size: Num
    eps: Num
    A_touch: Num


class Cells(NamedTuple):
    """The network of some bodies; for each of its nodes the piece of a body that it is. The air behind a cone is one
    node more."""

    network: Network
    pieces: tuple[Body, ...]

    def of(self, name: str) -> list[int]:
        """The nodes of one body."""
        return [k for k, piece in enumerate(self.pieces) if piece.name == name]

    def shares(self, nodes: Sequence[int]) -> Array:
        """The share of their volume in each of some nodes. [1]"""
        volumes = _stack([self.pieces[k].volume for k in nodes], self.network.C_th.ndim - 1)
        return volumes / np.sum(volumes, axis=0)

    @classmethod
    def cut(cls, bodies: Sequence[Body], placed: Placed, k_conv: Num = 1.0, fins: Sequence[Fin] = ()) -> Cells:
        """Cut the bodies, find what each face sees, and make the network of it, with fins on some.

        Which faces meet is decided once by the mean of each size; with arrays for sizes only areas and distances
        follow.
        """
        pieces = tuple(piece for body in bodies for piece in body.cut(bodies))
        seen, free = Sight.all(pieces)
        solid, air = _met(pieces, seen)
        stored = [piece.c_v * piece.volume for piece in pieces]
        room = len(pieces)
        if placed.cover:
            solid.append((room, room + 1, placed.cover.G))
            stored.append(placed.cover.C_th)
            room += 1
        faces = _free(pieces, free, placed, room)
        for fin in fins:
            k = max(
                (k for k, piece in enumerate(pieces) if piece.name == fin.on), key=lambda k: np.mean(pieces[k].r_out)
            )
            faces.setdefault(fin.lies, []).append((k, room, fin.A, fin.size, fin.eps, 0.0, fin.A_touch))
        rows = (*solid, *air, *(row for each in faces.values() for row in each))
        axes = max(map(np.ndim, [k_conv, *stored, *(number for row in rows for number in row)]))
        made = {lies: Faces(*_columns(rows, 5, axes)) for lies, rows in faces.items()}
        links, layers = Links(*_columns(solid, 1, axes)), Layers(*_columns(air, 5, axes))
        return cls(Network(_stack(stored, axes), links, layers, made, k_conv), pieces)


def _met(pieces: Sequence[Body], seen: Sequence[Sight]) -> tuple[list[Row], list[Row]]:
    """What touches, and what has air between."""
    solid: list[Row] = []
    air: list[Row] = []
    for sight in seen:
        a, b = pieces[sight.i], pieces[sight.j]
        A_a, A_b, d, height = sight.between(a, b)
        R_th = a.half(sight.side) / A_a + b.half(OPPOSITE[sight.side]) / A_b
        if np.mean(d) < TOUCH:
            solid.append((sight.i, sight.j, 1 / R_th))
        else:
            air.append((sight.i, sight.j, (A_a + A_b) / 2, d, height, eps_between(a.eps, b.eps), R_th))
    return solid, air


def _free(
    pieces: Sequence[Body], free: Sequence[tuple[int, int, float]], placed: Placed, room: int
) -> dict[str, list[Row]]:
    """What faces the room, or the air behind the cone, by how it lies.

    A covered body stands apart from the others, so its films are those of its own size.
    """
    widest = max((2 * piece.r_out for piece in pieces), key=np.mean)
    low, high = (
        pick((piece.outline(side) for piece in pieces), key=np.mean) for pick, side in ((min, LOWER), (max, UPPER))
    )
    found: dict[str, list[Row]] = {}
    for k, side, share in free:
        piece, lies = pieces[k], placed.lies[side]
        if not lies:
            continue
        A = piece.area(side) * share
        covered = placed.cover is not None and (
            piece.covered or (side == UPPER and bool(np.mean(piece.r_out) <= np.mean(placed.cover.r) + TOUCH))
        )
        if lies == "cylinder":
            size = 2 * piece.r_out
        elif piece.covered:
            size = piece.z_hi - piece.z_lo
        else:
            size = high - low if side in (INNER, OUTER) else widest
        air, A_touch = (room - 1, 0.0) if covered else (room, A)
        found.setdefault(lies, []).append((k, air, A, size, piece.eps, piece.half(side) / A, A_touch))
    return found


def _columns(rows: Sequence[tuple[Any, ...]], count: int, axes: int) -> list[Any]:
    """Rows of two nodes and ``count`` numbers as columns."""
    by_column = list(zip(*rows, strict=True)) or [()] * (2 + count)
    nodes = [np.array(column, int) for column in by_column[:2]]
    return [*nodes, *(_stack(column, axes) for column in by_column[2 : 2 + count])]


def _stack(values: Sequence[Num], axes: int) -> Array:
    """Numbers in a row, each with as many further axes."""
    if not len(values):
        return np.zeros((0, *[1] * axes))
    stacked = np.stack(np.broadcast_arrays(*(np.asarray(value, float) for value in values)))
    return stacked.reshape(len(values), *[1] * (axes + 1 - stacked.ndim), *stacked.shape[1:])

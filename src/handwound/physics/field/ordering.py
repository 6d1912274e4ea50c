"""The order of elimination: cut the grid in two along a line, number both halves first and the line last, again and again."""

from __future__ import annotations

import numpy as np

from handwound.physics.field.bh import Array

LEAF = 2  # elements a side below which cutting no longer pays (measured)


def nested_dissection(nz: int, nr: int, order: int) -> Array:
    r"""Order in which the nodes of a grid are eliminated so that few new entries appear.

    .. math:: (A_1, A_2, S): \quad A_1 \text{ and } A_2 \text{ do not touch once } S \text{ is left for last}

    Parameters
    ----------
    nz : int
        Elements along the axis. [1]
    nr : int
        Elements along the radius. [1]
    order : int
        Degree of the elements. [1]

    Returns
    -------
    nodes : int
        Numbers of all nodes, iz * (nr * order + 1) + ir, in order of elimination. [1]

    Notes
    -----
    The factor then holds of the order n log n entries instead of n^1.5.

    References
    ----------
    .. [1] George 1973, Nested dissection of a regular finite element mesh, SIAM J. Numer. Anal. 10 (from memory).
    """
    stride = nr * order + 1
    grid = np.arange((nz * order + 1) * stride).reshape(-1, stride)
    out: list[Array] = []

    def cut(z0: int, z1: int, r0: int, r1: int) -> None:
        """Number the nodes of the open block between the grid lines z0, z1 and r0, r1 (-1 and n + 1 are outside)."""
        tall, wide = z1 - z0, r1 - r0
        inner = (slice(max(z0 * order + 1, 0), z1 * order), slice(max(r0 * order + 1, 0), r1 * order))
        if max(tall, wide) <= LEAF:
            out.append(grid[inner].ravel())
        elif tall >= wide:
            middle = (z0 + z1) // 2
            cut(z0, middle, r0, r1)
            cut(middle, z1, r0, r1)
            out.append(grid[middle * order, inner[1]])
        else:
            middle = (r0 + r1) // 2
            cut(z0, z1, r0, middle)
            cut(z0, z1, middle, r1)
            out.append(grid[inner[0], middle * order])

    cut(-1, nz + 1, -1, nr + 1)
    return np.concatenate(out)

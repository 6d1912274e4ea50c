"""The large linear system, made small: nodes inside an element are eliminated before the sparse factorisation.

They touch nothing outside their element. For degree 3 that leaves 5 unknowns an element instead of 9, and since air
does not change from one Newton step to the next, only the steel elements are reduced again.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from handwound.errors import FieldError
from handwound.physics.field.bh import Array

LEAF = 2  # elements a side below which cutting no longer pays (measured)


def _rim_and_core(order: int) -> tuple[Array, Array]:
    """Local numbers of an element's nodes on its rim and inside."""
    inside = np.zeros((order + 1, order + 1), bool)
    inside[1:-1, 1:-1] = True
    return np.flatnonzero(~inside), np.flatnonzero(inside)


class Reduced:
    """Element matrices without their inner nodes, K = K_rr - K_rc K_cc^-1 K_cr, and what is needed to come back."""

    def __init__(self, K: Array, order: int) -> None:
        rim, core = _rim_and_core(order)
        self.K = K[:, rim[:, None], rim]
        if len(core):
            self.inverse = np.linalg.inv(K[:, core[:, None], core])
            across = K[:, core[:, None], rim]
            self.back = np.matmul(self.inverse, across)
            self.K -= np.matmul(across.transpose(0, 2, 1), self.back)


class Pattern:
    """Which unknowns there are, the order of elimination, and the slot of each element entry in the sparse matrix."""

    def __init__(self, nz: int, nr: int, order: int, nodes: Array) -> None:
        rim, core = _rim_and_core(order)
        stride = nr * order + 1
        elimination = _nested_dissection(nz, nr, order)
        i_r, i_z = elimination % stride, elimination // stride
        self.unknowns = elimination[(i_r > 0) & ((i_r % order == 0) | (i_z % order == 0))]
        n = self.size = len(self.unknowns)
        number = np.full(stride * (nz * order + 1), n)
        number[self.unknowns] = np.arange(n)
        self.rim, self.core = nodes[:, rim], nodes[:, core]
        self.local = number[self.rim]
        # 16-bit numbers sort in linear time; the nodes on the axis carry the number n and end past the last slot
        local = self.local.astype(np.uint16 if n < 2**16 - 1 else np.int32)
        shape = (*local.shape, local.shape[1])
        row = np.broadcast_to(local[:, :, None], shape).ravel()
        column = np.broadcast_to(local[:, None, :], shape).ravel()
        by_place = np.lexsort((column, row))
        row, column = row[by_place], column[by_place]
        first = np.append(True, (row[1:] != row[:-1]) | (column[1:] != column[:-1]))
        used = (row < n) & (column < n)
        kept = first & used
        self.indptr = np.append(0, np.cumsum(np.bincount(row[kept], minlength=n))).astype(np.int32)
        self.indices = column[kept].astype(np.int32)
        slot = np.empty(len(row), np.intp)
        slot[by_place] = np.where(used, np.cumsum(kept) - 1, len(self.indices))
        self.slot = slot.reshape(shape)

    def sum(self, elements: Array, K: Array) -> Array:
        """Element matrices added up in the slots of the sparse matrix."""
        return np.bincount(self.slot[elements].ravel(), K.ravel(), len(self.indices) + 1)[:-1]


class Step:
    """A factored, symmetric system made of groups of reduced elements."""

    def __init__(self, pattern: Pattern, groups: list[tuple[Array, Reduced]]) -> None:
        self.pattern, self.groups = pattern, groups
        data = np.sum([pattern.sum(elements, reduced.K) for elements, reduced in groups], axis=0)
        n = pattern.size
        matrix = csc_matrix((data, pattern.indices, pattern.indptr), (n, n))
        try:
            self.factor = splu(matrix, "NATURAL", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
        except RuntimeError as fault:
            raise FieldError(f"magnetic field: must have one solution; found a singular system ({fault}).") from fault

    def solve(self, load: Array) -> Array:
        """The node values that answer a load given on all nodes."""
        pattern = self.pattern
        out = np.zeros_like(load)
        reduced_load = load[pattern.unknowns]
        if pattern.core.size:
            for elements, reduced in self.groups:
                moved = np.matmul(load[pattern.core[elements]][:, None, :], reduced.back)
                moved = np.bincount(pattern.local[elements].ravel(), moved.ravel(), pattern.size + 1)
                reduced_load = reduced_load - moved[:-1]
        out[pattern.unknowns] = self.factor.solve(reduced_load)
        if pattern.core.size:
            for elements, reduced in self.groups:
                core = pattern.core[elements]
                inner = np.matmul(reduced.inverse, load[core][:, :, None])
                inner -= np.matmul(reduced.back, out[pattern.rim[elements]][:, :, None])
                out[core] = inner[:, :, 0]
        return out


def _nested_dissection(nz: int, nr: int, order: int) -> Array:
    """Numbers of all nodes in an order of elimination that keeps the factor sparse.

    Cut the grid in two along a grid line, number both halves first and the line last, again and again
    (George 1973, SIAM J. Numer. Anal. 10, from memory).
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

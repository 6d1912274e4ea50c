"""What a coil sees of a field: force factor and flux linkage, as exact integrals of A over the coil's section."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from handwound.physics.field.bh import Array

if TYPE_CHECKING:
    from handwound.physics.field.solution import Solution

TABLE = 4_000_000  # entries up to which all radii times all levels are worth one product


def force_factor(
    solution: Solution, r_in: ArrayLike, r_out: ArrayLike, z_lo: ArrayLike, z_hi: ArrayLike, N: ArrayLike, x: ArrayLike
) -> Array:  # fmt: skip
    r"""Force factor of coils from the difference of A between their two ends.

    .. math:: Bl = \frac{2\pi N}{(r_{out}-r_{in})(z_{hi}-z_{lo})} \int_{r_{in}}^{r_{out}} r
        \left[A(r, z_{lo}+x) - A(r, z_{hi}+x)\right] dr

    Parameters
    ----------
    solution : Solution
        The field. [-]
    r_in : float
        Inner radius of the winding. [m]
    r_out : float
        Outer radius of the winding. [m]
    z_lo : float
        Lower level of the winding at x = 0. [m]
    z_hi : float
        Upper level of the winding at x = 0. [m]
    N : float
        Turns. [1]
    x : float
        Displacement. [m]

    Returns
    -------
    Bl : float
        Force factor, positive when the flux runs outwards; coils on the leading axes, x on the last. [T·m]

    Notes
    -----
    B_r = -dA/dz, so nothing is differentiated and the result is as good as A. Turns are spread evenly.

    References
    ----------
    .. [1] this project; the test compares with -dpsi/dx.
    """
    return np.asarray(force_factors((solution,), r_in, r_out, z_lo, z_hi, N, x)[0])


def force_factors(
    solution: Sequence[Solution], r_in: ArrayLike, r_out: ArrayLike, z_lo: ArrayLike, z_hi: ArrayLike, N: ArrayLike,
    x: ArrayLike,
) -> Array:  # fmt: skip
    r"""Force factor of coils in each of several fields on one grid.

    .. math:: Bl_k = \frac{2\pi N}{(r_{out}-r_{in})(z_{hi}-z_{lo})} \int_{r_{in}}^{r_{out}} r
        \left[A_k(r, z_{lo}+x) - A_k(r, z_{hi}+x)\right] dr

    Parameters
    ----------
    solution : list
        Fields that were solved together, on one grid. [-]
    r_in : float
        Inner radius of the winding. [m]
    r_out : float
        Outer radius of the winding. [m]
    z_lo : float
        Lower level of the winding at x = 0. [m]
    z_hi : float
        Upper level of the winding at x = 0. [m]
    N : float
        Turns. [1]
    x : float
        Displacement. [m]

    Returns
    -------
    Bl : float
        Force factor: fields on the first axis, then coils, x on the last. [T·m]

    Notes
    -----
    As :func:`force_factor`. Where the coils lie in the grid is found once for all fields: that is most of the work.

    References
    ----------
    .. [1] this project; the test compares with -dpsi/dx.
    """
    r_in, r_out, z_lo, z_hi, N, x = _on_one_shape(r_in, r_out, z_lo, z_hi, N, x)
    across = _across(solution, r_in, r_out, np.stack([z_lo + x, z_hi + x]), 0)
    return 2 * np.pi * N / ((r_out - r_in) * (z_hi - z_lo)) * (across[:, 0] - across[:, 1])


def flux_linkage(
    solution: Solution, r_in: ArrayLike, r_out: ArrayLike, z_lo: ArrayLike, z_hi: ArrayLike, N: ArrayLike, x: ArrayLike
) -> Array:  # fmt: skip
    r"""Flux linkage of coils.

    .. math:: \psi = \frac{2\pi N}{(r_{out}-r_{in})(z_{hi}-z_{lo})} \int\!\!\int r A\,dr\,dz

    Parameters
    ----------
    solution : Solution
        The field. [-]
    r_in : float
        Inner radius of the winding. [m]
    r_out : float
        Outer radius of the winding. [m]
    z_lo : float
        Lower level of the winding at x = 0. [m]
    z_hi : float
        Upper level of the winding at x = 0. [m]
    N : float
        Turns. [1]
    x : float
        Displacement. [m]

    Returns
    -------
    psi : float
        Flux linkage; coils on the leading axes, x on the last. [Wb]

    Notes
    -----
    Turns are spread evenly over the section; the field inside single wires is left out.

    References
    ----------
    .. [1] this project
    """
    r_in, r_out, z_lo, z_hi, N, x = _on_one_shape(r_in, r_out, z_lo, z_hi, N, x)
    across = _across((solution,), r_in, r_out, np.stack([z_lo + x, z_hi + x]), 1)[0]
    return 2 * np.pi * N / ((r_out - r_in) * (z_hi - z_lo)) * (across[1] - across[0])


def _on_one_shape(*values: ArrayLike) -> tuple[Array, ...]:
    """Coils on the leading axes and x, when it is an array, on a last axis of its own."""
    *coil, x = (np.asarray(v, float) for v in values)
    if x.ndim:
        coil = [v[..., None] for v in coil]
    return tuple(np.broadcast_arrays(*coil, x))


def _across(
    fields: Sequence[Solution], r_in: Array, r_out: Array, levels: Array, integrals_in_z: int
) -> Array:  # fmt: skip
    """The integral of r A (and of that in z) across every coil at both of its ends, [field, end in z, ...]."""
    one = fields[0]
    if one.bent:
        sides, levels = np.stack([r_in, r_out])[None], levels[:, None]
        ends = np.stack([one.bent.corners(each.A, sides, levels, integrals_in_z) for each in fields])
        return ends[:, :, 1] - ends[:, :, 0]
    r, z = one.r, one.z
    some_r, at_r = np.unique(r_in + 1j * r_out, return_inverse=True)  # each pair of radii once
    some_z, at_z = np.unique(levels, return_inverse=True)
    rows = z.primitive(some_z, 0) if integrals_in_z else z.values(some_z)
    columns = (r.primitive(some_r.imag, 1) - r.primitive(some_r.real, 1)).toarray()
    near = np.flatnonzero(columns.any(axis=0))  # nodes that no coil reaches count nothing
    columns, at_r = columns[:, near], np.broadcast_to(at_r, at_z.shape)
    out = np.empty((len(fields), *at_z.shape))
    for found, each in zip(out, fields, strict=True):
        along_r = np.asarray(rows @ each.A[:, near])
        if len(some_r) * len(some_z) <= max(TABLE, at_z.size):
            found[...] = (along_r @ columns.T)[at_z, at_r]
            continue
        flat = found.reshape(-1)
        for part in range(0, at_z.size, 20_000):
            chosen = slice(part, part + 20_000)
            flat[chosen] = np.einsum("kj,kj->k", along_r[at_z.ravel()[chosen]], columns[at_r.ravel()[chosen]])
    return out

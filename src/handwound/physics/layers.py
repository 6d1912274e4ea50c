"""One layer of a winding: how many turns lie in it and where it lies."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Count, Num

LAY = {"stacked": 1.0, "nested": 3**0.5 / 2}
"""Layer pitch in overall wire diameters: each turn on top of one turn, or in the groove between two that touch."""
ROUND_OFF = 1e-9
"""Share of a turn that is forgiven: 10 mm / 0.4 mm is 25 turns, however the computer writes 0.4."""


def turns_per_layer(h_w: Num, d_o: Num, k_p: Num) -> Count:
    r"""Whole turns that lie side by side in one layer.

    .. math:: N_l = \lfloor k_p h_w / d_o \rfloor

    Parameters
    ----------
    h_w : float
        Height of the winding along the axis. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_p : float
        Packing factor: turns laid per turns that would fit ideally. [1]

    Returns
    -------
    N_l : int
        Turns in one layer. [1]

    Notes
    -----
    A hand lays 0.86 to 0.97 of what would fit; count the first layer and ask :func:`packing_factor`.

    References
    ----------
    .. [1] Counting; the range of k_p is common practice, no source.

    Examples
    --------
    >>> turns_per_layer(0.010, 0.0004, 1.0), turns_per_layer(0.010, 0.0004, 0.93)
    (25, 23)
    """
    whole = np.floor(k_p * h_w / d_o * (1 + ROUND_OFF))
    return int(whole) if np.ndim(whole) == 0 else whole.astype(np.int64)


def packing_factor(N_1: Count, d_o: Num, h_w: Num) -> Num:
    r"""How tightly the first layer was laid.

    .. math:: k_p = N_1 d_o / h_w

    Parameters
    ----------
    N_1 : int
        Turns counted in the first layer. [1]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    h_w : float
        Height of the winding along the axis. [m]

    Returns
    -------
    k_p : float
        Packing factor. [1]

    Notes
    -----
    One turn is the least step, so the factor is known to 1/N_1. Above 1 the overall diameter or the height is wrong.

    References
    ----------
    .. [1] The definition of k_p.

    Examples
    --------
    >>> round(packing_factor(76, 0.000545, 0.044), 3)
    0.941
    """
    return cast("Num", N_1 * d_o / h_w)  # numpy's stubs know less of whole numbers times a float


def turns_in_grooves(N_l: Count, h_w: Num, d_o: Num, k_p: Num, k_lay: Num) -> Count:
    r"""Turns of a layer that lies half a pitch beside the one below: it may have one turn less.

    .. math:: N_g = N_l - 1 \text{ if } k_{lay} < 1 \text{ and } (N_l + 1/2) \, d_o / k_p > h_w,
        \quad N_g = N_l \text{ else}

    Parameters
    ----------
    N_l : int
        Turns in one layer, as many as fit. [1]
    h_w : float
        Height of the winding along the axis. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_p : float
        Packing factor. [1]
    k_lay : float
        Layer pitch in overall wire diameters; below 1 the layers lie in each other's grooves. [1]

    Returns
    -------
    N_l : int
        Turns in the grooves. [1]

    Notes
    -----
    The turns stand d_o / k_p apart. A hand crosses over the layer below once on each turn of its helix, and may lose
    one turn more where it turns round at the cheek.

    References
    ----------
    .. [1] Plane geometry of circles in a row.

    Examples
    --------
    >>> turns_in_grooves(25, 0.010, 0.0004, 1.0, 0.866), turns_in_grooves(25, 0.0102, 0.0004, 1.0, 0.866)
    (24, 25)
    """
    lies_beside = (k_lay < 1) & (N_l > 0)
    return N_l - (lies_beside & ((N_l + 0.5) * d_o > k_p * h_w * (1 + ROUND_OFF)))


def turns_in_layer(N_l: Count, n_layer: Count, h_w: Num, d_o: Num, k_p: Num, k_lay: Num, n_tape: int) -> Count:
    r"""Turns in the first, second, ... layer.

    .. math:: N_n = N_g \text{ in every second layer of a group between tapes}, \quad N_n = N_l \text{ else}

    Parameters
    ----------
    N_l : int
        Turns in one layer, as many as fit. [1]
    n_layer : int
        Which layer counted from the innermost as 1. [1]
    h_w : float
        Height of the winding along the axis. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_p : float
        Packing factor. [1]
    k_lay : float
        Layer pitch in overall wire diameters. [1]
    n_tape : int
        Layers between two tape layers or 0 for none. [1]

    Returns
    -------
    N_l : int
        Turns in that layer. [1]

    Notes
    -----
    Layer 1 begins at a cheek, layer 2 half a pitch further in the grooves, layer 3 at the cheek again. Tape covers
    the grooves, so above it the count begins anew. Stacked layers are all alike.

    References
    ----------
    .. [1] Plane geometry of circles in a row.

    Examples
    --------
    >>> [turns_in_layer(25, n, 0.010, 0.0004, 1.0, LAY["nested"], 2) for n in (1, 2, 3, 4)]
    [25, 24, 25, 24]
    """
    below_in_group = (n_layer - 1) % (n_tape or n_layer)
    return N_l - (N_l - turns_in_grooves(N_l, h_w, d_o, k_p, k_lay)) * (below_in_group % 2)


def tapes(n_l: Count, n_tape: int) -> Count:
    r"""Layers of tape in a winding: one after every so many layers, none on the last.

    .. math:: n_{tapes} = \lfloor (n_l - 1) / n_{tape} \rfloor

    Parameters
    ----------
    n_l : int
        Number of layers. [1]
    n_tape : int
        Layers between two tape layers or 0 for none. [1]

    Returns
    -------
    n_tapes : int
        Layers of tape. [1]

    Notes
    -----
    Tape over the finished coil is not among them.

    References
    ----------
    .. [1] Counting.

    Examples
    --------
    >>> tapes(20, 5), tapes(21, 5), tapes(20, 0)
    (3, 4, 0)
    """
    return (n_l - 1) // (n_tape or n_l)


def layer_diameter(D_f: Num, d_o: Num, k_lay: Num, n_layer: Count, n_tape: int, t_tape: Num) -> Num:
    r"""Mean diameter of the first, second, ... layer.

    .. math:: D_l = D_f + d_o + 2 \left[ (n - 1) k_{lay} d_o + g \left( t_{tape} + (1 - k_{lay}) d_o \right) \right],
        \quad g = \lfloor (n - 1) / n_{tape} \rfloor

    Parameters
    ----------
    D_f : float
        Outer diameter of the former that is wound on. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_lay : float
        Layer pitch in overall wire diameters. [1]
    n_layer : int
        Which layer counted from the innermost as 1. [1]
    n_tape : int
        Layers between two tape layers or 0 for none. [1]
    t_tape : float
        Thickness of one tape layer. [m]

    Returns
    -------
    D_l : float
        Mean diameter of the layer. [m]

    Notes
    -----
    A layer on tape has no grooves to sink into and rises by the whole wire. Nested is for turns that touch; turns
    d_o / k_p apart sink a little deeper, by 2 % of d_o at k_p = 0.93. Where the wire crosses over the layer below it
    cannot sink at all: there even a nested coil is as thick as a stacked one.

    References
    ----------
    .. [1] Plane geometry of stacked circles.

    Examples
    --------
    >>> round(layer_diameter(0.025, 0.0004, LAY["stacked"], 2, 0, 0.0), 6)
    0.0262
    """
    rise = k_lay * d_o * (n_layer - 1) + (t_tape + (1 - k_lay) * d_o) * tapes(n_layer, n_tape)
    return cast("Num", D_f + d_o + 2 * rise)

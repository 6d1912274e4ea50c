"""A winding as the hand made it: layers that were counted, splices, and where it stands out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

import numpy as np

from handwound.physics.layers import layer_diameter, packing_factor, tapes, turns_in_layer, turns_per_layer
from handwound.physics.winding import mean_diameter, turns, wire_length
from handwound.quantities import Count, Num

LEAST_STEP = 0.5
"""How far a whole number of turns may be from the room there is. [1] Counting."""
CROSSED = 1.0
"""Layer pitch of round wires that cross. [1] Plane geometry."""
SLEEVE = 0.25e-3
"""Wall of the sleeve over a splice. [m] Common practice, no source."""


def packing_from_layers(N_counted: Sequence[int], d_o: Num, h_w: Num) -> tuple[Num, Num]:
    r"""How tightly the first finished layers were laid, and how sure that is for the layers to come.

    .. math:: k_p = \lfloor \bar N + 1/2 \rfloor \, d_o / h_w, \quad
        \Delta k_p = \sqrt{t_{0.95,\,n-1}^2 s^2 / n + 1/4} \; d_o / h_w

    Parameters
    ----------
    N_counted : list
        Turns counted in each of the first finished layers. [1]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    h_w : float
        Height of the winding along the axis. [m]

    Returns
    -------
    k_p : float
        Packing factor. [1]
    dk_p : float
        Half of its 5-95 % band. [1]

    Notes
    -----
    A planned layer holds whole turns: those next to the mean of the counts, so the factor is that of the mean to half a
    turn, and its band never narrower. s is the scatter of the n counts, t Student's quantile: with two layers it is
    6.3, with three 2.9, so a third count is worth its minute. Nested layers may have one turn less in every second
    layer, which counts as scatter here. A hand that tires is not in it.

    References
    ----------
    .. [1] Student (W. S. Gosset), The probable error of a mean, 1908 (from memory).

    Examples
    --------
    >>> k_p, dk_p = packing_from_layers([76, 75, 76], 0.000545, 0.044)
    >>> round(k_p, 3), round(dk_p, 4)
    (0.941, 0.0136)
    """
    from scipy.special import stdtrit

    n, whole = len(N_counted), int(np.floor(np.mean(N_counted) + 0.5))
    scatter = stdtrit(n - 1, 0.95) * np.std(N_counted, ddof=1) / np.sqrt(n) if n > 1 else 0.0
    return packing_factor(whole, d_o, h_w), float(np.hypot(scatter, LEAST_STEP)) * d_o / h_w


def wound(
    D_f: Num, n_l: Count, h_w: Num, d_o: Num, k_p: Num, k_lay: Num, n_tape: int, t_tape: Num,
    N_counted: Sequence[int], n_splice: int,
) -> tuple[Count, Num, Num]:  # fmt: skip
    r"""Turns, length of wire and mean diameter of a coil of which some layers were counted or spliced.

    .. math:: N = \sum_{n=1}^{n_l} N_n + \sum_{n=1}^{n_c} (N_{c,n} - N_n) - n_{splice}, \quad
        D_m = \frac{1}{N} \sum N_n D_{l,n}

    Parameters
    ----------
    D_f : float
        Outer diameter of the former that is wound on. [m]
    n_l : int
        Number of layers. [1]
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
    t_tape : float
        Thickness of one tape layer. [m]
    N_counted : list
        Turns counted in each of the first finished layers. [1]
    n_splice : int
        Soldered splices in the coil. [1]

    Returns
    -------
    N : int
        Turns of the coil. [1]
    l_w : float
        Length of wire. [m]
    D_m : float
        Mean diameter of the winding. [m]

    Notes
    -----
    Counted layers keep their counts, the others are planned. A splice in its sleeve takes the place of a turn; which
    layer that will be is not known, so it is taken off the last one. The centimetre in which its two ends lie side by
    side has half the resistance: half a milliohm less for 0.5 mm copper, which is left out.

    References
    ----------
    .. [1] Counting; the turn that a splice costs is common practice, no source.

    Examples
    --------
    >>> wound(0.020, 2, 0.012, 0.000226, 1.0, 1.0, 0, 0.0, [52], 0)[0]
    105
    """
    shape = (n_l, h_w, d_o, k_p, k_lay, n_tape)
    N, D_m = turns(*shape), mean_diameter(D_f, *shape, t_tape)
    N_l = turns_per_layer(h_w, d_o, k_p)
    more = [
        (n, (n <= n_l) * (count - turns_in_layer(N_l, n, h_w, d_o, k_p, k_lay, n_tape)))
        for n, count in enumerate(N_counted, 1)
    ]
    for n, by in [*more, (n_l, -n_splice)] if n_splice else more:
        D_l = layer_diameter(D_f, d_o, k_lay, n, n_tape, t_tape)
        D_m = cast("Num", (N * D_m + by * D_l) / (N + by))
        N = N + by
    return N, wire_length(N, D_m), D_m


def bulge(
    n_l: Count, d_cu: Num, d_o: Num, k_lay: Num, n_tape: int, n_splice: int, k_cross: Num = CROSSED,
    t_sleeve: Num = SLEEVE,
) -> Num:  # fmt: skip
    r"""How far a winding stands out on the side of its crossings, should a splice lie there too.

    .. math:: b = \max(k_{cross} - k_{lay}, 0) \, d_o \, (n_l - 1 - n_{tapes})
        + (2 d_{cu} + 2 t_{sleeve} - d_o) \text{ with a splice}

    Parameters
    ----------
    n_l : int
        Number of layers. [1]
    d_cu : float
        Bare conductor diameter of the wire. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_lay : float
        Layer pitch in overall wire diameters. [1]
    n_tape : int
        Layers between two tape layers or 0 for none. [1]
    n_splice : int
        Soldered splices in the coil. [1]
    k_cross : float
        Layer pitch where the wire crosses over the layer below. [1]
    t_sleeve : float
        Wall of the sleeve over a splice. [m]

    Returns
    -------
    bulge : float
        Height by which the winding stands out there. [m]

    Notes
    -----
    Every turn climbs over one turn of the layer below, once in its round, and lies on top of it there: the pitch is a
    whole wire whatever it is elsewhere. A steady hand has all crossings on one side; a careless one has them all round,
    and the coil is as thick as a stacked one everywhere. A layer on tape has no grooves to lose. A splice is the two
    bare ends side by side, soldered, in a sleeve that stands on edge; flat on the spool it is less by a wire. Layers
    above carry it on at the same height; two splices are taken to lie at two places.

    References
    ----------
    .. [1] Plane geometry: two round wires that cross are two wires high.

    Examples
    --------
    >>> round(float(bulge(4, 0.00035, 0.0004, 3**0.5 / 2, 0, 0)), 6)
    0.000161
    """
    crossed = np.maximum(k_cross - k_lay, 0.0) * d_o * (n_l - 1 - tapes(n_l, n_tape))
    return cast("Num", crossed + (n_splice > 0) * (2 * d_cu + 2 * t_sleeve - d_o))

"""A whole coil of layers: its turns, diameters and wire, and what a meter reads after each layer."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np

from handwound.physics.layers import LAY as LAY
from handwound.physics.layers import layer_diameter, turns_in_grooves, turns_in_layer, turns_per_layer
from handwound.physics.wire import resistance, resistivity

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy.typing as npt

    from handwound.quantities import Count, Num


class Ladder(NamedTuple):
    """One entry per layer, the innermost first: the layer, and the whole coil when this layer is full."""

    N_l: npt.NDArray[np.int64]
    N: npt.NDArray[np.int64]
    D_l: npt.NDArray[np.float64]
    D_w: npt.NDArray[np.float64]
    l_w: npt.NDArray[np.float64]
    R_20: npt.NDArray[np.float64]
    R_T: npt.NDArray[np.float64]


def turns(n_l: Count, h_w: Num, d_o: Num, k_p: Num, k_lay: Num, n_tape: int) -> Count:
    r"""Turns of the whole coil.

    .. math:: N = \sum_{n=1}^{n_l} N_n

    Parameters
    ----------
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

    Returns
    -------
    N : int
        Turns of the coil. [1]

    Notes
    -----
    Full layers only. The sum over the layers of :func:`turns_in_layer` is taken in closed form, for many coils at once.

    References
    ----------
    .. [1] Counting.

    Examples
    --------
    >>> turns(4, 0.010, 0.0004, 1.0, LAY["stacked"], 0), turns(4, 0.010, 0.0004, 1.0, LAY["nested"], 0)
    (100, 98)
    """
    N_l = turns_per_layer(h_w, d_o, k_p)
    N_even = turns_in_grooves(N_l, h_w, d_o, k_p, k_lay)
    layers, groups, rest = _groups(n_l, n_tape)
    return groups * _both(layers, N_l, N_even) + _both(rest, N_l, N_even)


def mean_diameter(D_f: Num, n_l: Count, h_w: Num, d_o: Num, k_p: Num, k_lay: Num, n_tape: int, t_tape: Num) -> Num:
    r"""Mean diameter of all turns, so that the wire is exactly as long as N turns of it.

    .. math:: D_m = \frac{1}{N} \sum_{n=1}^{n_l} N_n D_{l,n}

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

    Returns
    -------
    D_m : float
        Mean diameter of the winding. [m]

    Notes
    -----
    Exact for the layers of :func:`turns_in_layer` and :func:`layer_diameter`; summed in closed form.

    References
    ----------
    .. [1] Sums of arithmetic series.

    Examples
    --------
    >>> round(mean_diameter(0.020, 2, 0.012, 0.000226, 1.0, LAY["stacked"], 0, 0.0), 6)
    0.020452
    """
    N_l = turns_per_layer(h_w, d_o, k_p)
    N_even = turns_in_grooves(N_l, h_w, d_o, k_p, k_lay)
    layers, groups, rest = _groups(n_l, n_tape)
    in_group, in_rest = _both(layers, N_l, N_even), _both(rest, N_l, N_even)
    step = 2 * k_lay * d_o
    per_group = 2 * t_tape + 2 * d_o + step * (layers - 1)
    rise = step * (groups * _risen(layers, N_l, N_even) + _risen(rest, N_l, N_even)) + per_group * (
        groups * (groups - 1) // 2 * in_group + groups * in_rest
    )
    N = groups * in_group + in_rest
    return D_f + d_o + rise / (N + (N == 0))  # a wire too thick for its window has no turns


def outer_diameter(D_f: Num, d_o: Num, k_lay: Num, n_l: Count, n_tape: int, t_tape: Num) -> Num:
    r"""Outer diameter of the winding.

    .. math:: D_w = D_{l, n_l} + d_o

    Parameters
    ----------
    D_f : float
        Outer diameter of the former that is wound on. [m]
    d_o : float
        Overall diameter of the wire with its enamel. [m]
    k_lay : float
        Layer pitch in overall wire diameters. [1]
    n_l : int
        Number of layers. [1]
    n_tape : int
        Layers between two tape layers or 0 for none. [1]
    t_tape : float
        Thickness of one tape layer. [m]

    Returns
    -------
    D_w : float
        Outer diameter of the winding. [m]

    Notes
    -----
    Over bare wire: tape, glue or a finishing wrap over the last layer come on top.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(outer_diameter(0.0259, 0.000214, LAY["stacked"], 2, 0, 0.0), 6)
    0.026756
    """
    return layer_diameter(D_f, d_o, k_lay, n_l, n_tape, t_tape) + d_o


def wire_length(N: Count, D_m: Num) -> Num:
    r"""Length of the wire in the coil, without its leads.

    .. math:: l_w = \pi D_m N

    Parameters
    ----------
    N : int
        Turns of the coil. [1]
    D_m : float
        Mean diameter of the winding. [m]

    Returns
    -------
    l_w : float
        Length of wire. [m]

    Notes
    -----
    The slope of the helix adds (d_o / pi D)²/2: 0.05 % where the coil is ten wires wide. Leads are not counted.

    References
    ----------
    .. [1] The circumference of a circle.

    Examples
    --------
    >>> round(wire_length(53, 0.020226), 3)
    3.368
    """
    return cast("Num", np.pi * D_m * N)


def in_sections(R_20: Num, N: Num, connection: str) -> tuple[Num, Num, Num]:
    r"""What the terminals see of a coil in sections: resistance, turns each ampere goes round, and the fullest share.

    .. math:: \text{series: } \sum R_k, \; \sum N_k \qquad
        \text{parallel: } R = 1 / \sum \tfrac{1}{R_k}, \; N = R \sum \tfrac{N_k}{R_k}, \; k_I = R / \min R_k

    Parameters
    ----------
    R_20 : float
        Resistance of each section at 20 °C, along the first axis. [Ω]
    N : int
        Turns of each section, along the first axis. [1]
    connection : str
        "series" or "parallel". [1]

    Returns
    -------
    R_20 : float
        Resistance between the terminals. [Ω]
    N : float
        Ampere-turns per ampere at the terminals. [1]
    k_I : float
        Share of the current in the section that carries most. [1]

    Notes
    -----
    Sections one over the other have unequal resistances: in parallel the inner one carries more and runs hotter.
    Sections that oppose each other are a fault, not a connection.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> R_20, N, k_I = in_sections(np.array([6.0, 12.0]), np.array([500, 500]), "parallel")
    >>> round(float(R_20), 3), round(float(N), 3), round(float(k_I), 3)
    (4.0, 500.0, 0.667)
    """
    if connection == "series":
        return np.sum(R_20, axis=0), np.sum(N, axis=0), np.ones_like(np.sum(R_20, axis=0))[()]
    R = 1 / np.sum(1 / np.asarray(R_20), axis=0)
    return R, R * np.sum(np.asarray(N) / R_20, axis=0), R / np.min(R_20, axis=0)


def ladder(
    D_f: float,
    n_l: int,
    h_w: float,
    d_o: float,
    k_p: float,
    k_lay: float,
    n_tape: int,
    t_tape: float,
    d_cu: float,
    rho_20: float,
    alpha_20: float,
    T_room: float,
    N_counted: Sequence[int] = (),
    n_splice: int = 0,
) -> Ladder:
    r"""What the coil is when each layer is full: turns, diameters, wire, and the resistance a meter reads.

    .. math:: R(n) = \rho_{20} \frac{4}{\pi d_{cu}^2} \sum_{i=1}^{n} \pi N_i D_{l,i}

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
    d_cu : float
        Bare conductor diameter of the wire. [m]
    rho_20 : float
        Resistivity of its metal at 20 °C. [Ω·m]
    alpha_20 : float
        Temperature coefficient of its metal. [1/K]
    T_room : float
        Temperature of the room and of the wire. [°C]
    N_counted : list
        Turns counted in each of the first finished layers. [1]
    n_splice : int
        Soldered splices in the coil, each of which costs a turn of the last layer. [1]

    Returns
    -------
    N_l : int
        Turns in each layer. [1]
    N : int
        Turns wound. [1]
    D_l : float
        Mean diameter of each layer. [m]
    D_w : float
        Outer diameter. [m]
    l_w : float
        Length of wire wound. [m]
    R_20 : float
        Resistance of it at 20 °C. [Ω]
    R_T : float
        Resistance of it in this room. [Ω]

    Notes
    -----
    The wire between meter and coil is not in it: keep the reel's end free, or measure with four wires.

    References
    ----------
    .. [1] Ohm's law; the layers of this module.

    Examples
    --------
    >>> two = ladder(0.020, 2, 0.012, 0.000226, 1.0, 1.0, 0, 0.0, 0.0002, 1 / 58e6, 0.00393, 20.0)
    >>> two.R_T.round(3).tolist()
    [1.848, 3.738]
    """
    n = np.arange(1, n_l + 1)
    N_l = np.array(turns_in_layer(turns_per_layer(h_w, d_o, k_p), n, h_w, d_o, k_p, k_lay, n_tape))
    N_l[: len(N_counted)] = N_counted[:n_l]
    N_l[-1] -= n_splice
    D_l = np.asarray(layer_diameter(D_f, d_o, k_lay, n, n_tape, t_tape))
    l_w = np.cumsum(np.asarray(wire_length(N_l, D_l)))
    R_20 = np.asarray(resistance(rho_20, l_w, d_cu))
    R_T = np.asarray(resistance(resistivity(rho_20, alpha_20, T_room), l_w, d_cu))
    return Ladder(N_l=N_l, N=np.cumsum(N_l), D_l=D_l, D_w=D_l + d_o, l_w=l_w, R_20=R_20, R_T=R_T)


def _groups(n_l: Count, n_tape: int) -> tuple[Count, Count, Count]:
    """Layers between two tapes, how many such full groups there are, and the layers left over."""
    layers = n_tape or n_l
    return layers, n_l // layers, n_l % layers


def _both(layers: Count, N_odd: Count, N_even: Count) -> Count:
    """Turns in so many layers on bare ground: odd ones on the turns below, even ones in the grooves."""
    return (layers + 1) // 2 * N_odd + layers // 2 * N_even


def _risen(layers: Count, N_odd: Count, N_even: Count) -> Count:
    """The sum over these turns of the layers below each: 0 + 2 + 4 ... for odd ones, 1 + 3 + 5 ... for even ones."""
    odd, even = (layers + 1) // 2, layers // 2
    return N_odd * odd * (odd - 1) + N_even * even**2

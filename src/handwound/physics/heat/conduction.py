"""Heat on its way through solid matter, the hottest spot of what makes heat inside, and how fast things warm."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Num


def slab_hot_spot(q_v: Num, t: Num, k_th: Num) -> Num:
    r"""How much hotter the middle of a flat heated slab is than its two equally cool faces.

    .. math:: \Delta T = \frac{q \, t^2}{8 k}

    Parameters
    ----------
    q_v : float
        Heat made in a volume. [W/m³]
    t : float
        Thickness from face to face. [m]
    k_th : float
        Thermal conductivity across it. [W/(m·K)]

    Returns
    -------
    dT_hot : float
        Temperature of the hottest spot above the faces. [K]

    Notes
    -----
    Exact where the slab is wide beside its thickness. Cooled on one face only it is four times as much; the mean of
    the slab is at two thirds of it.

    References
    ----------
    .. [1] Fourier's law with a source, a textbook result (from memory).

    Examples
    --------
    >>> round(slab_hot_spot(2e6, 0.006, 0.7), 3)
    12.857
    """
    return q_v * t**2 / (8 * k_th)


def ring_hot_spot(q_v: Num, k_th: Num, r_in: Num, r_out: Num) -> tuple[Num, Num]:
    r"""How much hotter a heated ring is inside than at its two equally cool round faces, and where.

    .. math:: r_{hot}^2 = \frac{r_{out}^2 - r_{in}^2}{2 \ln (r_{out} / r_{in})}, \quad
        \Delta T = \frac{q}{4 k} \left[ 2 r_{hot}^2 \ln \frac{r_{hot}}{r_{in}} - (r_{hot}^2 - r_{in}^2) \right]

    Parameters
    ----------
    q_v : float
        Heat made in a volume. [W/m³]
    k_th : float
        Thermal conductivity across the ring, along its radius. [W/(m·K)]
    r_in : float
        Inner radius. [m]
    r_out : float
        Outer radius. [m]

    Returns
    -------
    dT_hot : float
        Temperature of the hottest spot above the faces. [K]
    r_hot : float
        Radius of the hottest spot. [m]

    Notes
    -----
    Exact for a ring that is high beside its thickness; heat that leaves through the ends makes it less.

    References
    ----------
    .. [1] Fourier's law with a source in cylindrical coordinates (from memory).

    Examples
    --------
    >>> rise, r = ring_hot_spot(2e6, 0.7, 0.010, 0.016)
    >>> round(float(rise), 3), round(float(r) * 1e3, 3)
    (12.935, 12.882)
    """
    r_hot = np.sqrt((r_out**2 - r_in**2) / (2 * np.log(r_out / r_in)))
    return q_v / (4 * k_th) * (2 * r_hot**2 * np.log(r_hot / r_in) - (r_hot**2 - r_in**2)), r_hot


def ring_mean_rise(q_v: Num, k_th: Num, r_in: Num, r_out: Num) -> Num:
    r"""How much hotter a heated ring is on the mean than its two equally cool round faces.

    .. math:: \overline{\Delta T} = \frac{q}{8 k} \left[ r_{out}^2 + r_{in}^2
        - \frac{r_{out}^2 - r_{in}^2}{\ln (r_{out} / r_{in})} \right]

    Parameters
    ----------
    q_v : float
        Heat made in a volume. [W/m³]
    k_th : float
        Thermal conductivity across the ring, along its radius. [W/(m·K)]
    r_in : float
        Inner radius. [m]
    r_out : float
        Outer radius. [m]

    Returns
    -------
    dT_mean : float
        Mean temperature above the faces. [K]

    Notes
    -----
    The mean over the volume is what a meter finds from the resistance of a winding. About two thirds of the hottest
    spot.

    References
    ----------
    .. [1] Mean over the ring of the solution behind :func:`ring_hot_spot`.

    Examples
    --------
    >>> round(float(ring_mean_rise(2e6, 0.7, 0.010, 0.016)), 3)
    8.603
    """
    return q_v / (8 * k_th) * (r_out**2 + r_in**2 - (r_out**2 - r_in**2) / np.log(r_out / r_in))


def R_radial(r_in: Num, r_out: Num, k_th: Num, height: Num) -> Num:
    r"""Thermal resistance of a ring to heat along its radius.

    .. math:: R = \frac{\ln (r_{out} / r_{in})}{2 \pi k H}

    Parameters
    ----------
    r_in : float
        Inner radius. [m]
    r_out : float
        Outer radius. [m]
    k_th : float
        Thermal conductivity. [W/(m·K)]
    height : float
        Height of the ring along its axis. [m]

    Returns
    -------
    R_th : float
        Thermal resistance. [K/W]

    Notes
    -----
    Exact where no heat is made in it and none leaves through its ends.

    References
    ----------
    .. [1] Fourier's law in cylindrical coordinates (from memory).

    Examples
    --------
    >>> round(float(R_radial(0.0145, 0.015, 0.15, 0.042)), 3)
    0.856
    """
    return np.log(r_out / r_in) / (2 * np.pi * k_th * height)


def R_axial(r_in: Num, r_out: Num, length: Num, k_th: Num) -> Num:
    r"""Thermal resistance of a ring, a bar or a disc to heat along its axis.

    .. math:: R = \frac{l}{\pi k (r_{out}^2 - r_{in}^2)}

    Parameters
    ----------
    r_in : float
        Inner radius; 0 for a bar or a disc. [m]
    r_out : float
        Outer radius. [m]
    length : float
        Way of the heat along the axis. [m]
    k_th : float
        Thermal conductivity. [W/(m·K)]

    Returns
    -------
    R_th : float
        Thermal resistance. [K/W]

    Notes
    -----
    Exact where the heat goes straight.

    References
    ----------
    .. [1] Fourier's law (from memory).

    Examples
    --------
    >>> round(float(R_axial(0.0, 0.0125, 0.052, 50.0)), 2)
    2.12
    """
    return length / (np.pi * k_th * (r_out**2 - r_in**2))


def lumped_rise(t_s: Num, tau_T: Num, dT_end: Num) -> Num:
    r"""How warm one lump has become some time after its heat was switched on.

    .. math:: \Delta T = \Delta T_{end} \left( 1 - e^{-t / \tau} \right)

    Parameters
    ----------
    t_s : float
        Time after switching. [s]
    tau_T : float
        Heat capacity over the heat given off for a kelvin. [s]
    dT_end : float
        Rise in the end. [K]

    Returns
    -------
    dT_s : float
        Rise now. [K]

    Notes
    -----
    One lump, constant watts and a constant coefficient. Iron of one kilogram takes about half an hour, a voice coil
    seconds.

    References
    ----------
    .. [1] Newton's law of cooling.

    Examples
    --------
    >>> round(float(lumped_rise(1800.0, 1800.0, 40.0)), 2)
    25.28
    """
    return dT_end * -np.expm1(-t_s / tau_T)


def adiabatic_rate(J: Num, rho: Num, rho_m: Num, c_p: Num) -> Num:
    r"""How fast a wire warms as long as it gives off nothing.

    .. math:: \frac{dT}{dt} = \frac{\rho J^2}{\rho_m c_p}

    Parameters
    ----------
    J : float
        Current density in the wire. [A/m²]
    rho : float
        Resistivity at its temperature. [Ω·m]
    rho_m : float
        Mass density. [kg/m³]
    c_p : float
        Specific heat. [J/(kg·K)]

    Returns
    -------
    dT_dt : float
        Rise of temperature in a second. [K/s]

    Notes
    -----
    The first seconds of any coil, and the most it can do later. The metal alone: enamel and glue take up to a tenth
    of the heat of a thin wire.

    References
    ----------
    .. [1] Joule's law and the definition of specific heat.

    Examples
    --------
    >>> round(adiabatic_rate(20e6, 1 / 58e6, 8940.0, 385.0), 4)
    2.0037
    """
    return rho * J**2 / (rho_m * c_p)

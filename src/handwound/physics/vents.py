"""Round holes and tubes for air: what they weigh and rub, how long they must be, how fast the air in them is."""

from __future__ import annotations

from typing import cast

import numpy as np
from scipy.special import jve

from handwound.physics.hum import Phasor
from handwound.quantities import Count, Num

FLANGED = 8 / (3 * np.pi)
"""Mass at an end that lies in a wall, as a length over the radius: 0.849 (Rayleigh, from memory)."""
FREE = 0.6133
"""The same for an end that stands free (Levine and Schwinger 1948, from memory)."""
V_PORT_MOST = 17.0
"""Peak velocity in a port beyond which it is heard to blow, a twentieth of that of sound: common practice. [m/s]"""
OPEN_LEAST = 1 / 3
"""Open area of vents over that of the diaphragm below which they hold it: common practice, no source."""
SMALLEST = 1e-100
"""Stands in for the number of holes where all are taped: a wall, without dividing by nought."""
FINEST = 1e-4
"""Narrowest hole; stands in for the width where there is none, and none was told. [m]"""


def hole(f: Num, d_port: Num, l_port: Num, k_end: Num, rho_0: Num, nu_air: Num) -> Phasor:
    r"""Acoustic impedance of one round hole or tube with both its ends.

    .. math:: Z_h = \frac{1}{S} \left( \frac{j \omega \rho_0 l}{1 - \frac{2}{q} \frac{J_1(q)}{J_0(q)}}
        + j \omega \rho_0 k_{end} \frac{d}{2} + 2 \rho_0 \sqrt{2 \omega \nu} \right), \quad
        q = \frac{d}{2} \sqrt{-j \omega / \nu}, \quad S = \frac{\pi d^2}{4}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    d_port : float
        Diameter. [m]
    l_port : float
        Length, or thickness of the wall. [m]
    k_end : float
        Mass at both ends together, as a length over the radius: 2 · 0.849 for a hole in a wall. [1]
    rho_0 : float
        Density of the air. [kg/m³]
    nu_air : float
        Kinematic viscosity of the air. [m²/s]

    Returns
    -------
    Z_hole : complex
        Pressure over flow, without the sound it sends. [Pa·s/m³]

    Notes
    -----
    Exact for slow, narrow and for fast, wide tubes, as long as the tube is short against the wave. The friction at the
    edges, the last term, is that of a tube longer by its diameter; good to a factor of 2 at sharp edges. Loud, air
    leaves in a jet and the resistance grows with its velocity, see :func:`port_velocity`. Holes share the mass at
    their ends: of that, 0.6 is left in a wide field of holes three diameters apart and 0.4 at two (Fok's series, from
    memory), more where there are few.

    References
    ----------
    .. [1] I. B. Crandall, Theory of Vibrating Systems and Sound, 1926 (from memory): the tube.
    .. [2] U. Ingard, J. Acoust. Soc. Am. 25 (1953) 1037 (from memory): the friction at the edges.

    Examples
    --------
    >>> Z = complex(hole(40.0, 0.050, 0.3296, 1.463, 1.204, 15.1e-6))
    >>> round(Z.imag / (2 * np.pi * 40), 1), round(Z.real)  # without friction 1.204 (0.3296 + 0.0366) / 0.00196
    (227.3, 826)
    """
    omega, S = 2 * np.pi * f, np.pi * d_port**2 / 4
    q = d_port / 2 * np.sqrt(-1j * omega / nu_air)
    # the scaled functions: their common factor drops out of the quotient, and wide tubes do not overflow
    tube = 1j * omega * rho_0 * l_port / (1 - 2 / q * jve(1, q) / jve(0, q))
    ends = 1j * omega * rho_0 * k_end * d_port / 2 + 2 * rho_0 * np.sqrt(2 * omega * nu_air)
    return (tube + ends) / S


def sending(f: Num, rho_0: Num, c_0: Num) -> Num:
    r"""Resistance of the sound that a small opening in a large wall sends.

    .. math:: R = \frac{\rho_0 \omega^2}{2 \pi c_0}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Z_a : float
        Radiation resistance, whatever the opening's size. [Pa·s/m³]

    Notes
    -----
    For openings small against the wave. That cone and port push on each other through the room is left out: it
    changes the damping by less than the efficiency, a percent.

    References
    ----------
    .. [1] The limit of :func:`handwound.physics.sound.piston_resistance` for a small piston, over its area.

    Examples
    --------
    >>> round(sending(40.0, 1.204, 343.2), 1)
    35.3
    """
    return rho_0 * (2 * np.pi * f) ** 2 / (2 * np.pi * c_0)


def ports(f: Num, n_port: Count, d_port: Num, l_port: Num, rho_0: Num, c_0: Num, nu_air: Num) -> Phasor:
    r"""Acoustic impedance of a box's ports with the air outside.

    .. math:: Z_p = \frac{Z_h}{n} + \frac{\rho_0 \omega^2}{2 \pi c_0}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    n_port : int
        Number of tubes. [1]
    d_port : float
        Inner diameter of each. [m]
    l_port : float
        Length of each. [m]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    nu_air : float
        Kinematic viscosity of the air. [m²/s]

    Returns
    -------
    Z_port : complex
        Pressure in the box over the flow through all. [Pa·s/m³]

    Notes
    -----
    One end lies in the baffle, the other stands free in the box: 0.849 + 0.613 = 1.463 radii. They all send as one.
    A tube has notes of its own from c/2l on, 500 Hz for 33 cm, of which nothing is said here.

    References
    ----------
    .. [1] :func:`hole`, :func:`sending`.

    Examples
    --------
    >>> Z = complex(ports(40.0, 1, 0.050, 0.3296, 1.204, 343.2, 15.1e-6))
    >>> round(Z.real), round(Z.imag)
    (861, 57133)
    """
    each = hole(f, d_port, l_port, FLANGED + FREE, rho_0, nu_air)
    return cast("Phasor", each / n_port + sending(f, rho_0, c_0))


def vent_holes(f: Num, n_vent: Count, n_taped: Count, d_vent: Num, t_vent: Num, rho_0: Num, nu_air: Num) -> Phasor:
    r"""Acoustic impedance of the open holes in the back of a frame.

    .. math:: Z_v = \frac{Z_h}{n - n_{taped}}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    n_vent : int
        Number of holes. [1]
    n_taped : int
        Number of those that are taped over. [1]
    d_vent : float
        Diameter of each. [m]
    t_vent : float
        Thickness of the wall. [m]
    rho_0 : float
        Density of the air. [kg/m³]
    nu_air : float
        Kinematic viscosity of the air. [m²/s]

    Returns
    -------
    Z_vent : complex
        Pressure difference over the flow through all; past all bounds where every hole is taped. [Pa·s/m³]

    Notes
    -----
    Both ends lie in a wall: 1.70 radii. Cloth or felt over a hole adds its own resistance, which is not known here.

    References
    ----------
    .. [1] :func:`hole`.

    Examples
    --------
    >>> bool(abs(vent_holes(100.0, 8, 8, 0.010, 0.002, 1.204, 15.1e-6)) > 1e90)
    True
    >>> round(abs(vent_holes(100.0, 8, 4, 0.010, 0.002, 1.204, 15.1e-6)))
    25499
    """
    each = hole(f, np.maximum(d_vent, FINEST), t_vent, 2 * FLANGED, rho_0, nu_air)
    return each / np.maximum(n_vent - n_taped, SMALLEST)


def open_area(n_vent: Count, n_taped: Count, d_vent: Num, Sd: Num) -> Num:
    r"""Open area of the vents over that of the diaphragm.

    .. math:: \frac{(n - n_{taped}) \, \pi d^2 / 4}{S_d}

    Parameters
    ----------
    n_vent : int
        Number of holes. [1]
    n_taped : int
        Number of those that are taped over. [1]
    d_vent : float
        Diameter of each. [m]
    Sd : float
        Effective area of the diaphragm. [m²]

    Returns
    -------
    open_share : float
        Share. [1]

    Notes
    -----
    At a third or more the back does hardly anything; below, it holds the diaphragm.

    References
    ----------
    .. [1] Plane geometry; the third is common practice, no source.

    Examples
    --------
    >>> round(open_area(8, 0, 0.020, 0.0095), 3)
    0.265
    """
    return (n_vent - n_taped) * np.pi * d_vent**2 / 4 / Sd


def port_length(V_box: Num, f_box: Num, n_port: Count, d_port: Num, k_end: Num, c_0: Num) -> Num:
    r"""Length of the ports that tune a box.

    .. math:: l = \frac{c_0^2 \, n \pi d^2 / 4}{\omega_b^2 V_b} - k_{end} \frac{d}{2}

    Parameters
    ----------
    V_box : float
        Volume of air in the box. [m³]
    f_box : float
        Frequency wanted. [Hz]
    n_port : int
        Number of tubes. [1]
    d_port : float
        Inner diameter of each. [m]
    k_end : float
        Mass at both ends together, as a length over the radius: 1.463 for a tube flush with the baffle. [1]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    l_port : float
        Length of each; negative where even a hole in a thin wall tunes lower. [m]

    Notes
    -----
    Friction and the walls shift it by some percent: leave the tube longer and cut it to the note.

    References
    ----------
    .. [1] Helmholtz's resonator.

    Examples
    --------
    >>> round(port_length(0.010, 40.0, 1, 0.050, 1.463, 343.2) * 1000, 1)
    329.6
    """
    S = n_port * np.pi * d_port**2 / 4
    return c_0**2 * S / ((2 * np.pi * f_box) ** 2 * V_box) - k_end * d_port / 2


def tuning(V_box: Num, n_port: Count, d_port: Num, l_port: Num, k_end: Num, c_0: Num) -> Num:
    r"""Frequency to which ports tune a box.

    .. math:: \omega_b = c_0 \sqrt{\frac{n \pi d^2 / 4}{V_b (l + k_{end} \, d / 2)}}

    Parameters
    ----------
    V_box : float
        Volume of air in the box. [m³]
    n_port : int
        Number of tubes. [1]
    d_port : float
        Inner diameter of each. [m]
    l_port : float
        Length of each. [m]
    k_end : float
        Mass at both ends together, as a length over the radius: 1.463 for a tube flush with the baffle. [1]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    f_box : float
        Frequency. [Hz]

    Notes
    -----
    :func:`port_length` the other way round.

    References
    ----------
    .. [1] Helmholtz's resonator.

    Examples
    --------
    >>> round(float(tuning(0.010, 1, 0.050, 0.3296, 1.463, 343.2)), 2)
    40.0
    """
    S = n_port * np.pi * d_port**2 / 4
    return c_0 * np.sqrt(S / (V_box * (l_port + k_end * d_port / 2))) / (2 * np.pi)


def port_velocity(v: Phasor, k_port: Phasor, Sd: Num, n_port: Count, d_port: Num) -> Num:
    r"""Peak velocity of the air in the ports at one tone.

    .. math:: v_p = \sqrt 2 \, \frac{|k_p v| S_d}{n \pi d^2 / 4}

    Parameters
    ----------
    v : complex
        Velocity of the diaphragm, r.m.s. [m/s]
    k_port : complex
        Share of the diaphragm's flow that comes out of the ports. [1]
    Sd : float
        Effective area of the diaphragm. [m²]
    n_port : int
        Number of tubes. [1]
    d_port : float
        Inner diameter of each. [m]

    Returns
    -------
    v_port : float
        Peak velocity, mean over the cross-section. [m/s]

    Notes
    -----
    Beyond 17 m/s (common practice) it blows and holds back; a wider, longer tube is the cure.

    References
    ----------
    .. [1] Continuity.

    Examples
    --------
    >>> round(float(port_velocity(0.1, 3.0, 0.0095, 1, 0.050)), 2)
    2.05
    """
    return np.sqrt(2) * np.abs(k_port * v) * Sd / (n_port * np.pi * d_port**2 / 4)

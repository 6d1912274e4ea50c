"""What moves as one: the area that drives the air, the air that goes along, what holds it all, and loss."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num

G_N = 9.80665
"""Standard gravity. [m/s²] CGPM 1901 (from memory). On the ground it differs by up to 0.3 %."""
KAPPA = 5 / 6
"""Share of a plate's thickness that carries shear. [1] Reissner 1945 (from memory)."""


def effective_radius(d_in: Num, d_out: Num) -> Num:
    r"""Radius of the rigid piston that moves as much air as diaphragm and surround: to the middle of the surround.

    .. math:: a = (d_{in} + d_{out}) / 4

    Parameters
    ----------
    d_in : float
        Inner diameter of the surround. [m]
    d_out : float
        Outer diameter of the surround. [m]

    Returns
    -------
    a : float
        Effective radius. [m]

    Notes
    -----
    A surround of width w that moves in a straight line from edge to edge moves w²/12a² more air: 0.3 % for 10 mm at
    a = 50 mm.

    References
    ----------
    .. [1] Common practice; IEC 60268-5 leaves it to the maker (from memory).

    Examples
    --------
    >>> round(effective_radius(0.100, 0.120), 4)
    0.055
    """
    return (d_in + d_out) / 4


def effective_area(a: Num) -> Num:
    r"""Area of the piston.

    .. math:: S_d = \pi a^2

    Parameters
    ----------
    a : float
        Effective radius of the diaphragm. [m]

    Returns
    -------
    Sd : float
        Effective area. [m²]

    Notes
    -----
    1 % of radius is 0.17 dB. A cone counts with its projection, not with its surface.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(effective_area(0.055) * 1e4, 1)
    95.0
    """
    return np.pi * a**2


def air_mass(rho_0: Num, a: Num) -> Num:
    r"""Air that moves with the diaphragm, both sides together, in a large baffle.

    .. math:: m_{air} = 2 \cdot \tfrac{8}{3} \rho_0 a^3

    Parameters
    ----------
    rho_0 : float
        Density of the air. [kg/m³]
    a : float
        Effective radius of the diaphragm. [m]

    Returns
    -------
    m_air : float
        Mass of the air. [kg]

    Notes
    -----
    The low-frequency limit of a rigid piston: 6 % less at ka = 0.5, 24 % less at ka = 1. A driver in free air, out
    of its baffle, carries half as much, and its resonance is a little higher.

    References
    ----------
    .. [1] Beranek, Acoustics, piston in an infinite baffle (from memory).

    Examples
    --------
    >>> round(air_mass(1.204, 0.050) * 1000, 4)
    0.8027
    """
    return 16 / 3 * rho_0 * a**3


def ring_stiffness(E: Num, nu: Num, t: Num, d_in: Num, d_out: Num) -> Num:
    r"""Stiffness of a flat ring of sheet between diaphragm and frame: bending and shear in series.

    .. math:: \frac{1}{K} = \frac{r_o^2}{16 \pi D} \left[ 1 - B^2 - \frac{4 B^2 \ln^2 B}{1 - B^2} \right]
        + \frac{\ln (1/B)}{2 \pi \kappa G t}, \quad
        B = \frac{r_i}{r_o}, \; D = \frac{E t^3}{12 (1 - \nu^2)}, \; G = \frac{E}{2 (1 + \nu)}

    Parameters
    ----------
    E : float
        Modulus of elasticity. [Pa]
    nu : float
        Poisson's ratio. [1]
    t : float
        Thickness. [m]
    d_in : float
        Diameter where it leaves the diaphragm. [m]
    d_out : float
        Diameter where the frame holds it. [m]

    Returns
    -------
    K_s : float
        Stiffness along the axis. [N/m]

    Notes
    -----
    Both edges are held level: glued to a stiff diaphragm and a stiff frame. Exact for a plate that bends and shears
    (Mindlin): shear does not change the slopes of such a ring, so the two compliances add. Shear is 12 % of the whole
    for a ring 5 times as wide as thick, 3 % for 10 times. Small strokes only: the sheet must also stretch, and
    holds 18 % more at half of its thickness. The modulus of foam is known to a factor of 3: measure the dip under a
    weight.

    References
    ----------
    .. [1] Annulus, outer edge clamped, inner guided: Roark's Formulas for Stress and Strain (from memory).
    .. [2] Shear: integral of the ring's shear strain, kappa after Reissner (from memory).

    Examples
    --------
    >>> round(float(ring_stiffness(0.4e6, 0.3, 0.002, 0.100, 0.120)))
    1069
    """
    B, r_o = d_in / d_out, d_out / 2
    D, G = E * t**3 / (12 * (1 - nu**2)), E / (2 * (1 + nu))
    bending = r_o**2 / (16 * np.pi * D) * (1 - B**2 - 4 * B**2 * np.log(B) ** 2 / (1 - B**2))
    shear = -np.log(B) / (2 * np.pi * KAPPA * G * t)
    return 1 / (bending + shear)


def stiffness_from_dip(dip: Num, load: Num) -> Num:
    r"""Stiffness from how far a part sinks under a weight.

    .. math:: K = g \, m / \Delta x

    Parameters
    ----------
    dip : float
        How far it sinks. [m]
    load : float
        Mass laid on it. [kg]

    Returns
    -------
    Kms : float
        Stiffness. [N/m]

    Notes
    -----
    5 %, and creep: foam read after a minute is softer than foam that vibrates, by 10 to 50 %. Keep the dip as small
    as it can be read, up and down.

    References
    ----------
    .. [1] Hooke's law.

    Examples
    --------
    >>> round(stiffness_from_dip(0.0005, 0.020), 1)
    392.3
    """
    return G_N * load / dip


def loss_resistance(eta_s: Num, Kms: Num, Mms: Num) -> Num:
    r"""Mechanical resistance that loses as much at resonance as the suspension's material does.

    .. math:: R_{ms} = \eta_s K_{ms} / \omega_s = \eta_s \sqrt{K_{ms} M_{ms}}, \quad \text{so } Q_{ms} = 1 / \eta_s

    Parameters
    ----------
    eta_s : float
        Mechanical loss factor of the suspension. [1]
    Kms : float
        Stiffness of the suspension. [N/m]
    Mms : float
        Moving mass with the air. [kg]

    Returns
    -------
    Rms : float
        Mechanical resistance. [kg/s]

    Notes
    -----
    Foam and paper lose the same share of each swing at any speed; this resistance does so at resonance only, where it
    counts. Air squeezed through the gap or a closed pole adds to it. Good to a factor of 2.

    References
    ----------
    .. [1] Structural damping: loss per swing 2 pi eta times the stored energy (definition).

    Examples
    --------
    >>> round(float(loss_resistance(0.2, 1100.0, 0.0077)), 3)
    0.582
    """
    return eta_s * np.sqrt(Kms * Mms)

"""What moves and what holds it: masses of the parts, the area that drives the air, stiffness and loss."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num

G_N = 9.80665
"""Standard gravity. [m/s²] CGPM 1901 (from memory). On the ground it differs by up to 0.3 %."""
KAPPA = 5 / 6
"""Share of a plate's thickness that carries shear. [1] Reissner 1945 (from memory)."""


def strip_mass(D_fi: Num, t_f: Num, l_f: Num, rho_A: Num) -> Num:
    r"""Mass of a former rolled from a strip, butt-jointed.

    .. math:: m_f = \pi (D_{fi} + t_f) \, l_f \, \rho_A

    Parameters
    ----------
    D_fi : float
        Inner diameter of the former. [m]
    t_f : float
        Wall thickness of the former. [m]
    l_f : float
        Length of the former. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_f : float
        Mass of the former. [kg]

    Notes
    -----
    The strip is cut pi (D + t) long, not pi D, or it leaves a gap. Holes and a lapped joint are not counted.

    References
    ----------
    .. [1] Circumference of the middle of the wall.

    Examples
    --------
    >>> round(strip_mass(0.0256, 0.00015, 0.030, 0.12) * 1000, 3)
    0.291
    """
    return np.pi * (D_fi + t_f) * l_f * rho_A


def ring_mass(d_in: Num, d_out: Num, rho_A: Num) -> Num:
    r"""Mass of a flat ring of sheet, or of a disc where ``d_in`` is 0.

    .. math:: m = \tfrac{\pi}{4} (d_{out}^2 - d_{in}^2) \, \rho_A

    Parameters
    ----------
    d_in : float
        Inner diameter. [m]
    d_out : float
        Outer diameter. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m : float
        Mass of the ring. [kg]

    Notes
    -----
    A flat card is a poor diaphragm: it breaks up far below a cone of the same mass.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(ring_mass(0.0, 0.100, 0.16) * 1000, 3)
    1.257
    """
    return np.pi / 4 * (d_out**2 - d_in**2) * rho_A


def cone_mass(d_in: Num, d_out: Num, h_c: Num, w_seam: Num, rho_A: Num) -> Num:
    r"""Mass of a straight cone of sheet with one lapped seam.

    .. math:: m_d = \left[ \pi \frac{d_{in} + d_{out}}{2} + w \right] s \, \rho_A, \quad
        s = \sqrt{\left( \frac{d_{out} - d_{in}}{2} \right)^2 + h_c^2}

    Parameters
    ----------
    d_in : float
        Diameter of the opening at the former. [m]
    d_out : float
        Outer diameter. [m]
    h_c : float
        Depth of the cone. [m]
    w_seam : float
        Overlap of the seam. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_d : float
        Mass of the diaphragm. [kg]

    Notes
    -----
    Glue in the seam and a rim for the surround come on top. The seam is off centre: balance it, or make two.

    References
    ----------
    .. [1] Lateral surface of a frustum.

    Examples
    --------
    >>> round(float(cone_mass(0.026, 0.100, 0.020, 0.006, 0.16)) * 1000, 3)
    1.372
    """
    slant = np.hypot((d_out - d_in) / 2, h_c)
    return (np.pi * (d_in + d_out) / 2 + w_seam) * slant * rho_A


def moving_share(d_in: Num, d_out: Num, rho_A: Num) -> Num:
    r"""Moving share of a surround's mass, by its kinetic energy.

    .. math:: m_s = \rho_A \int_{r_i}^{r_o} \left( \frac{r_o - r}{r_o - r_i} \right)^2 2 \pi r \, dr
        = \frac{\pi}{6} \rho_A (r_o - r_i)(r_o + 3 r_i)

    Parameters
    ----------
    d_in : float
        Diameter where it leaves the diaphragm. [m]
    d_out : float
        Diameter where the frame holds it. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_s : float
        Mass that moves as the diaphragm does. [kg]

    Notes
    -----
    Exact where the displacement falls in a straight line from the diaphragm to the frame: one third of a narrow ring.
    A ring that bends with both edges held level moves as a cubic and counts 13/35 of its mass, 11 % more than one
    third. The glued rims are not in it: the inner one moves wholly.

    References
    ----------
    .. [1] Rayleigh's method: equal kinetic energy.

    Examples
    --------
    >>> round(moving_share(0.100, 0.120, 0.3) * 1000, 3)
    0.33
    """
    r_i, r_o = d_in / 2, d_out / 2
    return np.pi / 6 * rho_A * (r_o - r_i) * (r_o + 3 * r_i)


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
    for a ring 5 times as wide as thick, 3 % for 10 times. Small strokes only: from half the thickness on, the sheet
    must also stretch, and grows stiffer with the stroke. The modulus of foam is known to a factor of 3: measure the
    dip under a weight.

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

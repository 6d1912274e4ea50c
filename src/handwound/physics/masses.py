"""What the moving parts weigh: former, diaphragm, ribs, glue, and the share of a surround that moves."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Count, Num


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


def dome_mass(d_in: Num, d_out: Num, h_c: Num, rho_A: Num) -> Num:
    r"""Mass of a dome of sheet: part of a sphere, with a hole in its middle where ``d_in`` is not 0.

    .. math:: m_d = 2 \pi R \, \Delta z \, \rho_A
        = \frac{2 \pi (r_o^2 - r_i^2) \, \rho_A}{\sqrt{1 - r_i^2 / R^2} + 1 - h_c / R}, \quad
        \frac{1}{R} = \frac{2 h_c}{r_o^2 + h_c^2}

    Parameters
    ----------
    d_in : float
        Diameter of the hole. [m]
    d_out : float
        Diameter of the rim. [m]
    h_c : float
        Height of the whole dome, the hole's part of it included. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_d : float
        Mass of the dome. [kg]

    Notes
    -----
    Up to half a sphere. A flat sheet that is pressed into a dome stretches: its mass per area is then less, and the
    dome weighs what the disc did that it was pressed from. Cut from gores it weighs this and the laps.

    References
    ----------
    .. [1] Archimedes: a zone of a sphere has the area of the cylinder round it.

    Examples
    --------
    >>> round(float(dome_mass(0.0, 0.040, 0.010, 0.16)) * 1000, 3)
    0.251
    """
    r_i, r_o = d_in / 2, d_out / 2
    bend = 2 * h_c / (r_o**2 + h_c**2)
    return 2 * np.pi * (r_o**2 - r_i**2) * rho_A / (np.sqrt(1 - (bend * r_i) ** 2) + 1 - bend * h_c)


def rib_mass(n_rib: Count, h_rib: Num, d_in: Num, d_out: Num, h_c: Num, rho_A: Num) -> Num:
    r"""Mass of ribs of sheet that stand on a cone or on a disc, each along a radius.

    .. math:: m_r = n \, h \, s \, \rho_A, \quad s = \sqrt{\left( \frac{d_{out} - d_{in}}{2} \right)^2 + h_c^2}

    Parameters
    ----------
    n_rib : int
        Number of ribs. [1]
    h_rib : float
        Height of a rib, square to the sheet that it stands on. [m]
    d_in : float
        Diameter at which they begin. [m]
    d_out : float
        Diameter at which they end. [m]
    h_c : float
        How far a rib climbs from the one to the other. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_rib : float
        Mass of all ribs. [kg]

    Notes
    -----
    Strips with square ends; one cut to a point at its end weighs less. The glue comes on top.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(float(rib_mass(6, 0.003, 0.030, 0.090, 0.0, 0.16)) * 1000, 4)
    0.0864
    """
    return n_rib * (h_rib * np.hypot((d_out - d_in) / 2, h_c) * rho_A)


def bond_mass(length: Num, w_bond: Num, t_bond: Num, rho_m: Num) -> Num:
    r"""Mass of a line of glue when it is cured.

    .. math:: m_g = l \, w \, t \, \rho_m

    Parameters
    ----------
    length : float
        Length of the line. [m]
    w_bond : float
        Its width. [m]
    t_bond : float
        Its thickness. [m]
    rho_m : float
        Density of the cured glue. [kg/m³]

    Returns
    -------
    m_g : float
        Mass of the glue. [kg]

    Notes
    -----
    Good to a half: a hand lays glue unevenly, and paper drinks it. Glue with water or solvent in it loses much of its
    wet mass as it dries; what counts is what stays. Weigh before and after, once it is dry.

    References
    ----------
    .. [1] Volume times density.

    Examples
    --------
    >>> round(bond_mass(0.302, 0.006, 0.0001, 1150.0) * 1000, 3)
    0.208
    """
    return length * w_bond * t_bond * rho_m

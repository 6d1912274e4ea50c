"""What holds the moving parts: how stiff it is, from a strip or from its shape, and how far it lets them go."""

from __future__ import annotations

import numpy as np

from handwound.errors import FieldError
from handwound.physics.curve import Curve
from handwound.physics.moving import G_N
from handwound.quantities import Num

FINE = 500
"""Places of a way at which a force is looked up."""
YIELDS = 0.75
"""Share of the compliance at rest, x/F, that ends the stroke: IEC 62458 (from memory). A spring that stiffens evenly
then holds back a sine with a third harmonic of 1/15."""


def strip_modulus(l_strip: Num, w_strip: Num, t: Num, stretch: Num, load: Num) -> Num:
    r"""Modulus of a sheet from a strip of it that a weight makes longer.

    .. math:: E = \frac{g \, m \, l}{w \, t \, \Delta l}

    Parameters
    ----------
    l_strip : float
        Free length of the strip. [m]
    w_strip : float
        Its width. [m]
    t : float
        Thickness. [m]
    stretch : float
        Length by which it grows. [m]
    load : float
        Mass hung on it. [kg]

    Returns
    -------
    E : float
        Modulus of elasticity. [Pa]

    Notes
    -----
    10 %, and creep: foam read after a minute is softer than foam that vibrates. Stretch it by a fifth at most; the free
    length counts between the clamps. Cut strips both ways: paper is twice as stiff along the machine as across.

    References
    ----------
    .. [1] Hooke's law.

    Examples
    --------
    >>> round(strip_modulus(0.060, 0.020, 0.002, 0.004, 0.050) / 1e6, 3)
    0.184
    """
    return G_N * load * l_strip / (w_strip * t * stretch)


def droop_modulus(l_strip: Num, t: Num, rho_A: Num, droop: Num) -> Num:
    r"""Modulus of a sheet from a strip of it that sinks by its own weight, held level at one end.

    .. math:: E = \frac{12}{8} \frac{g \rho_A l^4}{t^3 w}

    Parameters
    ----------
    l_strip : float
        Free length of the strip. [m]
    t : float
        Thickness. [m]
    rho_A : float
        Mass per area. [kg/m²]
    droop : float
        How far its free end sinks. [m]

    Returns
    -------
    E : float
        Modulus of elasticity. [Pa]

    Notes
    -----
    For small slopes: 3 % too high at a fifth of the length. The thickness counts three times, the length four times;
    5 % in the one is 15 %, 1 % in the other 4 %. A sheet that was rolled is bent already: turn the strip over and take
    the mean. Cut strips both ways: paper is twice as stiff along the machine as across.

    References
    ----------
    .. [1] Beam held at one end under an even load, w = q l⁴/8EI: Roark's Formulas for Stress and Strain (from memory).

    Examples
    --------
    >>> round(droop_modulus(0.100, 0.0002, 0.160, 0.0098) / 1e9, 2)
    3.0
    """
    return 1.5 * G_N * rho_A * l_strip**4 / (t**3 * droop)


def arms_stiffness(E: Num, t: Num, n_arm: Num, l_arm: Num, w_arm: Num) -> Num:
    r"""Stiffness along the axis of a spider of straight arms cut from sheet.

    .. math:: K_{sp} = n \frac{12 E I}{l^3} = n \frac{E w t^3}{l^3}

    Parameters
    ----------
    E : float
        Modulus of elasticity. [Pa]
    t : float
        Thickness of the sheet. [m]
    n_arm : float
        Number of arms. [1]
    l_arm : float
        Length of an arm between former and frame. [m]
    w_arm : float
        Width of an arm. [m]

    Returns
    -------
    K_sp : float
        Stiffness along the axis. [N/m]

    Notes
    -----
    Both ends of an arm are held level; for small strokes, see ``arms_stiffening``. Wide arms, above a third of their
    length, bend as plates and are up to 1/(1 - nu²) stiffer.

    References
    ----------
    .. [1] Beam with both ends held level, one of them shifted: Roark's Formulas for Stress and Strain (from memory).

    Examples
    --------
    >>> round(arms_stiffness(3e9, 0.00037, 3, 0.030, 0.004), 1)
    67.5
    """
    return E * w_arm * t**3 / l_arm**3 * n_arm


def arms_stiffening(x: Num, t: Num, w_arm: Num, r: Num) -> Num:
    r"""Stiffness of straight arms along a tangent at a displacement, over that at rest.

    .. math:: \frac{K(x)}{K(0)} = 1 + \frac{6}{25} \left( \frac{w x}{t r} \right)^2
        \Big/ \left( 1 + \frac{w^2}{3 r^2} \right)

    Parameters
    ----------
    x : float
        Displacement. [m]
    t : float
        Thickness of the sheet. [m]
    w_arm : float
        Width of an arm. [m]
    r : float
        Radius of the former that they meet. [m]

    Returns
    -------
    k_x : float
        Stiffness over that at rest. [1]

    Notes
    -----
    K(x) is the force over the displacement. An arm that bends in an S is short of 3x²/5l. It can stretch, or turn the
    former by that over r, and then both of its ends no longer stand in line and it bends in its plane. The length falls
    out: narrow arms go far, and a strip that cannot turn anything, as r = 0, stiffens as 1 + 18/25 (x/t)². Right to
    some 3 % up to 4/3; beyond, an arm also twists out of its plane, and is softer than this.

    References
    ----------
    .. [1] Least energy: beams bent both ways, and bars.

    Examples
    --------
    >>> round(arms_stiffening(0.002, 0.0002, 0.002, 0.013), 2)
    1.56
    """
    return 1 + 6 / 25 * (w_arm * x / t) ** 2 / (r**2 + w_arm**2 / 3)


def arms_sideways(E: Num, t: Num, n_arm: Num, l_arm: Num, w_arm: Num) -> Num:
    r"""Stiffness sideways of a spider of three or more straight arms, evenly round the circle.

    .. math:: K_y = \frac{n}{2} \, \frac{E w t}{l} \left( 1 + \frac{w^2}{l^2} \right)

    Parameters
    ----------
    E : float
        Modulus of elasticity. [Pa]
    t : float
        Thickness of the sheet. [m]
    n_arm : float
        Number of arms. [1]
    l_arm : float
        Length of an arm. [m]
    w_arm : float
        Width of an arm. [m]

    Returns
    -------
    K_y : float
        Stiffness against a sideways shift. [N/m]

    Notes
    -----
    Half of the arms pull or push, half of them bend in their plane. An arm that is not straight, or is pushed until it
    buckles, holds far less.

    References
    ----------
    .. [1] Bars and beams in parallel; the mean of cos² round the circle is one half.

    Examples
    --------
    >>> round(arms_sideways(3e9, 0.00037, 3, 0.030, 0.004) / 1000)
    226
    """
    return E * w_arm * t / l_arm * (1 + (w_arm / l_arm) ** 2) * n_arm / 2


def arms_share(n_arm: Num, l_arm: Num, w_arm: Num, rho_A: Num) -> Num:
    r"""Moving share of the mass of a spider's arms, by its kinetic energy.

    .. math:: m_{sp} = \tfrac{13}{35} \, n \, l \, w \, \rho_A

    Parameters
    ----------
    n_arm : float
        Number of arms. [1]
    l_arm : float
        Length of an arm. [m]
    w_arm : float
        Width of an arm. [m]
    rho_A : float
        Mass of the sheet per area. [kg/m²]

    Returns
    -------
    m_sp : float
        Mass that moves as the former does. [kg]

    Notes
    -----
    The collar that is glued to the former comes on top; it moves wholly.

    References
    ----------
    .. [1] Rayleigh's method on the cubic of a beam with both ends level.

    Examples
    --------
    >>> round(arms_share(3, 0.030, 0.004, 0.25) * 1e6, 1)
    33.4
    """
    return 13 / 35 * l_arm * w_arm * rho_A * n_arm


def sag(Kms: Num, Mmd: Num, k_dyn: Num = 1.0) -> Num:
    r"""How far the moving parts sink by their own weight, cone up or cone down.

    .. math:: x_g = \frac{g \, M_{md} \, k_{dyn}}{K_{ms}}

    Parameters
    ----------
    Kms : float
        Stiffness where it vibrates. [N/m]
    Mmd : float
        Moving mass without the air. [kg]
    k_dyn : float
        Stiffness where it vibrates over that under a weight. [1]

    Returns
    -------
    sag : float
        Depth. [m]

    Notes
    -----
    After a minute; foam goes on creeping for weeks. Beyond a tenth of the stroke, set the coil back by as much.

    References
    ----------
    .. [1] Hooke's law.

    Examples
    --------
    >>> round(sag(1000.0, 0.0065, 1.25) * 1000, 3)
    0.08
    """
    return G_N * Mmd * k_dyn / Kms


def dip_under(x: Num, K_x: Num, load: Num) -> Num:
    r"""How far a part sinks towards the back under a weight, where it stiffens on the way.

    .. math:: g \, m = K(-\Delta x) \, \Delta x

    Parameters
    ----------
    x : float
        Displacements, rising, with 0 among them. [m]
    K_x : float
        Stiffness at each, force over displacement; nan where none is known. [N/m]
    load : float
        Mass laid on it. [kg]

    Returns
    -------
    dip : float
        How far it sinks. [m]

    Notes
    -----
    Cubic splines between the displacements; beyond the last one it is as stiff as there. Its own weight has stiffened
    it a little before: 2 % where that sinks it by a tenth of the way.

    References
    ----------
    .. [1] Balance of the weight and the force of the suspension.

    Examples
    --------
    >>> x = np.linspace(-0.006, 0.006, 25)
    >>> round(float(dip_under(x, 1000 * (1 + (x / 0.002) ** 2), 0.100)) * 1000, 3)  # x (1 + x²/4) is 0.981
    0.835
    """
    from scipy.interpolate import CubicSpline  # late: whoever reads files does without it

    known = np.isfinite(K_x) & (np.asarray(x) <= 0)
    way, K = -np.asarray(x)[known][::-1], np.asarray(K_x)[known][::-1]
    fine = np.linspace(0.0, way[-1], FINE)
    F = np.maximum.accumulate(CubicSpline(way, K)(fine) * fine)
    weight = G_N * np.asarray(load)
    return np.where(weight <= F[-1], np.interp(weight, F, fine), weight / K[-1])


def stroke_75(x: Num, K_x: Num) -> tuple[float, float, float]:
    r"""How far the suspension lets the diaphragm move before a quarter of its compliance is gone.

    .. math:: K(x_{up}) = K(-x_{down}) = \frac{K(0)}{0.75}, \quad x_{75} = \min(x_{up}, x_{down})

    Parameters
    ----------
    x : float
        Displacements, rising, with 0 among them. [m]
    K_x : float
        Stiffness at each, force over displacement; nan where none is known. [N/m]

    Returns
    -------
    x_75_down : float
        Stroke towards the back; nan where it does not end within what is known. [m]
    x_75_up : float
        Stroke away from the back. [m]
    x_75 : float
        The lesser of the two. [m]

    Notes
    -----
    Cubic splines between the displacements.

    References
    ----------
    .. [1] IEC 62458 (from memory).

    Examples
    --------
    >>> x = np.linspace(-0.006, 0.006, 25)
    >>> round(stroke_75(x, 1000 * (1 + (x / 0.004) ** 2))[2] * 1000, 3)  # 4 mm / sqrt(3)
    2.309
    """
    known = np.isfinite(K_x)
    x, K_x = np.asarray(x)[known], np.asarray(K_x)[known]
    gives = Curve("stiffness", x, -K_x)
    if not (x[0] <= 0 <= x[-1] and gives(0.0) < 0):
        raise FieldError("stiffness: must be known and above 0 at rest. Ask for it on both sides of rest.")
    least = float(gives(0.0)) / YIELDS
    down, up = gives.falls_to(least, 0.0, -1), gives.falls_to(least, 0.0, 1)
    return down, up, float(np.fmin(down, up))

"""What a wire is, from what a bench can read of it, and what a length of it weighs and resists."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Num

RHO_ENAMEL = 1300.0
"""Mass density of enamel. [kg/m³] [1] Polyurethane and polyester resins, 1200 to 1400 (from memory)."""


def resistivity(rho_20: Num, alpha_20: Num, T: Num) -> Num:
    r"""Resistivity of a metal at a temperature.

    .. math:: \rho = \rho_{20} \left[ 1 + \alpha_{20} (T - 20) \right]

    Parameters
    ----------
    rho_20 : float
        Resistivity at 20 °C. [Ω·m]
    alpha_20 : float
        Temperature coefficient of resistance at 20 °C. [1/K]
    T : float
        Temperature. [°C]

    Returns
    -------
    rho : float
        Resistivity at that temperature. [Ω·m]

    Notes
    -----
    A straight line: within 0.5 % for copper and aluminium from -20 to 200 °C (from memory).

    References
    ----------
    .. [1] IEC 60028 for copper: 1/58 Ω·mm²/m and 0.00393 1/K (from memory).

    Examples
    --------
    >>> round(resistivity(1.7241e-8, 0.00393, 100.0) / 1.7241e-8, 4)
    1.3144
    """
    return rho_20 * (1 + alpha_20 * (T - 20))


def resistance(rho: Num, l_w: Num, d_cu: Num) -> Num:
    r"""Direct-current resistance of a length of wire.

    .. math:: R = \rho \, l_w / (\pi d_{cu}^2 / 4)

    Parameters
    ----------
    rho : float
        Resistivity at the wire's temperature. [Ω·m]
    l_w : float
        Length of wire. [m]
    d_cu : float
        Bare conductor diameter. [m]

    Returns
    -------
    R_T : float
        Resistance. [Ω]

    Notes
    -----
    1 % of diameter is 2 % of resistance. A hand that pulls hard thins the wire: 1 % longer is 2 % more ohms.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> round(resistance(1 / 58e6, 10.0, 0.0002), 3)
    5.488
    """
    return rho * l_w / (np.pi * d_cu**2 / 4)


def mass_per_metre(d_cu: Num, d_o: Num, rho_m: Num) -> Num:
    r"""Mass of one metre of wire, enamel and all.

    .. math:: m' = \tfrac{\pi}{4} \left[ \rho_m d_{cu}^2 + \rho_{enamel} (d_o^2 - d_{cu}^2) \right]

    Parameters
    ----------
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    rho_m : float
        Mass density of the metal. [kg/m³]

    Returns
    -------
    m_m : float
        Mass per length. [kg/m]

    Notes
    -----
    The enamel is 2 to 5 % of a copper wire's mass and up to 15 % of an aluminium wire's; its density is good to 8 %.

    References
    ----------
    .. [1] RHO_ENAMEL (from memory).

    Examples
    --------
    >>> round(mass_per_metre(0.0002, 0.00022, 8890.0) * 1000, 4)
    0.2879
    """
    return np.pi / 4 * (rho_m * d_cu**2 + RHO_ENAMEL * (d_o**2 - d_cu**2))


def wire_mass(l_w: Num, d_cu: Num, d_o: Num, rho_m: Num) -> Num:
    r"""Mass of the wire in a coil, enamel and all.

    .. math:: m_w = l_w m'

    Parameters
    ----------
    l_w : float
        Length of wire. [m]
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    rho_m : float
        Mass density of the metal. [kg/m³]

    Returns
    -------
    m_w : float
        Mass of wire. [kg]

    Notes
    -----
    Glue between the turns is not in it: it fills up to a fifth of the coil's room and adds 2 to 4 % in copper.

    References
    ----------
    .. [1] :func:`mass_per_metre`.

    Examples
    --------
    >>> round(wire_mass(8.8, 0.00018, 0.0002, 8890.0) * 1000, 2)
    2.06
    """
    return l_w * mass_per_metre(d_cu, d_o, rho_m)


def current_density(I_f: Num, d_cu: Num) -> Num:
    r"""Current through each square millimetre of the wire.

    .. math:: J = I / (\pi d_{cu}^2 / 4)

    Parameters
    ----------
    I_f : float
        Current in the wire; in one section where sections are parallel. [A]
    d_cu : float
        Bare conductor diameter. [m]

    Returns
    -------
    J : float
        Current density. [A/m²]

    Notes
    -----
    What heats a cubic millimetre of wire is rho J². Whether that is much depends on the surface that cools it.

    References
    ----------
    .. [1] The definition of J.

    Examples
    --------
    >>> round(current_density(0.75, 0.0005) / 1e6, 2)
    3.82
    """
    return I_f / (np.pi * d_cu**2 / 4)


def resistance_per_metre(rho: Num, d_cu: Num) -> Num:
    r"""Resistance of one metre of wire.

    .. math:: R' = \rho / (\pi d_{cu}^2 / 4)

    Parameters
    ----------
    rho : float
        Resistivity at the wire's temperature. [Ω·m]
    d_cu : float
        Bare conductor diameter. [m]

    Returns
    -------
    R_m : float
        Resistance per length. [Ω/m]

    Notes
    -----
    Wire tables reckon with 1/58.5 Ω·mm²/m for copper and allow 1/59 to 1/58; IEC 60028 says 1/58.

    References
    ----------
    .. [1] IEC 60317-0-1, IEC 60028 (from memory).

    Examples
    --------
    >>> round(resistance_per_metre(1 / 58.5e6, 0.0005), 5)
    0.08706
    """
    return resistance(rho, 1.0, d_cu)


def overall_diameter_from_wraps(w_wrap: Num, n_wrap: Num) -> Num:
    r"""Overall diameter from turns laid side by side on a rod.

    .. math:: d_o = w / n

    Parameters
    ----------
    w_wrap : float
        Width of the wrapped turns. [m]
    n_wrap : float
        Turns in that width. [1]

    Returns
    -------
    d_o : float
        Overall diameter with the enamel. [m]

    Notes
    -----
    30 to 50 turns give 1 to 2 %. Gaps and skew only ever make it too large.

    References
    ----------
    .. [1] Common practice, no source.

    Examples
    --------
    >>> round(overall_diameter_from_wraps(0.0096, 50) * 1000, 3)
    0.192
    """
    return w_wrap / n_wrap


def diameter_from_resistance(R_test: Num, l_test: Num, rho: Num) -> Num:
    r"""Bare conductor diameter from the resistance of a length.

    .. math:: d_{cu} = \sqrt{4 \rho l / (\pi R)}

    Parameters
    ----------
    R_test : float
        Resistance read on that length. [Ω]
    l_test : float
        Length of wire whose resistance was read. [m]
    rho : float
        Resistivity at the wire's temperature. [Ω·m]

    Returns
    -------
    d_cu : float
        Bare conductor diameter. [m]

    Notes
    -----
    10 m and four wires give 0.7 %. The leads of a two-wire meter (0.2 Ω) must be taken off, and 10 °C are 4 % of R.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> round(float(diameter_from_resistance(7.65, 10.0, 1 / 58e6)) * 1000, 3)
    0.169
    """
    return np.sqrt(4 * rho * l_test / (np.pi * R_test))


def reel_length(m_reel: Num, m_m: Num) -> Num:
    r"""Wire left on a reel, from its mass.

    .. math:: l = m / m'

    Parameters
    ----------
    m_reel : float
        Mass of the wire on the reel without its spool. [kg]
    m_m : float
        Mass of one metre of it. [kg/m]

    Returns
    -------
    l_reel : float
        Wire left on the reel. [m]

    Notes
    -----
    As good as the mass of the empty spool is known; an equal empty one is the best guess.

    References
    ----------
    .. [1] The definition of mass per length.

    Examples
    --------
    >>> round(reel_length(0.2, 0.000288))
    694
    """
    return m_reel / m_m


def metal_product(R_m: Num, m_m: Num) -> Num:
    r"""Resistance times mass of one metre: the same for thick and thin wire, it tells the metal.

    .. math:: R' m' = \rho \rho_m

    Parameters
    ----------
    R_m : float
        Resistance of one metre. [Ω/m]
    m_m : float
        Mass of one metre. [kg/m]

    Returns
    -------
    k_metal : float
        Resistivity times density. [Ω·kg/m²]

    Notes
    -----
    0.153 Ω·g/m² is copper, 0.076 aluminium; enamel adds 2 to 5 %, copper-clad aluminium lies between.

    References
    ----------
    .. [1] IEC 60028 values of copper (from memory): 8890 / 58e6.

    Examples
    --------
    >>> round(metal_product(0.765, 0.000202) * 1000, 3)
    0.155
    """
    return R_m * m_m


def awg_diameter(n_awg: Num) -> Num:
    r"""Bare diameter of an American wire gauge.

    .. math:: d = 0.127 \, \text{mm} \cdot 92^{(36 - n) / 39}

    Parameters
    ----------
    n_awg : int
        Gauge number; 0, -1, -2, -3 stand for 1/0 to 4/0. [1]

    Returns
    -------
    d_cu : float
        Bare conductor diameter. [m]

    Notes
    -----
    Tables round to 0.001 inch or 0.01 mm; a real wire is within 1 % of this.

    References
    ----------
    .. [1] ASTM B258 (from memory): gauge 36 is 0.0050 inch, gauge 4/0 is 0.4600 inch, 39 equal ratios between.

    Examples
    --------
    >>> round(awg_diameter(24) * 1000, 4)
    0.5106
    """
    return 0.127e-3 * 92 ** ((36 - n_awg) / 39)

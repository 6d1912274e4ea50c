"""The field coil on its supply: the current, and why more turns do not make more field on a fixed voltage."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num


def supply_current(R_T: Num, V_max: Num, I_max: Num) -> Num:
    r"""Current that a bench supply drives through a coil: whichever of its two limits is met first.

    .. math:: I_f = \min(V_{max} / R, \; I_{max})

    Parameters
    ----------
    R_T : float
        Resistance of the coil at its temperature. [Ω]
    V_max : float
        Highest voltage the supply gives. [V]
    I_max : float
        Highest current the supply gives. [A]

    Returns
    -------
    I_f : float
        Current in the field coil. [A]

    Notes
    -----
    The steady current; it gets there in a few L/R. A cold coil draws most: at +60 K copper draws 19 % less on a fixed
    voltage. Switching off without a diode across the coil turns its energy into a spark of hundreds of volts.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> float(supply_current(16.0, 12.0, 2.0)), float(supply_current(4.0, 12.0, 2.0))
    (0.75, 2.0)
    """
    return np.minimum(V_max / R_T, I_max)


def power(I_f: Num, R_T: Num) -> Num:
    r"""Power that the coil turns into heat.

    .. math:: P = I_f^2 R

    Parameters
    ----------
    I_f : float
        Current in the field coil. [A]
    R_T : float
        Resistance of the coil at its temperature. [Ω]

    Returns
    -------
    P_f : float
        Heat. [W]

    Notes
    -----
    All of it: a steady field takes no power. As the coil warms, a fixed current makes more heat and a fixed voltage
    less.

    References
    ----------
    .. [1] Joule's law.

    Examples
    --------
    >>> power(0.75, 16.0)
    9.0
    """
    return I_f**2 * R_T


def ampere_turns_at_voltage(V_f: Num, d_cu: Num, rho: Num, D_m: Num) -> Num:
    r"""Ampere-turns of any number of turns of a wire on a fixed voltage: the number of turns drops out.

    .. math:: NI = N \frac{V}{\rho \pi D_m N / A} = \frac{V A}{\rho \pi D_m}, \quad A = \pi d_{cu}^2 / 4

    Parameters
    ----------
    V_f : float
        Voltage across the coil. [V]
    d_cu : float
        Bare conductor diameter of the wire. [m]
    rho : float
        Resistivity at the wire's temperature. [Ω·m]
    D_m : float
        Mean diameter of the winding. [m]

    Returns
    -------
    NI : float
        Ampere-turns. [A]

    Notes
    -----
    More turns of the same wire only cut the current and the watts, and lose a little by their larger mean turn. More
    ampere-turns come from thicker wire or more volts, until the supply's current limit is met: from there on turns
    count. Sections in parallel act like one wire of their joint copper on the turns of one section.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> round(ampere_turns_at_voltage(12.0, 0.0005, 1 / 58e6, 0.0368))
    1182
    """
    return V_f * d_cu**2 / (4 * rho * D_m)

"""The air of the room: its density and the speed of sound in it."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num

P_ATMOSPHERE = 101325.0
"""The standard atmosphere. [Pa] CGPM 1954 (from memory)."""
R_AIR = 8.314462618 / 0.0289647
"""Gas constant over the molar mass of dry air. [J/(kg·K)] CODATA 2018, ISO 2533 (both from memory)."""
ZERO_C = 273.15
"""0 °C. [K]"""
C_ZERO = 331.3
"""Speed of sound in dry air at 0 °C. [m/s] Handbook value (from memory)."""


def density(T: Num) -> Num:
    r"""Density of dry air at the standard atmosphere.

    .. math:: \rho_0 = \frac{p}{R_{air} (T + 273.15)}

    Parameters
    ----------
    T : float
        Temperature. [°C]

    Returns
    -------
    rho_0 : float
        Density of the air. [kg/m³]

    Notes
    -----
    Weather moves it by 3 %, every 100 m of height takes 1.2 % off, damp air at 25 °C is 1 % lighter.

    References
    ----------
    .. [1] The ideal gas law.

    Examples
    --------
    >>> round(density(20.0), 3)
    1.204
    """
    return P_ATMOSPHERE / (R_AIR * (T + ZERO_C))


def speed(T: Num) -> Num:
    r"""Speed of sound in dry air.

    .. math:: c_0 = 331.3 \, \text{m/s} \, \sqrt{1 + T / 273.15}

    Parameters
    ----------
    T : float
        Temperature. [°C]

    Returns
    -------
    c_0 : float
        Speed of sound. [m/s]

    Notes
    -----
    Does not depend on pressure; damp air at 25 °C is 0.4 % faster.

    References
    ----------
    .. [1] Handbook value at 0 °C (from memory) and the square-root law of an ideal gas.

    Examples
    --------
    >>> round(float(speed(20.0)), 1)
    343.2
    """
    return C_ZERO * np.sqrt(1 + T / ZERO_C)

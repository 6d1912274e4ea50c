"""How warm the motor gets in the end: the first, lumped estimate from its outside area."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Num

H_SURFACE = 11.0
"""Heat given off by still air and radiation together. [W/(m²·K)] Common practice, no source: 10 to 12."""
H_SPREAD = 2.0
"""Half of its 5-95 % band: natural convection is never known better than this. [W/(m²·K)]"""


def case_area(d_out: Num, length: Num) -> Num:
    r"""Outside area of a motor taken as one cylinder: its wall and both ends.

    .. math:: A = \pi d_{out} \left( l + d_{out} / 2 \right)

    Parameters
    ----------
    d_out : float
        Outer diameter of the motor. [m]
    length : float
        Length of the motor along its axis. [m]

    Returns
    -------
    A_case : float
        Outside area. [m²]

    Notes
    -----
    Edges, the gap and the spool of an open motor are left out; they add a few per cent of area.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(case_area(0.068, 0.058), 5)
    0.01965
    """
    return np.pi * d_out * (length + d_out / 2)


def case_temperature(V_max: Num, I_max: Num, R_20: Num, alpha_20: Num, A_case: Num, h_case: Num, T_room: Num) -> Num:
    r"""Outside temperature in the end, the winding taken as warm as the outside.

    .. math:: T_V: \; h A (T - T_{room}) R_{20} (1 + \alpha_{20} (T - 20)) = V_{max}^2, \quad
        T_I: \; h A (T - T_{room}) = I_{max}^2 R_{20} (1 + \alpha_{20} (T - 20)), \quad T = \min(T_V, T_I)

    Parameters
    ----------
    V_max : float
        Highest voltage the supply gives. [V]
    I_max : float
        Highest current the supply gives. [A]
    R_20 : float
        Resistance of the field coil at 20 °C. [Ω]
    alpha_20 : float
        Temperature coefficient of its metal. [1/K]
    A_case : float
        Outside area of the motor. [m²]
    h_case : float
        Heat given off per area and kelvin. [W/(m²·K)]
    T_room : float
        Temperature of the room. [°C]

    Returns
    -------
    T_case : float
        Outside temperature when it no longer rises. [°C]

    Notes
    -----
    The iron and the winding are one lump: the winding is hotter than its outside, by 5 to 20 K in a coil of this
    size, so a coil on a fixed voltage draws a little less than assumed here and the outside stays a little cooler.
    The coefficient is a rule of the bench, good to 20 %. The supply turns min(V²/R, I²R) into heat; both balances
    fall with T, so the lower of their two roots holds. A constant current alone would run away where
    ``alpha_20 R_20 I_max² >= h A``; the voltage limit then ends it.

    References
    ----------
    .. [1] Newton's law of cooling; h = 10 to 12 W/(m²·K) is common practice, no source.

    Examples
    --------
    >>> round(float(case_temperature(12.0, 2.0, 16.0, 0.00393, 0.02, 11.0, 20.0)), 1)
    55.9
    """
    cooling = h_case * A_case
    R_room = R_20 * (1 + alpha_20 * (T_room - 20))
    slope = R_20 * alpha_20
    rise_at_V = (np.sqrt(R_room**2 + 4 * slope * V_max**2 / cooling) - R_room) / (2 * slope)
    left = cooling - slope * I_max**2
    rise_at_I = np.where(left > 0, R_room * I_max**2 / np.where(left > 0, left, 1.0), np.inf)
    return T_room + np.minimum(rise_at_V, rise_at_I)[()]

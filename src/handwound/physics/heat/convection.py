"""What still air carries away from a wall, a lying cylinder and a disc, and across a layer between two walls."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from scipy.constants import g

from handwound.physics.air import ZERO_C, density
from handwound.physics.heat.nusselt import (
    nusselt_cylinder,
    nusselt_down,
    nusselt_layer,
    nusselt_up,
    nusselt_vertical,
)
from handwound.quantities import Num

C_P_AIR = 1007.0
"""Specific heat of air at constant pressure. [J/(kg·K)] 1005 to 1013 from 0 to 130 °C (from memory)."""
LEAST_RISE = 0.1
"""Below this difference the coefficient no longer falls: it would be nothing, and no room is that still. [K]"""


class Film(NamedTuple):
    """Air at one temperature: kinematic viscosity [m²/s], conductivity [W/(m·K)], Prandtl number, expansion [1/K]."""

    nu_air: Num
    k_air: Num
    Pr: Num
    beta_air: Num


def film(T: Num) -> Film:
    r"""What of dry air matters for convection, at the standard atmosphere.

    .. math:: \nu = \frac{1.458 \cdot 10^{-6} \, \Theta^{1.5}}{\rho_0 (\Theta + 110.4)}, \quad
        k = \frac{2.646 \cdot 10^{-3} \, \Theta^{1.5}}{\Theta + 245.4 \cdot 10^{-12 / \Theta}}, \quad
        Pr = \frac{\nu \rho_0 c_p}{k}, \quad \beta = \frac{1}{\Theta}, \quad \Theta = T + 273.15

    Parameters
    ----------
    T : float
        Temperature of the film: the mean of wall and room. [°C]

    Returns
    -------
    nu_air : float
        Kinematic viscosity. [m²/s]
    k_air : float
        Thermal conductivity. [W/(m·K)]
    Pr : float
        Prandtl number. [1]
    beta_air : float
        Thermal expansion. [1/K]

    Notes
    -----
    Within 1 % (viscosity, conductivity) and 3 % (Prandtl) of common tables from 0 to 200 °C. Thin air carries less: at
    1500 m Ra is a third lower, convection a tenth.

    References
    ----------
    .. [1] Sutherland's viscosity and the conductivity of the U.S. Standard Atmosphere 1976 (from memory); ideal gas.

    Examples
    --------
    >>> air = film(20.0)
    >>> round(float(air.nu_air) * 1e6, 2), round(float(air.k_air), 4), round(float(air.Pr), 2)
    (15.06, 0.0257, 0.71)
    """
    kelvin = T + ZERO_C
    power = kelvin * np.sqrt(kelvin)
    viscosity, rho_0 = 1.458e-6 * power / (kelvin + 110.4), density(T)
    k_air = 2.64638e-3 * power / (kelvin + 245.4 * np.exp(-12 * np.log(10) / kelvin))
    return Film(viscosity / rho_0, k_air, viscosity * C_P_AIR / k_air, 1 / kelvin)


def h_vertical(T_s: Num, T_a: Num, height: Num) -> Num:
    r"""Heat that still air takes from a vertical wall.

    .. math:: h = Nu \, k / H, \quad Ra = g \beta \, |T_s - T_a| \, H^3 Pr / \nu^2

    Parameters
    ----------
    T_s : float
        Temperature of the surface. [°C]
    T_a : float
        Temperature of the air. [°C]
    height : float
        Height of the wall. [m]

    Returns
    -------
    h_conv : float
        Heat per area and kelvin. [W/(m²·K)]

    Notes
    -----
    A motor that stands on its back has its wall so. ±15 %; a draught, or a cone that moves, takes more.

    References
    ----------
    .. [1] :func:`nusselt_vertical`.

    Examples
    --------
    >>> round(float(h_vertical(60.0, 20.0, 0.058)), 2)
    6.8
    """
    air, Ra = _still(T_s, T_a, height)
    return nusselt_vertical(Ra, air.Pr) * air.k_air / height


def h_cylinder(T_s: Num, T_a: Num, d_out: Num) -> Num:
    r"""Heat that still air takes from the round of a cylinder that lies.

    .. math:: h = Nu \, k / d, \quad Ra = g \beta \, |T_s - T_a| \, d^3 Pr / \nu^2

    Parameters
    ----------
    T_s : float
        Temperature of the surface. [°C]
    T_a : float
        Temperature of the air. [°C]
    d_out : float
        Diameter of the cylinder. [m]

    Returns
    -------
    h_conv : float
        Heat per area and kelvin. [W/(m²·K)]

    Notes
    -----
    A motor whose driver looks forward out of a wall has its round so. ±15 % for a long one; on a short one the ends
    let air in, and it gives off some more.

    References
    ----------
    .. [1] :func:`nusselt_cylinder`.

    Examples
    --------
    >>> round(float(h_cylinder(60.0, 20.0, 0.068)), 2)
    5.77
    """
    air, Ra = _still(T_s, T_a, d_out)
    return nusselt_cylinder(Ra, air.Pr) * air.k_air / d_out


def h_up(T_s: Num, T_a: Num, d_out: Num) -> Num:
    r"""Heat that still air takes from a disc that faces up.

    .. math:: h = Nu \, k / l, \quad l = d / 4, \quad Ra = g \beta \, |T_s - T_a| \, l^3 Pr / \nu^2

    Parameters
    ----------
    T_s : float
        Temperature of the surface. [°C]
    T_a : float
        Temperature of the air. [°C]
    d_out : float
        Diameter of the disc. [m]

    Returns
    -------
    h_conv : float
        Heat per area and kelvin. [W/(m²·K)]

    Notes
    -----
    Colder than the air it holds the air as a hot one does that faces down. ±20 % for discs below 100 mm.

    References
    ----------
    .. [1] :func:`nusselt_up`.

    Examples
    --------
    >>> round(float(h_up(60.0, 20.0, 0.068)), 2)
    9.61
    """
    return _disc(T_s, T_a, d_out, np.greater_equal)


def h_down(T_s: Num, T_a: Num, d_out: Num) -> Num:
    r"""Heat that still air takes from a disc that faces down, with room below.

    .. math:: h = Nu \, k / l, \quad l = d / 4, \quad Ra = g \beta \, |T_s - T_a| \, l^3 Pr / \nu^2

    Parameters
    ----------
    T_s : float
        Temperature of the surface. [°C]
    T_a : float
        Temperature of the air. [°C]
    d_out : float
        Diameter of the disc. [m]

    Returns
    -------
    h_conv : float
        Heat per area and kelvin. [W/(m²·K)]

    Notes
    -----
    Colder than the air it sheds it as a hot one does that faces up. ±25 %. On a table there is no air to speak of.

    References
    ----------
    .. [1] :func:`nusselt_down`.

    Examples
    --------
    >>> round(float(h_down(60.0, 20.0, 0.068)), 2)
    4.8
    """
    return _disc(T_s, T_a, d_out, np.less)


def h_layer(T_1: Num, T_2: Num, d_gap: Num, height: Num) -> Num:
    r"""Heat that a layer of air carries between two upright walls, radiation left out.

    .. math:: h = Nu \, k / d, \quad Ra = g \beta \, |T_1 - T_2| \, d^3 Pr / \nu^2

    Parameters
    ----------
    T_1 : float
        Temperature of one wall. [°C]
    T_2 : float
        Temperature of the other. [°C]
    d_gap : float
        Width of the layer. [m]
    height : float
        Height of the layer. [m]

    Returns
    -------
    h_conv : float
        Heat per area and kelvin between the walls. [W/(m²·K)]

    Notes
    -----
    Up to about 5 mm the air stands still and h is k/d: good to 2 %, if the width is known. Wider layers: ±15 %. Those
    wider than a fifth of their height are outside what was measured: there it is 30 to 50 % more than two walls in
    free air, one after the other, would carry. Rings are taken as flat.

    References
    ----------
    .. [1] :func:`nusselt_layer`.

    Examples
    --------
    >>> round(float(h_layer(80.0, 60.0, 0.0005, 0.006)), 1), round(float(h_layer(80.0, 60.0, 0.010, 0.040)), 2)
    (59.1, 3.22)
    """
    air, Ra = _still(T_1, T_2, d_gap)
    return nusselt_layer(Ra, height / d_gap) * air.k_air / d_gap


def _disc(T_s: Num, T_a: Num, d_out: Num, free: Callable[[Num, Num], Num]) -> Num:
    """A disc whose air can leave where ``free`` says so of the two temperatures."""
    air, Ra = _still(T_s, T_a, d_out / 4)
    return np.where(free(T_s, T_a), nusselt_up(Ra), nusselt_down(Ra))[()] * air.k_air / (d_out / 4)


def _still(T_s: Num, T_a: Num, length: Num) -> tuple[Film, Num]:
    """The film between two temperatures, and the Rayleigh number over a length."""
    air = film((T_s + T_a) / 2)
    rise = np.maximum(np.abs(T_s - T_a), LEAST_RISE)
    cube = length * length * length  # length**3 takes numpy several times as long
    return air, g * air.beta_air * rise * cube * air.Pr / air.nu_air**2

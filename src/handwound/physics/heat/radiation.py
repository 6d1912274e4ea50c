"""What surfaces radiate: to the room around them, and to each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scipy.constants import sigma as SIGMA  # noqa: N812

from handwound.physics.air import ZERO_C

if TYPE_CHECKING:
    from handwound.quantities import Num


def h_radiation(T_s: Num, T_a: Num, eps: Num) -> Num:
    r"""Heat that a surface radiates to walls all around it.

    .. math:: h = \varepsilon \sigma (\Theta_s^2 + \Theta_a^2)(\Theta_s + \Theta_a), \quad \Theta = T + 273.15

    Parameters
    ----------
    T_s : float
        Temperature of the surface. [°C]
    T_a : float
        Temperature of the walls. [°C]
    eps : float
        Emissivity of the surface. [1]

    Returns
    -------
    h_rad : float
        Heat per area and kelvin. [W/(m²·K)]

    Notes
    -----
    Exact where the walls are far and the surface is grey. For ``eps_between`` two surfaces face to face it holds with
    their common emissivity. Heat does not ask for the colour of a paint, only whether there is any.

    References
    ----------
    .. [1] Stefan and Boltzmann's law; constant of CODATA as in scipy.

    Examples
    --------
    >>> round(h_radiation(60.0, 20.0, 0.9), 2), round(h_radiation(60.0, 20.0, 0.1), 2)
    (6.29, 0.7)
    """
    hot, cold = T_s + ZERO_C, T_a + ZERO_C
    return eps * SIGMA * (hot**2 + cold**2) * (hot + cold)


def eps_between(eps_1: Num, eps_2: Num) -> Num:
    r"""Common emissivity of two surfaces that face each other closely.

    .. math:: \varepsilon_{12} = \frac{1}{1 / \varepsilon_1 + 1 / \varepsilon_2 - 1}

    Parameters
    ----------
    eps_1 : float
        Emissivity of one. [1]
    eps_2 : float
        Emissivity of the other. [1]

    Returns
    -------
    eps : float
        Emissivity to reckon with for both. [1]

    Notes
    -----
    Large parallel grey walls; of two rings it is a few per cent off as long as the layer is thin beside its radius.
    The brighter of the two decides.

    References
    ----------
    .. [1] Radiation between parallel plates, a textbook result (from memory).

    Examples
    --------
    >>> round(eps_between(0.9, 0.9), 3), round(eps_between(0.9, 0.1), 3)
    (0.818, 0.099)
    """
    return 1 / (1 / eps_1 + 1 / eps_2 - 1)

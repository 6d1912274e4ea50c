"""How much better moving air carries heat than air at rest: the Nusselt number, as others measured and fitted it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Num


def nusselt_vertical(Ra: Num, Pr: Num) -> Num:
    r"""Nusselt number of a vertical wall in still air.

    .. math:: Nu = \left[ 0.825 + \frac{0.387 \, Ra^{1/6}}{\left[ 1 + (0.492 / Pr)^{9/16} \right]^{8/27}} \right]^2

    Parameters
    ----------
    Ra : float
        Rayleigh number over the height of the wall. [1]
    Pr : float
        Prandtl number. [1]

    Returns
    -------
    Nu : float
        Nusselt number over the height of the wall. [1]

    Notes
    -----
    For all Ra up to 1e12, laminar or not. From 1e3 to 1e6, where most motors are, their formula for laminar air alone
    is 2 to 8 % higher. A pipe as thick as it is high gives off a few per cent more than a flat wall. Measured values
    scatter by 10 to 20 % about any of them.

    References
    ----------
    .. [1] S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323; constants as in the open library
       ht, which works an example of Bergman and Incropera with them.

    Examples
    --------
    >>> round(float(nusselt_vertical(1e6, 0.71)), 2)
    16.56
    """
    return (0.825 + 0.387 * _sixth_root(Ra) / _of_Pr(0.492, Pr)) ** 2


def nusselt_cylinder(Ra: Num, Pr: Num) -> Num:
    r"""Nusselt number of a long cylinder that lies in still air.

    .. math:: Nu = \left[ 0.60 + \frac{0.387 \, Ra^{1/6}}{\left[ 1 + (0.559 / Pr)^{9/16} \right]^{8/27}} \right]^2

    Parameters
    ----------
    Ra : float
        Rayleigh number over the diameter. [1]
    Pr : float
        Prandtl number. [1]

    Returns
    -------
    Nu : float
        Nusselt number over the diameter. [1]

    Notes
    -----
    For all Ra up to 1e12. Another common formula, 0.53 Ra^0.25, is 9 % higher at Ra of 5e6: nobody knows this better
    than ±10 %. Ends are not in it.

    References
    ----------
    .. [1] S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1049; constants as in the open library
       ht.

    Examples
    --------
    >>> round(float(nusselt_cylinder(1e6, 0.71)), 2)
    14.54
    """
    return (0.60 + 0.387 * _sixth_root(Ra) / _of_Pr(0.559, Pr)) ** 2


def nusselt_up(Ra: Num) -> Num:
    r"""Nusselt number of a level plate on the side where the air can leave: hot and facing up.

    .. math:: Nu = \max(0.54 \, Ra^{1/4}, \; 0.15 \, Ra^{1/3})

    Parameters
    ----------
    Ra : float
        Rayleigh number over the area by the edge: a quarter of a disc's diameter. [1]

    Returns
    -------
    Nu : float
        Nusselt number over the same length. [1]

    Notes
    -----
    The two ranges, 1e4 to 1e7 and 1e7 to 1e11, are joined where they are equal (4.8e6), so nothing jumps; at 1e7 that
    is 6 % more than the first. Discs of 50 mm and less have Ra below 1e4: 0.59 Ra^0.25 is given there (from memory),
    9 % more.

    References
    ----------
    .. [1] Both as in the open library ht, after McAdams.

    Examples
    --------
    >>> round(float(nusselt_up(1e4)), 2)
    5.4
    """
    return np.maximum(0.54 * np.sqrt(np.sqrt(Ra)), 0.15 * np.cbrt(Ra))


def nusselt_down(Ra: Num) -> Num:
    r"""Nusselt number of a level plate on the side where the air is held: hot and facing down.

    .. math:: Nu = 0.27 \, Ra^{1/4}

    Parameters
    ----------
    Ra : float
        Rayleigh number over the area by the edge: a quarter of a disc's diameter. [1]

    Returns
    -------
    Nu : float
        Nusselt number over the same length. [1]

    Notes
    -----
    Fitted from 1e5 to 1e10. Others give 0.52 Ra^0.2 from 1e4 on (from memory), at 1e4 a fifth more: ±20 %.

    References
    ----------
    .. [1] As in the open library ht, after McAdams.

    Examples
    --------
    >>> round(float(nusselt_down(1e5)), 2)
    4.8
    """
    return 0.27 * np.sqrt(np.sqrt(Ra))


def nusselt_layer(Ra: Num, slender: Num) -> Num:
    r"""Nusselt number of a layer of air between two vertical walls.

    .. math:: Nu = \max \left( 1, \; 0.0605 \, Ra^{1/3}, \; 0.242 \, (Ra \, d / H)^{0.272} \right)

    Parameters
    ----------
    Ra : float
        Rayleigh number over the width of the layer. [1]
    slender : float
        Height of the layer over its width. [1]

    Returns
    -------
    Nu : float
        Nusselt number over the width. [1]

    Notes
    -----
    1 is air at rest: any gap of a voice coil, and most spools in their pots. Fitted for layers 5 to 110 times as high
    as wide and Ra up to 2e7. A fourth term of the source that never adds more than 8 % is left out. In a wide layer
    the width all but cancels, as it must where each wall has its own film of air.

    References
    ----------
    .. [1] S. M. ElSherbiny, G. D. Raithby, K. G. T. Hollands, J. Heat Transfer 104 (1982) 96 (from memory).

    Examples
    --------
    >>> round(float(nusselt_layer(30.0, 10.0)), 2), round(float(nusselt_layer(1e5, 10.0)), 2)
    (1.0, 2.96)
    """
    return np.maximum(np.maximum(1.0, 0.0605 * np.cbrt(Ra)), 0.242 * np.power(Ra / slender, 0.272))


def _sixth_root(Ra: Num) -> Num:
    return np.sqrt(np.cbrt(Ra))


def _of_Pr(own: float, Pr: Num) -> Num:
    return (1 + (own / Pr) ** (9 / 16)) ** (8 / 27)

"""What holds the moving parts: how stiff it is, from a strip or from its shape, and what tilts."""

from __future__ import annotations

from handwound.physics.moving import G_N
from handwound.quantities import Num


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

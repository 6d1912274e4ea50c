"""How loud the driver is: level for one watt and for 2.83 V, when warm, and towards its resonance."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num

P_REF = 20e-6  # reference sound pressure in air: ISO 1683 (from memory). [Pa]


def level_1W(eta_0: Num, rho_0: Num, c_0: Num) -> Num:
    r"""Sound level on axis at 1 m in half space for 1 W in Re.

    .. math:: L = 10 \lg \frac{\eta_0 \, \rho_0 c_0}{2 \pi \, p_{ref}^2}

    Parameters
    ----------
    eta_0 : float
        Reference efficiency. [1]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    L_1W : float
        Sound level. [dB]

    Notes
    -----
    112.2 dB at 100 % and 20 °C. Without a baffle as large as the wave is long the lows are far weaker.

    References
    ----------
    .. [1] Intensity of a half sphere; ISO 1683 for the reference pressure (from memory).

    Examples
    --------
    >>> round(float(level_1W(0.00700414, 1.204, 343.2)), 2)
    90.61
    """
    return 10 * np.log10(eta_0 * rho_0 * c_0 / (2 * np.pi * P_REF**2))


def level_2V83(L_1W: Num, Re: Num) -> Num:
    r"""The same for 2.83 V at the terminals, whatever power that is.

    .. math:: L_{2.83 V} = L_{1 W} + 10 \lg \frac{(2.83 \, V)^2}{R_e \cdot 1 \, W}

    Parameters
    ----------
    L_1W : float
        Sound level at 1 m in half space for 1 W in Re. [dB]
    Re : float
        D.c. resistance of the voice coil. [Ω]

    Returns
    -------
    L_2V83 : float
        Sound level. [dB]

    Notes
    -----
    A coil of half the resistance looks 3 dB louder here and takes twice the power: compare drivers by 1 W.

    References
    ----------
    .. [1] IEC 60268-5 (from memory).

    Examples
    --------
    >>> round(float(level_2V83(90.61, 6.0)), 2)
    91.86
    """
    return L_1W + 10 * np.log10(2.83**2 / Re)


def level_at(L_1W: Num, Bl: Num, Bl_warm: Num) -> Num:
    r"""Level for one watt when the force factor has changed and nothing else has.

    .. math:: L = L_{1 W} + 20 \lg (Bl_{warm} / Bl)

    Parameters
    ----------
    L_1W : float
        Sound level at 1 m in half space for 1 W into Re. [dB]
    Bl : float
        Force factor at which this level holds. [T·m]
    Bl_warm : float
        Force factor now. [T·m]

    Returns
    -------
    L_1W : float
        Level now. [dB]

    Notes
    -----
    The efficiency goes with Bl² at fixed mass, area and Re. The voice coil's own warming is not in it.

    References
    ----------
    .. [1] R. H. Small, Direct-radiator loudspeaker system analysis, J. Audio Eng. Soc. 20 (1972) 383 (from memory).

    Examples
    --------
    >>> round(float(level_at(87.0, 5.0, 4.5)), 2)
    86.08
    """
    return L_1W + 20 * np.log10(Bl_warm / Bl)

"""A rigid piston in a large baffle: what the air does to it, and what it does to the air."""

from __future__ import annotations

from typing import cast

import numpy as np
from scipy.special import j1, struve

from handwound.quantities import Num

KA_PISTON = 1.6137
"""ka at which a piston radiates 3.00 dB less along its baffle than straight ahead: 2 J1(x)/x = 10^(-3/20)."""
SMALLEST = 1e-100
"""Stands in for a divisor of nought, where the quotients have limits that 0/0 has not."""


def piston_resistance(ka_2: Num) -> Num:
    r"""Radiation resistance of one side of a piston in a baffle, over rho c S.

    .. math:: R_1(x) = 1 - 2 J_1(x) / x, \quad x = 2 k a

    Parameters
    ----------
    ka_2 : float
        Twice the circumference of the piston over the wavelength. [1]

    Returns
    -------
    R_1 : float
        Radiation resistance over that of a plane wave. [1]

    Notes
    -----
    Rises as x²/8 while the piston is small against the wave, and stays at 1 beyond x = 4.

    References
    ----------
    .. [1] Rayleigh, The Theory of Sound, § 302 (from memory).

    Examples
    --------
    >>> round(float(piston_resistance(2.0)), 4)
    0.4233
    """
    return 1 - directivity(ka_2)


def piston_reactance(ka_2: Num) -> Num:
    r"""Radiation reactance of one side of a piston in a baffle, over rho c S.

    .. math:: X_1(x) = 2 H_1(x) / x, \quad x = 2 k a, \; H_1 \text{ the Struve function}

    Parameters
    ----------
    ka_2 : float
        Twice the circumference of the piston over the wavelength. [1]

    Returns
    -------
    X_1 : float
        Radiation reactance over rho c S. [1]

    Notes
    -----
    Rises as 4x/3π, the mass of :func:`handwound.physics.moving.air_mass`; the air comes off as the piston grows large.

    References
    ----------
    .. [1] Rayleigh, The Theory of Sound, § 302 (from memory).

    Examples
    --------
    >>> round(float(piston_reactance(2.0)), 4)
    0.6468
    """
    return cast("Num", 2 * struve(1, ka_2) / np.maximum(ka_2, SMALLEST))


def directivity(ka_sin: Num) -> Num:
    r"""Far pressure of a piston in a baffle off its axis, over that on the axis.

    .. math:: D(x) = 2 J_1(x) / x, \quad x = k a \sin \theta

    Parameters
    ----------
    ka_sin : float
        Circumference over wavelength, times the sine of the angle off the axis. [1]

    Returns
    -------
    D_p : float
        Pressure over that on the axis. [1]

    Notes
    -----
    Far away means farther than a²/wavelength and than the piston is wide. On the axis, x = 0, it is 1 by definition.

    References
    ----------
    .. [1] Rayleigh, The Theory of Sound, § 302 (from memory).

    Examples
    --------
    >>> round(float(20 * np.log10(directivity(1.6137))), 2)
    -3.0
    """
    x = np.maximum(np.abs(ka_sin), SMALLEST)  # an even function: the other side of the axis sees the same
    return cast("Num", 2 * j1(x) / x)


def piston_limit(a: Num, c_0: Num) -> Num:
    r"""Frequency up to which the piston model is shown: there it already beams 3 dB.

    .. math:: k a = 1.6137, \quad f = 1.6137 \, c_0 / (2 \pi a)

    Parameters
    ----------
    a : float
        Effective radius of the diaphragm. [m]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    f_piston : float
        Highest frequency of the piston range. [Hz]

    Notes
    -----
    Along the baffle, at 90°, the level is then 3 dB below that on the axis; further up the axis alone would tell a
    flattering tale. A card cone may break up long before: nothing here knows of it.

    References
    ----------
    .. [1] :func:`directivity`; ka = 1.6 is often rounded from it.

    Examples
    --------
    >>> round(piston_limit(0.055, 343.2))
    1603
    """
    return KA_PISTON * c_0 / (2 * np.pi * a)


def radiation(f: Num, a: Num, Sd: Num, rho_0: Num, c_0: Num) -> complex | np.typing.NDArray[np.complexfloating]:
    r"""What the air on both sides of a piston in a large baffle holds against its motion.

    .. math:: Z_{air} = 2 \rho_0 c_0 S_d (R_1 + j X_1)

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    a : float
        Effective radius of the diaphragm. [m]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Z_air : complex
        Mechanical impedance of the air: its real part is a resistance, its imaginary part a mass at low notes. [kg/s]

    Notes
    -----
    A rigid flat piston that radiates to both sides. A cone is taken as flat.

    References
    ----------
    .. [1] Beranek, Acoustics, piston in an infinite baffle (from memory).

    Examples
    --------
    >>> complex(radiation(100.0, 0.05, 0.00785, 1.204, 343.2)).imag / (2 * np.pi * 100) * 1000  # doctest: +ELLIPSIS
    0.80...
    """
    ka_2 = 4 * np.pi * f * a / c_0
    return 2 * rho_0 * c_0 * Sd * (piston_resistance(ka_2) + 1j * piston_reactance(ka_2))


def mechanical_impedance(
    f: Num, Mmd: Num, Rms: Num, Kms: Num, a: Num, Sd: Num, rho_0: Num, c_0: Num
) -> complex | np.typing.NDArray[np.complexfloating]:
    r"""Mechanical impedance of the moving parts with the air on both sides.

    .. math:: Z_m = R_{ms} + j \omega M_{md} + \frac{K_{ms}}{j \omega} + Z_{air}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    Mmd : float
        Moving mass without the air. [kg]
    Rms : float
        Mechanical resistance of the suspension. [kg/s]
    Kms : float
        Stiffness of the suspension. [N/m]
    a : float
        Effective radius of the diaphragm. [m]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Z_m : complex
        Force over velocity. [kg/s]

    Notes
    -----
    A rigid diaphragm in a large baffle, see :func:`radiation`.

    References
    ----------
    .. [1] Newton's law for a mass on a spring, with the air of :func:`radiation`.

    Examples
    --------
    >>> Z_m = mechanical_impedance(100.0, 0.0149, 1.4, 833.0, 0.0825, 0.0214, 1.204, 343.2)
    >>> round(float(Z_m.real), 1), round(float(Z_m.imag), 1)
    (1.6, 10.3)
    """
    omega = 2 * np.pi * f
    return Rms + 1j * (omega * Mmd - Kms / omega) + radiation(f, a, Sd, rho_0, c_0)

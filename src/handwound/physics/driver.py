"""The driver at low frequencies as its terminals and the room see it: resonance, quality factors, impedance."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num


def resonance(Mms: Num, Kms: Num) -> Num:
    r"""Resonance frequency of the moving mass on its suspension.

    .. math:: f_s = \frac{1}{2 \pi} \sqrt{K_{ms} / M_{ms}}

    Parameters
    ----------
    Mms : float
        Moving mass with the air. [kg]
    Kms : float
        Stiffness of the suspension. [N/m]

    Returns
    -------
    fs : float
        Resonance frequency in a large baffle. [Hz]

    Notes
    -----
    Suspensions soften with stroke, warmth and use: 10 % of frequency between two days is usual.

    References
    ----------
    .. [1] A mass on a spring.

    Examples
    --------
    >>> round(float(resonance(0.0185, 1 / 0.0012)), 2)
    33.78
    """
    return np.sqrt(Kms / Mms) / (2 * np.pi)


def compliance(Kms: Num) -> Num:
    r"""Compliance of the suspension.

    .. math:: C_{ms} = 1 / K_{ms}

    Parameters
    ----------
    Kms : float
        Stiffness of the suspension. [N/m]

    Returns
    -------
    Cms : float
        Compliance. [m/N]

    Notes
    -----
    The inverse of the stiffness, nothing more.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> compliance(2000.0)
    0.0005
    """
    return 1 / Kms


def Q_ms(fs: Num, Mms: Num, Rms: Num) -> Num:
    r"""Mechanical quality factor.

    .. math:: Q_{ms} = 2 \pi f_s M_{ms} / R_{ms}

    Parameters
    ----------
    fs : float
        Resonance frequency. [Hz]
    Mms : float
        Moving mass with the air. [kg]
    Rms : float
        Mechanical resistance of the suspension. [kg/s]

    Returns
    -------
    Qms : float
        Mechanical quality factor. [1]

    Notes
    -----
    As uncertain as the loss: a factor of 2. It sets the height of the impedance peak and hardly the sound.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(Q_ms(33.7788, 0.0185, 1.4), 4)
    2.8046
    """
    return 2 * np.pi * fs * Mms / Rms


def Q_es(fs: Num, Mms: Num, Re: Num, Bl: Num) -> Num:
    r"""Electrical quality factor, on an amplifier without output resistance.

    .. math:: Q_{es} = 2 \pi f_s M_{ms} R_e / Bl^2

    Parameters
    ----------
    fs : float
        Resonance frequency. [Hz]
    Mms : float
        Moving mass with the air. [kg]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    Bl : float
        Force factor. [T·m]

    Returns
    -------
    Qes : float
        Electrical quality factor. [1]

    Notes
    -----
    Leads and a series resistor add to Re and raise it.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(Q_es(33.7788, 0.0185, 6.0, 7.5), 4)
    0.4188
    """
    return 2 * np.pi * fs * Mms * Re / Bl**2


def Q_ts(Qms: Num, Qes: Num) -> Num:
    r"""Total quality factor.

    .. math:: Q_{ts} = Q_{ms} Q_{es} / (Q_{ms} + Q_{es})

    Parameters
    ----------
    Qms : float
        Mechanical quality factor. [1]
    Qes : float
        Electrical quality factor. [1]

    Returns
    -------
    Qts : float
        Total quality factor. [1]

    Notes
    -----
    In a large baffle the level at resonance is 20 lg Qts above the level well above it.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(Q_ts(2.80458, 0.418817), 4)
    0.3644
    """
    return Qms * Qes / (Qms + Qes)


def V_as(Cms: Num, Sd: Num, rho_0: Num, c_0: Num) -> Num:
    r"""Volume of air as stiff as the suspension.

    .. math:: V_{as} = \rho_0 c_0^2 S_d^2 C_{ms}

    Parameters
    ----------
    Cms : float
        Compliance of the suspension. [m/N]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Vas : float
        Equivalent volume. [m³]

    Notes
    -----
    Moves with the suspension, as the resonance does, and with the fourth power of the radius.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(V_as(0.0012, 0.0214, 1.204, 343.2) * 1000, 2)
    77.93
    """
    return rho_0 * c_0**2 * Sd**2 * Cms


def reference_efficiency(fs: Num, Vas: Num, Qes: Num, c_0: Num) -> Num:
    r"""Acoustic power in half space over the power in Re, between resonance and beaming.

    .. math:: \eta_0 = 4 \pi^2 f_s^3 V_{as} / (c_0^3 Q_{es}) = \rho_0 Bl^2 S_d^2 / (2 \pi c_0 R_e M_{ms}^2)

    Parameters
    ----------
    fs : float
        Resonance frequency. [Hz]
    Vas : float
        Volume of air as stiff as the suspension. [m³]
    Qes : float
        Electrical quality factor. [1]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    eta_0 : float
        Reference efficiency. [1]

    Notes
    -----
    For a rigid piston in a large baffle, well above resonance and below ka = 1. Force, area and mass alone make it.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(reference_efficiency(33.7788, 0.0779345, 0.418817, 343.2) * 100, 3)
    0.7
    """
    return 4 * np.pi**2 / c_0**3 * fs**3 * Vas / Qes


def Z_max(Re: Num, Bl: Num, Rms: Num) -> Num:
    r"""Modulus of the impedance at resonance.

    .. math:: Z_{max} = R_e + Bl^2 / R_{ms}

    Parameters
    ----------
    Re : float
        D.c. resistance of the voice coil. [Ω]
    Bl : float
        Force factor. [T·m]
    Rms : float
        Mechanical resistance of the suspension. [kg/s]

    Returns
    -------
    Z_max : float
        Modulus of the impedance at resonance. [Ω]

    Notes
    -----
    As uncertain as the loss. A peak far lower than planned is the first sign of a weak field or of rubbing.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(Z_max(6.0, 7.5, 1.4), 3)
    46.179
    """
    return Re + Bl**2 / Rms


def impedance(
    f: Num, Re: Num, Bl: Num, Mms: Num, Rms: Num, Kms: Num
) -> complex | np.typing.NDArray[np.complexfloating]:
    r"""Impedance of the voice coil with what its motion sends back, its inductance left out.

    .. math:: Z = R_e + \frac{Bl^2}{R_{ms} + j \omega M_{ms} + K_{ms} / j \omega}, \quad \omega = 2 \pi f

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    Bl : float
        Force factor. [T·m]
    Mms : float
        Moving mass with the air. [kg]
    Rms : float
        Mechanical resistance of the suspension. [kg/s]
    Kms : float
        Stiffness of the suspension. [N/m]

    Returns
    -------
    Z : complex
        Impedance. [Ω]

    Notes
    -----
    Inductance lifts a real coil above this curve: the least impedance here is the safe side for the amplifier.

    References
    ----------
    .. [1] Small 1972 (from memory).

    Examples
    --------
    >>> round(abs(impedance(33.7788, 6.0, 7.5, 0.0185, 1.4, 1 / 0.0012)), 2)
    46.18
    """
    return Re + Bl**2 / (Rms + 2j * np.pi * f * Mms + Kms / (2j * np.pi * f))

"""One tone as loud as can be through a given resistance: how many turns, which mass or stiffness."""

from __future__ import annotations

import numpy as np

from handwound.physics.hum import Phasor
from handwound.quantities import Num


def best_turns(R_source: Num, Re: Num, Z_b: Phasor, Bl: Num, Z_m: Phasor) -> tuple[Num, Num]:
    r"""Turns of a voice coil of the same copper that are loudest at one frequency.

    .. math:: v = \frac{n \, U Bl}{R_s Z_m + n^2 ((R_e + Z_b) Z_m + Bl^2)}, \quad
        n^2 = \frac{R_s}{|Z|}, \; Z = R_e + Z_b + \frac{Bl^2}{Z_m}

    Parameters
    ----------
    R_source : float
        All that is in series with the driver. [Ω]
    Re : float
        D.c. resistance of the voice coil at hand. [Ω]
    Z_b : complex
        Impedance of it held still, without Re. [Ω]
    Bl : float
        Force factor of it. [T·m]
    Z_m : complex
        Mechanical impedance of all that moves at this frequency. [kg/s]

    Returns
    -------
    k_N : float
        Turns over those of the coil at hand; 0 for a source without resistance, where fewer are always louder. [1]
    dL_tone : float
        Level beside that of the coil at hand, at the same voltage of the source. [dB]

    Notes
    -----
    Copper, room and mass stay, so Bl goes with n, all ohms with n²: wire of 1/√n the diameter. The best coil's modulus
    of impedance at this frequency is the source's resistance, whatever the phase. Enamel takes more of the room of thin
    wire, so more turns gain a little less than this, fewer a little more.

    References
    ----------
    .. [1] Derived here: n/|A + n² B| is largest where n² = |A|/|B|.

    Examples
    --------
    >>> k_N, dL = best_turns(24.0, 5.0, 0.0, 4.0, 16.0)
    >>> float(k_N), round(float(dL), 2)
    (2.0, 1.94)
    """
    Z = np.asarray(Re + Z_b + Bl**2 / Z_m)
    R, modulus = np.asarray(R_source, float), np.abs(Z)
    with np.errstate(divide="ignore"):  # no resistance: no turns at all, infinitely loud
        gain = np.abs(R + Z) / (np.sqrt(R * modulus) * np.abs(1 + Z / modulus))
        return np.sqrt(R / modulus), 20 * np.log10(gain)


def best_mass(f: Num, R_source: Num, Re: Num, Z_b: Phasor, Bl: Num, Z_m: Phasor) -> tuple[Num, Num, Num]:
    r"""Mass or stiffness to add so that one frequency is loudest.

    .. math:: Y = Z_m + \frac{Bl^2}{R_s + R_e + Z_b}, \quad
        m_+ = \max\left(0, -\frac{\mathrm{Im}\, Y}{\omega}\right), \quad K_+ = \max(0, \omega \, \mathrm{Im}\, Y), \quad
        \Delta L = 20 \lg \frac{|Y|}{\mathrm{Re}\, Y}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    R_source : float
        All that is in series with the driver. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    Z_b : complex
        Impedance of the voice coil held still, without Re. [Ω]
    Bl : float
        Force factor. [T·m]
    Z_m : complex
        Mechanical impedance of all that moves at this frequency. [kg/s]

    Returns
    -------
    m_add : float
        Mass to add on the diaphragm near its neck; 0 where the resonance lies below the tone. [kg]
    K_add : float
        Stiffness to add instead; 0 where it lies above. [N/m]
    dL_tone : float
        Level beside that before, at the same voltage of the source. [dB]

    Notes
    -----
    A mass costs nothing at the tone, where the spring carries it. The gain is large where the motor brakes little, a
    high Qts by a weak motor or a large resistance in series; with much inductance the best place lies off fs. All
    else grows with it: the stroke is largest there, so look at its limit. A stiffer surround can also be a narrower
    one.

    References
    ----------
    .. [1] Derived here: v = U Bl / ((R_s + Re + Z_b) Y), and an added mass or spring moves Im Y alone.

    Examples
    --------
    >>> m_add, K_add, dL = best_mass(100.0, 0.0, 6.0, 0.0, 4.0, 1.0 - 6.0j)
    >>> round(float(m_add) * 1000, 2), float(K_add), round(float(dL), 2)
    (9.55, 0.0, 5.66)
    """
    omega, Y = 2 * np.pi * f, Z_m + Bl**2 / (R_source + Re + Z_b)
    return np.maximum(0, -Y.imag / omega), np.maximum(0, omega * Y.imag), 20 * np.log10(np.abs(Y) / Y.real)

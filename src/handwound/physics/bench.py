"""What readings on the bench tell of a driver: its Q from the peak, its mass, its compliance, its copper."""

from __future__ import annotations

import numpy as np

from handwound.quantities import Num


def flank(Z_max: Num, Re: Num) -> Num:
    r"""Modulus of the impedance at which the two flanks of the peak are read.

    .. math:: Z_{12} = \sqrt{Z_{max} R_e}

    Parameters
    ----------
    Z_max : float
        Modulus of the impedance at resonance. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]

    Returns
    -------
    Z_flank : float
        Modulus to look for on both sides of the peak. [Ω]

    Notes
    -----
    Any other height would do with another formula; at this one the two frequencies lie evenly about the resonance.

    References
    ----------
    .. [1] R. H. Small, Direct-radiator loudspeaker system analysis, J. Audio Eng. Soc. 20 (1972) 383 (from memory).

    Examples
    --------
    >>> round(float(flank(46.179, 6.0)), 2)
    16.65
    """
    return np.sqrt(Z_max * Re)


def Q_from_peak(Z_max: Num, Re: Num, f_1: Num, f_2: Num) -> tuple[Num, Num, Num, Num]:
    r"""Resonance and quality factors from the peak of the impedance.

    .. math:: f_s = \sqrt{f_1 f_2}, \quad r_0 = \frac{Z_{max}}{R_e}, \quad
        Q_{ms} = \frac{f_s \sqrt{r_0}}{f_2 - f_1}, \quad Q_{es} = \frac{Q_{ms}}{r_0 - 1}, \quad
        Q_{ts} = \frac{Q_{ms}}{r_0}

    Parameters
    ----------
    Z_max : float
        Modulus of the impedance at resonance. [Ω]
    Re : float
        D.c. resistance of the voice coil, at the temperature it had in the sweep. [Ω]
    f_1 : float
        Frequency below resonance at which the modulus is that of :func:`flank`. [Hz]
    f_2 : float
        Frequency above resonance at which it is. [Hz]

    Returns
    -------
    fs : float
        Resonance frequency. [Hz]
    Qms : float
        Mechanical quality factor. [1]
    Qes : float
        Electrical quality factor. [1]
    Qts : float
        Total quality factor. [1]

    Notes
    -----
    Exact where the coil has no inductance. Compare the peak you read with sqrt(f_1 f_2): more than 2 % apart, and
    inductance or a rub bends the peak. 2 % of error in each reading is 5 % in Qes.

    References
    ----------
    .. [1] R. H. Small, Direct-radiator loudspeaker system analysis, J. Audio Eng. Soc. 20 (1972) 383 (from memory).

    Examples
    --------
    >>> [round(float(number), 3) for number in Q_from_peak(46.179, 6.0, 20.97775, 54.39118)]
    [33.779, 2.805, 0.419, 0.364]
    """
    fs, r_0 = np.sqrt(f_1 * f_2), Z_max / Re
    Qms = fs * np.sqrt(r_0) / (f_2 - f_1)
    return fs, Qms, Qms / (r_0 - 1), Qms / r_0


def mass_from_shift(m: Num, fs: Num, f_m: Num) -> Num:
    r"""Moving mass from the shift of the resonance by a known mass.

    .. math:: M_{ms} = \frac{m}{(f_s / f_m)^2 - 1}

    Parameters
    ----------
    m : float
        Mass pressed onto the diaphragm near its neck. [kg]
    fs : float
        Resonance frequency. [Hz]
    f_m : float
        Resonance frequency with the mass on. [Hz]

    Returns
    -------
    Mms : float
        Moving mass with the air. [kg]

    Notes
    -----
    Wants a shift by a fifth or more: as much mass as half of what moves. Putty that rattles tells nothing.

    References
    ----------
    .. [1] Two masses on one spring.

    Examples
    --------
    >>> round(mass_from_shift(0.010, 33.7788, 27.2149), 5)
    0.0185
    """
    return m / ((fs / f_m) ** 2 - 1)


def Vas_from_box(V_box: Num, fs: Num, f_c: Num) -> Num:
    r"""Volume as stiff as the suspension from the shift of the resonance in a tight box.

    .. math:: V_{as} = V_b \left( (f_c / f_s)^2 - 1 \right)

    Parameters
    ----------
    V_box : float
        Volume of air in the box, with that inside the cone where it is mounted face down. [m³]
    fs : float
        Resonance frequency in the open. [Hz]
    f_c : float
        Resonance frequency on the box. [Hz]

    Returns
    -------
    Vas : float
        Volume of air as stiff as the suspension. [m³]

    Notes
    -----
    The box takes one side of the air's mass away or changes it: some percent. A leak shows as a lower f_c.

    References
    ----------
    .. [1] R. H. Small, Closed-box loudspeaker systems, J. Audio Eng. Soc. 20 (1972) 798 (from memory).

    Examples
    --------
    >>> round(Vas_from_box(0.015, 33.7788, 84.0788) * 1000, 2)
    77.93
    """
    return V_box * ((f_c / fs) ** 2 - 1)


def copper_mass(l_w: Num, R_20: Num, rho_20: Num, rho_m: Num) -> Num:
    r"""Mass of a coil's metal from its length and its resistance.

    .. math:: m_w = \rho_m \rho_{20} \, l_w^2 / R_{20}

    Parameters
    ----------
    l_w : float
        Length of wire in the coil. [m]
    R_20 : float
        Resistance of the coil at 20 °C. [Ω]
    rho_20 : float
        Resistivity of the metal at 20 °C. [Ω·m]
    rho_m : float
        Mass density of the metal. [kg/m³]

    Returns
    -------
    m_w : float
        Mass of the metal, without enamel. [kg]

    Notes
    -----
    The diameter drops out: a meter and a count of turns weigh the coil. Enamel adds 2 to 5 %.

    References
    ----------
    .. [1] Cross-section twice: from the resistance and for the volume.

    Examples
    --------
    >>> round(copper_mass(9.0, 6.0, 1 / 58e6, 8890.0) * 1000, 2)
    2.07
    """
    return rho_m * rho_20 * l_w**2 / R_20

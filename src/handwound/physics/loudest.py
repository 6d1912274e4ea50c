"""The loudest steady tone at each frequency and what ends it; frequencies with names, and resistors one can buy."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from handwound.quantities import Count, Num

LIMITS = ("excursion", "heat", "voltage", "current")
"""What a tone can meet first, in the order of the numbers that :func:`loudest` gives."""
NONE = 1e-30
"""Stands in for no tone at all."""
R_10 = np.array([1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0])
"""Nominal frequencies of a decade: ISO 266 and IEC 61260-1 (from memory)."""
E_24 = np.array(
    [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91]
) / 10  # fmt: skip
"""Resistors of a decade; every second is E12: IEC 60063 (from memory). Its 27 to 47 and 82 are no rounded powers."""


class Loudest(NamedTuple):
    """Voltage at the first limit, level there, and which of ``LIMITS`` that is."""

    U_max: Num
    L_max: Num
    n_limit: Count


def loudest(
    U_0: Num, x_pk: Num, P_vc: Num, I: Num, L_p: Num, x_lim: Num, P_lim: Num, U_lim: Num, I_lim: Num
) -> Loudest:
    r"""How far a tone can be turned up, from what it does at one voltage.

    .. math:: s = \min\left( \frac{x_{lim}}{x_{pk}}, \sqrt{\frac{P_{lim}}{P_{vc}}}, \frac{U_{lim}}{U_0},
        \frac{I_{lim}}{I} \right), \quad U_{max} = s \, U_0, \quad L_{max} = L_p + 20 \lg s

    Parameters
    ----------
    U_0 : float
        Voltage of the amplifier without a load at which the rest was found, r.m.s. [V]
    x_pk : float
        Peak excursion at it. [m]
    P_vc : float
        Heat in the voice coil at it. [W]
    I : float
        Current at it, r.m.s. [A]
    L_p : float
        Level at it. [dB]
    x_lim : float
        Largest peak excursion allowed: the least of the strokes by force factor, stiffness, clearance and stop. [m]
    P_lim : float
        Largest heat allowed for good. [W]
    U_lim : float
        Largest voltage of the amplifier, r.m.s. [V]
    I_lim : float
        Largest current of the amplifier, r.m.s. [A]

    Returns
    -------
    U_max : float
        Voltage at the first limit, r.m.s. [V]
    L_max : float
        Level there. [dB]
    n_limit : int
        Which it is, a place in ``LIMITS``. [1]

    Notes
    -----
    Everything is taken to grow in step with the voltage. Near a limit it does not: a hot coil has more ohms, the force
    factor falls at the end of the stroke, and the true level is lower. A steady tone at a limit can harm ears within
    minutes, and hot coils burn. Where a limit is passed without any tone, it is 0 dB: silence.

    References
    ----------
    .. [1] Proportion.

    Examples
    --------
    >>> end = loudest(2.0, 0.001, 0.5, 0.3, 84.0, 0.003, 8.0, 10.0, 3.0)
    >>> float(end.U_max), round(float(end.L_max), 2), LIMITS[end.n_limit]
    (6.0, 93.54, 'excursion')
    """
    ratios = np.stack(np.broadcast_arrays(x_lim / x_pk, np.sqrt(P_lim / P_vc), U_lim / U_0, I_lim / np.abs(I)))
    least = np.min(ratios, axis=0)
    L_max = L_p + 20 * np.log10(np.maximum(least, NONE))
    return Loudest(U_0 * least, np.maximum(L_max, 0.0), np.argmin(ratios, axis=0))


def amplifier_limits(P_max: Num, Z_least: Num) -> tuple[Num, Num]:
    r"""Largest voltage and current of an amplifier from its rated power at its least load.

    .. math:: U_{lim} = \sqrt{P_{max} Z_{least}}, \quad I_{lim} = \sqrt{P_{max} / Z_{least}}

    Parameters
    ----------
    P_max : float
        Rated power at the least load. [W]
    Z_least : float
        Least load. [Ω]

    Returns
    -------
    U_lim : float
        Largest voltage, r.m.s. [V]
    I_lim : float
        Largest current, r.m.s. [A]

    Notes
    -----
    Of a sine. Most amplifiers give a little more voltage into a light load and a little more current for a moment.

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> [round(float(number), 3) for number in amplifier_limits(15.0, 4.0)]
    [7.746, 1.936]
    """
    return np.sqrt(P_max * Z_least), np.sqrt(P_max / Z_least)


def full_heat(P_max: Num, Z_least: Num, Z_min: Num, Re: Num) -> Num:
    r"""Heat in a voice coil when all of the amplifier is turned up on a tone where its impedance is least.

    .. math:: P_{vc} = \min\left( \frac{\sqrt{P_{max} Z_{least}}}{Z_{min}},
        \sqrt{\frac{P_{max}}{Z_{least}}} \right)^2 R_e

    Parameters
    ----------
    P_max : float
        Rated power of the amplifier at its least load. [W]
    Z_least : float
        That load. [Ω]
    Z_min : float
        Least modulus of what it meets, with all that is in series. [Ω]
    Re : float
        Resistance of the voice coil to direct current. [Ω]

    Returns
    -------
    P_vc : float
        Heat in the voice coil. [W]

    Notes
    -----
    Of a cold coil: a hot one takes less. What an amplifier gives beyond its rating for a moment is not in it.

    References
    ----------
    .. [1] Joule's and Ohm's laws.

    Examples
    --------
    >>> round(float(full_heat(15.0, 4.0, 6.0, 5.6)), 2)
    9.33
    """
    U_lim, I_lim = amplifier_limits(P_max, Z_least)
    return np.minimum(U_lim / Z_min, I_lim) ** 2 * Re


def third_octaves(f_lo: float, f_hi: float) -> tuple[Num, Num]:
    r"""Third-octave bands between two frequencies, as they are called and as they are.

    .. math:: f_{mid} = 1000 \cdot 10^{k/10} \, \mathrm{Hz}

    Parameters
    ----------
    f_lo : float
        Lowest nominal frequency. [Hz]
    f_hi : float
        Highest nominal frequency. [Hz]

    Returns
    -------
    f_nom : float
        Nominal mid-band frequencies. [Hz]
    f_mid : float
        Exact ones. [Hz]

    Notes
    -----
    Ten bands are a decade, so three are a little less than an octave.

    References
    ----------
    .. [1] IEC 61260-1 (from memory).

    Examples
    --------
    >>> f_nom, f_mid = third_octaves(80, 160)
    >>> f_nom.tolist(), f_mid.round(2).tolist()
    ([80.0, 100.0, 125.0, 160.0], [79.43, 100.0, 125.89, 158.49])
    """
    k = np.arange(np.floor(10 * np.log10(f_lo)) - 1, np.ceil(10 * np.log10(f_hi)) + 2)
    decade, place = np.divmod(k, 10)
    f_nom, f_mid = 10**decade * R_10[place.astype(int)], 10 ** (k / 10)
    inside = (f_nom >= f_lo * (1 - 1e-9)) & (f_nom <= f_hi * (1 + 1e-9))
    return f_nom[inside], f_mid[inside]


def preferred(R_series: Num, n_series: Count = 12) -> Num:
    r"""Resistor one can buy that is nearest to the one wanted.

    .. math:: R_E = \arg\min_{R \in E} |\lg (R / R_{wanted})|

    Parameters
    ----------
    R_series : float
        Resistance wanted, above 0. [Ω]
    n_series : int
        12 or 24 values in a decade. [1]

    Returns
    -------
    R_nearest : float
        Preferred value. [Ω]

    Notes
    -----
    Nearest as a ratio. A resistor in series with a driver gets hot: one for at least the watts it takes, in free air.

    References
    ----------
    .. [1] IEC 60063 (from memory).

    Examples
    --------
    >>> [float(preferred(R)) for R in (3.4, 9.5, 10.9, 0.25)]
    [3.3, 10.0, 10.0, 0.27]
    """
    values = np.append(E_24[:: 24 // n_series], 10.0)
    decade = np.floor(np.log10(R_series))
    off = np.abs(np.log(np.asarray(R_series / 10**decade)[..., None] / values))
    return np.round(values[np.argmin(off, axis=-1)] * 10**decade, 6)

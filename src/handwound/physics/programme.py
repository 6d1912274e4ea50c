"""From music to watts: what a programme's peaks, its loudness and its spectrum leave as heat in the voice coil."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from handwound.quantities import Num

Array = npt.NDArray[np.float64]
F_LO, F_HI = 40.0, 5000.0
"""Between these a programme that stands for music and speech has the same power in each octave, here. [Hz] Common
practice, no source; the noise of IEC 60268-5 falls off gently at both ends (from memory)."""
STEPS = 2000
"""Steps in the logarithm of the frequency over a pink band; a thousand times finer than any impedance bends."""


def peak_voltage(P_max: Num, Z_least: Num) -> Num:
    r"""Highest voltage an amplifier can give: the peak of the sine of its rated power.

    .. math:: \hat U = \sqrt{2 P_{max} Z_{least}}

    Parameters
    ----------
    P_max : float
        Rated power of the amplifier. [W]
    Z_least : float
        Load at which it is rated. [Ω]

    Returns
    -------
    U_pk : float
        Highest peak of its voltage. [V]

    Notes
    -----
    Into a load that is lighter, or for a moment, most amplifiers give 10 to 20 % more (from memory).

    References
    ----------
    .. [1] Power of a sine.

    Examples
    --------
    >>> round(float(peak_voltage(20.0, 8.0)), 2)
    17.89
    """
    return np.sqrt(2 * P_max * Z_least)


def programme_voltage(U_pk: Num, crest: Num, level: Num) -> Num:
    r"""R.m.s. voltage of a programme whose peaks stand at a level below the amplifier's highest.

    .. math:: U = \hat U \cdot 10^{(level - crest) / 20}

    Parameters
    ----------
    U_pk : float
        Highest peak of the amplifier's voltage. [V]
    crest : float
        Crest factor of the programme. [dB]
    level : float
        Its peaks beside the amplifier's; 0 where they just reach it. [dB]

    Returns
    -------
    U : float
        R.m.s. voltage at the voice coil. [V]

    Notes
    -----
    An amplifier that is driven into clipping cuts the peaks and lifts all else: the programme it plays has a smaller
    crest factor then, down to 0 dB, and makes up to twice the heat of a full sine.

    References
    ----------
    .. [1] Definition of the crest factor.

    Examples
    --------
    >>> round(float(programme_voltage(25.3, 6.0206, 0.0)), 2)
    12.65
    """
    return U_pk * 10 ** ((level - crest) / 20)


def crest_factor(U_pk: Num, U: Num) -> Num:
    r"""Crest factor: peak over r.m.s.

    .. math:: crest = 20 \lg (\hat U / U)

    Parameters
    ----------
    U_pk : float
        Highest peak. [V]
    U : float
        R.m.s. voltage. [V]

    Returns
    -------
    crest : float
        Crest factor. [dB]

    Notes
    -----
    A square wave has 0 dB, a sine 3.01 dB. Over a whole piece music has 8 dB where it was pressed loud and 20 dB where
    it was not (common practice, no source).

    References
    ----------
    .. [1] Definition of the crest factor.

    Examples
    --------
    >>> round(float(crest_factor(2**0.5, 1.0)), 2)
    3.01
    """
    return 20 * np.log10(U_pk / U)


def pink(f: Array, f_lo: float = F_LO, f_hi: float = F_HI) -> Array:
    r"""Shares of a pink band, of equal power in each octave, at given frequencies.

    .. math:: u_k = \frac{1}{\ln (f_{hi} / f_{lo})} \int_{f_{lo}}^{f_{hi}} h_k(f) \, \frac{df}{f}

    Parameters
    ----------
    f : array
        Frequencies, rising. [Hz]
    f_lo : float
        Where the band begins. [Hz]
    f_hi : float
        Where it ends. [Hz]

    Returns
    -------
    u_f : array
        Mean square at each frequency; together 1. [1]

    Notes
    -----
    h is the hat of each frequency, linear in the logarithm up to its neighbours, so the sum of ``u_f`` times what was
    computed at ``f`` is the mean over the band of its straight-lined curve. Beyond the ends of ``f`` the end counts.

    References
    ----------
    .. [1] Trapezoidal rule over ln f.

    Examples
    --------
    >>> pink(np.array([100.0, 200.0, 400.0]), 100.0, 400.0).round(4).tolist()
    [0.25, 0.5, 0.25]
    """
    middles = (np.arange(STEPS) + 0.5) / STEPS
    return _onto(f_lo * (f_hi / f_lo) ** middles, f).mean(axis=0)


def spectrum(u: Array, f_sample: float, f: Array) -> Array:
    r"""Mean square of sampled blocks by frequency.

    .. math:: u_k = \frac{1}{n^2} \sum_{i=0}^{n-1} h_k(f_i) \, |\hat u_i|^2, \quad
        \hat u_i = \sum_m u_m e^{-2 \pi j i m / n}

    Parameters
    ----------
    u : array
        Voltage sample by sample along the last axis: one block, or many of one length. [1]
    f_sample : float
        Samples per second. [Hz]
    f : array
        Frequencies, rising, to which each line of the spectrum is shared out. [Hz]

    Returns
    -------
    u_f : array
        Mean square at each frequency, along the last axis; together that of the block. [1]

    Notes
    -----
    What a block holds is never lost (Parseval), only placed: a tone between the lines of a block of 0.25 s, 4 Hz
    apart, spreads to its neighbours. Hats as in :func:`pink`.

    References
    ----------
    .. [1] Parseval's theorem for the discrete Fourier transform.

    Examples
    --------
    >>> wave = np.sin(2 * np.pi * 0.125 * np.arange(80))
    >>> spectrum(wave, 8000.0, np.array([500.0, 1000.0, 2000.0])).round(6).tolist()
    [0.0, 0.5, 0.0]
    """
    from scipy.fft import rfft, rfftfreq  # here, since it takes longer to load than all of a file check

    n = u.shape[-1]
    lines = rfft(u, axis=-1)
    power = (lines.real**2 + lines.imag**2) / n**2
    power[..., 1 : (n + 1) // 2] *= 2  # those that have a mirror image
    return power @ _onto(rfftfreq(n, 1 / f_sample), f).astype(power.dtype)


def heat_of(u_f: Array, Z: npt.NDArray[np.complex128] | Array, Re: Num) -> Num:
    r"""Heat of a spectrum in the voice coil, over the heat that its reference voltage makes in Re alone.

    .. math:: P / (U_{ref}^2 / R_e) = \sum_k u_k \frac{R_e^2}{|Z_k|^2}

    Parameters
    ----------
    u_f : array
        Mean square voltage at each frequency, along the last axis, over the square of a reference. [1]
    Z : array
        Impedance at these frequencies, along the first axis: complex, or its modulus. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]

    Returns
    -------
    P_rel : float
        Heat over that of the reference. [1]

    Notes
    -----
    Only the current through Re warms the winding; what eddy currents take warms the iron, what the motion takes goes
    into the suspension and the air.

    For a hot coil at the same voltage give its resistance R for Re and Z + R - Re for Z; the heat is then this times
    U²/R. See :func:`hot_exponent`.

    References
    ----------
    .. [1] Joule heat of the sum of sines.

    Examples
    --------
    >>> round(float(heat_of(np.array([0.25, 0.25]), np.array([6.0, 12.0]), 6.0)), 4)
    0.3125
    """
    return u_f @ (Re / np.abs(Z)) ** 2


def heat_share(f: Array, Z: npt.NDArray[np.complex128] | Array, Re: Num, f_lo: float = F_LO, f_hi: float = F_HI) -> Num:
    r"""Heat of a pink programme in the voice coil, over the heat that its r.m.s. voltage would make in Re alone.

    .. math:: s = \frac{1}{\ln (f_{hi} / f_{lo})} \int_{f_{lo}}^{f_{hi}} \frac{R_e^2}{|Z(f)|^2} \, \frac{df}{f}

    Parameters
    ----------
    f : array
        Frequencies, rising. [Hz]
    Z : array
        Impedance at these frequencies, along the first axis: complex, or its modulus. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    f_lo : float
        Where the band begins. [Hz]
    f_hi : float
        Where it ends. [Hz]

    Returns
    -------
    heat_share : float
        Share of the heat. [1]

    Notes
    -----
    1 for a coil that is all Re, less by what resonance and inductance hold off. Music with little bass and little
    treble, such as a voice, comes nearer to 1; a programme is seldom known better than to a tenth of its heat.

    References
    ----------
    .. [1] :func:`pink`, :func:`heat_of`.

    Examples
    --------
    >>> f = np.geomspace(40.0, 5000.0, 200)
    >>> round(float(heat_share(f, 6.0 + 2j * np.pi * f * 0.5e-3, 6.0)), 3)
    0.787
    """
    return heat_of(pink(f, f_lo, f_hi), Z, Re)


def hot_exponent(u_f: Array, Z: npt.NDArray[np.complex128], Re: Num, R_hot: Num) -> Num:
    r"""How the heat of a programme falls as its coil grows hot at the same voltage: as a power of Re/R.

    .. math:: P(R) = P(R_e) \left( \frac{R_e}{R} \right)^n, \quad n = \frac{\ln (P(R_e) / P(R_{hot}))}
        {\ln (R_{hot} / R_e)}, \quad P(R) = \sum_k \frac{u_k R}{|Z_k + R - R_e|^2}

    Parameters
    ----------
    u_f : array
        Mean square voltage at each frequency, along the last axis, over the square of a reference. [1]
    Z : array
        Complex impedance at these frequencies of the cold coil, along the first axis. [Ω]
    Re : float
        D.c. resistance of the cold voice coil. [Ω]
    R_hot : float
        Resistance of a hot one, at which the rule is to be exact. [Ω]

    Returns
    -------
    n_hot : float
        The power. [1]

    Notes
    -----
    1 where the coil is all resistance: its heat is U²/R. Where motion or inductance hold the current, a hotter coil
    makes more heat of it, down to -1; a driver under music lies near 0.5. Re/R alone falls short of the heat, by less
    than (R/Re)² times at any frequency, and by a fifth for 100 K under music. With R_hot at 1.4 Re the rule is good to
    2 % of the heat from Re to 1.8 Re.

    References
    ----------
    .. [1] :func:`heat_of`, cold and hot.

    Examples
    --------
    >>> f = np.geomspace(40.0, 5000.0, 200)
    >>> round(float(hot_exponent(pink(f), 6.0 + 2j * np.pi * f * 0.5e-3, 6.0, 8.4)), 3)
    0.79
    """
    cold, hot = heat_of(u_f, Z, Re) / Re, heat_of(u_f, Z + R_hot - Re, R_hot) / R_hot
    return np.log(cold / hot) / np.log(R_hot / Re)


def compression(R_hot: Num, Re: Num, Bl_warm: Num = 1.0, Bl: Num = 1.0) -> Num:
    r"""Level that a hot coil loses at the same voltage.

    .. math:: \Delta L = 20 \lg \frac{R_{hot}}{R_e} + 20 \lg \frac{Bl}{Bl_{warm}}

    Parameters
    ----------
    R_hot : float
        Resistance of the hot voice coil. [Ω]
    Re : float
        Its d.c. resistance when cold. [Ω]
    Bl_warm : float
        Force factor in the warm motor; in the same unit as Bl. [T·m]
    Bl : float
        Force factor in the cold motor. [T·m]

    Returns
    -------
    dL_hot : float
        Level lost. [dB]

    Notes
    -----
    Where the impedance is all resistance: between resonance and inductance, and far below resonance. Elsewhere less:
    the current falls only by 20 lg (|Z + R_hot - Re| / |Z|), so at resonance, where Z is several times Re, the
    level hardly changes; a hot driver sounds thinner in the middle and boomier.

    References
    ----------
    .. [1] Ohm's law, and a force of Bl times the current on the same mass.

    Examples
    --------
    >>> round(float(compression(8.4, 6.0)), 2)
    2.92
    """
    return 20 * np.log10(R_hot / Re * (Bl / Bl_warm))


def _onto(x: Array, f: Array) -> Array:
    """How each frequency of ``x`` is shared between its neighbours in ``f``, linear in the logarithm: a row each."""
    at, known = np.log(np.clip(x, f[0], f[-1])), np.log(f)
    above = np.clip(np.searchsorted(known, at), 1, len(f) - 1)
    part = (at - known[above - 1]) / (known[above] - known[above - 1])
    shares, rows = np.zeros((len(x), len(f))), np.arange(len(x))
    shares[rows, above - 1] = 1 - part
    shares[rows, above] = part
    return shares

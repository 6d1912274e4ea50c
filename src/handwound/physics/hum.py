"""Hum: from the ripple of the field coil's supply to the tone that the cone makes of it, and what helps."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from handwound.errors import FieldError
from handwound.physics.level import P_REF
from handwound.quantities import Num

Phasor = complex | NDArray[np.complexfloating] | NDArray[np.inexact]


class Hum(NamedTuple):
    """Phasors (r.m.s.) of the two currents, of the induced voltage and of the velocity, and the level."""

    I_ripple: Phasor
    U_hum: Phasor
    I_hum: Phasor
    v_hum: Phasor
    L_hum: Num


def hum(
    f: Num,
    V_ripple: Num,
    R_f: Num,
    Re: Num,
    R_source: Num,
    Z_ff: Phasor,
    Z_vf: Phasor,
    Z_vv: Phasor,
    Bl: Num,
    Z_m: Phasor,
    Sd: Num,
    rho_0: Num,
    r: Num,
) -> Hum:
    r"""The tone that a ripple on the field coil's supply makes, with no signal.

    .. math:: \begin{pmatrix} R_f + Z_{ff} & Z_{vf} \\ Z_{vf} & R_e + R_s + Z_{vv} + Bl^2 / Z_m \end{pmatrix}
        \begin{pmatrix} I_f \\ I_v \end{pmatrix} = \begin{pmatrix} V \\ 0 \end{pmatrix}, \quad
        v = \frac{Bl \, I_v}{Z_m}, \quad p = \frac{\omega \rho_0 S_d |v|}{2 \pi r}

    Parameters
    ----------
    f : float
        Frequency: twice the mains' behind a full bridge, and its multiples. [Hz]
    V_ripple : float
        Ripple on the supply at each frequency, r.m.s. [V]
    R_f : float
        Resistance of the field coil at its temperature. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    R_source : float
        What the voice coil sees outside: the amplifier's output and the leads; inf where it is open. [Ω]
    Z_ff : complex
        Impedance of the field coil by its own flux, without R_f. [Ω]
    Z_vf : complex
        Impedance between the coils: voltage in either per current in the other. [Ω]
    Z_vv : complex
        Impedance of the blocked voice coil by its own flux, without Re. [Ω]
    Bl : float
        Force factor. [T·m]
    Z_m : complex
        Mechanical impedance of the moving parts with the air. [kg/s]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    r : float
        Distance on the axis. [m]

    Returns
    -------
    I_ripple : complex
        Ripple of the field coil's current, r.m.s. [A]
    U_hum : complex
        Voltage that it induces in the voice coil, r.m.s. [V]
    I_hum : complex
        Current in the voice coil, r.m.s. [A]
    v_hum : complex
        Velocity of the diaphragm, r.m.s. [m/s]
    L_hum : float
        Sound level at the distance in half space. [dB]

    Notes
    -----
    Both coils and the cone act on each other exactly, so the cone is damped by its own current and the voice coil loads
    the field coil. An amplifier of low output impedance closes the voice coil and lets it hum; one that is off, or a
    transformer, may not. Long waves and a rigid cone, far away. The ripple of Bl itself matters only while a signal
    plays, as a faint modulation, and is left out; so is hum by the amplifier and by stray fields.

    References
    ----------
    .. [1] Two coupled circuits; Beranek, Acoustics, simple source in a baffle (from memory).

    Examples
    --------
    >>> tone = hum(100.0, 0.1, 16.0, 6.0, 0.1, 200j, 8j, 0.5j, 4.2, 1.0 - 1j, 0.0095, 1.204, 1.0)
    >>> round(abs(tone.U_hum) * 1000, 2), round(float(tone.L_hum), 1)
    (4.02, 31.8)
    """
    Z_v = Re + R_source + Z_vv + Bl**2 / Z_m
    per_turn = Z_vf / Z_v  # nothing where the voice coil is open
    I_ripple = V_ripple / (R_f + Z_ff - Z_vf * per_turn)
    I_hum = -per_turn * I_ripple
    v = Bl * I_hum / Z_m
    p = 2 * np.pi * f * rho_0 * Sd * np.abs(v) / (2 * np.pi * r)
    with np.errstate(divide="ignore"):
        return Hum(I_ripple, Z_vf * I_ripple, I_hum, v, 20 * np.log10(p / P_REF))


def a_weighting(f: Num) -> Num:
    r"""What the ear's weighting A makes of a tone.

    .. math:: A = 20 \lg \frac{f_4^2 f^4}{(f^2 + f_1^2)\sqrt{(f^2 + f_2^2)(f^2 + f_3^2)}\,(f^2 + f_4^2)} + 2.000

    Parameters
    ----------
    f : float
        Frequency. [Hz]

    Returns
    -------
    dL : float
        Weighted level beside the level. [dB]

    Notes
    -----
    Nothing at 1 kHz. Made for quiet tones; the ear of one listener differs by several decibels.

    References
    ----------
    .. [1] IEC 61672-1, weighting A, f_1 to f_4 = 20.60, 107.7, 737.9, 12194 Hz (read in a public library of acoustics).

    Examples
    --------
    >>> [round(float(a_weighting(f)), 1) for f in (100.0, 1000.0)]
    [-19.1, 0.0]
    """
    s = np.asarray(f, float) ** 2
    f_1, f_2, f_3, f_4 = 20.60**2, 107.7**2, 737.9**2, 12194.0**2
    return 20 * np.log10(f_4 * s**2 / ((s + f_1) * np.sqrt((s + f_2) * (s + f_3)) * (s + f_4))) + 2.000


def total_level(L_p: Num) -> float:
    r"""Level of several tones together.

    .. math:: L = 10 \lg \sum 10^{L_k / 10}

    Parameters
    ----------
    L_p : float
        Level of each tone. [dB]

    Returns
    -------
    L_hum : float
        Level of all. [dB]

    Notes
    -----
    Tones of different frequency add by their power. For what is heard, add :func:`a_weighting` to each first.

    References
    ----------
    .. [1] Definition of the level.

    Examples
    --------
    >>> round(total_level(np.array([30.0, 30.0])), 2)
    33.01
    """
    return float(10 * np.log10(np.sum(10 ** (np.asarray(L_p, float) / 10))))


def ripple_allowed(V_ripple: Num, L_hum: Num, L_want: Num) -> Num:
    r"""Largest ripple for a wanted level of the hum.

    .. math:: V_{max} = V \cdot 10^{(L_{want} - L) / 20}

    Parameters
    ----------
    V_ripple : float
        A ripple, r.m.s. [V]
    L_hum : float
        Level that it makes. [dB]
    L_want : float
        Level that may remain. [dB]

    Returns
    -------
    V_ripple : float
        The ripple that makes it, r.m.s. [V]

    Notes
    -----
    The hum goes with the ripple. A quiet room at night has 20 to 25 dB(A) (common practice).

    References
    ----------
    .. [1] :func:`hum` is linear.

    Examples
    --------
    >>> round(float(ripple_allowed(0.1, 40.0, 20.0)), 4)
    0.01
    """
    return V_ripple * 10 ** ((L_want - L_hum) / 20)


def bucking_turns(Z_vf: complex, Z_turn: complex) -> tuple[int, float]:
    r"""Turns of a hum-bucking coil, in series with the voice coil against it, and what it leaves of the hum.

    .. math:: N = \operatorname{round} \frac{\operatorname{Re}(Z_{vf} Z_1^*)}{|Z_1|^2}, \quad
        \Delta L = 20 \lg \frac{|Z_{vf} - N Z_1|}{|Z_{vf}|}

    Parameters
    ----------
    Z_vf : complex
        Impedance between voice coil and field coil. [Ω]
    Z_turn : complex
        Impedance between one turn of the bucking coil and the field coil. [Ω]

    Returns
    -------
    N : int
        Turns, wound or connected the other way round; negative where they belong the same way. [1]
    dL : float
        Induced voltage that is left, beside that without it. [dB]

    Notes
    -----
    Whole turns alone never cancel all, nor do two coils whose fluxes lag differently. At other frequencies more is
    left: take the lowest, where the hum is strongest. The coil sits still, so it costs no force, only its resistance.
    A wrong sense doubles the hum: swap its two ends.

    References
    ----------
    .. [1] The least of |Z_vf - N Z_1| over N.

    Examples
    --------
    >>> turns, left = bucking_turns(0.1 + 8.2j, 0.5j)
    >>> turns, round(left, 1)
    (16, -31.3)
    """
    if Z_vf == 0 or Z_turn == 0:
        raise FieldError("hum: must reach both the voice coil and the bucking coil to be cancelled; found 0 Ω to one.")
    N = round((Z_vf * np.conj(Z_turn)).real / abs(Z_turn) ** 2)
    left = abs(Z_vf - N * Z_turn) / abs(Z_vf)
    return N, float(20 * np.log10(max(left, 1e-15)))


def sawtooth(dV: Num, n_h: Num) -> Num:
    r"""Harmonics of the ripple on a smoothing capacitor.

    .. math:: V_n = \frac{\Delta V}{\sqrt 2 \, \pi n}

    Parameters
    ----------
    dV : float
        Ripple from peak to peak. [V]
    n_h : int
        Number of the harmonic; 1 is at twice the mains' frequency behind a full bridge. [1]

    Returns
    -------
    V_ripple : float
        Ripple at that harmonic, r.m.s. [V]

    Notes
    -----
    A sawtooth with an upright edge; a real one rises for a few milliseconds and has weaker harmonics from the third
    up.

    References
    ----------
    .. [1] Fourier series of the sawtooth, textbook matter.

    Examples
    --------
    >>> round(float(sawtooth(1.0, 1)), 4)
    0.2251
    """
    return dV / (np.sqrt(2) * np.pi * n_h)


def smoothing(I_f: Num, f_mains: Num, dV: Num) -> Num:
    r"""Capacitor behind a full bridge for a wanted ripple.

    .. math:: C = \frac{I}{2 f \, \Delta V}

    Parameters
    ----------
    I_f : float
        Current in the field coil. [A]
    f_mains : float
        Frequency of the mains: 50 or 60. [Hz]
    dV : float
        Ripple from peak to peak. [V]

    Returns
    -------
    C_s : float
        Capacitance. [F]

    Notes
    -----
    The capacitor alone feeds the coil between two peaks: a little more than needed. Choose the next larger value, for
    at least one and a half times the voltage. A charged capacitor keeps its voltage after switching off; whatever is
    joined to the mains is for a ready-made supply, or for licensed hands.

    References
    ----------
    .. [1] Common practice, no source.

    Examples
    --------
    >>> round(smoothing(0.75, 50.0, 1.0) * 1e6)
    7500
    """
    return I_f / (2 * f_mains * dV)

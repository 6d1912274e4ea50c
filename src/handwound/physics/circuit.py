"""The voice coil on its amplifier: impedance, current, motion; what arrives at the ear, how late, after a step."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from handwound.errors import FieldError
from handwound.physics.hum import Phasor
from handwound.physics.level import P_REF
from handwound.physics.sound import directivity
from handwound.quantities import Num

FINER = 4  # a step is shown at so many times as many moments as its band asks for


def driven(U_0: Phasor, R_source: Num, Re: Num, Z_b: Phasor, Bl: Num, Z_m: Phasor) -> tuple[Phasor, Phasor, Phasor]:
    r"""Impedance, velocity and current of a voice coil behind a resistance.

    .. math:: Z = R_e + Z_b + \frac{Bl^2}{Z_m}, \quad I = \frac{U_0}{R_s + Z}, \quad v = \frac{Bl \, I}{Z_m}

    Parameters
    ----------
    U_0 : complex
        Voltage of the amplifier without a load, r.m.s. [V]
    R_source : float
        All that is in series with the driver: the amplifier's own resistance, a resistor, the leads. [Ω]
    Re : float
        D.c. resistance of the voice coil. [Ω]
    Z_b : complex
        Impedance of the coil held still, without Re; 0 where it is left out. [Ω]
    Bl : float
        Force factor. [T·m]
    Z_m : complex
        Mechanical impedance of all that moves, with the air. [kg/s]

    Returns
    -------
    Z : complex
        Impedance of the driver at its own terminals, without R_source. [Ω]
    v : complex
        Velocity of the voice coil, r.m.s. [m/s]
    I : complex
        Current, r.m.s. [A]

    Notes
    -----
    Small strokes: Bl and Z_b as at rest. A positive current moves the coil outwards.

    References
    ----------
    .. [1] Ohm's and Newton's laws with the force Bl I and the back voltage Bl v.

    Examples
    --------
    >>> Z, v, I = driven(3.0, 2.0, 6.0, 0.0, 4.0, 8.0)
    >>> float(Z), float(v), float(I)
    (8.0, 0.15, 0.3)
    """
    Z = Re + Z_b + Bl**2 / Z_m
    current = U_0 / (R_source + Z)
    return Z, Bl * current / Z_m, current


def pressure(f: Num, v: Phasor, Sd: Num, rho_0: Num, r: Num, a: Num, theta: Num, c_0: Num) -> Phasor:
    r"""Far pressure of a rigid piston in a large baffle, on and off its axis, without the delay of the way.

    .. math:: p = \frac{j \rho_0 f S_d v}{r} \cdot \frac{2 J_1(k a \sin \theta)}{k a \sin \theta}, \quad
        k = \frac{2 \pi f}{c_0}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    v : complex
        Velocity of the piston, r.m.s. [m/s]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    r : float
        Distance. [m]
    a : float
        Effective radius of the diaphragm. [m]
    theta : float
        Angle off the axis. [rad]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    p : complex
        Sound pressure, r.m.s., in step with what left the piston r/c_0 before. [Pa]

    Notes
    -----
    Far means farther than a²/wavelength and than the piston is wide. The diaphragm is flat and does not bend.

    References
    ----------
    .. [1] Rayleigh, The Theory of Sound, § 302 (from memory).

    Examples
    --------
    >>> p = pressure(1000.0, 0.01, 0.0095, 1.204, 1.0, 0.055, np.radians([0.0, 90.0]), 343.2)
    >>> np.abs(p).round(3).tolist()
    [0.114, 0.1]
    """
    k = 2 * np.pi * f / c_0
    return 1j * rho_0 * f * Sd * v / r * directivity(k * a * np.sin(theta))


def sound_level(p: Phasor) -> Num:
    r"""Level of a sound pressure.

    .. math:: L_p = 20 \lg \frac{|p|}{20 \, \mu\mathrm{Pa}}

    Parameters
    ----------
    p : complex
        Sound pressure, r.m.s. [Pa]

    Returns
    -------
    L_p : float
        Sound pressure level. [dB]

    Notes
    -----
    Not weighted: what a meter shows that hears all frequencies alike.

    References
    ----------
    .. [1] ISO 1683 for the reference pressure (from memory).

    Examples
    --------
    >>> round(float(sound_level(1.0)), 2)
    93.98
    """
    return 20 * np.log10(np.abs(p) / P_REF)


def excursion(f: Num, v: Phasor) -> Num:
    r"""How far a tone moves the diaphragm to each side.

    .. math:: x_{pk} = \sqrt 2 \, |v| / \omega

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    v : complex
        Velocity of the diaphragm, r.m.s. [m/s]

    Returns
    -------
    x_pk : float
        Peak excursion. [m]

    Notes
    -----
    Of one steady sine. Music at the same r.m.s. voltage has higher peaks.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> round(float(excursion(50.0, 0.2)) * 1000, 2)
    0.9
    """
    return np.sqrt(2) * np.abs(v) / (2 * np.pi * f)


def phase(p: Phasor) -> Num:
    r"""Phase over the frequency without jumps.

    .. math:: \varphi = \arg p + 2 \pi n, \quad |\varphi| \le \pi \text{ where } |p| \text{ is largest}

    Parameters
    ----------
    p : complex
        Sound pressure at rising frequencies, which lie along the first axis. [Pa]

    Returns
    -------
    phase : float
        Phase at each. [rad]

    Notes
    -----
    Two neighbours must be less than half a turn apart: 40 frequencies a decade are enough for a driver whose delay in
    the air was taken off.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> np.degrees(phase(np.array([1e-3j, -1.0, -1j, 9.0]))).tolist()
    [-270.0, -180.0, -90.0, 0.0]
    """
    p = np.asarray(p)
    turned = np.unwrap(np.angle(p), axis=0)
    loudest = np.take_along_axis(turned, np.argmax(np.abs(p), axis=0)[None], axis=0)
    return turned - 2 * np.pi * np.round(loudest / (2 * np.pi))


def group_delay(f: Num, p: Phasor) -> Num:
    r"""How late the envelope of each tone arrives, beyond its way through the air.

    .. math:: \tau_g = - \frac{d \varphi}{d \omega}

    Parameters
    ----------
    f : float
        Frequencies, rising. [Hz]
    p : complex
        Sound pressure at each; frequencies along the first axis. [Pa]

    Returns
    -------
    t_group : float
        Group delay at each. [s]

    Notes
    -----
    Differences between neighbours: with 40 frequencies a decade off by 0.3 % of the largest delay for a driver whose Q
    is 1, by 1.5 % for one of 2. Some milliseconds near the low end are usual and hardly heard.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> f = np.geomspace(100, 1000, 50)
    >>> np.unique(group_delay(f, np.exp(-2j * np.pi * f * 0.002)).round(6)).tolist()
    [0.002]
    """
    return -np.gradient(phase(p), 2 * np.pi * np.asarray(f), axis=0)


def step_response(f: Num, p: Phasor) -> tuple[Num, Num]:
    r"""What arrives after the voltage has stepped up by one volt and stays.

    .. math:: s(t) = \mathcal F^{-1} \left\{ \frac{W(f) \, p(f)}{j \omega} \right\}, \quad
        W = \cos^2 \frac{\pi}{2} \, \frac{f - f_{hi}/2}{f_{hi}/2} \text{ in the top octave, } 1 \text{ below}

    Parameters
    ----------
    f : float
        Frequencies, rising; a geometric row will do. [Hz]
    p : complex
        Sound pressure for one volt at each, without the delay of the way. [Pa]

    Returns
    -------
    t_s : float
        Time after the step. [s]
    p_step : float
        Sound pressure at each time. [Pa]

    Notes
    -----
    A band ends the step: it rises within 1/f_hi and swings a little before and after. Between the frequencies logarithm
    and phase are splines over lg f. Below the first the response is continued by its slope and its delay there, so the
    first should lie an octave below the resonance; the time shown is 2/f_lo, after which all must be quiet.

    References
    ----------
    .. [1] Fourier's integral.

    Examples
    --------
    >>> f = np.geomspace(10, 20e3, 300)
    >>> t, s = step_response(f, (1j * f / 50 / (1 + 1j * f / 50)) ** 2)  # (1 - x) exp(-x), x = 2 pi 50 t
    >>> [round(float(np.interp(at, t, s)), 2) for at in (0.001, 0.002, 0.005)]
    [0.5, 0.2, -0.12]
    """
    from scipy.interpolate import CubicSpline

    f, p = np.asarray(f, float), np.asarray(p, complex)
    if f.ndim != 1 or f.shape != p.shape or len(f) < 4 or np.any(np.diff(f) <= 0) or f[0] <= 0:
        raise FieldError(f"step: must be told at 4 or more rising frequencies; found {f.size} and {p.size}.")
    count = int(np.ceil(f[-1] / (f[0] / 4)))
    even = np.arange(1, count + 1) * f[-1] / count
    curve = CubicSpline(np.log(f), np.log(np.abs(p)) + 1j * phase(p))
    slope = curve(np.log(f[0]), 1)
    # below the first frequency the modulus goes on as a power, the phase as a delay: straight over f, not over lg f
    below = curve(np.log(f[0])) + slope.real * np.log(even / f[0]) + 1j * slope.imag * (even / f[0] - 1)
    inside = curve(np.log(np.maximum(even, f[0])))
    step = np.exp(np.where(even < f[0], below, inside)) * _window(even) / (2j * np.pi * even)
    moments = 2 * FINER * count
    steady = step[0].real  # what is left at 0 Hz: nothing for a pressure, which falls as f², and finite for f
    values = np.fft.irfft(np.concatenate([[steady], step]), moments) * moments * even[0]
    t_s = np.arange(moments // 2) / (moments * even[0])
    return t_s, values[: moments // 2]


def _window(f: NDArray[np.float64]) -> NDArray[np.float64]:
    """1 up to half of the last frequency, from there half a cosine down to nothing."""
    return np.cos(np.pi / 2 * np.clip(2 * f / f[-1] - 1, 0, 1)) ** 2

"""The field coil switched on and off: how long it takes, and what the diode must bear."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from handwound.errors import FieldError
from handwound.physics.field.bh import MU_0
from handwound.quantities import Num

Row = NDArray[np.float64]

J_01 = 2.404825557695773
"""First root of the Bessel function J_0."""
LEFT = 0.05
"""Share of the current that counts as gone."""
LEAST_REVERSE = 50.0
"""Any diode of that size bears it: common practice, no source. [V]"""
V_DIODE = 0.8
"""Forward voltage of a silicon diode: from memory, 0.7 to 1. [V]"""


def build_up(I: Num, I_f: Num, psi: Num, V_f: float, R_T: float) -> Num:
    r"""Time that the current needs to reach given values after the coil is switched on.

    .. math:: V = R I + \frac{d\psi}{dt}, \quad t = \int_0^I \frac{d\psi / dI}{V - R I} \, dI

    Parameters
    ----------
    I : float
        Currents to reach. [A]
    I_f : float
        Currents in the field coil for which its linkage is known, rising from 0 to that reached or beyond. [A]
    psi : float
        Flux linkage of the coil at each. [Wb]
    V_f : float
        Highest voltage that the supply puts across the coil: all of it, until the current is at the limit. [V]
    R_T : float
        Resistance of the coil at its temperature. [Ω]

    Returns
    -------
    t_s : float
        Time after switching on; inf from the current V/R upwards. [s]

    Notes
    -----
    The linkage runs straight between two currents, and for each such piece the time is exact. It holds for a supply
    that keeps its voltage and for steel without eddy currents: in solid iron the flux comes later by up to
    :func:`eddy_delay`.

    References
    ----------
    .. [1] The voltage law.

    Examples
    --------
    >>> round(float(build_up(0.5, np.array([0.0, 0.5]), np.array([0.0, 0.2]), 12.0, 16.0)) * 1000, 2)
    27.47
    """
    I_f, psi = _row(I_f, psi)
    if not (V_f > 0 and R_T > 0):
        raise FieldError(f"build-up: must have a voltage and a resistance above 0; found {V_f:g} V and {R_T:g} Ω.")
    I = np.asarray(I, float)
    left = np.maximum(V_f - R_T * np.minimum(I_f, I[..., None]), 0.0)  # a piece counts as far as it is below I
    slope = np.diff(psi) / np.diff(I_f) / R_T
    with np.errstate(divide="ignore", invalid="ignore"):
        times = np.sum(slope * np.log(left[..., :-1] / left[..., 1:]), axis=-1)
    return np.where(V_f - R_T * I > 1e-12 * V_f, times, np.inf)


def rise_times(I_f: Num, psi: Num, V_f: float, R_T: float, share: ArrayLike, I_max: float = np.inf) -> tuple[Num, Num]:
    r"""Times at which current and flux reach given shares of their final values.

    .. math:: I(t_I) = s \, I_e, \quad \psi(t_\psi) = \psi(0) + s \left[ \psi(I_e) - \psi(0) \right], \quad
        I_e = \min(V / R, I_{max})

    Parameters
    ----------
    I_f : float
        Currents in the field coil, rising from 0 to the final one or beyond. [A]
    psi : float
        Flux linkage of the coil at each. [Wb]
    V_f : float
        Highest voltage that the supply puts across the coil: all of it, until the current is at the limit. [V]
    R_T : float
        Resistance of the coil at its temperature. [Ω]
    share : float
        Shares of the final value, below 1: usually 0.63 and 0.95. [1]
    I_max : float
        Highest current that the supply gives. [A]

    Returns
    -------
    t_I : float
        Times of the current. [s]
    t_psi : float
        Times of the flux. [s]

    Notes
    -----
    Where the steel is full in the end the flux is there before the current: both are told, as the sound goes with the
    flux and the supply with the current. A supply that ends at its current limit gets there sooner than one that ends
    at its voltage, as it has volts to spare all the way. Linkages at 0, 0.4, 0.6, 0.8 and 1 of the final current
    give the times within 2.4 % up to 1600 ampere-turns and within 5 % at 3000, where all steel is full (a pot and
    an open spool). See :func:`build_up` for what is left out.

    References
    ----------
    .. [1] :func:`build_up`.

    Examples
    --------
    >>> t_I, t_psi = rise_times(np.array([0.0, 0.75]), np.array([0.0, 0.3]), 12.0, 16.0, 1 - np.exp(-1))
    >>> round(float(t_I), 4), round(float(t_psi), 4)
    (0.025, 0.025)
    """
    I_f, psi = _row(I_f, psi)
    final, share = min(V_f / R_T if R_T > 0 else np.inf, I_max), np.asarray(share, float)
    if not final <= I_f[-1] * (1 + 1e-9):
        raise FieldError(
            f"build-up: must be told the linkage up to the final current of {final:.3g} A; found {I_f[-1]:.3g} A."
        )
    of_flux = np.interp(psi[0] + share * (np.interp(final, I_f, psi) - psi[0]), psi, I_f)
    return build_up(share * final, I_f, psi, V_f, R_T), build_up(of_flux, I_f, psi, V_f, R_T)


def eddy_delay(mu_d: Num, sigma: Num, r_out: Num) -> Num:
    r"""How long solid iron holds its flux back by the currents in it.

    .. math:: \tau = \frac{\mu_0 \mu_d \sigma a^2}{j_{01}^2}, \quad j_{01}^2 = 5.783

    Parameters
    ----------
    mu_d : float
        Differential permeability of the steel at its flux density, over that of vacuum. [1]
    sigma : float
        Conductivity of the steel. [S/m]
    r_out : float
        Radius of the solid pole. [m]

    Returns
    -------
    tau_e : float
        Longest time constant of the flux in the pole. [s]

    Notes
    -----
    Of a long round bar whose surface is brought to a new field strength at once. The gap of a motor makes the pole's
    flux depend less on its permeability and shortens this, often by ten times or more; so it is the upper end of the
    delay, and the time of :func:`rise_times` the lower end of the whole. The permeability alone is known to a factor
    of two.

    References
    ----------
    .. [1] Diffusion into a round bar, first root of J_0: textbook matter (from memory).

    Examples
    --------
    >>> round(eddy_delay(500.0, 7e6, 0.0125), 3)
    0.119
    """
    return MU_0 * mu_d * sigma * r_out**2 / J_01**2


class SwitchOff(NamedTuple):
    """Energy that the coil gives back, how long its current runs on, and what the diode must bear."""

    W_off: float
    t_off: float
    I_diode: float
    V_reverse: float


def switch_off(I_f: Num, psi: Num, R_T: float, V_f: float, V_diode: float = V_DIODE) -> SwitchOff:
    r"""A field coil switched off with a diode across it.

    .. math:: 0 = R I + V_d + \frac{d\psi}{dt}, \quad W = \int I \, d\psi, \quad
        t = \int_{0.05 I_0}^{I_0} \frac{d\psi / dI}{R I + V_d} \, dI

    Parameters
    ----------
    I_f : float
        Currents in the field coil, rising from 0 to that which is switched off. [A]
    psi : float
        Flux linkage of the coil at each. [Wb]
    R_T : float
        Resistance of the coil at its temperature. [Ω]
    V_f : float
        Highest voltage that the supply puts across the coil: at switching on even one at its current limit. [V]
    V_diode : float
        Forward voltage of the diode. [V]

    Returns
    -------
    W_off : float
        Energy that coil and diode turn into heat. [J]
    t_off : float
        Time until a twentieth of the current is left. [s]
    I_diode : float
        Current that the diode must bear for that time. [A]
    V_reverse : float
        Reverse voltage the diode should be rated for: twice that, at least 50 V (common practice). [V]

    Notes
    -----
    Without the diode the same energy becomes a spark of hundreds of volts that shocks, and kills supplies and switches:
    solder the diode to the coil itself, its ring to plus, and never pull a live clip. The steel gives back a little
    less than this, by its hysteresis. Eddy currents make the flux fall more slowly than the current. At more than 60 V
    d.c. the coil itself is dangerous to touch (IEC 61140, from memory): leave that to licensed hands.

    References
    ----------
    .. [1] The voltage law.

    Examples
    --------
    >>> off = switch_off(np.array([0.0, 0.5]), np.array([0.0, 1.0]), 100.0, 50.0, 0.0)
    >>> round(off.W_off, 4), round(off.t_off * 1000, 1), off.I_diode, off.V_reverse
    (0.25, 59.9, 0.5, 100.0)
    """
    I_f, psi = _row(I_f, psi)
    start = float(I_f[-1])
    drop = R_T * np.maximum(I_f, LEFT * start) + V_diode  # what lies below the last twentieth takes no part
    time = np.sum(np.diff(psi) / np.diff(I_f) / R_T * np.log(drop[1:] / drop[:-1]))
    W = np.sum(np.diff(psi) * (I_f[1:] + I_f[:-1]) / 2)
    return SwitchOff(float(W), float(time), start, float(reverse_voltage(V_f)))


def reverse_voltage(V_f: Num) -> Num:
    r"""What the diode across the field coil should be rated for.

    .. math:: V_{reverse} = \max(2 V_f, 50 \text{ V})

    Parameters
    ----------
    V_f : float or array
        Highest voltage that the supply puts across the coil. [V]

    Returns
    -------
    V_reverse : float or array
        Reverse voltage of the diode. [V]

    Notes
    -----
    Twice the supply, and no less than any diode of that size bears: common practice, no source.

    References
    ----------
    .. [1] Common practice, no source.

    Examples
    --------
    >>> round(float(reverse_voltage(90.0)), 1)
    180.0
    """
    return np.maximum(2 * np.asarray(V_f, float), LEAST_REVERSE)


def _row(I_f: Num, psi: Num) -> tuple[Row, Row]:
    I_f, psi = np.asarray(I_f, float), np.asarray(psi, float)
    if I_f.ndim != 1 or I_f.shape != psi.shape or len(I_f) < 2 or I_f[0] != 0 or np.any(np.diff(I_f) <= 0):
        raise FieldError(
            f"linkage of the field coil: must be told at currents that rise from 0; found {I_f.size} currents and "
            f"{psi.size} linkages."
        )
    if np.any(np.diff(psi) <= 0):
        raise FieldError("linkage of the field coil: must rise with the current; found one that falls.")
    return I_f, psi

"""What a fault in a winding does: layers against the others, layers that are shorted."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from handwound.quantities import Num


def net_winding(N_l: Num, R_l: Num, sense: Num) -> tuple[Num, Num]:
    r"""Turns and resistance of layers in series of which some go the other way round, or are shorted.

    .. math:: N_{net} = \sum_n s_n N_n, \quad R = \sum_n |s_n| R_n

    Parameters
    ----------
    N_l : float
        Turns of each layer, along the last axis. [1]
    R_l : float
        Resistance of each layer, along the last axis. [Ω]
    sense : float
        Of each layer: 1 as it should be, -1 against the others, 0 shorted or left out. [1]

    Returns
    -------
    N_net : float
        Turns that the current goes round, less those against it. [1]
    R_20 : float
        Resistance between the terminals. [Ω]

    Notes
    -----
    Exact for direct current: a meter cannot see which way a layer goes round. A short from end to end of a layer takes
    all of it out; one between two layers takes what lies between its two ends, and any turns in between these cases are
    the share of a layer.

    References
    ----------
    .. [1] Ohm's law; superposition of ampere-turns.

    Examples
    --------
    >>> N_net, R_20 = net_winding(np.full(20, 76.0), np.full(20, 0.8), np.array([1] * 14 + [-1] * 6))
    >>> float(N_net), round(float(R_20), 1)
    (608.0, 16.0)
    """
    return np.sum(sense * np.asarray(N_l), axis=-1), np.sum(np.abs(sense) * np.asarray(R_l), axis=-1)


def with_shorts(
    Z_ff: npt.NDArray[np.complex128], N: Num, N_net: Num, N_l: Num, R_l: Num
) -> npt.NDArray[np.complex128]:  # fmt: skip
    r"""Impedance of a coil with shorted layers for alternating current: each of them is a short-circuited secondary.

    .. math:: Z = \frac{(N_{net} / N)^2 Z_{ff}}{1 + Z_{ff} \sum_k (N_k / N)^2 / R_k}

    Parameters
    ----------
    Z_ff : complex
        Impedance of the coil as planned by its own flux, with the eddy currents in its iron. [Ω]
    N : float
        Turns of the coil as planned. [1]
    N_net : float
        Turns that are left in circuit, less those against the others. [1]
    N_l : float
        Turns of each shorted layer, along the last axis. [1]
    R_l : float
        Resistance of each shorted layer, along the last axis. [Ω]

    Returns
    -------
    Z_ff : complex
        Impedance by its own flux of what is left. [Ω]

    Notes
    -----
    All layers are taken to share all flux. In a closed pot they share all but 0.4 %, by a solution with the layers
    apart: this is right to 1 % with a third of the layers reversed, and 8 % low beside three of twenty shorted. An
    open spool shares less; where little is left (half of the layers against the other half) the rest is leakage.

    References
    ----------
    .. [1] The transformer's equations with its secondary closed by its own resistance.

    Examples
    --------
    >>> Z_ff = np.array([200j])  # 320 mH at 100 Hz; 1 of 20 layers shorted
    >>> complex(with_shorts(Z_ff, 1520.0, 1444.0, np.array([76.0]), np.array([0.8]))[0]).imag.__round__(1)
    129.8
    """
    closed = np.sum((np.asarray(N_l) / N) ** 2 / R_l, axis=-1)
    return np.asarray((N_net / N) ** 2 * Z_ff / (1 + Z_ff * closed))


def shorted_drag(Bl_l: Num, R_l: Num) -> Num:
    r"""Mechanical resistance that shorted turns of a moving coil add: each is a brake.

    .. math:: R_{drag} = \sum_k (Bl)_k^2 / R_k

    Parameters
    ----------
    Bl_l : float
        Force factor of each shorted layer, along the last axis. [T·m]
    R_l : float
        Resistance of each shorted layer, along the last axis. [Ω]

    Returns
    -------
    R_drag : float
        Mechanical resistance beside that of the suspension. [kg/s]

    Notes
    -----
    The voice coil's own damping when its terminals are joined, taken for the part that is joined within. Holds where
    the inductance of the part is small beside its resistance: up to some hundred hertz.

    References
    ----------
    .. [1] Induction and Ampère's force: u = Bl v, F = Bl u / R.

    Examples
    --------
    >>> round(float(shorted_drag(np.array([2.2]), np.array([3.0]))), 2)
    1.61
    """
    return np.sum(np.asarray(Bl_l) ** 2 / R_l, axis=-1)

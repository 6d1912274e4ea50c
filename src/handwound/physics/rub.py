"""How much air is left beside a voice coil that is off centre, not round, tilted and warm; shims that centre it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy.typing as npt

    Phasor = complex | npt.NDArray[np.complex128]

WITHIN = float(1 / np.sqrt(2 * np.log(10)))
"""Standard deviation along each of two axes of an offset that nine times in ten is no longer than 1: 0.466.

Its length r is Rayleigh distributed, P(r > R) = exp(-R²/2s²), and that is one tenth at R = 1. Closed form.
"""
ANGLES = 48
"""Places round the coil that are looked at; between two of them at most 0.2 % of an offset are missed."""
SLACK = 0.02e-3
"""By how much a shim is thinner than the air, so that it can be pulled: common practice, no source. [m]"""


class Round(NamedTuple):
    """A former by its diameters at several angles."""

    D_f: Num
    oval: Num


def roundness(D_read: Sequence[Num]) -> Round:
    r"""Mean diameter and ovality from diameters at equally spaced angles over half a turn.

    .. math:: D(\theta) = D_f + o \cos 2(\theta - \theta_o), \quad o = \frac{2}{n} |\sum D_k e^{2 \pi i k / n}|

    Parameters
    ----------
    D_read : sequence of float
        Diameters, each 180°/n on from the one before, n at least 3. [m]

    Returns
    -------
    D_f : float
        Mean diameter. [m]
    oval : float
        Half of the difference between the largest and the smallest diameter. [m]

    Notes
    -----
    Three readings are enough for an ellipse, wherever its long axis lies; more of them average the caliper's error.
    A former with three lobes has the same diameter all round: a caliper does not see it, a ring gauge does.

    References
    ----------
    .. [1] Least squares of a second harmonic at equally spaced angles; plane geometry.

    Examples
    --------
    >>> found = roundness([25.62e-3, 25.59e-3, 25.59e-3])
    >>> round(found.D_f * 1e3, 3), round(float(found.oval) * 1e3, 3)
    (25.6, 0.02)
    """
    n = len(D_read)
    turns = np.exp(2j * np.pi * np.arange(n) / n)
    second = sum(D * turn for D, turn in zip(D_read, turns, strict=True))
    return Round(sum(D_read) / n, 2 / n * np.abs(second))


def grown(d_out: Num, alpha_L: Num, T: Num, T_room: Num) -> Num:
    r"""Diameter of a thing that has become warm.

    .. math:: d = d_{out} (1 + \alpha_L (T - T_{room}))

    Parameters
    ----------
    d_out : float
        Its diameter in the room. [m]
    alpha_L : float
        Coefficient of linear thermal expansion. [1/K]
    T : float
        Its temperature. [°C]
    T_room : float
        Temperature at which it was measured. [°C]

    Returns
    -------
    d_out : float
        Its diameter now. [m]

    Notes
    -----
    The whole ring at one temperature, free to grow. A paper former under a winding is drawn along by the wire.

    References
    ----------
    .. [1] Definition of the coefficient.

    Examples
    --------
    >>> round(1e3 * grown(26.7e-3, 16.5e-6, 120.0, 20.0), 3)
    26.744
    """
    return d_out * (1 + alpha_L * (T - T_room))


def axis_offset(e_off: Phasor, tilt: Phasor, z: float, z_pivot: float) -> Phasor:
    r"""Where a tilted axis passes a level: across from the middle, as x + iy.

    .. math:: e(z) = e + (z - z_p) \tan \tau

    Parameters
    ----------
    e_off : complex
        Its offset at the level of the pivot. [m]
    tilt : complex
        Its tilt, in the direction to which its upper part leans. [rad]
    z : float
        The level. [m]
    z_pivot : float
        The level about which it tilts. [m]

    Returns
    -------
    e_off : complex
        Its offset at the level. [m]

    Notes
    -----
    For the few degrees of a coil that still moves the tangent is the angle: 0.03 % too little at 2°.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(1e3 * float(abs(axis_offset(0.0, np.radians(0.2), -0.010, 0.010))), 3)
    0.07
    """
    return e_off + tilt * (z - z_pivot)


def least_clearance(c_drawn: Num, e_off: Phasor, oval: Phasor, bulge: Num = 0.0) -> Num:
    r"""Least air round a coil in a bore, both nearly round, and the coil with a bulge at θ = 0.

    .. math:: c = c_0 - \max_\theta ( e \cos(\theta - \theta_e) + \tfrac{1}{2} o \cos 2(\theta - \theta_o) + b(\theta) )

    Parameters
    ----------
    c_drawn : float
        Air on each side where it is centred and round. [m]
    e_off : complex
        Offset of the coil's axis, e exp(i θ_e). [m]
    oval : complex
        Half of the difference of its largest and smallest diameter, o exp(2 i θ_o). [m]
    bulge : float
        By how much the winding stands out on one side. [m]

    Returns
    -------
    c_least : float
        Air at the narrowest place; negative where it rubs. [m]

    Notes
    -----
    Exact for two circles; with an ovality of second order in the offset over the radius, less than 1 µm in a bore of
    28 mm. Looked at in 48 places round the coil, which misses 0.2 % of an offset and 0.9 % of half an ovality. For a
    pole inside the coil turn both round, -e and -o.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> round(1e3 * float(least_clearance(0.30e-3, 0.05e-3, 0.04e-3)), 3)
    0.23
    """
    theta = np.arange(ANGLES) * (2 * np.pi / ANGLES)
    places = np.stack([np.cos(theta), np.sin(theta), np.cos(2 * theta) / 2, np.sin(2 * theta) / 2], axis=-1)
    e, o = np.broadcast_arrays(np.asarray(e_off, complex), np.asarray(oval, complex))
    taken = np.tensordot(places, np.stack([e.real, e.imag, o.real, o.imag]), 1)
    return c_drawn - np.maximum(taken.max(axis=0), taken[0] + bulge)


def shim(c_drawn: Num) -> Num:
    r"""Thickness of each of three equal shims between pole and former.

    .. math:: t = c_0 - 0.02 \, mm

    Parameters
    ----------
    c_drawn : float
        Air on each side where the former is centred. [m]

    Returns
    -------
    t_shim : float
        Thickness of a shim; negative where there is no room for one. [m]

    Notes
    -----
    Tight shims hold the coil, but make the former three-cornered and do not come out; loose ones let it sag.

    References
    ----------
    .. [1] Common practice, no source.

    Examples
    --------
    >>> round(1e3 * shim(0.30e-3), 2)
    0.28
    """
    return c_drawn - SLACK

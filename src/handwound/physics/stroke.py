"""The force factor over the stroke: how far it holds, how even it is, and where the coil should rest."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from handwound.errors import FieldError
from handwound.physics.curve import Curve
from handwound.quantities import Num

KEPT = 0.82
"""Share of the force factor at rest that ends the stroke: IEC 62458 (from memory), about 10 % of distortion."""


class Stroke(NamedTuple):
    """Largest force factor and where; the strokes down and up at which ``KEPT`` of that at rest is left; the lesser.

    A stroke that does not end between the given displacements is nan.
    """

    Bl_max: float
    x_max: float
    x_down: float
    x_up: float
    x_82: float


def stroke(x: Num, Bl: Num, x_0: float = 0.0) -> Stroke:
    r"""Where the force factor is largest, and how far the coil moves before it loses 18 % of it.

    .. math:: Bl(x_0 + x_{up}) = Bl(x_0 - x_{down}) = 0.82 \, Bl(x_0), \quad x_{82} = \min(x_{up}, x_{down})

    Parameters
    ----------
    x : float
        Displacements, rising. [m]
    Bl : float
        Force factor at each. [T·m]
    x_0 : float
        Where the coil rests among them. [m]

    Returns
    -------
    Bl_max : float
        Largest force factor. [T·m]
    x_max : float
        Displacement of it. [m]
    x_down : float
        Stroke towards negative x at which 82 % of that at rest is left. [m]
    x_up : float
        Stroke towards positive x. [m]
    x_82 : float
        The lesser of the two. [m]

    Notes
    -----
    Cubic splines between the displacements: one every millimetre gives the strokes to a hundredth of a millimetre.
    A coil that rests off the middle can gain at first; the stroke ends where 82 % is met for the first time. The
    suspension may end the stroke long before.

    References
    ----------
    .. [1] IEC 62458 (from memory).

    Examples
    --------
    >>> x = np.linspace(-0.006, 0.006, 13)
    >>> round(stroke(x, 4 * (1 - (x / 0.01) ** 2)).x_82 * 1000, 3)
    4.243
    """
    curve = Curve("force factor", x, Bl)
    if not curve.places[0] <= x_0 <= curve.places[-1]:
        raise curve.beyond(x_0, x_0)
    if not curve(x_0) > 0:
        raise FieldError(
            f"force factor: must be above 0 at rest; found {float(curve(x_0)):.3g} T·m. Turn the sign of all of them, "
            "or let the coil rest where the field drives it."
        )
    top, least = curve.top(), KEPT * float(curve(x_0))
    down, up = curve.falls_to(least, x_0, -1), curve.falls_to(least, x_0, 1)
    return Stroke(float(curve(top)), top, down, up, float(np.fmin(down, up)))


def asymmetry(x: Num, Bl: Num, x_pk: float, x_0: float = 0.0) -> float:
    r"""How uneven the force factor is at the two ends of a stroke.

    .. math:: A_{Bl} = 2 \, \frac{Bl(x_0 + x_{pk}) - Bl(x_0 - x_{pk})}{Bl(x_0 + x_{pk}) + Bl(x_0 - x_{pk})}

    Parameters
    ----------
    x : float
        Displacements, rising. [m]
    Bl : float
        Force factor at each. [T·m]
    x_pk : float
        Peak excursion. [m]
    x_0 : float
        Where the coil rests among them. [m]

    Returns
    -------
    A_Bl : float
        Difference of the force factor at the two ends over their mean; positive when there is more of it above. [1]

    Notes
    -----
    Within 5 % is good, beyond 20 % the coil should rest elsewhere (common practice, no source): an uneven force factor
    makes even harmonics, and a steady push on loud notes.

    References
    ----------
    .. [1] IEC 62458 (from memory).

    Examples
    --------
    >>> x = np.linspace(-0.006, 0.006, 13)
    >>> round(asymmetry(x, 4 + 100 * x, 0.002), 3)
    0.1
    """
    curve = Curve("force factor", x, Bl)
    if not curve.places[0] <= x_0 - x_pk < x_0 + x_pk <= curve.places[-1]:
        raise curve.beyond(x_0 - x_pk, x_0 + x_pk)
    up, down = float(curve(x_0 + x_pk)), float(curve(x_0 - x_pk))
    if up + down == 0:
        raise FieldError("asymmetry: must have a force factor at the ends of the stroke; found a mean of 0.")
    return 2 * (up - down) / (up + down)


def best_rest(x: Num, Bl: Num, x_pk: float) -> tuple[float, float]:
    r"""Where the coil should rest for most force factor, and where for the most even one over a stroke.

    .. math:: Bl(x_{most}) = \max, \quad Bl(x_{even} + x_{pk}) = Bl(x_{even} - x_{pk})

    Parameters
    ----------
    x : float
        Displacements, rising. [m]
    Bl : float
        Force factor at each. [T·m]
    x_pk : float
        Peak excursion over which it shall be even. [m]

    Returns
    -------
    x_most : float
        Displacement of the largest force factor. [m]
    x_even : float
        Displacement about which the ends of the stroke are alike, the one nearest to the largest; nan for none. [m]

    Notes
    -----
    The two agree in a symmetric gap. Where more iron stands on one side the even place lies further out and costs a few
    hundredths of the force factor. The displacements must reach beyond the place by the stroke.

    References
    ----------
    .. [1] The symmetry point of IEC 62458 (from memory).

    Examples
    --------
    >>> x = np.linspace(-0.006, 0.006, 13)
    >>> most, even = best_rest(x, 4 * (1 - ((x - 0.001) / 0.01) ** 2), 0.003)
    >>> round(most, 5), round(even, 5)
    (0.001, 0.001)
    """
    from scipy.optimize import brentq

    curve = Curve("force factor", x, Bl)
    most, first, last = curve.top(), curve.places[0], curve.places[-1]
    if not 0 < 2 * x_pk < last - first:
        raise curve.beyond(-x_pk, x_pk)
    places = np.linspace(first + x_pk, last - x_pk, len(curve.places))

    def uneven(at: Num) -> Num:
        return curve(at + x_pk) - curve(at - x_pk)

    values = np.asarray(uneven(places))
    crossings = np.flatnonzero((values[:-1] > 0) & (values[1:] <= 0))  # falling: the force factor is a hill there
    if not len(crossings):
        return most, float("nan")
    nearest = crossings[np.argmin(np.abs(places[crossings] - most))]
    return most, float(brentq(lambda at: float(uneven(at)), places[nearest], places[nearest + 1], xtol=1e-15))

"""The force factor over the stroke: how far it holds, how even it is, and where the coil should rest."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from handwound.errors import FieldError
from handwound.quantities import Num

KEPT = 0.82
"""Share of the force factor at rest that ends the stroke: IEC 62458 (from memory), about 10 % of distortion."""
FINE = 4001  # places at which the curve is looked at before a root is made exact


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
    curve, fine = _curve(x, Bl)
    if not fine[0] <= x_0 <= fine[-1]:
        raise FieldError(_beyond(x_0, x_0, fine))
    if not curve(x_0) > 0:
        raise FieldError(
            f"force factor: must be above 0 at rest; found {float(curve(x_0)):.3g} T·m. Turn the sign of all of them, "
            "or let the coil rest where the field drives it."
        )
    top = _largest(curve, fine)
    least = KEPT * float(curve(x_0))
    up = _first_root(lambda s: curve(x_0 + s) - least, np.linspace(0, fine[-1] - x_0, FINE))
    down = _first_root(lambda s: curve(x_0 - s) - least, np.linspace(0, x_0 - fine[0], FINE))
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
    curve, fine = _curve(x, Bl)
    if not fine[0] <= x_0 - x_pk < x_0 + x_pk <= fine[-1]:
        raise FieldError(_beyond(x_0 - x_pk, x_0 + x_pk, fine))
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
    curve, fine = _curve(x, Bl)
    if not 0 < 2 * x_pk < fine[-1] - fine[0]:
        raise FieldError(_beyond(-x_pk, x_pk, fine))
    most = _largest(curve, fine)
    places = np.linspace(fine[0] + x_pk, fine[-1] - x_pk, FINE)

    def uneven(at: Num) -> Num:
        return curve(at + x_pk) - curve(at - x_pk)

    values = np.asarray(uneven(places))
    crossings = np.flatnonzero((values[:-1] > 0) & (values[1:] <= 0))  # falling: the force factor is a hill there
    if not len(crossings):
        return most, float("nan")
    nearest = crossings[np.argmin(np.abs(places[crossings] - most))]
    return most, _bisect(uneven, places[nearest], places[nearest + 1])


def _curve(x: Num, Bl: Num) -> tuple[Callable[[Num], Num], NDArray[np.float64]]:
    """The spline through the points and many places along it."""
    from scipy.interpolate import CubicSpline

    x, Bl = np.asarray(x, float), np.asarray(Bl, float)
    if x.ndim != 1 or x.shape != Bl.shape or len(x) < 4 or np.any(np.diff(x) <= 0):
        raise FieldError(f"force factor: must be told at 4 or more rising displacements; found {x.size} and {Bl.size}.")
    return CubicSpline(x, Bl), np.linspace(x[0], x[-1], FINE)


def _largest(curve: Callable[[Num], Num], fine: NDArray[np.float64]) -> float:
    """Where the curve is highest: the top of the parabola through the highest place and its neighbours."""
    values = np.asarray(curve(fine))
    k = int(np.clip(np.argmax(values), 1, len(fine) - 2))
    below, at, above = values[k - 1 : k + 2]
    bend = below - 2 * at + above
    move = 0.5 * (below - above) / bend if bend < 0 else 0.0
    return float(fine[k] + np.clip(move, -1, 1) * (fine[1] - fine[0]))


def _first_root(f: Callable[[Num], Num], places: NDArray[np.float64]) -> float:
    """The first place at which a function that begins positive is nothing; nan for none."""
    below = np.flatnonzero(np.asarray(f(places)) <= 0)
    if not len(below) or below[0] == 0:
        return float("nan")
    return _bisect(f, places[below[0] - 1], places[below[0]])


def _bisect(f: Callable[[Num], Num], a: float, b: float) -> float:
    """The root between a place where the function is positive and one where it is not."""
    for _ in range(50):
        middle = (a + b) / 2
        a, b = (middle, b) if f(middle) > 0 else (a, middle)
    return float((a + b) / 2)


def _beyond(low: float, high: float, fine: NDArray[np.float64]) -> str:
    return (
        f"stroke: must stay between {fine[0] * 1e3:.3g} and {fine[-1] * 1e3:.3g} mm, where the force factor is known; "
        f"found {low * 1e3:.3g} to {high * 1e3:.3g} mm. Ask for it further out."
    )

"""A smooth line through points, looked at in many places: its top, and where it first falls to a value."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from handwound.errors import FieldError
from handwound.quantities import Num

FINE = 4001
"""Places at which a curve is looked at before a root is made exact."""


class Curve:
    """The cubic spline through points over rising displacements; ``what`` it is, for messages."""

    def __init__(self, what: str, x: Num, y: Num) -> None:
        from scipy.interpolate import CubicSpline

        x, y = np.asarray(x, float), np.asarray(y, float)
        if x.ndim != 1 or x.shape != y.shape or len(x) < 4 or np.any(np.diff(x) <= 0):
            raise FieldError(f"{what}: must be told at 4 or more rising displacements; found {x.size} and {y.size}.")
        self.what = what
        self.spline = CubicSpline(x, y)
        self.places: NDArray[np.float64] = np.linspace(x[0], x[-1], FINE)

    def __call__(self, x: Num) -> Num:
        return self.spline(x)

    def beyond(self, low: float, high: float) -> FieldError:
        """Why a stroke that leaves the displacements at which the curve is known cannot be told."""
        first, last = self.places[0] * 1e3, self.places[-1] * 1e3
        return FieldError(
            f"stroke: must stay between {first:.3g} and {last:.3g} mm, where the {self.what} is known; "
            f"found {low * 1e3:.3g} to {high * 1e3:.3g} mm. Ask for it further out."
        )

    def top(self) -> float:
        """Where the curve is highest: the top of the parabola through the highest place and its neighbours."""
        values = np.asarray(self(self.places))
        k = int(np.clip(np.argmax(values), 1, FINE - 2))
        below, at, above = values[k - 1 : k + 2]
        bend = below - 2 * at + above
        move = 0.5 * (below - above) / bend if bend < 0 else 0.0
        return float(self.places[k] + np.clip(move, -1, 1) * (self.places[1] - self.places[0]))

    def falls_to(self, least: float, x_0: float, way: int) -> float:
        """How far from ``x_0``, up (1) or down (-1), the curve first falls to ``least``; nan where it never does."""
        from scipy.optimize import brentq

        end = self.places[-1] if way > 0 else self.places[0]
        strokes = np.linspace(0, abs(end - x_0), FINE)
        below = np.flatnonzero(np.asarray(self(x_0 + way * strokes)) <= least)
        if not len(below) or below[0] == 0:
            return float("nan")
        between = strokes[below[0] - 1], strokes[below[0]]
        return float(brentq(lambda s: float(self(x_0 + way * s)) - least, *between, xtol=1e-15))

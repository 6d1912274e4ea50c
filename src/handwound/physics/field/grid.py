"""The grid: lines r = const and z = const through every edge, close together at steel edges, far apart far away."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Problem


@dataclass(frozen=True)
class Fineness:
    """How close the grid lines are. Lengths are shares of the motor's size, so a motor twice as big has the same grid.

    edge: at the edges of steel; zone: at steel edges beside a zone; largest: inside the motor;
    growth: from one element to the next; outside: the same between motor and box; box: half width of the box.
    """

    edge: float = 0.03
    zone: float = 0.015
    largest: float = 0.25
    growth: float = 2.5
    outside: float = 2.0
    box: float = 10.0


SEARCH = Fineness()
FULL = Fineness(edge=0.02, zone=0.008, growth=2.0)


@dataclass(frozen=True)
class Breaks:
    """The places along one axis where something begins or ends, sorted, and for every feature its place's number."""

    places: Array
    numbers: Array

    @classmethod
    def of(cls, features: Array, tolerance: float) -> Breaks:
        """Sort the features; those closer than the tolerance share one place (the first one's)."""
        order = np.argsort(features, kind="stable")
        places: list[float] = []
        numbers = np.empty(len(features), int)
        for k in order:
            if not places or features[k] - places[-1] > tolerance:
                places.append(float(features[k]))
            numbers[k] = len(places) - 1
        return cls(np.array(places), numbers)


def features(problem: Problem) -> tuple[Array, Array]:
    r"""Every radius and every level at which something begins or ends, in a fixed order.

    .. math:: (0, r_{in,1}, r_{out,1}, r_{in,2}, \dots), \quad (z_{lo,1}, z_{hi,1}, z_{lo,2}, \dots)

    Parameters
    ----------
    problem : Problem
        Rings, winding and zones. [-]

    Returns
    -------
    r : float
        Radii: the axis, then two for each ring, the winding, and each zone. [m]
    z : float
        Levels in the same order, without an entry for the axis. [m]

    Notes
    -----
    The order is what lets a slightly changed problem be laid on the same grid.

    References
    ----------
    .. [1] this project
    """
    rectangles = np.array([*problem.solids, *problem.zones])
    return np.concatenate([[0.0], rectangles[:, :2].ravel()]), rectangles[:, 2:].ravel()


class Grid:
    """Grid lines in r and z, remembered as fractions between the breaks so that they can move with them."""

    def __init__(self, problem: Problem, fineness: Fineness) -> None:
        self.fineness = fineness
        self.half_width = fineness.box * problem.size
        self.z_middle = problem.z_middle
        r, z = features(problem)
        tolerance = 1e-6 * problem.size
        self.r_breaks, self.z_breaks = Breaks.of(r, tolerance), Breaks.of(z, tolerance)
        solid = 2 * len(problem.rings)
        in_zone = 2 * len(problem.solids)
        self.r = self._lines(self.r_breaks, 1, solid, in_zone, (None, self.half_width), problem.size)
        ends = (self.z_middle - self.half_width, self.z_middle + self.half_width)
        self.z = self._lines(self.z_breaks, 0, solid, in_zone, ends, problem.size)

    def _lines(
        self, breaks: Breaks, first: int, solid: int, in_zone: int, ends: tuple[float | None, float], size: float
    ) -> Array:
        """Lines along one axis: between two breaks the elements follow the wanted size at each place."""
        f = self.fineness
        places, numbers = breaks.places, breaks.numbers
        edges = places[np.unique(numbers[first : first + solid])] if solid else places
        zone = places[numbers[first + in_zone :]]
        wanted = np.full(len(edges), f.edge * size)
        if len(zone):
            reach = 0.02 * size
            wanted[(edges >= zone.min() - reach) & (edges <= zone.max() + reach)] = f.zone * size
        else:
            wanted[:] = f.zone * size
        lines = [places[:1]]
        for a, b in pairwise(places):
            lines.append(_subdivide(a, b, edges, wanted, np.log(f.growth), f.largest * size))
        lines.append(_subdivide(places[-1], ends[1], edges, wanted, np.log(f.outside), np.inf))
        if ends[0] is not None:
            below = -_subdivide(-places[0], -ends[0], -edges, wanted, np.log(f.outside), np.inf)[::-1]
            lines.insert(0, below)
        return np.concatenate(lines)

    def moved(self, problem: Problem) -> tuple[Array, Array] | None:
        """The same grid laid on a changed problem: lines keep their share between the breaks; None if edges crossed."""
        out = []
        for lines, breaks, new in zip(
            (self.r, self.z), (self.r_breaks, self.z_breaks), features(problem), strict=True
        ):
            places = np.array([new[breaks.numbers == k][0] for k in range(len(breaks.places))])
            parted = np.abs(places[breaks.numbers] - new).max() > 2e-6 * problem.size
            if len(new) != len(breaks.numbers) or parted or np.any(np.diff(places) <= 0):
                return None
            old = np.concatenate([[lines[0]], breaks.places, [lines[-1]]])
            new_places = np.concatenate([[lines[0]], places, [lines[-1]]])
            out.append(np.interp(lines, old, new_places))
        return out[0], out[1]

    def spans(self, problem: Problem) -> list[tuple[slice, slice]]:
        """Per ring and then the winding, which elements in r and in z it fills."""
        r_of = np.searchsorted(self.r, self.r_breaks.places - 1e-12)[self.r_breaks.numbers[1:]].reshape(-1, 2)
        z_of = np.searchsorted(self.z, self.z_breaks.places - 1e-12)[self.z_breaks.numbers].reshape(-1, 2)
        count = len(problem.solids)
        return [
            (slice(r[0], r[1]), slice(z[0], z[1])) for r, z in zip(r_of[:count].tolist(), z_of[:count].tolist(), strict=True)
        ]


def _subdivide(a: float, b: float, edges: Array, wanted: Array, slope: float, largest: float) -> Array:
    """Lines in (a, b], b included: equal steps of the integral of dx / size(x), size growing from each steel edge."""
    if not b > a:
        raise FieldError(f"grid: must have room between {a:g} and {b:g} m.")
    fine = a + (b - a) * (1 - np.cos(np.linspace(0, np.pi, 65))) / 2
    if b - a > 20 * wanted.min():
        near = np.geomspace(wanted.min() / 10, (b - a) / 2, 60)
        fine = np.unique(np.concatenate([[a, b], a + near, b - near]))
    size = np.minimum(largest, (wanted + slope * np.abs(fine[:, None] - edges)).min(axis=1))
    passed = np.concatenate([[0.0], np.cumsum(np.diff(fine) * (1 / size[1:] + 1 / size[:-1]) / 2)])
    count = max(1, int(np.ceil(passed[-1] - 0.3)))
    lines = np.interp(np.linspace(0, passed[-1], count + 1)[1:], passed, fine)
    lines[-1] = b
    return lines

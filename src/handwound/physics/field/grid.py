"""The grid: lines r = const and z = const through every edge, close together at steel edges, far apart far away.

With sloped rings the lines in r are bent to follow their sides, see ``bent.py``; z stays as it is. ``r`` then counts
the lines by their mean radius, and ``bend`` tells where each really is.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bent import Columns
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Problem


@dataclass(frozen=True)
class Fineness:
    """How close the grid lines are. Lengths are shares of the motor's size, so a motor twice as big has the same grid.

    edge: at the edges of steel; zone: at steel edges beside a zone, or at all when there is none; largest: inside;
    growth: from one element to the next; outside: the same between motor and box; box: half width of the box.
    """

    edge: float
    zone: float
    largest: float = 0.25
    growth: float = 2.0
    outside: float = 2.0
    box: float = 10.0


Lines = tuple[Array, Array, Array | None]  # in r and in z, and the bend of those in r
SAME = 1e-6  # of the motor's size: places so close together are one place
NEAR = 0.02  # of the motor's size: steel edges so close to a zone are beside it
SEARCH = Fineness(edge=0.12, zone=0.02, growth=4.0, outside=3.0)
FULL = Fineness(edge=0.03, zone=0.008)


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
        Radii: the axis, then two for each ring, the winding, each ghost and each zone. [m]
    z : float
        Levels in the same order, without an entry for the axis. [m]

    Notes
    -----
    The order is what lets a slightly changed problem be laid on the same grid.

    References
    ----------
    .. [1] this project
    """
    rectangles = np.array([*problem.solids, *problem.ghosts, *problem.zones])
    return np.concatenate([[0.0], rectangles[:, :2].ravel()]), rectangles[:, 2:].ravel()


class Grid:
    """Grid lines in r and z, remembered as fractions between the breaks so that they can move with them."""

    def __init__(self, problem: Problem, fineness: Fineness) -> None:
        self.problem, self.fineness = problem, fineness
        self.half_width = fineness.box * problem.size
        self.z_middle = problem.z_middle
        r, z = features(problem)
        tolerance = SAME * problem.size
        self.r_breaks, self.z_breaks = Breaks.of(r, tolerance), Breaks.of(z, tolerance)
        sharp = np.ones(len(problem.solids) + len(problem.ghosts) + len(problem.zones), bool)
        sharp[len(problem.rings) : len(problem.solids)] = sharp[len(sharp) - len(problem.zones) :] = False
        sharp_r = np.append(False, np.repeat(sharp, 2))
        self.columns = self._columns(problem) if problem.sloped else None
        if self.columns:
            self.r_breaks = Breaks(self.columns.table.mean(axis=0), self.columns.numbers)
            self.r = self._bent_lines(self.columns.table, sharp_r, problem)
        else:
            self.r = self._lines(self.r_breaks, sharp_r, problem, None)
        self.z = self._lines(self.z_breaks, np.repeat(sharp, 2), problem, self.z_middle)

    def _lines(self, breaks: Breaks, sharp: Array, problem: Problem, middle: float | None) -> Array:
        """Lines along one axis: between two breaks the elements follow the wanted size at each place.

        The box lies around ``middle``; without one the axis begins at the first break and the box at zero.
        """
        f, size = self.fineness, problem.size
        places, numbers = breaks.places, breaks.numbers
        edges = places[np.unique(numbers[sharp])] if sharp.any() else places
        wanted = self._wanted(edges, places[numbers[len(numbers) - 2 * len(problem.zones) :]])

        def between(a: float, b: float, growth: float, largest: float) -> Array:
            return _subdivide(a, b, edges, wanted, np.log(growth), largest)

        lines = [places[:1], *(between(a, b, f.growth, f.largest * size) for a, b in pairwise(places))]
        lines.append(between(places[-1], (middle or 0.0) + self.half_width, f.outside, np.inf))
        if middle is not None:
            edges, wanted = -edges[::-1], wanted[::-1]
            below = between(-places[0], self.half_width - middle, f.outside, np.inf)
            lines.insert(0, -below[::-1])
        return np.concatenate(lines)

    def _wanted(self, edges: Array, zone: Array) -> Array:
        """The size of elements at each edge; ``zone`` holds the places at which zones begin and end."""
        f, size = self.fineness, self.problem.size
        wanted = np.full(len(edges), f.zone * size)
        if len(zone):
            far = (edges < zone.min() - NEAR * size) | (edges > zone.max() + NEAR * size)
            wanted[far] = f.edge * size
        return wanted

    def _columns(self, problem: Problem) -> Columns:
        numbers = self.z_breaks.numbers.reshape(-1, 2)
        return Columns(problem, self.z_breaks.places, numbers, self.half_width, SAME * problem.size)

    def _bent_lines(self, table: Array, sharp: Array, problem: Problem) -> Array:
        """Lines between the sides' own, as close together as they must be at the level where there is most room."""
        f, numbers = self.fineness, self.r_breaks.numbers
        zone = np.array([r for place in problem.zones for r in place[:2]])
        at = np.unique(numbers[sharp]) if sharp.any() else np.arange(table.shape[1])
        table = np.hstack([table, np.full((len(table), 1), self.half_width)])
        mean = np.append(self.r_breaks.places, self.half_width)
        lines = [mean[:1]]
        for k in range(len(mean) - 1):
            row = table[np.argmax(table[:, k + 1] - table[:, k])]
            growth, largest = (f.growth, f.largest * problem.size) if k < len(mean) - 2 else (f.outside, np.inf)
            edges = row[at]
            found = _subdivide(row[k], row[k + 1], edges, self._wanted(edges, zone), np.log(growth), largest)
            lines.append(np.interp(found, row[k : k + 2], mean[k : k + 2]))
        return np.concatenate(lines)

    @property
    def bend(self) -> Array | None:
        """The radius of each line in r at each line in z, [z, r]; None when all are straight."""
        return self._bend(self.columns.table, self.z, self.z_breaks.places) if self.columns else None

    def _bend(self, table: Array, z: Array, levels: Array) -> Array:
        """A table of radii at the breaks, laid on all lines."""
        mean = np.append(self.r_breaks.places, self.half_width)
        at_z = np.stack([np.interp(z, levels, column) for column in table.T], axis=1)
        return np.stack([np.interp(self.r, mean, np.append(row, self.half_width)) for row in at_z])

    def moved(self, problem: Problem) -> Lines | None:
        """The same lines (r, z and bend) laid on a changed problem, each keeping its share between two breaks.

        None if that cannot be. Zones may part from the edges they lay on: their lines are a convenience, not an edge
        of anything.
        """
        bound = 2 * len(problem.zones)
        new_r, new_z = features(problem)
        if len(new_r) != len(self.r_breaks.numbers):
            return None
        levels = _moved_places(self.z_breaks, new_z, bound, SAME * problem.size)
        if levels is None:
            return None
        z = _stretched(self.z, self.z_breaks.places, levels)
        if self.columns or problem.sloped:
            try:
                table = (self.columns or self._columns(self.problem)).laid(problem, levels)
            except FieldError:
                return None
            return self.r, z, self._bend(table, z, levels)
        radii = _moved_places(self.r_breaks, new_r, bound, SAME * problem.size)
        return None if radii is None else (_stretched(self.r, self.r_breaks.places, radii), z, None)

    def spans(self, problem: Problem) -> list[tuple[slice, slice]]:
        """Per ring and then the winding (where there is one), which elements in r and in z it fills."""
        r_of = np.searchsorted(self.r, self.r_breaks.places - 1e-12)[self.r_breaks.numbers[1:]].reshape(-1, 2)
        z_of = np.searchsorted(self.z, self.z_breaks.places - 1e-12)[self.z_breaks.numbers].reshape(-1, 2)
        count = len(problem.solids)
        both = zip(r_of[:count].tolist(), z_of[:count].tolist(), strict=True)
        return [(slice(*r), slice(*z)) for r, z in both]


def _moved_places(breaks: Breaks, new: Array, bound: int, tolerance: float) -> Array | None:
    """The breaks' new places; None where features that lay together part, or pass each other."""
    places = np.array([new[np.argmax(breaks.numbers == k)] for k in range(len(breaks.places))])
    parted = np.abs(places[breaks.numbers] - new)[: len(new) - bound]
    return None if parted.max() > 2 * tolerance or np.any(np.diff(places) <= tolerance) else places


def _stretched(lines: Array, before: Array, after: Array) -> Array:
    """Lines moved with the breaks between them; the box stays."""
    ends = lines[[0, -1]]
    old, new = (np.concatenate([ends[:1], places, ends[1:]]) for places in (before, after))
    return np.interp(lines, old, new)


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

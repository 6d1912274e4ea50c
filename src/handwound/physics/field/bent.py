"""Grid lines that follow sloped sides: which sides share a line, the order of the lines, their radius at every level.

A line runs from the bottom of the box to its top. Between two levels at which something begins or ends it is straight;
where it is a side of something its radius is given, elsewhere it stays where it is and gives way to its neighbours.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.problem import Problem, Ring, Winding

SHARE = 0.25  # of the even spacing between two given lines, to which lines in between may come close
CLOSE = 0.02  # of the motor's size, beyond which lines need not keep apart


class Columns:
    """The lines of one problem. ``table`` holds their radii, [level, line]; ``numbers`` the line of every side.

    Sides are counted as in ``grid.features``: the axis, then the inner and outer one of each ring, of the winding, of
    each ghost and of each zone. Ghosts and zones are wishes: their lines give way where a side of a solid passes.
    """

    def __init__(self, problem: Problem, levels: Array, numbers: Array, half_width: float, tolerance: float) -> None:
        """``levels`` are the breaks in z, ``numbers`` those of each rectangle's faces, one row each."""
        self.half_width, self.tolerance = half_width, tolerance
        self.hard = 1 + 2 * len(problem.solids)
        self.faces = np.vstack([[0, len(levels) - 1], np.repeat(numbers, 2, axis=0)])
        self.links: list[tuple[int, int]] = []
        sides = self._sides(problem, levels)
        of_side = self._joined(sides)
        self._refuse_points(problem, levels, sides, of_side)
        of_side = self._linked(sides, of_side)
        order = _ordered(self._given(sides, levels, of_side), levels)
        self.numbers = self._with_wishes(problem, levels, np.argsort(order)[of_side])
        self.table = self.laid(problem, levels)

    def laid(self, problem: Problem, levels: Array) -> Array:
        """The table of a problem with as many sides; FieldError where the lines cannot follow its sides."""
        sides = self._sides(problem, levels)
        given = self._given(sides, levels, self.numbers[: self.hard], self.count)
        apart = np.abs(sides - given[self.numbers[: self.hard]])
        wished, free = given.copy(), np.asarray(np.isnan(given).all(axis=1))
        for line, (low, high), (r, _) in list(zip(self.numbers, self.faces, _radii(problem), strict=False))[
            self.hard :
        ]:
            if free[line]:
                wished[line, low : high + 1] = r
        table = _relaxed(given, wished, self.half_width, CLOSE * problem.size)
        if np.nanmax(apart) > 2 * self.tolerance or np.diff(table).min() <= 0:
            raise FieldError("grid: must have room for a line along every side; found sides that pass each other.")
        return table

    @property
    def count(self) -> int:
        """How many lines there are."""
        return int(self.numbers.max()) + 1

    def _sides(self, problem: Problem, levels: Array) -> Array:
        """Radius of every side of a solid at every level, [side, level], NaN above and below it."""
        out = np.full((self.hard, len(levels)), np.nan)
        for row, (low, high), ends in zip(out, self.faces, _radii(problem), strict=False):
            own = slice(low, high + 1)
            row[own] = np.interp(levels[own], levels[[low, high]], ends)
        return out

    def _joined(self, sides: Array) -> Array:
        """The line of every side when sides that have a point in common share one."""
        of_side = np.arange(len(sides))
        with np.errstate(invalid="ignore"):
            touching = (np.abs(sides[:, None] - sides) <= self.tolerance).any(axis=2)
        for a, b in zip(*np.nonzero(np.triu(touching, 1)), strict=True):
            of_side[of_side == of_side[b]] = of_side[a]
        return np.unique(of_side, return_inverse=True)[1]

    def _refuse_points(self, problem: Problem, levels: Array, sides: Array, of_side: Array) -> None:
        """No element can fill the corner between two sides that meet at a point and part on the same side of it."""
        names = ["the axis", *(ring.name for ring in problem.rings for _ in range(2)), "the winding", "the winding"]
        for line in range(of_side.max() + 1):
            own = np.flatnonzero(of_side == line)
            with np.errstate(invalid="ignore"):
                apart = np.abs(sides[own][:, None] - sides[own])
            together, parted = (apart <= self.tolerance).any(axis=2), (apart > self.tolerance).any(axis=2)
            for a, b in zip(*np.nonzero(np.triu(together & parted, 1)), strict=True):
                level = np.argmax(apart[a, b] <= self.tolerance)
                raise FieldError(
                    f"{names[own[a]]} and {names[own[b]]}: must not run together to a point; found their sides meeting "
                    f"at r {sides[own[a], level]:g} m, z {levels[level]:g} m. Leave a little room there (0.05 mm)."
                )

    def _linked(self, sides: Array, of_side: Array) -> Array:
        """Straight sides one above the other at one radius share a line too, when nothing crosses it between them."""
        with np.errstate(invalid="ignore"):
            straight = np.flatnonzero(np.nanmax(sides, axis=1) - np.nanmin(sides, axis=1) <= self.tolerance)
        radius = np.nanmean(sides, axis=1)
        while len(straight):
            same = straight[np.abs(radius[straight] - radius[straight[0]]) <= self.tolerance]
            straight = np.setdiff1d(straight, same)
            same = same[np.argsort(self.faces[same, 0], kind="stable")]
            for below, above in pairwise(same):
                if of_side[below] != of_side[above] and self._free(sides, of_side, below, above):
                    self.links.append((int(below), int(above)))
                    of_side = np.where(of_side == of_side[above], of_side[below], of_side)
        return np.unique(of_side, return_inverse=True)[1]

    def _free(self, sides: Array, of_side: Array, below: int, above: int) -> bool:
        """Whether a straight line from one side up to another is alone there and keeps to one side of all others."""
        start, stop = self.faces[below, 1], self.faces[above, 0]
        for line in np.unique(of_side):
            low, high = start + (line == of_side[below]), stop + (line != of_side[above])
            beside = sides[of_side == line, low:high] - sides[below, start]
            beside = beside[np.isfinite(beside)]
            own = line in (of_side[below], of_side[above])
            if len(beside) and (own or not (beside.min() > self.tolerance or beside.max() < -self.tolerance)):
                return False
        return True

    def _given(self, sides: Array, levels: Array, of_side: Array, count: int = 0) -> Array:
        """Radius of every line at every level, [line, level], NaN where it is free."""
        out = np.full((max(count, of_side.max() + 1), len(levels)), np.nan)
        for line, row in zip(of_side, sides, strict=True):
            out[line] = np.where(np.isnan(out[line]), row, out[line])
        for below, above in self.links:
            own = slice(self.faces[below, 1], self.faces[above, 0] + 1)
            ends = sides[below, own.start], sides[above, own.stop - 1]
            out[of_side[below], own] = np.interp(levels[own], levels[[own.start, own.stop - 1]], ends)
        return out

    def _with_wishes(self, problem: Problem, levels: Array, of_side: Array) -> Array:
        """Ghosts and zones get the line that runs along them all the way, or else one of their own."""
        self.numbers = of_side
        table = self.laid(problem, levels)
        radii = _radii(problem)[:, 0]
        wishes = np.arange(self.hard, len(radii))
        wishes = wishes[np.argsort(radii[wishes], kind="stable")]
        keys: list[tuple[float, float]] = [(float(line), 0.0) for line in of_side]
        own = (-1.0, -1.0)
        for side in wishes:
            rows = table[self.faces[side, 0] : self.faces[side, 1] + 1]
            along = np.flatnonzero(np.all(np.abs(rows - radii[side]) <= self.tolerance, axis=0))
            if len(along):
                keys.append((float(along[0]), 0.0))
                continue
            if radii[side] - own[1] > self.tolerance:
                own = (float(np.searchsorted(rows.mean(axis=0), radii[side])) - 0.5, float(radii[side]))
            keys.append(own)
        found = np.array(keys)
        found[wishes] = found[self.hard :].copy()
        return np.unique(found, axis=0, return_inverse=True)[1].ravel()


def _radii(problem: Problem) -> Array:
    """Radius of every side at its lower and its upper face."""
    solids: list[Ring | Winding] = [*problem.rings, *([problem.winding] if problem.winding else [])]
    ends = [pair for solid in solids for pair in zip(solid.lower, solid.upper, strict=True)]
    wishes = [(r, r) for place in (*problem.ghosts, *problem.zones) for r in place[:2]]
    return np.array([(0.0, 0.0), *ends, *wishes])


def _extended(given: Array) -> Array:
    """Each line goes straight on from where it is given."""
    out = given.copy()
    for row in out:
        own = np.flatnonzero(np.isfinite(row))
        row[: own[0]], row[own[-1] + 1 :] = row[own[0]], row[own[-1]]
    return out


def _ordered(given: Array, levels: Array) -> Array:
    """The lines from the axis outwards: smaller radius first wherever two are given at one level.

    Where no level has both, that place counts most where both are nearest.
    """
    there, radius = np.asarray(~np.isnan(given)), _extended(given)
    away = np.stack([np.abs(levels[:, None] - levels[row]).min(axis=1) for row in there])
    near = 1 / (away[:, None] + away + 1e-9)
    near[~(there[:, None] | there)] = 0.0
    inner = (near * (radius[:, None] < radius)).max(axis=2)
    must = ((radius[:, None] < radius) & there[:, None] & there).any(axis=2)
    before = np.maximum(inner - inner.T, 0.0)
    left, order = list(range(len(given))), []
    while left:
        ready = [line for line in left if not must[left, line].any()] or left
        cost = [(float(before[left, line].sum()), float(radius[line].mean())) for line in ready]
        order.append(ready[cost.index(min(cost))])
        left.remove(order[-1])
    return np.array(order)


def _relaxed(given: Array, wished: Array, end: float, close: float) -> Array:
    """Radius of every line at every level, [level, line]: given where it is, else as near as can be to what is wished.

    Beyond where it is given or wished a line goes straight on from level to level until it is in the way of another.
    """
    own = np.asarray(~np.isnan(wished))
    wished = _extended(wished)
    apart, table = _distances(given, wished, close), wished.T.copy()
    levels = np.arange(len(table))
    first, last = own.argmax(axis=1), len(table) - 1 - own[:, ::-1].argmax(axis=1)
    for step in (1, -1):
        for level in levels[::step]:
            if 0 <= level - step < len(table):
                passed = level > last if step == 1 else level < first
                wished[passed, level] = table[level - step, passed]
            table[level] = _apart(np.append(given[:, level], end), np.append(wished[:, level], end), apart)[:-1]
    return table


def _distances(given: Array, wished: Array, close: float) -> Array:
    """How far neighbouring lines keep from each other where nothing presses them, and the last one from the box."""
    both, wide = np.diff(given, axis=0), np.diff(wished, axis=0)
    out = np.full(len(given), close)
    for k, (fixed, free) in enumerate(zip(both, wide, strict=True)):
        if np.isfinite(fixed).any():
            out[k] = np.nanmin(fixed)
        elif free.min() > 0:
            out[k] = free.min()
        elif free.max() > 0:
            out[k] = max(free[free > 0].min(), close / 8)
    return np.minimum(out, close)


def _apart(at: Array, wish: Array, apart: Array) -> Array:
    """The radii at one level; where there is little room the lines keep a share of it."""
    fixed = np.flatnonzero(np.isfinite(at))
    room = np.repeat(np.diff(at[fixed]) / np.diff(fixed), np.diff(fixed))
    apart, wish = np.minimum(apart, SHARE * room), wish.copy()
    wish[fixed] = at[fixed]
    inwards = _pushed(-wish[::-1], len(wish) - 1 - fixed, apart[::-1])[::-1]
    return (_pushed(wish, fixed, apart) - inwards) / 2


def _pushed(wish: Array, fixed: Array, apart: Array) -> Array:
    """Outwards and then inwards until all are apart; what is fixed stays."""
    out, held = wish.copy(), np.isin(np.arange(len(wish)), fixed)
    for k in range(1, len(out)):
        if not held[k]:
            out[k] = max(out[k], out[k - 1] + apart[k - 1])
    for k in range(len(out) - 2, -1, -1):
        if not held[k]:
            out[k] = min(out[k], out[k + 1] - apart[k])
    return out

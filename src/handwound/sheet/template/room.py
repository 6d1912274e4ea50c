"""Whether pieces have room on a sheet: at some angle, and two of them beside each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import area, is_circle, points

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

FINE = 2e-5
"""By how much a straight piece may leave its arc. [m]"""
TOUCH = 1e-6
"""What is larger than its room by no more than this has room. [m]"""
STEP, COARSE = 1, 15
"""Angles at which one piece is tried, and two together. [°]"""
APART = 1e-3
"""Points of one edge are looked for in the other piece so far apart. [m]"""


def outer(template: Template) -> Array:
    """The outer edge of a piece, the cut round the largest area. [m]"""
    return np.array(points(max((line for line in template.lines if line.role == "cut"), key=area), FINE))


def lies_on(template: Template, wide: float, long: float) -> bool:
    """Whether a piece lies on a sheet at some angle."""
    return any(_within(at, wide, long) for at in _turned(outer(template), STEP))


def least_box(template: Template) -> tuple[float, float]:
    """The rectangle of the least area in which a piece lies, its shorter side first. [m]"""
    wide, long = sorted(np.ptp(_squared(outer(template)), axis=0))
    return float(wide), float(long)


def lie_together(one: Template, other: Template, wide: float, long: float) -> bool:
    """Whether two pieces lie on a sheet, pushed into opposite corners of it, or one is cut from what a hole leaves.

    Where only an angle between those that are tried would help, the answer is no: the fit is closer than hands cut.
    """
    if _from_a_hole(one, other) or _from_a_hole(other, one):
        return True
    placed = [
        [at - at.min(axis=0) for at in _turned(_squared(outer(each)), COARSE, 360) if _within(at, wide, long)]
        for each in (one, other)
    ]
    return any(
        not _overlap(first + [side * (wide - first[:, 0].max()), 0.0],
                     second + [(1 - side) * (wide - second[:, 0].max()), long - second[:, 1].max()])
        for first in placed[0] for second in placed[1] for side in (0, 1)
    )  # fmt: skip


def _from_a_hole(one: Template, other: Template) -> bool:
    """Whether a piece lies, round as far as it reaches, in a round hole of the other."""
    at = outer(one)
    reach = 2 * float(np.hypot(*(at - (at.max(axis=0) + at.min(axis=0)) / 2).T).max())
    holes = (line for line in other.lines if line.role == "cut" and is_circle(line))
    sizes = (math.dist(line.corners[0][:2], line.corners[1][:2]) for line in holes)
    whole = float(np.ptp(outer(other), axis=0).max())
    return any(reach <= size + TOUCH for size in sizes if size < whole - TOUCH)


def _squared(at: Array) -> Array:
    """Turned so that the rectangle round it is the least."""
    return min(_turned(at, STEP), key=lambda found: float(np.prod(np.ptp(found, axis=0))))


def _turned(at: Array, step: int, whole: int = 180) -> Iterator[Array]:
    for k in range(0, whole, step):
        cos, sin = math.cos(math.radians(k)), math.sin(math.radians(k))
        yield at @ np.array([[cos, sin], [-sin, cos]])


def _within(at: Array, wide: float, long: float) -> bool:
    x, y = np.ptp(at, axis=0)
    return bool(x <= wide + TOUCH and y <= long + TOUCH)


def _overlap(one: Array, other: Array) -> bool:
    """Whether two outlines lie on each other: an edge of one has points in the other."""
    if np.any(one.max(axis=0) < other.min(axis=0) + TOUCH) or np.any(other.max(axis=0) < one.min(axis=0) + TOUCH):
        return False
    return _inside(_dense(one), other) or _inside(_dense(other), one)


def _dense(at: Array) -> Array:
    """Points along an edge."""
    found = []
    for start, end in zip(at, np.roll(at, -1, axis=0), strict=True):
        shares = np.linspace(0, 1, max(2, math.ceil(math.dist(start, end) / APART)), endpoint=False)
        found.append(start + (end - start) * shares[:, None])
    return np.vstack(found)


def _inside(found: Array, at: Array) -> bool:
    """Whether a point lies within an edge: a ray from it to the right crosses the edge an odd number of times."""
    (x, y), (x_2, y_2) = at.T, np.roll(at, -1, axis=0).T
    high = (y > found[:, 1:]) != (y_2 > found[:, 1:])
    with np.errstate(divide="ignore", invalid="ignore"):
        crossed = found[:, :1] < (x_2 - x) * (found[:, 1:] - y) / (y_2 - y) + x
    return bool(np.any(np.count_nonzero(high & crossed, axis=1) % 2))

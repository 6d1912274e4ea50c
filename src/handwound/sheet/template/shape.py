"""Shapes that templates are drawn with, and what is asked of an outline: its points, its area, how far it reaches."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from handwound.sheet.drawing.letters import text_width
from handwound.sheet.template.outline import Corner, Line, Role, Template, Words, bulge

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y. [m]"""
QUARTER = math.pi / 2
FINE = 1e-6
"""Way by which an arc may leave the straight pieces that stand for it. [m]"""


def rectangle(width: float, height: float, x: float = 0.0, y: float = 0.0, role: Role = "cut") -> Line:
    """A rectangle from its lower left corner."""
    return path((x, y), (x + width, y), (x + width, y + height), (x, y + height), role=role)


def path(*points: Point, role: Role = "cut", closed: bool = True) -> Line:
    """A way of straight pieces."""
    return Line(tuple((x, y, 0.0) for x, y in points), role, closed)


def mark(*points: Point, role: Role = "mark") -> Line:
    """An open way that is drawn or scored only."""
    return path(*points, role=role, closed=False)


def cross(x: float = 0.0, y: float = 0.0, size: float = 6e-3) -> tuple[Line, Line]:
    """Where a point is."""
    half = size / 2
    return mark((x - half, y), (x + half, y)), mark((x, y - half), (x, y + half))


def polar(r: float, angle: float) -> Point:
    """A point around the origin."""
    return r * math.cos(angle), r * math.sin(angle)


def around(r: float, start: float, angle: float) -> list[Corner]:
    """The corners of an arc around the origin, its end left out; no piece turns further than a quarter."""
    n = max(1, math.ceil(abs(angle) / QUARTER - 1e-9))
    return [(*polar(r, start + k * angle / n), bulge(angle / n)) for k in range(n)]


def is_circle(line: Line) -> bool:
    """Whether it is a full circle of two half turns."""
    return line.closed and len(line.corners) == 2 and all(corner[2] == 1.0 for corner in line.corners)


def legs(line: Line) -> Iterator[tuple[Point, Point, float]]:
    """From where to where each piece of a way goes, and how it bulges."""
    corners = [*line.corners, line.corners[0]] if line.closed else [*line.corners]
    for (x, y, bulging), (x_2, y_2, _) in pairwise(corners):
        yield (x, y), (x_2, y_2), bulging


def radius(start: Point, end: Point, bulging: float) -> float:
    """Radius of an arc between two points."""
    return math.dist(start, end) * (1 + bulging**2) / (4 * abs(bulging))


def points(line: Line, fine: float = FINE) -> list[Point]:
    """The way as points that are so near to each other that no arc leaves the straight lines between them."""
    found = [line.corners[0][:2]]
    for start, end, bulging in legs(line):
        found += _bent(start, end, bulging, fine) if bulging else ()
        found.append(end)
    return found[:-1] if line.closed else found


def _bent(start: Point, end: Point, bulging: float, fine: float) -> Iterator[Point]:
    """The points of an arc between its ends."""
    (x, y), (x_2, y_2) = start, end
    turn, r = 4 * math.atan(bulging), radius(start, end, bulging)
    off = (1 / bulging - bulging) / 4
    x_m, y_m = (x + x_2) / 2 - off * (y_2 - y), (y + y_2) / 2 + off * (x_2 - x)
    n = max(2, math.ceil(abs(turn) / (2 * math.acos(max(1 - fine / r, 0.5))))) if r > fine else 2
    first = math.atan2(y - y_m, x - x_m)
    return ((x_m + r * math.cos(first + k * turn / n), y_m + r * math.sin(first + k * turn / n)) for k in range(1, n))


def area(line: Line) -> float:
    """Area within a closed way, arcs exactly. [m²]"""
    whole = 0.0
    for (x, y), (x_2, y_2), bulging in legs(line):
        whole += (x * y_2 - x_2 * y) / 2
        if bulging:
            turn, r = 4 * math.atan(bulging), radius((x, y), (x_2, y_2), bulging)
            whole += r**2 * (turn - math.sin(turn)) / 2
    return abs(whole)


def piece_area(template: Template) -> float:
    """Area of one piece: the largest of its cuts without the holes in it. [m²]"""
    cuts = sorted(area(line) for line in template.lines if line.role == "cut" and line.closed)
    return cuts[-1] - sum(cuts[:-1]) if cuts else 0.0


def box(found: Iterable[Point]) -> Box:
    """How far points reach."""
    x, y = zip(*found, strict=True)
    return min(x), min(y), max(x), max(y)


def reach(template: Template) -> Box:
    """How far a template reaches with all that is written on it. [m]"""
    lines = [point for line in template.lines for point in points(line, 1e-5)]
    return box([*lines, *(corner for words in template.words for corner in corners_of(words))])


def corners_of(words: Words) -> list[Point]:
    """The corners of the room that a text takes."""
    wide, high = text_width(words.text, words.height) / 2, 0.6 * words.height
    sides = ((-wide, -high), (wide, -high), (wide, high), (-wide, high))
    cos, sin = math.cos(words.angle), math.sin(words.angle)
    return [(words.x + x * cos - y * sin, words.y + x * sin + y * cos) for x, y in sides]


def moved(template: Template, dx: float, dy: float) -> Template:
    """The same elsewhere."""
    words = tuple(replace(each, x=each.x + dx, y=each.y + dy) for each in template.words)
    lines = tuple(
        replace(line, corners=tuple((x + dx, y + dy, b) for x, y, b in line.corners)) for line in template.lines
    )
    return replace(template, lines=lines, words=words)


def turned(template: Template, angle: float) -> Template:
    """The same turned about the origin to the left, its texts with it. [rad]"""
    cos, sin = math.cos(angle), math.sin(angle)

    def at(x: float, y: float) -> Point:
        return x * cos - y * sin, x * sin + y * cos

    lines = tuple(replace(line, corners=tuple((*at(x, y), b) for x, y, b in line.corners)) for line in template.lines)
    words = []
    for each in template.words:
        x, y = at(each.x, each.y)
        words.append(replace(each, x=x, y=y, angle=each.angle + angle))
    return replace(template, lines=lines, words=tuple(words))

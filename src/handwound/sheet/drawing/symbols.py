"""Signs of a circuit diagram as IEC 60617 has them (from memory), on wires that run level or upright."""

from __future__ import annotations

from math import cos, pi, sin

from handwound.sheet.drawing.style import FIRM, INK, LARGE, PAPER, TEXT
from handwound.sheet.drawing.svg import Point, Svg

LINE = 0.4
"""Width of a wire. [mm of paper]"""
LONG, HIGH = 11.0, 4.4
"""Of a resistor's box. [mm of paper]"""


def wire(svg: Svg, *points: Point) -> None:
    """A wire through these points."""
    svg.lines(points, INK, LINE)


def dot(svg: Svg, at: Point) -> None:
    """Where wires join."""
    svg.circle(*at, 0.8, INK)


def terminal(svg: Svg, at: Point, sign: str, left: bool = True) -> None:
    """A terminal with its sign beside it."""
    svg.circle(*at, 1.0, PAPER, INK, LINE)
    svg.text(at[0] + (-2.2 if left else 2.2), at[1] + 0.36 * LARGE, sign, LARGE, "end" if left else "start", bold=True)


def resistor(svg: Svg, x: float, y: float) -> tuple[Point, Point]:
    """A box on a level wire from x on; answers its two ends."""
    svg.rect(x, y - HIGH / 2, LONG, HIGH, PAPER, INK, FIRM)
    return (x, y), (x + LONG, y)


def fuse(svg: Svg, x: float, y: float) -> tuple[Point, Point]:
    """A box with the wire going through."""
    ends = resistor(svg, x, y)
    wire(svg, *ends)
    return ends


def switch(svg: Svg, x: float, y: float) -> tuple[Point, Point]:
    """A contact that stands open."""
    svg.circle(x, y, 0.7, INK)
    svg.circle(x + 8, y, 0.7, INK)
    wire(svg, (x, y), (x + 7.2, y - 3.6))
    return (x, y), (x + 8, y)


def meter(svg: Svg, x: float, y: float, letter: str) -> tuple[Point, Point]:
    """A circle with its letter on a level wire, its left edge at x."""
    svg.circle(x + 4, y, 4, PAPER, INK, FIRM)
    svg.text(x + 4, y + 0.36 * LARGE, letter, LARGE, "middle", bold=True)
    return (x, y), (x + 8, y)


def coil(svg: Svg, x: float, y: float, long: float) -> tuple[Point, Point]:
    """Half circles down an upright wire from y on."""
    n, points = 4, list[Point]()
    r = long / n / 2
    for k in range(n):
        points += [(x + r * sin(pi * t / 12), y + (2 * k + 1) * r - r * cos(pi * t / 12)) for t in range(13)]
    svg.lines(points, INK, 0.6)
    return (x, y), (x, y + long)


def diode(svg: Svg, x: float, y: float) -> tuple[Point, Point]:
    """On an upright wire, its ring up: it lets current pass upwards only."""
    svg.lines([(x - 2.6, y + 4.5), (x + 2.6, y + 4.5), (x, y)], INK, FIRM, PAPER, closed=True)
    svg.lines([(x - 2.6, y), (x + 2.6, y)], INK, 0.7)
    return (x, y), (x, y + 4.5)


def box(svg: Svg, x: float, y: float, wide: float, high: float, *words: str) -> None:
    """A device with its words in it."""
    svg.rect(x, y, wide, high, PAPER, INK, FIRM)
    top = y + high / 2 - (len(words) - 1) * 0.65 * TEXT
    for k, line in enumerate(words):
        svg.text(x + wide / 2, top + 0.36 * TEXT + k * 1.3 * TEXT, line, TEXT, "middle", bold=k == 0)

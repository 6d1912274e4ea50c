"""Dimension lines, labels with leaders, and the scale bar, in the manner of a workshop drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from handwound.sheet.drawing.letters import text_width, wrap
from handwound.sheet.drawing.style import HAIR, INK, PAPER, SMALL, SOFT, TEXT, THIN
from handwound.sheet.drawing.svg import Point, Svg

ROW = 4.6
"""Distance between two dimension lines. [mm of paper]"""
ARROW = 1.5
TIGHT, WING = 2.4 * ARROW, 1.6 * ARROW
"""Height up to which a dimension along has its arrows outside, and how far they reach out. [mm of paper]"""
LEADING = 1.25


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float = math.inf) -> list[float]:
    """Middles for things in a row, each as near as it can be to where it is wanted; none overlap.

    The row keeps its order and begins no lower than ``low``; it ends at ``high`` where it can.
    """
    placed = _pushed(wanted, sizes, low)
    if not placed or placed[-1] + sizes[-1] / 2 <= high:
        return placed
    # seen from the other end, ``high`` is the end that holds; what has no room at all runs over it
    start = -max(high, low + sum(sizes))
    turned = _pushed([-middle for middle in reversed(placed)], list(reversed(sizes)), start)
    return [-middle for middle in reversed(turned)]


def _pushed(wanted: Sequence[float], sizes: Sequence[float], low: float) -> list[float]:
    """Things that touch move together as one block about the mean of what they want."""
    blocks: list[tuple[float, float, list[int]]] = []  # sum of wanted starts, length, members
    for k, (middle, size) in enumerate(zip(wanted, sizes, strict=True)):
        blocks.append((middle - size / 2, size, [k]))
        while len(blocks) > 1 and _start(blocks[-2], low) + blocks[-2][1] > _start(blocks[-1], low):
            total, length, members = blocks.pop()
            before, reach, first = blocks.pop()
            blocks.append((before + total - reach * len(members), reach + length, first + members))
    placed = []
    for block in blocks:
        at = _start(block, low)
        for k in block[2]:
            placed.append(at + sizes[k] / 2)
            at += sizes[k]
    return placed


def _start(block: tuple[float, float, list[int]], low: float) -> float:
    return max(low, block[0] / len(block[2]))


def across(svg: Svg, x1: float, x2: float, y: float, text: str, ends: tuple[float, float], size: float = SMALL) -> None:
    """A dimension from x1 to x2 at height y, its text on the line; ``ends`` are where its extension lines begin."""
    _extension(svg, x1, ends[0], x1, y)
    _extension(svg, x2, ends[1], x2, y)
    inside = text_width(text, size) + 2 * ARROW + 1.5 < x2 - x1
    if inside:
        svg.lines([(x1, y), (x2, y)], SOFT, HAIR)
        _arrows(svg, (x1, y), (x2, y), 1)
        svg.text((x1 + x2) / 2, y + 0.36 * size, text, size, "middle", boxed=True)
    else:
        svg.lines([(x1 - 2 * ARROW, y), (x2 + 2 * ARROW, y)], SOFT, HAIR)
        _arrows(svg, (x1, y), (x2, y), -1)
        svg.text(x1 - 2 * ARROW - 0.8, y + 0.36 * size, text, size, "end", boxed=True)


def along(svg: Svg, y1: float, y2: float, x: float, text: str, x_end: float, y_text: float) -> None:
    """A dimension from y1 down to y2 at x, its text left of it at ``y_text``; extension lines begin at ``x_end``."""
    _extension(svg, x_end, y1, x, y1)
    _extension(svg, x_end, y2, x, y2)
    out = 0.0 if y2 - y1 > TIGHT else WING
    svg.lines([(x, y1 - out), (x, y2 + out)], SOFT, HAIR)
    _arrows(svg, (x, y1), (x, y2), -1 if out else 1)
    middle = (y1 + y2) / 2
    if abs(y_text - middle) > 0.2:
        svg.lines([(x, middle), (x - 1.2, y_text)], SOFT, HAIR)
    svg.text(x - 1.4, y_text + 0.36 * SMALL, text, SMALL, "end")


def _extension(svg: Svg, x1: float, y1: float, x2: float, y2: float) -> None:
    if (x1, y1) == (x2, y2):
        return
    over = 0.8
    dx, dy = (over if x2 > x1 else -over if x2 < x1 else 0.0), (over if y2 > y1 else -over if y2 < y1 else 0.0)
    svg.lines([(x1 + dx, y1 + dy), (x2 + dx, y2 + dy)], SOFT, HAIR)


def _arrows(svg: Svg, one: Point, two: Point, way: int) -> None:
    flat = one[1] == two[1]
    for (x, y), side in ((one, way), (two, -way)):
        back, wide = side * ARROW, 0.35
        wings = ((x + back, y - wide), (x + back, y + wide)) if flat else ((x - wide, y + back), (x + wide, y + back))
        svg.lines([(x, y), *wings], "none", THIN, SOFT, closed=True)


@dataclass(frozen=True)
class Label:
    """A name with its words at the end of a leader. The leader may begin anywhere between the two heights."""

    name: str
    words: str
    x: float
    y_hi: float
    y_lo: float

    def lines(self, width: float) -> list[list[tuple[float, str, bool]]]:
        """Its lines as runs of (place across, text, whether it is the name)."""
        name = wrap(self.name, TEXT, width, bold=True)
        reached = text_width(name[-1], TEXT, bold=True) + 1.4
        first, *words = wrap(self.words, SMALL, width, indent=reached)
        lines = [[(0.0, line, True)] for line in name]
        if first:
            lines[-1].append((reached, first, False))
        return lines + [[(0.0, line, False)] for line in words]

    def height(self, width: float) -> float:
        """Height on paper, with the air below it. [mm]"""
        return LEADING * TEXT * len(self.lines(width)) + 1.3


def labels(svg: Svg, column: Sequence[Label], x: float, span: tuple[float, float], width: float) -> float:
    """Labels one below the other, beside their parts, within ``span`` where they can; answers where they end. [mm]"""
    heights = [label.height(width) for label in column]
    middles = spread([(label.y_hi + label.y_lo) / 2 for label in column], heights, *span)
    for label, middle, height in zip(column, middles, heights, strict=True):
        svg.remember(label.name, label.words)
        hook = middle - height / 2 + 0.8 * TEXT
        margin = 0.2 * (label.y_lo - label.y_hi)
        start = min(max(hook, label.y_hi + margin), label.y_lo - margin)
        for colour, line in ((PAPER, 4 * THIN), (INK, HAIR)):
            svg.lines([(label.x, start), (x - 2.2, hook), (x - 0.8, hook)], colour, line)
        svg.circle(label.x, start, 0.45, INK)
        for k, runs in enumerate(label.lines(width)):
            for shift, text, is_name in runs:
                size, colour = (TEXT, INK) if is_name else (SMALL, SOFT)
                svg.text(x + shift, hook + 0.36 * TEXT + k * LEADING * TEXT, text, size, bold=is_name, fill=colour)
    return max((m + h / 2 for m, h in zip(middles, heights, strict=True)), default=span[0])


def scale_bar(svg: Svg, x: float, y: float, length: float, words: str) -> None:
    """A bar of ``length`` millimetres of paper in ten parts, alternately filled, with its words below."""
    with svg.group("scale-bar"):
        for k in range(10):
            svg.rect(x + k * length / 10, y, length / 10, 1.4, INK if k % 2 == 0 else PAPER)
        svg.rect(x, y, length, 1.4, stroke=INK, line=THIN)
        svg.text(x, y + 1.4 + 1.3 * SMALL, words, SMALL)

"""Templates on pages of paper at true size: small ones together, large ones turned or parted into tiles."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from handwound.sheet.drawing.svg import Svg
from handwound.sheet.said import Said, joined, say
from handwound.sheet.template.bar import BAR, bar
from handwound.sheet.template.label import label
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import moved, reach, turned
from handwound.sheet.template.strokes import draw
from handwound.sheet.template.tiles import tiled

WIDTH = 180.0
HEIGHT = {"a4": 250.0, "us-letter": 232.0}
"""What every printer reaches of a paper, with room for the head of the page. [mm] Common practice, no source."""
GAP = 5.0
"""Between two templates, and round each. [mm]"""
MM = 1e3
TURNS = (0, 90, *(k * 15 for k in range(1, 12) if k != 6))
"""Angles at which a template is tried that does not fit as it is. [°]"""


@dataclass(frozen=True)
class Page:
    """One page at true size: a drawing in millimetres, its title, the keys of the templates on it."""

    svg: str
    title: str
    keys: tuple[str, ...]


class Placed(NamedTuple):
    """A template as it lies on the paper, and how far it reaches there. [mm]"""

    template: Template
    width: float
    height: float


@dataclass
class Shelf:
    """Templates side by side."""

    y: float
    height: float
    x: float = 0.0


@dataclass
class Sheet:
    """A page that is being filled: shelves from the top down."""

    shelves: list[Shelf] = field(default_factory=list)
    placed: list[tuple[Placed, float, float]] = field(default_factory=list)


def pages(
    templates: Sequence[Template], paper: str, width_mm: float = WIDTH, height_mm: float | None = None
) -> tuple[Page, ...]:
    """All templates on as few pages as simple shelves need; what is larger than a page comes last, in tiles."""
    height = HEIGHT[paper] if height_mm is None else height_mm
    room = width_mm, height - BAR
    fitting, large = [], []
    for template in templates:
        placed = _fitted(template, *room)
        if placed is None:
            large.append(template)
        else:
            fitting.append(placed)
    done = [_page(sheet, width_mm, height) for sheet in _shelved(fitting, *room)]
    for template in large:
        name = label(template.name, template.operation, template.count)
        for k, n, svg in tiled(template, width_mm, height):
            title = say("Cut out, true size: {name}, tile {k} of {n}", name=name, k=str(k), n=str(n))
            done.append(Page(svg, title, (template.key,)))
    return tuple(done)


def _fitted(template: Template, width: float, height: float) -> Placed | None:
    """As it is, else turned so that it fits; its lower left corner at the origin."""
    for angle in TURNS:
        found = turned(template, math.radians(angle)) if angle else template
        x, y, x_2, y_2 = reach(found)
        placed = Placed(moved(found, -x, -y), MM * (x_2 - x) + 2 * GAP, MM * (y_2 - y) + 2 * GAP)
        if placed.width <= width + 1e-9 and placed.height <= height + 1e-9:
            return placed
    return None


def _shelved(found: list[Placed], width: float, height: float) -> list[Sheet]:
    """The tallest first, each on the first shelf that has room for it."""
    sheets: list[Sheet] = []
    for placed in sorted(found, key=lambda each: -each.height):
        if not any(_put(sheet, placed, width, height) for sheet in sheets):
            sheets.append(Sheet())
            _put(sheets[-1], placed, width, height)
    return sheets


def _put(sheet: Sheet, placed: Placed, width: float, height: float) -> bool:
    for shelf in sheet.shelves:
        if shelf.x + placed.width <= width + 1e-9 and placed.height <= shelf.height + 1e-9:
            sheet.placed.append((placed, shelf.x, shelf.y))
            shelf.x += placed.width
            return True
    top = sum(shelf.height for shelf in sheet.shelves)
    if top + placed.height > height + 1e-9:
        return False
    sheet.shelves.append(Shelf(top, placed.height, placed.width))
    sheet.placed.append((placed, 0.0, top))
    return True


def _page(sheet: Sheet, width: float, height: float) -> Page:
    names = list(_names(sheet))
    title = say("Cut out, true size: {names}", names=joined("; ", names))
    svg = Svg(width, height, title)
    for placed, x, y in sheet.placed:
        draw(svg, placed.template, x + GAP, y + placed.height - GAP)
    bar(svg, height)
    keys = tuple(placed.template.key for placed, _, _ in sheet.placed)
    return Page(str(svg), title, keys)


def _names(sheet: Sheet) -> Iterator[Said]:
    return (label(placed.template.name, placed.template.operation) for placed, _, _ in sheet.placed)

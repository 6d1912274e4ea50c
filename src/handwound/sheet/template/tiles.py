"""A template larger than the paper, parted into tiles that overlap, with marks to join them and a map of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product

from handwound.sheet.drawing.style import FIRM, HAIR, SMALL
from handwound.sheet.drawing.svg import Svg
from handwound.sheet.said import Said, say
from handwound.sheet.template.bar import BAR, bar
from handwound.sheet.template.label import label
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import corners_of, moved, points, reach, turned
from handwound.sheet.template.strokes import BLACK, draw, write

OVERLAP = 10.0
"""How far a tile reaches over the next. [mm]"""
MAP = 16.0
"""More height for the map of the tiles, beside the bar. [mm]"""
ROUND = 4.0
"""Left round the whole. [mm]"""
ARM = 3.0
"""Half the size of a cross to join by. [mm]"""
MM = 1e3


@dataclass(frozen=True)
class Grid:
    """The tiles over the whole: ``nx`` by ``ny`` of ``wide`` by ``high``, each a step from the next. [mm]

    Those in ``empty``, by column and row, hold nothing and are not printed.
    """

    nx: int
    ny: int
    wide: float
    high: float
    empty: frozenset[tuple[int, int]] = frozenset()

    def corner(self, column: int, row: int) -> tuple[float, float]:
        """Left upper corner of a tile; rows count downwards."""
        return column * (self.wide - OVERLAP), row * (self.high - OVERLAP)

    @property
    def tiles(self) -> list[tuple[int, int]]:
        """Columns and rows of the tiles that are printed, as they are read."""
        every = ((column, row) for row, column in product(range(self.ny), range(self.nx)))
        return [tile for tile in every if tile not in self.empty]

    def joins(self) -> list[tuple[str, float, float]]:
        """Letters and places of the crosses, each in the overlap of two tiles, two for each pair of neighbours."""
        found = []
        for column, row in self.tiles:
            x, y = self.corner(column, row)
            if (column + 1, row) in self.tiles:
                found += [(x + self.wide - OVERLAP / 2, y + self.high * share) for share in (0.25, 0.75)]
            if (column, row + 1) in self.tiles:
                found += [(x + self.wide * share, y + self.high - OVERLAP / 2) for share in (0.25, 0.75)]
        return [(_letters(k), x, y) for k, (x, y) in enumerate(found)]


def tiled(template: Template, width: float, height: float) -> Iterator[tuple[int, int, str]]:
    """Number of the tile, how many there are, the page. [mm]"""
    room = width, height - BAR - MAP
    whole = min((_at_origin(turned(template, angle)) for angle in (0.0, math.pi / 2)), key=lambda t: _count(t, *room))
    grid = grid_of(whole, *room)
    for k, (column, row) in enumerate(grid.tiles):
        yield k + 1, len(grid.tiles), _tile(whole, grid, k, width, height, *grid.corner(column, row))


def grid_of(whole: Template, wide: float, high: float) -> Grid:
    """The tiles that hold a template whose left lower corner is the origin. [mm]"""
    _, _, x, y = (MM * each for each in reach(whole))
    grid = Grid(_tiles(x, wide), _tiles(y, high), wide, high)
    drawn = [(ROUND + MM * at_x, ROUND + y - MM * at_y) for at_x, at_y in _drawn(whole)]
    return replace(grid, empty=frozenset(tile for tile in grid.tiles if not _holds(grid, tile, drawn)))


def _drawn(whole: Template) -> Iterator[tuple[float, float]]:
    """Points all along the lines and the texts of a template, a millimetre apart or less. [m]"""
    ways = [(points(line, 1e-4), line.closed) for line in whole.lines]
    for at, closed in (*ways, *((corners_of(words), True) for words in whole.words)):
        for (x, y), (x_2, y_2) in pairwise([*at, at[0]] if closed else at):
            n = max(1, math.ceil(MM * math.dist((x, y), (x_2, y_2))))
            yield from ((x + (x_2 - x) * k / n, y + (y_2 - y) * k / n) for k in range(n + 1))


def _holds(grid: Grid, tile: tuple[int, int], drawn: list[tuple[float, float]]) -> bool:
    """Whether anything is drawn on a tile, or within a millimetre of it. [mm]"""
    x, y = grid.corner(*tile)
    return any(-1 <= at_x - x <= grid.wide + 1 and -1 <= at_y - y <= grid.high + 1 for at_x, at_y in drawn)


def _tiles(size: float, tile: float) -> int:
    return max(1, math.ceil((size + 2 * ROUND - OVERLAP) / (tile - OVERLAP) - 1e-9))


def _count(whole: Template, wide: float, high: float) -> int:
    return len(grid_of(whole, wide, high).tiles)


def _at_origin(template: Template) -> Template:
    x, y, _, _ = reach(template)
    return moved(template, -x, -y)


def _letters(k: int) -> str:
    """A ... Z, A1 ... Z1, A2 ..."""
    turn, letter = divmod(k, 26)
    return chr(ord("A") + letter) + (str(turn) if turn else "")


def _tile(whole: Template, grid: Grid, k: int, width: float, height: float, left: float, top: float) -> str:
    """One page: what of the whole lies on it, its joins, the bar and the map."""
    name = label(whole.name, whole.operation, whole.count)
    title = say("{name}, tile {k} of {n}", name=name, k=str(k + 1), n=str(len(grid.tiles)))
    page = Svg(width, height, title)
    _, _, _, y_top = reach(whole)
    with page.clipped(0, 0, grid.wide, grid.high):
        draw(page, whole, ROUND - left, ROUND + MM * y_top - top)
    page.rect(0.07, 0.07, grid.wide - 0.14, grid.high - 0.14, stroke=BLACK, line=HAIR)
    with page.group("joins"):
        for letter, x, y in grid.joins():
            if ARM <= x - left <= grid.wide - ARM and ARM <= y - top <= grid.high - ARM:
                _join(page, letter, x - left, y - top)
    bar(page, height)
    _map(page, whole, grid, k, width, height, title)
    return str(page)


def _join(page: Svg, letter: str, x: float, y: float) -> None:
    page.lines([(x - ARM, y), (x + ARM, y)], stroke=BLACK, line=HAIR)
    page.lines([(x, y - ARM), (x, y + ARM)], stroke=BLACK, line=HAIR)
    write(page, x + 1.7, y - 1.7, letter, SMALL)


def _map(page: Svg, whole: Template, grid: Grid, k: int, width: float, height: float, title: Said) -> None:
    """The whole, small, with all tiles and their numbers; this one has a firm frame."""
    all_wide, all_high = (end + size for end, size in zip(grid.corner(grid.nx - 1, grid.ny - 1), (grid.wide, grid.high),
                                                          strict=True))  # fmt: skip
    scale = min(50.0 / all_wide, (BAR + MAP - 3) / all_high)
    x_0, y_0 = width - 1 - scale * all_wide, height - 1 - scale * all_high
    _, _, _, y_top = reach(whole)
    with page.group("map"):
        for line in whole.lines:
            if line.role == "cut":
                way = [(x_0 + scale * (ROUND + MM * x), y_0 + scale * (ROUND + MM * (y_top - y))) for x, y in
                       points(line, 5e-4)]  # fmt: skip
                page.lines(way, stroke=BLACK, line=HAIR, closed=line.closed)
        for tile in grid.empty:
            x, y = (scale * each for each in grid.corner(*tile))
            x, y, x_2, y_2 = x_0 + x, y_0 + y, x_0 + x + scale * grid.wide, y_0 + y + scale * grid.high
            page.lines([(x, y), (x_2, y_2)], stroke=BLACK, line=HAIR)
            page.lines([(x, y_2), (x_2, y)], stroke=BLACK, line=HAIR)
        for n, (column, row) in enumerate(grid.tiles):
            x, y = (scale * each for each in grid.corner(column, row))
            firm = FIRM if n == k else HAIR
            page.rect(x_0 + x, y_0 + y, scale * grid.wide, scale * grid.high, stroke=BLACK, line=firm)
            number = x_0 + x + scale * grid.wide / 2, y_0 + y + scale * grid.high / 2
            write(page, *number, str(n + 1), min(SMALL, 0.5 * scale * grid.high))
        write(page, 0, height - BAR - MAP + 5, title, SMALL + 0.4, anchor="start")
        words = say("Lay cross on cross, the same letter on the same; tape or glue, then cut.")
        write(page, 0, height - BAR - MAP + 10, words, SMALL + 0.4, anchor="start")

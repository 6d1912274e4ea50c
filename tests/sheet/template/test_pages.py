"""Pages at true size, measured in their SVG by a parser of others: the bar, the sizes, the tiles and their joins."""

from __future__ import annotations

import math
import re
from collections import Counter
from io import StringIO
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG, Circle, Path, Shape

from handwound.sheet.template.cone import developed, sector
from handwound.sheet.template.outline import Template, Words, circle
from handwound.sheet.template.pages import HEIGHT, Page, pages
from handwound.sheet.template.shape import points, rectangle
from handwound.sheet.template.templates import templates
from handwound.sheet.template.tiles import OVERLAP, grid_of
from tests.sheet import demo
from tests.sheet.demo import MM

G = "{http://www.w3.org/2000/svg}g"
PX = 96 / 25.4
"""The parser's pixels in a millimetre."""


def plain(width: float, height: float, key: str = "plate") -> Template:
    return Template(key, "Plate", "card", "DI", (rectangle(width * MM, height * MM),), (Words(0, 0, "Plate"),))


def group(page: Page, kind: str) -> list[ElementTree.Element]:
    return [each for each in ElementTree.fromstring(page.svg).iter(G) if each.get("class") == kind]


def ends(path: ElementTree.Element) -> tuple[float, ...]:
    return tuple(float(each) for each in re.findall(r"-?[\d.]+", path.get("d", "")))


def lengths(page: Page) -> list[float]:
    """How long each line is that is not the bar's. [mm]"""
    return [
        each.length(error=1e-7) / PX if isinstance(each, Circle) else Path(each).length() / PX
        for each in SVG.parse(StringIO(page.svg)).elements()
        if isinstance(each, Shape)
    ]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("scale", [1.0, 3.0])
def test_every_page_has_a_bar_of_100_mm(paper, scale) -> None:
    for page in pages(templates(*demo.job(scale)), paper):
        root = ElementTree.fromstring(page.svg)
        assert root.get("width") == "180mm" and root.get("height") == f"{HEIGHT[paper]:g}mm"
        assert root.get("viewBox") == f"0 0 180 {HEIGHT[paper]:g}"  # so that one unit is one millimetre
        (bar,) = group(page, "bar")
        crossed = [ends(each) for each in bar if each.tag.endswith("path")][1:]
        assert crossed[-1][0] - crossed[0][0] == pytest.approx(100.0, abs=1e-3)
        words = " ".join(each.text or "" for each in bar)
        assert "100 %" in words and "fit to page" in words and "ruler" in words


def test_a_circle_and_a_strip_are_true_to_size() -> None:
    ring = Template("ring", "Ring", "card", "DI", (circle(97.3 * MM),), ())
    page, *more = pages([ring, plain(80.9, 24.0)], "a4")
    found = lengths(page)
    assert not more
    # closed forms: the way round a circle and round a rectangle
    assert min(abs(each - math.pi * 97.3) for each in found) < 1e-2
    assert min(abs(each - 2 * (80.9 + 24.0)) for each in found) < 1e-2


def test_a_sector_with_its_arcs_is_true_to_size() -> None:
    flat = developed(20 * MM, 80 * MM, 40 * MM)
    (page,) = pages([sector(flat, 0.0, "card")], "a4")
    # closed form: both rims keep their length, pi d, and the two ends are 50 mm each
    assert min(abs(each - (math.pi * 100 + 2 * 50)) for each in lengths(page)) < 2e-2


def test_every_template_is_on_a_page_once_or_in_tiles() -> None:
    made = templates(*demo.job(2.0))
    found = Counter(key for page in pages(made, "a4") for key in page.keys)
    assert found.keys() == {each.key for each in made}
    tiled = {key for key, count in found.items() if count > 1}
    assert tiled >= {"surround", "frame-rim"} and all(found[key] == 1 for key in found.keys() - tiled)


def test_nothing_on_a_shared_page_lies_on_something_else() -> None:
    made = [plain(w, h, f"{w}x{h}") for w in (20, 45, 80) for h in (15, 30, 70)]
    for page in pages(made, "us-letter"):
        shapes = [
            each for each in SVG.parse(StringIO(page.svg)).elements() if isinstance(each, Path) and each.d()[-1] in "zZ"
        ]
        boxes = [np.array(each.bbox()) / PX for each in shapes]
        assert len(boxes) == len(page.keys)
        for k, a in enumerate(boxes):
            assert a[0] >= 0 and a[1] >= 0 and a[2] <= 180 and a[3] <= HEIGHT["us-letter"] - 16
            for b in boxes[:k]:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_what_fits_only_turned_is_turned() -> None:
    for width, height in ((200, 50), (215, 20)):
        assert len(pages([plain(width, height)], "a4")) == 1
    # closed form: at 45 degrees 250 x 5 mm takes 180 mm and a little more; it goes steeper
    assert len(pages([plain(250, 5)], "a4")) == 1


@settings(max_examples=40)
@given(st.floats(1.0, 2500.0), st.floats(1.0, 2500.0))
def test_every_point_of_a_large_template_is_on_a_tile(width, height) -> None:
    plate = plain(width, height)
    grid = grid_of(Template("p", "p", "card", "DI", plate.lines), 180.0, 218.0)
    corners = np.array(points(plate.lines[0]))
    share = np.linspace(0, 1, 200)[:, None]
    edges = zip(corners, np.roll(corners, -1, axis=0), strict=True)
    at = 4.0 + 1e3 * np.vstack([start + (end - start) * share for start, end in edges])
    on = np.zeros(len(at), bool)
    for tile in grid.tiles:
        x, y = grid.corner(*tile)
        on |= (at[:, 0] >= x) & (at[:, 0] <= x + grid.wide) & (at[:, 1] >= y) & (at[:, 1] <= y + grid.high)
    assert on.all()
    # by hand: of a rectangle's edge only the tiles within all others are without a line
    within = {(column, row) for column in range(1, grid.nx - 1) for row in range(1, grid.ny - 1)}
    assert grid.empty <= within
    near = sum((column + 1, row) in grid.tiles for column, row in grid.tiles)
    near += sum((column, row + 1) in grid.tiles for column, row in grid.tiles)
    letters = [letter for letter, _, _ in grid.joins()]
    assert len(set(letters)) == len(letters) == 2 * near


def test_a_tile_that_holds_no_line_is_not_printed() -> None:
    ring = Template("ring", "Ring", "card", "SU", (circle(900 * MM, x=450 * MM, y=450 * MM),), ())
    made, grid = pages([ring], "a4"), grid_of(ring, 180.0, 218.0)
    assert len(made) == len(grid.tiles) == grid.nx * grid.ny - len(grid.empty) and grid.empty
    assert all(f"tile {k + 1} of {len(made)}" in page.title for k, page in enumerate(made))
    # closed form: how near to the middle of a circle a rectangle comes, and how far from it
    for column, row in grid.empty:
        x, y = grid.corner(column, row)
        far = [max(abs(low - 454), abs(low + size - 454)) for low, size in ((x, grid.wide), (y, grid.high))]
        near = [max(low - 454, 454 - low - size, 0) for low, size in ((x, grid.wide), (y, grid.high))]
        assert math.hypot(*far) < 450 or math.hypot(*near) > 450
    assert set(Counter(letter for page in made for letter in joins(page)).values()) == {2}
    # the map shows each of them crossed: two more lines than the ring's own, beside a frame for each that is printed
    (found,) = group(made[0], "map")
    assert sum(each.tag.endswith("rect") for each in found) == len(made)
    assert sum(each.tag.endswith("path") for each in found) == 1 + 2 * len(grid.empty)


def joins(page: Page) -> dict[str, tuple[float, float]]:
    """Where the crosses are, by their letters. [mm]"""
    (found,) = group(page, "joins")
    texts = [each.text for each in found if each.tag.endswith("text")]
    crosses = [ends(each) for each in found if each.tag.endswith("path")][::2]
    return {text: ((x + x_2) / 2, y) for text, (x, y, x_2, _) in zip(texts, crosses, strict=True)}


def test_tiles_laid_cross_on_cross_make_the_whole() -> None:
    ring = Template("ring", "Ring", "card", "SU", (circle(400 * MM),), ())
    made = pages([ring], "a4")
    assert len(made) == 6
    # each tile is laid on those before it by one cross; the other cross and the ring itself then fall together
    shift, known = {0: np.zeros(2)}, {letter: np.array(at) for letter, at in joins(made[0]).items()}
    for k, page in enumerate(made[1:], start=1):
        shared = [letter for letter in joins(page) if letter in known]
        assert len(shared) >= 2
        shift[k] = known[shared[0]] - joins(page)[shared[0]]
        for letter, at in joins(page).items():
            assert known.setdefault(letter, at + shift[k]) == pytest.approx(at + shift[k], abs=2e-3)
    middles = []
    for k, page in enumerate(made):
        (at,) = re.findall(r'<circle cx="(-?[\d.]+)" cy="(-?[\d.]+)" r="200"', page.svg)
        middles.append(np.array(at, float) + shift[k])
    assert np.ptp(middles, axis=0) == pytest.approx([0, 0], abs=2e-3)
    assert all(f"tile {k + 1} of 6" in page.title for k, page in enumerate(made))
    assert all(len(group(page, "map")) == 1 for page in made)


def test_joins_lie_in_the_overlap_of_the_tiles_that_carry_them() -> None:
    made = pages([plain(500, 600)], "us-letter")
    carried = Counter(letter for page in made for letter in joins(page))
    assert set(carried.values()) == {2}
    for page in made:
        for x, y in joins(page).values():
            near = min(x, 180 - x, y, HEIGHT["us-letter"] - 32 - y)
            assert near == pytest.approx(OVERLAP / 2, abs=1e-3)


def test_equal_templates_make_equal_pages() -> None:
    made = templates(*demo.job(2.5))
    assert pages(made, "a4") == pages(made, "a4")


def test_pages_are_black_only() -> None:
    for page in pages(templates(*demo.job(2.5)), "a4"):
        found = set(re.findall(r"#[0-9a-fA-F]{6}", page.svg))
        assert found == {"#000000"}


def test_silly_sizes_still_come_on_paper() -> None:
    assert len(pages([plain(0.5, 0.5)], "a4")) == 1
    assert len(pages([plain(3000, 2)], "a4")) > 10
    assert pages([], "a4") == ()

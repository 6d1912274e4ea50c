"""The picture of the field: its lines where they were given, its tints and words by the state of each part."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from handwound.parts.prediction import IronState
from handwound.sheet.drawing.field_picture import TINT, flux_picture
from tests.sheet import demo
from tests.sheet.drawing import SVG, parsed, part

DESIGN, _, MADE = demo.job()


def drawn(lines, states=MADE.curves.iron):
    return parsed(flux_picture(DESIGN, lines, states))


def test_a_line_runs_where_it_was_given() -> None:
    """The corners of the pole's right half, given as a line, must fall on the pole's own rectangle."""
    z_lo, z_hi = DESIGN.iron.levels()["pole, bar"]
    corners = np.array([[0.0125, z_lo], [0.0125, z_hi]])
    root = drawn([corners])
    (pole,) = part(root, "pole, bar")
    right, left = (
        [tuple(map(float, pair)) for pair in re.findall(r"([-\d.]+) ([-\d.]+)", path.get("d"))]
        for path in root.find(f"{SVG}g[@class='flux']").iter(f"{SVG}path")
    )
    assert right[0] == pytest.approx((pole.x + pole.width, pole.y + pole.height), abs=0.002)
    assert right[1] == pytest.approx((pole.x + pole.width, pole.y), abs=0.002)
    assert left == [pytest.approx((pole.x, y), abs=0.002) for _, y in right]


def test_every_line_is_drawn_on_both_sides_within_the_window() -> None:
    root = drawn(MADE.curves.flux_lines)
    flux = root.find(f"{SVG}g[@class='flux']")
    assert len(list(flux.iter(f"{SVG}path"))) == 2 * len(MADE.curves.flux_lines)
    assert flux.find(f"{SVG}g").get("clip-path") == "url(#clip1)"


@pytest.mark.parametrize("word", TINT)
def test_a_part_has_the_tint_and_the_word_of_its_state(word) -> None:
    root = drawn([], (IronState(name="pipe", B_s=1.234, word=word),))
    grounds = [r for r in root.iter(f"{SVG}rect") if r.get("fill") == TINT[word]]
    pipe = part(root, "pipe")
    assert {(float(g.get("x")), float(g.get("width"))) for g in grounds} >= {(box.x, box.width) for box in pipe}
    words = " ".join(item.text for item in root.iter(f"{SVG}text"))
    assert f"1.23 T, {word}" in words and "pipe" in words and "top plate" not in words


def test_the_tints_differ_in_grey() -> None:
    """Weights of ITU-R BT.709 (from memory): a laser printer must keep full iron apart from iron with room."""

    def grey(colour: str) -> float:
        return sum(w * int(colour[k : k + 2], 16) for w, k in ((0.2126, 1), (0.7152, 3), (0.0722, 5))) / 255

    assert grey(TINT["unsaturated"]) - grey(TINT["knee"]) > 0.05
    assert grey(TINT["knee"]) - grey(TINT["saturated"]) > 0.15


def test_words_beside_a_flat_motor_are_not_cut_off() -> None:
    """Geometry: every line of words stands above the lower edge of the picture, however flat the motor."""
    flat = tuple(replace(ring, t=ring.t / 12) for ring in DESIGN.iron.rings)
    design = replace(DESIGN, iron=replace(DESIGN.iron, rings=flat))
    svg = flux_picture(design, (), MADE.curves.iron)
    height = float(re.findall(r'viewBox="0 0 \S+ (\S+)"', svg)[0])
    texts = [float(y) for y in re.findall(r'<text[^>]* y="([\d.]+)"', svg)]
    assert len(texts) >= 4 and max(texts) < height - 0.3

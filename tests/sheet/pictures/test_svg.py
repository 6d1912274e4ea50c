"""The writer of SVG: what it writes is XML that says what was drawn."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.sheet.drawing.svg import Svg, number, printable

SVG = "{http://www.w3.org/2000/svg}"


def drawn(svg: Svg) -> ElementTree.Element:
    return ElementTree.fromstring(str(svg))


@pytest.mark.parametrize("text", ['x <"&> y', "</text>", "a & b ' c", "Ω ⌀ ² äöü", "#let $a_b$ *c* @d \\ `e`"])
def test_text_comes_back_as_written(text) -> None:
    svg = Svg(100, 50, text)
    svg.text(1, 2, text, boxed=True)
    root = drawn(svg)
    assert root.find(f"{SVG}text").text == text
    assert root.find(f"{SVG}title").text == text


@given(st.text())
def test_any_text_gives_xml(text) -> None:
    svg = Svg(10, 10, text)
    svg.text(0, 0, text)
    svg.rect(0, 0, 1, 1, part=text)
    assert drawn(svg).find(f"{SVG}text").text in (printable(text), None if text == "" else printable(text))


def test_one_unit_is_one_millimetre() -> None:
    root = drawn(Svg(180, 95.5, "t"))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("180mm", "95.5mm", "0 0 180 95.5")


@given(st.floats(-1e4, 1e4))
def test_numbers_are_true_to_a_thousandth(value) -> None:
    assert abs(float(number(value)) - value) <= 0.000501
    assert "e" not in number(value) and number(value) != "-0"


@given(
    st.floats(0, 50), st.floats(0, 50), st.floats(0.5, 60), st.floats(0.5, 60), st.floats(0.5, 5), st.booleans()
)  # fmt: skip
def test_hatching_stays_inside_and_runs_at_45_degrees(x, y, width, height, step, rising) -> None:
    """Closed form: at 45 degrees dx = dy, and lines a step apart cut a box (w + h) / step times, give or take."""
    svg = Svg(200, 200, "t")
    svg.hatch(x, y, width, height, step, rising)
    path = drawn(svg).find(f"{SVG}path")
    ends = [] if path is None else re.findall(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", path.get("d"))
    assert abs(len(ends) - (width + height) / step) <= 1.5
    for x1, y1, x2, y2 in (map(float, end) for end in ends):
        assert x - 0.001 <= x1 <= x2 <= x + width + 0.001
        assert all(y - 0.002 <= each <= y + height + 0.002 for each in (y1, y2))
        assert (y1 - y2 if rising else y2 - y1) == pytest.approx(x2 - x1, abs=0.003)


def test_what_is_clipped_lies_in_its_group() -> None:
    svg = Svg(10, 10, "t")
    with svg.group("outer"), svg.clipped(1, 2, 3, 4):
        svg.circle(1, 1, 1)
    svg.circle(9, 9, 1)
    root = drawn(svg)
    inner = root.find(f"{SVG}g[@class='outer']/{SVG}g")
    assert inner.get("clip-path") == "url(#clip1)"
    assert len(inner) == 1 and len(root.findall(f"{SVG}circle")) == 1

"""The drawings for the bench: apart, by the clock, joined by wires, and one for each operation."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import combinations

import pytest

from handwound.language import Language, speaking
from handwound.parts.moving import Spider
from handwound.sheet.build.operations import operations
from handwound.sheet.build.order import sequence
from handwound.sheet.drawing.clock import at_hour, winding_clock
from handwound.sheet.drawing.exploded import exploded, rows
from handwound.sheet.drawing.polarity import polarity
from handwound.sheet.drawing.steps import DRAWN, picture
from handwound.sheet.drawing.wiring import wiring
from handwound.sheet.said import figures
from tests.sheet import demo
from tests.sheet.demo import FOAM, MM
from tests.sheet.drawing import SVG, parsed, texts

DESIGN, BRIEF, MADE = demo.job()
IN_SECTIONS = replace(DESIGN, voice_coil=replace(DESIGN.voice_coil, n_sec=2, connection="parallel"))
DRAWINGS = {
    "exploded": (exploded(DESIGN, MADE), 180, 235),
    "clock": (winding_clock(DESIGN, BRIEF, MADE), 180, 235),
    "clock of sections": (winding_clock(IN_SECTIONS, BRIEF, MADE), 180, 235),
    "wiring": (wiring(DESIGN, BRIEF, MADE), 180, 235),
    "wiring of sections": (wiring(IN_SECTIONS, replace(BRIEF, R_series=2.2), MADE), 180, 235),
    **{code: (svg, 84, 52) for code in DRAWN if (svg := picture(code, DESIGN, BRIEF, MADE))},
}
NUMBER = re.compile(r"\d+(?:\.\d+)?")


@pytest.mark.parametrize("name", DRAWINGS)
def test_texts_are_on_the_paper_large_enough_and_apart(name) -> None:
    svg, wide, high = DRAWINGS[name]
    root = parsed(svg)
    width, height = float(root.get("width")[:-2]), float(root.get("height")[:-2])
    assert width <= wide and height <= high
    boxes = texts(root)
    assert [f"{a.text} | {b.text}" for a, b in combinations(boxes, 2) if a.overlaps(b)] == []
    assert [b.text for b in boxes if b.x < 0 or b.y < 0 or b.x + b.width > width or b.y + b.height > height] == []
    small = [item.text for item in root.iter(f"{SVG}text") if float(item.get("font-size")) < 2.5]
    assert small == []


CONSTANTS = {"12", "3", "6", "9", "1", "2", "4", "5", "8", "7", "20", "100", "10", "5:30", "30"}
"""Hours, positions, steps, the resistor and the slow tone: constants of practice."""


@pytest.mark.parametrize("name", DRAWINGS)
def test_every_number_of_the_build_is_a_figure(name) -> None:
    svg = DRAWINGS[name][0]
    known = " ".join(figure.text for figure in figures(svg))
    names = [DESIGN.voice_coil.wire.name, BRIEF.amplifier.name, BRIEF.supply.name, DESIGN.diaphragm.sheet.name]
    sheets = [DESIGN.surround.sheet.name, *names]
    left = " ".join(box.text for box in texts(parsed(svg)))
    for each in sheets:
        left = left.replace(each, " ")
    numbers = set(NUMBER.findall(left)) - CONSTANTS
    assert {number for number in numbers if number not in NUMBER.findall(known)} == set()


def test_the_parts_apart_are_numbered_as_they_go_together() -> None:
    found = sorted(rows(DESIGN, MADE), key=lambda row: row.number)
    assert [row.number for row in found] == list(range(1, len(found) + 1))
    order = [step.name for step in sequence(DESIGN, MADE)]
    drawn = [row.name for row in found]
    assert drawn.index("pipe") < drawn.index("spool with the field coil") < drawn.index("top plate")
    assert order.index("pipe") < order.index("spool") < order.index("top plate")


def test_an_hour_is_where_a_clock_has_it() -> None:
    """Kind of truth: closed form; y runs down on the paper."""
    assert at_hour(0, 0, 1, 3) == pytest.approx((1, 0), abs=1e-12)
    assert at_hour(0, 0, 1, 6) == pytest.approx((0, 1), abs=1e-12)
    assert at_hour(0, 0, 1, 7) == pytest.approx((-math.sin(math.pi / 6), math.cos(math.pi / 6)))


def test_plus_and_minus_are_the_same_in_clock_and_wiring() -> None:
    way = polarity(DESIGN, MADE)
    for svg in (winding_clock(DESIGN, BRIEF, MADE), wiring(DESIGN, BRIEF, MADE)):
        words = [box.text for box in texts(parsed(svg))]
        assert words.count(f"{way.field} +") + words.count(f"{way.voice} +") == (4 if way.field == way.voice else 2)
        assert ("F −" in words) == ("S" in (way.field, way.voice))


def test_without_a_field_coil_only_the_voice_side_is_drawn() -> None:
    made = replace(MADE, field_winding=None, excitation=None, heat=None)
    design, brief = replace(DESIGN, field_coil=None), replace(BRIEF, supply=None, T_touch=None)
    words = [box.text for box in texts(parsed(wiring(design, brief, made)))]
    assert "Voice coil" in words and "Field coil" not in words and "A" not in words
    assert picture("FC", design, brief, made) is None and picture("EN", design, brief, made) is None


def test_each_picture_is_of_an_operation_or_of_one_that_other_builds_have() -> None:
    codes = {each.code for each in operations(DESIGN, BRIEF, MADE)}
    assert set(DRAWN) - codes <= {"MG"}


def test_drawings_speak_another_language() -> None:
    """Every message is looked up: with a catalogue of capitals none is left small but names and units."""

    class Shout(dict):
        def get(self, message, default=None):
            return re.sub(r"\{\w+\}|[^{]+", lambda m: m[0] if m[0][0] == "{" else m[0].upper(), message)

    with speaking(Language("xx", ",", Shout())):
        words = [box.text for box in texts(parsed(wiring(DESIGN, BRIEF, MADE)))]
    assert "FIELD COIL" in words and "SWITCH" in words


def test_a_spider_stands_between_coil_and_diaphragm_and_is_told_where_only_its_stiffness_is_known() -> None:
    sizes = Spider(form="pleats", sheet=FOAM, d_in=30 * MM, d_out=70 * MM, h_r=4 * MM, n_pleat=5)
    for part in (sizes, Spider(K_sp=300.0, m_sp=1e-3)):
        names = [row.name for row in rows(replace(DESIGN, spider=part), MADE)]
        assert names.index("former with the voice coil") + 1 == names.index("spider") == names.index("diaphragm") - 1
    drawing = parsed(exploded(replace(DESIGN, spider=part), MADE))
    assert "not drawn" in " ".join(box.text for box in texts(drawing))

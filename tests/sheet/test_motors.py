"""Every usual motor is drawn: iron, magnets and other metals told apart without colour, sloped sides where they are."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest

from handwound.files.arrangements import arrangements
from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing.gap import gap_picture
from handwound.sheet.drawing.section import cross_section
from handwound.sheet.drawing.shapes import gap
from tests.files import usual
from tests.sheet import demo
from tests.sheet.drawing import SVG, Box, parsed, part, texts

MM = 1e-3
NUMBER = re.compile(r"-?[\d.]+")


@pytest.fixture
def job(request, tmp_path) -> tuple[Design, Prediction]:
    """The motor of the how-to page with the coils, and the made up prediction, of the other drawings."""
    read = usual.read(usual.write(tmp_path, request.param))
    by_demo = demo.design()
    voice = replace(by_demo.voice_coil, x_0=read.voice_coil.x_0)
    field = read.field_coil and replace(read.field_coil, wire=demo.wire("reel", 0.5 * MM, 0.55 * MM), n_l=4)
    design = replace(read, voice_coil=voice, field_coil=field)
    made = demo.prediction(replace(by_demo, voice_coil=voice, field_coil=field or by_demo.field_coil), demo.brief())
    return design, made if field else replace(made, field_winding=None)


def corners(root: ElementTree.Element, name: str) -> list[list[tuple[float, float]]]:
    """The polygons of a part."""
    found = [path.get("d") for path in root.iter(f"{SVG}path") if path.get("data-part") == name]
    numbers = [[float(n) for n in NUMBER.findall(d)] for d in found]
    return [list(zip(n[::2], n[1::2], strict=True)) for n in numbers]


def hatches(root: ElementTree.Element, box: Box) -> set[int]:
    """In which ways a rectangle is hatched: 1 rising, -1 falling."""
    ways = set()
    for path in root.iter(f"{SVG}path"):
        if path.get("class") != "hatch":
            continue
        numbers = [float(n) for n in NUMBER.findall(path.get("d"))]
        lines = [numbers[k : k + 4] for k in range(0, len(numbers), 4)]
        x = [value for line in lines for value in line[::2]]
        y = [value for line in lines for value in line[1::2]]
        inside = box.x - 0.01 <= min(x) and max(x) <= box.x + box.width + 0.01
        if inside and box.y - 0.01 <= min(y) and max(y) <= box.y + box.height + 0.01:
            ways |= {1 if y_1 > y_2 else -1 for x_1, y_1, x_2, y_2 in lines}
    return ways


@pytest.mark.parametrize("job", arrangements(), indirect=True)
def test_no_text_lies_on_another_or_off_the_paper(job) -> None:
    for svg in (cross_section(*job), gap_picture(*job)):
        root, boxes = parsed(svg), texts(parsed(svg))
        width, height = float(root.get("width")[:-2]), float(root.get("height")[:-2])
        assert [f"{a.text} | {b.text}" for a, b in combinations(boxes, 2) if a.overlaps(b)] == []
        assert [b.text for b in boxes if b.x < 0 or b.y < 0 or b.x + b.width > width or b.y + b.height > height] == []


@pytest.mark.parametrize("job", arrangements(), indirect=True)
def test_every_ring_is_drawn_where_it_is(job) -> None:
    """Kind of truth: closed form, from the axis and the zero of the stack."""
    design, made = job
    root, levels = parsed(cross_section(design, made)), design.iron.levels()
    low, high = min(z for z, _ in levels.values()), max(z for _, z in levels.values())
    boxes = {ring.name: part(root, ring.name)[-1] for ring in design.iron.rings}
    top, bottom = min(b.y for b in boxes.values()), max(b.y + b.height for b in boxes.values())
    scale = (bottom - top) / (high - low)
    for ring in design.iron.rings:
        assert bottom - boxes[ring.name].y == pytest.approx(scale * (levels[ring.name][1] - low), abs=0.005)
        assert boxes[ring.name].height == pytest.approx(scale * ring.t, abs=0.005)
        width = ring.d_out if ring.d_in == 0 else (ring.d_out - ring.d_in) / 2
        assert boxes[ring.name].width == pytest.approx(scale * width, abs=0.005)


@pytest.mark.parametrize("job", ["ring magnet"], indirect=True)
def test_a_magnet_is_told_from_iron_and_copper_without_colour(job) -> None:
    """Iron is hatched one way, copper both, a magnet not at all: it has an arrow, and its letters."""
    root = parsed(cross_section(*job))
    ways = {name: hatches(root, part(root, name)[-1]) for name in ("top", "back", "pole", "magnet", "bucking")}
    assert {name: len(way) for name, way in ways.items()} == {"top": 1, "back": 1, "pole": 1, "magnet": 0, "bucking": 0}
    letters = {box.text: [] for box in texts(root) if box.text in "NS"}
    for box in texts(root):
        if box.text in letters:
            letters[box.text].append(box.y)
    (upper_n, lower_n), (upper_s, lower_s) = sorted(letters["N"]), sorted(letters["S"])
    assert upper_n < upper_s < lower_s < lower_n, "north in front; the bucking magnet behind is turned round"
    words = " ".join(item.text for item in root.iter(f"{SVG}text"))
    assert "Y30 magnet" in words and "copper" in words


@pytest.mark.parametrize("job", ["pot"], indirect=True)
def test_a_thick_metal_is_hatched_both_ways(job) -> None:
    design, made = job
    rings = tuple(replace(ring, grade="copper") if ring.name == "shell" else ring for ring in design.iron.rings)
    root = parsed(cross_section(replace(design, iron=replace(design.iron, rings=rings)), made))
    assert hatches(root, part(root, "shell")[-1]) == {1, -1}


@pytest.mark.parametrize("job", ["pot"], indirect=True)
def test_a_taper_and_a_countersink_are_drawn_as_they_are(job) -> None:
    """Kind of truth: closed form: 68 mm of back plate are the scale; the pole is 25 mm below and 24 above."""
    design, made = job
    sloped = {"pole": {"d_out_hi": 24 * MM}, "top": {"d_in_hi": 30 * MM}}
    rings = tuple(replace(ring, **sloped.get(ring.name, {})) for ring in design.iron.rings)
    cut = replace(design, iron=replace(design.iron, rings=rings))
    root = parsed(cross_section(cut, made))
    scale = part(root, "back")[0].width / 68
    ((left, low), (right, _), (right_hi, high), (left_hi, _)) = corners(root, "pole")[0]
    assert (right - left, right_hi - left_hi) == pytest.approx((25 * scale, 24 * scale), abs=0.005)
    assert low - high == pytest.approx(52 * scale, abs=0.005)
    (first, second), axis = corners(root, "top"), (left + right) / 2
    for side, half in ((1, first), (-1, second)):
        inner = sorted(side * (x - axis) for x, _ in half)[:2]
        assert inner == pytest.approx([14 * scale, 15 * scale], abs=0.005)
    # the plate begins 46 mm and one joint of 0.03 mm above the pole's foot: there the pole is widest beside it
    assert gap(cut, made).r_pole == pytest.approx((25 - 46.03 / 52) / 2 * MM, abs=1e-8)
    words = " ".join(item.text for item in root.iter(f"{SVG}text"))
    assert "hole ⌀28 to ⌀30" in words and "⌀25 to ⌀24" in words


@pytest.mark.parametrize("job", ["ring magnet"], indirect=True)
def test_copper_on_the_pole_is_not_called_the_pole(job) -> None:
    """Beside the plate it is the copper sleeve that the coil goes over, and it is hatched both ways in the lens."""
    design, made = job
    pole = next(ring for ring in design.iron.rings if ring.name == "pole")
    sleeve = replace(pole, name="sleeve", grade="copper", d_in=pole.d_out, d_out=pole.d_out + 0.2 * MM)
    sleeved = replace(design, iron=replace(design.iron, rings=(*design.iron.rings, sleeve)))
    air = gap(sleeved, made)
    assert (air.pole, air.inner, air.plate, air.outer) == ("sleeve", "metal", "plate", "iron")
    assert air.beside == "sleeve"

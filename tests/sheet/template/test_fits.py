"""Pieces and their sheets: what cannot be cut is refused with its operation."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from handwound.parts.design import Brief, Design
from handwound.parts.mounting import Back
from handwound.parts.moving import Cap, Ribs, Spider
from handwound.parts.prediction import Prediction
from handwound.sheet.build.operations import operations
from handwound.sheet.template import room
from handwound.sheet.template.fits import faults
from handwound.sheet.template.outline import Template, circle
from handwound.sheet.template.shape import rectangle, turned
from handwound.sheet.template.templates import templates
from tests.sheet import demo
from tests.sheet.demo import CARD, FOAM, MM


def found(width: float, length: float, count: int = 1, **changes: object) -> list[str]:
    return told(*job(width, length, count, **changes))


def told(design: Design, brief: Brief, prediction: Prediction) -> list[str]:
    titles = {each.code: each.title for each in operations(design, brief, prediction)}
    cut = templates(design, brief, prediction)
    assert {each.operation for each in cut} <= set(titles)
    return [str(fault) for fault in faults(cut, design, brief, titles)]


def job(width: float, length: float, count: int, **changes: object) -> tuple[Design, Brief, Prediction]:
    design, brief, prediction = demo.job()
    sheet = replace(CARD, width=width * MM, length=length * MM, count=count)
    cone, coil = replace(design.diaphragm, sheet=sheet), replace(design.voice_coil, former=sheet)
    return replace(design, diaphragm=cone, voice_coil=coil, **changes), brief, prediction


def title(code: str) -> str:
    """What the strip of an operation is called."""
    return next(each.title for each in operations(*demo.job()) if each.code == code)


def test_what_fits_is_not_refused() -> None:
    assert found(210.0, 297.0) == []


def test_sheets_of_which_no_size_is_known_refuse_nothing() -> None:
    assert told(*demo.job(6.0)) == []


def test_a_cone_wider_than_its_sheet_names_its_operation() -> None:
    (fault,) = found(80.0, 400.0)
    assert fault.startswith(f"operation DI, {title('DI')}: must be cut from card 160 g/m², 80 × 400 mm; found Cone, a")
    wide, long = (float(size) for size in re.search(r"Take a sheet of (\d+) × (\d+) mm or more", fault).groups())
    # the remedy is enough, with room for the strip of the former beside it; a little less is not
    assert found(wide, long + 30) == [] and any("Cone, a piece" in each for each in found(wide - 1.5, long - 1.5))


def test_a_long_strip_may_lie_across() -> None:
    # closed form: 80.9 x 24 mm lies at 45 degrees on a square of (80.9 + 24) / sqrt 2 = 74.2 mm, and on none smaller
    assert not any("found Former, a piece of" in fault for fault in found(75.0, 75.0))
    assert any("found Former, a piece of" in fault for fault in found(73.0, 73.0))


@pytest.mark.parametrize(("count", "refused"), [(1, True), (2, False)])
def test_all_pieces_of_a_sheet_together_need_its_area(count, refused) -> None:
    # closed form: a frustum, a cylinder and 30 strips; each piece lies on the sheet, all of them only on two
    design, brief, prediction = job(114.0, 115.0, count)
    ribs = Ribs(sheet=design.diaphragm.sheet, n_rib=30, h_rib=4 * MM, d_in=30 * MM, d_out=90 * MM)
    design = replace(design, diaphragm=replace(design.diaphragm, ribs=ribs))
    said = told(design, brief, prediction)
    area = math.pi * (51 + 12.95) * math.hypot(38.05, 18) + 80.9 * 24 + 30 * 4 * 30 * math.hypot(1, 18 / 38.05)
    assert (area > 114 * 115 * count) == refused
    assert bool(said) == refused and all("all its pieces together" in each for each in said)


def test_two_pieces_that_do_not_lie_on_one_sheet_need_a_second() -> None:
    # by hand: beside a cone of almost the whole sheet no blank of 61 mm lies, though the area would do
    sheet = replace(CARD, name="plate", width=106 * MM, length=106 * MM)
    design, brief, prediction = demo.job()
    cone = replace(design.diaphragm, sheet=sheet, d_in=30 * MM, d_out=102 * MM, h_c=3 * MM)
    design = replace(design, diaphragm=cone, cap=Cap(form="disc", sheet=sheet, d_out=61 * MM))
    area = math.pi * (51 + 15) * math.hypot(36, 3) + math.pi / 4 * 61**2
    assert area < 106**2
    (fault,) = told(design, brief, prediction)
    assert "do not lie on it together" in fault and "Find a second sheet of it, 61 × 61 mm or more." in fault
    two = replace(sheet, count=2)
    design = replace(design, diaphragm=replace(cone, sheet=two), cap=replace(design.cap, sheet=two))
    assert told(design, brief, prediction) == []


@pytest.mark.parametrize(("side", "lie"), [(102.5, True), (102.2, False)])
def test_two_rounds_lie_across_a_square(side, lie) -> None:
    # closed form: two circles of d in opposite corners of a square of d (1 + 1 / sqrt 2), 102.4 mm for 60 mm
    disc = Template("disc", "Disc", "card", "DI", (circle(60 * MM), circle(10 * MM)))
    assert room.lie_together(disc, disc, side * MM, side * MM) == lie


def test_a_disc_comes_from_what_the_hole_of_a_ring_leaves() -> None:
    # by hand: 40 mm lie in a hole of 88 mm, and 89 mm do not; a ring as wide as the sheet leaves no corner for either
    ring = Template("ring", "Ring", "foam", "SU", (circle(114 * MM), circle(88 * MM)))
    for d, lies in ((40, True), (89, False)):
        disc = Template("disc", "Disc", "foam", "DC", (circle(d * MM),))
        assert room.lie_together(ring, disc, 114.5 * MM, 114.5 * MM) == lies
        assert room.lie_together(disc, ring, 114.5 * MM, 114.5 * MM) == lies


def test_two_strips_lie_beside_each_other_however_they_are_drawn() -> None:
    strip = Template("strip", "Strip", "card", "DI", (rectangle(80 * MM, 20 * MM),))
    slanted = turned(strip, math.radians(37))
    assert room.least_box(slanted) == pytest.approx((20 * MM, 80 * MM))
    assert room.lie_together(strip, slanted, 40.1 * MM, 80.1 * MM)
    assert not room.lie_together(strip, slanted, 39 * MM, 80.1 * MM)


def test_vents_that_do_not_fit_are_refused() -> None:
    back = Back(V_back=1e-3, n_vent=4, d_vent=40 * MM, t_vent=2 * MM)
    (fault,) = found(210.0, 297.0, back=back)
    assert fault.startswith(f"operation FR, {title('FR')}: must be vents between the motor, ⌀68 mm, and the surround,")
    assert "4 holes of ⌀40 mm" in fault
    assert found(210.0, 297.0, back=replace(back, d_vent=15 * MM)) == []
    # closed form: (122 - 68) / 2 mm between the two, less 2.5 mm on either side
    assert "Holes of at most ⌀22 mm" in fault and found(210.0, 297.0, back=replace(back, d_vent=22 * MM)) == []
    (off,) = found(210.0, 297.0, back=replace(back, d_vent=15 * MM, D_vent=60 * MM))
    assert "on a circle of ⌀60 mm" in off


@pytest.mark.parametrize(("d_out", "refused"), [(140.0, True), (122.2, True), (121.8, False)])
def test_a_spider_stays_within_the_driver(d_out, refused) -> None:
    # sum of the sizes: the outline of 130 mm less 4 mm of glue on either side
    part = Spider(form="pleats", sheet=FOAM, d_in=30 * MM, d_out=d_out * MM, h_r=4 * MM, n_pleat=5)
    said = found(210.0, 297.0, spider=part)
    assert len(said) == refused and all(
        each.startswith(f"operation AS, {title('AS')}: must be a spider within the outline of the driver, ⌀130 mm")
        for each in said
    )


def test_arms_stay_within_the_driver_with_their_pads() -> None:
    part = Spider(form="arms", sheet=FOAM, n_arm=3, l_arm=45 * MM, w_arm=6 * MM)
    # closed form: Pythagoras twice: ring of 12.95 + 5 mm, pad 3 mm beyond it, 4 mm long
    r = 25.9 / 2 + 5
    reach = 2 * math.hypot(r + 3, math.sqrt(r**2 - (r - 6) ** 2) + 45 + 4)
    (fault,) = found(210.0, 297.0, spider=part)
    assert reach > 130 and f"one that reaches ⌀{reach:.1f} mm" in fault
    less = float(re.search(r"Make it smaller by (\d+) mm across", fault)[1])
    assert found(210.0, 297.0, spider=replace(part, l_arm=(45 - less / 2 - 1) * MM)) == []


def test_arms_that_lie_on_each_other_are_refused_with_the_width_that_fits() -> None:
    part = Spider(form="arms", sheet=FOAM, n_arm=8, l_arm=20 * MM, w_arm=8 * MM)
    (fault,) = found(210.0, 297.0, spider=part)
    assert "8 arms side by side round a ring of ⌀35.9 mm" in fault
    # closed form: the chords of eight equal sectors, r (1 - cos 45°) = 5.26 mm
    assert "Arms of at most 5.2 mm" in fault
    assert found(210.0, 297.0, spider=replace(part, w_arm=5.2 * MM)) == []

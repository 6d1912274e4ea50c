"""What a build needs: lengths to cut and what is left, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwound.parts.design import Stock
from handwound.parts.steel import Steel
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.said import figures
from tests.sheet import demo
from tests.sheet.steps import BRIEF, DESIGN, MADE, first_number, needed

BAR = Steel(name="bar", grade="mild steel", form="bar", d_in=0.0, d_out=25e-3, t=300e-3)
PLATE = Steel(name="blank", grade="mild steel", form="plate", d_in=0.0, d_out=68e-3, t=6e-3, count=2)
PIPE = Steel(name="pipe", grade="mild steel", form="pipe", d_in=53.1e-3, d_out=60.3e-3, t=46e-3)
FROM = {"pole, bar": "bar", "back plate": "blank", "top plate": "blank", "pipe": "pipe"}


def asked(steels=(BAR, PLATE, PIPE), **changed):
    rings = tuple(replace(ring, stock=FROM[ring.name]) for ring in DESIGN.iron.rings)
    design = replace(DESIGN, iron=replace(DESIGN.iron, rings=rings), **changed)
    found = needed(Build(design, BRIEF, MADE), Stock(steels=steels, sheets=(demo.CARD, demo.FOAM)))
    return found, {each.name: each for each in found.materials}


def test_a_bar_is_cut_with_its_saw_and_what_is_faced() -> None:
    """By hand: 300 - 52 - 1 to face - 2 of the saw = 245 mm; a bar of 53 mm is short by 2."""
    _, by_name = asked()
    assert "cut 52 mm of 300 mm" in by_name["bar"].take and by_name["bar"].left == "245 mm left"
    _, short = asked((replace(BAR, t=53e-3), PLATE, PIPE))
    assert short["bar"].left == "short by 2 mm"


def test_plates_and_pieces_that_fit_are_taken_whole() -> None:
    """By hand: both blanks, one bored to 28 mm; a pipe that is sawn to length already; one blank too few."""
    _, by_name = asked()
    assert by_name["blank"].take == "2 pieces, bore top plate to ⌀28 mm" and by_name["blank"].left == "none left"
    assert by_name["pipe"].take == "1 piece" and by_name["pipe"].left == "none left"
    _, few = asked((BAR, replace(PLATE, count=1), PIPE))
    assert few["blank"].left == "short by 1"


def test_reels_sheets_glue_supply_and_diode_are_there() -> None:
    """By hand: 120 m less what the coil takes; a diode bears the cold current and twice the supply's volts or more."""
    found, by_name = asked()
    reel = by_name["reel 0.50"]
    assert reel.what == "field coil" and first_number(reel.take) == pytest.approx(MADE.field_winding.l_w, rel=0.005)
    assert first_number(reel.left) == pytest.approx(abs(120 - MADE.field_winding.l_w), rel=0.005)
    assert by_name["slow epoxy"].what == "epoxy" and "12 V, 2 A" in by_name["bench 12 V"].take
    amperes, volts = figures(by_name["diode"].take)
    assert amperes.value == pytest.approx(MADE.excitation.I_f) and volts.value >= 2 * 12.0
    assert by_name["resistor"].take == "4 Ω 5 W" and by_name["lead-outs"].take == "0.4 g"
    assert "Cone" in by_name["card 160 g/m²"].take


def test_a_blank_is_as_large_as_its_outline() -> None:
    """Plane geometry: a ring's blank is as wide as it is high."""
    _, by_name = asked()
    wide, high = [f.value for f in figures(by_name["foam 2 mm"].take)][:2]
    assert wide == pytest.approx(high) and wide > DESIGN.surround.d_out


def test_each_tool_stands_once_in_the_order_of_its_use() -> None:
    found, _ = asked()
    used = [tool for operation in operations(DESIGN, BRIEF, MADE) for tool in operation.tools]
    assert len(set(found.tools)) == len(found.tools)
    assert [tool for tool in found.tools if tool not in used] == ["goggles", "gloves", "mask against dust and vapour"]
    assert {"caliper", "hacksaw", "winder with a counter", "tone generator"} <= set(found.tools)
    first = [used.index(tool) for tool in found.tools if tool in used]
    assert first == sorted(first)


def test_a_shelf_is_not_asked_for() -> None:
    """Without a stock nothing is told to be left."""
    bare = needed(Build(DESIGN, BRIEF, MADE))
    assert {each.name: each.left for each in bare.materials}["pipe"] == ""


def test_straps_are_cut_from_their_bar() -> None:
    """By hand: two legs of 46 mm from 200 mm, each a saw's cut of 2 and 1 to face: 102 mm left."""
    back, pole, pipe, top = DESIGN.iron.rings
    legs = replace(pipe, name="legs", n_legs=2, t_leg=5e-3, stock="flat")
    iron = replace(DESIGN.iron, rings=(back, pole, legs, replace(top, on="legs")))
    flat = Steel(name="flat", grade="mild steel", form="flat", d_in=0.0, d_out=30e-3, t=5e-3, length=0.2, width=0.03)
    found = needed(Build(replace(DESIGN, iron=iron), BRIEF, MADE), Stock(steels=(flat,)))
    (strap,) = [each for each in found.materials if each.name == "flat"]
    assert "cut 2 of 46 mm" in strap.take and strap.left == "102 mm left" and "2 straps 5 thick" in strap.what


def test_a_bolt_is_one_piece_with_its_head() -> None:
    """By hand: shank and head are two rings of the iron and one of two bolts."""
    back, pole, pipe, top = DESIGN.iron.rings
    head = replace(pole, name="head", d_out=30e-3, t=5e-3, on="pole, bar", stock="bolt")
    iron = replace(DESIGN.iron, rings=(back, replace(pole, stock="bolt"), pipe, top, head))
    bolt = Steel(name="bolt", grade="mild steel", form="bolt", d_in=0.0, d_out=25e-3, t=52e-3, count=2)
    found = needed(Build(replace(DESIGN, iron=iron), BRIEF, MADE), Stock(steels=(bolt,)))
    (one,) = [each for each in found.materials if each.name == "bolt"]
    assert one.take == "1 piece" and one.left == "1 left"

"""The strips of the motor: its holes, its closing, the heat run, what must pass; numbers worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.parts.sheet import Adhesive
from handwound.sheet.build import care
from handwound.sheet.build.leads_out import field_leads, lead_holes
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.said import figures
from handwound.sheet.winding import voice_ladder
from tests.sheet.operations.test_order_of_work import PARTS, magnet
from tests.sheet.steps import BRIEF, DESIGN, MADE, check, first_number, needed, reading, step

ODD = replace(DESIGN, field_coil=replace(DESIGN.field_coil, n_l=21))


def test_the_end_leaves_where_the_last_layer_ends() -> None:
    """Plane fact: layers alternate, so an odd one ends at the front."""
    assert field_leads(DESIGN.field_coil) == (("S", "back", 6), ("F", "back", 7))
    assert field_leads(ODD.field_coil) == (("S", "back", 6), ("F", "front", 7))
    assert "one in the front cheek at 7 o'clock" in " ".join(step("Spool", ODD).do)


def test_each_lead_has_its_hole() -> None:
    """By hand: holes of 4 mm touch the circles 28.5 + 4 = 32.5 and 50.86 - 4 = 46.86 mm from within the winding."""
    even = " ".join(step("Iron").do)
    assert "S at 6 o'clock through back plate, on a circle of ⌀32.5; F at 7 o'clock through back plate" in even
    odd = " ".join(step("Iron", ODD).do)
    assert "F at 7 o'clock through top plate, on a circle of ⌀46.9" in odd
    circles = [circle for _, _, circle in lead_holes(ODD, MADE)]
    assert circles == pytest.approx([32.5e-3, MADE.field_winding.D_w - 4e-3])


def test_a_coil_that_lies_open_needs_no_hole_and_a_magnet_gets_none() -> None:
    """Between the bars of a yoke a lead passes; a plate of magnet is never drilled; then the shell is."""
    back, pole, pipe, top = DESIGN.iron.rings
    bars = replace(pipe, n_legs=2, t_leg=5e-3)
    assert lead_holes(replace(DESIGN, iron=replace(DESIGN.iron, rings=(back, pole, bars, top))), MADE) == ()
    hard = replace(back, magnetised="up", grade="ferrite", B_rem=0.37)
    drilled = lead_holes(replace(DESIGN, iron=replace(DESIGN.iron, rings=(hard, pole, pipe, top))), MADE)
    assert [(ring.name, circle) for _, ring, circle in drilled] == [("pipe", None), ("pipe", None)]


def test_a_motor_is_closed_when_the_coil_was_read() -> None:
    """Common practice, no source: what is closed in cannot be mended, so ohms to the iron come first."""
    closing = step("Close the motor")
    assert closing.code == "CL" and closing.is_hold and closing.checks[0].expected == "open circuit"
    assert "Read the ohms" in closing.do[0] and "comes out only when the motor holds by itself" in closing.do[1]
    assert "slow epoxy" in closing.do[1] and closing.waits
    dry = step("Close the motor", replace(DESIGN, glue=None))
    assert "Screws, press fit or glue" in dry.do[1] and not dry.waits
    baked = replace(DESIGN, glue=replace(DESIGN.glue, name="oven epoxy", kind="heat-cured epoxy"))
    assert "oven" not in step("Close the motor", baked).do[1] and not step("Close the motor", baked).waits
    design, brief = magnet()
    hot = step("Glue the motor", replace(design, glue=baked.glue), brief, PARTS)
    assert "oven" not in " ".join((*hot.do, *(wait.words for wait in hot.waits)))
    assert "ohms from coil" not in " ".join(c.what for c in step("Glue the motor", design, brief, PARTS).checks)
    both = step("Glue the motor", replace(design, field_coil=DESIGN.field_coil), BRIEF, MADE)
    assert "ohms from coil to iron" in both.checks[0].what and both.is_hold


def test_pole_and_bore_are_read_when_they_come_from_the_lathe() -> None:
    """By hand: a pole of 25 ± 0.06 mm, a bore of 28 ± 0.08 mm."""
    back, pole, pipe, top = DESIGN.iron.rings
    loose = replace(pole, spread=(("d_out", 0.06e-3),)), pipe, replace(top, spread=(("d_in", 0.08e-3),))
    design = replace(DESIGN, iron=replace(DESIGN.iron, rings=(back, *loose)))
    assert check("pole, bar, finished: outside ⌀", design).expected == "25.00 mm (24.94 to 25.06)"
    assert check("top plate, finished: bore", design).expected == "28.00 mm (27.92 to 28.08)"
    assert {"droop", "stretch"} <= {f.name for c in step("Stock").checks for f in figures(c.expected)}


def test_run_out_is_read_and_strips_only_where_the_motor_closes() -> None:
    """Common practice, no source: 0.10 mm. A magnet's plate is centred later, in its own strip."""
    assert check("run-out of the pole").expected == "0.10 mm or less" and step("Iron").is_hold
    design, brief = magnet()
    assert [c.what.split()[0] for c in step("Iron", design, brief, PARTS).checks] == ["run-out"]
    assert "gap" in " ".join(c.what for c in step("Glue the motor", design, brief, PARTS).checks)


def test_a_winding_wider_than_its_way_in_is_not_accepted() -> None:
    """By hand: 50.86 mm ± 7 % would reach 54.4, the pipe lets 53.1 mm pass."""
    (wide,) = figures(reading("FC3").expected)
    assert (wide.value, wide.high) == pytest.approx((MADE.field_winding.D_w, 53.1e-3))
    (narrow,) = [figures(c.expected)[0] for c in step("Wind the field", brief=BRIEF).checks if "outer" in c.what]
    assert narrow.low == pytest.approx(MADE.bands["field_winding.D_w"].low)


def test_the_heat_run_lasts_until_the_last_kelvin() -> None:
    """Closed form: a rise of 53 K with 1800 s comes within 1 K after 1800 ln 53 = 7147 s; the grid is 13 % coarse."""
    (t_w,) = [f for words in step("First current").do for f in figures(words) if f.name == "t_w"]
    assert 1800 * np.log(53) <= t_w.value <= 1800 * np.log(53) * 1.14
    assert "every 10 minutes until they no longer change, about" in step("First current").do[2]
    unknown = replace(MADE, warming=None)
    assert "about" not in step("First current", made=unknown).do[2]


def test_the_oven_spares_what_bears_least() -> None:
    """By hand: card bears 90 °C, its enamel 105 °C."""
    assert care.oven(Build(DESIGN, BRIEF, MADE)) == ()
    baked = Adhesive(name="oven", kind="heat-cured epoxy", T_max=120.0, rho_m=1150.0, E=2.5e9)
    build = Build(replace(DESIGN, glue=baked), BRIEF, MADE)
    (one,) = care.oven(build)
    assert "No hotter than 90 °C" in one.text
    assert any("oven" in tool for tool in needed(build).tools)
    assert not any("oven" in tool for tool in needed(Build(DESIGN, BRIEF, MADE)).tools)


def test_a_current_too_low_when_warm_has_a_deed() -> None:
    assert "outside above 60 °C turn it down" in check("current at 12 V, warm").if_low


def test_a_voice_coil_of_odd_layers_begins_with_its_lead() -> None:
    """Plane fact: the last layer must end at the front, so with an odd number the first one travels there."""
    design = replace(DESIGN, voice_coil=replace(DESIGN.voice_coil, n_l=1))
    ladder = voice_ladder(design, BRIEF, replace(MADE, voice_ladder=MADE.voice_ladder[:1]))
    assert [rung.travel for rung in ladder.rungs] == ["→ front"] and "runs straight along" in ladder.way


def test_the_bench_has_what_guards_and_what_it_is_wound_on() -> None:
    """By hand: the spool's bore is 28.5 - 2 x 0.8 = 26.9 mm; tube 43.5 + 2 x 1.2 = 45.9 mm; two leads, two sleeves."""
    found = needed(Build(DESIGN, BRIEF, MADE))
    assert {"goggles", "gloves", "winding arbor ⌀26.9 mm with stiff side plates", "1.5 V cell"} <= set(found.tools)
    assert not {"coil depth gauge", "centring ring", "three equal shims", "diode", "label"} & set(found.tools)
    by_name = {each.name: each for each in found.materials}
    assert "45.9 long" in by_name["card or paper tube"].take and first_number(by_name["sleeve"].take) == 2
    assert {"solder", "tape", "shim stock", "board or sheet metal"} <= set(by_name)
    design, brief = magnet()
    bare = {each.name for each in needed(Build(design, brief, PARTS)).materials}
    assert "sleeve" not in bare and "card or paper tube" not in bare
    assert "CL" not in [operation.code for operation in operations(design, brief, PARTS)]

"""The operations of what moves and of what it is built into, and the numbers in them worked by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.moving import Bond, Cap, Ribs, Spider
from handwound.parts.prediction import Band
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.build.strips_to_read import strips
from handwound.sheet.said import figures
from tests.sheet import demo
from tests.sheet.steps import BRIEF, DESIGN, MADE, check, first_number, step

RIM = Bond(name="rim line", at="rim", glue=DESIGN.glue, w_bond=5e-3, t_bond=1e-4)
CAP = Cap(form="dome", sheet=demo.CARD, d_out=40e-3, h_c=8e-3)


def test_all_that_moves_is_weighed_before_it_is_hung() -> None:
    """By hand: 7.2 g less 0.2 g of the surround; cap and leads lie on the scale, too. A rim's line of glue, 0.184 g by
    the closed form below, comes later."""
    one = check("all that moves, lead-outs too, no surround yet")
    assert first_number(one.expected) == pytest.approx(7.0, abs=0.05)
    capped = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=1e-3), cap=CAP)
    assert check("all that moves, cap and lead-outs too, no surround yet, less the loose spider", capped).expected
    wide = replace(capped, spider=replace(capped.spider, d_in=30e-3))
    assert check("all that moves, cap and lead-outs too, no surround or spider yet", wide).expected
    thick = replace(MADE, bands={})
    glued = check("all that moves", replace(DESIGN, bonds=(RIM,)), made=thick)
    bare = check("all that moves", made=thick)
    lines = first_number(bare.expected) - first_number(glued.expected)
    assert lines == pytest.approx(0.184, abs=0.011)


def test_a_cap_ribs_and_lines_of_glue_are_told_with_their_masses() -> None:
    """Closed form: a line round ⌀102 mm, 5 mm wide and 0.1 mm thick, of 1150 kg/m³: 0.184 g; the shell of a dome of
    40 mm across and 8 mm high has the area pi (20² + 8²) mm²."""
    moves = replace(MADE.moving, m_cap=math.pi * (20**2 + 8**2) * 1e-6 * 0.16, m_rib=0.3e-3)
    made = replace(MADE, moving=moves, bands={})
    ribs = Ribs(sheet=demo.CARD, n_rib=6, h_rib=4e-3, d_in=30e-3, d_out=90e-3)
    full = replace(DESIGN, bonds=(RIM,), cap=CAP, diaphragm=replace(DESIGN.diaphragm, ribs=ribs))
    (rim,) = [words for words in step("Surround", full, made=made).do if words.startswith("Glue round the rim")]
    assert "0.18 g when cured" in rim and "5 wide, 0.1 thick" in rim
    assert "Glue the cap on, ⌀40 mm" in " ".join(step("Dust cap", full, made=made).do)
    stand = " ".join(step("Diaphragm", full, made=made).do)
    assert "⌀40, a dome 8 high" in stand and "It weighs 0.233 g" in stand
    assert "6 strips of card 160 g/m², 4 high, from ⌀30 to ⌀90" in stand and "together 0.3 g" in stand


def test_strips_are_read_with_what_they_will_show() -> None:
    """Closed form: w = 3 g rho l⁴ / (2 E t³) is 1.8 mm of 70 mm of this card and 7.4 mm of 100 mm; l m g / (E w t) is
    0.74 mm under 10 g and 1.5 mm under 20 g, a quarter more after a minute where foam is so much softer then. Both go
    as one over E: a card of E ± a third droops 3/4 of it to 3/2."""
    card, foam = strips(Build(DESIGN, BRIEF, MADE))
    assert "droop of the end of a strip" in card.what and "100 mm" in card.what and card.expected == "7.37 mm"
    assert "20 × 60 mm, after a minute under 20 g" in foam.what
    assert figures(foam.expected)[0].value == pytest.approx(1.47e-3, rel=0.005)
    slow = replace(DESIGN, surround=replace(DESIGN.surround, sheet=replace(demo.FOAM, k_dyn=1.25)))
    assert figures(strips(Build(slow, BRIEF, MADE))[1].expected)[0].value == pytest.approx(1.84e-3, rel=0.005)
    doubt = replace(demo.CARD, spread=(("E", 1e9),))
    unsure = replace(DESIGN, diaphragm=replace(DESIGN.diaphragm, sheet=doubt))
    (droop,) = figures(strips(Build(unsure, BRIEF, MADE))[0].expected)
    assert (droop.low / droop.value, droop.high / droop.value) == pytest.approx((0.75, 1.5))


def test_a_neck_narrower_than_its_former_stands_on_the_edge() -> None:
    """Kind of truth: by reading. 25.8 mm cannot go over 25.9 mm; 25.9 can."""
    narrow = replace(DESIGN, diaphragm=replace(DESIGN.diaphragm, d_in=25.8e-3))
    assert "butt on the front edge" in step("Diaphragm", narrow).do[-1]
    assert "goes over the front end" in step("Diaphragm").do[-1] and "seam stands at 12" in step("Diaphragm").do[-1]


def test_a_spider_that_cannot_pass_the_winding_goes_on_first() -> None:
    """By hand: the winding is 26.75 mm wide on a former of 25.9 mm."""
    sized = Spider(form="pleats", sheet=demo.FOAM, n_pleat=4, h_r=3e-3, d_in=26e-3, d_out=60e-3)
    first = "First the spider"
    assert any(words.startswith(first) for words in step("Diaphragm", replace(DESIGN, spider=sized)).do)
    loose = replace(DESIGN, spider=replace(sized, d_in=27e-3))
    assert not any(words.startswith(first) for words in step("Diaphragm", loose).do)


def test_rub_is_heard_through_a_resistor_and_by_hand_first() -> None:
    """Common practice, no source. Magnets are always on: by tone alone."""
    hand, tone = step("Pull").do[1:]
    assert hand.startswith("Field off, by hand") and tone.startswith("Then field on") and "4 Ω 5 W" in tone
    assert step("Pull").is_hold and [one.expected for one in step("Pull").checks][0] == "none"
    bare = replace(BRIEF, supply=None, T_touch=None)
    still = replace(DESIGN, field_coil=None)
    parts = replace(MADE, field_winding=None, excitation=None, heat=None, field_ladder=(), reels=MADE.reels[1:])
    (only,) = step("Pull", still, bare, parts).do[1:]
    assert "by hand" not in only and "4 Ω 5 W" in only
    for title in ("Dust cap", "Measure", "Pull"):
        words = step(title, still, bare, parts)
        assert "field" not in " ".join((*words.do, words.stop)).lower()


@pytest.mark.parametrize(("low", "most", "words"), [(40.0, 0.5**0.5, "never above"), (0.005, None, "seconds only")])
def test_direct_current_stays_under_what_coil_and_resistor_bear(low, most, words) -> None:
    """Ohm: 5 W in 10 Ω are 0.707 A; 5 mW in this coil are less than the weight asks for."""
    Re = MADE.bands["driver.Re"].high
    made = replace(
        MADE, rating=replace(MADE.rating, P_cont=low), bands=MADE.bands | {"rating.P_cont": Band(low, low, low, low)}
    )
    (limit,) = [line for line in step("Measure", made=made).do if words in line]
    (current,) = [figure for figure in figures(limit) if figure.name == "I"]
    assert current.value == pytest.approx(most or (low / Re) ** 0.5)


def test_the_cap_is_counted_though_it_is_not_on() -> None:
    """Closed form: fs goes as one over the root of the mass; 0.2 g off 7.7 g is 1.3 % more."""
    made = replace(MADE, moving=replace(MADE.moving, m_cap=0.2e-3))
    (without,) = [f for words in step("Measure", replace(DESIGN, cap=CAP), made=made).do for f in figures(words)
                  if f.name == "fs"]  # fmt: skip
    assert without.value / float(MADE.driver.fs) == pytest.approx((7.7 / 7.5) ** 0.5)


def test_glue_is_told_where_it_is_laid() -> None:
    """Kind of truth: by reading. The winding's on the mandrel, the neck's where the diaphragm comes on the former."""
    bonds = tuple(replace(RIM, at=at) for at in ("coil", "neck"))
    full = replace(DESIGN, bonds=bonds)
    told = {o.title for o in operations(full, BRIEF, MADE) if any("Glue over the winding" in words for words in o.do)}
    assert told == {"Wind the voice coil"}
    told = {o.title for o in operations(full, BRIEF, MADE) if any("Glue round the neck" in words for words in o.do)}
    assert told == {"Diaphragm: cone"}


def test_rolls_pleats_arms_and_domes_are_told_how_to_make() -> None:
    """Kind of truth: by reading."""
    roll = replace(DESIGN.surround, form="roll", h_r=4e-3)
    assert "half a roll 4 high" in step("Surround", replace(DESIGN, surround=roll)).do[0]
    pleats = replace(DESIGN.surround, form="pleats", h_r=2e-3, n_pleat=3)
    assert "Press 3 waves 2 deep" in step("Surround", replace(DESIGN, surround=pleats)).do[0]
    arms = Spider(form="arms", sheet=demo.CARD, n_arm=3, l_arm=30e-3, w_arm=5e-3, z_sp=6e-3)
    said = " ".join(step("Assembly", replace(DESIGN, spider=arms)).do)
    assert "3 arms cut from" in said and "30 mm long and 5 mm wide" in said and "6 mm behind the neck" in said
    waved = Spider(form="pleats", sheet=demo.FOAM, n_pleat=4, h_r=3e-3, d_in=26e-3, d_out=60e-3)
    assert "press 4 waves 3 deep" in " ".join(step("Assembly", replace(DESIGN, spider=waved)).do)
    dome = replace(DESIGN.diaphragm, form="dome", d_in=0.0, h_c=9e-3)
    assert "9 high" in step("Diaphragm", replace(DESIGN, diaphragm=dome)).do[0]


def test_what_it_is_built_into_is_a_step_of_its_own() -> None:
    """Kind of truth: by reading. A wall needs none; vents are told with how many stay open."""
    assert not [o for o in operations(DESIGN, BRIEF, MADE) if o.title == "Build it in"]
    boxed = replace(BRIEF, box=Box(V_box=8e-3, t_box=0.015))
    back = Back(V_back=1e-4, n_vent=6, d_vent=10e-3, t_vent=1e-3, n_taped=2)
    said = " ".join(step("Build it in", replace(DESIGN, back=back), boxed).do)
    assert "in a closed box of 8 l, with its own back" in said
    assert "6 holes of ⌀10 mm, 2 of them taped over; 4 stay open" in said
    assert "lowers its resonance, until the last is taped" in said
    assert first_number(check("as it is built in", brief=boxed).expected) == pytest.approx(95, abs=1)


def test_boards_hole_and_port_are_told_where_it_is_built_in() -> None:
    """By hand: the box of 8 l, its motor and its cone's bowl are inside the boards; 130 mm wide or more, from the back
    plate to the rim with 20 mm behind it deep."""
    tube = Port(n_port=2, d_port=30e-3, l_port=60e-3, Q_leak=10.0)
    boxed = replace(BRIEF, box=Box(V_box=8e-3, t_box=0.015), port=tube)
    do = step("Build it in", brief=boxed).do
    (boards,) = [words for words in do if words.startswith("Boards 15 mm thick")]
    W, H, D = (float(each) / 1000 for each in re.findall(r"Inside (\d+) × (\d+) × (\d+) mm", boards)[0])
    steel = math.pi / 4 * (2 * 68**2 * 6 + (68**2 - 53.1**2) * 46 + 25**2 * 52) * 1e-9
    bowl = math.pi / 12 * 18 * (25.9**2 + 25.9 * 102 + 102**2) * 1e-9
    assert 8e-3 + bowl + 0.5 * steel < W * H * D < 8e-3 + bowl + math.pi / 4 * 68**2 * 58e-9 + 1e-4
    assert W >= 0.130 and H >= 0.130 and D >= 0.058 + 0.02
    ends = f"front and back {1000 * W + 30:.0f} × {1000 * H + 30:.0f} mm"
    assert ends in boards and f"sides {1000 * D:.0f} × {1000 * H:.0f} mm" in boards
    assert any(words.startswith("Ports: 2, ⌀30 inside, 60 long") for words in do)
    assert any("no narrower than ⌀122 mm" in words and "within ⌀130 mm" in words for words in do)
    tiny = replace(BRIEF, box=Box(V_box=0.3e-3, t_box=0.015))
    assert "do not hold this driver" in " ".join(step("Build it in", brief=tiny).do)
    board = replace(BRIEF, baffle=Baffle(W_baffle=0.4, H_baffle=0.6))
    assert "one board of 400 × 600 mm" in " ".join(step("Build it in", brief=board).do)


def test_a_back_of_its_own_is_measured_with_the_driver() -> None:
    """Proportion: a driver of 95 Hz in the demo's wall, whose fs is 95.1 Hz; with another back 160 Hz on the bench."""
    back = Back(V_back=1e-4, n_vent=6, d_vent=10e-3, t_vent=1e-3, n_taped=6)
    wall = replace(MADE.sound.places[0], found=replace(MADE.sound.places[0].found, f_c=160.0))
    made = replace(MADE, sound=replace(MADE.sound, places=(wall, *MADE.sound.places[1:])))
    shut = replace(DESIGN, back=back)
    assert first_number(step("Measure", shut, made=made).checks[0].expected) == pytest.approx(160, abs=1)
    measured = step("Measure", shut, made=made)
    assert "6 of them taped over; 0 stay open" in " ".join(measured.do)
    assert not [one for one in measured.checks if one.what.startswith("impedance at resonance")]
    assert any("6 of 6 holes taped" in one.what for one in step("Label", shut, made=made).checks)


def test_a_soft_diaphragm_rings_lower_than_a_stiff_one() -> None:
    """Proportion: as it bends it rings at 60 Hz; within a tenth nothing is said."""
    bent = replace(MADE.sound.breakup, f_bent=60.0)
    soft = replace(MADE, sound=replace(MADE.sound, breakup=bent))
    assert first_number(step("Measure", made=soft).checks[0].expected) == pytest.approx(60, abs=1)
    assert "softer than what holds it" in " ".join(step("Measure", made=soft).do)
    near = replace(MADE, sound=replace(MADE.sound, breakup=replace(bent, f_bent=float(MADE.driver.fs) * 0.95)))
    assert first_number(step("Measure", made=near).checks[0].expected) == pytest.approx(float(MADE.driver.fs), abs=1)

"""The order of the work for each kind of driver, and how long its glue wants: against the trade's order."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwound.parts.iron import Iron
from handwound.parts.moving import Spider
from handwound.parts.sheet import Adhesive
from handwound.sheet.build.glue import in_room, waits
from handwound.sheet.build.operation import Build, rung_code
from handwound.sheet.build.operations import operations
from handwound.sheet.said import figures
from handwound.sheet.winding import field_ladder, voice_ladder
from tests.sheet import demo
from tests.sheet.steps import BRIEF, DESIGN, MADE, reading, step

GLUE = Adhesive(
    name="slow epoxy", kind="slow epoxy", T_max=70.0, rho_m=1150.0, E=2.5e9, t_set=3 * 3600.0, t_cure=36 * 3600.0
)
PARTS = replace(MADE, field_winding=None, excitation=None, heat=None, field_ladder=(), reels=MADE.reels[1:])


def magnet():
    """The demo with a ring magnet for its pipe, and no coil."""
    back, pole, pipe, top = DESIGN.iron.rings
    ring = replace(pipe, name="ring", magnetised="up", B_rem=0.37, grade="ferrite")
    iron = Iron(name="ring magnet", plate=("top plate",), rings=(back, pole, ring, replace(top, on="ring")))
    return replace(DESIGN, iron=iron, field_coil=None), replace(BRIEF, supply=None, T_touch=None)


READS = {
    "FC2": "field_winding.R_T", "EN2": "excitation.I_f", "EN3": "heat.I_f",
    "EN4": "heat.T_case", "VC2": "voice_winding.R_T", "VC3": "voice_winding.D_w", "DI1": "moving.m_d",
    "LD1": "driver.Re", "AS1": "clearance.c_i", "AS2": "clearance.c_o", "ME1": "driver.fs", "ME2": "driver.Z_max",
    "FS1": "driver.L_2V83",
}  # fmt: skip
"""Readings that are a number of the prediction as it stands."""
LADDERS = {"FC2": MADE.field_ladder, "VC2": MADE.voice_ladder}
"""Those whose band is that of the last layer."""


@pytest.mark.parametrize("code", READS)
def test_what_is_read_has_the_band_of_the_prediction(code) -> None:
    """Identity: value, low and high of the strip are those of the prediction."""
    (figure,) = figures(reading(code).expected)
    band = LADDERS[code][-1].R_T_band if code in LADDERS else MADE.bands[READS[code]]
    assert (figure.value, figure.low, figure.high) == pytest.approx((band.value, band.low, band.high))
    assert figure.value == pytest.approx(MADE.numbers()[READS[code]])


def codes(design=DESIGN, brief=BRIEF, made=MADE):
    return [operation.code for operation in operations(design, brief, made)]


def test_the_order_of_a_field_coil_driver() -> None:
    """Common practice, no source: stock, iron, spool, winding, current, former, voice coil, cone, leads, frame, shims,
    surround, rub, measuring, and only then the cap, sound and a label."""
    assert " ".join(codes()) == "ST IR SP FC CL EN FO VC DI LD FR AS SU RB ME DC FS LB"


def test_the_order_of_a_driver_with_a_magnet() -> None:
    """Common practice, no source: the magnet goes in before anything moves; no spool, no current."""
    design, brief = magnet()
    assert " ".join(codes(design, brief, PARTS)) == "ST IR MG FO VC DI LD FR AS SU RB ME DC FS LB"
    both = replace(design, field_coil=DESIGN.field_coil)
    found = codes(both)
    assert found.index("FC") < found.index("MG") < found.index("EN") < found.index("FO") and "CL" not in found


@pytest.mark.parametrize("design", [DESIGN, magnet()[0]])
def test_the_cap_comes_after_the_rub_and_power_after_the_diode(design) -> None:
    """Common practice, no source."""
    brief, made = (BRIEF, MADE) if design.field_coil else (magnet()[1], PARTS)
    found = codes(design, brief, made)
    assert found.index("RB") < found.index("DC") and found.index("AS") < found.index("RB") and found[-1] == "LB"
    words = " ".join(step("First sound", design, brief, made).do)
    assert words.index("4 Ω 5 W in series") < words.index("then without the resistor")
    if design.field_coil:
        start = step("First current").do[0]
        assert start.index("Diode across the coil") < start.index("connect") < start.index("a tenth first")


def test_glue_takes_twice_as_long_for_ten_kelvin_less() -> None:
    """Common practice, no source: 3 h at 20 °C are 6 h at 10 °C and 1.5 h at 30 °C."""
    assert in_room(3 * 3600.0, 20.0) == pytest.approx(3 * 3600.0)
    assert in_room(3 * 3600.0, 10.0) == pytest.approx(6 * 3600.0)
    assert in_room(3 * 3600.0, 30.0) == pytest.approx(1.5 * 3600.0)


@pytest.mark.parametrize(("T_room", "t_set", "words"), [(20.0, 3, "3 h"), (10.0, 6, "6 h"), (40.0, 0.75, "45 min")])
def test_the_strip_tells_the_time_in_this_room(T_room, t_set, words) -> None:
    """By hand: 3 h halved for each 10 K."""
    build = Build(replace(DESIGN, glue=GLUE), replace(BRIEF, T_room=T_room), MADE)
    (one,) = waits(build, "Wait.", "rim")
    assert one.t_set == pytest.approx(t_set * 3600.0) and one.t_cure == pytest.approx(12 * one.t_set)
    assert f"let go after {words}" in one.words and "Wait." in one.words and "Below 10 °C" not in one.words


def test_a_cold_room_and_a_label_are_told() -> None:
    """Kind of truth: by reading. Without a time the label decides, for a heat-cured glue the oven."""
    cold = Build(replace(DESIGN, glue=GLUE), replace(BRIEF, T_room=6.0), MADE)
    assert "Below 10 °C it may stay soft" in waits(cold, "Wait.", "rim")[0].words
    oven = replace(GLUE, kind="heat-cured epoxy", t_set=None, t_cure=None)
    (one,) = waits(Build(replace(DESIGN, glue=oven), BRIEF, MADE), "Wait.", "rim")
    assert one.t_set is None and "in the oven, as its label says" in one.words
    (none,) = waits(Build(replace(DESIGN, glue=None), BRIEF, MADE), "Wait.", "rim")
    assert none.t_cure is None and "as its label says" in none.words


def test_all_that_is_glued_waits() -> None:
    """Kind of truth: by reading. What must not be hurried stands in its strip."""
    told = {operation.code for operation in operations(DESIGN, BRIEF, MADE) if operation.waits}
    assert told == {"CL", "FO", "VC", "DI", "LD", "SU"}
    assert "the cone sags" in step("Surround").waits[0].words
    hung = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=1e-3))
    assert "pulled too soon" in step("Assembly", hung).waits[0].words


def test_cautions_stand_where_they_matter() -> None:
    """From the brief's list: hot coil, diode, clip, voltage, pinch, fume, edges, tones, each in its own strip."""
    by_code = {o.code: " ".join(f"{c.topic} {c.text}" for c in o.cautions) for o in operations(DESIGN, BRIEF, MADE)}
    assert "Sawn edges" in by_code["IR"] and "solder fume" in by_code["FC"] and "solder fume" in by_code["LD"]
    for words in ("diode for", "never pull a live clip", "gets hot"):
        assert words in by_code["EN"]
    assert "can kill" not in by_code["EN"]
    old = replace(BRIEF, supply=replace(BRIEF.supply, V_max=110.0))
    (high,) = [c for c in step("First current", brief=old).cautions if "can kill" in c.text]
    assert high.stop and "licensed practice" in high.text and "local code" in high.text
    design, brief = magnet()
    assert "crush" in " ".join(c.text for c in step("Glue the motor", design, brief, PARTS).cautions)
    assert all("tones quiet" in by_code[code] for code in ("RB", "ME", "FS"))


@pytest.mark.parametrize(("n_l", "last"), [(20, "← back"), (19, "→ front")])
def test_the_layers_travel_to_and_fro(n_l, last) -> None:
    """Plane fact: layers alternate; an even number ends where it began, which is at the back cheek."""
    design, brief, made = demo.job(layers=n_l)
    ladder = field_ladder(design, brief, made)
    travel = [rung.travel for rung in ladder.rungs]
    assert len(travel) == n_l and travel[0] == "→ front" and travel[-1] == last
    assert all(one != other for one, other in zip(travel, travel[1:], strict=False))
    assert ("leaves at the back cheek too, at 7 o'clock" in ladder.way) == (n_l % 2 == 0)
    voice = voice_ladder(design, brief, made)
    assert [rung.travel for rung in voice.rungs] == ["← back", "→ front"] and "leaves at the front too" in voice.way


def test_holds_have_their_codes() -> None:
    ladder = field_ladder(DESIGN, BRIEF, MADE)
    assert [rung.code for rung in ladder.rungs if rung.hold] == ["FCL2", "FCL10", "FCL20"]
    assert not any(rung.code for rung in ladder.rungs if not rung.hold) and rung_code("VC", 2) == "VCL2"


@pytest.mark.parametrize(
    ("n_sec", "begins"), [(4, {1: "1", 6: "2", 11: "3", 16: "4"}), (3, {1: "1", 7: "2", 14: "3"}), (1, {})]
)
def test_sections_begin_where_the_last_one_ends(n_sec, begins) -> None:
    """By hand: of 20 layers four sections are five each; three of 500 turns end within layers 7 and 14."""
    split = replace(DESIGN, field_coil=replace(DESIGN.field_coil, n_sec=n_sec))
    ladder = field_ladder(split, BRIEF, MADE)
    assert {int(rung.n_layer): rung.begin for rung in ladder.rungs if rung.begin} == begins
    if n_sec == 4:
        assert "1 after layer 5, turn 375, at the front" in ladder.sections
        assert "2 after layer 10, turn 750, at the back" in ladder.sections


def disc(**changed):
    part = replace(DESIGN.diaphragm, form="disc", d_in=0.0, h_c=0.0, w_seam=0.0)
    return replace(DESIGN, diaphragm=part, **changed)


def test_a_disc_never_shuts_its_shims_in() -> None:
    """Common practice, no source: with a spider it goes on when the shims are out; else they stand outside the wire,
    as thick as the air there, (28.0 - 26.75) / 2 = 0.625 mm."""
    bare = step("Assembly", disc())
    (outside,) = [figure for words in bare.do for figure in figures(words) if figure.name == "t_shim"]
    assert outside.value == pytest.approx(0.625e-3) and "between the winding and plate" in " ".join(bare.do)
    assert "pull the shims out to the front" not in " ".join(bare.do)
    held = disc(spider=Spider(K_sp=1000.0, m_sp=1e-3))
    assert "do not glue it yet" in " ".join(step("Diaphragm", held).do)
    assert "then glue the diaphragm on the former" in step("Assembly", held).do[-1]
    assert "the shims are out" in step("Surround", held).do[0] and "shims are out" in step("Pull", held).do[0]
    assert "Diaphragm" not in step("Assembly").do[-1] and "closes" not in " ".join(step("Assembly").do)


def test_the_front_plate_of_an_open_spool_is_held_by_something() -> None:
    """By hand: a plate that no ring carries stands 45 mm up, on a spacer."""
    ring = DESIGN.iron.rings[0]
    rings = (
        replace(ring, name="low flange", d_in=13e-3, d_out=37e-3, t=3e-3),
        replace(ring, name="shank", d_out=12e-3, t=60e-3),
        replace(ring, name="top flange", d_in=13e-3, d_out=37e-3, t=3e-3, z=45e-3),
    )
    open_spool = replace(DESIGN, iron=Iron(name="spool", plate=("top flange",), rings=rings))
    words = " ".join(step("Iron", open_spool).do)
    assert "top flange stands on nothing of iron: hold its back face 45 mm in front of that of low flange" in words
    assert "stands on nothing" not in " ".join(step("Iron").do)


def test_a_coil_without_a_tube_is_wound_on_tape() -> None:
    bare = replace(DESIGN, field_coil=replace(DESIGN.field_coil, t_f=0.0, D_f=25e-3))
    assert step("Spool", bare).do[0].startswith("No tube: it is wound on pole, bar itself, 43.5 mm high, over two")
    assert "No tube" not in step("Spool").do[0]


def test_a_bolt_and_its_head_are_no_joint() -> None:
    """Plane fact: what is one piece of the shelf has no face to file."""
    back, pole, pipe, top = DESIGN.iron.rings
    head = replace(pole, name="head", d_out=30e-3, t=5e-3, on="pole, bar", stock="bolt", joint=0.0)
    bolt = replace(pole, stock="bolt", joint=0.13e-3)
    iron = replace(DESIGN.iron, rings=(back, bolt, replace(pipe, joint=0.13e-3), replace(top, joint=0.13e-3), head))
    words = " ".join(step("Iron", replace(DESIGN, iron=iron)).do)
    assert "bright" not in words and "head" not in words.split("Leave as planned")[1].split("Dry-fit")[0]

"""The operations: their order, and the numbers in them worked by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from handwound.parts.heat import Box
from handwound.parts.iron import Iron, Ring
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.moving import Bond, Cap, Ribs, Spider
from handwound.parts.prediction import Band
from handwound.sheet.bands import stack_height
from handwound.sheet.build import operations
from handwound.sheet.shapes import front_face
from handwound.sheet.summary import summary
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()
JOINT = 0.03e-3
RIM = Bond(name="rim line", at="rim", glue=DESIGN.glue, w_bond=5e-3, t_bond=1e-4)
CAP = Cap(form="dome", sheet=demo.CARD, d_out=40e-3, h_c=8e-3)


def check(what: str, design=DESIGN, brief=BRIEF, made=MADE):
    (one,) = [c for o in operations(design, brief, made) for c in o.checks if what in c.what]
    return one


def step(title: str, design=DESIGN, brief=BRIEF, made=MADE):
    (one,) = [o for o in operations(design, brief, made) if o.title.startswith(title)]
    return one


def first_number(text: str) -> float:
    return float(re.findall(r"\d+\.?\d*", text)[0])


def test_the_order() -> None:
    titles = [o.title.split(":")[0] for o in operations(DESIGN, BRIEF, MADE)]
    assert titles == [
        "Stock check", "Iron", "Spool of the field coil", "Wind the field coil", "First current", "Mandrel and former",
        "Wind the voice coil", "Diaphragm", "Leads", "Assembly on shims", "Surround", "Pull the shims, listen for rub",
        "Measure", "Dust cap", "First sound", "Label",
    ]  # fmt: skip


def test_every_check_says_what_to_do() -> None:
    for operation in operations(DESIGN, BRIEF, MADE)[:-1]:
        for one in operation.checks:
            assert one.expected and one.if_low


def test_ohms_of_ten_metres() -> None:
    """Closed form: R = 4 rho l / (pi d²) at 17 °C."""
    R = 4 * 1.724e-8 * 10 / (math.pi * 0.5e-3**2) * (1 - 3 * 0.00393)
    assert first_number(check("reel 0.50: ohms of 10 m").expected) == pytest.approx(R, abs=0.006)
    assert "leads off" in check("reel 0.50: ohms of 10 m").if_low
    assert "leads off" not in check("reel 0.18: ohms of 10 m").if_low


def test_a_short_reel_stops_the_build() -> None:
    """By hand: 120 m less what the coil takes."""
    short = MADE.field_winding.l_w - 120
    assert f"short by {short:.3g} m" in step("Stock").stop
    enough = replace(MADE, reels=(replace(MADE.reels[0], l_reel=12.0), MADE.reels[1]))
    assert step("Stock", made=enough).stop == "" and "12 m will be left" in " ".join(step("Stock", made=enough).do)


def test_the_strip_of_the_former() -> None:
    """Plane geometry: the middle of the wall runs round pi (D + t), here pi (25.6 + 0.15) = 80.90."""
    assert "80.9 mm long" in step("Mandrel").do[0]


def test_the_weight_in_balance() -> None:
    """Closed form: I = m g / Bl = 0.020 * 9.80665 / 4.2 = 46.7 mA; more Bl needs less current."""
    one = check("current that balances 20 g")
    assert first_number(one.expected) == pytest.approx(0.0467, abs=0.0005)
    assert "More Bl" in one.if_low and "Bl is low" in one.if_high


def test_the_surround_sinks_far_enough_to_be_read() -> None:
    """Closed form: x (1 + (x/b)²) = m g / K; with 2750 N/m and a b of 3 mm 20 g sink 0.07 mm, 200 g 0.713 mm less what
    stiffens it; foam that has lain under its weight for a minute gives more, here as the demo's own 7.2 g sag 30 µm:
    straight on 200 g would sink 200 / 7.2 times as far."""

    def sinks(straight: float) -> float:
        roots = np.roots([1 / 3.0**2, 0, 1, -straight])
        return float(roots[np.abs(roots.imag) < 1e-9].real[0])

    assert first_number(check("sinks under 200 g").expected) == pytest.approx(sinks(30e-3 * 200 / 7.2), abs=0.005)
    springy = replace(MADE, sound=replace(MADE.sound, held=replace(MADE.sound.held, sag=7.2e-3 * 9.80665 / 2750)))
    assert first_number(check("sinks under 200 g", made=springy).expected) == pytest.approx(sinks(0.713), abs=0.005)


def test_the_depth_of_the_coil() -> None:
    """By hand: (11.9 - 6) / 2 = 2.95 mm out; a shorter coil set 1 mm in, (4 - 6) / 2 - 1 = -2 mm."""
    assert "stands 2.95 mm in front of the front face of top plate" in step("Assembly").do[0]
    deep = replace(DESIGN, voice_coil=replace(DESIGN.voice_coil, h_w=4e-3, x_0=-1e-3))
    assert "stands 2 mm behind the front face of top plate" in step("Assembly", deep).do[0]


def test_the_depth_is_from_the_face_that_a_gauge_can_stand_on() -> None:
    """By hand: with a washer of 3 mm on the plate 2.95 - 3.03 = -0.08 mm; as part of the plate the middle rises by
    (3 + 0.03) / 2 and the coil with it: 2.95 + 1.515 - 3.03 = 1.435 mm. A ring within the bore hides no face."""
    washer = replace(DESIGN.iron.rings[-1], name="washer", t=3e-3, on="top plate", joint=0.03e-3)
    cap = replace(washer, name="cap", d_in=0.0, d_out=20e-3, on="pole, bar")
    iron = replace(DESIGN.iron, rings=(*DESIGN.iron.rings, washer, cap))
    assert "0.08 mm behind the front face of washer" in step("Assembly", replace(DESIGN, iron=iron)).do[0]
    both = replace(DESIGN, iron=replace(iron, plate=("top plate", "washer")))
    assert front_face(both)[0] == "washer"
    assert first_number(step("Assembly", both).do[0]) == pytest.approx(1.435, abs=0.0051)


def spool():
    """Washers on a bolt, the voice coil around the front ones: no iron outside."""
    ring = DESIGN.iron.rings[0]
    rings = (
        replace(ring, name="low flange", d_in=13e-3, d_out=37e-3, t=3e-3),
        replace(ring, name="shank", d_out=12e-3, t=60e-3),
        replace(ring, name="top flange", d_in=13e-3, d_out=37e-3, t=3e-3, z=45e-3),
    )
    field = replace(DESIGN.field_coil, D_f=14e-3, t_f=0.5e-3, z_w=5e-3, h_w=38e-3)
    voice = replace(DESIGN.voice_coil, D_f=38e-3, D_fi=37.8e-3, t_f=0.1e-3)
    design = replace(DESIGN, iron=Iron(name="spool", plate=("top flange",), rings=rings), field_coil=field)
    design = replace(design, voice_coil=voice)
    return design, replace(MADE, field_winding=replace(MADE.field_winding, D_w=34e-3))


def test_an_open_spool_has_neither_pole_nor_return_path() -> None:
    design, made = spool()
    words = " ".join(
        " ".join((*o.do, o.stop, *(f"{c.what} {c.expected} {c.if_low} {c.if_high}" for c in o.checks)))
        for o in operations(design, BRIEF, made)
    )
    assert "pole" not in words and "return path" not in words
    assert "run-out of top flange" in words and "freely over top flange" in words
    assert "slide over shank, ⌀12" in words and "between top flange and former" in words


def test_what_the_field_coil_must_pass_inside() -> None:
    """From the design: the pipe's bore is 53.1 mm; on the spool the former of 37.8 mm comes down where it is deep."""
    assert "inside pipe, bore ⌀53.1 mm" in step("Wind the field").checks[-1].if_high
    design, made = spool()
    high = replace(design, voice_coil=replace(design.voice_coil, h_w=1e-3, x_0=2e-3))
    assert "No iron stands around it" in step("Wind the field", high, made=made).checks[-1].if_high
    deep = replace(design, voice_coil=replace(design.voice_coil, x_0=-5e-3))
    assert "voice coil's former, ⌀37.8 mm" in step("Wind the field", deep, made=made).checks[-1].if_high


def test_holds_have_the_band_of_their_parts() -> None:
    """By hand, roots of sums of squares: 30 x 0.55 = 16.5 ± 0.6; (28.0 - 25.0) / 2 = 1.5 ± 0.05;
    58.06 with plates ± 0.1, pipe ± 0.2, joints ± 0.02, the back plate's own joint none, is ± 0.247."""
    wide = replace(DESIGN.field_coil.wire, spread=(("d_o", 0.02e-3),))
    spreads = {
        "back plate": (("t", 0.1e-3),),
        "pole, bar": (("d_out", 0.06e-3), ("t", 0.5e-3)),
        "pipe": (("t", 0.2e-3), ("joint", 0.02e-3)),
        "top plate": (("t", 0.1e-3), ("joint", 0.02e-3), ("d_in", 0.08e-3)),
    }
    rings = tuple(replace(ring, spread=spreads[ring.name]) for ring in DESIGN.iron.rings)
    voice = replace(DESIGN.voice_coil, spread=(("D_f", 0.12e-3),))
    loose = replace(
        DESIGN, iron=replace(DESIGN.iron, rings=rings), field_coil=replace(DESIGN.field_coil, wire=wide),
        voice_coil=voice,
    )  # fmt: skip
    assert check("reel 0.50: width", loose).expected == "16.5 mm (15.9 to 17.1)"
    assert check("gap pole to plate", loose).expected == "1.50 mm (1.45 to 1.55)"
    assert check("height of the whole stack", loose).expected == "58.06 mm (57.81 to 58.31)"
    assert check("outside ⌀", loose).expected == "25.90 mm (25.78 to 26.02)"


def test_a_voltage_limited_coil_is_read_cold_and_warm() -> None:
    """Ohm: at 17 °C 12 V / 16.22 Ω; at 70 °C inside 12 V / (R_20 (1 + 50 alpha))."""
    assert "the current falls as the copper warms" in step("First current").do[1]
    warm = 12 / (float(MADE.field_winding.R_20) * (1 + 50 * 0.00393))
    assert first_number(check("current at 12 V, cold").expected) == pytest.approx(0.740, abs=0.005)
    assert first_number(check("current at 12 V, warm").expected) == pytest.approx(warm, abs=0.005)


def test_the_tenth_is_not_clipped_by_the_limit_of_the_whole() -> None:
    """Ohm: a tenth of the volts over the band of the ohms, whatever the supply gives at most."""
    near = replace(MADE, bands=MADE.bands | {"excitation.I_f": Band(0.740, 0.70, 0.741, 0.740)})
    wish = replace(BRIEF, supply=replace(BRIEF.supply, I_max=0.741))
    one = check("current at 1.2 V", brief=wish, made=near)
    R = MADE.bands["field_winding.R_T"]
    low, high = (float(each) for each in re.findall(r"[\d.]+", one.expected)[1:])
    assert (low, high) == pytest.approx((1.2 / R.high, 1.2 / R.low), abs=0.0006)
    assert "Near its limit: if it holds 0.741 A" in step("First current", brief=wish, made=near).do[1]


def held(I_max: float, warm: float):
    """A supply that holds ``I_max`` cold and gives ``warm`` in the end."""
    R = float(MADE.field_winding.R_T)
    excited = replace(MADE.excitation, limit="current", I_f=I_max, V_f=I_max * R)
    made = replace(MADE, excitation=excited, heat=replace(MADE.heat, I_f=warm))
    bands = MADE.bands | {
        "excitation.I_f": Band(I_max, I_max, I_max, I_max), "excitation.V_f": demo.around(I_max * R, 0.07),
        "heat.I_f": Band(warm, warm, warm, warm), "heat.T_f": Band(70.0, 70.0, 70.0, 70.0),
    }  # fmt: skip
    return replace(BRIEF, supply=replace(BRIEF.supply, I_max=I_max)), replace(made, bands=bands)


def test_a_current_limited_coil_is_read_in_volts() -> None:
    """Ohm: 0.5 A through 16.22 Ω is 8.11 V cold, and 8.11 V times (1 + 50 alpha) / (1 - 3 alpha) warm."""
    wish, made = held(0.5, 0.5)
    first = step("First current", brief=wish, made=made)
    assert "Set bench 12 V to 12 V and 0.5 A" in first.do[1] and "the volts rise as the copper warms." in first.do[1]
    assert "current falls" not in " ".join(first.do)
    cold = first_number(check("volts at 0.5 A, cold", brief=wish, made=made).expected)
    assert cold == pytest.approx(8.11, abs=0.06)
    assert first_number(check("volts at 0.05 A", brief=wish, made=made).expected) == pytest.approx(0.811, abs=0.006)
    warm = check("volts at 0.5 A, warm", brief=wish, made=made).expected
    assert first_number(warm) == pytest.approx(8.11 * (1 + 50 * 0.00393) / (1 - 3 * 0.00393), abs=0.1)
    assert "field 12 V and 0.5 A from bench 12 V" in step("Label", brief=wish, made=made).do[0]


def test_the_copper_is_its_own_thermometer() -> None:
    """By hand: the enamel bears 105 °C, the mean is 5 K below the hot spot: R_20 (1 + 80 alpha) at 100 °C."""
    ohms = float(MADE.field_winding.R_20) * (1 + 80 * 0.00393)
    stop = step("First current").stop
    assert f"at {ohms:.3g} Ω (volts over amperes)" in stop and "the 105 °C that its enamel bears" in stop


def test_a_coil_that_meets_the_volts_when_warm_says_so() -> None:
    wish, made = held(0.72, 0.70)
    first = step("First current", brief=wish, made=made)
    assert "until they reach 12 V; from there on the current falls" in first.do[1]
    assert first_number(check("current at 12 V, warm", brief=wish, made=made).expected) == pytest.approx(0.70)
    assert not [one for one in first.checks if one.what.startswith("volts at 0.72 A, warm")]


def test_cold_and_warm_stand_side_by_side() -> None:
    """By hand: the warm level for 2.83 V is the cold one less what 1 W loses, 20 log10(I_warm / I_cold) in the demo."""
    assert first_number(check("20 g, motor warm").expected) == pytest.approx(0.196133 / MADE.heat.Bl, abs=0.0005)
    lost = 20 * math.log10(float(MADE.heat.I_f / MADE.excitation.I_f))
    warm = check("level, motor warm").expected
    assert first_number(warm) == pytest.approx(89.4 + lost, abs=0.06)
    assert first_number(check("level, motor cold").expected) == pytest.approx(89.4, abs=0.06)


def test_all_that_moves_is_weighed_before_it_is_hung() -> None:
    """By hand: 7.2 g less 0.2 g of the surround; cap and leads lie on the scale, too. A rim's line of glue, 0.184 g by
    the closed form below, comes later."""
    one = check("all that moves, lead-outs too, no surround yet")
    assert first_number(one.expected) == pytest.approx(7.0, abs=0.05)
    capped = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=1e-3), cap=CAP)
    assert check("all that moves, cap and lead-outs too, no surround or spider yet", capped).expected
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
    dust = " ".join(step("Dust cap", full, made=made).do)
    assert "⌀40, a dome 8 high" in dust and "it weighs 0.233 g" in dust
    stand = " ".join(step("Diaphragm", full, made=made).do)
    assert "6 strips of card 160 g/m², 4 high, from ⌀30 to ⌀90" in stand and "together 0.3 g" in stand


def test_strips_are_told_with_what_they_will_show() -> None:
    """Closed form: w = 3 g rho l⁴ / (2 E t³) is 1.8 mm of 70 mm of this card and 7.4 mm of 100 mm; l m g / (E w t) is
    0.74 mm under 10 g and 1.5 mm under 20 g, a quarter more after a minute where foam is so much softer then."""
    said = " ".join(step("Diaphragm").do)
    assert "strip of card 160 g/m² with 100 mm free" in said and "about 7.4 mm (droop)" in said
    assert "strip of foam 2 mm, 20 × 60 mm, hang 20 g on it" in said and "about 1.5 mm longer" in said
    slow = replace(DESIGN, surround=replace(DESIGN.surround, sheet=replace(demo.FOAM, k_dyn=1.25)))
    assert "about 1.8 mm longer" in " ".join(step("Diaphragm", slow).do)


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
    assert any(words.startswith("2 ports: ⌀30 inside, 60 long") for words in do)
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


def test_a_spider_is_glued_where_there_is_one() -> None:
    with_one = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=1e-3))
    assert any("spider" in words for words in step("Assembly", with_one).do)
    assert not any("spider" in words for words in step("Assembly").do)


def test_a_tenth_of_the_current_comes_first() -> None:
    """Ohm: a tenth of 12 V draws a tenth of 0.740 A."""
    assert first_number(check("current at 1.2 V").expected) == pytest.approx(0.0740, abs=0.0005)


@pytest.mark.parametrize(("layers", "words"), [(2, "Both ends leave at the front"), (3, "One end runs back")])
def test_where_the_ends_leave(layers, words) -> None:
    coil = replace(DESIGN.voice_coil, n_l=layers)
    assert words in step("Wind the voice", replace(DESIGN, voice_coil=coil)).do[1]


def test_the_summary_says_the_wish_and_the_build() -> None:
    words = summary(DESIGN, BRIEF, MADE)
    for piece in ("122 mm", "1500 turns", "106 turns", "0.74 A at 12 V", "88.2 dB (87.1 to 89.3)", "84 dB, 8 Ω, 90 Hz"):
        assert piece in words
    assert "gap of 1.5 mm" in words


def test_only_joints_that_shall_be_bright_are_filed() -> None:
    """By hand: a joint wider than the table's clean 0.03 mm stays and is told; without one all are filed bright."""
    assert "every face that meets another until bright and flat; no paint" in step("Iron").do[1]
    painted = replace(DESIGN.iron.rings[2], joint=0.13e-3)
    odd = replace(DESIGN.iron.rings[3], joint=0.2e-3)
    iron = replace(DESIGN.iron, rings=(*DESIGN.iron.rings[:2], painted, odd))
    words = step("Iron", replace(DESIGN, iron=iron)).do[1]
    assert "every other face" in words and "no paint" not in words
    assert "Left as planned: 0.13 of paint, tape, glue or air between back plate and pipe; 0.2 of" in words


def test_the_height_of_a_stack_that_hangs() -> None:
    """By hand: a magnet of 10 ± 0.1 under a back of 6 ± 0.05, joints 0.03 ± 0.02, a pole of 20 ± 0.3 on it: 36.03 mm.

    What both faces hang on cancels: the level of the back is ± 1 mm, the pole's own joint is none.
    """
    back = Ring(name="back", grade="mild steel", d_in=0.0, d_out=0.06, t=6e-3, spread=(("z", 1e-3), ("t", 0.05e-3)))
    under = replace(back, name="bucking", t=10e-3, under="back", joint=JOINT)
    under = replace(under, spread=(("t", 0.1e-3), ("joint", 0.02e-3)))
    pole = replace(back, name="pole", d_out=0.02, t=20e-3, on="back", spread=(("t", 0.3e-3),))
    found = stack_height(Iron(name="", plate=("pole",), rings=(back, under, pole)))
    wide = math.hypot(0.1, 0.02, 0.05, 0.3) * 1e-3
    assert found == pytest.approx((36.03e-3, 36.03e-3 - wide, 36.03e-3 + wide, 36.03e-3), abs=1e-9)

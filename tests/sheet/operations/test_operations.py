"""The operations: their order, and the numbers in them worked by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from handwound.parts.iron import Iron, Ring
from handwound.parts.moving import Spider
from handwound.parts.prediction import Band
from handwound.sheet.bands import stack_height
from handwound.sheet.build.operations import operations
from handwound.sheet.drawing.shapes import front_face
from handwound.sheet.summary import summary
from tests.sheet import demo
from tests.sheet.steps import BRIEF, DESIGN, MADE, check, first_number, reading, step

JOINT = 0.03e-3


def test_the_order() -> None:
    titles = [o.title.split(":")[0] for o in operations(DESIGN, BRIEF, MADE)]
    assert titles == [
        "Stock check", "Iron", "Spool of the field coil", "Wind the field coil", "Close the motor",
        "First current", "Mandrel and former",
        "Wind the voice coil", "Diaphragm", "Leads", "Frame and its holes", "Assembly on shims", "Surround",
        "Pull the shims, listen for rub", "Measure", "Dust cap", "First sound", "Label",
    ]  # fmt: skip


def test_every_check_says_what_to_do() -> None:
    for operation in operations(DESIGN, BRIEF, MADE)[:-1]:
        for one in operation.checks:
            assert one.expected and (one.if_low or one.if_high)


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
    assert "inside pipe, bore ⌀53.1 mm" in reading("FC3").if_high
    design, made = spool()
    high = replace(design, voice_coil=replace(design.voice_coil, h_w=1e-3, x_0=2e-3))
    assert "No iron stands around it" in reading("FC3", high, made).if_high
    deep = replace(design, voice_coil=replace(design.voice_coil, x_0=-5e-3))
    assert "voice coil's former, ⌀37.8 mm" in reading("FC3", deep, made).if_high


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
    assert reading("FO1", loose).expected == "25.90 mm (25.78 to 26.02)"


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
    assert "Set bench 12 V to 12 V and 0.5 A" in first.do[1] and "The volts rise as the copper warms." in first.do[1]
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


def test_a_spider_is_glued_where_there_is_one() -> None:
    with_one = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=1e-3))
    assert any("spider" in words for words in step("Assembly", with_one).do)
    assert not any("spider" in words for words in step("Assembly").do)


def test_a_tenth_of_the_current_comes_first() -> None:
    """Ohm: a tenth of 12 V draws a tenth of 0.740 A."""
    assert first_number(check("current at 1.2 V").expected) == pytest.approx(0.0740, abs=0.0005)


@pytest.mark.parametrize(
    ("layers", "words"),
    [(2, "layer 1 travels to the back"), (3, "runs straight along the former to the back end. Layer 1 goes over it")],
)
def test_where_the_ends_leave(layers, words) -> None:
    coil = replace(DESIGN.voice_coil, n_l=layers)
    told = step("Wind the voice", replace(DESIGN, voice_coil=coil)).do[1]
    assert words in told and "leaves at the front too, at 6:30" in told


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
    assert words == "File or grind bright and flat where these meet: pole, bar on back plate. No burr anywhere."
    left = step("Iron", replace(DESIGN, iron=iron)).do[2]
    assert "Leave as planned: 0.13 mm of paint, tape, glue or air between back plate and pipe; 0.2 mm of" in left
    dull = replace(iron, rings=tuple(replace(ring, joint=0.13e-3) for ring in iron.rings))
    assert not [words for words in step("Iron", replace(DESIGN, iron=dull)).do if "bright" in words]


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

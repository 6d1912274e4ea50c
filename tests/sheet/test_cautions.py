"""Each caution appears where it applies and only there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.parts.heat import Box
from handwound.parts.mounting import Baffle
from handwound.parts.moving import Bond
from handwound.parts.prediction import Band, MagnetState
from handwound.parts.sheet import Adhesive
from handwound.sheet.build.first_current import energise
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.cautions import cautions, kick
from handwound.sheet.fed import fed
from handwound.sheet.heard import BOOMS
from handwound.sheet.knee import knee_words
from handwound.sheet.numbers import key_numbers, numbers
from handwound.sheet.summary import summary
from handwound.sheet.warming import tables
from handwound.warming import burnt_out, until
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()
MEASURE = "Measure: resonance, impedance, Bl"


def found(design=DESIGN, brief=BRIEF, made=MADE):
    return {caution.topic: caution for caution in cautions(design, brief, made)}


def banded(key: str, *band: float):
    return replace(MADE, bands=MADE.bands | {key: Band(*band, band[0])})


def test_what_always_applies() -> None:
    topics = found()
    assert {"Hot motor", "Switch-off", "Glue and fumes", "Voice coil", "Steel", "Pull", "Hearing", "Mains"} == set(
        topics
    )
    assert not any(caution.stop for caution in topics.values())
    assert "Local codes come first" in topics["Mains"].text
    assert "inside at 75 °C" in topics["Hot motor"].text and "8.88 W" in topics["Hot motor"].text


def test_the_kick_is_the_energy_of_the_field() -> None:
    """Closed form: ½ L I² with 0.31 H and 12 V over 16.22 Ω is 0.085 J."""
    assert "0.085 J" in found()["Switch-off"].text and "diode" in found()["Switch-off"].text


@pytest.mark.parametrize(
    ("W_m", "I_f", "V_max", "volts", "diode"),
    [(0.36, 0.67, 12.0, "hundreds", "0.67 A and 50 V"), (0.36, 0.3, 40.0, "thousands", "0.3 A and 80 V"),
     (0.36, 0.67, 110.0, "thousands", "0.67 A and 220 V")],
)  # fmt: skip
def test_an_old_field_coil_kicks_harder(W_m, I_f, V_max, volts, diode) -> None:
    """By hand: 2 · 0.36 J / (0.3 A)² are 8 H, / (0.67 A)² 1.6 H; 5 H and 60 V divide (common practice, no source)."""
    assert f"{volts} of volts" in kick(W_m, I_f, V_max) and diode in kick(W_m, I_f, V_max)


@pytest.mark.parametrize(("volts", "warned"), [(12.0, False), (60.0, False), (61.0, True), (300.0, True)])
def test_voltage_above_60_is_for_licensed_practice(volts, warned) -> None:
    topics = found(brief=replace(BRIEF, supply=replace(BRIEF.supply, V_max=volts)))
    assert ("High voltage" in topics) is warned
    if warned:
        assert topics["High voltage"].stop and "licensed" in topics["High voltage"].text


@pytest.mark.parametrize(("amperes", "warned"), [(0.82, True), (0.823, False)])
def test_the_cold_current_against_90_percent(amperes, warned) -> None:
    """By hand: 12 V over 16.22 Ω is 0.740 A; 0.740 / 0.9 = 0.822 A."""
    topics = found(brief=replace(BRIEF, supply=replace(BRIEF.supply, I_max=amperes)))
    assert ("Supply" in topics) is warned


def test_a_supply_at_its_current_limit_must_bear_it() -> None:
    held = replace(MADE, excitation=replace(MADE.excitation, limit="current", I_f=2.0))
    assert not found(made=held)["Supply"].stop


@pytest.mark.parametrize(
    ("value", "low", "stop"), [(4.5, 4.0, None), (4.5, 3.99, False), (3.7, 3.19, False), (3.19, 3.0, True)]
)  # fmt: skip
def test_the_amplifier_and_its_80_percent(value, low, stop) -> None:
    """By hand: 80 % of 4 Ω is 3.2 Ω. The end of the band gives a caution, the planned value the stop."""
    caution = found(made=banded("driver.Z_min", value, low, value + 0.5)).get("Amplifier")
    assert (None if caution is None else caution.stop) == stop


@pytest.mark.parametrize(
    ("middle", "half", "asked", "stop"), [(50.0, 5, "", False), (54.0, 8, "may", False), (61.0, 8, "will", True)]
)  # fmt: skip
def test_the_touch_temperature(middle, half, asked, stop) -> None:
    """By hand: with music it comes to 54 °C at least; the half band on top is 59, 62 and 69 °C."""
    caution = found(made=banded("heat.T_case", middle, middle - half, middle + half))["Hot motor"]
    assert ("You asked for 60 °C" in caution.text, caution.stop) == (bool(asked), stop)
    assert f"it {asked} be hotter" in caution.text or not asked


@pytest.mark.parametrize(("watts", "warned"), [(15.0, True), (1.5, False)])
def test_a_tone_that_burns_the_voice_coil_is_told(watts, warned) -> None:
    """Ohm: 15 W into 4 Ω are 7.75 V; that is 1.21 A in 6.4 Ω and makes 8.6 W in the 5.9 Ω of the coil; 1.5 W make
    0.86 W. It bears 1.2 W, 1.1 at the least."""
    text = found(brief=replace(BRIEF, amplifier=replace(BRIEF.amplifier, P_max=watts)))["Voice coil"].text
    assert ("too much for it" in text) is warned
    if warned:
        assert f"makes {watts * 4 / 6.4**2 * float(MADE.driver.Re):.2g} W" in text


def test_when_a_hand_must_go_is_told() -> None:
    """Closed form: from 17 °C to 54 °C with 1800 s, 48 °C come after 1800 ln(37/6) = 3275 s = 54.6 min."""
    assert "Above 48 °C, here after 55 min, it burns" in found()["Hot motor"].text
    cool = replace(MADE, warming=replace(MADE.warming, T_case=MADE.warming.T_case - 10))
    assert "it burns a hand" not in found(made=cool)["Hot motor"].text


@pytest.mark.parametrize(("T_max", "stop"), [(90.0, None), (78.0, False), (74.0, True)])
def test_enamel_that_the_hot_spot_spoils(T_max, stop) -> None:
    """By hand: 75 °C as planned, up to 80.25 °C. The end of the band warns, the plan itself stops."""
    coil = replace(DESIGN.field_coil, wire=replace(DESIGN.field_coil.wire, T_max=T_max))
    caution = found(replace(DESIGN, field_coil=coil)).get("Too hot inside")
    assert (None if caution is None else caution.stop) == stop
    if caution:
        gets = "gets 75 °C, too much after" if stop else "may get 80 °C"
        assert f"bears {T_max:.0f} °C and {gets}" in caution.text


@pytest.mark.parametrize(("P_cont", "stop"), [(1.2, False), (0.0, True)])
def test_a_glue_that_the_field_coil_alone_softens_is_a_stop(P_cont, stop) -> None:
    made = replace(MADE, rating=replace(MADE.rating, P_cont=P_cont), bands={})
    caution = found(made=made)["Voice coil"]
    assert caution.stop is stop and "its glue" in caution.text and "80 °C" in caution.text
    assert ("before any music" in caution.text) is stop


def test_music_that_may_be_too_much_is_told() -> None:
    """The high end of the band decides: 80 °C is what the glue bears."""
    assert "too warm" not in found()["Voice coil"].text
    maybe, surely = (found(made=banded("rating.T_vc", T, 60.0, 85.0))["Voice coil"] for T in (66.0, 82.0))
    assert "may be too warm" in maybe.text and not maybe.stop
    assert "is too warm" in surely.text and surely.stop


def test_a_tight_gap_is_told() -> None:
    caution = found(made=banded("clearance.c_i", 0.25e-3, 0.15e-3, 0.35e-3))["Clearance"]
    assert not caution.stop and "inside 0.25 mm (0.15 to 0.35)" in caution.text and "outside" not in caution.text
    assert found(made=banded("clearance.c_i", 0.15e-3, 0.1e-3, 0.2e-3))["Clearance"].stop


@pytest.mark.parametrize(("dL_peak", "says"), [(3.9, None), (4.5, "4 dB"), (9.7, "10 dB")])
def test_a_boomy_driver_says_how_much(dL_peak, says) -> None:
    """Kind of truth: by reading. What counts is the level where the driver is built in."""
    made = replace(MADE, mounted=replace(MADE.mounted, dL_peak=dL_peak, f_c=88.0), bands={})
    caution = found(made=made).get("Boomy")
    assert (caution is None) is (says is None)
    if caution and says:
        assert f"{says} louder at about 88 Hz" in caution.text and not caution.stop
        assert "a closed box makes it worse" in caution.text
    boxed = found(brief=replace(BRIEF, box=Box(V_box=5e-3, t_box=0.015)), made=made).get("Boomy")
    assert boxed is None or "a larger box helps" in boxed.text


def test_it_booms_from_the_peak_of_a_q_of_one_and_a_half_on() -> None:
    """Closed form: the peak of a second-order high pass is Q² / sqrt(Q² - 1/4), Small 1972 (from memory)."""
    assert pytest.approx(20 * np.log10(1.5**2 / np.sqrt(1.5**2 - 0.25)), abs=0.05) == BOOMS


def test_an_open_motor_has_no_outer_clearance() -> None:
    assert "Clearance" not in found(made=replace(MADE, clearance=replace(MADE.clearance, c_o=None)))


@pytest.mark.parametrize(
    ("kind", "word"), [("epoxy", "gloves"), ("Cyanoacrylate gel", "goggles"), ("contact", "flame"), ("hide", "label")]
)
def test_each_glue_has_its_own_warning(kind, word) -> None:
    assert DESIGN.glue is not None
    text = found(replace(DESIGN, glue=replace(DESIGN.glue, kind=kind)))["Glue and fumes"].text
    assert word in text and "80 °C" in text
    assert "scrape the wire" in found(replace(DESIGN, glue=None))["Glue and fumes"].text


def test_every_glue_is_warned_of_once_and_dust_of_boards_where_there_are_any() -> None:
    """Kind of truth: by reading."""
    bonds = tuple(
        Bond(name=f"line {k}", at="rim", glue=Adhesive(name=name, kind=kind, T_max=70.0, rho_m=1100.0, E=1e9),
             w_bond=5e-3, t_bond=1e-4)
        for k, (name, kind) in enumerate((("spray", "contact"), ("white", "hide"), ("spray", "contact")))
    )  # fmt: skip
    text = found(replace(DESIGN, bonds=bonds))["Glue and fumes"].text
    assert text.count("spray") == 1 and "spray: its solvent is harmful" in text and "white: read its label" in text
    assert "mask" in text and "Boards" not in found()
    boards = found(brief=replace(BRIEF, baffle=Baffle(W_baffle=0.4, H_baffle=0.5)))["Boards"].text
    assert "saw" in boards and "goggles" in boards


def test_a_resistor_in_series_saves_the_amplifier_and_takes_watts() -> None:
    """Ohm: 15 W into 4 Ω are 7.75 V; through 4 Ω beside 5.9 Ω they leave 5.9 / 9.9² of 60 V² = 3.6 W of 10.2 W. Where
    the sound was looked into, by the least that was met there, 6.4 Ω: 5.9 / 6.4² of 60 V²."""
    tight = replace(BRIEF, amplifier=replace(BRIEF.amplifier, Z_least=8.0))
    assert "Amplifier" in found(brief=tight)
    assert "Amplifier" not in found(brief=replace(tight, R_series=4.0))
    Re = float(MADE.driver.Re)
    text = found(brief=replace(BRIEF, R_series=4.0), made=replace(MADE, sound=None))["Hearing"].text
    assert f"{60 * Re / (float(MADE.driver.Z_min) + 4) ** 2:.2g} W in this coil" in text
    assert f"{60 * Re / 6.4**2:.2g} W in this coil" in found()["Hearing"].text


@pytest.mark.parametrize(("watts", "warned"), [(0.7, False), (1.0, True), (15.0, True)])
def test_hearing(watts, warned) -> None:
    """Ohm: 5.9 x 4 / 6.4² of the watts come into this coil. 0.40 W give 84.2 dB, 0.58 W 85.8 dB, 8.6 W 97.6 dB."""
    topics = found(brief=replace(BRIEF, amplifier=replace(BRIEF.amplifier, P_max=watts)))
    assert ("Hearing" in topics) is warned
    if watts == 15.0:
        assert "98 dB" in topics["Hearing"].text and "8.6 W in this coil" in topics["Hearing"].text


def test_a_touch_limit_that_music_oversteps_is_a_stop() -> None:
    """By hand: silent it stays at 54 °C, with music it comes to 64 °C where 60 °C may be touched."""
    louder = replace(MADE, warming=replace(MADE.warming, T_case=MADE.warming.T_case + 10))
    caution = found(made=louder)["Hot motor"]
    assert caution.stop and "with music 64 °C" in caution.text and "it will be hotter" in caution.text


def test_what_burns_out_is_told_before_all_else() -> None:
    """Closed form: 2000 K with 1800 s pass 400 °C from 17 °C after 1800 ln(2000/1617) = 383 s = 6.4 min."""
    T_hot = 17 + 2000 * (1 - np.exp(-MADE.warming.t_w / 1800))
    hot = burning(T_hot)
    first = cautions(DESIGN, BRIEF, hot)[0]
    assert first.stop and first.topic == "Runs away" and "burns out after 6.4 min" in first.text
    assert "Hot motor" not in found(made=hot)
    assert "the coil burns out after 6.4 min" in summary(DESIGN, BRIEF, hot)
    assert not {"heat", "rating"} & {each.stage for group in numbers(hot) for each in group.numbers}
    assert not {"heat"} & {each.stage for each in key_numbers(hot)}
    over_time, bears = tables(DESIGN, BRIEF, hot)
    assert over_time.rows[0][-1] == "burns out after 6.4 min" and "runs away" in over_time.note
    assert not any(cell.startswith("2017") for table in (over_time, bears) for cells in table.rows for cell in cells)
    steps = {step.title: step for step in operations(DESIGN, BRIEF, hot)}
    assert all("Not before it has another supply" in steps[name].do[0] for name in ("First sound", MEASURE))
    assert "field" not in steps["Label"].do[0]
    assert "Do not switch it on" in energise(Build(DESIGN, BRIEF, hot), fed(DESIGN, BRIEF, hot)).do[0]


def test_what_is_too_hot_for_good_is_told_when_to_go_off() -> None:
    """Closed form: the hot spot comes from 17 °C to 75 °C with 1800 s, to 70 °C after 1800 ln(58/5) = 74 min."""
    coil = replace(DESIGN.field_coil, wire=replace(DESIGN.field_coil.wire, T_max=70.0))
    hot = replace(DESIGN, field_coil=coil)
    step = energise(Build(hot, BRIEF, MADE), fed(hot, BRIEF, MADE))
    assert any("Do not leave it on: off after 74 min (enamel of the field coil)" in words for words in step.do)
    assert step.checks and not any("warm" in check.what for check in step.checks)
    lasting = energise(Build(DESIGN, BRIEF, MADE), fed(DESIGN, BRIEF, MADE))
    assert any("warm" in check.what for check in lasting.checks)


def test_a_music_that_may_not_be_is_said_in_one_sentence() -> None:
    none = replace(MADE, rating=replace(MADE.rating, P_cont=0.0), bands={})
    note = tables(DESIGN, BRIEF, none)[1].note
    assert "The field coil alone brings the glue past 80 °C: no music at all." in note and "0 W" not in note


def burning(T_hot):
    """The driver with a hot spot of its own, up to where it burns out."""
    whole = replace(MADE.warming, T_hot=T_hot)
    t_out = burnt_out(whole)
    assert t_out is not None
    return replace(MADE, heat=replace(MADE.heat, T_hot=float(T_hot[-1])), warming=until(whole, t_out))


def test_stops_come_first() -> None:
    order = [c.stop for c in cautions(DESIGN, BRIEF, banded("driver.Z_min", 2.0, 1.5, 2.5))]
    assert order == sorted(order, reverse=True) and order[0]


@pytest.mark.parametrize(
    ("T_knee", "dH", "word", "T_end", "warned"),
    [(-51.0, 60e3, "cold", 90.0, False), (-10.0, 60e3, "cold", None, True), (100.0, 90e3, "hot", None, False),
     (70.0, 90e3, "hot", 40.0, True), (-51.0, 20e3, "cold", 40.0, True), (float("nan"), 90e3, "hot", 90.0, False),
     (100.0, 90e3, "hot", 85.0, False), (100.0, 90e3, "hot", 92.0, True)],
)  # fmt: skip
def test_a_magnet_near_its_knee_is_told(T_knee, dH, word, T_end, warned) -> None:
    """Kept down to -20 °C and played up to 80 °C, or as warm as it gets: common practice, no source."""
    state = MagnetState(
        name="ring", grade="Y30", T=20.0, B_m=0.26, H_m=-79e3, dH=dH, T_knee=T_knee, word=word, T_end=T_end
    )  # fmt: skip
    rings = (*DESIGN.iron.rings, replace(DESIGN.iron.rings[0], name="ring", grade="Y30", magnetised="up"))
    design = replace(DESIGN, iron=replace(DESIGN.iron, rings=rings))
    made = replace(MADE, curves=replace(MADE.curves, magnets=(state,)))
    assert ("Knee" in found(design, made=made)) is warned


@pytest.mark.parametrize(
    ("T_end", "said"),
    [(60.0, "would be lost for good when as hot as 110 °C"), (120.0, "gets 120 °C, and can bear 110 °C")],
)
def test_a_magnet_that_gets_too_warm_is_told_so(T_end, said) -> None:
    state = MagnetState(
        name="disc", grade="N42", T=20.0, B_m=0.9, H_m=-300e3, dH=300e3, T_knee=110.0, word="hot", T_end=T_end
    )
    assert said in knee_words(state)

"""The answers to what makers ask of the sound. Kind of truth: by reading, and the record's own numbers."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace

import pypdf
import pytest

from handwound.faces import records
from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.prediction import Band
from handwound.sheet import heard
from tests.faces.test_pdf import DAY
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()
SOUND = MADE.sound
BOX = Box(V_box=8e-3, t_box=0.015)


def answers(design=DESIGN, brief=BRIEF, made=MADE) -> dict[str, str]:
    return dict(heard.tables(design, brief, made)[0].rows[1:])


def answer(question: str, **kw) -> str:
    (one,) = [told for asked, told in answers(**kw).items() if question in asked]
    return one


def told(**changes):
    return replace(MADE, sound=replace(SOUND, **changes))


def test_each_question_has_its_answer() -> None:
    asked = " ".join(answers())
    for needed in ("how loud?", "how low?", "boom", "baffle or box", "how far", "amplifier?", "card", "alone"):
        assert needed in asked
    assert "95 Hz, its resonance, alone" in asked


def test_what_nobody_heard_has_no_table() -> None:
    assert heard.tables(DESIGN, BRIEF, replace(MADE, sound=None)) == ()


def test_loudness_cold_and_warm_each_with_its_band() -> None:
    said = answer("how loud?")
    assert re.match(r"88\.2 dB \(87\.1 to 89\.3\) at 1 m for 1 W, warm 86\.5 dB \(85\.5 to 87\.6\)$", said)
    assert "warm" not in answer("how loud?", made=replace(MADE, heat=None))


def test_low_notes_say_what_it_is_built_into() -> None:
    assert "62 Hz (58 to 66) is 10 dB down" in answer("how low?") and "in a large wall" in answer("how low?")
    assert "you asked for 90 Hz" in answer("how low?")
    assert "in a closed box of 8 l;" in answer("how low?", brief=replace(BRIEF, box=BOX))


@pytest.mark.parametrize(
    ("brief", "back", "words"),
    [
        (BRIEF, None, "in a large wall"),
        (replace(BRIEF, baffle=Baffle(W_baffle=0.4, H_baffle=0.6)), None, "in an open board of 400 mm × 600 mm"),
        (replace(BRIEF, box=BOX), None, "in a closed box of 8 l"),
        (replace(BRIEF, box=BOX, port=Port(n_port=1, d_port=0.04, l_port=0.1, Q_leak=7.0)), None,
         "in a box of 8 l with a port"),
        (BRIEF, Back(V_back=1e-4, n_vent=6, d_vent=0.01, t_vent=1e-3), "in a large wall, with its own back"),
    ],
)  # fmt: skip
def test_what_it_is_built_into_in_words(brief, back, words) -> None:
    assert heard.built_in(brief, replace(DESIGN, back=back)) == words


@pytest.mark.parametrize(
    ("peak", "says"),
    [
        ((0.2, 0.0, 0.6), "no"),
        ((0.5, -1.0, 2.0), "no, as planned; up to 2 dB"),
        ((2.5, 1.0, 4.0), "a little: 2.5 dB"),
        ((6.0, 5.0, 7.0), "yes: 6.0 dB"),
    ],
)
def test_a_boom_in_words(peak, says) -> None:
    made = replace(MADE, bands=MADE.bands | {"mounted.dL_peak": Band(*peak, peak[0])})
    assert answer("boom", made=made).startswith(says)


def test_where_to_put_it_names_the_smallest_that_do() -> None:
    """The smallest closed box and board of the places; where none does, the wall; where not even that, masses."""
    low = replace(SOUND.places[1], is_least=True)
    board = replace(low, kind="open board", V_box=None, W_baffle=0.41)
    both = answer("baffle or box", made=told(places=(SOUND.places[0], board, low)))
    assert "open board 410 mm square or closed box of 12 l" in both
    assert "only a large wall brings 90 Hz" in answer("baffle or box")
    dull = replace(SOUND.places[0], found=replace(SOUND.places[0].found, f_10=200.0))
    assert "not even a large wall brings 90 Hz" in answer("baffle or box", made=told(places=(dull,)))


def test_a_note_that_is_never_reached_is_no_number() -> None:
    """Low notes are looked for up to 1 kHz (sounding.LOW)."""
    beyond = replace(MADE.mounted, f_10=1000.0)
    made = replace(MADE, mounted=beyond, bands={k: b for k, b in MADE.bands.items() if k != "mounted.f_10"})
    assert answer("how low?", made=made).startswith("nothing up to 1000 Hz is 10 dB down")
    dull = replace(SOUND.places[1], found=replace(SOUND.places[1].found, f_10=1000.0, f_3=1000.0))
    rows = heard.tables(DESIGN, BRIEF, told(places=(SOUND.places[0], dull)))[1].rows
    assert rows[2][2:4] == ("over 1000 Hz", "over 1000 Hz")


def test_even_and_stiff_are_two_things() -> None:
    """Why the one comes before the other is said only where it does."""
    for f_even, is_before in ((600.0, True), (2500.0, False)):
        said = answer("how far up", made=told(breakup=replace(SOUND.breakup, f_even=f_even)))
        assert said.startswith(f"to {f_even:.0f} Hz it is within 3 dB") and ("before it bends" in said) == is_before


def test_the_stroke_is_held_against_the_wish() -> None:
    """1.73 mm are less than the 2 mm of the brief; the stop that is not met is not told."""
    said = answer("how far can")
    assert said.startswith("1.7 mm to each side, less than the 2 mm you asked for; ends: force factor 2.6 mm")
    assert "suspension 1.7 mm" in said and "gap 3.1 mm" in said and "stop" not in said
    assert "you asked for 1 mm" in answer("how far can", brief=replace(BRIEF, x_pk=1e-3))


def test_the_loudest_tones_are_those_of_the_record() -> None:
    record = json.loads(records.text(records.prediction(DESIGN, BRIEF, MADE)))["sound"]["loudest"]
    for f, question in ((100.0, "tone at 100 Hz"), (1000.0, "tone at 1000 Hz")):
        k = record["f"]["values"].index(f)
        said = answer(question)
        assert said.startswith(f"{record['L_max']['values'][k]:.3g} dB with {record['U_max']['values'][k]:.2g} V")
    assert answer("tone at 100 Hz").endswith("then the suspension ends the stroke")
    assert answer("tone at 1000 Hz").endswith("then the heat of the voice coil")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"Z_min": 6.4}, "yes: 6.4 Ω at 310 Hz is the least it meets, school amplifier is rated for 4 Ω"),
        ({"Z_min": 3.5}, "just, common practice allows 80 %: 3.5 Ω"),
        ({"Z_min": 2.5, "R_add": 0.82, "dL_add": 2.1}, "0.82 Ω in series keeps it safe and takes up to 2.1 dB, least"),
    ],
)
def test_the_amplifier_by_the_rule_of_four_fifths(changes, says) -> None:
    """Kind of truth: common practice, 80 % of the rated load (IEC 60268-5, from memory)."""
    assert says in answer("safe", made=told(load=replace(SOUND.load, **changes)))


def test_the_card_beside_a_flat_one() -> None:
    assert "cone of card 160 g/m² moves as a whole to 1800 Hz" in answer("card")
    assert "flat it would to 150 Hz" in answer("card")
    assert "flat" not in answer("card", made=told(f_flat=None))


def test_a_wished_tone_says_what_makes_it_louder() -> None:
    """Kind of truth: by reading. Without a wish only how loud it is."""
    wish = replace(BRIEF, f_tone=440.0)
    tone = replace(SOUND.tone, f_tone=440.0, R_source=8.0, k_N=1.3, dL_turns=0.6, m_add=None, K_add=5e3, dL_tuned=3.0)
    said = answer("440 Hz alone", brief=wish, made=told(tone=tone))
    assert "through 8 Ω" in said and "1.3 times the turns +0.6 dB" in said and "5 N/mm more stiffness +3.0 dB" in said
    assert "more" not in answer("95 Hz")


def test_every_place_has_its_size_and_its_lowest_note() -> None:
    rows = heard.tables(DESIGN, BRIEF, MADE)[1].rows
    assert rows[1] == ("endless wall: nothing goes round", "", "62 Hz", "92 Hz", "+0.4 dB", "95 Hz")
    assert rows[2] == ("closed box: as even as can be", "12 l", "75 Hz", "120 Hz", "+0.0 dB", "120 Hz")
    tuned = replace(SOUND.places[1], kind="box with a port", d_port=0.05, l_port=0.12, f_box=61.0)
    rows = heard.tables(DESIGN, BRIEF, told(places=(*SOUND.places, tuned)))[1].rows
    assert rows[3][1] == "12 l, port ⌀50 mm × 120 mm, tuned to 61 Hz"


def test_the_sheet_has_it() -> None:
    page = write.sheet_pdf(DESIGN, replace(BRIEF, box=BOX), MADE, Print(DAY))
    words = [" ".join(each.extract_text().split()) for each in pypdf.PdfReader(io.BytesIO(page)).pages]
    text = " ".join(words)
    for needed in ("How it will sound", "What it can be built into", "loudest steady tone", "where it goes",
                   "stiffness in N/mm", "in a closed box of 8 l", "30° off the axis", "Build it in"):  # fmt: skip
        assert needed in text

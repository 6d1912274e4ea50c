"""Coils in several sections: where they end and what each reads, by hand from the ladder."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handwound.sheet.build.operations import operations
from handwound.sheet.sections import section_ends, section_words
from handwound.sheet.winding import field_ladder
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()
LAYERS = MADE.field_ladder


def split(n_sec: int, connection: str = "series"):
    return replace(DESIGN.field_coil, n_sec=n_sec, connection=connection)


def test_a_coil_in_one_piece_has_no_ends() -> None:
    assert section_ends(DESIGN.field_coil, LAYERS) == () and section_words(DESIGN.field_coil, LAYERS) == ""
    assert not any(rung.end for rung in field_ladder(DESIGN, BRIEF, MADE).rungs)


def test_four_sections_of_five_layers() -> None:
    """20 layers of 75 turns: the ends stand at full layers, and the ohms of all add up to the coil's."""
    ends = section_ends(split(4), LAYERS)
    assert [(end.n_layer, end.N, end.full) for end in ends] == [(k, 75 * k, True) for k in (5, 10, 15, 20)]
    assert ends[1].R_T.value == pytest.approx(LAYERS[9].R_T - LAYERS[4].R_T)
    assert sum(end.R_T.value for end in ends) == pytest.approx(LAYERS[-1].R_T)
    assert ends[3].R_T.high / ends[3].R_T.value == pytest.approx(LAYERS[-1].R_T_band.high / LAYERS[-1].R_T)


def test_three_sections_end_within_layers() -> None:
    """1500 / 3 = 500 turns: 450 are full at layer 6, so the first ends 50 of 75 turns into layer 7."""
    first, second, _ = section_ends(split(3), LAYERS)
    assert (first.n_layer, first.N, first.full) == (7, 500, False)
    assert first.R_T.value == pytest.approx(LAYERS[5].R_T + (LAYERS[6].R_T - LAYERS[5].R_T) * 50 / 75)
    assert (second.n_layer, second.N) == (14, 1000)
    assert "1 in layer 7 at turn 500" in section_words(split(3), LAYERS)


def test_more_sections_than_layers() -> None:
    """Two layers in five: the first ends within the first layer, at two fifths of its turns and of its ohms."""
    coil, layers = replace(split(5), n_l=2), LAYERS[:2]
    first = section_ends(coil, layers)[0]
    assert (first.n_layer, first.N) == (1, 30)
    assert first.R_T.value == pytest.approx(LAYERS[0].R_T * 30 / 75)


@pytest.mark.parametrize(("connection", "words"), [("series", "end of each section"), ("parallel", "all starts")])
def test_the_ladder_and_the_step_say_how_they_are_joined(connection, words) -> None:
    """Ohm: four equal paths in parallel read a sixteenth of the whole; here the prediction says what they read."""
    design = replace(DESIGN, field_coil=split(4, connection))
    made = replace(MADE, field_winding=replace(MADE.field_winding, R_T=LAYERS[-1].R_T / 16), bands={})
    ladder = field_ladder(design, BRIEF, made)
    assert [(rung.n_layer, rung.end) for rung in ladder.rungs if rung.end] == [
        ("5", "1"), ("10", "2"), ("15", "3"), ("20", "4")
    ]  # fmt: skip
    assert words in ladder.sections.split("Join")[1]
    (step,) = [o for o in operations(design, BRIEF, made) if o.title == "Wind the field coil"]
    assert ladder.sections in step.do
    joined = [one.expected for one in step.checks if "in parallel" in one.what]
    assert joined == ([] if connection == "series" else [f"{LAYERS[-1].R_T / 16:.3g} Ω"])

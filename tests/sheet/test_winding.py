"""The ladder's rows and holds, against numbers worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwound.sheet.winding import field_ladder, holds, voice_ladder
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()


@pytest.mark.parametrize(
    ("count", "at"), [(1, (1,)), (2, (1, 2)), (3, (2, 3)), (6, (2, 3, 6)), (20, (2, 10, 20)), (41, (2, 21, 41))]
)
def test_holds_at_the_second_the_half_and_the_last(count, at) -> None:
    assert holds(count) == at


def test_the_first_rung_by_hand() -> None:
    """Closed form: 75 turns of ⌀29.05 mean, R = 4 rho l / (pi d²), 1.2 % less at 17 °C; the band as given, 6 %."""
    rung = field_ladder(DESIGN, BRIEF, MADE).rungs[0]
    R_20 = 4 * 1.724e-8 * 75 * math.pi * 29.05e-3 / (math.pi * 0.5e-3**2)
    R_T = R_20 * (1 - 3 * 0.00393)
    assert (rung.n_layer, rung.N_l, rung.N, rung.D_w) == ("1", "75", "75", "29.60")
    assert float(rung.R_20) == pytest.approx(R_20, abs=0.00051)
    assert [float(each) for each in (rung.low, rung.R_T, rung.high)] == pytest.approx(
        [0.94 * R_T, R_T, 1.06 * R_T], abs=0.00051
    )


def test_the_ladder_ends_where_the_coil_does() -> None:
    ladder = field_ladder(DESIGN, BRIEF, MADE)
    assert len(ladder.rungs) == 20
    assert ladder.rungs[-1].N == f"{MADE.field_winding.N:.0f}"
    assert [int(rung.n_layer) for rung in ladder.rungs if rung.hold] == [2, 10, 20]
    assert [int(rung.n_layer) for rung in ladder.rungs if rung.tape] == [5, 10, 15]
    assert [hold.layer for hold in ladder.holds] == ["after layer 2", "after layer 10", "after layer 20"]
    assert "reel 0.50" in ladder.wire and "copper 0.5 mm" in ladder.wire and "0.55 mm" in ladder.wire


def test_an_untaped_coil_has_no_tape() -> None:
    bare = replace(DESIGN, field_coil=replace(DESIGN.field_coil, n_tape=0))
    assert not any(rung.tape for rung in field_ladder(bare, BRIEF, MADE).rungs)


def test_the_wire_that_a_low_reading_speaks_of() -> None:
    """Closed form: R goes as one over the square of the copper's diameter. Layer 10 has a band of 4.2 %."""
    hold = field_ladder(DESIGN, BRIEF, MADE).holds[1]
    assert f"{0.5 / math.sqrt(1 - 0.042):.3f}".rstrip("0") + " mm or more" in hold.if_low
    assert f"{0.5 / math.sqrt(1 + 0.042):.3g} mm or less" in hold.if_high


def test_what_a_low_coil_does_depends_on_the_supply() -> None:
    """V²/R rises, I²R falls with less resistance: closed form."""
    by_voltage = field_ladder(DESIGN, BRIEF, MADE).holds[-1]
    assert "At 12 V the ampere-turns and the watts rise" in by_voltage.if_low and "1.8 A" in by_voltage.if_low
    held = replace(MADE, excitation=replace(MADE.excitation, limit="current"))
    by_current = field_ladder(DESIGN, BRIEF, held).holds[-1]
    assert "ampere-turns stay and the watts fall" in by_current.if_low
    assert "watts rise" in by_current.if_high


def test_a_low_voice_coil_is_held_against_the_amplifier() -> None:
    hold = voice_ladder(DESIGN, BRIEF, MADE).holds[-1]
    assert "below 3.2 Ω" in hold.if_low and "80 %" in hold.if_low
    assert "plan the coil again" in voice_ladder(DESIGN, BRIEF, MADE).holds[0].if_low


def test_large_and_small_resistances_keep_three_figures() -> None:
    for job in (demo.job(0.3, 6), demo.job(1.0, 40)):
        for rung in field_ladder(*job).rungs:
            assert len(rung.R_T.replace(".", "").lstrip("0")) >= 2
            assert rung.low != rung.R_T != rung.high

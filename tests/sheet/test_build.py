"""The operations: their order, and the numbers in them worked by hand."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from handwound.parts.moving import Spider
from handwound.sheet.build import operations
from handwound.sheet.summary import summary
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()


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
    """Closed form: x = m g / K; with 2750 N/m 20 g sink 0.07 mm, 200 g 0.71 mm."""
    assert first_number(check("sinks under 200 g").expected) == pytest.approx(0.713, abs=0.005)


def test_the_depth_of_the_coil() -> None:
    """By hand: (11.9 - 6) / 2 = 2.95 mm out; a shorter coil set 1 mm in, (4 - 6) / 2 - 1 = -2 mm."""
    assert "stands 2.95 mm out of the plate" in step("Assembly").do[0]
    deep = replace(DESIGN, voice_coil=replace(DESIGN.voice_coil, h_w=4e-3, x_0=-1e-3))
    assert "stands 2 mm behind the front of the plate" in step("Assembly", deep).do[0]


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

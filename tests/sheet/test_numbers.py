"""How numbers are rounded, and that every number of a prediction is shown with its words and its band."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.parts.prediction import Band
from handwound.quantities import quantities, units
from handwound.sheet.digits import banded, to_place, with_band
from handwound.sheet.numbers import KEY, key_numbers, numbers
from tests.sheet import demo

_, _, MADE = demo.job()


@pytest.mark.parametrize(
    ("name", "band", "text"),
    [
        ("Bl", Band(4.213, 3.913, 4.513, 4.213), ("4.2", "3.9", "4.5")),
        ("Bl", Band(4.213, 4.051, 4.375, 4.213), ("4.21", "4.05", "4.38")),
        ("Kms", Band(382.0, 190.0, 800.0, 382.0), ("0.38", "0.19", "0.80")),
        ("A_case", Band(196.67e-4, 196.39e-4, 196.95e-4, 196.67e-4), ("196.7", "196.4", "196.9")),
        ("Mms", Band(7.7e-3, 7.2e-3, 8.2e-3, 7.7e-3), ("7.7", "7.2", "8.2")),
        ("fs", Band(95.4, 80.0, 110.0, 95.4), ("95", "80", "110")),
        ("fs", Band(95.4, 45.0, 160.0, 95.4), ("95", "45", "160")),
        ("fs", Band(1594.0, 1368.0, 2470.0, 1594.0), ("1600", "1400", "2500")),
        ("fs", Band(1606.0, 1402.0, 1842.0, 1606.0), ("1610", "1400", "1840")),
        ("f_10", Band(1606.0, 1580.0, 1622.0, 1606.0), ("1606", "1580", "1622")),
        ("dL_peak", Band(-0.04, -0.8, 1.5, -0.04), ("0.0", "-0.8", "1.5")),
        ("N", Band(1500, 1470.4, 1529.7, 1500), ("1500", "1470", "1530")),
        ("eta_0", Band(0.0041, 0.0035, 0.0047, 0.0041), ("0.41", "0.35", "0.47")),
        ("Re", Band(5.9, 5.9, 5.9, 5.9), ("5.9", "5.9", "5.9")),
    ],
)
def test_rounding_by_hand(name, band, text) -> None:
    assert banded(name, band) == text


@given(st.floats(1e-3, 1e3), st.floats(1e-2, 0.9))
def test_a_band_is_still_seen_after_rounding(value, share) -> None:
    """Rounding may move an end by at most a fifth of half the band."""
    band = Band(value, value * (1 - share), value * (1 + share), value)
    middle, low, high = (float(text) for text in banded("Re", band))
    assert low < middle < high
    step = 0.2 * value * share + 1e-9
    assert abs(low - band.low) <= step and abs(high - band.high) <= step


def test_words_around_a_number() -> None:
    assert with_band("Bl", Band(4.2, 3.9, 4.5, 4.2)) == "4.2 T·m (3.9 to 4.5)"
    assert with_band("Qts", Band(0.7, 0.7, 0.7, 0.7)) == "0.7"
    assert to_place("D_w", 0.0296, 2) == "29.60"


def test_every_number_is_there_once() -> None:
    shown = [(number.stage, number.name) for group in numbers(MADE) for number in group.numbers]
    absent = {f"moving.{m}" for m in ("m_sp", "m_cap", "m_rib", "m_g")}  # no spider, cap, rib, line of glue
    absent |= {"field_winding.bulge", "voice_winding.bulge"}  # no crossing, no splice
    assert {f"{stage}.{name}" for stage, name in shown} == set(MADE.numbers()) - absent
    assert len(shown) == len(set(shown))


def test_each_has_the_words_and_the_unit_of_the_table() -> None:
    for group in numbers(MADE):
        for number in group.numbers:
            quantity = quantities()[number.name]
            assert number.words == quantity.words
            assert number.unit == ("" if quantity.shown == "1" else quantity.shown)
            scale = units()[quantity.shown].scale
            assert float(number.value) == pytest.approx(
                MADE.numbers()[f"{number.stage}.{number.name}"] / scale, rel=0.05
            )


def test_a_number_without_a_band_stands_alone() -> None:
    bare = replace(MADE, bands={})
    assert all(number.low == number.value == number.high for group in numbers(bare) for number in group.numbers)


def test_the_key_numbers_leave_out_what_is_not_there() -> None:
    assert [number.words for number in key_numbers(MADE)] == list(KEY.values())
    open_motor = replace(MADE, clearance=replace(MADE.clearance, c_o=None))
    assert len(key_numbers(open_motor)) == len(KEY) - 1

"""How straight a coil stands, as it is written: readings of a former, and what is usual where nothing is told."""

from __future__ import annotations

from math import radians, sqrt
from pathlib import Path

import pytest

from handwound.parts.design import Design
from handwound.parts.rub import Centring
from tests.files import bench

MM = 1e-3


def design(folder: Path, old: str, new: str) -> Design:
    bench.write(folder, "design.toml", old, new)
    return bench.read(folder)[2]


def with_readings(folder: Path, *D_read: str) -> Design:
    listed = ", ".join(f'"{each}"' for each in D_read)
    return design(folder, 'D_fi = "25.6 mm"', f'D_fi = "25.6 mm"\nD_read = [{listed}]')


def test_a_former_that_was_read_has_the_mean_of_its_readings(tmp_path) -> None:
    """Kind of truth: closed form. Readings 120° apart in 2θ: their differences from the mean are o cos φ."""
    coil = with_readings(tmp_path, "25.94 mm", "25.88 mm", "25.88 mm").voice_coil
    assert coil.D_f == pytest.approx(25.90 * MM)
    assert coil.oval == pytest.approx(0.04 * MM)
    assert coil.D_fi == pytest.approx(25.6 * MM)
    assert not {"D_f", "oval"} & dict(coil.spread).keys()


def test_the_caliper_is_no_better_for_being_used_often(tmp_path) -> None:
    """Kind of truth: closed form. Its error is the mean's own; of the second harmonic n readings leave sqrt(2/n)."""
    coil = with_readings(tmp_path, *["25.90 ± 0.02 mm"] * 6).voice_coil
    half = dict(coil.spread)
    assert half["D_f"] == pytest.approx(0.02 * MM)
    assert half["oval"] == pytest.approx(0.02 * MM * sqrt(2 / 6))
    assert coil.oval == pytest.approx(0.0, abs=1e-12)


def test_a_former_that_nobody_read(tmp_path) -> None:
    bench.write(tmp_path)
    coil = bench.read(tmp_path)[2].voice_coil
    assert coil.D_f == pytest.approx(25.9 * MM)
    assert coil.oval is None


def test_what_is_told_and_what_is_usual(tmp_path) -> None:
    """What carries a spread was measured; of the rest the length alone is told."""
    told = '[centring]\ne_pole = "0.03 ± 0.01 mm"\nrock = "0.5 °"\n[moving]'
    found = design(tmp_path, "[moving]", told).centring
    assert found == Centring(e_pole=0.03 * MM, rock=radians(0.5), spread=(("e_pole", 0.01 * MM),))


def test_nothing_told(tmp_path) -> None:
    bench.write(tmp_path)
    assert bench.read(tmp_path)[2].centring == Centring()

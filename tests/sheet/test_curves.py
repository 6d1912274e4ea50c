"""The curves, read back from the drawing."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from handwound.sheet import curves
from tests.sheet import demo
from tests.sheet.drawing import SVG, parsed

_, _, MADE = demo.job()
ALL = (
    curves.impedance, curves.level, curves.bl_over_x, curves.bl_over_current, lambda made: curves.warming(made, 60.0)
)  # fmt: skip


def texts(root):
    return [item.text for item in root.iter(f"{SVG}text")]


def longest(root):
    """Points of the curve: no other line has as many."""
    paths = [p.get("d") for p in root.iter(f"{SVG}path")]
    points = [re.findall(r"[ML] ([-\d.]+) ([-\d.]+)", path) for path in paths]
    return np.array([[float(v) for v in pair] for pair in max(points, key=len)])


@pytest.mark.parametrize("draw", ALL)
def test_equal_input_gives_equal_bytes_and_true_size(draw) -> None:
    svg = draw(MADE)
    assert svg == draw(MADE)
    root = parsed(svg)
    assert float(root.get("width")[:-2]) * 25.4 / 72 == pytest.approx(curves.WIDTH, abs=1e-3)
    assert not re.search(r"\d{4}-\d\d-\d\d", svg), "a date would change the bytes"


def test_the_impedance_curve_peaks_where_it_says() -> None:
    """Between the ticks of 50 and 200 Hz a logarithmic axis puts the peak by its logarithm."""
    root = parsed(curves.impedance(MADE))
    ticks = {item.text: float(item.get("x")) for item in root.iter(f"{SVG}text") if item.text in ("50", "200")}
    peak = min(longest(root), key=lambda point: point[1])
    share = (peak[0] - ticks["50"]) / (ticks["200"] - ticks["50"])
    assert 50 * (200 / 50) ** share == pytest.approx(float(MADE.driver.fs), rel=0.02)
    (note,) = [text for text in texts(root) if text and " at " in text]
    top, at = (float(each) for each in re.findall(r"[\d.]+", note))
    assert (top, at) == pytest.approx((float(MADE.driver.Z_max), float(MADE.driver.fs)), rel=0.01)


@pytest.mark.parametrize("loss", [1.0, 0.8])
def test_the_dot_sits_on_the_peak_of_the_curve(loss) -> None:
    """Whatever the driver's own Z_max says."""
    root = parsed(curves.impedance(replace(MADE, response=replace(MADE.response, Z=MADE.response.Z * loss))))
    points, dot = longest(root), list(root.iter(f"{SVG}use"))[-1]
    peak = min(points, key=lambda point: point[1])
    assert (float(dot.get("x")), float(dot.get("y"))) == pytest.approx(tuple(peak), abs=0.01)


def test_frequencies_are_written_as_people_say_them() -> None:
    written = texts(parsed(curves.impedance(MADE)))
    assert [text for text in written if re.fullmatch(r"\d+k?", text)][:5] == ["20", "50", "100", "200", "500"]
    wide = replace(MADE, response=replace(MADE.response, f=np.geomspace(20, 20000, 300)))
    assert {"1k", "2k", "5k", "10k", "20k"} <= set(texts(parsed(curves.level(wide))))


def test_the_resting_point_lies_on_its_curve() -> None:
    root = parsed(curves.bl_over_x(MADE))
    points = longest(root)
    marker = [use for use in root.iter(f"{SVG}use")][-1]
    x, y = float(marker.get("x")), float(marker.get("y"))
    assert np.interp(x, points[:, 0], points[:, 1]) == pytest.approx(y, abs=0.6)


def test_the_warm_motor_has_its_dot_too() -> None:
    root = parsed(curves.bl_over_current(MADE))
    assert {f"cold, {MADE.excitation.I_f:.3g} A", f"warm, {MADE.heat.I_f:.3g} A"} <= set(texts(root))


def test_a_peak_outside_the_range_is_not_pointed_at() -> None:
    high = replace(MADE, driver=replace(MADE.driver, fs=5000.0))
    assert not any("at 5" in text for text in texts(parsed(curves.impedance(high))))


def test_the_field_curve_is_over_amperes() -> None:
    """By hand: the last ampere-turns over the turns."""
    root = parsed(curves.bl_over_current(MADE))
    last = float(MADE.curves.NI[-1]) / float(MADE.field_winding.N)
    ticks = sorted(
        (float(item.text), float(item.get("x")))
        for item in root.iter(f"{SVG}text")
        if re.fullmatch(r"\d\.\d", item.text)
    )
    (a, x_a), (b, x_b) = ticks[0], ticks[-1]
    end = max(longest(root)[:, 0])
    assert a + (end - x_a) / (x_b - x_a) * (b - a) == pytest.approx(last, rel=0.02)

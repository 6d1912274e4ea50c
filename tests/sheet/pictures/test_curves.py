"""The curves, read back from the drawing."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from handwound.sheet.drawing import curves
from tests.sheet import demo
from tests.sheet.drawing import SVG, parsed

_, _, MADE = demo.job()
WALL = "in a large wall"
ALL = (
    curves.impedance, lambda made: curves.level(made, WALL), curves.loudest, curves.polar, curves.bl_over_x,
    curves.stiffness_over_x, curves.bl_over_current, lambda made: curves.warming(made, 60.0),
)  # fmt: skip
ALONE = replace(MADE, sound=None)


def texts(root):
    return [item.text for item in root.iter(f"{SVG}text")]


def drawn(root, least=100):
    """Points of each curve, the longest first: no other line has as many."""
    paths = [p.get("d") for p in root.iter(f"{SVG}path")]
    points = sorted((re.findall(r"[ML] ([-\d.]+) ([-\d.]+)", path) for path in paths), key=len, reverse=True)
    return [np.array([[float(v) for v in pair] for pair in each]) for each in points if len(each) >= least]


def longest(root):
    """Points of the one curve that is there."""
    return drawn(root, 0)[0]


def scaled(root, one, other, way="x"):
    """What turns a place on the paper into a number of the axis, by two of its ticks; as logarithms across."""
    at = {item.text: float(item.get(way)) for item in root.iter(f"{SVG}text") if item.text in (one, other)}
    low, high = float(one), float(other)
    return lambda place: low + (place - at[one]) / (at[other] - at[one]) * (high - low)


@pytest.mark.parametrize("draw", ALL)
def test_equal_input_gives_equal_bytes_and_true_size(draw) -> None:
    svg = draw(MADE)
    assert svg == draw(MADE)
    root = parsed(svg)
    assert float(root.get("width")[:-2]) * 25.4 / 72 == pytest.approx(curves.WIDTH, abs=1e-3)
    assert not re.search(r"\d{4}-\d\d-\d\d", svg), "a date would change the bytes"


def test_the_impedance_curve_peaks_where_it_says() -> None:
    """Between the ticks of 50 and 200 Hz a logarithmic axis puts the peak by its logarithm."""
    root = parsed(curves.impedance(ALONE))
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
    root = parsed(curves.impedance(replace(ALONE, response=replace(MADE.response, Z=MADE.response.Z * loss))))
    points, dot = longest(root), list(root.iter(f"{SVG}use"))[-1]
    peak = min(points, key=lambda point: point[1])
    assert (float(dot.get("x")), float(dot.get("y"))) == pytest.approx(tuple(peak), abs=0.01)


def test_frequencies_are_written_as_people_say_them() -> None:
    written = texts(parsed(curves.impedance(MADE)))
    assert [text for text in written if re.fullmatch(r"\d+k?", text)][:5] == ["20", "50", "100", "200", "500"]
    assert {"1k", "2k", "5k", "10k", "20k"} <= set(texts(parsed(curves.level(MADE, WALL))))


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


def test_the_level_says_where_it_is_and_how_it_bends() -> None:
    """Kind of truth: by reading, and the demo's own numbers: at its end the thin line is where the level on the axis
    ends, as the frame's ticks measure it."""
    written = " ".join(filter(None, texts(parsed(curves.level(MADE, "in a closed box of 8 l")))))
    assert "in a closed box of 8 l" in written and "30° off the axis" in written and "it bends" in written
    alone = " ".join(filter(None, texts(parsed(curves.level(ALONE, WALL)))))
    assert "off the axis" not in alone and "one piston" in alone


def test_three_thin_lines_beside_the_level_and_its_band() -> None:
    """The demo loses 20 theta² dB off the axis from 8 kHz on: 5.5 dB at 30°, 21.9 dB at 60°."""
    root = parsed(curves.level(MADE, WALL))
    to_dB = scaled(root, "60", "80", "y")
    ends = [line[-1] for line in drawn(root, 50)]
    at_end = sorted((to_dB(y) for x, y in ends if x == max(x for x, _ in ends)), reverse=True)
    wanted = [float(MADE.sound.breakup.L_off[-1, 0]) - 20 * np.radians(angle) ** 2 for angle in (0, 30, 60)]
    assert np.diff(at_end) == pytest.approx(np.diff(wanted), abs=0.1)
    assert at_end == pytest.approx(wanted, abs=1.5), "a number stands a little below its tick"


def test_the_stiffness_is_marked_where_it_is_a_third_more() -> None:
    """By hand: 2750 (1 + (x / 3 mm)²) is 4/3 of that at 3 / sqrt 3 = 1.732 mm."""
    root = parsed(curves.stiffness_over_x(MADE))
    assert "a third stiffer at 1.7 mm" in texts(root) and "stiffness in N/mm; 2.75 N/mm at rest" in texts(root)
    to_mm = scaled(root, "2", "4")
    marks = [to_mm(line[0, 0]) for line in drawn(root, 2) if len(line) == 2 and line[0, 0] == line[1, 0]]
    assert any(abs(at - 1.732) < 0.02 for at in marks) and any(abs(at + 1.732) < 0.02 for at in marks)


def test_the_loudest_tone_has_a_sign_for_each_limit() -> None:
    root = parsed(curves.loudest(MADE))
    assert {"stroke: suspension", "heat of the voice coil"} <= set(texts(root))
    signs = {use.get("{http://www.w3.org/1999/xlink}href") for use in root.iter(f"{SVG}use")}
    assert len(signs) >= 2


def test_the_polar_picture_has_its_frequencies() -> None:
    assert {"1 kHz", "3 kHz", "6 kHz", "12 kHz", "0°", "90°"} <= set(texts(parsed(curves.polar(MADE))))


@pytest.mark.parametrize("draw", [curves.polar, curves.loudest, curves.stiffness_over_x])
def test_nothing_is_drawn_of_what_nobody_heard(draw) -> None:
    assert draw(ALONE) is None

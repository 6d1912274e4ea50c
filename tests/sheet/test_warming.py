"""Heat in a table, drawn in letters and as a curve. Kind of truth: limits, closed forms, reading back what is drawn."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.faces import records
from handwound.parts.prediction import Band
from handwound.sheet.cautions import cautions
from handwound.sheet.chart import chart, key
from handwound.sheet.drawing import curves
from handwound.sheet.heat_limits import duration, limits, weakest
from handwound.sheet.warming import Curve, tables
from handwound.sheet.warming import curves as told
from handwound.warming import reached
from tests.sheet import demo
from tests.sheet.drawing import SVG, parsed

DESIGN, BRIEF, MADE = demo.job()
T_W = MADE.warming.t_w
ALONE = replace(
    MADE, heat=None, field_winding=None, excitation=None,
    warming=replace(MADE.warming, T_f=None, T_hot=None, T_spool=None, I_f=None, NI=None, P_f=None, Bl=None),
)  # fmt: skip
"""The same driver as if a magnet made its field."""


def row(name: str, made=MADE, k: int = 0) -> tuple[str, ...]:
    return next(cells for cells in tables(DESIGN, BRIEF, made)[k].rows if cells[0] == name)


def test_the_table_tells_cold_and_the_end() -> None:
    """Closed form: 17 °C and 37 K of one lump of 1800 s: 27 °C after ten minutes, 49 after an hour, 54 in the end."""
    rises = [17 + 37 * (1 - math.exp(-t / 1800)) for t in (0, 600, 3600, 28800)]
    assert row("outside") == ("outside", *(f"{T:.0f} °C" for T in rises))
    assert row("field current")[1] == f"{float(MADE.excitation.I_f):.3g} A"
    assert tables(DESIGN, BRIEF, MADE)[0].rows[0][-1] == "in the end, with music"


def test_what_still_rises_is_not_called_the_end() -> None:
    slow = replace(MADE, warming=replace(MADE.warming, T_case=17 + T_W / 2000))
    assert tables(DESIGN, BRIEF, slow)[0].rows[0][-1] == "8 h"


def test_the_end_says_how_sure_it_is() -> None:
    """Whatever the band, still air is told to be no better known than a tenth."""
    tight = replace(MADE, bands=MADE.bands | {"heat.T_case": Band(54.0, 53.9, 54.1, 54.0)})
    note = tables(DESIGN, BRIEF, tight)[0].note
    assert "54.00 °C (53.90 to 54.10)" in note and "never known better than to 10 %" in note


def test_without_a_field_coil_there_is_no_word_of_one() -> None:
    heat, bears = tables(DESIGN, replace(BRIEF, supply=None, T_touch=None), ALONE)
    assert [cells[0] for cells in heat.rows[1:]] == ["outside", "voice coil"]
    assert not any("field" in cells[0] or "touch" in cells[0] or cells[0] == "spool" for cells in bears.rows)
    assert "warm motor" not in bears.note and "silent" not in heat.note


def test_nothing_followed_nothing_told() -> None:
    bare = replace(MADE, warming=None)
    assert tables(DESIGN, BRIEF, bare) == () and limits(DESIGN, BRIEF, bare) == ()
    assert curves.warming(bare, 60.0) is None and records.prediction(DESIGN, BRIEF, bare)["warming"] is None


def test_what_is_left_and_when_it_is_gone() -> None:
    """Closed form: the voice coil comes from 17 to 60 °C when 30 (1 - exp(-t/1800)) = 24, after 1800 ln 5 = 48 min."""
    glue = replace(DESIGN, glue=replace(DESIGN.glue, T_max=60.0))
    assert weakest(glue) == "glue"
    found = {each.name: each for each in limits(glue, BRIEF, MADE)}
    assert found["glue of the voice coil"].t_lim == pytest.approx(1800 * math.log(5), rel=0.01)
    assert found["glue of the voice coil"].dT_left == pytest.approx(-6.0, abs=0.01)
    touch = found["your touch limit"]
    assert touch.t_lim is None and touch.dT_left == pytest.approx(6.0, abs=0.01)
    assert touch.used == pytest.approx(37 / 43, abs=1e-3)  # of the way from 17 to 60 °C


@given(st.floats(18.0, 53.0))
def test_a_rise_passes_each_temperature_when_its_closed_form_does(T_max) -> None:
    """The table's instants are 14 % apart; between them a straight line is good to half a percent of a kelvin or so."""
    t = reached(T_W, MADE.warming.T_case, T_max)
    assert t is not None
    assert 17 + 37 * (1 - math.exp(-t / 1800)) == pytest.approx(T_max, abs=0.15)


@pytest.mark.parametrize(
    ("t", "words"),
    [(None, "never"), (1.0, "1 s"), (59.6, "60 s"), (60.0, "1 min"), (3599.0, "60 min"), (3600.0, "1 h"),
     (5000.0, "83 min"), (9000.0, "2.5 h"), (28800.0, "8 h"), (500 * 3600.0, "500 h")],
)  # fmt: skip
def test_times_as_people_say_them(t, words) -> None:
    assert duration(t) == words


def lines(made=MADE, limit: float | None = 60.0, wide: int = 90) -> list[str]:
    return chart(T_W, told(made.warming), limit, wide).splitlines()


def scale(drawn: list[str]) -> tuple[float, float]:
    """Temperature of line k as a straight line: that of the first line, and kelvins a line. Read off the numbers."""
    numbers = [(k, float(line[:3])) for k, line in enumerate(drawn[:-2]) if line[:3].strip()]
    (k_1, T_1), (k_2, T_2) = numbers[0], numbers[-1]
    each = (T_2 - T_1) / (k_2 - k_1)
    return T_1 - k_1 * each, each


@pytest.mark.parametrize("wide", [40, 72, 98])
def test_the_drawing_keeps_to_its_width(wide) -> None:
    drawn = lines(wide=wide)
    assert max(map(len, drawn)) == wide
    assert all(sign.isascii() for line in drawn for sign in line)
    assert drawn[-1].split()[:2] == ["1", "s"] and drawn[-1].endswith("8 h")


def test_the_curves_end_where_the_numbers_say() -> None:
    """Read back: each letter at the right edge stands within half a line of the end that the key tells."""
    drawn = lines()
    top, each = scale(drawn)
    ends = {line[-1]: top + k * each for k, line in enumerate(drawn[:-2]) if len(line) == max(map(len, drawn))}
    for curve in told(MADE.warming):
        assert ends[curve.sign] == pytest.approx(float(curve.T[-1]), abs=abs(each) / 2 + 1e-6)
        assert f"{curve.name} {curve.T[-1]:.0f} °C ({curve.sign})" in key(told(MADE.warming), 60.0)


def test_what_rises_is_drawn_rising() -> None:
    """Column by column the outside's letter never sinks; the numbers of the scale are evenly apart."""
    drawn = lines(replace(ALONE, warming=replace(ALONE.warming, T_vc=ALONE.warming.T_case)), None)
    rows = [k for column in zip(*(line.ljust(90) for line in drawn[:-2]), strict=True) for k, s in enumerate(column)
            if s == "v"]  # fmt: skip
    assert rows == sorted(rows, reverse=True) and len(rows) == 85
    numbers = [float(line[:3]) for line in drawn[:-2] if line[:3].strip()]
    assert len(set(np.diff(numbers))) == 1


def test_the_limit_is_a_dashed_line_at_its_place() -> None:
    drawn = lines()
    top, each = scale(drawn)
    (k,) = [k for k, line in enumerate(drawn[:-2]) if " - - - " in line]
    assert top + k * each == pytest.approx(60.0, abs=abs(each) / 2 + 1e-6)
    assert not any(" - - " in line for line in lines(limit=None)) and "touched" not in key(told(MADE.warming), None)


@given(st.floats(-20, 300), st.floats(0, 600), st.integers(40, 100))
def test_any_rise_is_drawn(T_room, rise, wide) -> None:
    """No rise at all, and a field coil that burns: both have a scale, and every letter its line."""
    T = T_room + rise * (1 - np.exp(-T_W / 1800))
    drawn = chart(T_W, [Curve("outside", "o", T)], None, wide).splitlines()
    assert sum(line.count("o") for line in drawn) == wide - 5
    assert max(map(len, drawn)) <= wide


def test_the_printed_curve_has_every_line_and_its_end() -> None:
    root = parsed(curves.warming(MADE, 60.0))
    words = [item.text for item in root.iter(f"{SVG}text")]
    for curve in told(MADE.warming):
        assert f"{curve.name}, {curve.T[-1]:.0f} °C" in words
    assert "your touch limit, 60 °C" in words and {"1 s", "10 min", "1 h", "8 h"} <= set(words)
    alone = [item.text for item in parsed(curves.warming(ALONE, None)).iter(f"{SVG}text")]
    assert not any(re.search("touch|winding", text or "") for text in alone)


def test_the_record_has_every_instant_with_its_unit() -> None:
    record = records.prediction(DESIGN, BRIEF, MADE)["warming"]
    assert record["t_w"]["unit"] == "s" and record["T_hot"]["unit"] == "°C"
    assert record["T_hot"]["values"] == list(MADE.warming.T_hot) and len(record["t_w"]["values"]) == len(T_W)
    assert records.prediction(DESIGN, BRIEF, ALONE)["warming"]["I_f"]["value"] is None


def test_the_record_has_what_the_tables_say_of_the_limits() -> None:
    """Read back: every limit of the table, the part that gives way first, every caution."""
    record = records.prediction(DESIGN, BRIEF, MADE)
    rows = {cells[0]: cells[1:] for cells in tables(DESIGN, BRIEF, MADE)[1].rows[1:]}
    assert [each["name"] for each in record["limits"]] == list(rows)
    for each in record["limits"]:
        told = (
            f"{each['T_lim']['value']:.0f} °C",
            f"{each['T_end']['value']:.0f} °C",
            f"{each['dT_left']['value']:.0f} K",
        )
        assert rows[each["name"]] == (*told, duration(each["t_lim"]["value"]))
    assert record["weakest"] == weakest(DESIGN)
    assert [each["text"] for each in record["cautions"]] == [each.text for each in cautions(DESIGN, BRIEF, MADE)]

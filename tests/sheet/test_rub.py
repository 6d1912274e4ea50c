"""The table that says whether it rubs: the record's numbers, and advice that fits. Kind of truth: by reading."""

from __future__ import annotations

import datetime
import io
from dataclasses import replace

import pypdf
import pytest

from handwound.faces import records
from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print
from handwound.parts.moving import Spider
from handwound.parts.rub import Cause, Rub, Side
from handwound.sheet import rub
from tests.sheet import demo

MM = 1e-3
DESIGN = demo.design()
INSIDE = Side(
    c_drawn=0.30 * MM, c_usual=0.16 * MM, c_low=-0.03 * MM, P_rub=0.0225, c_more=0.04 * MM,
    causes=(Cause(name="rocking", c_taken=0.24 * MM), Cause(name="shims", c_taken=0.06 * MM)),
)  # fmt: skip
OUTSIDE = Side(
    c_drawn=0.62 * MM, c_usual=0.45 * MM, c_low=0.31 * MM, P_rub=0.0, c_more=0.0,
    causes=(Cause(name="rocking", c_taken=0.25 * MM), Cause(name="pole", c_taken=0.07 * MM)),
)  # fmt: skip
FOUND = Rub(
    inside=INSIDE, outside=OUTSIDE, P_rub=0.0225, P_ok=0.01, D_fi_lo=25.66 * MM, D_fi_hi=26.10 * MM, n_most=3,
    t_shim=0.28 * MM,
)  # fmt: skip


def said(found: Rub = FOUND, design=DESIGN, sheets=(demo.CARD, demo.FOAM)) -> str:
    return rub.table(design, sheets, found).note


def test_both_sides_stand_beside_each_other() -> None:
    rows = rub.table(DESIGN, (), FOUND).rows
    assert rows[0] == ("", "inside", "outside")
    assert rows[3][1:] == ("-0.03 mm", "0.31 mm")
    assert rows[4] == ("rubs", "1 in 44", "less than 1 in 3000")
    assert [row[1:] for row in rows[5:]] == [("0.24 mm", "0.25 mm"), ("", "0.07 mm"), ("0.06 mm", "")]


def test_a_side_without_iron_has_no_column() -> None:
    one = rub.table(DESIGN, (), replace(FOUND, outside=None, D_fi_hi=None, n_most=None))
    assert one.rows[0] == ("", "inside")
    assert one.right == (1,)
    assert "from 25.66 mm inside do" in one.note
    assert "layer on" not in one.note


@pytest.mark.parametrize(
    ("P", "words"),
    [
        (0.0, "less than 1 in 3000"),
        (0.0225, "1 in 44"),
        (0.01, "1 in 100"),
        (0.19, "1 in 5"),
        (0.4, "40 in 100"),
        (0.999, "nearly all"),
        (0.97, "97 in 100"),
        (0.0007, "1 in 1000"),
        (0.0063, "1 in 160"),
    ],
)
def test_odds_in_words(P, words) -> None:
    """Kind of truth: closed form. None of n draws: at most 3/n to 95 %, as exp(-3) is 5 %; seven are 7 ± 2.6."""
    assert rub.odds(P) == words


def test_the_largest_cause_has_its_cure_and_the_air_that_is_wanting() -> None:
    """Kind of truth: common practice, no source. A coil that rocks wants a spider."""
    assert "1 in 44 such builds, where 1 in 100 may" in said()
    assert "Inside most is taken by rocking at full stroke: a spider" in said()
    assert "or 0.04 mm more air inside" in said()
    held = replace(DESIGN, spider=Spider(K_sp=1000.0, m_sp=0.3e-3))
    assert "a stiffer spider" in said(design=held)


def test_what_rubs_seldom_enough_needs_no_cure() -> None:
    assert "most is taken" not in said(replace(FOUND, P_ok=0.05))


def test_no_former_may_do() -> None:
    assert "No former does" in said(replace(FOUND, D_fi_lo=None, D_fi_hi=None))


@pytest.mark.parametrize(
    ("t", "words"),
    [
        (0.27, "nearest is strip, 0.27 mm."),
        (0.14, "nearest is 2 times strip, 0.28 mm."),
        (0.31, "0.28 mm; nothing at hand"),
        (0.23, "nothing at hand comes near."),
        (0.24, "nearest is strip, 0.24 mm."),
    ],
)
def test_shims_come_from_what_is_on_the_shelf_and_go_in(t, words) -> None:
    """Kind of truth: arithmetic. 0.28 mm wanted, 0.30 mm of air."""
    assert words in said(sheets=[replace(demo.CARD, name="strip", t=t * MM)])


def test_two_kinds_on_each_other_make_a_shim() -> None:
    """Kind of truth: arithmetic. 0.18 + 0.10 mm is 0.28; twice 0.13 is farther off; as near, one kind does."""
    kinds = [replace(demo.CARD, name=name, t=t * MM) for name, t in (("card", 0.18), ("film", 0.10), ("strip", 0.13))]
    assert "nearest is card with film, 0.28 mm." in said(sheets=kinds)
    assert "nearest is 2 times strip, 0.28 mm." in said(sheets=[*kinds[:2], replace(kinds[2], t=0.14 * MM)])


def test_cloth_is_no_shim() -> None:
    assert "nearest" not in said(sheets=[replace(demo.CARD, t=0.28 * MM, E=0.0)])


def test_one_side_may_have_no_former_either() -> None:
    assert "No former does" in said(replace(FOUND, outside=None, D_fi_lo=None, D_fi_hi=None, n_most=None))


def test_every_cause_has_words() -> None:
    """Whatever a build can lose air to is told."""
    every = replace(INSIDE, causes=tuple(Cause(name=name, c_taken=0.1 * MM) for name in rub.CAUSES))
    assert len(rub.table(DESIGN, (), replace(FOUND, inside=every)).rows) == 5 + len(rub.CAUSES)


def test_the_sheet_and_the_record_have_it() -> None:
    design, brief, found = demo.job()
    found = replace(found, rub=FOUND)
    page = write.sheet_pdf(design, brief, found, Print(datetime.date(2026, 11, 25)))
    text = " ".join(" ".join(each.extract_text().split()) for each in pypdf.PdfReader(io.BytesIO(page)).pages)
    assert "Will it rub?" in text
    assert "1 in 44" in text
    record = records.prediction(design, brief, found)["rub"]
    assert record["P_rub"] == {"value": 0.0225, "unit": "1", "words": "share of such builds that rub"}
    assert record["outside"]["causes"][0]["c_taken"]["value"] == 0.25 * MM
    assert records.prediction(design, brief, replace(found, rub=None))["rub"] is None

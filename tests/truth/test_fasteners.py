"""Check values of washers and bolts: ISO numbers as a public fastener data set prints them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from handwound.files.stock import read_stock
from handwound.materials.tables import table
from handwound.parts.steel import Steel


def pick(name: str, standard: str, size: str) -> dict[str, float]:
    return next(row for row in table(name) if (row["standard"], row["size"]) == (standard, size))


@pytest.mark.parametrize(
    ("standard", "size", "d_in", "d_out", "t", "t_max"),
    [
        ("ISO 7089", "M8", 8.4, 16, 1.6, 1.8),
        ("ISO 7093-1", "M8", 8.4, 24, 2.0, 2.2),
        ("ISO 7094", "M8", 9.0, 28, 3.0, 3.6),
        ("ISO 7093-1", "M6", 6.4, 18, 1.6, None),
        ("ISO 7093-1", "M10", 10.5, 30, 2.5, None),
        ("ISO 7093-1", "M12", 13, 37, 3.0, None),
    ],
)
def test_washers(standard, size, d_in, d_out, t, t_max) -> None:
    """Kind of truth: printed example. Public fastener data set."""
    row = pick("washers", standard, size)
    assert [row["d_in"], row["d_out"], row["t"]] == pytest.approx([d_in / 1e3, d_out / 1e3, t / 1e3])
    if t_max:
        assert row["t_max"] == pytest.approx(t_max / 1e3)


@pytest.mark.parametrize(("size", "flats", "t"), [("M8", 13, 5.3), ("M10", 16, 6.4), ("M12", 18, 7.5)])
def test_bolts(size, flats, t) -> None:
    """Kind of truth: printed example. Public fastener data set, ISO 4017."""
    row = pick("bolts", "ISO 4017", size)
    assert [row["flats"], row["t"]] == pytest.approx([flats / 1e3, t / 1e3])


def shelf(folder: Path, text: str) -> Steel:
    """The one piece of steel of a stock that says this."""
    (folder / "stock.toml").write_text(f'[[steel]]\nname = "it"\n{text}\n', encoding="utf8")
    (piece,) = read_stock(folder / "stock.toml").steels
    return piece


@pytest.mark.parametrize("row", table("bolts"), ids=lambda row: row["size"])
def test_the_head_of_a_bolt_holds_as_much_iron_as_its_hexagon(row, tmp_path) -> None:
    """Kind of truth: closed form. A hexagon is six triangles of half its flats high and flats/sqrt(3) wide."""
    bolt = shelf(tmp_path, f'form = "bolt"\nsize = "{row["size"]}"\nlength = "60 mm"')
    across, height = bolt.head
    triangle = (row["flats"] / math.sqrt(3)) * (row["flats"] / 2) / 2
    assert math.pi / 4 * across**2 == pytest.approx(6 * triangle, rel=1e-12)
    assert bolt.d_out == pytest.approx(float(row["size"][1:]) / 1e3)
    assert height == row["t"] < bolt.d_out < across


def test_a_stack_of_washers(tmp_path) -> None:
    """Kind of truth: printed example. Public fastener data set: five M8 of ISO 7093-1 are 10 mm, 11 mm at most."""
    piece = shelf(tmp_path, 'form = "washer"\nstandard = "ISO 7093-1"\nsize = "M8"\ncount = 5')
    assert piece.count * piece.t == pytest.approx(0.010)
    assert piece.count * (piece.t + dict(piece.spread)["t"]) == pytest.approx(0.011)


def test_every_washer_is_a_ring() -> None:
    """Kind of truth: limit. A hole that passes its screw, iron around it, and no plate thinner than its nominal."""
    rows = table("washers")
    assert len(rows) == 40
    for row in rows:
        assert float(row["size"][1:]) * 1e-3 < row["d_in"] < row["d_out"]
        assert row["t"] < row["t_max"] <= 1.25 * row["t"]

"""Check values of washers, bolts and nuts: ISO numbers as a public fastener data set prints them."""

from __future__ import annotations

import math

import pytest

from handwound.materials.tables import table


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


@pytest.mark.parametrize(
    ("name", "standard", "size", "flats", "t"),
    [("bolts", "ISO 4017", "M8", 13, 5.3), ("bolts", "ISO 4017", "M10", 16, 6.4), ("bolts", "ISO 4017", "M12", 18, 7.5),
     ("nuts", "ISO 4032", "M8", 13, 6.8), ("nuts", "ISO 4032", "M10", 16, 8.4), ("nuts", "ISO 4032", "M12", 18, 10.8)],
)  # fmt: skip
def test_bolts_and_nuts(name, standard, size, flats, t) -> None:
    """Kind of truth: printed example. Public fastener data set."""
    row = pick(name, standard, size)
    assert [row["flats"], row["t"]] == pytest.approx([flats / 1e3, t / 1e3])


@pytest.mark.parametrize("name", ["bolts", "nuts"])
def test_corners_of_a_hexagon(name) -> None:
    """Kind of truth: closed form. A sharp hexagon is 2/sqrt(3) times as wide over its corners; a real one less."""
    for row in table(name):
        assert 0.93 < row["corners"] / (row["flats"] * 2 / math.sqrt(3)) < 1


def test_a_stack_of_washers() -> None:
    """Kind of truth: closed form. Five M8 of ISO 7093-1: 10 mm, 11 mm at most; 502.7 mm² for flux through r = 8 mm."""
    row = pick("washers", "ISO 7093-1", "M8")
    assert 5 * row["t"] == pytest.approx(0.010)
    assert 5 * row["t_max"] == pytest.approx(0.011)
    assert 2 * math.pi * 0.008 * 5 * row["t"] == pytest.approx(502.7e-6, rel=1e-4)


def test_every_washer_is_a_ring() -> None:
    """Kind of truth: limit. A hole that passes its screw, iron around it, and no plate thinner than its nominal."""
    rows = table("washers")
    assert len(rows) == 40
    for row in rows:
        assert float(row["size"][1:]) * 1e-3 < row["d_in"] < row["d_out"]
        assert row["t"] < row["t_max"] <= 1.25 * row["t"]

"""Check values of the steels' curves, from outside the project."""

from __future__ import annotations

import csv

import numpy as np
import pytest

from handwound.materials import steels
from handwound.physics.field.bh import MU_0, roschke_mu_r, tanh_B
from tests.rules import house

A, B_, C = -2.381e-10, 2.327e-5, 1.590  # TEAM 13, above its table: B = mu_0 H + A H^2 + B_ H + C, up to 2.22 T


def table(name: str) -> tuple[np.ndarray, np.ndarray, list[str]]:
    with (house.SRC / "materials" / "steels" / f"{name}.csv").open(encoding="utf8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["point"] != "Units"]
    return np.array([float(r["B"]) for r in rows]), np.array([float(r["H"]) for r in rows]), [r["source"] for r in rows]


def formula(name: str) -> tuple[str, dict[str, list[float]]]:
    """The index's words for how a table was made: ``tanh J_s=1/2 k_s=3/4``."""
    with (house.SRC / "materials" / "steels.csv").open(encoding="utf8", newline="") as file:
        kind, *numbers = next(row["formula"] for row in csv.DictReader(file) if row["name"] == name).split()
    parts = (number.split("=") for number in numbers)
    return kind, {key: [float(v) for v in values.split("/")] for key, values in parts}


def test_team_13_joins_its_formula() -> None:
    """Kind of truth: printed example. TEAM Workshop Problem 13, two public copies of the text, 0.1 %."""
    curve = steels.curve("team13")
    assert curve.H_dH(1.8)[0] == pytest.approx(9424.4, rel=1e-3)
    assert curve.H_dH(2.0)[0] == pytest.approx(20996, rel=1e-3)
    assert curve.H_dH(2.2)[0] == pytest.approx(41976, rel=1e-3)
    B, H, source = table("team13")
    tail = np.array(["formula" in words for words in source]) & (B < 2.22)
    assert MU_0 * H[tail] + A * H[tail] ** 2 + B_ * H[tail] + C == pytest.approx(B[tail], rel=1e-5)
    assert H[-1] * MU_0 + 2.16 == pytest.approx(2.22, rel=1e-5)


def test_team_20_is_its_table() -> None:
    """Kind of truth: printed example. TEAM Workshop Problem 20, a public copy: some of its rows, and its end."""
    curve = steels.curve("team20")
    printed = {0.1: 153, 0.5: 285, 1.0: 555, 1.5: 2130, 1.8: 10100, 2.0: 26300, 2.3: 135000}
    assert curve.H_dH(np.array(list(printed)))[0] == pytest.approx(list(printed.values()))
    assert len(curve.B) == 35


def test_steel_37_is_its_closed_form() -> None:
    """Kind of truth: closed form. Values from the formula's own coefficients, 1e-4."""
    curve = steels.curve("steel37")
    assert curve.B_of([100, 1000, 1e4, 1e5]) == pytest.approx([0.21778, 1.26490, 1.80555, 2.17712], abs=1e-4)
    kind, numbers = formula("steel37")
    B, H, _ = table("steel37")
    assert kind == "tanh"
    assert tanh_B(H, **numbers) == pytest.approx(B, rel=1e-5, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "expected"),
    [("aisi1008", (382.1, 1837.5, 8912)), ("dc01", (650.2, 2284.2, 6929)), ("9smnpb28", (1990.7, 3794.3, 11842))],
)
def test_roschke_steels(name, expected) -> None:
    """Kind of truth: closed form, coefficients of the Modelica Standard Library; H at 1.0, 1.5 and 1.8 T, 0.1 %."""
    assert steels.curve(name).H_dH([1.0, 1.5, 1.8])[0] == pytest.approx(expected, rel=1e-3)
    kind, numbers = formula(name)
    B, H, _ = table(name)
    assert kind == "roschke"
    mu_r = roschke_mu_r(B, **{key: values[0] for key, values in numbers.items()})
    assert B / (MU_0 * mu_r) == pytest.approx(H, rel=1e-4, abs=1e-9)


def test_an_unknown_mild_steel_lies_in_the_band_of_the_known_ones() -> None:
    """Kind of truth: common practice, derived from the other curves.

    Bands: 1.0 to 1.5 T at 1 kA/m and 1.70 to 1.85 T at 10 kA/m. At 50 kA/m the other curves of the list reach 2.06 to
    2.22 T, so the middle is asked to lie among them.
    """
    curve = steels.curve("mild_steel")
    low, high, full = curve.B_of([1e3, 1e4, 5e4])
    assert 1.0 < low < 1.5
    assert 1.70 < high < 1.85
    others = [float(steels.curve(name).B_of(5e4)) for name in steels.names() if name != "mild_steel"]
    assert min(others) < full < max(others)
    k_B = steels.k_B_spread("mild_steel")
    assert curve.scaled(1 - k_B).B_of(1e4) == pytest.approx(1.70, abs=0.01)


def test_the_mild_steel_is_the_median_of_the_others() -> None:
    """Kind of truth: second method, the sentence in its source done again. Roschke's forms count up to 2.0 T."""
    B, H, _ = table("mild_steel")
    rows = []
    for name in steels.names()[1:]:
        values = steels.curve(name).B_of(H)
        rows.append(np.where((values > 2.0) & (formula(name)[0] == "roschke"), np.nan, values))
    assert np.nanmedian(rows, axis=0) == pytest.approx(B, rel=1e-4, abs=1e-9)

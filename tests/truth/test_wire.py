"""Check values of wire and its metals, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.materials.tables import table, wire_size
from handwound.physics.wire import (
    awg_diameter,
    mass_per_metre,
    metal_product,
    resistance_per_metre,
    resistivity,
    wire_mass,
)
from handwound.quantities import MisreadError
from tests.rules import house
from tools import wires

FOOT = 0.3048
METALS = {row["name"]: row for row in table("metals")}


@pytest.mark.parametrize(("gauge", "mm"), [(36, 0.1270), (24, 0.51054), (10, 2.58819), (-3, 11.684)])
def test_american_gauges(gauge, mm) -> None:
    """Kind of truth: closed form. ASTM B258 (from memory); 4/0 is 0.4600 inch."""
    assert awg_diameter(gauge) * 1e3 == pytest.approx(mm, rel=1e-4)


def test_the_table_of_gauges_holds_the_formula() -> None:
    """Kind of truth: closed form. ASTM B258 (from memory)."""
    rows = table("wires_awg")
    formula = [awg_diameter(int(row["size"].removeprefix("AWG "))) for row in rows]
    assert [row["d_cu"] for row in rows] == pytest.approx(formula, rel=1e-4)


@pytest.mark.parametrize(("gauge", "ohm_per_1000_ft"), [(24, 25.67), (30, 103.20)])
def test_resistance_of_american_gauges(gauge, ohm_per_1000_ft) -> None:
    """Kind of truth: printed example. Two public wire tables (excerpts), 0.05 %."""
    R_m = resistance_per_metre(METALS["copper"]["rho_20"], awg_diameter(gauge))
    assert R_m * 1000 * FOOT == pytest.approx(ohm_per_1000_ft, rel=5e-4)
    if gauge == 24:
        assert R_m * 1000 == pytest.approx(84.20, rel=5e-4)


@pytest.mark.parametrize(
    ("size", "tolerance_mm", "nominal", "low", "high"),
    [("0.100", 0.003, 2.1765, 2.034, 2.333), ("0.200", 0.003, 0.5441, 0.5237, 0.5657), ("0.500", None, 0.08706, 0, 0)],
)
def test_resistance_of_iec_sizes(size, tolerance_mm, nominal, low, high) -> None:
    """Kind of truth: from memory. IEC 60317-0-1: 1/58.5 for the nominal, 1/59 and 1/58 with the tolerance, 0.1 %."""
    d_cu, spread, _, _ = wire_size(size)
    assert resistance_per_metre(1 / 58.5e6, d_cu) == pytest.approx(nominal, rel=1e-3)
    if tolerance_mm:
        assert spread * 1e3 == pytest.approx(tolerance_mm)
        assert resistance_per_metre(1 / 59e6, d_cu + spread) == pytest.approx(low, rel=1e-3)
        assert resistance_per_metre(1 / 58e6, d_cu - spread) == pytest.approx(high, rel=1e-3)


def test_wire_tables_and_standard_copper_differ() -> None:
    """Kind of truth: from memory. IEC 60317-0-1: 1/58.5, IEC 60028: 1/58, 0.86 % more; our band reaches to 1/59."""
    copper = METALS["copper"]
    assert copper["rho_20"] / (1 / 58.5e6) - 1 == pytest.approx(0.0086, abs=1e-4)
    assert copper["rho_20"] - copper["rho_20_spread"] == pytest.approx(1 / 59e6, rel=1e-4)


@pytest.mark.parametrize(
    ("size", "grade", "low", "high"),
    [("0.100", 1, 0.108, 0.117), ("0.100", 2, 0.118, 0.125), ("0.200", 1, 0.214, 0.226), ("0.2", "heavy", 0.227, 0.239),
     ("0.50 mm", "single", None, 0.544), ("0.5", 2, None, 0.566)],
)  # fmt: skip
def test_overall_diameters(size, grade, low, high) -> None:
    """Kind of truth: printed example. A public data set of IEC 60317 wire and a wire maker's page (excerpt)."""
    _, _, d_o, spread = wire_size(size, grade)
    assert (d_o + spread) * 1e3 == pytest.approx(high, abs=1e-6)
    if low:
        assert (d_o - spread) * 1e3 == pytest.approx(low, abs=1e-6)


@pytest.mark.parametrize(("name", "known"), [("wires_iec", "max"), ("wires_awg", "nominal")])
def test_a_band_is_as_wide_as_the_step_between_grades(name, known) -> None:
    """Kind of truth: limit. The rule that stands in for limits the tables lack, on the sourced rows that have them."""
    complete = [row for row in table(name) if row["d_o_1_min"] and row["d_o_2_min"] and wires.RULE not in row["source"]]
    assert len(complete) > 10
    for row in complete:
        step = row[f"d_o_2_{known}"] - row[f"d_o_1_{known}"]
        for grade in (1, 2):
            assert row[f"d_o_{grade}_max"] - row[f"d_o_{grade}_min"] == pytest.approx(step, abs=5.1e-6)


@pytest.mark.parametrize(
    ("size", "largest"),
    [("0.063", (0.076, 0.083)), ("0.090", (0.105, 0.113)), ("0.180", (0.204, 0.217)), ("0.315", (0.349, 0.367)),
     ("0.375", (0.414, 0.434)), ("0.450", (0.491, 0.513)), ("0.630", (0.684, 0.709)), ("0.850", (0.909, 0.939)),
     ("1.120", (1.184, 1.217)), ("1.400", (1.468, 1.502))],
)  # fmt: skip
def test_sizes_filled_from_their_neighbours(size, largest) -> None:
    """Kind of truth: from memory. The greatest overall diameters of grade 1 and 2 in IEC 60317-0-1; 0.003 mm."""
    found = [wire_size(size, grade).d_o + wire_size(size, grade).d_o_spread for grade in (1, 2)]
    assert [1e3 * each for each in found] == pytest.approx(largest, abs=0.0031)


@pytest.mark.parametrize("name", wires.MISSING)
def test_filled_sizes_are_what_the_rule_gives(name) -> None:
    """Kind of truth: second method, the rule of tools/wires.py done again on all sizes at once; 1 µm of rounding.

    The file itself must be as that tool writes it: `python -m tools.wires`.
    """
    text = (house.SRC / "materials" / f"{name}.csv").read_text(encoding="utf8")
    assert text == wires.filled(name)
    rows = sorted(table(name), key=lambda row: row["d_cu"])
    made = [row for row in rows if row["source"].endswith(wires.RULE)]
    known = [row for row in rows if row not in made]
    assert {row["size"] for row in made} == set(wires.MISSING[name])
    bare = np.array([row["d_cu"] for row in known])
    for grade in (1, 2):
        overall, half = np.array([wire_size(row["size"], grade)[2:] for row in known]).T
        for row in made:
            _, _, d_o, spread = wire_size(row["size"], grade)
            assert d_o - row["d_cu"] == pytest.approx(np.interp(row["d_cu"], bare, overall - bare), abs=1e-6)
            above = np.searchsorted(bare, row["d_cu"])
            wider = half[above - 1 : above + 1].max()
            assert wider - 1e-9 <= spread <= wider + 1e-6


@pytest.mark.parametrize("grade", [1, 2])
@pytest.mark.parametrize("name", ["wires_iec", "wires_awg"])
def test_every_size_can_be_asked_for(name, grade) -> None:
    """Kind of truth: limit. Enamel has a thickness, more of it in grade 2; no band reaches into the copper."""
    for row in table(name):
        wire = wire_size(row["size"], grade)
        assert wire.d_cu == row["d_cu"]
        assert 0 < wire.d_cu_spread < 0.07 * wire.d_cu
        assert wire.d_cu < wire.d_o - wire.d_o_spread < wire.d_o < 1.35 * wire.d_cu
        assert wire_size(row["size"], 1).d_o < wire_size(row["size"], 2).d_o


@pytest.mark.parametrize(("size", "grade"), [("24 AWG", 1), ("awg24", "Single"), ("AWG 24", "grade 1")])
def test_spellings_of_a_size(size, grade) -> None:
    assert wire_size(size, grade) == wire_size("AWG 24")


@pytest.mark.parametrize(
    ("size", "grade", "said"),
    [("0.35", 1, "0.355"), ("AWG 9", 1, "AWG 10, AWG 11"), ("thin", 1, '"thin"'), ("0.5", 3, "2 or heavy")],
)
def test_an_unknown_size_names_its_neighbours(size, grade, said) -> None:
    with pytest.raises(MisreadError, match=said):
        wire_size(size, grade)


def test_standard_copper() -> None:
    """Kind of truth: from memory. IEC 60028: 0.017241 Ω·mm²/m and 0.00393 1/K (also in a public table), 8.89 g/cm³."""
    copper = METALS["copper"]
    assert copper["rho_20"] == pytest.approx(0.017241e-6, rel=1e-4)
    assert 1 / copper["alpha_20"] - 20 == pytest.approx(234.5, abs=0.1)
    assert copper["rho_m"] == 8890


def test_aluminium() -> None:
    """Kind of truth: from memory. 0.028264 Ω·mm²/m and 228.1 °C to zero resistance."""
    aluminium = METALS["aluminium"]
    assert aluminium["rho_20"] == pytest.approx(0.028264e-6)
    assert 1 / aluminium["alpha_20"] - 20 == pytest.approx(228.1, abs=0.1)


def test_mass_of_bare_copper() -> None:
    """Kind of truth: closed form. 0.200 mm of 8.89 g/cm³ is 0.2793 g/m."""
    assert mass_per_metre(0.2e-3, 0.2e-3, 8890) * 1e3 == pytest.approx(0.2793, abs=5e-5)


@pytest.mark.parametrize(("metal", "product"), [("copper", 0.153), ("aluminium", 0.076)])
@pytest.mark.parametrize("d_cu", [0.1e-3, 1e-3])
def test_the_product_tells_the_metal(metal, product, d_cu) -> None:
    """Kind of truth: common practice, no source. (Ω/m)(g/m) is 0.153 for copper and 0.076 for aluminium, bare."""
    numbers = METALS[metal]
    R_m = resistance_per_metre(numbers["rho_20"], d_cu)
    found = metal_product(R_m, mass_per_metre(d_cu, d_cu, numbers["rho_m"])) * 1e3
    assert found == pytest.approx(product, abs=7e-4)


def test_a_coils_mass_from_its_resistance() -> None:
    """Kind of truth: common practice, no source. m[g] = 0.153 l²/R for copper, l in metres, whatever the diameter."""
    for d_cu in (0.1e-3, 0.3e-3):
        R = 8.0 * resistance_per_metre(1 / 58e6, d_cu)
        assert wire_mass(8.0, d_cu, d_cu, 8890) * 1e3 == pytest.approx(0.153 * 8.0**2 / R, rel=3e-3)


@pytest.mark.parametrize(("k", "rise"), [(235.0, 7.75), (234.5, 7.725)])
def test_rise_by_resistance(k, rise) -> None:
    """Kind of truth: printed example (k = 235). An ohmmeter's manual (excerpt): 200 mΩ at 20 °C, 210 mΩ after a run.

    The room is then at 25 °C. With 234.5 the same reading means 7.725 K (closed form).
    """
    warm = resistivity(0.200, 1 / (k + 20), 25.0 + rise)
    assert warm == pytest.approx(0.210, abs=0.01 * 0.2 / 255)


def test_hot_over_cold() -> None:
    """Kind of truth: closed form. Copper at 100 °C over 20 °C is 334.5/254.5."""
    copper = METALS["copper"]
    ratio = resistivity(copper["rho_20"], copper["alpha_20"], np.array([100.0])) / copper["rho_20"]
    assert ratio == pytest.approx([1.31434], rel=1e-4)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("copy paper 75", 0.73, 0.75), ("linerboard 205", 0.67, 0.70), ("polyester film 50", 1.38, 1.41),
     ("polyimide film 50", 1.40, 1.44), ("aluminium can", 2.69, 2.71), ("card 160", 0.6, 0.9), ("card 250", 0.6, 0.9),
     ("newsprint 45", 0.6, 0.9), ("kraft paper 250", 0.6, 0.9), ("sponge foam 2", 0.1, 0.2),
     ("sponge foam 3", 0.1, 0.2)],
)  # fmt: skip
def test_density_of_sheets(name, low, high) -> None:
    """Kind of truth: printed example for the first two (a public paper table, excerpt), from memory for the rest."""
    sheet = next(row for row in table("sheets") if row["name"] == name)
    assert low <= sheet["rho_A"] / sheet["t"] / 1000 <= high

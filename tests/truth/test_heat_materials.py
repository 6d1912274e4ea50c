"""What materials lead, keep and bear, against handbook values, and that every sheet of the table has its row."""

from __future__ import annotations

import pytest

from handwound.files.stock import read_stock
from handwound.materials import fillers, insulators, magnets, metals, steels, surfaces
from handwound.materials.tables import table

CLASSES = {str(line["thermal_class"]): line["T_max"] for line in table("thermal_classes")}


@pytest.mark.parametrize(
    ("of", "name", "k_th", "c_p"),
    [
        (metals, "copper", (380, 401), (381, 390)),
        (metals, "aluminium", (200, 237), (880, 920)),
        (metals, "brass", (105, 125), (370, 390)),
        (metals, "stainless", (14, 17), (460, 510)),
        (magnets, "Y30", (2, 6), (600, 900)),
        (magnets, "N42", (6, 10), (400, 510)),
        (magnets, "alnico 5", (8, 20), (350, 500)),
    ],
)
def test_what_metals_and_magnets_lead_and_keep(of, name, k_th, c_p) -> None:
    """Kind of truth: from memory, handbook ranges; the lower c_p of copper from an open library of motors."""
    assert k_th[0] <= of.k_th(name) <= k_th[1]
    assert c_p[0] <= of.c_p(name) <= c_p[1]


@pytest.mark.parametrize("name", [name for name in steels.names() if name not in ("mild_steel", "9smnpb28")])
def test_low_carbon_steel(name) -> None:
    """Kind of truth: printed example. SAE 1010: 50 to 52 W/(m·K), 448 J/(kg·K), 7870 kg/m³ (excerpts of sheets)."""
    assert 50 <= steels.k_th(name) <= 52
    assert steels.c_p(name) == 448
    assert steels.rho_m(name) == 7870


@pytest.mark.parametrize("name", metals.names())
def test_metals_that_lead_current_lead_heat(name) -> None:
    """Second method: Wiedemann and Franz, k rho = 2.44e-8 W·Ω/K² times the temperature in kelvin (from memory).

    Within 15 %; stainless steel, where the lattice carries a third of the heat, comes out higher.
    """
    ratio = metals.k_th(name) * metals.rho(name) / (2.44e-8 * 293.15)
    assert 0.85 < ratio < (1.6 if name == "stainless" else 1.15)


@pytest.mark.parametrize(("of", "names"), [(metals, metals.names()), (steels, steels.names())])
def test_a_mole_of_metal_keeps_three_gas_constants(of, names) -> None:
    """Closed form: Dulong and Petit, 24.9 J/(mol·K), within a tenth; molar masses from memory."""
    mole = {"copper": 63.55, "aluminium": 26.98, "brass": 64.2, "stainless": 55.0}
    for name in names:
        assert of.c_p(name) * mole.get(name, 55.85) / 1000 == pytest.approx(3 * 8.314, rel=0.12)


def test_surfaces() -> None:
    """Limit and common practice: paint and paper radiate nearly all, bare metal little; a band that can be."""
    every = surfaces.surfaces()
    assert next(iter(every)) == "unknown"
    for name, each in every.items():
        half = dict(each.spread)["eps"]
        assert 0 < each.eps - half < each.eps + half <= 1, name
    assert min(every[name].eps for name in ("painted", "paper", "tape", "ferrite")) >= 0.85
    assert max(every[name].eps for name in every if name.startswith(("bright", "nickel"))) <= 0.2
    known = [each.eps for name, each in every.items() if name != "unknown"]
    assert every["unknown"].eps == pytest.approx((min(known) + max(known)) / 2, abs=0.05)


@pytest.mark.parametrize("name", insulators.insulators())
def test_an_insulator_leads_more_than_air_and_less_than_ceramic(name) -> None:
    """Limit: all but the metal can lie between air at rest and glass (from memory: 1 W/(m·K)), its spread included."""
    kind = insulators.insulator(name)
    half = dict(kind.spread)["k_th"]
    assert fillers.filler("air").k_th < kind.k_th - half
    assert (kind.k_th + half < 1) == (name != "aluminium")


@pytest.mark.parametrize(
    ("name", "letter"),
    [("paper", "Y"), ("card", "Y"), ("cotton cloth", "Y"), ("presspaper", "A"), ("phenolic board", "E"),
     ("glass-epoxy", "B"), ("polyester film", "B"), ("polyimide film", "R")],
)  # fmt: skip
def test_insulators_bear_what_their_class_says(name, letter) -> None:
    """Kind of truth: printed example for the classes (excerpts of motor manuals); which stuff is which, from memory."""
    assert insulators.insulator(name).T_max == CLASSES[letter]


@pytest.mark.parametrize("line", table("sheets"), ids=lambda line: line["name"])
def test_every_sheet_knows_what_it_is_made_of(line, tmp_path) -> None:
    """Balance: what stands in the two tables comes out as the part."""
    (tmp_path / "stock.toml").write_text(f'[[sheet]]\nname = "it"\nmaterial = "{line["name"]}"\n', encoding="utf8")
    (sheet,) = read_stock(tmp_path / "stock.toml").sheets
    kind = insulators.insulator(str(line["insulator"]))
    assert (sheet.k_th, sheet.T_max, sheet.c_p) == (kind.k_th, kind.T_max, insulators.c_p(kind.name))
    assert dict(sheet.spread)["k_th"] == dict(kind.spread)["k_th"]


@pytest.mark.parametrize(
    ("line", "k_th", "T_max"),
    [("", 0.12, 90), ('insulator = "PLA"', 0.15, 50), ('insulator = "PLA"\nT_max = "45 °C"', 0.15, 45)],
)
def test_a_sheet_of_its_own_numbers(line, k_th, T_max, tmp_path) -> None:
    """Limit: card, of the lowest class, where nothing is said; what its maker promises counts first."""
    numbers = 't = "0.2 mm"\nrho_A = "160 g/m²"\nE = "3 GPa"\nnu = 0.3\neta_s = 0.04\n'
    (tmp_path / "stock.toml").write_text(f'[[sheet]]\nname = "it"\n{numbers}{line}\n', encoding="utf8")
    (sheet,) = read_stock(tmp_path / "stock.toml").sheets
    assert (sheet.k_th, sheet.T_max) == (k_th, T_max)

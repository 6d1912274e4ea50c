"""Check values of magnets and of metals that are not magnetic."""

from __future__ import annotations

from math import pi

import pytest

from handwound.errors import FieldError
from handwound.materials import magnets, metals, steels

MU_0 = 4e-7 * pi
PRINTED = {
    "N38": (287, 310), "N40": (302, 326), "N42": (318, 342), "N45": (342, 366), "N48": (358, 390), "N50": (374, 406),
}  # fmt: skip
FERRITES = {"Y30": (26, 30), "Y30BH": (27, 30), "Y35": (30, 32)}


def product(grade: magnets.Magnet, mu_rec: float) -> float:
    """The greatest product of B and H along the recoil line, in kJ/m³: B_rem² / (4 mu_0 mu_rec)."""
    return grade.B_rem**2 / (4 * MU_0 * mu_rec) / 1e3


@pytest.mark.parametrize("name", PRINTED)
def test_the_energy_product_of_neodymium_is_the_one_its_makers_print(name) -> None:
    """Kind of truth: printed example. Two makers' grade tables (excerpts read): the least and greatest BHmax."""
    least, greatest = PRINTED[name]
    assert least < product(magnets.grade(name), magnets.grade(name).mu_rec) < greatest


@pytest.mark.parametrize("name", FERRITES)
def test_a_ferrite_recoils_along_a_flat_line(name) -> None:
    """Kind of truth: from memory: energy products of the grades; 1.05 to 1.10 is the recoil of any ferrite.

    With 1.779, the quotient of a ferrite's remanence and its HcB, the product would be far below what is promised.
    """
    least, greatest = FERRITES[name]
    assert least <= product(magnets.grade(name), magnets.grade(name).mu_rec) <= greatest
    assert product(magnets.grade(name), 0.38 / (MU_0 * 170e3)) < 0.7 * least
    assert 1.05 <= magnets.grade(name).mu_rec <= 1.10


@pytest.mark.parametrize("name", magnets.names())
def test_no_magnet_holds_more_than_its_line_lets_it(name) -> None:
    """Kind of truth: limit. HcB lies on the recoil line or, past a knee, before it; HcJ is not less than HcB."""
    grade = magnets.grade(name)
    line = (grade.B_rem + grade.B_rem_spread) / (MU_0 * grade.mu_rec)
    assert 0 < grade.HcB <= min(line, grade.HcJ)
    assert 0 < grade.B_rem_spread < 0.2 * grade.B_rem


def test_a_ferrite_that_is_warm() -> None:
    """Kind of truth: printed example (Modelica Standard Library): 0.38 T at 20 °C, -0.2 %/K, are 0.342 T at 70 °C."""
    assert 0.38 * magnets.warmed("Y30", 70) == pytest.approx(0.342)
    assert magnets.at("N42", 20) == pytest.approx(1.30)
    assert magnets.at("N42", 80) == pytest.approx(1.30 * (1 - 0.0012 * 60))


def test_ferrite_fears_the_cold_and_neodymium_the_heat() -> None:
    """Kind of truth: from memory: the intrinsic coercivity of ferrite rises with temperature, of neodymium it falls."""
    assert magnets.grade("Y30").alpha_H > 0 > magnets.grade("N42").alpha_H


def test_a_slip_in_a_grade() -> None:
    with pytest.raises(FieldError, match='found "N24". Did you mean "N4'):
        magnets.grade("N24")


@pytest.mark.parametrize(("name", "rho"), [("copper", 1.7241e-8), ("aluminium", 2.8264e-8)])
def test_metals_conduct_as_their_wires_do(name, rho) -> None:
    """Kind of truth: printed example (IEC 60028 and 60121, from memory); 40 % more at 120 °C is the coefficient's."""
    assert metals.rho(name) == pytest.approx(rho, rel=1e-3)
    assert metals.rho(name, 120) / metals.rho(name) == pytest.approx(1.4, abs=0.01)


def test_only_wires_are_wound_of() -> None:
    assert set(metals.wires()) == {"copper", "aluminium"} < set(metals.names())


def test_steel_conducts_a_tenth_of_copper() -> None:
    """Kind of truth: printed example. SAE 1010 has 1.43e-7 Ω·m (material sheets, excerpts read)."""
    assert steels.rho_20("aisi1008") == pytest.approx(1.43e-7)
    assert all(1.2e-7 < steels.rho_20(name) < 2e-7 for name in steels.names())

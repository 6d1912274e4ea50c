"""The tables keep their word: units against an outside library, quantities against units, materials against both."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from pathlib import Path

import pint
import pytest

from handwound.quantities import Quantity, Unit, quantities, units
from tests.rules import house

UNITS = pint.UnitRegistry()
# Spellings that pint reads as something else, or not at all; for these the column `pint` alone must do.
OWN_SPELLINGS = {
    "C": "pint: coulomb",
    "Ns/m": "no sign between N and s",
    "l": "pint: litre, but also a ratio's name",
    "Ohm": "pint: small letters only",
    "Ohms": "pint: small letters only",
}
RAISED = re.compile(r"(?<=m)([23])$")  # m2 for m²: pint wants a sign before the 2
# Columns of materials tables: a quantity's name, or that with the grade of wire and which end of its range it is.
RANGE = re.compile(r"(_[12])?_(spread|min|max|low|high|nominal)$")
FASTENER = {"flats"}  # known only to the table of bolts
# After "d_cu is the": no question, no second article, nothing that is many things.
NO_NOUN = re.compile(r"(how|which|what|twice|the|an?|[A-Z]\w+'s|turns|layers|pieces|sections)\b")
MATERIALS = sorted((house.SRC / "materials").rglob("*.csv"))
TEXT = {"", "-"}


def rows(path: Path) -> list[list[str]]:
    with path.open(encoding="utf8", newline="") as file:
        return [row for row in csv.reader(file) if row]


def magnitude(expression: str) -> tuple[float, object]:
    """How many coherent SI units an expression of pint's stands for, and its dimension.

    Of a temperature the step counts, and a decibel stands for itself: pint would turn either into something absolute.
    """
    unit = UNITS.Unit(expression)
    if unit == UNITS.Unit("decibel"):
        return 1.0, "decibel"
    quantity = UNITS.Quantity(1, "kelvin" if unit == UNITS.Unit("degree_Celsius") else unit).to_base_units()
    return float(quantity.magnitude), quantity.dimensionality


def unit_faults(unit: Unit, known: dict[str, Unit]) -> list[str]:
    """What is wrong with one line of units.csv, in pint's eyes. Kind of truth: a general library."""
    scale, dimension = magnitude(unit.pint)
    faults = []
    if unit.scale != pytest.approx(scale, rel=1e-12):
        faults.append(f"{unit.unit}: scale {unit.scale}, pint says {scale}")
    base = known.get(unit.si)
    if base is None or base.scale != 1 or base.si != base.unit:
        return [*faults, f"{unit.unit}: {unit.si} is no SI unit of the table"]
    if magnitude(base.pint) != (1, dimension):
        faults.append(f"{unit.unit}: not of the dimension of {unit.si}")
    spelled = RAISED.sub(r"**\1", unit.unit).replace("·", "*")
    if unit.unit not in OWN_SPELLINGS and UNITS.Unit(spelled) != UNITS.Unit(unit.pint):
        faults.append(f"{unit.unit}: pint reads it as another unit than {unit.pint}")
    return faults if unit.source else [*faults, f"{unit.unit}: no source"]


def quantity_faults(quantity: Quantity) -> list[str]:
    """What is wrong with one line of quantities.csv."""
    name, unit, shown = quantity.name, units().get(quantity.unit), units().get(quantity.shown)
    checks = {
        "is no Python name": name.isidentifier(),
        f"unit {quantity.unit} is no SI unit of units.csv": unit is not None and unit.si == quantity.unit,
        f"is shown in {quantity.shown}, not of its dimension": shown is not None and shown.si == quantity.unit,
        "low is not below high": quantity.low < quantity.high,
        "has no symbol, words or source": all(map(str.strip, (quantity.symbol, quantity.words, quantity.source))),
        "words are no part of a sentence": quantity.words == quantity.words.strip().rstrip("."),
        'words do not follow on "is the"': not NO_NOUN.match(quantity.words),
    }
    return [f"{name} {fault}" for fault, fine in checks.items() if not fine]


def material_faults(table: list[list[str]]) -> Iterable[str]:
    """What is wrong with a materials table: a header, a Units row, and a source wherever a number stands."""
    if len(table) < 3 or table[1][0] != "Units":
        yield "must be a header, a row that begins with Units, and rows"
        return
    header, units_row = table[0], table[1]
    if "source" not in header:
        yield "no column source"
        return
    for name, unit in zip(header[1:], units_row[1:], strict=True):
        if unit not in TEXT and unit not in units():
            yield f"{name}: unit {unit} is not known"
        elif unit in TEXT or name in FASTENER:
            continue
        elif (quantity := quantities().get(name) or quantities().get(RANGE.sub("", name))) is None:
            yield f"{name}: not in quantities.csv"
        elif units()[unit].si != quantity.unit:
            yield f"{name}: {unit} is not of its dimension"
    for number, row in enumerate(table[2:], 3):
        if len(row) != len(header) or not row[header.index("source")].strip():
            yield f"row {number}: no source"


@pytest.mark.parametrize("unit", units().values(), ids=lambda unit: unit.unit)
def test_a_unit_is_what_pint_says(unit) -> None:
    assert unit_faults(unit, units()) == []


def test_a_celsius_step_is_a_kelvin() -> None:
    """Kind of truth: a general library. Inside, temperatures stay in °C; only steps mix with K."""
    assert units()["°C"].scale == 1
    assert UNITS.Quantity(1, "delta_degree_Celsius").to("kelvin").magnitude == 1


def test_ten_decibels_are_a_factor_of_ten_in_power() -> None:
    """Kind of truth: a general library. The table takes dB as it stands: 1 dB is one tenth of a power of ten."""
    assert UNITS.Quantity(10 * units()["dB"].scale, "decibel").to("dimensionless").magnitude == pytest.approx(10)


@pytest.mark.parametrize("quantity", quantities().values(), ids=lambda quantity: quantity.name)
def test_a_quantity_is_whole(quantity) -> None:
    assert quantity_faults(quantity) == []


@pytest.mark.parametrize("table", ["quantities.csv", "units.csv"])
def test_no_line_hides_another(table) -> None:
    names = [row[0] for row in rows(house.SRC / table)]
    assert sorted({name for name in names if names.count(name) > 1}) == []


@pytest.mark.parametrize("path", MATERIALS, ids=house.short)
def test_a_material_table_has_units_and_sources(path) -> None:
    assert list(material_faults(rows(path))) == []


@pytest.mark.parametrize(
    ("unit", "fault"),
    [
        (Unit("mm", "m", 1e-2, "millimeter", "SI"), "scale"),
        (Unit("mm", "kg", 1e-3, "millimeter", "SI"), "dimension"),
        (Unit("mm", "cm", 1e-3, "millimeter", "SI"), "no SI unit"),
        (Unit("cm", "m", 1e-3, "millimeter", "SI"), "another unit"),
        (Unit("%", "1", 1, "percent", "SI"), "scale"),
        (Unit("°", "rad", 1, "degree", "SI"), "scale"),
        (Unit("dB", "1", 1, "decibel", "SI"), "dimension"),
        (Unit("mm", "m", 1e-3, "millimeter", ""), "no source"),
    ],
)
def test_the_rule_on_units_can_fail(unit, fault) -> None:
    assert [fault in said for said in unit_faults(unit, units())] == [True]


def test_the_rule_on_quantities_can_fail() -> None:
    assert quantity_faults(Quantity("d cu", "d", "mm", "g", 2, 1, "a wire.", "")) == [
        "d cu is no Python name",
        "d cu unit mm is no SI unit of units.csv",
        "d cu is shown in g, not of its dimension",
        "d cu low is not below high",
        "d cu has no symbol, words or source",
        "d cu words are no part of a sentence",
        'd cu words do not follow on "is the"',
    ]


def test_the_rule_on_materials_can_fail() -> None:
    header = ["name", "rho_20", "t_max", "strength_min", "source"]
    table = [header, ["Units", "Ω·mm", "g", "MPa", ""], ["copper", "1", "2", "3", " "]]
    assert list(material_faults(table)) == [
        "rho_20: unit Ω·mm is not known",
        "t_max: g is not of its dimension",
        "strength_min: not in quantities.csv",
        "row 3: no source",
    ]
    assert list(material_faults([header, ["copper", "1", "2", "3", "book"], []])) != []
    assert list(material_faults([["name", "t"], ["Units", "mm"], ["card", "1"]])) == ["no column source"]

"""The steels whose magnetisation is known, by name."""

from __future__ import annotations

import csv
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from handwound.errors import FieldError
from handwound.quantities import units

if TYPE_CHECKING:
    from handwound.physics.field.bh import Curve

HERE = Path(__file__).parent


@cache
def _index() -> dict[str, dict[str, str]]:
    """Rows of the index by name; its second row holds the units."""
    with (HERE / "steels.csv").open(encoding="utf8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["name"] != "Units"]
    return {row["name"]: row for row in rows}


def names() -> tuple[str, ...]:
    """The names of all steels; the first is the one to take when nothing is known."""
    return tuple(_index())


def _row(name: str) -> dict[str, str]:
    if name in _index():
        return _index()[name]
    close = get_close_matches(name, names(), 1, 0.4)
    guess = f' Did you mean "{close[0]}"?' if close else ""
    raise FieldError(f'steel: must be one of {", ".join(names())}; found "{name}".{guess}')


@cache
def curve(name: str) -> Curve:
    """The B-H curve of a steel."""
    from handwound.physics.field.bh import Curve  # late: it brings the field solver, and a list of names must not wait

    _row(name)
    with (HERE / "steels" / f"{name}.csv").open(encoding="utf8", newline="") as file:
        points = [row for row in csv.DictReader(file) if row["point"] != "Units"]
    return Curve([float(row["B"]) for row in points], [float(row["H"]) for row in points])


def k_B_spread(name: str) -> float:
    """Half of the 90 % band of the factor on B between one piece and another. [1]"""
    return float(_row(name)["k_B"])


def k_H_spread(name: str) -> float:
    """Half of the 90 % band of the factor on H between one piece and another. [1]"""
    return float(_row(name)["k_H"])


def rho_20(name: str) -> float:
    """Resistivity of a steel at 20 °C. [Ω·m]"""
    return units()["Ω·mm²/m"].scale * float(_row(name)["rho_20"])


def rho_m(name: str) -> float:
    """Mass density of a steel. [kg/m³]"""
    return float(_row(name)["rho_m"])


def k_th(name: str) -> float:
    """Thermal conductivity of a steel. [W/(m·K)]"""
    return float(_row(name)["k_th"])


def c_p(name: str) -> float:
    """Specific heat of a steel. [J/(kg·K)]"""
    return float(_row(name)["c_p"])

"""The one table of names, symbols, units and limits. Files carry units, code is SI floats, faces show units."""

from __future__ import annotations

import csv
import difflib
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Num: TypeAlias = float | npt.NDArray[np.float64]
    Count: TypeAlias = int | npt.NDArray[np.int64]
else:
    Num = float
    Count = int
"""A number in SI units, and a count; arrays where many candidates or draws are evaluated at once."""

HERE = Path(__file__).parent
NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
MEASURED = re.compile(
    rf"\s*(?P<value>{NUMBER})\s*(?P<unit1>[^\d\s±+-][^±+]*?)?\s*"
    rf"(?:(?:±|\+/-|\+-)\s*(?P<spread>{NUMBER})\s*(?P<unit2>[^\d\s]\S*)?)?\s*"
)
DECIMAL_COMMA = re.compile(r"\d,\d")


@dataclass(frozen=True)
class Unit:
    """One way to write a unit: how many of the SI unit it stands for."""

    unit: str
    si: str
    scale: float
    pint: str
    source: str


@dataclass(frozen=True)
class Quantity:
    """One row of the table: a quantity has this one name from the file to the paper."""

    name: str
    symbol: str
    unit: str
    shown: str
    low: float
    high: float
    words: str
    source: str


class Measured(NamedTuple):
    """A number as written: its value and half of its 5-95 % band, in SI units."""

    value: float
    spread: float


class MisreadError(ValueError):
    """A text that is not a usable quantity: what it must be, what was found, what to do."""

    def __init__(self, must: str, found: str, do: str) -> None:
        self.must, self.found, self.do = must, found, do
        super().__init__(f"must be {must}; found {found}. {do}")


@cache
def units() -> dict[str, Unit]:
    """Every unit that a file may carry, by its spelling."""
    with (HERE / "units.csv").open(encoding="utf8", newline="") as file:
        return {row["unit"]: Unit(**{**row, "scale": float(row["scale"])}) for row in csv.DictReader(file)}  # type: ignore[arg-type]


@cache
def quantities() -> dict[str, Quantity]:
    """Every quantity of the project, by name."""
    with (HERE / "quantities.csv").open(encoding="utf8", newline="") as file:
        rows = csv.DictReader(file)
        return {
            row["name"]: Quantity(**{**row, "low": float(row["low"]), "high": float(row["high"])})  # type: ignore[arg-type]
            for row in rows
        }


def read(name: str, text: object) -> Measured:
    """Turn ``"28.0 ± 0.2 mm"`` into SI floats, or say in one sentence why it cannot be used."""
    quantity = quantities()[name]
    example = f'"{_example(quantity)}"'
    what = f"{name} is the {quantity.words}."
    if isinstance(text, bool) or not isinstance(text, (int, float, str)):
        raise MisreadError(f"a number with a unit, such as {example}", repr(text), what)
    if quantity.unit == "1" and isinstance(text, (int, float)):
        return Measured(_inside(quantity, float(text), str(text), what), 0.0)
    if isinstance(text, (int, float)):
        raise MisreadError(f"a text with a unit, such as {example}", f"the bare number {text}", what)
    if DECIMAL_COMMA.search(text):
        raise MisreadError("written with a decimal point", f'"{text}"', f'Write "{text.replace(",", ".")}".')
    match = MEASURED.fullmatch(text)
    if not match:
        raise MisreadError(f"a number with a unit, such as {example}", f'"{text}"', what)
    unit = (match["unit1"] or "").strip() or _unit_of_spread(match["unit2"])
    scale = _scale(quantity, unit, text, example, what)
    value = _inside(quantity, float(match["value"]) * scale, f'"{text}"', what)
    if match["spread"] is None:
        return Measured(value, 0.0)
    percent = match["unit2"] == "%" and quantity.unit != "1"
    step = abs(value) / 100 if percent else _scale(quantity, match["unit2"] or unit, text, example, what)
    return Measured(value, abs(float(match["spread"])) * step)


def shown(name: str, value: float) -> float:
    """The value in the unit in which the table shows this quantity."""
    return value / units()[quantities()[name].shown].scale


def show(name: str, value: float, digits: int = 3) -> str:
    """``0.00035`` -> ``"0.35 mm"``: ``digits`` significant figures in the table's shown unit."""
    unit = quantities()[name].shown
    text = plain(shown(name, value), digits)
    return text if unit == "1" else f"{text} {unit}"


def plain(number: float, digits: int = 3) -> str:
    """A number with so many significant figures, never in powers of ten where a person reads it."""
    if number == 0:
        return "0"
    text = f"{number:.{digits}g}"
    if "e" not in text:
        return text
    return f"{float(text):.0f}" if abs(number) >= 1 else f"{float(text):.12f}".rstrip("0")


def _example(quantity: Quantity) -> str:
    unit = units()[quantity.shown]
    middle = plain((max(quantity.low, 0) * quantity.high) ** 0.5 / unit.scale or quantity.high / unit.scale / 2, 2)
    return middle if quantity.shown == "1" else f"{middle} {quantity.shown}"


def _unit_of_spread(unit: str | None) -> str:
    return "" if unit in (None, "%") else str(unit)


def _scale(quantity: Quantity, unit: str, text: str, example: str, what: str) -> float:
    fitting = [u.unit for u in units().values() if u.si == quantity.unit]
    if unit in fitting:
        return units()[unit].scale
    if not unit:
        if quantity.unit == "1":
            return 1.0
        raise MisreadError(f"a number with a unit, such as {example}", f'"{text}" without one', what)
    known = units().get(unit)
    if known:
        raise MisreadError(f"in one of {', '.join(fitting)}", f'"{text}", in {unit}', what)
    guess = difflib.get_close_matches(unit, fitting, 1, cutoff=0.3)
    hint = f'Did you mean "{guess[0]}"? ' if guess else ""
    raise MisreadError(f"in one of {', '.join(fitting)}", f'"{text}", whose unit is not known', hint + what)


def _inside(quantity: Quantity, value: float, found: str, what: str) -> float:
    if quantity.low <= value <= quantity.high:
        return value
    low, high = show(quantity.name, quantity.low), show(quantity.name, quantity.high)
    raise MisreadError(f"between {low} and {high}", found, what)

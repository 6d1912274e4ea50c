"""The one table of names, symbols, units and limits. Files carry units, code is SI floats, faces show units."""

from __future__ import annotations

import csv
import difflib
import math
import re
import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from handwound.language import pointed

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
    rf"\s*(?P<value>{NUMBER})\s*(?P<unit1>(?:1/)?[^\d\s.±+-][^±+]*?)?\s*"
    rf"(?:(?:±|\+/-|\+-)\s*(?P<spread>{NUMBER})\s*(?P<unit2>(?:1/)?[^\d\s.]\S*)?)?\s*"
)
LOOKALIKES = str.maketrans({"\u03bc": "\u00b5", "\u00ba": "°", "\u02da": "°", "\u2212": "-"})
"""Signs that keyboards and other programs put for µ (Greek mu), ° (an ordinal, a ring) and - (a true minus)."""
DECIMAL_COMMA = re.compile(r"\d,\d")
HUGE = 10**18
"""No whole number of a workshop is as large; larger ones can be too long to be turned into text or a float."""
WIDEST = 2.0
"""A spread this many times as wide as the number is a slip of the pen."""


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
        super().__init__(f"must be {must}; found {found}. {do}".rstrip())


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


def read(name: str, written: object) -> Measured:
    """Turn ``"28.0 ± 0.2 mm"`` into SI floats, or say in one sentence why it cannot be used."""
    quantity = quantities()[name]
    what = f"{name} is the {quantity.words}."
    if isinstance(written, bool) or not isinstance(written, (int, float, str)):
        raise MisreadError(_must(quantity), as_typed(written), what)
    if isinstance(written, str):
        return _read_text(quantity, written, what)
    if quantity.unit == "1":
        return Measured(_inside(quantity, written, as_typed(written), what), 0.0)
    must = f'a text with a unit, such as "{_example(quantity)}"'
    raise MisreadError(must, f"{as_typed(written)} without quotes and unit", what)


def as_typed(value: object) -> str:
    """What was found, much as its writer typed it; short, whatever it is."""
    if isinstance(value, str):
        return f'"{value}"'
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and abs(value) >= HUGE:
        return "a number of very many digits"
    return str(value)


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
    if abs(number) < 1e-12:  # what the last line would write as nothing but zeros
        return "0"
    text = f"{number:.{digits}g}"
    if "e" in text:
        text = f"{float(text):.0f}" if abs(number) >= 1 else f"{float(text):.12f}".rstrip("0")
    return pointed(text)


def _read_text(quantity: Quantity, text: str, what: str) -> Measured:
    if DECIMAL_COMMA.search(text):
        raise MisreadError("written with a decimal point", f'"{text}"', f'Write "{text.replace(",", ".")}".')
    match = MEASURED.fullmatch(unicodedata.normalize("NFC", text).translate(LOOKALIKES))  # NFC: the ohm sign is a Ω
    if not match:
        raise MisreadError(_must(quantity), f'"{text}"', what)
    unit = (match["unit1"] or "").strip() or _unit_of_spread(match["unit2"])
    scale = _scale(quantity, unit, text, what)
    value = _inside(quantity, float(match["value"]) * scale, f'"{text}"', what)
    if match["spread"] is None:
        return Measured(value, 0.0)
    if match["spread"].startswith("-"):
        must = "a number with a spread that is not negative"
        raise MisreadError(must, f'"{text}"', "Behind ± stands half of the band, without a sign.")
    percent = match["unit2"] == "%" and quantity.unit not in ("1", "°C")  # a share of a temperature means nothing
    step = abs(value) / 100 if percent else _scale(quantity, match["unit2"] or unit, text, what)
    spread = float(match["spread"]) * step
    too_wide = quantity.low >= 0 and value and spread > WIDEST * value
    if too_wide or not math.isfinite(spread):
        must = "a number with a spread smaller than itself"
        raise MisreadError(must, f'"{text}"', "Look at the unit of the spread.")
    return Measured(value, spread)


def _must(quantity: Quantity) -> str:
    example = _example(quantity)
    return f"a number, such as {example}" if quantity.unit == "1" else f'a number with a unit, such as "{example}"'


def _example(quantity: Quantity) -> str:
    scale = 1.0 if quantity.unit == "1" else units()[quantity.shown].scale
    middle = plain((max(quantity.low, 0) * quantity.high) ** 0.5 / scale or quantity.high / scale / 2, 2)
    return middle if quantity.unit == "1" else f"{middle} {quantity.shown}"


def _unit_of_spread(unit: str | None) -> str:
    return "" if unit in (None, "%") else str(unit)


def _scale(quantity: Quantity, unit: str, text: str, what: str) -> float:
    fitting = [u.unit for u in units().values() if u.si == quantity.unit]
    if unit in fitting:
        return units()[unit].scale
    if not unit:
        if quantity.unit == "1":
            return 1.0
        raise MisreadError(_must(quantity), f'"{text}" without one', what)
    must = _must(quantity) if quantity.unit == "1" else f"in one of {', '.join(fitting)}"
    if unit in units():
        raise MisreadError(must, f'"{text}", in {unit}', what)
    guess = difflib.get_close_matches(unit, fitting, 1, cutoff=0.3)
    hint = f'Did you mean "{guess[0]}"? ' if guess else ""
    raise MisreadError(must, f'"{text}", whose unit is not known', hint + what)


def _inside(quantity: Quantity, value: float, found: str, what: str) -> float:
    if quantity.low <= value <= quantity.high:  # a whole number of any length can be compared, not made a float
        return float(value)
    low, high = show(quantity.name, quantity.low), show(quantity.name, quantity.high)
    raise MisreadError(f"between {low} and {high}", found, what)

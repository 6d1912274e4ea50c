"""One table of a TOML file: which keys it may hold, and its texts with units turned into SI numbers with spreads."""

from __future__ import annotations

import math
from typing import Annotated, TypeAlias

from pydantic import BaseModel, ConfigDict, PlainValidator, ValidationInfo

from handwound.quantities import Measured, MisreadError, quantities, read

HUGE = 10**18
"""No whole number of a workshop is as large; larger ones can be too long to be turned into text or a float."""
WIDEST = 2.0
"""A spread this many times as wide as the number is a slip of the pen."""


def measured(name: str, value: object) -> Measured:
    """``"0.35 ± 0.01 mm"`` in SI units, under the limits of the quantity of this name."""
    if isinstance(value, int) and abs(value) >= HUGE:
        raise MisreadError("a number of ordinary size", shown(value), f"{name} is the {quantities()[name].words}.")
    if isinstance(value, (list, dict)):
        raise MisreadError("one number with its unit", shown(value), f"{name} is the {quantities()[name].words}.")
    found = read(name, value)
    if not math.isfinite(found.spread) or (
        quantities()[name].low >= 0 and found.value and found.spread > WIDEST * found.value
    ):
        raise MisreadError(
            "a number with a spread smaller than itself", f'"{value}"', "Look at the unit of the spread."
        )
    return found


def _number(value: object, info: ValidationInfo) -> Measured:
    return measured(str(info.field_name), value)


def _whole(value: object, info: ValidationInfo) -> int:
    name = str(info.field_name)
    if isinstance(value, bool) or not isinstance(value, int):
        raise MisreadError("a whole number without quotes", shown(value), f"{name}: {quantities()[name].words}.")
    return int(measured(name, value).value)


def _word(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or not value.isprintable():
        raise MisreadError("a text in quotes, on one line", shown(value), "")
    return value


def _words(value: object) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
        raise MisreadError('a list of texts, such as ["one", "two"]', shown(value), "")
    return tuple(value)


Number: TypeAlias = Annotated[Measured, PlainValidator(_number)]
"""A quantity with its unit; the key is its name in the table of quantities."""
Whole: TypeAlias = Annotated[int, PlainValidator(_whole)]
Word: TypeAlias = Annotated[str, PlainValidator(_word)]
Words: TypeAlias = Annotated[tuple[str, ...], PlainValidator(_words)]


def one_of(*known: str) -> PlainValidator:
    """A word out of a few."""

    def check(value: object) -> str:
        if isinstance(value, str) and value in known:
            return value
        listed = ", ".join(f'"{word}"' for word in known[:-1]) + f' or "{known[-1]}"'
        raise MisreadError(listed, shown(value), "")

    return PlainValidator(check)


def shown(value: object) -> str:
    """What stands in the file, as the maker typed it."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int) and abs(value) >= HUGE:
        return "a number of very many digits"
    return f'"{value}"' if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else str(value)


class Row(BaseModel):
    """The root of all tables that a file may hold. A subclass is the list of its keys."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    def numbers(self, *names: str) -> dict[str, float]:
        """The SI values of those keys that were given."""
        return {name: getattr(self, name).value for name in names if getattr(self, name) is not None}

    def spread(self, *names: str) -> tuple[tuple[str, float], ...]:
        """(key, half of the band) of those keys that carry one, as a part holds them."""
        given = [(name, getattr(self, name)) for name in names]
        return tuple((name, number.spread) for name, number in given if number is not None and number.spread)

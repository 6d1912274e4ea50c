"""One table of a TOML file: which keys it may hold, and its texts with units turned into SI numbers with spreads."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot
from typing import Annotated, Any, TypeAlias

from pydantic import BaseModel, ConfigDict, PlainValidator, ValidationInfo

from handwound.quantities import Measured, MisreadError, as_typed, quantities, read


def _number(value: object, info: ValidationInfo) -> Measured:
    return read(str(info.field_name), value)


def _several(value: object, info: ValidationInfo) -> tuple[Measured, ...]:
    if not isinstance(value, list):
        raise MisreadError('a list of texts, each with its unit, such as ["25.62 mm", "25.58 mm"]', as_typed(value), "")
    return tuple(_number(each, info) for each in value)


def _whole(value: object, info: ValidationInfo) -> int:
    name = str(info.field_name)
    if isinstance(value, bool) or not isinstance(value, int):
        what = f"{name} is the {quantities()[name].words}."
        raise MisreadError("a whole number without quotes", as_typed(value), what)
    return int(read(name, value).value)


def _wholes(value: object, info: ValidationInfo) -> tuple[int, ...]:
    if not isinstance(value, list) or not value:
        raise MisreadError("a list of whole numbers, such as [76, 75, 76]", as_typed(value), "")
    return tuple(_whole(each, info) for each in value)


def _word(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or not value.isprintable():
        raise MisreadError("a text in quotes, on one line", as_typed(value), "")
    return value


def _words(value: object) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
        raise MisreadError('a list of texts, such as ["one", "two"]', as_typed(value), "")
    return tuple(value)


def _names(value: object) -> tuple[str, ...]:
    each = value if isinstance(value, list) else [value]
    if not each or not all(isinstance(name, str) and name.strip() and name.isprintable() for name in each):
        raise MisreadError('a name in quotes, or a list of them, such as ["one", "two"]', as_typed(value), "")
    return tuple(each)


Number: TypeAlias = Annotated[Measured, PlainValidator(_number)]
"""A quantity with its unit; the key is its name in the table of quantities."""
Several: TypeAlias = Annotated[tuple[Measured, ...], PlainValidator(_several)]
"""A list of readings of one quantity."""
Whole: TypeAlias = Annotated[int, PlainValidator(_whole)]
Wholes: TypeAlias = Annotated[tuple[int, ...], PlainValidator(_wholes)]
Word: TypeAlias = Annotated[str, PlainValidator(_word)]
Words: TypeAlias = Annotated[tuple[str, ...], PlainValidator(_words)]
Names: TypeAlias = Annotated[tuple[str, ...], PlainValidator(_names)]
"""One name, or a list of names."""


def one_of(*known: str) -> PlainValidator:
    """A word out of a few."""

    def check(value: object) -> str:
        if isinstance(value, str) and value in known:
            return value
        listed = ", ".join(f'"{word}"' for word in known[:-1]) + f' or "{known[-1]}"'
        raise MisreadError(listed, as_typed(value), "")

    return PlainValidator(check)


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


def as_part(numbers: Mapping[str, Measured]) -> dict[str, Any]:
    """The arguments of a part: plain values, and half of the band of each number that has one."""
    values = {name: number.value for name, number in numbers.items()}
    return {**values, "spread": tuple((name, number.spread) for name, number in numbers.items() if number.spread)}


def following(value: float, *factors: Measured) -> Measured:
    """A value that goes with each of these numbers, or with its inverse, and so with the doubt of each."""
    return Measured(value, value * hypot(*(each.spread / each.value for each in factors)))

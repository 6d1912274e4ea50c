"""Words ready to print, with the figures in them: so each figure on paper is found again in the JSON.

A sentence is a message with named places; what is put there brings its figures along. The message is looked up in the
language that is spoken.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from handwound import quantities
from handwound.language import translated
from handwound.parts.prediction import Band
from handwound.quantities import Count, Num, plain, shown


@dataclass(frozen=True)
class Figure:
    """One number as it stands on the paper: whose quantity, its SI value and band, and how they are printed.

    Where no band is known ``low`` and ``high`` are the value. ``unit`` is what stands behind it, if anything.
    """

    name: str
    value: float
    low: float
    high: float
    text: str
    text_low: str
    text_high: str
    unit: str


class Said(str):
    """A text that remembers the figures that it is made of."""

    figures: tuple[Figure, ...]

    def __new__(cls, text: str, figures: Iterable[Figure] = ()) -> Said:
        """The text with its figures."""
        made = super().__new__(cls, text)
        made.figures = tuple(figures)
        return made


def figures(text: str) -> tuple[Figure, ...]:
    """The figures of a text; a plain one has none."""
    return text.figures if isinstance(text, Said) else ()


def say(message: str, **values: object) -> Said:
    """The message in the language that is spoken, its places filled; write ``say("{t} thick", t=show("t", t))``."""
    inside = [figure for value in values.values() if isinstance(value, str) for figure in figures(value)]
    return Said(translated(message).format(**values), inside)


def named(name: str, among: Collection[str]) -> Said:
    """A name that another part of the project gives, where it is one of those named in a constant; else as it is."""
    return say(name) if name in among else Said(name)


def joined(between: str, parts: Iterable[str]) -> Said:
    """Texts one after the other, with their figures."""
    found = list(parts)
    return Said(between.join(found), (figure for part in found for figure in figures(part)))


def listed(parts: Iterable[str]) -> Said:
    """ "a", "a and b", "a, b and c"."""
    found = list(parts)
    if len(found) < 2:
        return joined("", found)
    return say("{some} and {last}", some=joined(", ", found[:-1]), last=found[-1])


def either(parts: Iterable[str]) -> Said:
    """ "a", "a or b", "a, b or c"."""
    found = list(parts)
    if len(found) < 2:
        return joined("", found)
    return say("{some} or {last}", some=joined(", ", found[:-1]), last=found[-1])


def show(name: str, value: Num, digits: int = 3) -> Said:
    """``"0.35 mm"``: so many significant figures in the table's shown unit."""
    text, unit = plain(shown(name, float(value)), digits), quantities.quantities()[name].shown
    return printed(name, value, text, "" if unit == "1" else unit)


def mm(name: str, value: Num, digits: int = 4) -> Said:
    """A number without its unit, as a workshop writes lengths in millimetres."""
    return printed(name, value, plain(shown(name, float(value)), digits))


def counted(name: str, value: Num | Count) -> Said:
    """A whole number."""
    return printed(name, float(value), f"{int(value)}")


def ranged(name: str, band: Band, texts: tuple[str, str, str], unit: str) -> Said:
    """``"4.2 T·m (3.9 to 4.5)"`` of a value, low and high that are already rounded."""
    text, low, high = texts
    figure = Figure(name, band.value, band.low, band.high, text, low, high, unit)
    value = Said(f"{text} {unit}".strip(), [figure])
    return value if low == high else say("{value} ({low} to {high})", value=value, low=low, high=high)


def printed(name: str, value: Num, text: str, unit: str = "") -> Said:
    """A figure whose text is made elsewhere, of the value in the table's shown unit."""
    number = float(value)
    return Said(f"{text} {unit}".strip(), [Figure(name, number, number, number, text, text, text, unit)])

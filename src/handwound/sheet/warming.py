"""The driver from cold: its heat in a table and as curves, and what each part still bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction, Warming
from handwound.sheet.digits import with_band
from handwound.sheet.heat_limits import HEAD, burns_out, burnt, degrees, duration, limits, row, weakest
from handwound.sheet.motor import Row, Table
from handwound.sheet.numbers import band
from handwound.sheet.said import show
from handwound.warming import RUNAWAY

if TYPE_CHECKING:
    from handwound.parts.prediction import Array

FED = (("field current", "I_f"), ("ampere-turns", "NI"), ("field watts", "P_f"), ("field ohms", "R_f"), ("Bl", "Bl"))
WARM = (("outside", "T_case"), ("voice coil", "T_vc"), ("field winding", "T_f"), ("hot spot", "T_hot"))
"""What is told of a driver that warms: words and quantity, the same in every table."""
SIGNS = {"T_case": "o", "T_vc": "v", "T_f": "w", "T_hot": "h"}
"""The letter that draws each temperature."""
TOLD = (600.0, 3600.0)
"""The table tells the driver cold, after these times, and in the end. [s]"""
REST = 1.0
"""What rises by less in the second half of its time is told as its end. [K]"""
FILMS = "Still air is never known better than to 10 % of the rise, draughts and corners come on top."


class Curve(NamedTuple):
    """A temperature over time, under its name and the letter that draws it."""

    name: str
    sign: str
    T: Array


def curves(warming: Warming) -> tuple[Curve, ...]:
    """Every temperature that is told, from the cool outside to the hot spot."""
    return tuple(
        Curve(words, SIGNS[name], T) for words, name in WARM if (T := getattr(warming, name)) is not None
    )  # fmt: skip


def tables(design: Design, brief: Brief, found: Prediction) -> tuple[Table, ...]:
    """The warming, and the limits; none where no warming was followed."""
    if found.warming is None:
        return ()
    warming = found.warming
    head = ("", "cold", *(duration(t) for t in _times(warming)), _end(found))
    rows = tuple((words, *(_at(warming, name, values))) for words, name, values in _told(warming))
    asked = [row(each) for each in limits(design, brief, found)]
    title = f"From cold, {'both coils fed' if found.heat else 'music playing'}"
    return (
        Table(title, (head, *rows), " ".join(_note(found)), right=tuple(range(1, len(head)))),
        Table("How far heat may go", (HEAD, *asked), " ".join(_weak(design, found)), right=(1, 2, 3, 4)),
    )


def _times(warming: Warming) -> list[float]:
    """The times that are told between the first and the last."""
    return [t for t in TOLD if t < warming.t_w[-1]]


def _end(found: Prediction) -> str:
    """What the last column is called."""
    warming = found.warming
    assert warming is not None
    t = float(warming.t_w[-1])
    if burns_out(found):
        return burnt(found)
    moves = max(float(each.T[-1] - np.interp(t / 2, warming.t_w, each.T)) for each in curves(warming))
    return "in the end, with music" if moves < REST else duration(t)


def _told(warming: Warming) -> Iterator[tuple[str, str, Array]]:
    """The rows of the table: words, quantity, values over time."""
    for words, name in (*FED, *WARM):
        if (values := getattr(warming, name)) is not None:
            yield words, name, values


def _at(warming: Warming, name: str, values: Array) -> Row:
    """One row at the times of the table."""
    t_w = warming.t_w
    asked = [float(np.interp(t, t_w, values)) for t in (t_w[0], *_times(warming), t_w[-1])]
    return tuple(degrees(value) if name.startswith("T_") else show(name, value) for value in asked)


def _note(found: Prediction) -> Iterator[str]:
    """How sure the end is, and what is in it."""
    if burns_out(found):
        yield f"It runs away: no rest below {degrees(RUNAWAY)}, which no insulation bears."
    elif found.heat:
        yield (
            f"With the voice coil silent the outside ends at {with_band('T_case', band(found, 'heat.T_case'))}, the "
            f"hot spot at {with_band('T_hot', band(found, 'heat.T_hot'))}."
        )
    if found.heat:
        yield "Field ohms are volts over amperes, the copper's own thermometer."
    yield FILMS


def _weak(design: Design, found: Prediction) -> Iterator[str]:
    """What the voice coil bears in watts."""
    if burns_out(found):
        yield "All as it is when it burns out."
    elif found.rating and float(found.rating.P_cont) <= 0:
        yield f"The field coil alone brings the {weakest(design)} past {degrees(found.rating.T_lim)}: no music at all."
    elif found.rating:
        bears = ", ".join(
            f"{with_band(name, band(found, f'rating.{name}'))} {words}"
            for name, words in (("P_cont", "for good"), ("P_long", "for a minute"), ("P_short", "for a second"))
        )
        watts, lost = show("P_prog", float(found.rating.P_prog)), show("dL_hot", float(found.rating.dL_hot), 2)
        yield (
            f"{'In the warm motor the' if found.heat else 'The'} voice coil bears {bears}, until its {weakest(design)} "
            f"has {degrees(found.rating.T_lim)}. Music as in the brief makes {watts} of heat in it; warmed by that"
            f"{' and by the motor' if found.heat else ''} it loses {lost} of its level."
        )
    if design.glue:
        yield "The temperature of a glue is a warning only."

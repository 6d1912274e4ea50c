"""The driver from cold: its heat in a table and as curves, and what each part still bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction, Warming
from handwound.sheet.digits import with_band
from handwound.sheet.heat_limits import burns_out, burnt, degrees, duration, head, limits, row, weakest
from handwound.sheet.motor import Row, Table
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, joined, say, show
from handwound.warming import RUNAWAY

if TYPE_CHECKING:
    from handwound.parts.prediction import Array

FED = {"I_f": "field current", "NI": "ampere-turns", "P_f": "field watts", "R_f": "field ohms", "Bl": "Bl"}
WARM = {"T_case": "outside", "T_vc": "voice coil", "T_f": "field winding", "T_hot": "hot spot"}
"""What is told of a driver that warms: quantity and words, the same in every table."""
SIGNS = {"T_case": "o", "T_vc": "v", "T_f": "w", "T_hot": "h"}
"""The letter that draws each temperature."""
TOLD = (600.0, 3600.0)
"""The table tells the driver cold, after these times, and in the end. [s]"""
REST = 1.0
"""What rises by less in the second half of its time is told as its end. [K]"""
FILMS = "Still air is never known better than to 10 % of the rise, draughts and corners come on top."


class Curve(NamedTuple):
    """A temperature over time, under its name and the letter that draws it."""

    name: Said
    sign: str
    T: Array


def curves(warming: Warming) -> tuple[Curve, ...]:
    """Every temperature that is told, from the cool outside to the hot spot."""
    return tuple(
        Curve(say(WARM[name]), SIGNS[name], T) for name in WARM if (T := getattr(warming, name)) is not None
    )  # fmt: skip


def tables(design: Design, brief: Brief, found: Prediction) -> tuple[Table, ...]:
    """The warming, and the limits; none where no warming was followed."""
    if found.warming is None:
        return ()
    warming = found.warming
    over = ("", say("cold"), *(duration(t, "t_w") for t in _times(warming)), _end(found))
    rows = tuple((words, *(_at(warming, name, values))) for words, name, values in _told(warming))
    asked = [row(each) for each in limits(design, brief, found)]
    title = say("From cold, both coils fed") if found.heat else say("From cold, music playing")
    return (
        Table(title, (over, *rows), joined(" ", _note(found)), right=tuple(range(1, len(over)))),
        Table(say("How far heat may go"), (head(), *asked), joined(" ", _weak(design, found)), right=(1, 2, 3, 4)),
    )


def _times(warming: Warming) -> list[float]:
    """The times that are told between the first and the last."""
    return [t for t in TOLD if t < warming.t_w[-1]]


def _end(found: Prediction) -> Said:
    """What the last column is called."""
    warming = found.warming
    assert warming is not None
    t = float(warming.t_w[-1])
    if burns_out(found):
        return burnt(found)
    moves = max(float(each.T[-1] - np.interp(t / 2, warming.t_w, each.T)) for each in curves(warming))
    return say("in the end, with music") if moves < REST else duration(t, "t_w")


def _told(warming: Warming) -> Iterator[tuple[Said, str, Array]]:
    """The rows of the table: words, quantity, values over time."""
    for name in (*FED, *WARM):
        if (values := getattr(warming, name)) is not None:
            yield say(FED[name] if name in FED else WARM[name]), name, values


def _at(warming: Warming, name: str, values: Array) -> Row:
    """One row at the times of the table."""
    t_w = warming.t_w
    asked = [float(np.interp(t, t_w, values)) for t in (t_w[0], *_times(warming), t_w[-1])]
    return tuple(degrees(value, name) if name.startswith("T_") else show(name, value) for value in asked)


def _note(found: Prediction) -> Iterator[Said]:
    """How sure the end is, and what is in it."""
    if burns_out(found):
        yield say("It runs away: no rest below {T}, which no insulation bears.", T=degrees(RUNAWAY))
    elif found.heat:
        yield say(
            "With the voice coil silent the outside ends at {T_case}, the hot spot at {T_hot}.",
            T_case=with_band("T_case", band(found, "heat.T_case")), T_hot=with_band("T_hot", band(found, "heat.T_hot")),
        )  # fmt: skip
    if found.heat:
        yield say("Field ohms are volts over amperes, the copper's own thermometer.")
    yield say(FILMS)


def _weak(design: Design, found: Prediction) -> Iterator[Said]:
    """What the voice coil bears in watts."""
    rating = found.rating
    if burns_out(found):
        yield say("All as it is when it burns out.")
    elif rating and float(rating.P_cont) <= 0:
        yield say(
            "The field coil alone brings the {part} past {T_lim}: no music at all.",
            part=weakest(design), T_lim=degrees(rating.T_lim, "T_lim"),
        )  # fmt: skip
    elif rating:
        watts = {name: with_band(name, band(found, f"rating.{name}")) for name in ("P_cont", "P_long", "P_short")}
        yield say(
            BEARS_WARM if found.heat else BEARS, part=weakest(design), T_lim=degrees(rating.T_lim, "T_lim"), **watts
        )
        music, lost = show("P_prog", float(rating.P_prog)), show("dL_hot", float(rating.dL_hot), 2)
        yield say(LOSES_WARM if found.heat else LOSES, P_prog=music, dL_hot=lost)
    if design.glue:
        yield say("The temperature of a glue is a warning only.")


BEARS = (
    "The voice coil bears {P_cont} for good, {P_long} for a minute, {P_short} for a second, until its {part} has "
    "{T_lim}."
)
BEARS_WARM = (
    "In the warm motor the voice coil bears {P_cont} for good, {P_long} for a minute, {P_short} for a second, until "
    "its {part} has {T_lim}."
)
LOSES = "Music as in the brief makes {P_prog} of heat in it; warmed by that it loses {dL_hot} of its level."
LOSES_WARM = (
    "Music as in the brief makes {P_prog} of heat in it; warmed by that and by the motor it loses {dL_hot} of its "
    "level."
)
"""What is said of the voice coil beside a motor that warms, and beside one that does not."""

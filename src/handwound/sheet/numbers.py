"""The numbers to expect, each with its band, in the order in which a driver is built."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from handwound.parts.prediction import STAGES, Band, Prediction
from handwound.quantities import quantities
from handwound.sheet.digits import banded, unit
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.said import Figure, Said, say

TITLES = {
    "field_winding": "Field coil, wound",
    "voice_winding": "Voice coil, wound",
    "excitation": "Field coil on its supply, cold",
    "heat": "The motor when it no longer warms, no music",
    "rating": "What the voice coil bears, and its music",
    "motor": "Magnetic field, cold",
    "moving": "What moves",
    "driver": "The driver, motor cold",
    "mounted": "Where it is built in, motor cold",
    "stiff": "The diaphragm",
    "clearance": "Air beside the voice coil",
}
KEY = {
    "driver.L_1W": "level at 1 m for 1 W, cold",
    "heat.L_1W": "the same, motor warm",
    "excitation.I_f": "field current, cold",
    "heat.I_f": "field current, warm",
    "motor.Bl": "force factor Bl, cold",
    "driver.fs": "resonance",
    "driver.Re": "voice coil on the meter",
    "moving.Mms": "moving mass, with air",
    "driver.Qts": "total Q, cold",
    "mounted.f_10": "lowest note, 10 dB down",
    "heat.T_case": "motor outside, no music",
    "clearance.c_i": "air inside the coil",
    "clearance.c_o": "air outside the coil",
}
"""What a builder asks first, in few words."""
WARM = ("heat.", "rating.")
"""Keys of what is true of a motor at rest only."""
COLD = re.compile(r", (motor )?cold$")
"""Said of what falls when a field coil warms; magnets alone make nothing warm."""


@dataclass(frozen=True)
class Number:
    """One quantity of one stage, in words ready to print."""

    stage: str
    name: str
    symbol: str
    words: str
    value: str
    low: str
    high: str
    unit: str


@dataclass(frozen=True)
class Group:
    """The numbers of one stage under their title."""

    title: str
    numbers: tuple[Number, ...]


def numbers(prediction: Prediction) -> tuple[Group, ...]:
    """All numbers of the prediction, stage by stage, but those of parts that are not there."""
    there = [key for key in told(prediction) if any(band(prediction, key))]
    groups = (
        Group(
            worded(prediction, TITLES[stage]),
            tuple(_number(prediction, key) for key in there if key.startswith(f"{stage}.")),
        )
        for stage in STAGES
    )
    return tuple(group for group in groups if group.numbers)


def key_numbers(prediction: Prediction) -> tuple[Number, ...]:
    """The few numbers of the first page."""
    there = told(prediction)
    return tuple(replace(_number(prediction, key), words=worded(prediction, KEY[key])) for key in KEY if key in there)


def told(prediction: Prediction) -> tuple[str, ...]:
    """The keys of all numbers, without those of a warm motor that burns out before it is so."""
    never = WARM if burns_out(prediction) else ()
    return tuple(key for key in prediction.numbers() if not key.startswith(never))


def worded(prediction: Prediction, message: str) -> Said:
    """The message without "cold" where there is no warm to tell it from."""
    return say(message if prediction.heat else without_cold(message))


def without_cold(message: str) -> str:
    """The message as it is for a driver that is never warmed by its motor."""
    return COLD.sub("", message)


def band(prediction: Prediction, key: str) -> Band:
    """The band of a number; without one of its own it has no width."""
    value = float(prediction.numbers()[key])
    return prediction.bands.get(key, Band(value, value, value, value))


def _number(prediction: Prediction, key: str) -> Number:
    stage, name = key.split(".")
    quantity = quantities()[name]
    known = band(prediction, key)
    value, low, high = banded(name, known)
    figure = Figure(name, known.value, known.low, known.high, value, low, high, unit(name))
    return Number(stage, name, quantity.symbol, say(quantity.words), Said(value, [figure]), low, high, unit(name))

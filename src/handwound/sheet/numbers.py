"""The numbers to expect, each with its band, in the order in which a driver is built."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.prediction import STAGES, Band, Prediction
from handwound.quantities import quantities
from handwound.sheet.digits import banded, unit

TITLES = {
    "field_winding": "Field coil, wound",
    "voice_winding": "Voice coil, wound",
    "excitation": "Field coil on its supply, cold",
    "heat": "Warmth in the end",
    "motor": "Magnetic field",
    "moving": "What moves",
    "driver": "The driver",
    "clearance": "Air beside the voice coil",
}
KEY = (
    "driver.L_1W", "driver.fs", "driver.Re", "driver.Z_min", "motor.Bl", "motor.B_g", "moving.Mms", "driver.Qts",
    "excitation.I_f", "excitation.P_f", "heat.T_case", "clearance.c_i", "clearance.c_o",
)  # fmt: skip
"""What a builder asks first."""


@dataclass(frozen=True)
class Number:
    """One quantity of one stage, in words ready to print."""

    stage: str
    name: str
    symbol: str
    words: str
    median: str
    low: str
    high: str
    unit: str


@dataclass(frozen=True)
class Group:
    """The numbers of one stage under their title."""

    title: str
    numbers: tuple[Number, ...]


def numbers(prediction: Prediction) -> tuple[Group, ...]:
    """All numbers of the prediction, stage by stage."""
    found = {key: _number(prediction, key) for key in prediction.numbers()}
    return tuple(
        Group(TITLES[stage], tuple(number for key, number in found.items() if key.startswith(f"{stage}.")))
        for stage in STAGES
    )


def key_numbers(prediction: Prediction) -> tuple[Number, ...]:
    """The few numbers of the first page."""
    there = prediction.numbers()
    return tuple(_number(prediction, key) for key in KEY if key in there)


def band(prediction: Prediction, key: str) -> Band:
    """The band of a number; without one of its own it has no width."""
    value = float(prediction.numbers()[key])
    return prediction.bands.get(key, Band(value, value, value))


def _number(prediction: Prediction, key: str) -> Number:
    stage, name = key.split(".")
    quantity = quantities()[name]
    median, low, high = banded(name, band(prediction, key))
    return Number(stage, name, quantity.symbol, quantity.words, median, low, high, unit(name))

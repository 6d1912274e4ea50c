"""One operation of the build: what to do, what to read, what to do where the reading is off."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.fed import Fed, fed


@dataclass(frozen=True)
class Check:
    """One thing to read: what is expected with its band, and what to do below and above it."""

    what: str
    expected: str
    if_low: str
    if_high: str


@dataclass(frozen=True)
class Operation:
    """One strip of the sheet; ``stop`` says when not to go on."""

    title: str
    do: tuple[str, ...]
    checks: tuple[Check, ...] = ()
    stop: str = ""


@dataclass(frozen=True)
class Build:
    """What every operation is written from."""

    design: Design
    brief: Brief
    prediction: Prediction

    @property
    def fed(self) -> Fed | None:
        """The field coil and its supply; None where magnets alone make the field."""
        return fed(self.design, self.brief, self.prediction)

"""One operation of the build: what to do, what to read, what to do where the reading is off."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.fed import Fed, fed
from handwound.sheet.heat_limits import after, limits


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

    @property
    def off(self) -> str | None:
        """How long the field coil may be on, as planned; None where it may be for good."""
        found = limits(self.design, self.brief, self.prediction)
        over = [each for each in found if each.is_over and each.is_field]
        if not over:
            return None
        first = min(over, key=lambda each: inf if each.t_lim is None else each.t_lim)
        return f"off {after(first.t_lim)} ({first.name})"

"""One operation of the build: what to do, what to read, what to do where the reading is off."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.quantities import Num
from handwound.sheet.cautions import Caution
from handwound.sheet.fed import Fed, fed
from handwound.sheet.heat_limits import after, limits
from handwound.sheet.said import Said, say


@dataclass(frozen=True)
class Check:
    """One thing to read: what is expected with its band, and what to do below and above it.

    Where nothing is expected, as on the label, only a place for the pencil is left.
    """

    what: str
    expected: str
    if_low: str
    if_high: str


@dataclass(frozen=True)
class Wait:
    """Glue that must not be hurried: until it can be let go, and until it may be stressed, in this room. [s]

    None where its label or the oven decides. ``words`` are the whole sentence.
    """

    glue: str
    t_set: Num | None
    t_cure: Num | None
    words: str


@dataclass(frozen=True)
class Operation:
    """One strip of the sheet. ``code`` is two letters, the same in every build; ``stop`` says when not to go on.

    ``ladder`` names the coil whose ladder belongs to it: "field" or "voice".
    """

    code: str
    title: str
    do: tuple[str, ...]
    checks: tuple[Check, ...] = ()
    stop: str = ""
    tools: tuple[str, ...] = ()
    waits: tuple[Wait, ...] = ()
    cautions: tuple[Caution, ...] = ()
    ladder: str = ""

    @property
    def is_hold(self) -> bool:
        """Whether nobody goes on before something was read, and found good."""
        return bool(self.stop) and any(check.expected for check in self.checks)

    def reading(self, check: Check) -> str:
        """The code of one of its readings: ``"FC2"``."""
        return f"{self.code}{self.checks.index(check) + 1}"


def rung_code(code: str, n_layer: int) -> str:
    """The code of the reading after a layer, of the operation that winds it: ``"FCL10"``."""
    return f"{code}L{n_layer}"


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
    def off(self) -> Said | None:
        """How long the field coil may be on, as planned; None where it may be for good."""
        found = limits(self.design, self.brief, self.prediction)
        over = [each for each in found if each.is_over and each.is_field]
        if not over:
            return None
        first = min(over, key=lambda each: inf if each.t_lim is None else each.t_lim)
        return say("off {after} ({name})", after=after(first.t_lim), name=first.name)

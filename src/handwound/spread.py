"""How sure the numbers are: every input with a spread is drawn, and the draws go through the stages as arrays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.part import Part
from handwound.parts.prediction import Band, Chain
from handwound.physics.heat import lumped as heat
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy.typing as npt

DRAWS = 2000
"""Draws of every uncertain input: the ends of a 5-95 % band are then known to 1.4 % of its width (one sigma)."""
SEED = 1
Z_90 = 1.6448536269514722
"""The normal deviate that 5 % exceed. [1] Tables of the normal distribution."""

NESTED, LEAST_WALL = (("d_in", "d_out"), ("d_cu", "d_o")), 1.001
"""Sizes of which one lies in the other: the rare draws that would cross are held apart."""
WIDE = 0.2
"""Half a band over the value from which on a normal distribution would reach too near to zero."""

P = TypeVar("P", bound=Part)
C = TypeVar("C", bound=Coil)


class Draw:
    """Draws the spreads of parts. The same part met twice, a reel used for both coils, is drawn once."""

    def __init__(self, count: int = DRAWS, seed: int = SEED) -> None:
        self.count = count
        self._random = np.random.default_rng(seed)
        self._drawn: dict[Part, Part] = {}

    def deviates(self) -> npt.NDArray[np.float64]:
        """Normal deviates, scaled so that 90 % lie between -1 and 1."""
        return self._random.standard_normal(self.count) / Z_90

    def number(self, value: float, half: float) -> Num:
        """A number drawn about its value: normal, or log-normal with the same width of band where that is wide.

        A modulus known to half its value is positive all the same: value * exp(s z) has the band
        value * exp(-s) to value * exp(s), and sinh(s) = half / value.
        """
        z = self.deviates()
        if value > 0 and half > WIDE * value:
            return np.asarray(value * np.exp(np.arcsinh(half / value) * z))
        return np.asarray(value + half * z)

    def part(self, part: P) -> P:
        """The part with an array in place of each number that carries a spread, and so for the parts within it."""
        if part not in self._drawn:
            halves = dict(part.spread)
            changed: dict[str, Any] = {}
            for item in fields(part):
                value = getattr(part, item.name)
                if item.name in halves and value is not None:
                    changed[item.name] = self.number(value, halves[item.name])
                elif isinstance(value, Part):
                    changed[item.name] = self.part(value)
                elif isinstance(value, tuple) and value and isinstance(value[0], Part):
                    changed[item.name] = tuple(self.part(each) for each in value)
            for inner, outer in NESTED:
                if inner in changed and outer in changed:
                    changed[outer] = np.maximum(changed[outer], LEAST_WALL * changed[inner])
            self._drawn[part] = replace(part, **changed) if changed else part
        return self._drawn[part]  # type: ignore[return-value]


@dataclass(frozen=True)
class Drawn:
    """A design and its brief with all uncertain numbers drawn, the cooling, and what the iron's spread does to Bl."""

    design: Design
    brief: Brief
    h_case: Num
    k_Bl: Num


def draw(design: Design, brief: Brief, answers: Mapping[tuple[str, str], float]) -> Drawn:
    """Draw everything at once. ``answers`` tells Bl's relative change for half a band of each number of the iron.

    The turns stay those of the sheet, which the maker counts; thicker wire then makes a thicker coil.
    """
    source = Draw()
    loose_design = source.part(design)
    loose_design = replace(loose_design, voice_coil=_same_turns(design.voice_coil, loose_design.voice_coil))
    if design.field_coil and loose_design.field_coil:
        loose_design = replace(loose_design, field_coil=_same_turns(design.field_coil, loose_design.field_coil))
    drawn = Drawn(loose_design, source.part(brief), source.number(heat.H_SURFACE, heat.H_SPREAD), 1.0)
    k_Bl = np.ones(source.count)
    rings = {ring.name: ring for ring in design.iron.rings}
    loose = {ring.name: ring for ring in drawn.design.iron.rings}
    for (name, quantity), change in answers.items():
        # a ring may be called as its steel is
        half = dict(rings[name].spread).get(quantity) if name in rings else None
        if half:
            k_Bl = k_Bl + change * (getattr(loose[name], quantity) - getattr(rings[name], quantity)) / half
        else:
            k_Bl = k_Bl + change * source.deviates()
    return replace(drawn, k_Bl=k_Bl)


def _same_turns(coil: C, loose: C) -> C:
    """The drawn coil with its packing such that as many turns fit as in the coil itself: N ~ h_w k_p / d_o."""
    if coil.wire is None or loose.wire is None:
        return loose
    return replace(loose, k_p=coil.k_p * loose.wire.d_o / coil.wire.d_o * coil.h_w / loose.h_w)


def bands(nominal: Chain, drawn: Chain) -> dict[str, Band]:
    """The band around every number of the stages."""
    draws = drawn.numbers()
    return {name: bands_of(draws[name], value)[0] for name, value in nominal.numbers().items()}


def bands_of(draws: Num, nominal: Num) -> list[Band]:
    """The band around each nominal value: 5 % and 95 % of its draws, which stand on the last axis."""
    values = np.atleast_1d(nominal)
    low, high = np.percentile(
        np.broadcast_to(draws, (len(values), np.shape(draws)[-1] if np.ndim(draws) else 1)), [5, 95], axis=-1
    )
    return [
        Band(float(value), float(min(a, value)), float(max(b, value)))
        for value, a, b in zip(values, low, high, strict=True)
    ]

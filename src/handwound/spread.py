"""How sure the numbers are: every input with a spread is drawn, and the draws go through the stages as arrays.

The draws of every input are remembered, and tell afterwards which of them make a result wide.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np

from handwound.parts.coil import Coil, VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS, Doubts
from handwound.parts.part import Part
from handwound.parts.prediction import Band, Chain, Weight
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

DRAWS = 10_000
"""Draws of every uncertain input: the ends of a 5-95 % band are then known to 0.64 % of its width (one sigma)."""
SEED = 1
BATCH = 2500
"""Draws that go through the stages together: more do not stay in the memory beside the processor. (measured)"""
Z_90 = 1.6448536269514722
"""The normal deviate that 5 % exceed. [1] Tables of the normal distribution."""
PERCENT = [5.0, 95.0, 50.0]
"""Low end, high end and median of a band."""

NESTED, LEAST_WALL = (("d_in", "d_out"), ("d_cu", "d_o")), 1.001
"""Sizes of which one lies in the other: the rare draws that would cross are held apart."""
WIDE = 0.2
"""Half a band over the value from which on a normal distribution would reach too near to zero."""
LEAST_SHARE = 0.03
"""Inputs that bring less than this share of a result's variance are not worth a measurement."""
ROUND_OFF = 1e-9
"""A result that moves by less than this share of itself does not depend on any draw."""

Answers = Mapping[tuple[str, str], tuple[float, float]]
"""For (ring, quantity) or (grade, quantity) the relative change of Bl over half a band u: slope * u + bend * u²."""
CALLED = {"Brief": "brief", "Doubts": "cooling"}
"""Parts whose name says nothing about their numbers."""
P = TypeVar("P", bound=Part)
C = TypeVar("C", bound=Coil)


class Input(NamedTuple):
    """One uncertain number: the kind of its part, what the part is called, and the quantity."""

    kind: str
    part: str
    quantity: str


class Draw:
    """Draws the spreads of parts. The same part met twice, a reel used for both coils, is drawn once."""

    def __init__(self, count: int = DRAWS, seed: int = SEED) -> None:
        self.count = count
        self.inputs: dict[Input, Array] = {}
        self._random = np.random.default_rng(seed)
        self._drawn: dict[Part, Part] = {}

    def deviates(self, source: Input) -> Array:
        """Normal deviates of an input, scaled so that 90 % lie between -1 and 1."""
        return self.inputs.setdefault(source, self._random.standard_normal(self.count) / Z_90)

    def number(self, value: float, half: float, source: Input) -> Num:
        """A number drawn about its value: normal, or log-normal with the same width of band where that is wide.

        A modulus known to half its value is positive all the same: value * exp(s z) has the band
        value * exp(-s) to value * exp(s), and sinh(s) = half / value.
        """
        z = self.deviates(source)
        if value > 0 and half > WIDE * value:
            return np.asarray(value * np.exp(np.arcsinh(half / value) * z))
        return np.asarray(value + half * z)

    def part(self, part: P) -> P:
        """The part with an array in place of each number that carries a spread, and so for the parts within it."""
        if part not in self._drawn:
            halves = {name: half for name, half in part.spread if half > 0}
            changed: dict[str, Any] = {}
            for item in fields(part):
                value = getattr(part, item.name)
                if item.name in halves and value is not None:
                    changed[item.name] = self.number(value, halves[item.name], _input(part, item.name))
                elif isinstance(value, Part):
                    changed[item.name] = self.part(value)
                elif isinstance(value, tuple) and value and isinstance(value[0], Part):
                    changed[item.name] = tuple(self.part(each) for each in value)
            for inner, outer in NESTED:
                if inner in changed and outer in changed:
                    changed[outer] = np.maximum(changed[outer], LEAST_WALL * changed[inner])
            self._drawn[part] = replace(part, **changed) if changed else part
        return self._drawn[part]  # type: ignore[return-value]


def _input(part: Part, quantity: str) -> Input:
    """A number of a part, which is called by its name or, if it has none of its own, by its kind: voice coil."""
    kind = type(part).__name__
    called = CALLED.get(kind) or getattr(part, "name", "") or re.sub(r"\B(?=[A-Z])", " ", kind).lower()
    return Input(kind, called, quantity)


@dataclass(frozen=True)
class Drawn:
    """A design and its brief with all uncertain numbers drawn, the cooling, and what the iron's spread does to Bl.

    ``inputs`` holds the deviates that stand behind all of it.
    """

    design: Design
    brief: Brief
    doubts: Doubts
    k_Bl: Num
    inputs: Mapping[Input, Array]

    def batches(self) -> list[Drawn]:
        """The same draws in portions that a processor keeps at hand."""
        count = np.size(self.k_Bl)
        return [some(self, slice(k, k + BATCH)) for k in range(0, count, BATCH)]


def some(whole: Any, which: slice | int) -> Any:
    """Some of the draws, or one, of a part, of a number, or of all that holds such."""
    if isinstance(whole, np.ndarray):
        return whole[..., which] if whole.ndim else whole
    if isinstance(whole, (Part, Drawn)):
        return replace(whole, **{item.name: some(getattr(whole, item.name), which) for item in fields(whole)})
    return tuple(some(each, which) for each in whole) if isinstance(whole, tuple) else whole


def joined(portions: Sequence[P]) -> P:
    """What the stages made of each portion as if it were made of all draws at once."""
    changed: dict[str, Any] = {}
    for item in fields(portions[0]):
        values = [getattr(each, item.name) for each in portions]
        if isinstance(values[0], Part):
            changed[item.name] = joined(values)
        elif any(isinstance(value, np.ndarray) and value.ndim for value in values):
            changed[item.name] = np.concatenate(values, axis=-1)
    return replace(portions[0], **changed)


def draw(design: Design, brief: Brief, answers: Answers, count: int = DRAWS, seed: int = SEED) -> Drawn:
    """Draw everything at once. ``answers`` tells how Bl answers each number of the iron.

    The turns stay those of the sheet, which the maker counts; thicker wire then makes a thicker coil. A former that
    nobody read is as wide as its mandrel and its wall make it.
    """
    source = Draw(count, seed)
    loose = source.part(replace(design, voice_coil=_unread(design.voice_coil)))
    loose = replace(loose, voice_coil=_same_turns(design.voice_coil, _on_mandrel(design.voice_coil, loose.voice_coil)))
    if design.field_coil and loose.field_coil:
        loose = replace(loose, field_coil=_same_turns(design.field_coil, loose.field_coil))
    doubts = source.part(DOUBTS)
    return Drawn(loose, source.part(brief), doubts, _iron_factor(source, design, loose, answers), source.inputs)


def _iron_factor(source: Draw, design: Design, loose: Design, answers: Answers) -> Num:
    """What the draws of the iron do to Bl, as a factor."""
    k_Bl = np.ones(source.count)
    rings = {ring.name: ring for ring in design.iron.rings}
    drawn = {ring.name: ring for ring in loose.iron.rings}
    for (name, quantity), (slope, bend) in answers.items():
        # a ring may be called as its steel is
        half = dict(rings[name].spread).get(quantity) if name in rings else None
        if half:
            u = (getattr(drawn[name], quantity) - getattr(rings[name], quantity)) / half
        else:
            u = source.deviates(Input("Magnet" if quantity == "B_rem" else "Steel", name, quantity))
        k_Bl = k_Bl + (slope + bend * u) * u
    return k_Bl


def _same_turns(coil: C, loose: C) -> C:
    """The drawn coil with its packing such that as many turns fit as in the coil itself: N ~ h_w k_p / d_o."""
    if coil.wire is None or loose.wire is None:
        return loose
    return replace(loose, k_p=coil.k_p * loose.wire.d_o / coil.wire.d_o * coil.h_w / loose.h_w)


def _unread(coil: VoiceCoil) -> VoiceCoil:
    """The coil without a doubt of its own in what follows from other sizes."""
    if coil.oval is not None:
        return coil
    return replace(coil, spread=tuple(each for each in coil.spread if each[0] != "D_f"))


def _on_mandrel(coil: VoiceCoil, loose: VoiceCoil) -> VoiceCoil:
    """The drawn coil on a former whose outside follows its inside and its wall, where nobody read it."""
    if coil.oval is not None:
        return loose
    return replace(loose, D_f=coil.D_f + (loose.D_fi - coil.D_fi) + 2 * (loose.t_f - coil.t_f))


def bands(nominal: Chain, drawn: Chain) -> dict[str, Band]:
    """The band around every number of the stages."""
    draws = drawn.numbers()
    return {name: bands_of(draws[name], value)[0] for name, value in nominal.numbers().items()}


def bands_of(draws: Num, nominal: Num) -> list[Band]:
    """The band around each nominal value, from its draws, which stand on the last axis."""
    values = np.atleast_1d(nominal)
    each = np.broadcast_to(draws, (len(values), np.shape(draws)[-1] if np.ndim(draws) else 1))
    ends = np.percentile(each, PERCENT, axis=-1)
    return [
        Band(float(value), float(min(low, value)), float(max(high, value)), float(median))
        for value, low, high, median in zip(values, *ends, strict=True)
    ]


def weights(drawn: Chain, inputs: Mapping[Input, Array]) -> dict[str, tuple[Weight, ...]]:
    """For every number of the stages that has a spread, the inputs that bring the most of it, heaviest first."""
    wide = {name: draws for name, draws in drawn.numbers().items() if _moves(draws)}
    if not wide:
        return {}
    shares = shares_of(np.array(list(inputs.values())), np.array(list(wide.values())))
    found = {}
    for name, row in zip(wide, shares, strict=True):
        heavy = sorted(zip(row.tolist(), inputs, strict=True), key=lambda each: -each[0])
        found[name] = tuple(
            Weight(part=source.part, quantity=source.quantity, S_i=share)
            for share, source in heavy
            if share >= LEAST_SHARE
        )
    return found


def _moves(draws: Num) -> bool:
    return bool(np.ndim(draws) and np.isfinite(draws).all() and np.ptp(draws) > ROUND_OFF * np.abs(draws).max())


def shares_of(inputs: Array, results: Array) -> Array:
    """The share of each result's variance (rows) that each input (columns) brings by itself.

    Each result is fitted by least squares with a straight line and a parabola in every input's deviates: of the second
    kind is what a coil out of the middle does to Bl. The deviates are independent, so the shares add up to one, less
    what inputs only bring together; what binds the draws by chance is left out of the variance.
    """
    u, y = (each - each.mean(axis=-1, keepdims=True) for each in (inputs, results))
    u /= u.std(axis=-1, keepdims=True)
    bent = u**2 - 1 - (u**3).mean(axis=-1, keepdims=True) * u  # in these draws nothing of the line is left in it
    bent /= bent.std(axis=-1, keepdims=True)
    fit = np.concatenate([u, bent])
    alike, with_y = (fit @ each.T / fit.shape[-1] for each in (fit, y))
    weights = np.linalg.solve(alike, with_y)
    bits = weights**2
    rest = np.maximum(y.var(axis=-1) - (weights * with_y).sum(axis=0), 0.0)
    return np.asarray((bits.reshape(2, len(inputs), -1).sum(axis=0) / (bits.sum(axis=0) + rest)).T)

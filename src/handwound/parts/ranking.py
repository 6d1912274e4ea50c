"""What a search found: the builds that keep all limits, best first, or the limit that bound and the nearest miss."""

from __future__ import annotations

from dataclasses import dataclass, field

from handwound.parts.part import Part


@dataclass(frozen=True, kw_only=True)
class Choice(Part):
    """A wire of the stock, by name, and how many layers of it."""

    wire: str
    n_l: int


@dataclass(frozen=True, kw_only=True)
class Candidate(Part):
    """One build: a wire and its layers for each coil, what it does, and why it stands where it stands."""

    field_coil: Choice | None = None
    voice_coil: Choice
    numbers: dict[str, float] = field(default_factory=dict)
    why: str = ""

    @property
    def L_1W(self) -> float:
        """The level by which builds are ranked: that of the warm motor, where a field coil warms it. [dB]"""
        return self.numbers.get("heat.L_1W", self.numbers["driver.L_1W"])


@dataclass(frozen=True, kw_only=True)
class Sieve(Part):
    """One hard limit in the order they are asked: how many builds came to it and how many passed."""

    name: str
    words: str
    came: int
    passed: int


@dataclass(frozen=True, kw_only=True)
class Ranking(Part):
    """The answer of a search. ``nearest`` is the nearest miss where nothing fits, ``missed`` says by how much."""

    tried: int
    sieves: tuple[Sieve, ...]
    candidates: tuple[Candidate, ...]
    nearest: Candidate | None = None
    missed: tuple[str, ...] = ()

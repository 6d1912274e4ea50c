"""What every part has in common: for each of its numbers, half of the 5-95 % band where one is known."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Part:
    """The root of all parts. ``spread`` holds (quantity, half of the 5-95 % band) for the numbers that carry one."""

    spread: tuple[tuple[str, float], ...] = ()

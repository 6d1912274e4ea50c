"""What a maker calls an uncertain number, and how to know it better."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from handwound.materials.tables import table


class Advice(NamedTuple):
    """A short name for the quantity of a part, and what to do about its doubt."""

    short: str
    better: str


@cache
def _index() -> dict[str, Advice]:
    return {str(line["quantity"]): Advice(str(line["short"]), str(line["better"])) for line in table("advice")}


def advised() -> set[str]:
    """Every quantity about which there is something to say."""
    return set(_index())


def advice(quantity: str) -> Advice:
    """How to know one number of a part better."""
    return _index()[quantity]

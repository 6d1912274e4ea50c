"""By how much metals grow when they become warm."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import table

STEEL = "steel"
"""What all steels have in common."""


@cache
def _index() -> dict[str, float]:
    found = {}
    for line in table("expansion"):
        assert isinstance(line["alpha_L"], float)
        found[str(line["name"])] = line["alpha_L"]
    return found


def alpha_L(name: str) -> float:
    """Coefficient of linear thermal expansion of a metal; of whatever else is magnetic that of steel. [1/K]"""
    return _index().get(name, _index()[STEEL])

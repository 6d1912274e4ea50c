"""How well each kind of surface radiates, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import number, table
from handwound.parts.heat import Surface


@cache
def _index() -> dict[str, Surface]:
    return {
        str(line["surface"]): Surface(
            name=str(line["surface"]), eps=number(line, "eps"), spread=(("eps", number(line, "eps_spread")),)
        )
        for line in table("surfaces")
    }


def surfaces() -> dict[str, Surface]:
    """Every kind; the first is one that nobody has seen."""
    return dict(_index())


def surface(name: str) -> Surface:
    """The kind of this name."""
    return _index()[name]

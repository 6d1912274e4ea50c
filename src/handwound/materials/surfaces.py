"""How well each kind of surface radiates, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import number, table
from handwound.quantities import Measured


@cache
def _index() -> dict[str, Measured]:
    return {
        str(line["surface"]): Measured(number(line, "eps"), number(line, "eps_spread")) for line in table("surfaces")
    }


def surfaces() -> dict[str, Measured]:
    """Every kind of surface, with its emissivity and how sure that is; the first is one that nobody has seen. [1]"""
    return dict(_index())

"""The metals that are not magnetic, by name: for rings, caps and tubes in which currents are to flow, or are not."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import Row, table


@cache
def _index() -> dict[str, Row]:
    return {str(line["name"]): line for line in table("metals")}


def names() -> tuple[str, ...]:
    """The names of all metals; the first is the one to take when nothing is said."""
    return tuple(_index())


def wires() -> dict[str, Row]:
    """The rows of those metals of which wire is wound."""
    return {name: line for name, line in _index().items() if line["wire"] == "yes"}


def rho(name: str, T: float = 20.0) -> float:
    """Resistivity of a metal at a temperature. [Ω·m]"""
    rho_20, alpha_20 = _index()[name]["rho_20"], _index()[name]["alpha_20"]
    assert isinstance(rho_20, float) and isinstance(alpha_20, float)
    return rho_20 * (1 + alpha_20 * (T - 20))

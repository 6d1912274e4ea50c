"""The metals that are not magnetic, by name: for rings, caps and tubes in which currents are to flow, or are not."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import Row, number, table


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
    line = _index()[name]
    return number(line, "rho_20") * (1 + number(line, "alpha_20") * (T - 20))


def rho_m(name: str) -> float:
    """Mass density of a metal. [kg/m³]"""
    return number(_index()[name], "rho_m")


def k_th(name: str) -> float:
    """Thermal conductivity of a metal. [W/(m·K)]"""
    return number(_index()[name], "k_th")


def c_p(name: str) -> float:
    """Specific heat of a metal. [J/(kg·K)]"""
    return number(_index()[name], "c_p")

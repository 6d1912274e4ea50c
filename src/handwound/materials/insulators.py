"""What spools, formers and sheets are made of: how they lead and keep heat, and what heat they bear, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import Row, number, table
from handwound.parts.heat import Insulator


@cache
def _rows() -> dict[str, Row]:
    return {str(line["kind"]): line for line in table("insulators")}


@cache
def _index() -> dict[str, Insulator]:
    return {
        name: Insulator(
            name=name,
            k_th=number(line, "k_th"),
            T_max=number(line, "T_max"),
            spread=(("k_th", number(line, "k_th_spread")),),
        )
        for name, line in _rows().items()
    }


def insulators() -> dict[str, Insulator]:
    """Every kind; the first is the one to take when nothing is known."""
    return dict(_index())


def insulator(name: str) -> Insulator:
    """The kind of this name."""
    return _index()[name]


def c_p(name: str) -> float:
    """Specific heat of a kind. [J/(kg·K)]"""
    return number(_rows()[name], "c_p")


def rho_m(name: str) -> float:
    """Mass density of a kind. [kg/m³]"""
    return number(_rows()[name], "rho_m")

"""What spools, formers and sheets are made of: how they lead and keep heat, and what heat they bear, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import number, table
from handwound.parts.heat import Insulator


@cache
def _index() -> dict[str, Insulator]:
    return {
        str(line["kind"]): Insulator(
            name=str(line["kind"]),
            k_th=number(line, "k_th"),
            T_max=number(line, "T_max"),
            spread=(("k_th", number(line, "k_th_spread")),),
        )
        for line in table("insulators")
    }


def insulators() -> dict[str, Insulator]:
    """Every kind; the first is the one to take when nothing is known."""
    return dict(_index())


def insulator(name: str) -> Insulator:
    """The kind of this name."""
    return _index()[name]


def c_p(name: str) -> float:
    """Specific heat of a kind. [J/(kg·K)]"""
    return next(number(line, "c_p") for line in table("insulators") if line["kind"] == name)


def rho_m(name: str) -> float:
    """Mass density of a kind. [kg/m³]"""
    return next(number(line, "rho_m") for line in table("insulators") if line["kind"] == name)

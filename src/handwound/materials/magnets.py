"""The magnets whose remanence is known, by grade.

A magnet is taken on its recoil line, B = mu_0 mu_rec H + B_rem. The permeability is that of the line itself, never
B_rem over mu_0 HcB of a grade whose knee comes before HcB: of a ferrite of 0.38 T and 170 kA/m that quotient is 1.78,
while it recoils along 1.05 to 1.10.
"""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from typing import Any, NamedTuple

from handwound.errors import FieldError
from handwound.materials.tables import table

T_REFERENCE = 20.0
"""The temperature of the table's figures. [°C]"""


class Magnet(NamedTuple):
    """What a grade promises at 20 °C: remanence with half of its band [T], coercivities [A/m], coefficients [1/K].

    Then its density [kg/m³], and how it leads [W/(m·K)] and keeps heat [J/(kg·K)].
    """

    B_rem: float
    B_rem_spread: float
    mu_rec: float
    HcB: float
    HcJ: float
    alpha_B: float
    alpha_H: float
    T_max: float
    rho_m: float
    k_th: float
    c_p: float
    rho_20: float | None
    """Resistivity [Ω·m]; None for ferrite, which lets no eddy currents flow."""


@cache
def _index() -> dict[str, Magnet]:
    found = {}
    for line in table("magnets"):
        numbers: dict[str, Any] = {name: line[name] for name in Magnet._fields}
        found[str(line["name"])] = Magnet(**numbers)
    return found


def names() -> tuple[str, ...]:
    """The names of all grades; the first is the one to take when nothing is known."""
    return tuple(_index())


def grade(name: str) -> Magnet:
    """The figures of a grade."""
    if name in _index():
        return _index()[name]
    close = get_close_matches(name, names(), 1, 0.4)
    guess = f' Did you mean "{close[0]}"?' if close else ""
    raise FieldError(f'magnet: must be one of {", ".join(names())}; found "{name}".{guess}')


def warmed(name: str, T: float) -> float:
    """The share of its remanence that a grade has at a temperature; it comes back when the magnet cools. [1]"""
    return 1 + grade(name).alpha_B * (T - T_REFERENCE)


def at(name: str, T: float) -> float:
    """The remanence of a grade at a temperature, along the straight line of its coefficient. [T]"""
    return grade(name).B_rem * warmed(name, T)


def rho_m(name: str) -> float:
    """Mass density of a grade. [kg/m³]"""
    return grade(name).rho_m


def k_th(name: str) -> float:
    """Thermal conductivity of a grade. [W/(m·K)]"""
    return grade(name).k_th


def c_p(name: str) -> float:
    """Specific heat of a grade. [J/(kg·K)]"""
    return grade(name).c_p

"""Sheet goods and glue: paper, card, foam, cloth, film."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Sheet(Part):
    """A sheet: its thickness, mass per area, modulus, Poisson's ratio and loss factor."""

    name: str
    t: Num
    rho_A: Num
    E: Num
    nu: Num
    eta_s: Num


@dataclass(frozen=True, kw_only=True)
class Adhesive(Part):
    """A glue; its temperature is a warning, never a promise."""

    name: str
    kind: str
    T_max: Num

"""Sheet goods and glue: paper, card, foam, cloth, film."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Count, Num


@dataclass(frozen=True, kw_only=True)
class Sheet(Part):
    """A sheet: thickness, mass per area, modulus, Poisson's ratio, loss factor; how it leads, keeps and bears heat.

    ``k_dyn`` is its stiffness when it vibrates over that under a weight that has lain for a minute. ``width`` and
    ``length`` are those of one of the ``count`` pieces on the shelf; None where nobody has told them.
    """

    name: str
    t: Num
    rho_A: Num
    E: Num
    nu: Num
    eta_s: Num
    k_th: Num
    c_p: Num
    T_max: Num
    k_dyn: Num = 1.0
    width: Num | None = None
    length: Num | None = None
    count: Count = 1


@dataclass(frozen=True, kw_only=True)
class Adhesive(Part):
    """A glue; its temperature is a warning, never a promise. ``rho_m`` and ``E`` are of the cured glue.

    At 20 °C, what it holds may be let go after ``t_set`` and may be stressed after ``t_cure``; None where the oven
    decides, as the label says.
    """

    name: str
    kind: str
    T_max: Num
    rho_m: Num
    E: Num
    t_set: Num | None = None
    t_cure: Num | None = None

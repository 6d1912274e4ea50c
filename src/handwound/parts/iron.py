"""The iron of the motor: a stack of rings with joints."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Ring(Part):
    """One ring of iron. It stands on another ring with a joint between, or at a level ``z`` of its own."""

    name: str
    grade: str
    d_in: Num
    d_out: Num
    t: Num
    on: str | None = None
    joint: Num = 0.0
    z: Num = 0.0
    stock: str | None = None


@dataclass(frozen=True, kw_only=True)
class Iron(Part):
    """All rings, in an order in which each stands on an earlier one; ``plate`` names the ring at the voice coil."""

    name: str
    plate: str
    rings: tuple[Ring, ...]

    def levels(self) -> dict[str, tuple[Num, Num]]:
        """Lower and upper level of each ring. [m]"""
        found: dict[str, tuple[Num, Num]] = {}
        for ring in self.rings:
            z_lo = found[ring.on][1] + ring.joint if ring.on else ring.z
            found[ring.name] = (z_lo, z_lo + ring.t)
        return found

"""The body of the motor: a stack of rings of iron, magnet and metal, with joints."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from handwound.parts.heat import Surface
from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Ring(Part):
    """One ring, of the steel, magnet or metal that ``grade`` names.

    It stands ``on`` another ring or hangs ``under`` one, with a joint between, or has a level ``z`` of its own.
    ``d_in`` and ``d_out`` are those of its lower face; where a side slopes, ``d_in_hi`` and ``d_out_hi`` are those of
    the upper one. ``magnetised`` is the way of a magnet's flux inside it: up, down, out or in; ``B_rem`` its remanence
    at 20 °C. A yoke of ``n_legs`` flat bars, each ``t_leg`` thick, is the ring of equal cross-section.
    """

    name: str
    grade: str
    d_in: Num
    d_out: Num
    t: Num
    on: str | None = None
    under: str | None = None
    joint: Num = 0.0
    z: Num = 0.0
    stock: str | None = None
    d_in_hi: Num | None = None
    d_out_hi: Num | None = None
    magnetised: Literal["", "up", "down", "out", "in"] = ""
    B_rem: Num | None = None
    n_legs: int = 0
    t_leg: Num | None = None
    surface: Surface | None = None

    def across(self, share: float) -> tuple[Num, Num]:
        """Inner and outer diameter at a share of its height: 0 at the lower face, 1 at the upper. [m]"""
        d_in_hi = self.d_in if self.d_in_hi is None else self.d_in_hi
        d_out_hi = self.d_out if self.d_out_hi is None else self.d_out_hi
        return self.d_in + share * (d_in_hi - self.d_in), self.d_out + share * (d_out_hi - self.d_out)

    def reach(self, z_lo: float, z_hi: float) -> tuple[Num, Num]:
        """Least inner and greatest outer diameter between two levels above its own lower face. [m]"""
        t = _middle(self.t)
        ends = [self.across(min(max(z / t, 0.0), 1.0)) for z in (z_lo, z_hi)]
        return min((d_in for d_in, _ in ends), key=_middle), max((d_out for _, d_out in ends), key=_middle)


@dataclass(frozen=True, kw_only=True)
class Iron(Part):
    """All rings, in an order in which each stands on or hangs under an earlier one.

    ``plate`` names the ring at the voice coil, or the rings where it is a stack of washers; ``arrangement`` the short
    way in which they were written, or nothing.
    """

    name: str
    plate: tuple[str, ...]
    rings: tuple[Ring, ...]
    arrangement: str = ""

    def levels(self) -> dict[str, tuple[Num, Num]]:
        """Lower and upper level of each ring. [m]"""
        found: dict[str, tuple[Num, Num]] = {}
        for ring in self.rings:
            if ring.under:
                z_lo = found[ring.under][0] - ring.joint - ring.t
            else:
                z_lo = found[ring.on][1] + ring.joint if ring.on else ring.z
            found[ring.name] = (z_lo, z_lo + ring.t)
        return found

    def carried(self, name: str) -> frozenset[str]:
        """A ring and all that stands on it or hangs under it."""
        names = {name}
        for ring in self.rings:
            if ring.on in names or ring.under in names:
                names.add(ring.name)
        return frozenset(names)

    def plate_levels(self) -> tuple[Num, Num]:
        """Lower and upper level of the plate. [m]"""
        lows, highs = zip(*(self.levels()[name] for name in self.plate), strict=True)
        return min(lows, key=_middle), max(highs, key=_middle)

    def room(
        self, d: float, z_lo: float, z_hi: float, names: Collection[str] | None = None
    ) -> tuple[Num | None, Num | None]:
        """Diameters of the nearest rings inside and outside a cylinder of diameter ``d`` between two levels. [m]

        None where there is no ring on that side; only those of ``names`` count, where they are given. Where
        numbers are arrays the rings are told apart by their middles.
        """
        inside: list[Num] = []
        outside: list[Num] = []
        for ring, (low, high) in zip(self.rings, self.levels().values(), strict=True):
            if _middle(high) <= z_lo or _middle(low) >= z_hi or (names is not None and ring.name not in names):
                continue
            d_in, d_out = ring.reach(z_lo - _middle(low), z_hi - _middle(low))
            if _middle(d_out) <= d:
                inside.append(d_out)
            elif _middle(d_in) >= d:
                outside.append(d_in)
        return max(inside, key=_middle, default=None), min(outside, key=_middle, default=None)


def _middle(number: Num) -> float:
    return number if isinstance(number, (int, float)) else float(number.mean())

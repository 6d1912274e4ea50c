"""What cannot stand in one place in the iron: ring in ring, a ring that nothing carries, like poles of two magnets."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from handwound.files.lines import Path as Key
from handwound.parts.iron import Iron, Ring
from handwound.quantities import show

TOUCH = 1e-8
"""Two faces this near to each other touch and do not overlap: far below what a workshop can measure. [m]"""
SIDES = {
    "inside": "on the inside",
    "outside": "on the outside",
    "below": "at the lower end",
    "above": "at the upper end",
}


class Misfit(NamedTuple):
    """Which key is at fault (of design.toml, unless said), what it must be, what was found, what to do."""

    key: Key
    must: str
    found: str
    do: str = ""


class Body(NamedTuple):
    """Something that takes up room all round the axis: diameters and levels. [m]

    Where a side slopes, ``d_in`` and ``d_out`` are those at the lower level, ``upper`` those at the higher one.
    """

    name: str
    d_in: float
    d_out: float
    z_lo: float
    z_hi: float
    upper: tuple[float, float] | None = None

    @property
    def reach(self) -> tuple[float, float]:
        """Least inner and greatest outer diameter."""
        d_in, d_out = self.upper or (self.d_in, self.d_out)
        return min(self.d_in, d_in), max(self.d_out, d_out)

    def across(self, z: float) -> tuple[float, float]:
        """Inner and outer diameter at a level."""
        if self.upper is None:
            return self.d_in, self.d_out
        share = (z - self.z_lo) / (self.z_hi - self.z_lo)
        return self.d_in + share * (self.upper[0] - self.d_in), self.d_out + share * (self.upper[1] - self.d_out)


class Clash(NamedTuple):
    """How deep one body is in another, and on which side the other is the nearest way out."""

    side: str
    depth: float


def clash(one: Body, other: Body, tube: float | None = None) -> Clash | None:
    """Where two bodies would have to be in one place; ``side`` says on which side of ``one`` the other stands.

    A coil is wound on a ``tube``: what stands beyond its diameter is outside, however thick the coil has become.
    """
    z_lo, z_hi = max(one.z_lo, other.z_lo), min(one.z_hi, other.z_hi)
    if z_hi - z_lo <= TOUCH:
        return None
    ends = [_across_each_other(one, other, z) for z in (z_lo, z_hi)]
    if not _overlap(*ends):
        return None
    inside, outside = (max(depths) for depths in zip(*ends, strict=True))
    sides = {"inside": inside, "outside": outside, "below": other.z_hi - one.z_lo, "above": one.z_hi - other.z_lo}
    side = min(sides, key=lambda name: sides[name])
    if tube is not None and side in ("inside", "outside"):
        side = "outside" if other.d_in + other.d_out > 2 * tube else "inside"
    return Clash(side, sides[side])


def _across_each_other(one: Body, other: Body, z: float) -> tuple[float, float]:
    """How far, at one level, the other body reaches into this one from inside and from outside."""
    (d_in, d_out), (its_in, its_out) = one.across(z), other.across(z)
    return (its_out - d_in) / 2, (d_out - its_in) / 2


def _overlap(low: tuple[float, float], high: tuple[float, float]) -> bool:
    """Whether at some level between two both depths, which are linear in it, are more than nothing."""
    (a, b), (c, d) = low, high
    at = (a - b) / (a - b - c + d) if (a - b) * (c - d) < 0 else 0.0
    return max(min(a, b), min(c, d), min(a + at * (c - a), b + at * (d - b))) > TOUCH


def ring_bodies(iron: Iron) -> list[Body]:
    """The rings of the iron where they stand."""
    return [_body(ring, *map(float, levels)) for ring, levels in zip(iron.rings, iron.levels().values(), strict=True)]


def _body(ring: Ring, z_lo: float, z_hi: float) -> Body:
    """A ring that takes up room; legs reach further in than the ring of equal cross-section that stands for them."""
    (d_in, d_out), upper = ring.across(0.0), tuple(map(float, ring.across(1.0)))
    if ring.t_leg is not None:
        d_in = d_out - 2 * ring.t_leg
        upper = (float(d_in), float(d_out))
    straight = upper == (float(d_in), float(d_out))
    return Body(
        f'ring "{ring.name}"', float(d_in), float(d_out), z_lo, z_hi, None if straight else (upper[0], upper[1])
    )


def iron_fits(iron: Iron) -> Iterator[Misfit]:
    """No two rings in one place, and each on something that carries it."""
    bodies = ring_bodies(iron)
    numbers = {ring.name: n for n, ring in enumerate(iron.rings)}
    for n, body in enumerate(bodies):
        for earlier in bodies[:n]:
            met = clash(body, earlier)
            if met:
                depth = f"{show('t', met.depth)} of it in {earlier.name}"
                yield Misfit(
                    ("iron", "ring", n), f"clear of {earlier.name}", depth, _part_rings(met.side, body, earlier)
                )
        ring = iron.rings[n]
        how, carrier = ("on", ring.on) if ring.on else ("under", ring.under)
        if carrier and not _meet(body, bodies[numbers[carrier]], how):
            over = "over" if how == "on" else "below"
            found = f"{_across(body)} {over} {_across(bodies[numbers[carrier]])}, which do not meet"
            yield Misfit(("iron", "ring", n, how), "a ring that carries this one", found)


def _meet(body: Body, carrier: Body, how: str) -> bool:
    """Whether two faces lie on each other: this one's lower and the carrier's upper, or the other way round."""
    ends = (body.z_lo, carrier.z_hi) if how == "on" else (body.z_hi, carrier.z_lo)
    (d_in, d_out), (its_in, its_out) = body.across(ends[0]), carrier.across(ends[1])
    return min(d_out, its_out) - max(d_in, its_in) > TOUCH


def like_poles(iron: Iron) -> Iterator[Misfit]:
    """No magnet lies with a like pole on another: they would push each other off."""
    ways = {ring.name: ring.magnetised for ring in iron.rings}
    for n, ring in enumerate(iron.rings):
        carrier = ring.on or ring.under or ""
        if {ring.magnetised, ways.get(carrier)} == {"up", "down"}:
            must = f'"{ways[carrier]}" as ring "{carrier}", which it touches'
            do = "Two like poles push each other off: turn one, or put iron between them."
            yield Misfit(("iron", "ring", n, "magnetised"), must, f'"{ring.magnetised}"', do)


def plate_fits(iron: Iron) -> Iterator[Misfit]:
    """The plate is one ring, or a stack of which each ring lies on the one below."""
    bodies = ring_bodies(iron)
    stack = sorted((n for n, ring in enumerate(iron.rings) if ring.name in iron.plate), key=lambda n: bodies[n].z_lo)
    for below, above in pairwise(stack):
        one, other = bodies[below], bodies[above]
        between = other.z_lo - one.z_hi
        carried = iron.rings[above].on == iron.rings[below].name or iron.rings[below].under == iron.rings[above].name
        lies = carried or abs(between) <= TOUCH
        if lies and min(one.d_out, other.d_out) - max(one.d_in, other.d_in) > TOUCH:
            continue
        apart = f"{show('t', between)} between them" if between > TOUCH else "which do not lie on each other"
        yield Misfit(("iron", "plate"), "rings that lie one on the other", f"{one.name} and {other.name}, {apart}")


def _part_rings(side: str, body: Body, other: Body) -> str:
    if side == "inside":
        return f"Make its d_in at least {show('d_in', other.reach[1], 4)}."
    if side == "outside":
        return f"Make its d_out at most {show('d_out', other.reach[0], 4)}."
    if side == "below":
        return f"It may begin {show('z', other.z_hi, 4)} above the zero of the stack."
    least = other.z_lo - body.z_lo
    if least <= TOUCH:
        return "Both begin at one level: stand one on the other."
    wide = body.reach[1]
    bored = f", or bore {other.name} to at least {show('d_in', wide, 4)}" if other.reach[0] < wide else ""
    return f"Make its t at most {show('t', least, 4)}{bored}."


def _across(body: Body) -> str:
    return f"{body.name} from {show('d_in', body.d_in)} to {show('d_out', body.d_out)} across"

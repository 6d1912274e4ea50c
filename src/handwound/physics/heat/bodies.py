"""Round bodies in a stack: what leads and keeps heat in them, where they are cut, and what each face sees."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from handwound.quantities import Num

LONGEST, SHORTEST = 0.02, 3e-3
"""A body is cut into pieces of at most, and never below, these lengths. [m]"""
FREE = 1e-3
"""A body with levels of its own is cut at them where no piece gets shorter than this: a free end. [m]"""
TOUCH = 1e-6
"""Faces nearer than this touch. [m]"""
SLIT = 5e-2
"""A share of a side below this sees nothing of the room: no finger and little air gets there."""
GAP = 3e-3
"""Nothing of the room is seen through a gap narrower than this. [m]"""
NEAR = 1e-3
"""A body is cut at the edges of those this near: heat crosses there. Drawn sizes may overlap by as much. [m]"""
INNER, OUTER, LOWER, UPPER = range(4)
"""The sides of a ring."""
OPPOSITE = {OUTER: INNER, UPPER: LOWER}


class Coat(NamedTuple):
    """A layer on one side of a body: thickness and thermal conductivity. [m], [W/(m·K)]"""

    t: Num = 0.0
    k_th: Num = 1.0


BARE = (Coat(),) * 4


@dataclass(frozen=True, eq=False)
class Body:
    """A ring of one stuff in r-z, thermal conductivities along r and z, heat per volume and kelvin, emissivity.

    ``coats`` lie outside of it on its four sides; ``share`` of the circumference is there (flat bars round a motor);
    ``pieces`` are the least numbers along r and z that it is cut into; ``cuts`` is false where its own edges, which
    differ from build to build, cut no other. A ``covered`` body lies behind the cone. In one that makes ``heat`` the
    way to its sides counts by ``way``, so that each piece has its mean temperature. Where ``levels`` are given it is
    cut along z at these, whatever stands beside it.
    """

    name: str
    r_in: Num
    r_out: Num
    z_lo: Num
    z_hi: Num
    k_r: Num
    k_z: Num
    c_v: Num
    eps: Num
    coats: tuple[Coat, Coat, Coat, Coat] = BARE
    share: Num = 1.0
    pieces: tuple[int, int] = (1, 1)
    cuts: bool = True
    covered: bool = False
    heat: bool = False
    way: tuple[Num, Num, Num, Num] = (1.0, 1.0, 1.0, 1.0)
    levels: tuple[Num, ...] = ()

    def outline(self, side: int) -> Num:
        """Where a side with its coat ends. [m]"""
        edge = (self.r_in, self.r_out, self.z_lo, self.z_hi)[side]
        return edge + (-1 if side in (INNER, LOWER) else 1) * self.coats[side].t

    @property
    def volume(self) -> Num:
        """[m³]"""
        return np.pi * (self.r_out**2 - self.r_in**2) * (self.z_hi - self.z_lo) * self.share

    def area(self, side: int) -> Num:
        """Area of one side with its coat. [m²]"""
        if side in (INNER, OUTER):
            return 2 * np.pi * self.outline(side) * (self.outline(UPPER) - self.outline(LOWER)) * self.share
        return np.pi * (self.outline(OUTER) ** 2 - self.outline(INNER) ** 2) * self.share

    def half(self, side: int) -> Num:
        """Resistance from its middle through one of its sides, of one square metre of that side. [m²·K/W]"""
        coat, middle = self.coats[side], np.sqrt((self.r_in**2 + self.r_out**2) / 2)
        if side in (LOWER, UPPER):
            own = (self.z_hi - self.z_lo) / 2 / self.k_z
        elif side == OUTER:
            own = self.r_out * np.log(self.r_out / middle) / self.k_r
        else:
            own = self.r_in * np.log(middle / np.maximum(self.r_in, 1e-9)) / self.k_r
        return own * self.way[side] + coat.t / coat.k_th

    def cut(self, bodies: Sequence[Body]) -> Iterator[Body]:
        """Its pieces, cut where a neighbour's edge meets it, and where it is long."""
        r = _lines(self.r_in, self.r_out, _edges(self, bodies, (LOWER, UPPER)), self.pieces[0], SHORTEST)
        levels = self.levels or _edges(self, bodies, (INNER, OUTER))
        z = _lines(self.z_lo, self.z_hi, levels, self.pieces[1], FREE if self.levels else SHORTEST)
        bare = Coat()
        for k, (r_in, r_out) in enumerate(pairwise(r)):
            for m, (z_lo, z_hi) in enumerate(pairwise(z)):
                outer = (k == 0, k == len(r) - 2, m == 0, m == len(z) - 2)
                coats = tuple(coat if there else bare for coat, there in zip(self.coats, outer, strict=True))
                across, along = _way(r_out - r_in, r[-1] - r[0]), _way(z_hi - z_lo, z[-1] - z[0])
                ways = zip((across, across, along, along), outer, strict=True)
                way = tuple(each if there and self.heat else 1.0 for each, there in ways)
                yield replace(self, r_in=r_in, r_out=r_out, z_lo=z_lo, z_hi=z_hi, coats=coats, way=way)  # type: ignore[arg-type]


class Sight(NamedTuple):
    """The side of piece i sees piece j over a share of the length that they have beside each other."""

    i: int
    j: int
    side: int
    share: float

    @classmethod
    def all(cls, pieces: Sequence[Body]) -> tuple[list[Sight], list[tuple[int, int, float]]]:
        """Which pieces see each other, and for each side of each piece the share of it that sees the room.

        A bore that sees nothing but itself gives off nothing, unless it moves and breathes behind the cone. Sizes that
        were drawn may overlap a little: what lies further out is seen, and touches.
        """
        at = [[float(np.mean(piece.outline(side))) for side in range(4)] for piece in pieces]
        there = [float(np.mean(piece.share)) for piece in pieces]
        seen: list[Sight] = []
        left = {(k, side): 1.0 for k in range(len(pieces)) for side in range(4) if side != INNER or pieces[k].covered}
        for side, (low, high), power in ((OUTER, (LOWER, UPPER), 1), (UPPER, (INNER, OUTER), 2)):
            facing = OPPOSITE[side]

            def size(lo: float, hi: float, power: int = power) -> float:
                return hi**power - lo**power  # a length, or an area over pi

            for i, a in enumerate(at):
                unseen = [(a[low], a[high], 1.0)]
                ahead = [
                    j for j, b in enumerate(at)
                    if b[facing] > a[side] - NEAR and b[facing] + b[side] > a[facing] + a[side]
                ]  # fmt: skip
                for j in sorted(ahead, key=lambda j: at[j][facing]):
                    b = at[j]
                    met = [(max(lo, b[low]), min(hi, b[high]), weight) for lo, hi, weight in unseen]
                    share = sum(
                        size(lo, hi) * weight * (_of_groove(at, lo, hi, a[side], b[facing]) if side == UPPER else 1.0)
                        for lo, hi, weight in met if hi - lo > TOUCH
                    )  # fmt: skip
                    if not share:
                        continue
                    both = size(max(a[low], b[low]), min(a[high], b[high]))
                    seen.append(cls(i, j, side, share / both * there[i] * there[j]))
                    left[i, side] -= share * there[j] / size(a[low], a[high])
                    if (j, facing) in left:
                        left[j, facing] -= share * there[i] / size(b[low], b[high])
                    unseen = list(_past(unseen, b[low], b[high], 1 - there[j]))
                if side == UPPER:
                    gaps = (size(lo, hi) * weight for lo, hi, weight in unseen if _is_gap(at, lo, hi, a[side]))
                    left[i, side] -= sum(gaps) / size(a[low], a[high])
        return seen, [(k, side, share) for (k, side), share in left.items() if share > SLIT]

    def between(self, a: Body, b: Body) -> tuple[Num, Num, Num, Num]:
        """Areas of its two sides where they face each other, the distance between them and the height of it."""
        side = self.side
        low, high = (LOWER, UPPER) if side == OUTER else (INNER, OUTER)
        start, end = np.maximum(a.outline(low), b.outline(low)), np.minimum(a.outline(high), b.outline(high))
        length, d = np.maximum(end - start, TOUCH), np.maximum(b.outline(OPPOSITE[side]) - a.outline(side), TOUCH / 2)
        if side == OUTER:
            round_a, round_b = 2 * np.pi * a.r_out * self.share, 2 * np.pi * b.r_in * self.share
            return round_a * length, round_b * length, d, length
        A = np.pi * (start + end) * length * self.share
        return A, A, d, length


def _of_groove(at: Sequence[Sequence[float]], r_in: float, r_out: float, low: float, high: float) -> float:
    """How much of each other the two walls of a groove see; the rest sees the room.

    By crossed strings (H. C. Hottel, from memory). All is seen where something stands behind, past ``r_out``.
    """
    x = max(high - low, 0.0) / (r_out - r_in)
    behind = any(c[INNER] > r_out - TOUCH and min(c[UPPER], high) - max(c[LOWER], low) > TOUCH for c in at)
    return 1.0 if behind else float(np.sqrt(1 + x**2) - x)


def _is_gap(at: Sequence[Sequence[float]], r_in: float, r_out: float, level: float) -> bool:
    """Whether a stretch looks up through a gap between two others, where air hardly moves."""
    higher = [c for c in at if c[UPPER] > level + TOUCH]
    between = any(c[OUTER] < r_in + TOUCH for c in higher) and any(c[INNER] > r_out - TOUCH for c in higher)
    return between and r_out - r_in < GAP


def _way(part: Num, whole: Num) -> Num:
    """How much of the way from the middle of an outermost piece to its side counts where heat is made all along it.

    With it the mean of each piece is exact in a slab that is cooled on both sides: the heat of the outermost piece has
    on the mean a shorter way than from the middle, and temperature is bent. Cooled on one side only, a slab in N pieces
    is 1 / (2 N²) of its own rise too cool; without it, as much too hot, and 2 / N² where both sides are cooled.
    """
    return 1 - 2 / 3 * part / whole


def _edges(body: Body, bodies: Sequence[Body], sides: tuple[int, int]) -> list[Num]:
    """The edges of those neighbours that touch one of two opposite sides of a body."""
    low, high = sides
    across = (INNER, OUTER) if low == LOWER else (LOWER, UPPER)
    found: list[Num] = []
    for other in bodies:
        if other is body or not other.cuts:
            continue
        gap_up = float(np.mean(other.outline(low) - body.outline(high)))
        gap_down = float(np.mean(body.outline(low) - other.outline(high)))
        if -TOUCH <= max(gap_up, gap_down) <= NEAR:
            found += [other.outline(across[0]), other.outline(across[1])]
    return found


def _lines(low: Num, high: Num, edges: Sequence[Num], least: int, shortest: float) -> list[Num]:
    """From end to end, with those edges between that leave pieces of some length, and more where a piece is long."""
    kept: list[Num] = [low]
    for edge in sorted(edges, key=np.mean):
        if np.mean(edge) - np.mean(kept[-1]) >= shortest and np.mean(high) - np.mean(edge) >= shortest:
            kept.append(edge)
    kept.append(high)
    lines: list[Num] = [low]
    for a, b in pairwise(kept):
        count = max(int(np.ceil(np.mean(b - a) / LONGEST)), least if len(kept) == 2 else 1)
        lines += [a + (b - a) * k / count for k in range(1, count)] + [b]
    return lines


def _past(
    unseen: list[tuple[float, float, float]], low: float, high: float, through: float
) -> Iterator[tuple[float, float, float]]:
    """What of some stretches is still open behind a body that lets a share of the sight through."""
    for lo, hi, weight in unseen:
        before, within, after = (
            (lo, min(hi, low), 1.0),
            (max(lo, low), min(hi, high), through),
            (max(lo, high), hi, 1.0),
        )
        for start, end, share in (before, within, after):
            if end - start > TOUCH and share > 0:
                yield start, end, weight * share

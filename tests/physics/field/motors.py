"""Motors for the field's tests: two small ones, and random ones of every arrangement. Millimetres in, metres out."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from typing import NamedTuple

import numpy as np

from handwound.materials import steels
from handwound.physics.field import Curve, Magnet, Problem, Ring, Winding
from handwound.physics.field.problem import DIRECTIONS

MM = 1e-3
MU_0 = 4e-7 * pi
COIL = (10.5 * MM, 11 * MM, 24 * MM, 34 * MM)  # the pot's voice coil
SPOOL_COIL = (25.3 * MM, 25.9 * MM, 19 * MM, 29 * MM)


def linear(mu_r: float) -> Curve:
    """Steel of one permeability, that cannot be filled."""
    B = np.array([0, 10, 20, 40.0])
    return Curve(B, B / (mu_r * MU_0))


def motor(places: dict[str, tuple], winding: tuple, zone: tuple, steel: str) -> Problem:
    curve = steels.curve(steel)
    rings = tuple(Ring(name, *(MM * v for v in place), curve) for name, place in places.items())
    return Problem(rings, Winding(*(MM * v for v in winding), 800), (tuple(MM * v for v in zone),))


def pot(joint: float = 0.0, steel: str = "mild_steel") -> Problem:
    """A pot with a pole; ``joint`` is air under the wall, the pole and the top plate."""
    j = joint
    places = {
        "back": (0, 28, 0, 6),
        "wall": (24, 28, 6 + j, 26 + j),
        "top": (11.5, 28, 26 + j, 32 + j),
        "pole": (0, 10, 6 + j, 32 + j),
    }
    return motor(places, (11, 23, 7, 25), (10.5, 11, 21, 37), steel)


def spool(steel: str = "mild_steel") -> Problem:
    """Two washers on a bolt, the voice coil around the upper one."""
    places = {"bolt": (0, 6, -4, 28), "lower": (6, 25, 0, 4), "upper": (6, 25, 22, 26)}
    return motor(places, (7, 24, 4.5, 21.5), (25.3, 25.9, 16, 32), steel)


def changed(problem: Problem, name: str, **by: float) -> Problem:
    """The motor with some numbers of one ring changed by so many millimetres."""
    old = next(ring for ring in problem.rings if ring.name == name)
    new = replace(old, **{key: getattr(old, key) + MM * value for key, value in by.items()})
    return replace(problem, rings=tuple(new if ring is old else ring for ring in problem.rings))


# --- motors of every arrangement at random, from what a bench may see to what it should not

Place = tuple[str, float, float, float, float]  # "steel", a metal or a magnet's direction; r_in, r_out, z_lo, z_hi
Rectangle = tuple[float, float, float, float]
METALS = {"copper": 58e6, "aluminium": 35e6, "brass": 15e6}


class Dims(NamedTuple):
    """What the arrangements are drawn from, in millimetres: the pole's radius ``p``, the gap ``g``, a plate ``t``,
    the width ``w`` and height ``h`` between pole and wall, the wall ``s``, the joint ``j``, and ``n`` pieces."""

    p: float
    g: float
    t: float
    w: float
    h: float
    s: float
    j: float
    n: int

    @property
    def top(self) -> float:
        """Level of the upper plate's lower face."""
        return self.t + self.h + 2 * self.j

    @property
    def inside(self) -> float:
        """Radius of the wall's inner face."""
        return self.p + self.g + self.w


class Built(NamedTuple):
    """A motor with its voice coil (r_in, r_out, z_lo, z_hi) and its ampere-turns."""

    arrangement: str
    problem: Problem
    coil: Rectangle
    NI: float


def _window(d: Dims, r_in: float) -> Rectangle:
    """The room for a field coil from ``r_in`` to the wall."""
    return r_in + 0.3 * d.g, d.inside - 0.05 * d.w, d.t + d.j + 0.05 * d.h, d.top - d.j - 0.05 * d.h


def _spool(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    r_in, r_out, end = d.p + d.j, d.p + d.w, d.t + d.h
    places = {
        "bolt": ("steel", 0, d.p, 0, end + d.t),
        "lower": ("steel", r_in, r_out, 0, d.t),
        "upper": ("steel", r_in, r_out, end, end + d.t),
    }
    return places, (r_in + 0.1 * d.w, r_out - 0.1 * d.w, d.t + 0.05 * d.h, end - 0.05 * d.h)


def _bolt(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    places, winding = _spool(d)
    end = 2 * d.t + d.h
    head = ("steel", 0, d.p + 0.6 * d.w, -d.j - d.t, -d.j)
    nut = ("steel", d.p, d.p + 0.6 * d.w, end + d.j, end + d.j + d.t)
    thread = ("steel", 0, d.p, -d.j, end + 1.5 * d.t)
    return {**places, "bolt": thread, "head": head, "nut": nut}, winding


def _pot(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    places = {
        "back": ("steel", 0, d.inside + d.s, 0, d.t),
        "pole": ("steel", 0, d.p, d.t + d.j, d.top + d.t),
        "wall": ("steel", d.inside, d.inside + d.s, d.t + d.j, d.top - d.j),
        "top": ("steel", d.p + d.g, d.inside + d.s, d.top, d.top + d.t),
    }
    return places, _window(d, d.p)


def _strap(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    """Straps bent from flat bar: a back and a wall both as thin as the ring of equal section."""
    places, winding = _pot(d._replace(s=0.1 * d.s + 0.3))
    return {**places, "back": ("steel", 0, d.inside + 0.1 * d.s + 0.3, 0.7 * d.t, d.t)}, winding


def _ring_magnet(d: Dims, way: str = "up") -> tuple[dict[str, Place], Rectangle | None]:
    wide = d.inside + d.s
    places = {
        "back": ("steel", 0, wide, 0, d.t),
        "pole": ("steel", 0, d.p, d.t + d.j, d.top + d.t),
        "magnet": (way, d.p + d.g + 0.3 * d.w, wide + 0.1 * d.w, d.t + d.j, d.top - d.j),
        "top": ("steel", d.p + d.g, wide, d.top, d.top + d.t),
    }
    return places, None


def _aided(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    """A ring magnet with a field coil in the room between pole and magnet."""
    places, _ = _ring_magnet(d, "down")
    return places, (d.p + 0.3 * d.g, d.p + d.g + 0.25 * d.w, d.t + d.j + 0.1 * d.h, d.top - d.j - 0.1 * d.h)


def _bucking(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    places, none = _ring_magnet(d)
    wide = d.inside + d.s
    places["bucking"] = ("down", 0.2 * wide, 0.9 * wide, -d.j - 0.6 * d.h, -d.j)
    return places, none


def _cup(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    return _stacked(d._replace(n=1))


def _stacked(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    """Discs on each other in a cup, a cap of steel on them."""
    hole, each = d.p + d.g, d.h / d.n
    discs = {
        f"magnet {k + 1}": ("up", 0, d.p, d.t + d.j + k * (each + d.j), d.t + d.j + k * (each + d.j) + each)
        for k in range(d.n)
    }
    cap = d.t + (d.n + 1) * d.j + d.h
    return {
        "bottom": ("steel", 0, hole + d.s, 0, d.t),
        **discs,
        "cap": ("steel", 0, d.p, cap, cap + d.t),
        "wall": ("steel", hole, hole + d.s, d.t + d.j, cap + d.t),
    }, None


def _radial(d: Dims) -> tuple[dict[str, Place], Rectangle | None]:
    """A ring magnetised across, inside a tube; the voice coil between it and a core."""
    hole = d.p + d.g
    places = {
        "base": ("steel", 0, hole + d.w + d.s, 0, d.t),
        "core": ("steel", 0, d.p, d.t + d.j, d.top + d.t),
        "tube": ("steel", hole + d.w, hole + d.w + d.s, d.t + d.j, d.top + d.t),
        "magnet": ("in", hole, hole + d.w - d.j, d.top - min(d.t, 0.9 * d.h), d.top + d.t),
    }
    return places, None


ARRANGEMENTS = {
    "open spool": _spool, "bolt": _bolt, "pot": _pot, "strap": _strap, "ring magnet": _ring_magnet, "aided": _aided,
    "bucking": _bucking, "cup": _cup, "stacked": _stacked, "radial": _radial,
}  # fmt: skip


def built(arrangement: str, d: Dims, curve: Curve, magnet: tuple[float, float], NI: float, sleeve: str = "") -> Built:
    """A motor from its dimensions; magnets have this B_rem and mu_rec. ``sleeve`` names a metal around the pole."""
    places, winding = ARRANGEMENTS[arrangement](d)
    tip = places.get("upper") or places.get("cap") or places.get("pole") or places["core"]
    face, middle = tip[2], tip[4] - d.t / 2
    if sleeve and "upper" not in places:
        places["sleeve"] = (sleeve, face, face + 0.2 * d.g, tip[3], tip[4])
    rings = []
    for name, (kind, r_in, r_out, z_lo, z_hi) in places.items():
        bare = Ring(name, MM * r_in, MM * r_out, MM * z_lo, MM * z_hi)
        if kind in DIRECTIONS:
            rings.append(replace(bare, magnet=Magnet(*magnet, kind), sigma=6e5))
        else:
            rings.append(replace(bare, sigma=METALS[kind]) if kind in METALS else replace(bare, curve=curve, sigma=7e6))
    r_in, r_out, z_lo, z_hi = (
        MM * v for v in (face + 0.3 * d.g, face + 0.7 * d.g, middle - 0.7 * d.t, middle + 0.7 * d.t)
    )
    way = (r_in, r_out, z_lo - 0.3 * MM * d.t, z_hi + 0.3 * MM * d.t)
    coil = Winding(*(MM * v for v in winding), 800) if winding else None
    return Built(arrangement, Problem(tuple(rings), coil, (way,)), (r_in, r_out, z_lo, z_hi), NI if winding else 0.0)


def random_built(random: np.random.Generator, arrangement: str = "") -> Built:
    """A motor of one arrangement or any: 4 to 80 mm across the pole, gaps from 0.05 mm, full steel and weak magnets."""

    def between(low: float, high: float) -> float:
        return float(np.exp(random.uniform(np.log(low), np.log(high))))

    chosen = arrangement or str(random.choice(list(ARRANGEMENTS)))
    p = between(2, 40)
    d = Dims(
        p, between(0.05, 3), p * between(0.1, 1), p * between(0.2, 2), p * between(0.2, 4), p * between(0.05, 0.6),
        float(random.choice([0.0, between(0.01, 0.3)])), int(random.integers(2, 6)),
    )  # fmt: skip
    curve = steels.curve(str(random.choice(steels.names()))).scaled(random.uniform(0.94, 1.06), between(0.5, 2))
    magnet = (float(random.choice([between(0.02, 0.3), random.uniform(0.3, 1.45)])), random.uniform(1.0, 1.3))
    NI = float(random.choice([-1, 1])) * between(1, 30000)
    made = built(chosen, d, curve, magnet, NI, str(random.choice(["", *METALS])))
    return _sloped(random, made) if random.random() < 0.35 else made


def _sloped(random: np.random.Generator, made: Built) -> Built:
    """The same motor with some sides cut on the slope: poles tapered or undercut, plates and magnets countersunk.

    A sleeve follows its pole.
    """
    rings, slope = [], np.zeros(2)  # what a pole is thinner by at its lower and its upper end
    for ring in made.problem.rings:
        cut = random.uniform(0.02, 0.4) * (ring.r_out - ring.r_in) * np.eye(2)[random.integers(2)]
        lower, upper = np.array(ring.lower), np.array(ring.upper)
        if ring.name in ("pole", "core", "cap", "upper") and random.random() < 0.6:
            slope = cut
            lower[1], upper[1] = lower[1] - cut[0], upper[1] - cut[1]
        elif ring.name in ("top", "magnet") and random.random() < 0.6:
            lower[0], upper[0] = lower[0] + cut[0], upper[0] + cut[1]
        elif ring.name == "sleeve":
            lower, upper = lower - slope[0], upper - slope[1]
        (r_in, r_out), (r_in_hi, r_out_hi) = lower.tolist(), upper.tolist()
        rings.append(replace(ring, r_in=r_in, r_out=r_out, r_in_hi=r_in_hi, r_out_hi=r_out_hi))
    return made._replace(problem=replace(made.problem, rings=tuple(rings)))

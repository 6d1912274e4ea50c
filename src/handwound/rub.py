"""Will it rub? The draws of a build, each put into its gap as crooked as hands leave it, and the air that is left.

Sizes come drawn from ``spread``. To them come what no size tells: how far off the coil stands, in which direction it
leans, that it is not round, that it rocks. Directions are all alike.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.materials.expansion import alpha_L
from handwound.parts.coil import VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.rub import OVAL, ROCK, ROCK_SPIDER, Cause, Rub, Side
from handwound.physics.as_wound import bulge
from handwound.physics.layers import LAY
from handwound.physics.rub import WITHIN, axis_offset, grown, least_clearance, shim
from handwound.physics.winding import outer_diameter
from handwound.quantities import Num
from handwound.spread import Drawn
from handwound.stages import coil_place, winding, wire_of

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]
    Vector = npt.NDArray[np.complex128]

SEED = 2
RISE = 60.0
"""By how much the voice coil is warmer than the room where nobody says it: common practice, no source. [K]"""
CLOSE = 5
"""Per cent of the builds that have less air than is told. [%]"""
NOTHING = 0.5e-6
"""Less air taken than this is not worth a line. [m]"""
COLD = 20.0
"""Sizes of a winding do not hang on the temperature for which its ohms are told. [°C]"""
FURTHEST, CLOSER = 0.03, 1.05
"""No further stroke is looked at [m]; it is told to this factor."""
MANDREL = 0.01e-3
"""Step in which a mandrel is turned. [m]"""


@dataclass(frozen=True, eq=False)
class Wall:
    """Something still beside the voice coil. The coil passes it from its level ``z_lo`` to its ``z_hi``, at rest."""

    inside: bool
    d: Num
    z_lo: float
    z_hi: float
    alpha_L: float = 0.0


@dataclass(frozen=True, eq=False)
class Crooked:
    """How a coil stands, draw by draw: vectors across as x + iy, the ovality at twice its angle.

    Shims hold the coil at ``z_gap`` while its glue cures, so it leans about that; it rocks about ``z_hold``, where its
    suspension is.
    """

    e_vc: Vector
    e_pole: Vector
    tilt: Vector
    rock: Vector
    oval: Vector
    z_gap: float
    z_hold: float

    def off(self, e: Vector, z: float, way: int) -> Vector:
        """How far the coil's axis is off at a level, rocking to one side or the other. [m]"""
        leaning = axis_offset(e, self.tilt, z, self.z_gap)
        return np.asarray(axis_offset(leaning, way * self.rock, z, self.z_hold))


class Close(NamedTuple):
    """One wall and the air beside it, draw by draw: by the sizes alone, less glue and warmth, and the least of it."""

    wall: Wall
    sizes: Num
    air: Num
    bulge: Num
    least: Array


def rub(design: Design, brief: Brief, drawn: Drawn, T_vc: Num | None = None, T_iron: Num | None = None) -> Rub:
    """Whether the voice coil will rub, cold and at its hottest ``T_vc``, the iron up to ``T_iron``."""
    P_ok = float(design.centring.P_ok)
    stands, beside = stood(drawn, brief, T_vc, T_iron)
    count = np.size(drawn.k_Bl)
    sides: list[Side | None] = []
    air: list[Array] = []
    for inside in (True, False):
        near = [each for each in beside if each.wall.inside is inside]
        air.append(np.min([np.full(count, np.inf), *(each.least for each in near)], axis=0))
        drawn_air = [float(air_by_size(design, wall)) for wall in walls(design, brief) if wall.inside is inside]
        sides.append(_side(drawn.design, min(drawn_air), stands, near, P_ok) if near else None)
    (inner, outer), (air_in, air_out) = sides, air
    D_fi_lo, D_fi_hi = formers(float(design.voice_coil.D_fi), air_in, air_out, P_ok)
    return Rub(
        inside=inner,
        outside=outer,
        P_rub=share(np.minimum(air_in, air_out)),
        P_ok=P_ok,
        D_fi_lo=D_fi_lo if inner else None,
        D_fi_hi=D_fi_hi if outer else None,
        n_most=most_layers(drawn.design.voice_coil, air_out, P_ok) if outer else None,
        t_shim=max(0.0, float(shim(inner.c_drawn))) or None if inner else None,
    )


def stood(drawn: Drawn, brief: Brief, T_vc: Num | None, T_iron: Num | None) -> tuple[Crooked, list[Close]]:
    """How the coil of each draw stands, and the air beside all that it passes, cold and at its hottest."""
    T_room = float(brief.T_room)
    warm = T_room + RISE if T_vc is None else T_vc, T_room if T_iron is None else T_iron, T_room
    met = list(walls(drawn.design, brief))
    stands = crooked(drawn.design, np.size(drawn.k_Bl), any(wall.inside for wall in met))
    return stands, [close(drawn.design, wall, stands, *warm) for wall in met]


def free_stroke(
    design: Design, brief: Brief, drawn: Drawn, T_vc: Num | None = None, T_iron: Num | None = None
) -> float | None:
    """The stroke up to which no more builds rub than are wanted: the further the coil moves, the more it rocks.

    None where that is further than is looked, or where too many rub at rest already, which is no matter of strokes.
    """
    usual, P_ok = rocks(design) / brief.x_pk, float(design.centring.P_ok)

    def rubs(x: float) -> bool:
        centring = replace(drawn.design.centring, rock=usual * x)
        further = replace(drawn, design=replace(drawn.design, centring=centring))
        _, beside = stood(further, replace(brief, x_pk=x), T_vc, T_iron)
        least = np.min([np.full(np.size(drawn.k_Bl), np.inf), *(each.least for each in beside)], axis=0)
        return share(least) > P_ok

    low, high = NOTHING, FURTHEST
    if rubs(low) or not rubs(high):
        return None
    while high > CLOSER * low:
        middle = (low * high) ** 0.5
        low, high = (low, middle) if rubs(middle) else (middle, high)
    return low


def walls(design: Design, brief: Brief) -> Iterator[Wall]:
    """Every ring, and the field coil's spool, that the voice coil passes on its way."""
    iron, coil, x_pk = design.iron, design.voice_coil, float(np.mean(brief.x_pk))
    low, high = (float(np.mean(z)) for z in coil_place(iron, coil, coil.D_f)[2:])
    D_f, end = float(np.mean(coil.D_f)), low + float(np.mean(coil.l_f))
    grades = {ring.name: ring.grade for ring in iron.rings}
    for name, levels in iron.levels().items():
        z_lo, z_hi = (float(np.mean(z)) for z in levels)
        d_i, _ = iron.room(D_f, low - x_pk, end + x_pk, [name])
        _, d_o = iron.room(D_f, low - x_pk, high + x_pk, [name])
        for inside, d, top in ((True, d_i, end), (False, d_o, high)):
            if d is not None:
                passed = max(low, z_lo - x_pk), min(top, z_hi + x_pk)
                yield Wall(inside, d, *passed, alpha_L(grades[name]))
    fed = design.field_coil
    if fed is None:
        return
    z_lo, z_hi = (float(np.mean(z)) for z in (fed.z_w - fed.t_fl, fed.z_w + fed.h_w + fed.t_fl))
    bore, D_w = fed.D_f - 2 * fed.t_f, winding(fed, brief.T_room).D_w
    inside = bool(np.mean(D_w) < D_f)
    passed = max(low, z_lo - x_pk), min(end if inside else high, z_hi + x_pk)
    if passed[0] < passed[1] and (inside or np.mean(bore) > D_f):
        yield Wall(inside, D_w if inside else bore, *passed)


def rocks(design: Design) -> Num:
    """How far the coil rocks at full stroke: as told, or as is usual. [rad]"""
    usual = ROCK_SPIDER if design.spider else ROCK
    return usual if design.centring.rock is None else design.centring.rock


def crooked(design: Design, count: int, on_pole: bool) -> Crooked:
    """Draw how the coil stands; ``on_pole`` where shims centre it on what is inside it, else on what is outside."""
    centring, coil = design.centring, design.voice_coil
    told, (z_lo, z_hi) = dict(centring.spread), design.iron.plate_levels()
    neck = float(np.mean(coil_place(design.iron, coil, coil.D_f)[2] + coil.l_f))
    rock = rocks(design)
    oval = OVAL if coil.oval is None else coil.oval
    return Crooked(
        e_vc=_vector(0, count, centring.e_vc, "e_vc" in told),
        e_pole=_vector(1, count, centring.e_pole, "e_pole" in told) * on_pole,
        tilt=_vector(2, count, centring.tilt, "tilt" in told),
        rock=_vector(3, count, rock, "rock" in told),
        oval=_vector(4, count, oval, coil.oval is not None),
        z_gap=float(np.mean(z_lo + z_hi)) / 2,
        z_hold=neck if design.spider else neck + float(np.mean(design.diaphragm.h_c)),
    )


def _vector(k: int, count: int, length: Num, measured: bool) -> Vector:
    """Vectors in any direction: as long as was measured, or nine times in ten no longer than what is told."""
    source = np.random.default_rng([SEED, k])
    across = source.standard_normal(count) + 1j * source.standard_normal(count)
    return np.asarray(length * (across / np.abs(across) if measured else WITHIN * across))


def air_by_size(design: Design, wall: Wall) -> Num:
    """The air beside one wall where everything is centred, round, straight and cold. [m]"""
    coil = design.voice_coil
    if wall.inside:
        return (coil.D_fi - wall.d) / 2
    return (wall.d - winding(coil, COLD).D_w) / 2


def close(design: Design, wall: Wall, stands: Crooked, T_vc: Num, T_iron: Num, T_room: float) -> Close:
    """The air beside one wall, at the worse of warm and cold: iron inside the coil hot, outside it the coil itself."""
    sizes, coil = air_by_size(design, wall), design.voice_coil
    proud: Num = 0.0
    if wall.inside:
        more = grown(wall.d, wall.alpha_L, T_iron, T_room) - wall.d
        air, e, sign = sizes - more / 2, stands.e_vc, -1
    else:
        wound = winding(coil, COLD)
        more = grown(wound.D_w, alpha_L(wire_of(coil).metal), T_vc, T_room) - wound.D_w
        air = sizes - more / 2 - design.centring.t_glue
        e, proud, sign = stands.e_vc + stands.e_pole, wound.bulge, 1
    # least at one end of what passes the wall, rocking to one of two sides: all else lies between
    least = [
        least_clearance(air, sign * stands.off(e, z, way), sign * stands.oval, proud)
        for z in (wall.z_lo, wall.z_hi)
        for way in (1, -1)
    ]
    return Close(wall, sizes, air, proud, np.min(np.array(np.broadcast_arrays(*least)), axis=0))


def _side(design: Design, c_drawn: float, stands: Crooked, near: list[Close], P_ok: float) -> Side:
    """One side of the coil in numbers; what takes the air is told of the wall that is closest."""
    least = np.min([each.least for each in near], axis=0)
    tight = min(near, key=lambda each: float(np.percentile(each.least, CLOSE)))
    wall, glue = tight.wall, 0.0 if tight.wall.inside else design.centring.t_glue
    arms = [max(abs(z - pivot) for z in (wall.z_lo, wall.z_hi)) for pivot in (stands.z_gap, stands.z_hold)]
    taken: dict[str, Num] = {
        "sizes": np.median(tight.sizes) - tight.sizes,
        "shims": np.abs(stands.e_vc),
        "pole": np.abs(stands.e_pole) * (not wall.inside),
        "oval": np.abs(stands.oval) / 2,
        "tilt": np.abs(stands.tilt) * arms[0],
        "rocking": np.abs(stands.rock) * arms[1],
        "glue": glue,
        "crossings": tight.bulge,
        "warmth": tight.sizes - tight.air - glue,
    }
    most = {name: float(np.percentile(each, 100 - CLOSE)) for name, each in taken.items()}
    return Side(
        c_drawn=c_drawn,
        c_usual=float(np.median(least)),
        c_low=float(np.percentile(least, CLOSE)),
        P_rub=share(least),
        c_more=max(0.0, -float(np.quantile(least, P_ok))),
        causes=tuple(
            Cause(name=name, c_taken=c) for name, c in sorted(most.items(), key=lambda each: -each[1]) if c > NOTHING
        ),
    )


def share(least: Array) -> float:
    """The share of the draws that rub."""
    return float(np.mean(least < 0))


def formers(D_fi: float, inside: Array, outside: Array, P_ok: float) -> tuple[float | None, float | None]:
    """Smallest and largest inside of a former, wall and layers as they are, with no more rubs than are wanted. [m]

    A draw is free while the former is made wider by no less than its inside lacks and no more than its outside has; so
    more of them are free only where one begins to be, and fewer only where one ends. An end that is endless is None.
    """
    least, most = -2 * inside, 2 * outside
    can = least <= most
    least, most = np.sort(least[can]), np.sort(most[can])

    def enough(wider: Array) -> Array:
        free = np.searchsorted(least, wider, "right") - np.searchsorted(most, wider, "left")
        return np.asarray(wider[free >= (1 - P_ok) * len(inside)])

    lows, highs = enough(least), enough(most)
    if not len(lows) or not len(highs):
        return None, None
    low, high = np.ceil(lows[0] / MANDREL) * MANDREL, np.floor(highs[-1] / MANDREL) * MANDREL
    if low > high:
        return None, None
    smallest, largest = (float(D_fi + wider) if np.isfinite(wider) else None for wider in (low, high))
    return smallest, largest


def most_layers(coil: VoiceCoil, outside: Array, P_ok: float) -> int:
    """The most layers on the same former with no more rubs outside than are wanted."""
    n_l, now = 0, _reach(coil, int(coil.n_l))
    while share(outside - (_reach(coil, n_l + coil.n_sec) - now)) <= P_ok:
        n_l += coil.n_sec
    return n_l


def _reach(coil: VoiceCoil, n_l: int) -> Num:
    """How far out so many layers come, on the side where their wire crosses. [m]"""
    wire, k_lay = wire_of(coil), LAY[coil.lay]
    D_w = outer_diameter(coil.D_f, wire.d_o, k_lay, n_l, coil.n_tape, coil.t_tape)
    return D_w / 2 + bulge(n_l, wire.d_cu, wire.d_o, k_lay, coil.n_tape, coil.n_splice)

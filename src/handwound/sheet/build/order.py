"""The order in which the parts go together, each along the axis, and what no order can put together.

A part blocks another's way where their radii overlap and it stands on that side of it. What is free to leave last is
free to come first: the order is that of taking apart, turned round.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot
from typing import TYPE_CHECKING, Literal

import numpy as np

from handwound.errors import Fault
from handwound.parts.design import Brief, Design
from handwound.parts.iron import Ring
from handwound.parts.prediction import Prediction
from handwound.sheet.bands import half
from handwound.sheet.build.diaphragm import closes, slipped
from handwound.sheet.drawing.shapes import coils, front_face, skins
from handwound.sheet.said import listed, named, say, show

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

Side = Literal["front", "back"]
TOUCH = 1e-6
"""What overlaps by less only touches. [m]"""
SLICES = 65
"""Levels at which a sloping side is looked at: between two of them it is off by a hundredth of its slope."""
LAND = 2e-3
"""Least width of a face that a depth gauge stands on. [m] Common practice, no source."""
NARROWER = 0.3e-3
"""So much narrower than its former inside the diaphragm's hole may be: mandrel and shims bend past its soft edge. [m]
Common practice, no source."""
BRIDGED = 1e-3
"""So much wider than its former the diaphragm's hole may be: the fillet of glue bridges half of it on each side. [m]
Common practice, no source."""
LAP = 0.2e-3
"""So much wider than the diaphragm the surround may begin: glue bridges it. [m] Common practice, no source."""
PARTS = ("spool", "former", "voice coil", "diaphragm", "ribs", "spider", "surround", "cap")
"""Names of what is no ring."""


@dataclass(frozen=True)
class Piece:
    """Inner and outer radius of something round, from its lowest level to its highest. [m]"""

    name: str
    z: Array
    r_in: Array
    r_out: Array

    @classmethod
    def straight(cls, name: str, r_in: float, r_out: float, z_lo: float, z_hi: float) -> Piece:
        """One whose sides run along the axis."""
        return cls(name, np.array([z_lo, z_hi]), np.full(2, r_in), np.full(2, r_out))


@dataclass(frozen=True)
class Body:
    """What comes in one piece; ``on`` are the pieces that carry it."""

    name: str
    code: str
    pieces: tuple[Piece, ...]
    on: tuple[str, ...] = ()
    side: Side = "front"

    @property
    def names(self) -> tuple[str, ...]:
        """The pieces that it is made of."""
        return tuple(piece.name for piece in self.pieces)


@dataclass(frozen=True)
class Meeting:
    """Where one piece on its way meets another: radii of both there, and by how much they overlap. [m]"""

    moving: Piece
    other: Piece
    moving_r: tuple[float, float]
    other_r: tuple[float, float]
    depth: float

    @cached_property
    def outside(self) -> bool:
        """Whether what stands in the way is outside of what comes."""
        return sum(self.other_r) > sum(self.moving_r)


@dataclass(frozen=True)
class Placed:
    """One step: what is put in its place, in which operation, from which side, onto what."""

    name: str
    code: str
    side: Side
    onto: str
    parts: tuple[str, ...]


def sequence(design: Design, prediction: Prediction) -> tuple[Placed, ...]:
    """All parts in the order in which they go together; what is locked stands where it was met."""
    found, _ = _together(motor(design, prediction))
    steps: list[Placed] = []
    for body, side in found:
        there = {name for step in steps for name in step.parts}
        onto = _onto(body, design)
        onto = onto if onto in there or not steps else steps[-1].name  # what hangs on a nut is slid on before it
        over = not design.has_magnets and any(step.code == "SP" for step in steps)
        code = "CL" if over and body.code == "IR" else body.code  # what closes the motor over its coil
        steps.append(Placed(body.name, code, side, onto, body.names))
    at = design.iron.plate[0]
    moving = [Placed("former", "FO", "front", "", ("former",)), Placed("voice coil", "VC", "front", "former", ())]
    drawn = {skin.name for skin in skins(design)} | ({"spider"} if design.spider else set())
    if slipped(design, prediction.voice_winding.D_w):
        moving.append(Placed("spider", "DI", "front", "former", ()))
        drawn -= {"spider"}
    for name, code, onto in (
        ("diaphragm", "DI", "former"), ("ribs", "DI", "diaphragm"), ("moving parts", "AS", at),
        ("spider", "AS", "former"), ("surround", "SU", "diaphragm"), ("cap", "DC", "diaphragm"),
    ):  # fmt: skip
        if name in drawn or name == "moving parts":
            moving.append(Placed(name, code, "front", onto, ()))
    return (*steps, *moving)


def motor(design: Design, prediction: Prediction) -> list[Body]:
    """All that does not move: rings, those of one piece together, and the spool with its winding."""
    levels, groups = design.iron.levels(), list[list[Ring]]()
    for ring in design.iron.rings:
        under = ring.on or ring.under
        one = [g for g in groups if ring.joint == 0 and any(r.name == under and r.grade == ring.grade for r in g)]
        if one and not ring.magnetised:  # a head and its shank: turned in one, no joint between
            one[0].append(ring)
        else:
            groups.append([ring])
    bodies = []
    for group in groups:
        pieces = tuple(_ring(ring, float(levels[ring.name][0]), float(levels[ring.name][1])) for ring in group)
        own = {ring.name for ring in group}
        on = tuple(str(r.on or r.under) for r in group if (r.on or r.under) and (r.on or r.under) not in own)
        code = "MG" if any(ring.magnetised for ring in group) else "IR"
        bodies.append(Body(group[0].name, code, pieces, on, "back" if group[0].under else "front"))
    wound = [s for s in coils(design, prediction) if s.kind in ("spool", "field coil")]
    if wound:
        r_in, r_out = min(s.r_in for s in wound), max(s.r_out for s in wound)
        z_lo, z_hi = min(s.z_lo for s in wound), max(s.z_hi for s in wound)
        bodies.append(Body("spool", "SP", (Piece.straight("spool", r_in, r_out, z_lo, z_hi),)))
    return sorted(bodies, key=lambda body: round(min(float(piece.z[0]) for piece in body.pieces), 6))


def _ring(ring: Ring, z_lo: float, z_hi: float) -> Piece:
    sloped = ring.across(0.0) != ring.across(1.0)
    share = np.linspace(0.0, 1.0, SLICES if sloped else 2)
    d_in, d_out = ring.across(0.0)
    in_hi, out_hi = ring.across(1.0)
    r_in, r_out = (d_in + share * (in_hi - d_in)) / 2, (d_out + share * (out_hi - d_out)) / 2
    return Piece(ring.name, z_lo + share * (z_hi - z_lo), r_in, r_out)


def moving_pieces(design: Design, prediction: Prediction) -> dict[str, tuple[Piece, ...]]:
    """All that moves, by name: each of it comes in from the front."""
    found: dict[str, tuple[Piece, ...]] = {
        solid.name: (Piece.straight(solid.name, solid.r_in, solid.r_out, solid.z_lo, solid.z_hi),)
        for solid in coils(design, prediction)
        if solid.kind in ("former", "voice coil")
    }
    for skin in skins(design):
        line = [point for point in skin.outline if point[0] >= 0]
        found[skin.name] = tuple(
            Piece.straight(skin.name, min(r_1, r_2), max(r_1, r_2), min(z_1, z_2), max(z_1, z_2))
            for (r_1, z_1), (r_2, z_2) in zip(line, line[1:], strict=False)
            if abs(r_1 - r_2) > TOUCH
        )
    return found


def meets(moving: Iterable[Piece], fixed: Iterable[Piece], side: Side) -> Meeting | None:
    """The deepest overlap of what comes from this side with what stands; None where the way is free."""
    others, worst = list(fixed), None
    for piece in moving:
        for other in others:
            found = _met(piece, other, side)
            if found and (worst is None or found.depth > worst.depth):
                worst = found
    return worst


def _met(piece: Piece, other: Piece, side: Side) -> Meeting | None:
    in_way = other.z[None, :] - piece.z[:, None] > TOUCH
    if side == "back":
        in_way = piece.z[:, None] - other.z[None, :] > TOUCH
    deep = np.minimum(piece.r_out[:, None], other.r_out) - np.maximum(piece.r_in[:, None], other.r_in)
    deep = np.where(in_way, deep, -np.inf)
    i, j = np.unravel_index(int(np.argmax(deep)), deep.shape)
    if deep[i, j] <= TOUCH:
        return None
    radii = (float(piece.r_in[i]), float(piece.r_out[i])), (float(other.r_in[j]), float(other.r_out[j]))
    return Meeting(piece, other, *radii, float(deep[i, j]))


def _together(bodies: Sequence[Body]) -> tuple[list[tuple[Body, Side]], list[Body]]:
    """The order, the first first, each with the side it comes from; and those that lock each other."""
    left, taken = list(bodies), list[tuple[Body, Side]]()
    while left:
        free = _free(left)
        if free is None:
            return taken[::-1], left
        left.remove(free[0])
        taken.append(free)
    return taken[::-1], []


def _free(left: Sequence[Body]) -> tuple[Body, Side] | None:
    """The next to take off: nothing that carries another, if that can be; the last that was listed, if that can be."""
    carrying = {name for body in left for name in body.on}
    for may_carry in (False, True):
        for body in reversed(left):
            if not may_carry and carrying & set(body.names):
                continue
            others = [piece for other in left if other is not body for piece in other.pieces]
            sides: tuple[Side, Side] = ("back", "front") if body.side == "back" else ("front", "back")
            for side in sides:
                if meets(body.pieces, others, side) is None:
                    return body, side
    return None


def _onto(body: Body, design: Design) -> str:
    """What it is put on: its carrier, or for the spool the ring that it slides over."""
    if body.on or body.code != "SP":
        return body.on[0] if body.on else ""
    piece = body.pieces[0]
    inside, _ = design.iron.room(2 * float(piece.r_in[0]), float(piece.z[0]), float(piece.z[-1]))
    return next((ring.name for ring in design.iron.rings if inside is not None and ring.d_out == inside), "")


def faults(design: Design, brief: Brief, prediction: Prediction) -> list[Fault]:
    """Why this cannot be put together, each with the operation that it stops; nothing where it can."""
    found = [
        *_locked(design, prediction), *_way_in(design, prediction, brief), *_glued(design), *_faced(design),
        *_stroke(design, brief),
    ]  # fmt: skip
    if not found:
        return []
    from handwound.sheet.build.operations import operations

    titles = {each.code: each.title for each in operations(design, brief, prediction)}
    return [
        Fault(say("operation {code}, {title}", code=code, title=titles.get(code, "")), must, was, do)
        for code, must, was, do in found
    ]


Why = tuple[str, str, str, str]
"""The operation's code, what must be, what was found, what to do."""


def _locked(design: Design, prediction: Prediction) -> Iterator[Why]:
    """Rings and spool that hold each other."""
    bodies = motor(design, prediction)
    _, left = _together(bodies)
    spool = next((body for body in left if body.code == "SP"), None)
    if left and spool is None:
        names = listed(sorted(body.name for body in left))
        yield (
            "IR", say("rings that can be put together along the axis"),
            say("{names}, which lock each other", names=names),
            say("Make one of them of two pieces, with a joint."),
        )  # fmt: skip
    if spool is None:
        return
    others = [piece for body in left if body is not spool for piece in body.pieces]
    met = meets(spool.pieces, others, "front")
    if met is None:
        return
    ring = met.other.name
    must = say("a spool that can slide to its place past {ring}", ring=ring)
    if met.outside:
        bore, wide = show("d_in", 2 * met.other_r[0], 4), show("D_w", 2 * met.moving_r[1], 4)
        yield (
            "SP", must, say("{ring} with a hole of {bore} before a winding of {wide}", ring=ring, bore=bore, wide=wide),
            say("Make {ring} a piece of its own that is put on after the spool, or wind fewer layers.", ring=ring),
        )  # fmt: skip
    else:
        head, bore = show("d_out", 2 * met.other_r[1], 4), show("d_in", 2 * met.moving_r[0], 4)
        yield (
            "SP", must, say("{ring} of {head} before a bore of {bore}", ring=ring, head=head, bore=bore),
            say("Make {ring} a piece of its own that is put on after the spool, or the bore wider.", ring=ring),
        )  # fmt: skip


def _way_in(design: Design, prediction: Prediction, brief: Brief) -> Iterator[Why]:
    """What moves, all the way from the front to its rest; the cap over all."""
    fixed = [piece for body in motor(design, prediction) for piece in body.pieces]
    for name, pieces in moving_pieces(design, prediction).items():
        met = meets(pieces, fixed, "front")
        if met is None:
            continue
        part, ring = named(name, PARTS), named(met.other.name, PARTS)
        code = {"surround": "SU", "cap": "DC"}.get(name, "AS")
        must = say("free all the way from the front to its place, past {ring}", ring=ring)
        mine, its = (met.moving_r[1], met.other_r[0]) if met.outside else (met.moving_r[0], met.other_r[1])
        if name not in ("former", "voice coil"):
            d = show("d_out", 2 * max(met.moving_r[0], met.other_r[0]), 4)
            was = say("{part}, which meets it at ⌀{d}", part=part, d=d)
            do = say("Make the former longer, so that {part} stands in front of {ring}.", part=part, ring=ring)
            yield code, must, was, do
            continue
        if name == "voice coil" and not met.outside:
            continue  # the former inside it has met the same
        need = 2 * mine + (2 if met.outside else -2) * float(brief.c_min)
        sizes = {"part": part, "mine": show("D_w", 2 * mine, 4), "its": show("d_in", 2 * its, 4), "ring": ring}
        need_d = show("d_in", need, 4)
        if met.outside:
            was = say("{part} ⌀{mine} before a hole of ⌀{its}", **sizes)
            do = say("Make {ring} {need} wide inside, or wind one layer less.", ring=ring, need=need_d)
        else:
            was = say("{part} ⌀{mine} inside before a width of ⌀{its}", **sizes)
            do = say("Turn {ring} down to {need}, or make the former wider.", ring=ring, need=need_d)
        yield code, must, was, do


def _glued(design: Design) -> Iterator[Why]:
    """Edges that must meet for glue to hold them."""
    part, coil, ring, cap = design.diaphragm, design.voice_coil, design.surround, design.cap
    hole, D_f = float(part.d_in), float(coil.D_f)
    if hole > D_f + BRIDGED:
        yield (
            "DI", say("a hole that the former fills, up to {most}", most=show("d_in", D_f + BRIDGED, 4)),
            say("{hole} round a former of {D_f}", hole=show("d_in", hole, 4), D_f=show("D_f", D_f, 4)),
            say("Cut the hole smaller: d_in in [diaphragm]."),
        )  # fmt: skip
    D_fi = float(coil.D_fi)
    least = D_fi - NARROWER - hypot(half(part, "d_in"), half(coil, "D_fi"))
    if not closes(design) and hole < least:
        yield (
            "DI", say("a hole that mandrel and shims pass, {least} or more", least=show("d_in", least, 4)),
            say("{hole} before a former of {D_fi} inside", hole=show("d_in", hole, 4), D_fi=show("D_fi", D_fi, 4)),
            say("Cut the hole as wide as the former is inside: d_in in [diaphragm]."),
        )  # fmt: skip
    if float(ring.d_in) > float(part.d_out) + LAP:
        yield (
            "SU", say("a surround that begins on the diaphragm, at {most} or less", most=show("d_out", part.d_out, 4)),
            say("free from {d_in} on", d_in=show("d_in", ring.d_in, 4)),
            say("Cut its hole smaller or the diaphragm larger: d_in in [surround], d_out in [diaphragm]."),
        )  # fmt: skip
    if cap and float(cap.d_out) <= hole:
        yield (
            "DC", say("a cap wider than the hole that it closes, {hole}", hole=show("d_in", hole, 4)),
            show("d_out", cap.d_out, 4), say("Cut the cap larger: d_out in [cap]."),
        )  # fmt: skip
    if cap and float(cap.d_out) > float(part.d_out):
        yield (
            "DC", say("a cap that stands on the diaphragm, up to {most}", most=show("d_out", part.d_out, 4)),
            show("d_out", cap.d_out, 4), say("Cut the cap smaller: d_out in [cap]."),
        )  # fmt: skip
    spider = design.spider
    if spider and spider.d_in is not None and float(spider.d_in) < D_f - TOUCH:
        yield (
            "AS", say("a spider that goes over the former, free from {D_f} on or wider", D_f=show("D_f", D_f, 4)),
            show("d_in", spider.d_in, 4), say("Cut its hole to the former: d_in in [spider]."),
        )  # fmt: skip


def _faced(design: Design) -> Iterator[Why]:
    """A face for the depth gauge."""
    name, _ = front_face(design)
    ring = next(each for each in design.iron.rings if each.name == name)
    d_in, d_out = (float(d) for d in ring.across(1.0))
    if (d_out - d_in) / 2 < LAND:
        yield (
            "AS", say("a face {land} wide for the depth gauge in front of the motor", land=show("d_in", LAND)),
            say("{ring}, {wide} wide", ring=name, wide=show("d_in", (d_out - d_in) / 2)),
            say("Leave part of the plate's face bare, or set the depth from a block on {ring}.", ring=name),
        )  # fmt: skip


def _stroke(design: Design, brief: Brief) -> Iterator[Why]:
    """A spider needs its stroke behind it."""
    x_pk, levels = float(brief.x_pk), design.iron.levels()
    for skin in (skin for skin in skins(design) if skin.name == "spider"):
        r, z = (np.array(each) for each in zip(*skin.outline, strict=True))
        for ring in design.iron.rings:
            r_in, r_out = (float(d) / 2 for d in ring.across(1.0))
            room = float(z.min()) - float(levels[ring.name][1])
            if min(r_out, float(r.max())) - max(r_in, float(r.min())) > TOUCH and 0 <= room < x_pk:
                must = say("a spider with its stroke, {x_pk}, before {ring}", x_pk=show("x_pk", x_pk), ring=ring.name)
                do = say("Glue it nearer to the neck: z_sp in [spider]; or make the former longer.")
                yield "AS", must, show("z_sp", room), do

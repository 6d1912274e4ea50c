"""What cannot stand in one place: iron in iron, a spool that is too big for its window, a voice coil that touches.

Every check takes parts with plain numbers and answers with misfits; it knows nothing of files.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from handwound.files.lines import Path as Key
from handwound.parts.coil import Coil, FieldCoil, VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.iron import Iron
from handwound.parts.moving import Diaphragm, Surround
from handwound.physics import layers, winding
from handwound.quantities import show

TOUCH = 1e-8
"""Two faces this near to each other touch and do not overlap: far below what a workshop can measure. [m]"""
EDGE = 1e-3
"""The surround may begin this far from the diaphragm's edge. [m] Common practice, no source."""
SIDES = {
    "inside": "on the inside",
    "outside": "on the outside",
    "below": "at the lower end",
    "above": "at the upper end",
}
FORMER = "the former"


class Misfit(NamedTuple):
    """Which key is at fault (of design.toml, unless said), what it must be, what was found, what to do."""

    key: Key
    must: str
    found: str
    do: str = ""


class Body(NamedTuple):
    """Something that takes up room all round the axis: diameters and levels. [m]"""

    name: str
    d_in: float
    d_out: float
    z_lo: float
    z_hi: float


class Clash(NamedTuple):
    """How deep one body is in another, and on which side the other is the nearest way out."""

    side: str
    depth: float


def clash(one: Body, other: Body, tube: float | None = None) -> Clash | None:
    """Where two bodies would have to be in one place; ``side`` says on which side of ``one`` the other stands.

    A coil is wound on a ``tube``: what stands beyond its diameter is outside, however thick the coil has become.
    """
    sides = {
        "inside": (other.d_out - one.d_in) / 2,
        "outside": (one.d_out - other.d_in) / 2,
        "below": other.z_hi - one.z_lo,
        "above": one.z_hi - other.z_lo,
    }
    if min(sides.values()) <= TOUCH:
        return None
    side = min(sides, key=lambda name: sides[name])
    if tube is not None and side in ("inside", "outside"):
        side = "outside" if other.d_in + other.d_out > 2 * tube else "inside"
    return Clash(side, sides[side])


def ring_bodies(iron: Iron) -> list[Body]:
    """The rings of the iron where they stand."""
    return [
        Body(f'ring "{ring.name}"', float(ring.d_in), float(ring.d_out), float(low), float(high))
        for ring, (low, high) in zip(iron.rings, iron.levels().values(), strict=True)
    ]


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
        on = iron.rings[n].on
        under = bodies[numbers[on]] if on else body
        if min(body.d_out, under.d_out) - max(body.d_in, under.d_in) <= TOUCH:
            found = f"{_across(body)} over {_across(under)}, which do not meet"
            yield Misfit(("iron", "ring", n, "on"), "a ring that carries this one", found)


def plate_fits(iron: Iron) -> Iterator[Misfit]:
    """The plate is one ring, or a stack of which each ring lies on the one below."""
    bodies = ring_bodies(iron)
    stack = sorted((n for n, ring in enumerate(iron.rings) if ring.name in iron.plate), key=lambda n: bodies[n].z_lo)
    for below, above in pairwise(stack):
        one, other = bodies[below], bodies[above]
        between = other.z_lo - one.z_hi
        lies = iron.rings[above].on == iron.rings[below].name or abs(between) <= TOUCH
        if lies and min(one.d_out, other.d_out) - max(one.d_in, other.d_in) > TOUCH:
            continue
        apart = f"{show('t', between)} between them" if between > TOUCH else "which do not lie on each other"
        yield Misfit(("iron", "plate"), "rings that lie one on the other", f"{one.name} and {other.name}, {apart}")


def _part_rings(side: str, body: Body, other: Body) -> str:
    if side == "inside":
        return f"Make its d_in at least {show('d_in', other.d_out, 4)}."
    if side == "outside":
        return f"Make its d_out at most {show('d_out', other.d_in, 4)}."
    if side == "below":
        return f"It may begin {show('z', other.z_hi, 4)} above the zero of the stack."
    least = other.z_lo - body.z_lo
    if least <= TOUCH:
        return "Both begin at one level: stand one on the other."
    bored = f", or bore {other.name} to at least {show('d_in', body.d_out, 4)}" if other.d_in < body.d_out else ""
    return f"Make its t at most {show('t', least, 4)}{bored}."


def _across(body: Body) -> str:
    return f"{body.name} from {show('d_in', body.d_in)} to {show('d_out', body.d_out)} across"


def spool(coil: FieldCoil) -> Body:
    """The field coil with its former and its cheeks; only as wide as the former while no wire is chosen."""
    d_in, d_out = coil.D_f - 2 * coil.t_f, wound_diameter(coil)
    return Body(
        "the field coil", float(d_in), d_out, float(coil.z_w - coil.t_fl), float(coil.z_w + coil.h_w + coil.t_fl)
    )


def wound_diameter(coil: Coil) -> float:
    """Outer diameter of the winding, or of the bare former while no wire is chosen. [m]"""
    if coil.wire is None:
        return float(coil.D_f)
    k_lay = winding.LAY[coil.lay]
    return float(winding.outer_diameter(coil.D_f, coil.wire.d_o, k_lay, coil.n_l, coil.n_tape, coil.t_tape))


def layers_within(coil: Coil, d: float) -> int:
    """How many layers of the coil's wire stay within a diameter."""
    assert coil.wire is not None
    most, k_lay = 0, winding.LAY[coil.lay]
    while most < coil.n_l and d >= float(
        winding.outer_diameter(coil.D_f, coil.wire.d_o, k_lay, most + 1, coil.n_tape, coil.t_tape)
    ):
        most += 1
    return most


def field_coil_fits(iron: Iron, coil: FieldCoil) -> Iterator[Misfit]:
    """The spool in its window."""
    wound = spool(coil)
    for ring in ring_bodies(iron):
        met = clash(wound, ring, float(coil.D_f))
        if met:
            must, found = f"clear of {ring.name}", f"an overlap of {show('t', met.depth)} {SIDES[met.side]}"
            yield Misfit(("field_coil",), must, found, _part_spool(met.side, coil, ring))


def open_spool_fits(iron: Iron, coil: FieldCoil) -> Iterator[Misfit]:
    """Where no iron is around the winding, it stays within the widest ring: what stands over it is soon damaged."""
    _, around = iron.room(float(coil.D_f), float(coil.z_w), float(coil.z_w + coil.h_w))
    widest, wide = max(float(ring.d_out) for ring in iron.rings), wound_diameter(coil)
    if around is None and wide > widest + TOUCH:
        must = f"within the flanges, {show('d_out', widest, 4)}"
        yield Misfit(("field_coil",), must, f"{show('D_w', wide, 4)} across", _fewer_layers(coil, widest))


def _fewer_layers(coil: Coil, d: float) -> str:
    if coil.wire is None:
        return f"Make D_f less than {show('D_f', d, 4)}."
    return f"{layers_within(coil, d)} layers of this wire would fit; n_l is {coil.n_l}."


def _part_spool(side: str, coil: FieldCoil, ring: Body) -> str:
    if side == "inside":
        return f"Make D_f at least {show('D_f', ring.d_out + 2 * float(coil.t_f), 4)}."
    if side == "outside":
        return _fewer_layers(coil, ring.d_in)
    if side == "below":
        return f"Make z_w at least {show('z_w', ring.z_hi + float(coil.t_fl), 4)}."
    most = ring.z_lo - float(coil.t_fl) - float(coil.z_w)
    room = f"h_w at most {show('h_w', most, 4)} or " if most > 0 else ""
    return f"Make {room}z_w at most {show('z_w', ring.z_lo - float(coil.t_fl + coil.h_w), 4)}."


def voice_coil_fits(iron: Iron, coil: VoiceCoil, field_coil: FieldCoil | None, stroke: float = 0.0) -> Iterator[Misfit]:
    """The voice coil free of iron and spool, at rest or as far as ``stroke`` to both sides."""
    key: Key = ("voice_coil",)
    if coil.l_f < coil.h_w:
        found = f"{show('l_f', float(coil.l_f), 4)} under a winding of {show('h_w', float(coil.h_w), 4)}"
        yield Misfit((*key, "l_f"), "at least as long as the winding is high", found)
    when = f"over a stroke of {show('x_pk', stroke)} to each side" if stroke else "at rest"
    tube = float(coil.D_f)
    for still in [*ring_bodies(iron), *([spool(field_coil)] if field_coil else [])]:
        touched = [(moving, met) for moving in moving_bodies(iron, coil, stroke) if (met := clash(moving, still, tube))]
        for moving, met in touched[:1]:
            found = f"{moving.name} overlapping it by {show('t', met.depth)} {SIDES[met.side]}"
            do = _part_moving(moving.name, met.side, coil, still)
            yield Misfit(key, f"clear of {still.name} {when}", found, do)


def turns_fit(name: str, coil: Coil) -> Iterator[Misfit]:
    """A layer holds at least one turn."""
    if coil.wire is not None and not layers.turns_per_layer(coil.h_w, coil.wire.d_o, coil.k_p):
        least = show("h_w", float(coil.wire.d_o / coil.k_p), 4)
        yield Misfit((name, "h_w"), f"at least {least}, one turn of this wire", show("h_w", float(coil.h_w), 4))


def voice_coil_reaches(iron: Iron, coil: VoiceCoil) -> Iterator[Misfit]:
    """The winding is at its plate at rest: a force from beyond it would be nearly none."""
    low, high = iron.plate_levels()
    reach = float(coil.h_w + high - low) / 2
    beyond = abs(float(coil.x_0)) - reach
    if beyond > -TOUCH:
        found = f"it {show('x_0', beyond)} beyond" if beyond > TOUCH else "it at the edge"
        do = f"Make x_0 less than {show('x_0', reach, 4)} to either side."
        yield Misfit(("voice_coil", "x_0"), "such that the winding is within reach of its plate at rest", found, do)


def moving_bodies(iron: Iron, coil: VoiceCoil, stroke: float) -> list[Body]:
    """The former and the winding on it, which begins at the end of the former that dips into the motor."""
    low, high = iron.plate_levels()
    z_lo = float((low + high) / 2 + coil.x_0 - coil.h_w / 2)
    former = Body(FORMER, float(coil.D_fi), float(coil.D_f), z_lo - stroke, z_lo + float(coil.l_f) + stroke)
    if coil.wire is None:
        return [former]
    wound = Body("the winding", float(coil.D_f), wound_diameter(coil), z_lo - stroke, z_lo + float(coil.h_w) + stroke)
    return [former, wound]


def _part_moving(name: str, side: str, coil: VoiceCoil, still: Body) -> str:
    if side == "inside":
        return f"Make D_fi larger than {show('D_fi', still.d_out, 4)}."
    if side == "outside" and name != FORMER:
        return f"{layers_within(coil, still.d_in)} layers of this wire would fit, with no air left; n_l is {coil.n_l}."
    if side == "outside":
        return f"Make D_fi less than {show('D_fi', still.d_in - 2 * float(coil.t_f), 4)}."
    return "Make h_w less, or x_0 more." if side == "below" else "Make l_f less, or x_0 less."


def diaphragm_fits(coil: VoiceCoil, diaphragm: Diaphragm, surround: Surround) -> Iterator[Misfit]:
    """Former, diaphragm and surround meet at their edges."""
    if diaphragm.d_out <= coil.D_f:
        found = f"{show('d_out', float(diaphragm.d_out), 4)} on a former of {show('D_f', float(coil.D_f), 4)}"
        yield Misfit(("diaphragm", "d_out"), "larger than the former of the voice coil", found)
    if diaphragm.d_in > coil.D_f:
        found = f"{show('d_in', float(diaphragm.d_in), 4)} round a former of {show('D_f', float(coil.D_f), 4)}"
        yield Misfit(("diaphragm", "d_in"), "small enough to be glued to the former", found)
    if abs(float(surround.d_in - diaphragm.d_out)) > EDGE + TOUCH:
        found = f"{show('d_in', float(surround.d_in), 4)} at a diaphragm of {show('d_out', float(diaphragm.d_out), 4)}"
        do = "d_in is where the surround begins to be free; the lap for the glue comes on top."
        yield Misfit(("surround", "d_in"), f"within {show('t', EDGE)} of the diaphragm's edge", found, do)


def diaphragm_clears(design: Design, stroke: float) -> Iterator[Misfit]:
    """The diaphragm, glued to the far end of the former, stays above the iron that it lies over."""
    coil, part = design.voice_coil, design.diaphragm
    neck = moving_bodies(design.iron, coil, 0.0)[0].z_hi - stroke
    r_neck, r_edge = float(part.d_in) / 2, float(part.d_out) / 2
    depths = [(0.0, "")]
    for ring in ring_bodies(design.iron):
        near = max(ring.d_in / 2, r_neck)
        if ring.z_lo < neck and ring.d_out / 2 > r_neck and near < r_edge:
            rise = float(part.h_c) * (near - r_neck) / (r_edge - r_neck)
            depths.append((ring.z_hi - neck - rise, ring.name))
    depth, name = max(depths)
    if depth > TOUCH:
        when = f"over a stroke of {show('x_pk', stroke)}" if stroke else "at rest"
        must = f"long enough that the diaphragm stays above {name} {when}"
        do = f"Make l_f at least {show('l_f', float(coil.l_f) + depth, 4)}."
        yield Misfit(("voice_coil", "l_f"), must, f"it {show('t', depth)} too deep", do)


def reels_suffice(design: Design) -> Iterator[Misfit]:
    """No coil takes more than its reel holds; both coils may share one."""
    taken: dict[str, float] = {}
    for name, coil in design.coils.items():
        if coil.wire is None or coil.wire.l_reel is None:
            continue
        wire = coil.wire.name
        before = taken.get(wire, 0.0)
        taken[wire] = before + wire_length(coil)
        left = float(coil.wire.l_reel)
        if taken[wire] > left:
            both = " for both coils" if before else ""
            found = f"{show('l_reel', taken[wire])} needed{both}, {show('l_reel', left)} left"
            yield Misfit(
                (name, "wire"), f'a reel with enough wire on it (reel "{wire}")', found, "Fewer layers need less."
            )


def wire_length(coil: Coil) -> float:
    """Length of wire in a coil. [m]"""
    assert coil.wire is not None
    layers = (coil.n_l, coil.h_w, coil.wire.d_o, coil.k_p, winding.LAY[coil.lay])
    D_m = winding.mean_diameter(coil.D_f, *layers, coil.n_tape, coil.t_tape)
    return float(winding.wire_length(winding.turns(*layers, coil.n_tape), D_m))


def outline(design: Design, brief: Brief) -> Iterator[Misfit]:
    """Nothing wider than the brief allows."""
    room = float(brief.D_outline)
    must = f"at most {show('D_outline', room, 4)}, the D_outline of the brief"
    widths: dict[Key, float] = {("surround", "d_out"): float(design.surround.d_out)}
    widths |= {("iron", "ring", n, "d_out"): float(ring.d_out) for n, ring in enumerate(design.iron.rings)}
    for key, width in widths.items():
        if width > room + TOUCH:
            yield Misfit(key, must, show("d_out", width, 4))
    if design.field_coil and (wide := wound_diameter(design.field_coil)) > room + TOUCH:
        found = f"{show('D_w', wide, 4)} across"
        yield Misfit(("field_coil",), must, found, _fewer_layers(design.field_coil, room))


def misfits(design: Design) -> Iterator[Misfit]:
    """Everything in a design that cannot stand in one place."""
    iron, fed = design.iron, design.field_coil
    found = [
        *iron_fits(iron),
        *plate_fits(iron),
        *(misfit for name, coil in design.coils.items() for misfit in turns_fit(name, coil)),
        *(field_coil_fits(iron, fed) if fed else ()),
        *(open_spool_fits(iron, fed) if fed else ()),
        *voice_coil_reaches(iron, design.voice_coil),
        *voice_coil_fits(iron, design.voice_coil, fed),
        *diaphragm_fits(design.voice_coil, design.diaphragm, design.surround),
    ]
    # where something else is out of place, this would only say the same again
    yield from found or diaphragm_clears(design, 0.0)
    yield from reels_suffice(design)


def misfits_together(design: Design, brief: Brief) -> Iterator[Misfit]:
    """What only shows in the build when the wish is laid beside it."""
    stroke = float(brief.x_pk)
    yield from outline(design, brief)
    found = list(voice_coil_fits(design.iron, design.voice_coil, design.field_coil, stroke))
    yield from found or diaphragm_clears(design, stroke)


def misfits_of_brief(design: Design, brief: Brief) -> Iterator[Misfit]:
    """What only shows in the wish when the build is laid beside it; the keys are those of brief.toml."""
    if brief.iron != design.iron.name:
        yield Misfit(
            ("iron",), f'"{design.iron.name}", the iron of design.toml', f'"{brief.iron}"', "Change one of the two."
        )
    free = float(design.surround.d_out - design.surround.d_in) / 2
    if brief.x_pk > free - TOUCH:
        must = f"less than the free width of the surround, {show('x_pk', free)}"
        yield Misfit(("x_pk",), must, show("x_pk", float(brief.x_pk)), "Widen the surround, or move less.")

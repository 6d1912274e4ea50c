"""What cannot stand in one place: iron in iron, a spool that is too big for its window, a voice coil that touches.

Every check takes parts with plain numbers and answers with misfits; it knows nothing of files.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import pi

from handwound.files.iron_fits import (
    SIDES,
    TOUCH,
    Body,
    Misfit,
    clash,
    iron_fits,
    like_poles,
    plate_fits,
    ring_bodies,
)  # fmt: skip
from handwound.files.lines import Path as Key
from handwound.files.mounting import rim_holds
from handwound.parts.coil import Coil, FieldCoil, VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.iron import Iron
from handwound.parts.moving import Cap, Diaphragm, Spider, Surround
from handwound.parts.wire import Wire
from handwound.physics import as_wound, layers, winding
from handwound.physics import wire as wire_physics
from handwound.quantities import show

EDGE = 1e-3
"""The surround may begin this far from the diaphragm's edge. [m] Common practice, no source."""
LAP = 5e-3
"""So wide is the lap with which a spider is glued to the former, at most. [m] Common practice, no source."""
FORMER = "the former"
FOR_A_COIL = {"supply": "Say what feeds the field coil.", "T_touch": "Say how warm it may become to the touch."}


def spool(coil: FieldCoil) -> Body:
    """The field coil with its former and its cheeks; only as wide as the former while no wire is chosen."""
    d_in, d_out = coil.D_f - 2 * coil.t_f, wound_diameter(coil)
    return Body(
        "the field coil", float(d_in), d_out, float(coil.z_w - coil.t_fl), float(coil.z_w + coil.h_w + coil.t_fl)
    )


def motor_bodies(iron: Iron, field_coil: FieldCoil | None) -> list[Body]:
    """Steel, magnets and spool: all that stands still."""
    return [*ring_bodies(iron), *([spool(field_coil)] if field_coil else [])]


def wound_diameter(coil: Coil) -> float:
    """Outer diameter of the winding, or of the bare former while no wire is chosen. [m]"""
    if coil.wire is None:
        return float(coil.D_f)
    return _diameter(coil, coil.wire, int(coil.n_l))


def _diameter(coil: Coil, wire: Wire, n_l: int) -> float:
    """What so many layers need all round: the diameter over their crossings. [m]"""
    k_lay = winding.LAY[coil.lay]
    D_w = winding.outer_diameter(coil.D_f, wire.d_o, k_lay, n_l, coil.n_tape, coil.t_tape)
    return float(D_w + 2 * as_wound.bulge(n_l, wire.d_cu, wire.d_o, k_lay, coil.n_tape, coil.n_splice))


def layers_within(coil: Coil, d: float) -> int:
    """How many layers of the coil's wire stay within a diameter."""
    assert coil.wire is not None
    most = 0
    while most < coil.n_l and d >= _diameter(coil, coil.wire, most + 1):
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
        return f"Make D_f at least {show('D_f', ring.reach[1] + 2 * float(coil.t_f), 4)}."
    if side == "outside":
        return _fewer_layers(coil, ring.reach[0])
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
    for still in motor_bodies(iron, field_coil):
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
        return f"Make D_fi larger than {show('D_fi', still.reach[1], 4)}."
    if side == "outside" and name != FORMER:
        return (
            f"{layers_within(coil, still.reach[0])} layers of this wire would fit, with no air left; n_l is {coil.n_l}."
        )
    if side == "outside":
        return f"Make D_fi less than {show('D_fi', still.reach[0] - 2 * float(coil.t_f), 4)}."
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


def surround_fits(surround: Surround) -> Iterator[Misfit]:
    """A flat ring bends as a plate does, whose stiffness is told; one as thick as it is wide is a block."""
    least = surround.d_in + 4 * surround.sheet.t
    if surround.form == "flat" and surround.K_s is None and surround.d_out < least - TOUCH:
        must = f"at least {show('d_out', float(least), 4)}, so that it is free twice as wide as its sheet is thick"
        do = "Take a thinner sheet, a wider ring, or measure dip and load."
        yield Misfit(("surround", "d_out"), must, show("d_out", float(surround.d_out), 4), do)


def cap_fits(coil: VoiceCoil, diaphragm: Diaphragm, cap: Cap) -> Iterator[Misfit]:
    """The cap closes the hole, in the former or over it, and ends on the diaphragm, whose rim it leaves free."""
    hole = min(float(diaphragm.d_in), float(coil.D_fi))
    found = show("d_out", float(cap.d_out), 4)
    if cap.d_out < hole - TOUCH:
        yield Misfit(("cap", "d_out"), f"as wide as the hole that it closes, {show('d_in', hole, 4)}", found)
    if cap.d_out > diaphragm.d_out - TOUCH:
        must = f"narrower than the diaphragm, {show('d_out', float(diaphragm.d_out), 4)}"
        yield Misfit(("cap", "d_out"), must, found, "The surround is glued to the rim that is left.")


def glue_fits(design: Design) -> Iterator[Misfit]:
    """The surround's lap, as wide as its glue, lies on the diaphragm."""
    diaphragm, within = design.diaphragm, max(design.diaphragm.d_in, design.voice_coil.D_f)
    most = float(diaphragm.d_out - within) / 2
    for n, bond in enumerate(design.bonds):
        if bond.at == "rim" and bond.w_bond is not None and bond.w_bond > most + TOUCH:
            must = f"at most as wide as the diaphragm is between former and rim, {show('w_bond', most)}"
            yield Misfit(("bond", n, "w_bond"), must, show("w_bond", float(bond.w_bond)))


def weighed_fits(design: Design) -> Iterator[Misfit]:
    """What was weighed together is heavier than what is known to be in it."""
    coil, m_weighed, cap = design.voice_coil, design.m_weighed, design.cap
    if m_weighed is None or coil.wire is None:
        return
    wire = wire_physics.wire_mass(wire_length(coil), coil.wire.d_cu, coil.wire.d_o, coil.wire.rho_m)
    known = wire + sum(bit.m for bit in design.bits) + (design.diaphragm.m_d or 0) + (cap and cap.m_cap or 0)
    if m_weighed <= known:
        must = f"more than the wire and all that was weighed by itself, {show('m_weighed', float(known))}"
        yield Misfit(("moving", "m_weighed"), must, show("m_weighed", float(m_weighed)), "Was the coil on it, wound?")


def ribs_fit(diaphragm: Diaphragm) -> Iterator[Misfit]:
    """The ribs stand on the diaphragm."""
    ribs, least, most = diaphragm.ribs, float(diaphragm.d_in), float(diaphragm.d_out)
    if ribs and (ribs.d_in < least - TOUCH or ribs.d_out > most + TOUCH):
        found = f"from {show('d_in', float(ribs.d_in), 4)} to {show('d_out', float(ribs.d_out), 4)}"
        must = f"on the diaphragm, from {show('d_in', least, 4)} to {show('d_out', most, 4)}"
        yield Misfit(("diaphragm", "ribs"), must, found)


def spider_fits(coil: VoiceCoil, spider: Spider) -> Iterator[Misfit]:
    """The spider is glued to the former, above the winding."""
    if spider.d_in is not None and not coil.D_f - TOUCH < spider.d_in < coil.D_f + 2 * LAP:
        found = f"{show('d_in', float(spider.d_in), 4)} on a former of {show('D_f', float(coil.D_f), 4)}"
        do = "d_in is where the spider begins to be free; the lap for the glue is within it."
        yield Misfit(("spider", "d_in"), f"outside the former and within {show('t', LAP)} of it", found, do)
    bare = float(coil.l_f - coil.h_w)
    if spider.z_sp > bare + TOUCH:
        must = f"at most {show('z_sp', bare, 4)}: the former above its winding"
        yield Misfit(("spider", "z_sp"), must, show("z_sp", float(spider.z_sp), 4))


def spider_clears(design: Design, stroke: float) -> Iterator[Misfit]:
    """The spider stays above the iron that it lies over."""
    spider = design.spider
    if spider is None or spider.d_out is None:
        return
    z = moving_bodies(design.iron, design.voice_coil, 0.0)[0].z_hi - float(spider.z_sp)
    depth, name = _sunk(design, z - stroke, float(design.voice_coil.D_f), float(spider.d_out), lambda d: 0.0)
    if depth > TOUCH:
        must = f"such that the spider stays above {name} {_when(stroke)}"
        do = "Make it less, or the former longer."
        yield Misfit(("spider", "z_sp"), must, f"it {show('t', depth)} too deep", do)


def diaphragm_clears(design: Design, stroke: float) -> Iterator[Misfit]:
    """The diaphragm, glued to the far end of the former, stays above the iron that it lies over."""
    coil, part = design.voice_coil, design.diaphragm
    neck = moving_bodies(design.iron, coil, 0.0)[0].z_hi - stroke
    glued = part.rise(max(float(part.d_in), float(coil.D_f)))
    depth, name = _sunk(design, neck, float(part.d_in), float(part.d_out), lambda d: float(part.rise(d) - glued))
    if depth > TOUCH:
        must = f"long enough that the diaphragm stays above {name} {_when(stroke)}"
        do = f"Make l_f at least {show('l_f', float(coil.l_f) + depth, 4)}."
        yield Misfit(("voice_coil", "l_f"), must, f"it {show('t', depth)} too deep", do)


def _when(stroke: float) -> str:
    return f"over a stroke of {show('x_pk', stroke)}" if stroke else "at rest"


def _sunk(design: Design, z: float, d_in: float, d_out: float, rise: Callable[[float], float]) -> tuple[float, str]:
    """How deep what lies at a level would be in the iron below it, and in which ring; ``rise``: above that level."""
    depths = [(0.0, "")]
    for ring in ring_bodies(design.iron):
        its_in, its_out = ring.across(ring.z_hi)
        near, far = max(its_in, d_in), min(its_out, d_out)
        if ring.z_lo < z and near < far:
            depths.append((ring.z_hi - z - min(rise(near), rise(far)), ring.name))
    return max(depths)


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
    layers = (coil.n_l, coil.h_w, coil.wire.d_o, coil.k_p, winding.LAY[coil.lay], coil.n_tape, coil.t_tape)
    return float(as_wound.wound(coil.D_f, *layers, coil.N_counted, coil.n_splice)[1])


def outline(design: Design, brief: Brief) -> Iterator[Misfit]:
    """Nothing wider than the brief allows."""
    room = float(brief.D_outline)
    must = f"at most {show('D_outline', room, 4)}, the D_outline of the brief"
    widths: dict[Key, float] = {("surround", "d_out"): float(design.surround.d_out)}
    widths |= {("iron", "ring", n, "d_out"): body.reach[1] for n, body in enumerate(ring_bodies(design.iron))}
    for key, width in widths.items():
        if width > room + TOUCH:
            yield Misfit(key, must, show("d_out", width, 4))
    if design.field_coil and (wide := wound_diameter(design.field_coil)) > room + TOUCH:
        found = f"{show('D_w', wide, 4)} across"
        yield Misfit(("field_coil",), must, found, _fewer_layers(design.field_coil, room))
    yield from rim_holds(design.flange, room) if design.flange else ()


def misfits(design: Design) -> Iterator[Misfit]:
    """Everything in a design that cannot stand in one place."""
    iron, fed = design.iron, design.field_coil
    found = [
        *iron_fits(iron),
        *like_poles(iron),
        *plate_fits(iron),
        *(misfit for name, coil in design.coils.items() for misfit in turns_fit(name, coil)),
        *(field_coil_fits(iron, fed) if fed else ()),
        *(open_spool_fits(iron, fed) if fed else ()),
        *voice_coil_reaches(iron, design.voice_coil),
        *voice_coil_fits(iron, design.voice_coil, fed),
        *diaphragm_fits(design.voice_coil, design.diaphragm, design.surround),
        *surround_fits(design.surround),
        *(cap_fits(design.voice_coil, design.diaphragm, design.cap) if design.cap else ()),
        *ribs_fit(design.diaphragm),
        *glue_fits(design),
        *weighed_fits(design),
        *(spider_fits(design.voice_coil, design.spider) if design.spider else ()),
    ]
    # where something else is out of place, this would only say the same again
    yield from found or _clear(design, 0.0)
    yield from reels_suffice(design)


def misfits_together(design: Design, brief: Brief) -> Iterator[Misfit]:
    """What only shows in the build when the wish is laid beside it."""
    stroke = float(brief.x_pk)
    yield from outline(design, brief)
    found = list(voice_coil_fits(design.iron, design.voice_coil, design.field_coil, stroke))
    yield from found or _clear(design, stroke)


def _clear(design: Design, stroke: float) -> Iterator[Misfit]:
    yield from diaphragm_clears(design, stroke)
    yield from spider_clears(design, stroke)


def misfits_of_brief(design: Design, brief: Brief) -> Iterator[Misfit]:
    """What only shows in the wish when the build is laid beside it; the keys are those of brief.toml."""
    if brief.iron != design.iron.name:
        yield Misfit(
            ("iron",), f'"{design.iron.name}", the iron of design.toml', f'"{brief.iron}"', "Change one of the two."
        )
    # a supply, and heat that can be touched, belong to a field coil
    astray = [key for key in FOR_A_COIL if (getattr(brief, key) is None) is bool(design.field_coil)]
    for key in astray if design.field_coil else ():
        yield Misfit((key,), "given where design.toml has a [field_coil]", f"no {key}", FOR_A_COIL[key])
    if astray and not design.field_coil:
        must = "left out where design.toml has no [field_coil]"
        yield Misfit((astray[0],), must, " and ".join(astray), "Magnets need no supply and make no heat.")
    free = float(design.surround.d_out - design.surround.d_in) / 2
    if brief.x_pk > free - TOUCH:
        must = f"less than the free width of the surround, {show('x_pk', free)}"
        yield Misfit(("x_pk",), must, show("x_pk", float(brief.x_pk)), "Widen the surround, or move less.")
    yield from box_fits(design, brief)


def box_fits(design: Design, brief: Brief) -> Iterator[Misfit]:
    """A box that holds the driver has more air in it than the motor takes."""
    motor = motor_volume(design)
    if brief.box and brief.box.V_box < motor:
        must = f"more than the motor itself takes, {show('V_box', motor)}"
        do = "It is the air in the box; where the frame itself is closed, that is [back] in design.toml."
        yield Misfit(("V_box",), must, show("V_box", float(brief.box.V_box)), do)


def motor_volume(design: Design) -> float:
    """What steel, magnets and spool take up. [m³]"""
    solid = motor_bodies(design.iron, design.field_coil)
    return sum(pi / 4 * (each.d_out**2 - each.d_in**2) * (each.z_hi - each.z_lo) for each in solid)

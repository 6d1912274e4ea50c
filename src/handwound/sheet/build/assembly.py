"""The operations that bring the parts together: the frame, the coil at its depth on shims, the surround."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.cone import level, neck
from handwound.parts.moving import Spider
from handwound.parts.prediction import Band
from handwound.physics.moving import G_N
from handwound.physics.suspension import dip_under
from handwound.sheet.build import care
from handwound.sheet.build.built_in import vents
from handwound.sheet.build.diaphragm import closes
from handwound.sheet.build.glue import glued, waits
from handwound.sheet.build.operation import Build, Check, Operation, Wait
from handwound.sheet.build.strips_to_read import LOADS
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import Gap, front_face, gap, voice_levels, wavy, z_neck
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, mm, say, show

DIP = 0.5e-3
"""How far a weight must sink the cone for a gauge to tell: common practice. [m]"""


def frame(build: Build) -> Operation:
    """The frame has no sizes in a design but those of its holes: what it must hold is known."""
    design, brief = build.design, build.brief
    face, z_face = front_face(design)
    part = design.diaphragm
    rim = z_neck(design) + float(level(part, neck(design), float(part.d_out) / 2)) + float(part.sheet.t)
    holds = say(
        "The frame is yours to plan, of board or sheet: it holds the surround's rim square to the axis and is screwed "
        "to the motor."
    )
    do = [
        holds if design.back else joined(" ", (holds, say("Behind the diaphragm it is open, nothing muffles it."))),
        say(
            "Opening ⌀{d_out} mm, where the surround ends; all of it within ⌀{D_outline} mm (template: rim of the "
            "frame). Saw it with a fretsaw; drill by the template, centre punch first.",
            d_out=mm("d_out", design.surround.d_out), D_outline=mm("D_outline", brief.D_outline),
        ),
        say(
            "The surround goes on its front face: that lies {z} mm in front of the front face of {ring}.",
            z=mm("z", rim - z_face, 3), ring=face,
        ),
        say("A filing in the gap is lifted out with tape before you go on."),
    ]  # fmt: skip
    if design.flange:
        holes, hole, across = (
            counted("n_screw", design.flange.n_screw), mm("d_screw", design.flange.d_screw),
            mm("D_screw", design.flange.D_screw),
        )  # fmt: skip
        do.append(say("Rim: {n} holes of ⌀{d} on a circle of ⌀{D} (mm), evenly.", n=holes, d=hole, D=across))
    if design.back:
        do.append(say("Its back is closed but for vents: {vents}.", vents=vents(design.back)))
    return Operation(
        "FR", say("Frame and its holes"), tuple(do),
        tools=(
            say("centre punch"), say("drill"), say("fretsaw"), say("deburring tool"), say("square"),
            say("tape over the gap"),
        ),
        cautions=(care.drill(build),),
    )  # fmt: skip


def assembly(build: Build) -> Operation:
    """The coil at its depth, centred by shims."""
    design, air = build.design, gap(build.design, build.prediction)
    title = say("Assembly on shims")
    anchor = say(
        "Lead the flex in a loop to the frame, with room for {x_pk} each way, and hold it there with a drop of glue.",
        x_pk=show("x_pk", float(build.brief.x_pk)),
    )
    do = (_depth(build), *_shims(build, air), *_spider(build), anchor, *_frees(build))
    spider = design.spider is not None
    waited: tuple[Wait, ...] = ()
    if spider:
        waited = waits(build, say("The shims stay until then: pulled too soon, the coil settles off centre."), "spider")
    return Operation(
        "AS", title, do, tuple(_airs(build)),
        tools=(say("coil depth gauge"), say("three equal shims"), say("strips of paper"), say("square")),
        waits=waited, cautions=care.glues(build, "spider") if spider else (),
    )  # fmt: skip


def _depth(build: Build) -> Said:
    face, z_face = front_face(build.design)
    front = voice_levels(build.design)[1] - z_face
    x, gauge = mm("x", abs(front), 3), say("Stand the depth gauge on that face (template: coil depth gauge).")
    before = say(
        "Depth: the front end of the winding stands {x} mm in front of the front face of {ring}.", x=x, ring=face
    )
    behind = say("Depth: the front end of the winding stands {x} mm behind the front face of {ring}.", x=x, ring=face)
    return joined(" ", (before if front >= 0 else behind, gauge))


def _shims(build: Build, air: Gap) -> Iterator[Said]:
    """Where they stand, and which way they come out: a diaphragm that closes the former shuts the front."""
    design, rub = build.design, build.prediction.rub
    steel = say("Of card or film: steel would be held.") if design.has_magnets else say("Of card, film or brass.")
    shut = closes(design) and design.spider is None
    if shut and air.r_plate is not None:
        yield joined(" ", (
            say(
                "The diaphragm closes the former: three equal shims stand outside it, {t_shim} mm thick, between the "
                "winding and {plate}, with tails long enough to pull them out through the openings of the frame.",
                t_shim=mm("t_shim", air.r_plate - air.r_air, 2), plate=air.plate,
            ), steel,
        ))  # fmt: skip
        return
    if air.r_pole is None:
        yield say("Nothing stands inside the former: centre it from outside, by equal air all round.")
        return
    thick = mm("t_shim", (rub and rub.t_shim) or air.r_former - air.r_pole, 2)
    yield joined(" ", (
        say(
            "Three equal shims, {t_shim} mm thick, between {beside} and former, a third of a turn apart (template: "
            "shim).",
            t_shim=thick, beside=air.beside,
        ), steel,
    ))  # fmt: skip
    if shut:
        yield say(
            "The diaphragm closes the former: let the shims' tails hang out at its back end, towards the motor, and "
            "pull them from there."
        )


def _frees(build: Build) -> Iterator[Said]:
    if closes(build.design) and build.design.spider:
        yield say(
            "When the spider's glue is hard pull the shims out to the front, then glue the diaphragm on the former, "
            "square to the axis."
        )


def _airs(build: Build) -> Iterator[Check]:
    c_min = show("c_min", float(build.brief.c_min))
    tight = say(
        "{c_min} was asked for. Re-centre: a thinner shim on the tight side, a thicker one across.", c_min=c_min
    )
    acts = {
        "c_i": (
            say("air inside the former"), say("Still tight: it is oval or too narrow, make it again."),
            say("On one side: re-centre. All round: go on if the air outside is there."),
        ),
        "c_o": (
            say("air outside the wire"), say("Still tight: press the winding round, take off blobs of glue."),
            say("On one side: re-centre. All round: fine."),
        ),
    }  # fmt: skip
    for key, (what, still, high) in acts.items():
        if f"clearance.{key}" in build.prediction.numbers():
            expected = with_band(key, band(build.prediction, f"clearance.{key}"))
            yield Check(what, expected, joined(" ", (tight, still)), high)


def _spider(build: Build) -> Iterator[Said]:
    """How the second suspension is made, and where it is glued."""
    spider = build.design.spider
    if spider is None:
        return
    yield from _made(spider)
    if spider.z_sp:
        yield say(
            "Glue the spider to former and frame, {z_sp} mm behind the neck, while the shims hold; let it cure in "
            "peace.",
            z_sp=mm("z_sp", spider.z_sp),
        )
    else:
        yield say("Glue the spider to former and frame, while the shims hold; let it cure in peace.")
    yield from glued(build, "spider")


def _made(spider: Spider) -> Iterator[Said]:
    if spider.sheet and spider.l_arm is not None and spider.w_arm is not None:
        yield say(
            "Spider: {n_arm} arms cut from {sheet} (template: spider), each {l_arm} mm long and {w_arm} mm wide, along "
            "a tangent of the former, all the same way round.",
            n_arm=counted("n_arm", spider.n_arm), sheet=spider.sheet.name, l_arm=mm("l_arm", spider.l_arm),
            w_arm=mm("w_arm", spider.w_arm),
        )  # fmt: skip
    elif spider.sheet and spider.n_pleat:
        yield say(
            "Spider: press {waves} (mm) into damp {sheet} between two forms; let it dry there.", waves=wavy(spider),
            sheet=spider.sheet.name,
        )  # fmt: skip


def surround(build: Build) -> Operation:
    """The suspension of the rim."""
    part = build.design.surround
    do = [
        say(
            "{sheet}, free from ⌀{d_in} to ⌀{d_out} mm, laps for the glue extra (template: surround).",
            sheet=part.sheet.name, d_in=mm("d_in", part.d_in), d_out=mm("d_out", part.d_out),
        )
    ]  # fmt: skip
    if part.form == "roll":
        do.append(say("Form {roll} (mm), bulging to the front, on a ring that is as high.", roll=wavy(part)))
    elif part.form == "pleats":
        do.append(say("Press {waves} (mm) between two forms.", waves=wavy(part)))
    out = closes(build.design) and build.design.spider is not None
    do.append(
        say("Glue to the rim, then to the frame; the spider holds the coil, the shims are out.")
        if out
        else say("Glue to the rim, then to the frame, with the shims still in.")
    )
    why = say("Must not be hurried: the cone sags. Shims in, cone up, nothing leans on it.")
    return Operation(
        "SU", say("Surround"), (joined(" ", do), *glued(build, "rim")),
        tools=(say("knife"), say("flat plate"), say("square")),
        waits=waits(build, say("Must not be hurried: the cone sags.") if out else why, "rim"),
        cautions=(care.mask(), *care.glues(build, "rim")),
    )  # fmt: skip


def dip(build: Build) -> Check:
    """How far a weight sinks what is hung: read when the shims are out."""
    load = next((load for load in LOADS if _sinks(build, load).value >= DIP), LOADS[-1])
    return Check(
        say("sinks under {load} after a minute, cone up", load=show("load", load)),
        with_band("dip", _sinks(build, load)),
        say(
            "Does nothing touch? Then it is stiffer and rings higher: enter it, go on, or cut a new surround of thinner"
            " sheet or as a half-roll."
        ),
        say("Is it glued all round? Then it is softer and rings lower: enter it, and mind the stroke."),
    )  # fmt: skip


def _sinks(build: Build, load: float) -> Band:
    """Dip under a weight that has lain for a minute: foam gives more then, and all stiffens on the way. [m]"""
    Cms, heard = band(build.prediction, "driver.Cms"), build.prediction.sound
    if heard is None:
        return Band(*(load * G_N * value for value in Cms))
    k_dyn = heard.held.sag / (G_N * float(build.prediction.moving.Mmd) * Cms.value)
    x, K_x = heard.held.x, heard.held.K_x
    return Band(*(float(dip_under(x, K_x, load * k_dyn * value / Cms.value)) for value in Cms))

"""The operations of what moves: former, voice coil, diaphragm, assembly, surround."""

from __future__ import annotations

import math
from collections.abc import Iterator

from handwound.masses import LATE, glue_mass
from handwound.parts.prediction import Band
from handwound.parts.sheet import Sheet
from handwound.physics.suspension import dip_under, droop_modulus, strip_modulus
from handwound.sheet.bands import about, half
from handwound.sheet.build.glue import glued, weighs
from handwound.sheet.build.motor import SEE, as_connected, at_room
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import front_face, gap, voice_levels, wavy
from handwound.sheet.numbers import band
from handwound.sheet.said import mm, show
from handwound.sheet.sections import section_words
from handwound.sheet.winding import voice_ladder

GRAVITY = 9.80665
"""Standard gravity [m/s²]: 3rd CGPM, 1901."""
LOADS, DIP = (0.010, 0.020, 0.050, 0.100, 0.200, 0.500), 0.5e-3
"""Weights to lay on the cone [kg], and how far it must sink for a gauge to tell. [m] Common practice."""

STRIPS, DROOP = (0.05, 0.07, 0.1, 0.15, 0.2), 4e-3
"""Free lengths of a strip of card, and how far its end must sink for a ruler to tell. [m] Common practice."""
STRIP, STRETCH = (0.06, 0.02), 1e-3
"""Length and width of a strip of foam, and how much longer a weight must make it. [m] Common practice."""


def operations(build: Build) -> tuple[Operation, ...]:
    """From the mandrel to the suspension."""
    return (
        former(build), voice_coil(build), diaphragm(build), leads(build), assembly(build), surround(build),
    )  # fmt: skip


def former(build: Build) -> Operation:
    """A round tube on a mandrel."""
    coil = build.design.voice_coil
    strip = math.pi * (float(coil.D_fi) + float(coil.t_f))
    return Operation(
        "FO",
        "Mandrel and former",
        (
            f"Mandrel ⌀{mm('D_fi', coil.D_fi)} mm with release film. Strip of {coil.former.name}: "
            f"{mm('length', strip)} mm long (π times inside plus wall), {mm('l_f', coil.l_f)} mm wide, butt-joined.",
        ),
        (
            Check(
                "outside ⌀, at six angles", with_band("D_f", about(coil.D_f, half(coil, "D_f"))),
                "Thinner: more air outside the coil. Go on.",
                "Thicker, or oval by more than 0.10 mm from least to most: it may rub. Make it again.",
            ),
        ),
    )  # fmt: skip


def voice_coil(build: Build) -> Operation:
    """The voice coil by its ladder."""
    made, ladder = build.prediction, voice_ladder(build.design, build.brief, build.prediction)
    air, sections = gap(build.design, made), section_words(build.design.voice_coil, made.voice_ladder)
    hold, all_moves = ladder.holds[-1], show("Mmd", float(made.moving.Mmd))
    over = f"over {air.beside}" if air.pole else f"into {air.beside}"
    even = int(build.design.voice_coil.n_l) % 2 == 0
    ends = "Both ends leave at the front." if even else "One end runs back to the front under the last layer."
    mass = Band(*(a + b for a, b in zip(band(made, "moving.m_vc"), band(made, "moving.m_f"), strict=True)))
    return Operation(
        "VC",
        "Wind the voice coil",
        (
            f"{ladder.wire}.",
            f"Thin glue under and over each layer; cure on the mandrel. {ends}",
            *glued(build, "coil"),
            *((sections,) if sections else ()),
        ),
        (
            Check("turns", str(made.voice_ladder[-1].N), "Add them.", "Take them off."),
            Check(at_room(build), hold.expected, f"Thicker wire: {SEE}", f"Thinner wire: {SEE}"),
            *as_connected(build.design.voice_coil, band(made, "voice_winding.R_T"), at_room(build)),
            Check(
                "outer diameter, at six angles", with_band("D_w", band(made, "voice_winding.D_w")), "More air. Go on.",
                "Less air outside: press it while the glue is soft, or it rubs.",
            ),
            Check(
                "mass of former and coil, glue extra", f"{with_band('m', mass)}",
                "Turns or wire missing.", f"Too much glue: wipe. All that moves shall weigh {all_moves}.",
            ),
        ),
        f"Stop if it does not slide freely {over} with its shims.",
    )  # fmt: skip


def diaphragm(build: Build) -> Operation:
    """The cone or the disc."""
    part, ribs = build.design.diaphragm, build.design.diaphragm.ribs
    size, do = f"⌀{mm('d_out', part.d_out)}", "Cut, glue, let it dry on a flat plate."
    if part.form == "cone":
        size = f"from ⌀{mm('d_in', part.d_in)} to ⌀{mm('d_out', part.d_out)}, {mm('h_c', part.h_c)} deep, seam "
        size += mm("w_seam", part.w_seam)
    elif part.form == "dome":
        size += f", {mm('h_c', part.h_c)} high"
        do = "Press it damp over a round mould, let it dry there, cut it."
    stand: tuple[str, ...] = ()
    if ribs:
        reach = f"from ⌀{mm('d_in', ribs.d_in)} to ⌀{mm('d_out', ribs.d_out)}"
        stand = (
            f"Ribs: {int(ribs.n_rib)} strips of {ribs.sheet.name}, {mm('h_rib', ribs.h_rib)} high, {reach} (mm), glued "
            f"on edge at equal angles{weighs(build, 'm_rib', 'together')}.",
        )
    return Operation(
        "DI",
        f"Diaphragm: {part.form}",
        (
            f"{part.sheet.name}: {size} (mm). {do}", *stand, *glued(build, "seam"), *_stretched(build),
            "Weighed, it is glued to the former, on its mandrel once more: square all round, let it cure.",
            *glued(build, "neck"),
        ),
        (
            Check(
                f"mass by itself{', ribs and glue extra' if ribs else ''}",
                with_band("m_d", band(build.prediction, "moving.m_d")), "Lighter: louder, higher resonance.",
                "Heavier: quieter, lower resonance. Enter it.",
            ),
        ),
    )  # fmt: skip


def _stretched(build: Build) -> tuple[str, ...]:
    """The strips that tell how stiff the sheets are, while there is still sheet to cut."""
    design = build.design
    firm, spider = design.diaphragm.sheet, design.spider.sheet if design.spider else None
    soft = {each.name: each for each in (design.surround.sheet, spider) if each and each.name != firm.name}
    return _droops(firm), *(_stretches(each) for each in soft.values())


def _droops(sheet: Sheet) -> str:
    """A strip of card or paper that sinks by its own weight, long enough to be read."""

    def sinks(long: float) -> float:
        return float(droop_modulus(long, sheet.t, sheet.rho_A, 1.0) / sheet.E)

    long = next((long for long in STRIPS if sinks(long) >= DROOP), STRIPS[-1])
    reads = show("droop", sinks(long), 2)
    return (
        f"Cut a strip of {sheet.name} with {show('l_strip', long)} free, hold it level at one end: the other sinks "
        f"about {reads} (droop)."
    )


def _stretches(sheet: Sheet) -> str:
    """A strip of foam, rubber or cloth with a weight on it, heavy enough to be read."""
    long, wide = STRIP
    size = f"{mm('w_strip', wide)} × {mm('l_strip', long)} mm"
    if not sheet.E:
        return f"Cut a strip of {sheet.name}, {size}, hang a weight on it, read after a minute how far it stretches."

    def longer(load: float) -> float:
        return float(strip_modulus(long, wide, sheet.t, 1.0, load) * sheet.k_dyn / sheet.E)

    load = next((load for load in LOADS if longer(load) >= STRETCH), LOADS[-1])
    reads = show("stretch", longer(load), 2)
    return (
        f"Cut a strip of {sheet.name}, {size}, hang {show('load', load)} on it: after a minute it is about {reads} "
        "longer (stretch)."
    )


def leads(build: Build) -> Operation:
    """Lead-outs and all small things that move."""
    bits = "; ".join(f"{bit.name} {show('m', float(bit.m))}" for bit in build.design.bits)
    weigh = (f"Planned weights: {bits}.",) if bits else ()
    return Operation(
        "LD",
        "Leads",
        (
            "Stranded flex in a loop, both ends anchored with a drop of glue; no stiff wire may bend.",
            *weigh,
        ),
        (
            Check(
                "ohms at the ends of the leads", with_band("Re", band(build.prediction, "driver.Re")),
                "A short at the joint.", "A bad joint: solder again.",
            ),
            Check(
                f"all that moves{_too(build)}, no {_hung(build)} yet", with_band("m_weighed", _bare(build)),
                "Lighter: louder, higher resonance. Enter it.", "Heavier: quieter, lower resonance. Enter it.",
            ),
        ),
    )  # fmt: skip


def _too(build: Build) -> str:
    """What lies on the scale, too, though it is not glued on yet."""
    loose = [*(["cap"] if build.design.cap else []), *(bit.name for bit in build.design.bits)]
    return f", {' and '.join(loose)} too" if loose else ""


def _hung(build: Build) -> str:
    return "surround or spider" if build.design.spider else "surround"


def _bare(build: Build) -> Band:
    """All that moves but surround, spider and their glue, whose own doubt is left in it. [kg]"""
    hung = sum(band(build.prediction, f"moving.{name}").value for name in ("m_s", "m_sp"))
    hung += float(glue_mass(build.design, build.prediction.voice_winding, LATE))
    return Band(*(m - hung for m in band(build.prediction, "moving.Mmd")))


def assembly(build: Build) -> Operation:
    """The coil at its depth, centred by shims."""
    design, air = build.design, gap(build.design, build.prediction)
    face, z_face = front_face(design)
    front = voice_levels(design)[1] - z_face
    word = "in front of" if front >= 0 else "behind"
    do = [
        f"Depth: the front end of the winding stands {mm('x', abs(front), 3)} mm {word} the front face of {face}. "
        "Stand the depth gauge on that face."
    ]
    if air.r_pole is not None:
        shim = build.prediction.rub and build.prediction.rub.t_shim
        thick = mm("t_shim", shim or air.r_former - air.r_pole, 2)
        steel = ", of card or film: steel would be held" if design.has_magnets else ""
        do.append(f"Three equal shims, {thick} mm thick{steel}, between {air.beside} and former.")
    do += _spider(build)
    checks = []
    for key, side in (("c_i", "inside the former"), ("c_o", "outside the wire")):
        if f"clearance.{key}" in build.prediction.numbers():
            checks.append(
                Check(
                    f"air {side}", with_band(key, band(build.prediction, f"clearance.{key}")),
                    f"It may rub: {show('c_min', float(build.brief.c_min))} was asked for.", "Fine.",
                )
            )  # fmt: skip
    return Operation("AS", "Assembly on shims", tuple(do), tuple(checks))


def _spider(build: Build) -> Iterator[str]:
    """How the second suspension is made, and where it is glued."""
    spider = build.design.spider
    if spider is None:
        return
    if spider.sheet and spider.l_arm is not None and spider.w_arm is not None:
        yield (
            f"Spider: {int(spider.n_arm)} arms cut from {spider.sheet.name}, each {mm('l_arm', spider.l_arm)} mm long "
            f"and {mm('w_arm', spider.w_arm)} mm wide, along a tangent of the former, all the same way round."
        )
    elif spider.sheet and spider.n_pleat:
        yield f"Spider: press {wavy(spider)} (mm) into damp {spider.sheet.name} between two forms; let it dry there."
    behind = f", {mm('z_sp', spider.z_sp)} mm behind the neck" if spider.z_sp else ""
    yield f"Glue the spider to former and frame{behind}, while the shims hold; let it cure in peace."
    yield from glued(build, "spider")


def surround(build: Build) -> Operation:
    """The suspension of the rim."""
    part = build.design.surround
    made = {
        "roll": f"Form {wavy(part)} (mm), bulging to the front, on a ring that is as high. ",
        "pleats": f"Press {wavy(part)} (mm) between two forms. ",
    }
    load = next((load for load in LOADS if _sinks(build, load).value >= DIP), LOADS[-1])
    return Operation(
        "SU",
        "Surround",
        (
            f"{part.sheet.name}, free from ⌀{mm('d_in', part.d_in)} to ⌀{mm('d_out', part.d_out)} mm. "
            f"{made.get(part.form, '')}Glue to the rim, then to the frame, with the shims still in.",
            *glued(build, "rim"),
        ),
        (
            Check(
                f"sinks under {show('load', load)} after a minute, cone up", with_band("dip", _sinks(build, load)),
                "Stiffer: higher resonance. Thinner web or half-roll.", "Softer: lower resonance, mind the stroke.",
            ),
        ),
    )  # fmt: skip


def _sinks(build: Build, load: float) -> Band:
    """Dip under a weight that has lain for a minute: foam gives more then, and all stiffens on the way. [m]"""
    Cms, heard = band(build.prediction, "driver.Cms"), build.prediction.sound
    if heard is None:
        return Band(*(load * GRAVITY * value for value in Cms))
    k_dyn = heard.held.sag / (GRAVITY * float(build.prediction.moving.Mmd) * Cms.value)
    x, K_x = heard.held.x, heard.held.K_x
    return Band(*(float(dip_under(x, K_x, load * k_dyn * value / Cms.value)) for value in Cms))

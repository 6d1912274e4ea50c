"""The operations that make the diaphragm, join it to its coil, and lead the current out."""

from __future__ import annotations

from handwound.cone import ON_FORMER
from handwound.masses import LATE, glue_mass
from handwound.parts.design import Design
from handwound.parts.moving import Diaphragm
from handwound.parts.prediction import Band
from handwound.quantities import Num
from handwound.sheet.build import care
from handwound.sheet.build.glue import glued, waits, weight
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, listed, mm, say, show


def closes(design: Design) -> bool:
    """Whether the diaphragm lies over the former: then nothing is reached through it."""
    return float(design.diaphragm.d_in) <= float(design.voice_coil.D_f) - ON_FORMER


def butts(design: Design) -> bool:
    """Whether its neck is too narrow to go over the former, and stands on its front edge."""
    return not closes(design) and float(design.diaphragm.d_in) < float(design.voice_coil.D_f)


def slipped(design: Design, D_w: Num) -> bool:
    """Whether the spider must be on the former before the diaphragm is: it cannot pass the winding from behind."""
    spider, shut_later = design.spider, closes(design)  # a diaphragm that closes goes on after the spider
    return spider is not None and not shut_later and float(spider.d_in or design.voice_coil.D_f) < float(D_w)


def diaphragm(build: Build) -> Operation:
    """The cone, the disc or the dome."""
    part = build.design.diaphragm
    titles = {"cone": say("Diaphragm: cone"), "disc": say("Diaphragm: disc"), "dome": say("Diaphragm: dome")}
    do = (_cut(part), *glued(build, "seam"), *_ribs(build), *_cap(build), *_slipped(build), _on_former(build))
    check = Check(
        say("mass by itself, ribs and glue extra") if part.ribs else say("mass by itself"),
        with_band("m_d", band(build.prediction, "moving.m_d")), say("Lighter: louder, higher resonance."),
        say("Heavier: quieter, lower resonance. Enter it."),
    )  # fmt: skip
    cap = build.design.cap
    domed = part.form == "dome" or (cap is not None and cap.form == "dome")
    mould = [*([say("flat plate")] if part.form != "dome" else []), *([say("round mould")] if domed else [])]
    seam = waits(build, say("Pulled on too soon the seam opens."), "seam") if part.form == "cone" else ()
    places = ("seam", "neck") if part.form == "cone" else ("neck",)
    return Operation(
        "DI", titles[part.form], (*do, *glued(build, "neck")), (check,),
        tools=(say("knife"), say("steel ruler"), *mould, say("scales to 0.01 g"), say("square")),
        waits=(*seam, *waits(build, say("Moved too soon it stands askew and rocks."), "neck")),
        cautions=(care.mask(), *care.glues(build, *places)),
    )  # fmt: skip


def _cut(part: Diaphragm) -> Said:
    d_out, h_c, sheet = mm("d_out", part.d_out), mm("h_c", part.h_c), part.sheet.name
    if part.form == "cone":
        return say(
            "{sheet}: from ⌀{d_in} to ⌀{d_out}, {h_c} deep, seam {w_seam} (mm; template: cone). Cut, roll, glue the "
            "seam, let it dry on a flat plate.",
            sheet=sheet, d_in=mm("d_in", part.d_in), d_out=d_out, h_c=h_c, w_seam=mm("w_seam", part.w_seam),
        )  # fmt: skip
    if part.form == "dome":
        return say(
            "{sheet}: ⌀{d_out}, {h_c} high (mm). Press it damp over a round mould, let it dry there, cut it.",
            sheet=sheet, d_out=d_out, h_c=h_c,
        )  # fmt: skip
    if part.d_in:
        return say(
            "{sheet}: ⌀{d_out}, hole ⌀{d_in} (mm; template: disc). Cut it, keep it under a flat weight.", sheet=sheet,
            d_out=d_out, d_in=mm("d_in", part.d_in),
        )  # fmt: skip
    return say("{sheet}: ⌀{d_out} (mm; template: disc). Cut it, keep it under a flat weight.", sheet=sheet, d_out=d_out)


def _ribs(build: Build) -> tuple[Said, ...]:
    ribs = build.design.diaphragm.ribs
    if ribs is None:
        return ()
    return (
        say(
            "Ribs: {n_rib} strips of {sheet}, {h_rib} high, from ⌀{d_in} to ⌀{d_out} (mm), glued on edge at equal "
            "angles, together {m_rib}.",
            n_rib=counted("n_rib", ribs.n_rib), sheet=ribs.sheet.name, h_rib=mm("h_rib", ribs.h_rib),
            d_in=mm("d_in", ribs.d_in), d_out=mm("d_out", ribs.d_out), m_rib=weight(build, "m_rib"),
        ),
    )  # fmt: skip


def _cap(build: Build) -> tuple[Said, ...]:
    """It is made now, because it is weighed with all the rest; it is glued on when nothing rubs."""
    part = build.design.cap
    if part is None:
        return ()
    sizes = {"sheet": part.sheet.name, "d_out": mm("d_out", part.d_out), "m_cap": weight(build, "m_cap")}
    if part.form == "dome":
        return (
            say(
                "Cap, glued on later: {sheet}, ⌀{d_out}, a dome {h_c} high (mm; template: dust cap), pressed damp over "
                "a round mould. It weighs {m_cap}.",
                h_c=mm("h_c", part.h_c), **sizes,
            ),
        )  # fmt: skip
    return (say("Cap, glued on later: {sheet}, ⌀{d_out} (mm; template: dust cap). It weighs {m_cap}.", **sizes),)


def _slipped(build: Build) -> tuple[Said, ...]:
    if not slipped(build.design, build.prediction.voice_winding.D_w):
        return ()
    return (
        say(
            "First the spider: weigh it, slip it over the front end of the former and leave it loose. Later it would "
            "not pass the winding or the diaphragm."
        ),
    )


def _on_former(build: Build) -> Said:
    design = build.design
    if closes(design) and design.spider:
        return say(
            "Weigh it, do not glue it yet: over the former it would shut the shims in. It goes on when spider and coil "
            "are centred and the shims are out."
        )
    if closes(design):
        edge = say(
            "Weighed, it is glued on the front edge of the former: the mandrel once more inside, drawn back below the "
            "edge, square all round; let it cure."
        )
        return joined(" ", (edge, say("It closes the former: the shims will come out at the other side.")))
    if butts(design):
        neck = say(
            "Weighed, its neck is glued butt on the front edge of the former: the mandrel once more inside, drawn back "
            "below the edge, square all round. A fillet outside and a thin one inside, wiped so that the shims pass; "
            "let it cure."
        )
    else:
        neck = say(
            "Weighed, its neck goes over the front end of the former, flush with the edge: the mandrel once more "
            "inside, square all round, a fillet of glue; let it cure."
        )
    if design.diaphragm.form != "cone":
        return neck
    return joined(" ", (neck, say("Its seam stands at 12 o'clock, the leads come at 5:30 and 6:30, from the front.")))


def leads(build: Build) -> Operation:
    """Lead-outs and all small things that move."""
    bits = [say("{bit} {m}", bit=bit.name, m=show("m", float(bit.m))) for bit in build.design.bits]
    planned = (say("Planned weights: {bits}.", bits=joined("; ", bits)),) if bits else ()
    flex = say(
        "Solder stranded flex to both leads: the joints lie on the diaphragm near its neck, not on the part that "
        "bends. A drop of glue holds joint and flex there; no stiff wire may bend."
    )
    marked = say("Mark the pair, start and end. The other ends hang free until assembly.")
    lighter, heavier = (
        say("Lighter: louder, higher resonance. Enter it."),
        say("Heavier: quieter, lower resonance. Enter it."),
    )
    return Operation(
        "LD", say("Leads"), (flex, marked, *planned),
        (
            Check(
                say("ohms at the ends of the leads"), with_band("Re", band(build.prediction, "driver.Re")),
                say("A short at the joint."), say("A bad joint: solder again."),
            ),
            Check(_weighed(build), with_band("m_weighed", _bare(build)), lighter, heavier),
        ),
        tools=(say("soldering iron"), say("stranded flex"), say("ohmmeter"), say("scales to 0.01 g")),
        waits=waits(build, say("A drop that is soft lets the flex pull at the joint."), "neck"),
        cautions=(care.solder(), *care.glues(build, "neck")),
    )  # fmt: skip


def _weighed(build: Build) -> Said:
    """What lies on the scale, too, though it is not glued on yet."""
    design, spider = build.design, build.design.spider is not None
    loose: list[str] = [
        *([say("diaphragm")] if closes(design) and spider else []),
        *([say("cap")] if design.cap else []),
    ]
    loose += [bit.name for bit in design.bits]
    if not loose and spider and slipped(design, build.prediction.voice_winding.D_w):
        return say("all that moves, no surround yet, less the loose spider")
    if not loose:
        return say("all that moves, no surround or spider yet") if spider else say("all that moves, no surround yet")
    if spider and slipped(design, build.prediction.voice_winding.D_w):
        return say("all that moves, {loose} too, no surround yet, less the loose spider", loose=listed(loose))
    if spider:
        return say("all that moves, {loose} too, no surround or spider yet", loose=listed(loose))
    return say("all that moves, {loose} too, no surround yet", loose=listed(loose))


def _bare(build: Build) -> Band:
    """All that moves but surround, spider and their glue, whose own doubt is left in it. [kg]"""
    hung = sum(band(build.prediction, f"moving.{name}").value for name in ("m_s", "m_sp"))
    hung += float(glue_mass(build.design, build.prediction.voice_winding, LATE))
    return Band(*(m - hung for m in band(build.prediction, "moving.Mmd")))

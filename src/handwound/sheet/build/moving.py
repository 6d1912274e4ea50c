"""The operations of what moves: former and voice coil; diaphragm, leads and assembly have files of their own."""

from __future__ import annotations

import math

from handwound.parts.prediction import Band
from handwound.sheet.bands import about, half
from handwound.sheet.build import care
from handwound.sheet.build.assembly import assembly, frame, surround
from handwound.sheet.build.diaphragm import diaphragm, leads
from handwound.sheet.build.glue import glued, waits
from handwound.sheet.build.motor import as_connected, at_room
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.numbers import band
from handwound.sheet.said import counted, mm, say, show
from handwound.sheet.sections import section_words
from handwound.sheet.winding import voice_ladder


def operations(build: Build) -> tuple[Operation, ...]:
    """From the mandrel to the suspension."""
    return (
        former(build), voice_coil(build), diaphragm(build), leads(build), frame(build), assembly(build),
        surround(build),
    )  # fmt: skip


def former(build: Build) -> Operation:
    """A round tube on a mandrel."""
    coil = build.design.voice_coil
    strip = math.pi * (float(coil.D_fi) + float(coil.t_f))
    do = (
        say(
            "Mandrel ⌀{D_fi} mm with release film (template: mandrel wrap). {sheet}: a strip {length} mm long (π "
            "times inside plus wall), {l_f} mm wide (template: former), butt-joined, glued, left on the mandrel.",
            D_fi=mm("D_fi", coil.D_fi), sheet=coil.former.name, length=mm("length", strip), l_f=mm("l_f", coil.l_f),
        ),
        say("It goes through the one hole of the go and no-go gauge (template) at all angles, not through the other."),
    )  # fmt: skip
    check = Check(
        say("outside ⌀, at six angles"), with_band("D_f", about(coil.D_f, half(coil, "D_f"))),
        say("Thinner: more air outside the coil. Go on."),
        say("Thicker, or oval by more than 0.10 mm from least to most: it may rub. Make it again."),
    )  # fmt: skip
    return Operation(
        "FO", say("Mandrel and former"), do, (check,),
        tools=(
            say("mandrel"), say("release film"), say("steel ruler"), say("knife"), say("caliper"),
            say("go and no-go gauge"),
        ),
        waits=waits(build, say("Off the mandrel too soon it goes oval."), "coil"),
        cautions=(care.mask(), *care.glues(build, "coil"), *care.oven(build)),
    )  # fmt: skip


def voice_coil(build: Build) -> Operation:
    """The voice coil by its ladder."""
    made, coil = build.prediction, build.design.voice_coil
    air, sections = gap(build.design, made), section_words(coil, made.voice_ladder)
    ladder = voice_ladder(build.design, build.brief, made)
    cured = say("Thin glue under and over each layer; cure on the mandrel.")
    do = (
        say("{wire}.", wire=ladder.wire), ladder.way,
        say("Mark the former at 12 o'clock, across from the leads: there the diaphragm's seam will stand."),
        cured, *glued(build, "coil"),
        *((sections,) if sections else ()),
    )  # fmt: skip
    over = say("Stop if it does not slide freely over {part} with its shims.", part=air.beside)
    into = say("Stop if it does not slide freely into {part} with its shims.", part=air.beside)
    return Operation(
        "VC", say("Wind the voice coil"), do, _voice_checks(build), over if air.pole else into,
        tools=(
            say("mandrel"), say("winder with a counter"), say("ohmmeter"), say("caliper"), say("scales to 0.01 g"),
        ),
        waits=waits(build, say("Cured on its mandrel it stays round."), "coil"),
        cautions=(*care.glues(build, "coil"), *care.oven(build), care.solder()), ladder="voice",
    )  # fmt: skip


def _voice_checks(build: Build) -> tuple[Check, ...]:
    made, coil = build.prediction, build.design.voice_coil
    hold = voice_ladder(build.design, build.brief, made).holds[-1]
    mass = Band(*(a + b for a, b in zip(band(made, "moving.m_vc"), band(made, "moving.m_f"), strict=True)))
    return (
        Check(say("turns"), counted("N", made.voice_ladder[-1].N), say("Add them."), say("Take them off.")),
        Check(
            at_room(build), hold.expected, say("Thicker wire: do as the ladder's last hold says."),
            say("Thinner wire: do as the ladder's last hold says."),
        ),
        *as_connected(coil, band(made, "voice_winding.R_T"), build),
        Check(
            say("outer diameter, at six angles"), with_band("D_w", band(made, "voice_winding.D_w")),
            say("More air. Go on."), say("Less air outside: press it while the glue is soft, or it rubs."),
        ),
        Check(
            say("mass of former and coil, glue extra"), with_band("m", mass), say("Turns or wire missing."),
            say("Too much glue: wipe. All that moves shall weigh {Mmd}.", Mmd=show("Mmd", float(made.moving.Mmd))),
        ),
    )  # fmt: skip

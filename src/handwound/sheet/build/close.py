"""The operation that closes a motor without magnets over its field coil."""

from __future__ import annotations

from handwound.sheet.build import care
from handwound.sheet.build.glue import iron_glue, iron_waits
from handwound.sheet.build.iron import round_the_gap
from handwound.sheet.build.leads_out import lead_holes, wound_on_iron
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.fed import Fed
from handwound.sheet.said import Said, joined, say


def close_motor(build: Build, there: Fed) -> Operation:
    """Read the coil while it can still be mended, close the iron over it, and let nothing creep."""
    glue, ringed = iron_glue(build), has_ring(build)
    hold = (
        say("Screw, press or glue the joints ({glue}): whatever holds them shut.", glue=glue.name)
        if glue
        else say("Screws, press fit or glue: whatever holds the joints shut.")
    )
    do = [in_place(build, there), say("Close it as it was dry-fitted.")]
    if ringed:
        do.append(say("Put the centring ring in the gap first (template: centring ring)."))
    do.append(hold)
    if ringed:
        do.append(say("The ring comes out only when the motor holds by itself; it comes out freely."))
    tools = [say("ohmmeter"), say("screwdriver"), say("clamps"), say("weights"), say("tape")]
    if ringed:
        tools += [say("centring ring"), say("strips of paper")]
    return Operation(
        "CL", say("Close the motor"), (do[0], joined(" ", do[1:])),
        (to_iron(), *(round_the_gap(build, say("gap all round once more, nothing in it")) if ringed else ())),
        say("Stop if the coil shows any ohms to the iron: once closed it cannot be mended."),
        tools=tuple(tools),
        waits=iron_waits(build, say("If you glue: until then the weight stays.")) if glue else (),
        cautions=(care.pinched(), *(care.glues(build) if glue else ())),
    )  # fmt: skip


def to_iron() -> Check:
    """The coil in its place, before the iron is closed over it: a nick in the enamel is found here or never."""
    return Check(
        say("ohms from coil to iron, coil in its place, before it is closed"), say("open circuit"), "",
        say("Any reading: the enamel is cut. Take it out, find the place, tape it; then read again."),
    )  # fmt: skip


def has_ring(build: Build) -> bool:
    """Whether there is a gap between two rings that must be centred."""
    air = gap(build.design, build.prediction)
    return air.r_pole is not None and air.r_plate is not None


def in_place(build: Build, there: Fed) -> Said:
    """The coil and its leads."""
    put = say("It sits where it was wound.") if wound_on_iron(there.coil) else say("Put the coil in its place.")
    led = (
        say("Lead S and F out, each through its hole and its sleeve; tape over every edge.")
        if lead_holes(build.design, build.prediction)
        else say("Lead S and F out, each in its sleeve; tape over every edge.")
    )
    return joined(" ", (put, led, say("Read the ohms from coil to iron now.")))

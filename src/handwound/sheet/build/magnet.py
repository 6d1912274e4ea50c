"""The operation that closes a motor with magnets."""

from __future__ import annotations

from handwound.parts.iron import Ring
from handwound.sheet.build import care
from handwound.sheet.build.close import in_place, to_iron
from handwound.sheet.build.glue import iron_glue, iron_waits
from handwound.sheet.build.iron import closed
from handwound.sheet.build.operation import Build, Operation
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.said import Said, joined, mm, say, show

FACES = {
    "up": "{magnets}: its upper face, towards the cone, is the north pole.",
    "down": "{magnets}: its lower face, away from the cone, is the north pole.",
    "out": "{magnets}: its outside is the north pole.",
    "in": "{magnets}: its inside is the north pole.",
}
"""Where the flux leaves a magnet is its north pole."""


def glue_magnets(build: Build) -> Operation:
    """Which way round, how it goes down, and what keeps it centred while the glue sets."""
    design = build.design
    magnets = [ring for ring in design.iron.rings if ring.magnetised]
    glue = iron_glue(build)
    film = (
        say("A thin film of {glue} on each face that meets a magnet.", glue=glue.name)
        if glue
        else say("A thin film of glue on each face that meets a magnet.")
    )
    do = [
        say(
            "Clear the bench of steel, filings and swarf; lift what clings to a magnet with tape. Wipe every face with "
            "alcohol and let it dry."
        ),
        joined(" ", (
            say("Find the poles with a compass: the end of its needle that points north is drawn by a south pole."),
            _ways(magnets), say("Mark them before anything meets."), _turned(build, len(magnets)),
        )),
        *((in_place(build, build.fed),) if build.fed else ()),
        joined(" ", (
            say("Bottom to top."), film,
            say(
                "Let a magnet down on three wooden wedges and draw them out one by one, a little each: never let it "
                "jump. Wipe off what is pressed out, none of it may stay in the gap."
            ),
        )),
        *_centred(build),
    ]  # fmt: skip
    return Operation(
        "MG", say("Glue the motor together"), tuple(do), (*((to_iron(),) if build.fed else ()), *closed(build)),
        say("Stop if a magnet is cracked or has chipped into the gap: splinters are sharp and stay magnetic."),
        tools=(
            say("compass"), *((say("ohmmeter"),) if build.fed else ()), say("three wooden wedges"), say("alcohol"),
            say("tape"), say("centring ring"),
            say("strips of paper"), say("weights"),
        ),
        waits=iron_waits(build, say("Until then centring ring and weight stay: the plate creeps off centre.")),
        cautions=(care.pinch(), *(care.glues(build) if glue else ())),
    )  # fmt: skip


def _ways(magnets: list[Ring]) -> Said:
    names: dict[str, list[str]] = {}
    for ring in magnets:
        names.setdefault(ring.magnetised, []).append(ring.name)
    return joined(" ", (say(FACES[way], magnets=", ".join(alike)) for way, alike in names.items()))


def _turned(build: Build, count: int) -> Said:
    """What a magnet the wrong way round does."""
    if build.fed:
        return say("The wrong way round it works against the field coil: then swap the two ends of that coil.")
    if count > 1:
        return say("One of them the wrong way round works against the others.")
    return say("The other way round it is as strong: only plus and minus of the voice coil change places.")


def _centred(build: Build) -> list[Said]:
    """A ring that fills the gap while the glue sets; without one a pole is drawn to one side of its plate."""
    air = gap(build.design, build.prediction)
    if air.r_pole is None or air.r_plate is None:
        return []
    low, high = (float(level) for level in build.design.iron.plate_levels())
    return [
        say(
            "Centring ring of brass, card or plastic, nothing that a magnet pulls: inside ⌀{inner}, outside ⌀{outer} "
            "mm, {deep} or more high, waxed (template: centring ring). It fills the gap between {pole} and {plate} "
            "while the glue sets, a weight on top; then it comes out. A pole off centre is drawn further off.",
            inner=mm("d_in", 2 * air.r_pole, 4), outer=mm("d_out", 2 * air.r_plate, 4),
            deep=show("t", 1.5 * (high - low)), pole=air.pole, plate=air.plate,
        )
    ]  # fmt: skip

"""The operation that cuts, faces and dry-fits the body of the motor, and what is read of any motor that is closed."""

from __future__ import annotations

from handwound.materials.joints import joints
from handwound.parts.design import Design
from handwound.parts.iron import Iron, Ring
from handwound.sheet.bands import about, half, stack_height
from handwound.sheet.build import care
from handwound.sheet.build.leads_out import lead_holes
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap, nearest, piles
from handwound.sheet.said import Said, joined, mm, say

TOUCH = 1e-7
"""Two joints this near are alike. [m]"""
PAINTED = "painted"


def iron(build: Build) -> Operation:
    """Joints that touch all over, or are left as the design has them."""
    design, magnets = build.design, build.design.has_magnets
    parts = [say("{part} {sizes}", part=pile.name, sizes=pile.words) for pile in piles(design)]
    do = [
        say("Parts in mm: {parts}.", parts=joined("; ", parts)),
        *_faces(design),
        *_loose(design.iron),
        *_holes(build),
        say("Dry-fit all of it but the magnets.") if magnets else say("Dry-fit all of it."),
        say("Turn the stack on its axis, read the run-out."),
    ]
    if any(ring.surface and ring.surface.name == PAINTED for ring in design.iron.rings):
        do.append(say("Paint the outside as planned, every joint and the gap taped over while you do."))
    drilling = (say("drill"), say("deburring tool")) if lead_holes(design, build.prediction) else ()
    tools = (
        say("hacksaw"), say("file"), *drilling, say("caliper"), say("square"),
        *(() if magnets else (say("strips of paper"),)),
        say("dial gauge, or a wire held still beside the turning part"),
    )  # fmt: skip
    checks = (_run_out(build), *(() if magnets else closed(build)))
    stop = say("Stop if two parts rock on each other.")
    return Operation("IR", say("Iron"), tuple(do), checks, stop, tools, cautions=(care.edges(),))


def _run_out(build: Build) -> Check:
    """Common practice, no source."""
    return Check(
        say("run-out of {beside}, the stack turned on its axis", beside=gap(build.design, build.prediction).beside),
        say("0.10 mm or less"), "",
        say("Turn the parts against each other and read again; still more: a burr, a bent part or a face askew."),
    )  # fmt: skip


def _holes(build: Build) -> list[Said]:
    """Ways out for the leads of a coil that the iron closes in; hours as build/leads_out.py has them."""
    where = []
    for (mark, _, _), ring, circle in lead_holes(build.design, build.prediction):
        if circle is None:
            wall = say("S at 6 o'clock through {ring}", ring=ring.name)
            other = say("F at 7 o'clock through {ring}, at the end where it leaves", ring=ring.name)
            where.append(wall if mark == "S" else other)
            continue
        sizes = {"ring": ring.name, "circle": mm("d_out", circle, 3)}
        first = say("S at 6 o'clock through {ring}, on a circle of ⌀{circle}", **sizes)
        last = say("F at 7 o'clock through {ring}, on a circle of ⌀{circle}", **sizes)
        where.append(first if mark == "S" else last)
    if not where:
        return []
    return [
        say(
            "Drill 4 mm for each lead of the field coil, the clock seen from the front: {where} (mm). Deburr both "
            "sides, a sleeve through each.",
            where=joined("; ", where),
        )
    ]  # fmt: skip


def _faces(design: Design) -> list[Said]:
    """Which faces are made bright, and which are left as they are: paint or tape in a joint may be planned."""
    bright, wide = _joints(design.iron)
    found = []
    if bright and not wide:
        steel = say("File or grind every face of steel that meets another until bright and flat; no paint, no burr.")
        every = say("File or grind every face that meets another until bright and flat; no paint, no burr in a joint.")
        found.append(steel if design.has_magnets else every)
    elif bright:
        pairs = joined("; ", (say("{one} on {other}", one=ring.name, other=other) for ring, other in bright))
        found.append(say("File or grind bright and flat where these meet: {pairs}. No burr anywhere.", pairs=pairs))
    if wide:
        alike: dict[float, list[Said]] = {}
        for ring, other in wide:
            pair = say("{one} and {other}", one=other, other=ring.name)
            alike.setdefault(round(float(ring.joint), 6), []).append(pair)
        kept = (
            say(
                "{joint} mm of paint, tape, glue or air between {pairs}",
                joint=mm("joint", t),
                pairs=joined(", ", pairs),
            )
            for t, pairs in alike.items()
        )
        found.append(say("Leave as planned: {kept}. Take the burrs off, no more.", kept=joined("; ", kept)))
    return found


def _joints(iron: Iron) -> tuple[list[tuple[Ring, str]], list[tuple[Ring, str]]]:
    """Joints to be made bright, and those that the design has wider; those of magnets are closed with glue later."""
    clean = joints()["clean"].value
    magnets = {ring.name for ring in iron.rings if ring.magnetised}
    by_name = {ring.name: ring for ring in iron.rings}
    carried = (
        (ring, str(ring.under or ring.on))
        for ring in iron.rings
        if (ring.under or ring.on) and not of_one_piece(ring, by_name[str(ring.under or ring.on)])
    )
    bright, wide = [], []
    for ring, other in carried:
        if float(ring.joint) <= clean + TOUCH:
            bright.append((ring, other))
        elif not {ring.name, other} & magnets:
            wide.append((ring, other))
    return bright, wide


def of_one_piece(ring: Ring, other: Ring) -> bool:
    """Whether two rings are one piece of the shelf, as the head and the shank of a bolt are."""
    return ring.stock is not None and ring.stock == other.stock and float(ring.joint) == 0


def _loose(iron: Iron) -> list[Said]:
    """Rings that no other ring carries: on an open spool the front one hangs on what the wire is wound on."""
    first, *others = iron.rings
    levels = iron.levels()
    return [
        say(
            "{ring} stands on nothing of iron: hold its back face {z} mm in front of that of {first} with a spacer or "
            "the spool itself, then fix it with nut or glue.",
            ring=ring.name, first=first.name, z=mm("z", levels[ring.name][0] - levels[first.name][0]),
        )
        for ring in others
        if not (ring.on or ring.under) and levels[ring.name][0] > levels[first.name][0] + TOUCH
    ]  # fmt: skip


def closed(build: Build) -> tuple[Check, ...]:
    """The gap all round and the height of the whole stack."""
    return (
        *round_the_gap(build, say("gap pole to plate all round, strips of paper at 8 clock positions")),
        Check(
            say("height of the whole stack"), with_band("t", stack_height(build.design.iron)),
            say("A part is thinner than planned: measure, enter it."),
            say("A joint does not close: look for burrs and chips."),
        ),
    )  # fmt: skip


def round_the_gap(build: Build, what: Said) -> tuple[Check, ...]:
    """The air between pole and plate, empty; nothing where one of them is not there."""
    air, ring = gap(build.design, build.prediction), build.design.iron
    checks = []
    if air.r_pole is not None and air.r_plate is not None:
        inner, outer = nearest(build.design, float(build.design.voice_coil.D_f), *map(float, ring.plate_levels()))
        halves = (half(inner, "d_out") / 2, half(outer, "d_in") / 2) if inner and outer else ()
        checks.append(
            Check(
                what,
                with_band("c_o", about(air.r_plate - air.r_pole, *halves)),
                say("Narrow on one side: shift the plate or fit a centring ring of brass."),
                say("Wider all round: weaker field. Measure pole and bore again, enter what you find."),
            )
        )
    return tuple(checks)

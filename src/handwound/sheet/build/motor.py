"""The first operations: stock, iron, spool, field coil; magnets and the first current have files of their own."""

from __future__ import annotations

from handwound.materials.joints import joints
from handwound.parts.coil import Coil
from handwound.parts.iron import Iron
from handwound.parts.prediction import Band, Layer
from handwound.sheet.bands import about, half
from handwound.sheet.build.first_current import energise
from handwound.sheet.build.magnet import closed, glue_magnets
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap, nearest, piles, voice_levels
from handwound.sheet.fed import Fed
from handwound.sheet.numbers import band
from handwound.sheet.said import mm, show
from handwound.sheet.sections import section_words
from handwound.sheet.winding import Ladder, field_ladder

TOUCH = 1e-7
"""Two joints this near are alike. [m]"""
SEE = "do as the ladder's last hold says."
SAMPLE, WRAP = 10.0, 30
"""Length of wire to read [m], and turns to lay side by side: common practice."""


def operations(build: Build) -> tuple[Operation, ...]:
    """From the shelf to a motor that has its field."""
    fed, ladder = build.fed, field_ladder(build.design, build.brief, build.prediction)
    found = [stock(build), iron(build)]
    if fed and ladder:
        found += [spool(build, fed), wind_field(build, fed, ladder)]
    if build.design.has_magnets:  # the wound coil stands in its place before glue closes the motor over it
        found.append(glue_magnets(build))
    if fed:
        found.append(energise(build, fed))
    return tuple(found)


def stock(build: Build) -> Operation:
    """Is the wire what its label says, and is there enough of it?"""
    design, prediction = build.design, build.prediction
    do = ["Hold a magnet to every steel part: each must be pulled hard. Measure each diameter at six angles."]
    short = []
    for reel in prediction.reels:
        left = "" if reel.l_reel is None else f"; {show('l_w', max(reel.l_reel, 0.0))} will be left"
        do.append(f"{reel.name}: the build takes {show('l_w', reel.l_w)}{left}.")
        if reel.l_reel is not None and reel.l_reel < 0:
            short.append(f"{reel.name} is short by {show('l_w', -reel.l_reel)}")
    checks = []
    for coil, rungs in ((design.field_coil, prediction.field_ladder), (design.voice_coil, prediction.voice_ladder)):
        if coil:
            checks += _wire_checks(coil, rungs[-1])
    stop = f"Stop: {'; '.join(short)}. A coil is wound in one piece." if short else ""
    return Operation("ST", "Stock check", tuple(do), tuple(dict.fromkeys(checks)), stop)


def iron(build: Build) -> Operation:
    """Joints that touch all over, or are left as the design has them."""
    air, magnets = gap(build.design, build.prediction), build.design.has_magnets
    parts = "; ".join(f"{pile.name} {pile.words}" for pile in piles(build.design))
    kept = _left_as_they_are(build.design.iron)
    bright = "no paint, no burr in a joint" if not kept else f"no burr anywhere. Left as planned: {kept}"
    do = [
        f"Parts in mm: {parts}.",
        f"File or grind every {'other ' if kept else ''}face {'of steel ' if magnets else ''}that meets another until "
        f"bright and flat; {bright}. "
        f"Dry-fit{' without the magnet' if magnets else ''}.",
        f"Turn the stack on its axis: the run-out of {air.beside} must not pass 0.10 mm.",
    ]
    checks = () if magnets else closed(build)
    return Operation("IR", "Iron", tuple(do), checks, "Stop if two parts rock on each other.")


def _left_as_they_are(iron: Iron) -> str:
    """Joints that the design has wider than a clean one; those of magnets are closed with glue later."""
    clean = joints()["clean"].value
    magnets = {ring.name for ring in iron.rings if ring.magnetised}
    carried = ((ring, str(ring.under or ring.on)) for ring in iron.rings if ring.under or ring.on)
    wide = ((ring, other) for ring, other in carried if float(ring.joint) > clean + TOUCH)
    return "; ".join(
        f"{mm('joint', ring.joint)} of paint, tape, glue or air between {other} and {ring.name}"
        for ring, other in wide
        if not {ring.name, other} & magnets
    )


def spool(build: Build, fed: Fed) -> Operation:
    """The field coil's former and its insulation."""
    coil = fed.coil
    bore, z_lo = float(coil.D_f - 2 * coil.t_f), float(coil.z_w - coil.t_fl)
    inner, _ = nearest(build.design, bore, z_lo, float(coil.z_w + coil.h_w + coil.t_fl))
    slides = f" It must slide over {inner.name}, ⌀{mm('d_out', inner.d_out)}." if inner else ""
    size = f"outside ⌀{mm('D_f', coil.D_f)}, wall {mm('t_f', coil.t_f)}, {mm('h_w', coil.h_w)} between its cheeks"
    return Operation(
        "SP",
        "Spool of the field coil",
        (
            f"Make the spool: {size}, cheeks {mm('t_fl', coil.t_fl)} thick (mm).{slides}",
            "Two layers of tape over every edge of steel that the wire may meet.",
        ),
        (
            Check(
                "ohms from the wound coil to the iron, later", "open circuit",
                "Any reading: the enamel is cut. Find the place before power.", "",
            ),
        ),
    )  # fmt: skip


def wind_field(build: Build, fed: Fed, ladder: Ladder) -> Operation:
    """The ladder does the talking here; its holds are repeated beside it."""
    sections = section_words(fed.coil, build.prediction.field_ladder)
    last = build.prediction.field_ladder[-1]
    hold = ladder.holds[-1]
    return Operation(
        "FC",
        "Wind the field coil",
        (
            f"{ladder.wire}.",
            "All layers turn the same way: an arrow on the cheek and at every junction. Read the meter at each hold.",
            *((sections,) if sections else ()),
        ),
        (
            Check("turns", str(last.N), "Add the missing turns on top.", "Take them off, or carry on and note it."),
            Check(at_room(build), hold.expected, f"Thick wire or shorts: {SEE}", f"Thin wire or a bad joint: {SEE}"),
            *as_connected(fed.coil, band(build.prediction, "field_winding.R_T"), at_room(build)),
            Check(
                "outer diameter", f"{with_band('D_w', band(build.prediction, 'field_winding.D_w'))}",
                "Thinner wire or a tighter coil: fine if ohms and turns agree.",
                f"{_around(build, fed)} Press the layers, leave out tape.",
            ),
        ),
        "Stop if the ohms fall from one layer to the next.",
    )  # fmt: skip


def as_connected(coil: Coil, R_T: Band, where: str) -> tuple[Check, ...]:
    """The reading of sections in parallel, which is not that of the ladder."""
    if coil.n_sec == 1 or coil.connection == "series":
        return ()
    low = "Sections shorted to each other, or a thick wire."
    words = f"{where}, sections joined in parallel"
    return (Check(words, with_band("R_T", R_T), low, "A section is not joined: read each alone."),)


def at_room(build: Build) -> str:
    """What the meter reads in the room of the brief."""
    return f"ohms at {show('T_room', float(build.brief.T_room))}"


def _around(build: Build, fed: Fed) -> str:
    """What the finished field coil must pass inside: the iron around it, or the former that comes down around it."""
    design, D_w = build.design, float(fed.wound.D_w)
    coil, voice = fed.coil, design.voice_coil
    z_hi = float(coil.z_w + coil.h_w + coil.t_fl)
    _, outer = nearest(design, D_w, float(coil.z_w - coil.t_fl), z_hi)
    if outer is not None:
        return f"It must pass inside {outer.name}, bore ⌀{mm('d_in', outer.d_in)} mm."
    back = voice_levels(design)[0] - float(build.brief.x_pk)
    if back < z_hi and D_w < float(voice.D_fi):
        return f"It must stay well inside the voice coil's former, ⌀{mm('D_fi', voice.D_fi)} mm, which comes over it."
    return "No iron stands around it: only the frame must leave room."


def _wire_checks(coil: Coil, last: Layer) -> list[Check]:
    wire = coil.wire
    if wire is None:
        return []
    # ohms per metre at the temperature of the room, as the ladder has them
    ohms = Band(*(SAMPLE * value / last.l_w for value in last.R_T_band))
    wide = about(wire.d_o * WRAP, half(wire, "d_o") * WRAP)
    leads = " Take the meter's leads off the reading." if ohms.value < 2 else ""
    return [
        Check(
            f"{wire.name}: ohms of {SAMPLE:g} m", with_band("R_T", ohms), f"Thicker than its label.{leads}",
            f"Thinner than its label, or not {wire.metal}: weigh it.{leads}",
        ),
        Check(
            f"{wire.name}: width of {WRAP} turns side by side", with_band("w_wrap", wide),
            "Thinner enamel: more turns fit in a layer.", "Gaps, or thicker enamel: fewer turns will fit.",
        ),
    ]  # fmt: skip

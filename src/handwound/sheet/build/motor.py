"""The first operations: stock, iron, spool, field coil; magnets and the first current have files of their own."""

from __future__ import annotations

from handwound.parts.coil import Coil
from handwound.parts.prediction import Band, Layer
from handwound.sheet.bands import about, half
from handwound.sheet.build import care
from handwound.sheet.build.close import close_motor
from handwound.sheet.build.first_current import energise
from handwound.sheet.build.iron import iron
from handwound.sheet.build.leads_out import field_leads, wound_on_iron
from handwound.sheet.build.magnet import glue_magnets
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.build.strips_to_read import strips
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap, nearest, voice_levels
from handwound.sheet.fed import Fed
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, mm, say, show
from handwound.sheet.sections import section_words
from handwound.sheet.winding import Ladder, field_ladder

SAMPLE, WRAP = 10.0, 30
"""Length of wire to read [m], and turns to lay side by side: common practice."""


def operations(build: Build) -> tuple[Operation, ...]:
    """From the shelf to a motor that has its field."""
    there, ladder = build.fed, field_ladder(build.design, build.brief, build.prediction)
    found = [stock(build), iron(build)]
    if there and ladder:
        found += [spool(build, there), wind_field(build, there, ladder)]
    if build.design.has_magnets:  # the wound coil stands in its place before glue closes the motor over it
        found.append(glue_magnets(build))
    elif there:
        found.append(close_motor(build, there))
    if there:
        found.append(energise(build, there))
    return tuple(found)


def stock(build: Build) -> Operation:
    """Is the wire what its label says, and is there enough of it?"""
    design, prediction = build.design, build.prediction
    do = [say("Hold a magnet to every steel part: each must be pulled hard. Measure each diameter at six angles.")]
    short = []
    for reel in prediction.reels:
        do.append(_takes(reel.name, reel.l_w, reel.l_reel))
        if reel.l_reel is not None and reel.l_reel < 0:
            short.append(say("{reel} is short by {l_w}", reel=reel.name, l_w=show("l_w", -reel.l_reel)))
    checks = []
    for coil, rungs in ((design.field_coil, prediction.field_ladder), (design.voice_coil, prediction.voice_ladder)):
        if coil:
            checks += _wire_checks(coil, rungs[-1])
    checks += [*_bores(build), *strips(build)]
    stop = say("Stop: {short}. A coil is wound in one piece.", short=joined("; ", short)) if short else ""
    tools = (
        say("magnet"),
        say("caliper"),
        say("ohmmeter"),
        say("steel ruler"),
        say("knife"),
        say("weights"),
        say("clock"),
    )
    return Operation("ST", say("Stock check"), tuple(do), tuple(dict.fromkeys(checks)), stop, tools)


def _takes(name: str, l_w: float, left: float | None) -> Said:
    if left is None or left < 0:
        return say("{reel}: the build takes {l_w}.", reel=name, l_w=show("l_w", l_w))
    rest = show("l_w", left)
    return say("{reel}: the build takes {l_w}; {left} will be left.", reel=name, l_w=show("l_w", l_w), left=rest)


def _bores(build: Build) -> list[Check]:
    """What makes the gap, as it was turned and bored."""
    design = build.design
    inner, outer = nearest(design, float(design.voice_coil.D_f), *map(float, design.iron.plate_levels()))
    air, checks = gap(design, build.prediction), []
    if inner and air.r_pole is not None:
        checks.append(
            Check(
                say("{ring}, finished: outside ⌀ in the gap, at six angles", ring=inner.name),
                with_band("d_out", about(2 * air.r_pole, half(inner, "d_out"))),
                say("A wider gap, a weaker field. Enter it, predict again before you wind."),
                say("A narrower gap, where the former may rub: turn or file it down."),
            )
        )
    if outer and air.r_plate is not None:
        checks.append(
            Check(
                say("{ring}, finished: bore in the gap, at six angles", ring=outer.name),
                with_band("d_in", about(2 * air.r_plate, half(outer, "d_in"))),
                say("A narrower gap, where the winding may rub: bore or file it wider."),
                say("A wider gap, a weaker field. Enter it, predict again before you wind."),
            )
        )
    return checks


def spool(build: Build, there: Fed) -> Operation:
    """The field coil's former and its insulation."""
    coil = there.coil
    both = say(
        "Two notches in the back cheek, the clock seen from the front: S at 6 o'clock down to the tube, F at 7 "
        "o'clock. A sleeve on each wire where it passes."
    )
    each = say(
        "The clock seen from the front: a notch in the back cheek at 6 o'clock down to the tube for S, one in the "
        "front cheek at 7 o'clock for F. A sleeve on each wire where it passes."
    )
    (_, (_, side, _)) = field_leads(coil)
    do = (
        _tube(build, there),
        say("Two layers of tape over every edge of steel that the wire may meet."),
        both if side == "back" else each,
    )
    check = Check(
        say("what is wound on, across"), with_band("D_f", about(coil.D_f, half(coil, "D_f"))),
        say("The first layer is shorter: fewer ohms from the first hold on. Enter it."),
        say("The first layer is longer, the last may not pass: more ohms from the first hold on. Enter it."),
    )  # fmt: skip
    return Operation(
        "SP", say("Spool of the field coil"), do, (check,),
        tools=(say("caliper"), say("knife"), say("tape")), cautions=(care.mask(),),
    )  # fmt: skip


def _tube(build: Build, there: Fed) -> Said:
    """Its sizes and what it slides over; a coil without a tube lies on the iron, and only tape keeps it from that."""
    coil = there.coil
    bore, z_lo = float(coil.D_f - 2 * coil.t_f), float(coil.z_w - coil.t_fl)
    inner, _ = nearest(build.design, bore, z_lo, float(coil.z_w + coil.h_w + coil.t_fl))
    if inner and not float(coil.t_f):
        return say(
            "No tube: it is wound on {ring} itself, {h_w} mm high, over two layers of tape; its ends lie on "
            "card or tape, never on bare steel.",
            ring=inner.name, h_w=mm("h_w", coil.h_w),
        )  # fmt: skip
    made = say(
        "Make the spool (templates: its tube and its cheek): outside ⌀{D_f}, wall {t_f}, {h_w} between its cheeks, "
        "cheeks {t_fl} thick (mm).",
        D_f=mm("D_f", coil.D_f), t_f=mm("t_f", coil.t_f), h_w=mm("h_w", coil.h_w), t_fl=mm("t_fl", coil.t_fl),
    )  # fmt: skip
    if inner is None:
        return made
    fits = say("It must slide over {ring}, ⌀{d_out}.", ring=inner.name, d_out=mm("d_out", inner.d_out))
    return joined(" ", (made, fits))


def wind_field(build: Build, there: Fed, ladder: Ladder) -> Operation:
    """The ladder does the talking here; its holds are repeated beside it."""
    sections = section_words(there.coil, build.prediction.field_ladder)
    do = [
        say("{wire}.", wire=ladder.wire),
        joined(" ", (ladder.way, say("An arrow on the cheek and at every junction."))),
        say("Read the meter at each hold, the wire at rest and cool. Sleeve the end, mark it F."),
        *((sections,) if sections else ()),
    ]
    return Operation(
        "FC", say("Wind the field coil"), tuple(do), _field_checks(build, there, ladder),
        say("Stop if the ohms fall from one layer to the next."),
        tools=(
            say("winder with a counter"), *_arbor(there), say("ohmmeter"), say("caliper"), say("tape"),
            say("pen for the arrows"),
        ),
        cautions=(care.winder(), care.solder()), ladder="field",
    )  # fmt: skip


def _arbor(there: Fed) -> tuple[Said, ...]:
    """What a spool is wound on, whose cheeks the wire would push apart."""
    if wound_on_iron(there.coil):
        return ()
    bore = mm("d_in", there.coil.D_f - 2 * there.coil.t_f)
    return (say("winding arbor ⌀{bore} mm with stiff side plates", bore=bore),)


def _passing(build: Build, there: Fed) -> Band:
    """The outside of the winding as predicted, but no wider than what it must pass."""
    found, design = band(build.prediction, "field_winding.D_w"), build.design
    most, coil = float(found.high), there.coil
    ends = float(coil.z_w - coil.t_fl), float(coil.z_w + coil.h_w + coil.t_fl)
    _, outer = nearest(design, float(found.value), *ends)
    if outer is not None:
        most = min(most, float(outer.d_in))
    elif _comes_over(build, there):
        most = min(most, float(design.voice_coil.D_fi) - 2 * float(build.brief.c_min))
    return Band(found.value, found.low, max(most, float(found.value)), found.median)


def _comes_over(build: Build, there: Fed) -> bool:
    """Whether the former of the voice coil comes down around the field coil."""
    voice, coil = build.design.voice_coil, there.coil
    back = voice_levels(build.design)[0] - float(build.brief.x_pk)
    return back < float(coil.z_w + coil.h_w + coil.t_fl) and float(there.wound.D_w) < float(voice.D_fi)


def _field_checks(build: Build, there: Fed, ladder: Ladder) -> tuple[Check, ...]:
    last, hold, made = build.prediction.field_ladder[-1], ladder.holds[-1], build.prediction
    D_w = with_band("D_w", _passing(build, there))
    press = joined(" ", (_around(build, there), say("Press the layers, leave out tape.")))
    return (
        Check(
            say("turns"), counted("N", last.N), say("Add the missing turns on top."),
            say("Take them off, or carry on and note it."),
        ),
        Check(
            at_room(build), hold.expected, say("Thick wire or shorts: do as the ladder's last hold says."),
            say("Thin wire or a bad joint: do as the ladder's last hold says."),
        ),
        *as_connected(there.coil, band(made, "field_winding.R_T"), build),
        Check(
            say("outer diameter"), D_w, say("Thinner wire or a tighter coil: fine if ohms and turns agree."), press
        ),
    )  # fmt: skip


def as_connected(coil: Coil, R_T: Band, build: Build) -> tuple[Check, ...]:
    """The reading of sections in parallel, which is not that of the ladder."""
    if coil.n_sec == 1 or coil.connection == "series":
        return ()
    words = say("{ohms}, sections joined in parallel", ohms=at_room(build))
    return (
        Check(
            words, with_band("R_T", R_T), say("Sections shorted to each other, or a thick wire."),
            say("A section is not joined: read each alone."),
        ),
    )  # fmt: skip


def at_room(build: Build) -> Said:
    """What the meter reads in the room of the brief."""
    return say("ohms at {T_room}", T_room=show("T_room", float(build.brief.T_room)))


def _around(build: Build, there: Fed) -> Said:
    """What the finished field coil must pass inside: the iron around it, or the former that comes down around it."""
    design, D_w = build.design, float(there.wound.D_w)
    coil, voice = there.coil, design.voice_coil
    z_hi = float(coil.z_w + coil.h_w + coil.t_fl)
    _, outer = nearest(design, D_w, float(coil.z_w - coil.t_fl), z_hi)
    if outer is not None:
        return say("It must pass inside {ring}, bore ⌀{d_in} mm.", ring=outer.name, d_in=mm("d_in", outer.d_in))
    if _comes_over(build, there):
        return say(
            "It must stay well inside the voice coil's former, ⌀{D_fi} mm, which comes over it.",
            D_fi=mm("D_fi", voice.D_fi),
        )
    return say("No iron stands around it: only the frame must leave room.")


def _wire_checks(coil: Coil, last: Layer) -> list[Check]:
    wire = coil.wire
    if wire is None:
        return []
    # ohms per metre at the temperature of the room, as the ladder has them
    ohms = Band(*(SAMPLE * value / last.l_w for value in last.R_T_band))
    wide = about(wire.d_o * WRAP, half(wire, "d_o") * WRAP)
    low = say("Thicker than its label.")
    high = say("Thinner than its label, or not {metal}: weigh it.", metal=say(wire.metal))
    if ohms.value < 2:
        leads = say("Take the meter's leads off the reading.")
        low, high = joined(" ", (low, leads)), joined(" ", (high, leads))
    return [
        Check(say("{wire}: ohms of 10 m", wire=wire.name), with_band("R_T", ohms), low, high),
        Check(
            say("{wire}: width of 30 turns side by side", wire=wire.name), with_band("w_wrap", wide),
            say("Thinner enamel: more turns fit in a layer."), say("Gaps, or thicker enamel: fewer turns will fit."),
        ),
    ]  # fmt: skip

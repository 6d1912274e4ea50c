"""The later operations: former, voice coil, diaphragm, assembly, first sound, label."""

from __future__ import annotations

import math

from handwound.parts.prediction import Band
from handwound.quantities import show
from handwound.sheet.bands import about, half
from handwound.sheet.build_motor import SEE, as_connected, at_room
from handwound.sheet.digits import with_band
from handwound.sheet.first_current import settings
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.numbers import band, worded
from handwound.sheet.operation import Build, Check, Operation
from handwound.sheet.sections import section_words
from handwound.sheet.shapes import front_face, gap, mm, voice_levels
from handwound.sheet.winding import voice_ladder

BALANCE, GRAVITY = 0.020, 9.80665
"""Mass laid on the cone to find Bl [kg]: common practice. Standard gravity [m/s²]: 3rd CGPM, 1901."""
NOT_YET = "Not before it has another supply: on this one the field coil burns out."
LOADS, DIP = (0.010, 0.020, 0.050, 0.100, 0.200, 0.500), 0.5e-3
"""Weights to lay on the cone [kg], and how far it must sink for a gauge to tell. [m] Common practice."""


def operations(build: Build) -> tuple[Operation, ...]:
    """From the mandrel to the label."""
    return (
        former(build), voice_coil(build), diaphragm(build), leads(build), assembly(build), surround(build), rub(build),
        measure(build), cap(build), first_sound(build), label(build),
    )  # fmt: skip


def former(build: Build) -> Operation:
    """A round tube on a mandrel."""
    coil = build.design.voice_coil
    strip = math.pi * (float(coil.D_fi) + float(coil.t_f))
    return Operation(
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
        "Wind the voice coil",
        (
            f"{ladder.wire}.",
            f"Thin glue under and over each layer; cure on the mandrel. {ends}",
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
    part = build.design.diaphragm
    size = f"⌀{mm('d_out', part.d_out)}"
    if part.form == "cone":
        size = f"from ⌀{mm('d_in', part.d_in)} to ⌀{mm('d_out', part.d_out)}, {mm('h_c', part.h_c)} deep, seam "
        size += mm("w_seam", part.w_seam)
    return Operation(
        f"Diaphragm: {part.form}",
        (f"{part.sheet.name}: {size} (mm). Cut, glue, let it dry on a flat plate.",),
        (
            Check(
                "mass", with_band("m_d", band(build.prediction, "moving.m_d")), "Lighter: louder, higher resonance.",
                "Heavier: quieter, lower resonance. Enter it.",
            ),
        ),
    )  # fmt: skip


def leads(build: Build) -> Operation:
    """Lead-outs and all small things that move."""
    bits = "; ".join(f"{bit.name} {show('m', float(bit.m))}" for bit in build.design.bits)
    weigh = (f"Planned weights: {bits}.",) if bits else ()
    return Operation(
        "Leads",
        ("Stranded flex in a loop, both ends anchored with a drop of glue; no stiff wire may bend.", *weigh),
        (Check("ohms at the ends of the leads", with_band("Re", band(build.prediction, "driver.Re")),
               "A short at the joint.", "A bad joint: solder again."),),
    )  # fmt: skip


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
    if design.spider is not None:
        do.append("Glue the spider to former and frame while the shims hold; let it cure in peace.")
    checks = []
    for key, side in (("c_i", "inside the former"), ("c_o", "outside the wire")):
        if f"clearance.{key}" in build.prediction.numbers():
            checks.append(
                Check(
                    f"air {side}", with_band(key, band(build.prediction, f"clearance.{key}")),
                    f"It may rub: {show('c_min', float(build.brief.c_min))} was asked for.", "Fine.",
                )
            )  # fmt: skip
    return Operation("Assembly on shims", tuple(do), tuple(checks))


def surround(build: Build) -> Operation:
    """The suspension of the rim."""
    part = build.design.surround
    Cms = band(build.prediction, "driver.Cms")
    load = next((load for load in LOADS if load * GRAVITY * Cms.value >= DIP), LOADS[-1])
    sinks = Band(*(load * GRAVITY * value for value in Cms))
    return Operation(
        "Surround",
        (
            f"{part.sheet.name}, free from ⌀{mm('d_in', part.d_in)} to ⌀{mm('d_out', part.d_out)} mm. Glue to the rim, "
            "then to the frame, with the shims still in.",
        ),
        (
            Check(
                f"sinks under {show('load', load)}, cone up", with_band("dip", sinks),
                "Stiffer: higher resonance. Thinner web or half-roll.", "Softer: lower resonance, mind the stroke.",
            ),
        ),
    )  # fmt: skip


def rub(build: Build) -> Operation:
    """The shims come out."""
    air = gap(build.design, build.prediction)
    pulled, off = "", ""
    if build.fed:
        off = " Field off first, then on."
        pulled = f" Rubs only with the field on: the {air.pole} is off centre." if air.pole and air.plate else ""
    return Operation(
        "Pull the shims, listen for rub",
        (
            f"Slow tone from 20 to 100 Hz, quiet; press the rim at 8 clock positions.{off}",
            f"It must move {show('x_pk', float(build.brief.x_pk))} each way without a scratch.",
        ),
        stop=f"Stop if it rubs: shims in, re-centre.{pulled}",
    )


def measure(build: Build) -> Operation:
    """What the driver has become."""
    title = "Measure: resonance, impedance, Bl"
    if burns_out(build.prediction):
        return Operation(title, (NOT_YET,))
    made, cold = build.prediction, _balance(band(build.prediction, "motor.Bl"))
    when = f"cold. Field {build.off}." if build.off else "once cold, once when the motor no longer warms."
    do = (
        "Impedance sweep, field just switched on, motor cold. Then cone up, field on: lift the weight back with "
        f"direct current, both ways; {when}"
    )
    low = "Bl is low: coil too far out, a layer reversed, or a joint open."
    if not build.fed:
        do = (
            "Touch the leads with a 1.5 V cell: where the cone jumps out, the cell's plus is the coil's plus; mark it. "
            "Impedance sweep. Then cone up: lift the weight back with direct current, both ways."
        )
        low = "Bl is low: coil too far out, a layer reversed, a joint open, or a weak magnet."
    return Operation(
        title,
        (do,),
        (
            Check(
                "resonance", with_band("fs", band(made, "driver.fs")), "Heavier or softer than planned.",
                "Lighter or stiffer than planned: foam is often stiff.",
            ),
            Check(
                worded(made, "impedance at resonance, cold"), with_band("Z_max", band(made, "driver.Z_max")),
                "Weak field or lossy surround: see Bl.", "Less loss than planned. Fine.",
            ),
            Check(
                worded(made, f"current that balances {show('load', BALANCE)}, cold"), with_band("I", cold),
                "More Bl than planned.", low,
            ),
            *_warm_balance(build),
        ),
    )  # fmt: skip


def _warm_balance(build: Build) -> list[Check]:
    """The same when it no longer warms, where it may stay on so long."""
    if not build.fed or build.off:
        return []
    expected = with_band("I", _balance(band(build.prediction, "heat.Bl")))
    words = f"for {show('load', BALANCE)}, motor warm"
    hotter = "It warms more than planned: less field."
    return [Check(words, expected, "It warms less than planned. Fine.", hotter)]


def _balance(Bl: Band) -> Band:
    """The current that holds the weight: I = m g / Bl. [A]"""
    return Band(*(BALANCE * GRAVITY / value for value in (Bl.value, Bl.high, Bl.low, Bl.median)))


def cap(_: Build) -> Operation:
    """Nothing is closed before it is known to be free."""
    return Operation("Dust cap", ("Only when nothing rubs: blow the gap clean, glue the cap on.",))


def first_sound(build: Build) -> Operation:
    """Loud comes later."""
    if burns_out(build.prediction):
        return Operation("First sound", (NOT_YET,))
    first = (f"Field {build.off}. " if build.off else "Field on first. ") if build.fed else ""
    return Operation(
        "First sound",
        (
            f"{first}Amplifier at zero, 4 Ω 5 W in series with the voice coil, then slowly up.",
            "Ten minutes quiet, feel the leads; then without the resistor. Level: 2.83 V, 1 m, in a large baffle.",
        ),
        (
            Check(
                worded(build.prediction, "level, motor cold"),
                with_band("L_2V83", band(build.prediction, "driver.L_2V83")),
                "See Bl and the moving mass.", "Check the meter's distance and the room.",
            ),
            *_warm_level(build),
        ),
        "Stop at any smell or buzz.",
    )  # fmt: skip


def _warm_level(build: Build) -> list[Check]:
    """The cold level for 2.83 V less what the warm motor loses for 1 W; never surer than the cold or the warm one."""
    if not build.fed or build.off:
        return []
    keys = ("driver.L_2V83", "driver.L_1W", "heat.L_1W")
    cold, watt, warm = (band(build.prediction, key) for key in keys)
    value = cold.value + warm.value - watt.value
    low, high = max(c.value - c.low for c in (cold, warm)), max(c.high - c.value for c in (cold, warm))
    expected = with_band("L_2V83", Band(value, value - low, value + high, value))
    return [Check("level, motor warm", expected, "It warms more than planned.", "It warms less than planned. Fine.")]


def label(build: Build) -> Operation:
    """What the next owner must know."""
    name, there = build.brief.name, build.fed
    words, read = f"{name}, plus marked, and as measured:", ["Re", "fs", "Bl", "date and name"]
    if there and not burns_out(build.prediction):
        field = f"field {settings(there)} from {there.supply.name}"
        words = f"{name}, {field}, plus marked on both pairs, diode fitted, and as measured:"
        read.insert(3, "ohms of the field coil at °C")
    return Operation("Label", (f"On the driver: {words}",), tuple(Check(what, "", "", "") for what in read))

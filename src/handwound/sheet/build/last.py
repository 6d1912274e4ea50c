"""The last operations: no rub, measuring, the cap, what it is built into, first sound, label."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.parts.prediction import Band
from handwound.sheet.build.built_in import build_in, vents
from handwound.sheet.build.first_current import settings
from handwound.sheet.build.glue import glued, weighs
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.numbers import band, worded
from handwound.sheet.said import mm, show

BALANCE, GRAVITY = 0.020, 9.80665
"""Mass laid on the cone to find Bl [kg]: common practice. Standard gravity [m/s²]: 3rd CGPM, 1901."""
SOFT = 0.1
"""So far from a stiff diaphragm's resonance, as a share, it is told that this one bends."""
NOT_YET = "Not before it has another supply: on this one the field coil burns out."


def operations(build: Build) -> tuple[Operation, ...]:
    """From the shims to the label."""
    found = [rub(build), measure(build), cap(build), *build_in(build), first_sound(build), label(build)]
    return tuple(found)


def rub(build: Build) -> Operation:
    """The shims come out."""
    air = gap(build.design, build.prediction)
    pulled, off = "", ""
    if build.fed:
        off = " Field off first, then on."
        pulled = f" Rubs only with the field on: the {air.pole} is off centre." if air.pole and air.plate else ""
    return Operation(
        "RB",
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
        return Operation("ME", title, (NOT_YET,))
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
        "ME",
        title,
        (do, *_other(build)),
        (
            Check(
                "resonance", with_band("fs", _resonance(build)), "Heavier or softer than planned.",
                "Lighter or stiffer than planned: foam is often stiff.",
            ),
            *_highest(build),
            Check(
                worded(made, f"current that balances {show('load', BALANCE)}, cold"), with_band("I", cold),
                "More Bl than planned.", low,
            ),
            *_warm_balance(build),
        ),
    )  # fmt: skip


def _resonance(build: Build) -> Band:
    """Where the impedance peaks on the bench: with the air in a back of its own, and as a soft diaphragm bends. [Hz]"""
    fs, heard = band(build.prediction, "driver.fs"), build.prediction.sound
    k = 1.0
    if heard and build.design.back:
        k *= float(heard.wall.found.f_c) / fs.value
    if heard and _is_soft(build):
        k *= heard.breakup.f_bent / fs.value
    return Band(*(k * f for f in fs))


def _is_soft(build: Build) -> bool:
    """Whether the diaphragm gives way before what holds it does."""
    heard, fs = build.prediction.sound, float(build.prediction.driver.fs)
    return heard is not None and abs(heard.breakup.f_bent / fs - 1) > SOFT


def _other(build: Build) -> Iterator[str]:
    """Why the resonance told is not the driver's fs."""
    if _is_soft(build):
        fs = show("fs", float(build.prediction.driver.fs), 2)
        yield f"This diaphragm is softer than what holds it: it rings lower than a stiff one would, at {fs}."
    if build.design.back:
        yield f"Its back as it will stay, nothing behind it: {vents(build.design.back)}. Of two peaks read the higher."


def _highest(build: Build) -> list[Check]:
    """The peak itself, where neither holes nor a soft diaphragm change it."""
    if build.design.back or _is_soft(build):
        return []
    words, Z_max = worded(build.prediction, "impedance at resonance, cold"), band(build.prediction, "driver.Z_max")
    return [Check(words, with_band("Z_max", Z_max), "Weak field or lossy surround: see Bl.", "Less loss. Fine.")]


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


def cap(build: Build) -> Operation:
    """Nothing is closed before it is known to be free."""
    part = build.design.cap
    made: tuple[str, ...] = ()
    if part:
        high = f", a dome {mm('h_c', part.h_c)} high" if part.form == "dome" else ""
        made = (
            f"Cap: {part.sheet.name}, ⌀{mm('d_out', part.d_out)}{high} (mm){weighs(build, 'm_cap', 'it weighs')}.",
            *glued(build, "cap"),
        )
    return Operation("DC", "Dust cap", (*made, "Only when nothing rubs: blow the gap clean, glue the cap on."))


def first_sound(build: Build) -> Operation:
    """Loud comes later."""
    if burns_out(build.prediction):
        return Operation("FS", "First sound", (NOT_YET,))
    first = (f"Field {build.off}. " if build.off else "Field on first. ") if build.fed else ""
    return Operation(
        "FS",
        "First sound",
        (
            f"{first}Amplifier at zero, 4 Ω 5 W in series with the voice coil, then slowly up.",
            "Ten minutes quiet, feel the leads; then without the resistor. Level: 2.83 V, 1 m, well above the "
            "resonance, in a large wall.",
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
    if build.design.back:
        read[1] = f"fs, {int(build.design.back.n_taped)} of {int(build.design.back.n_vent)} holes taped"
    return Operation("LB", "Label", (f"On the driver: {words}",), tuple(Check(what, "", "", "") for what in read))

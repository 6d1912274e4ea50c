"""The last operations: no rub, measuring, the cap, what it is built into, first sound, label."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.masses import glue_mass
from handwound.parts.prediction import Band
from handwound.sheet.build import care
from handwound.sheet.build.assembly import dip
from handwound.sheet.build.balance import BALANCE, balance
from handwound.sheet.build.built_in import build_in, vents
from handwound.sheet.build.diaphragm import closes
from handwound.sheet.build.first_current import settings
from handwound.sheet.build.glue import glued, waits
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, listed, mm, say, show

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
    stop = say("Stop if it rubs: shims in, re-centre.")
    if build.fed and air.pole and air.plate:
        stop = joined(" ", (stop, say("Rubs only with the field on: the {pole} is off centre.", pole=air.pole)))
    scratches = Check(
        say("scratches at 8 positions"), say("none"), "",
        say("Always at one place: re-centre away from it. All round: glue or wire stands out, press or wipe it off."),
    )  # fmt: skip
    return Operation(
        "RB", say("Pull the shims, listen for rub"), (_shims_out(build), *_rubbed(build)), (scratches, dip(build)),
        stop=stop,
        tools=(
            say("tone generator"), say("amplifier"), say("4 Ω 5 W resistor"), say("pliers"), say("weights"),
            say("depth gauge of a caliper"),
        ),
        cautions=(care.tones(), *care.hot_motor(build)),
    )  # fmt: skip


def _rubbed(build: Build) -> Iterator[Said]:
    """Without a field no tone moves it: then by hand. A field that burns its coil out is not switched on."""
    x_pk = show("x_pk", float(build.brief.x_pk))
    tone = say(
        "Slow tone from 20 to 100 Hz, quiet, through 4 Ω 5 W in series: press the rim at 8 clock positions. It must "
        "move {x_pk} each way without a scratch.",
        x_pk=x_pk,
    )
    if not build.fed:
        yield tone
        return
    yield say(
        "Field off, by hand: at 8 clock positions push the rim {x_pk} in and let it out, an ear beside it.", x_pk=x_pk
    )
    if burns_out(build.prediction):
        yield say(NOT_YET)
    elif build.off:
        yield joined(" ", (say("Then field on."), tone, say("Field {off}.", off=build.off)))
    else:
        yield joined(" ", (say("Then field on."), tone))


def _shims_out(build: Build) -> Said:
    """A diaphragm that lies over its former was glued on only when they were out."""
    if closes(build.design) and build.design.spider:
        return say("The shims are out since the spider's glue is hard.")
    return say("One shim after the other, straight along the axis, never sideways.")


def measure(build: Build) -> Operation:
    """What the driver has become."""
    title = say("Measure: resonance, impedance, Bl")
    if burns_out(build.prediction):
        return Operation("ME", title, (say(NOT_YET),))
    made = build.prediction
    low = say("Bl is low: coil too far out, a layer reversed, or a joint open.")
    if not build.fed:
        low = say("Bl is low: coil too far out, a layer reversed, a joint open, or a weak magnet.")
    weighs, cold = show("load", BALANCE), _balance(band(made, "motor.Bl"))
    what = (
        say("current that balances {load}, cold", load=weighs)
        if made.heat
        else say("current that balances {load}", load=weighs)
    )
    checks = (
        Check(
            say("resonance"), with_band("fs", _resonance(build)), say("Heavier or softer than planned."),
            say("Lighter or stiffer than planned: foam is often stiff."),
        ),
        *_highest(build),
        Check(what, with_band("I", cold), say("More Bl than planned."), low),
        *_warm_balance(build),
    )  # fmt: skip
    tools = (
        say("tone generator"), say("amplifier"), say("10 Ω 5 W resistor"), say("voltmeter"), say("ammeter"),
        say("1.5 V cell"), say("weight of {load}", load=weighs), say("supply for the voice coil"),
        say("depth gauge of a caliper"),
    )  # fmt: skip
    return Operation(
        "ME", title, (*_measured(build), *_balanced(build), *_other(build)), checks, tools=tools,
        cautions=(care.tones(), *care.hot_motor(build)),
    )  # fmt: skip


def _measured(build: Build) -> Iterator[Said]:
    """Its sign, and the resonance with nothing near it."""
    sign = say(
        "Touch the leads with a 1.5 V cell: where the cone jumps out, the cell's plus is the coil's plus; mark it."
    )
    free = say("Clamp it by its motor, free in the air, on its side, far from table and walls: they change its note.")
    if build.fed:
        yield joined(" ", (say("Field on, as marked."), sign))
        yield joined(" ", (free, say("Impedance sweep, field just switched on, motor cold.")))
    else:
        yield sign
        yield joined(" ", (free, say("Impedance sweep.")))
    yield from _uncapped(build)


def _uncapped(build: Build) -> Iterator[Said]:
    """What the resonance counts though it is not glued on yet."""
    design, made = build.design, build.prediction
    if design.cap:
        cap = float(made.moving.m_cap) + float(glue_mass(design, made.voice_winding, ("cap",)))
        more = (1 - cap / float(made.moving.Mms)) ** -0.5
        yield say(
            "The resonance counts the cap, which is not on yet: lay it in its place, held by two spots of tape. "
            "Without it the same driver rings at {fs}.",
            fs=show("fs", _resonance(build).value * more, 2),
        )  # fmt: skip
    elif design.bits:
        yield say(
            "The resonance counts all planned weights, {bits}: tape in its place what is not on yet.",
            bits=listed(bit.name for bit in design.bits),
        )


def _balanced(build: Build) -> Iterator[Said]:
    """Current one way lifts the weight, the other way it pulls as far down as the weight did."""
    made, most = build.prediction, _most(build)
    if most >= _balance(band(made, "motor.Bl")).high:
        yield say(
            "Then a supply with a current limit, 10 Ω 5 W in series, from zero up, never above {most}.",
            most=show("I", most, 2),
        )
    else:
        yield say(
            "Then a supply with a current limit, 10 Ω 5 W in series, from zero up, each time for seconds only: for "
            "good it bears no more than {most}.",
            most=show("I", most, 2),
        )  # fmt: skip
    lift = say(
        "Cone up, no current: note the height of the cone. Weight on its middle, plus on the marked plus: read the "
        "amperes that lift it back to that height. Weight off, leads swapped: read those that pull it down as far as "
        "the weight did. The number is the mean of both."
    )
    if not build.fed:
        yield lift
    elif build.off:
        yield joined(" ", (say("Field on, motor cold."), lift, say("Field {off}.", off=build.off)))
    else:
        yield joined(" ", (say("Field on."), lift, say("Once cold, once when the motor no longer warms.")))


def _most(build: Build) -> float:
    """Direct current that neither coil nor resistor minds: I² R is what each bears for good. [A]"""
    made, watts, ohms = build.prediction, 5.0, 10.0
    bears = (watts / ohms) ** 0.5
    if made.rating is None:
        return bears
    P_cont = max(0.0, band(made, "rating.P_cont").low)
    return min(bears, (P_cont / band(made, "driver.Re").high) ** 0.5)


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


def _other(build: Build) -> Iterator[Said]:
    """Why the resonance told is not the driver's fs."""
    if _is_soft(build):
        yield say(
            "This diaphragm is softer than what holds it: it rings lower than a stiff one would, at {fs}.",
            fs=show("fs", float(build.prediction.driver.fs), 2),
        )
    if build.design.back:
        yield say(
            "Its back as it will stay, nothing behind it: {vents}. Of two peaks read the higher.",
            vents=vents(build.design.back),
        )


def _highest(build: Build) -> list[Check]:
    """The peak itself, where neither holes nor a soft diaphragm change it."""
    if build.design.back or _is_soft(build):
        return []
    words = say("impedance at resonance, cold") if build.prediction.heat else say("impedance at resonance")
    Z_max = with_band("Z_max", band(build.prediction, "driver.Z_max"))
    return [Check(words, Z_max, say("Weak field or lossy surround: see Bl."), say("Less loss. Fine."))]


def _warm_balance(build: Build) -> list[Check]:
    """The same when it no longer warms, where it may stay on so long."""
    if not build.fed or build.off:
        return []
    expected = with_band("I", _balance(band(build.prediction, "heat.Bl")))
    words = say("for {load}, motor warm", load=show("load", BALANCE))
    less = say("It warms less than planned. Fine.")
    return [Check(words, expected, less, say("It warms more than planned: less field."))]


def _balance(Bl: Band) -> Band:
    """The current that holds the weight, with its band. [A]"""
    return Band(*(float(balance(value)) for value in (Bl.value, Bl.high, Bl.low, Bl.median)))


def cap(build: Build) -> Operation:
    """Nothing is closed before it is known to be free."""
    title, part = say("Dust cap"), build.design.cap
    tools = say("air pump"), say("tape to lift dust")
    free = say("Only when it scratched at none of the 8 positions, with or without the field: blow the gap clean.")
    if not build.fed:
        free = say("Only when it scratched at none of the 8 positions: blow the gap clean.")
    if part is None:
        late = joined(" ", (free, say("If it has a cap, glue it on, the same all round.")))
        return Operation("DC", title, (late,), tools=tools)
    on = say("Glue the cap on, ⌀{d_out} mm, the same all round.", d_out=mm("d_out", part.d_out))
    return Operation(
        "DC", title, (joined(" ", (free, on)), *glued(build, "cap")), tools=tools,
        waits=waits(build, say("Solvent and air must get out: no loud tones before."), "cap"),
        cautions=care.glues(build, "cap"),
    )  # fmt: skip


def first_sound(build: Build) -> Operation:
    """Loud comes later."""
    title = say("First sound")
    if burns_out(build.prediction):
        return Operation("FS", title, (say(NOT_YET),))
    slowly = say("Amplifier at zero, 4 Ω 5 W in series with the voice coil, then slowly up.")
    if build.off:
        slowly = joined(" ", (say("Field {off}.", off=build.off), slowly))
    elif build.fed:
        slowly = joined(" ", (say("Field on first."), slowly))
    level = say(
        "Ten minutes quiet, feel the leads; off at any smell or buzz; then without the resistor. Level: 2.83 V, 1 m, "
        "well above the resonance, in a large wall."
    )
    cold = say("level, motor cold") if build.prediction.heat else say("level")
    return Operation(
        "FS", title, (slowly, level),
        (
            Check(
                cold, with_band("L_2V83", band(build.prediction, "driver.L_2V83")),
                say("See Bl and the moving mass."), say("Check the meter's distance and the room."),
            ),
            *_warm_level(build),
        ),
        tools=(
            say("amplifier"), say("4 Ω 5 W resistor"), say("voltmeter"), say("sound level meter"), say("steel ruler"),
        ),
        cautions=(care.tones(), *care.hot_motor(build)),
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
    more, less = say("It warms more than planned."), say("It warms less than planned. Fine.")
    return [Check(say("level, motor warm"), expected, more, less)]


def label(build: Build) -> Operation:
    """What the next owner must know."""
    name, there, back = build.brief.name, build.fed, build.design.back
    words = say("On the driver: {name}, plus marked, and as measured:", name=name)
    read: list[str] = [say("Re"), say("fs"), say("Bl"), say("date and name")]
    if there and not burns_out(build.prediction):
        words = say(
            "On the driver: {name}, field {settings} from {supply}, plus marked on both pairs, diode fitted, and as "
            "measured:",
            name=name, settings=settings(there), supply=there.supply.name,
        )  # fmt: skip
        read.insert(3, say("ohms of the field coil at °C"))
    if back:
        read[1] = say(
            "fs, {n_taped} of {n_vent} holes taped", n_taped=counted("n_taped", back.n_taped),
            n_vent=counted("n_vent", back.n_vent),
        )  # fmt: skip
    checks = tuple(Check(what, "", "", "") for what in read)
    return Operation("LB", say("Label"), (words,), checks, tools=(say("label"), say("pen that does not fade")))

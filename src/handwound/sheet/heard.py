"""What the driver will sound like: short answers to what makers ask, and what it can be built into."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from handwound.heard.travel import ENDS
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.parts.sound import Place, Sound, Tone
from handwound.sheet.cautions import BOOMS
from handwound.sheet.digits import decibels, with_band
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.motor import SMALL, Row, Table
from handwound.sheet.numbers import band, worded
from handwound.sheet.said import Said, counted, either, joined, named, say, show
from handwound.sounding import LOW

TOLD = (100.0, 1000.0)
"""Notes of which the loudest steady tone is told. [Hz]"""
EVEN = 1.0
"""A boom of less is not heard. [dB] Common practice, no source."""


INTO = {
    "port": "in a box of {V_box} with a port",
    "box": "in a closed box of {V_box}",
    "board": "in an open board of {wide} × {high}",
    "wall": "in a large wall",
}
OWN = {
    "port": "in a box of {V_box} with a port, with its own back",
    "box": "in a closed box of {V_box}, with its own back",
    "board": "in an open board of {wide} × {high}, with its own back",
    "wall": "in a large wall, with its own back",
}
"""What a driver is built into; one without and one with a back of its own."""
KINDS = ("box with a port", "closed box", "open board", "endless wall")
WHYS = (
    "as the brief has it", "nothing goes round", "the smallest for the lowest note",
    "the largest that one still carries", "as even as can be", "as even as can be with a port",
    "small, a little boom",
)  # fmt: skip
"""What places are called, and why they are told, by what looks for them."""
THEN = {
    "force factor": "then the force factor ends the stroke",
    "suspension": "then the suspension ends the stroke",
    "gap": "then the gap ends the stroke",
    "stop": "then the stop ends the stroke",
    "heat of the voice coil": "then the heat of the voice coil",
    "volts of the amplifier": "then the volts of the amplifier",
    "amperes of the amplifier": "then the amperes of the amplifier",
}
"""What ends a tone, by its name."""
WHOLE = {
    "cone": "this cone of {sheet} moves as a whole to {f_stiff}",
    "disc": "this disc of {sheet} moves as a whole to {f_stiff}",
    "dome": "this dome of {sheet} moves as a whole to {f_stiff}",
}
WHOLE_FLAT = {
    "cone": "this cone of {sheet} moves as a whole to {f_stiff}, flat it would to {f_flat}",
    "disc": "this disc of {sheet} moves as a whole to {f_stiff}, flat it would to {f_flat}",
    "dome": "this dome of {sheet} moves as a whole to {f_stiff}, flat it would to {f_flat}",
}
"""How far up a diaphragm moves as a whole, by its form."""


def tables(design: Design, brief: Brief, found: Prediction) -> tuple[Table, ...]:
    """The answers, and the places; none where nothing was heard."""
    heard = found.sound
    if heard is None or found.mounted is None:
        return ()
    answers = Table(
        worded(found, "How it will sound, motor cold"),
        ((say("question"), say("answer")), *_answers(design, brief, found, heard)),
        say(
            "A steady tone is meant to last; music gets louder for moments. The stroke ends where the force factor has "
            "fallen to 82 % or the suspension is a third stiffer (IEC 62458, from memory), the coil rubs in more "
            "builds than may, or something is hit."
        ),
        right=(),
    )
    return answers, _places(heard)


def built_in(brief: Brief, design: Design) -> Said:
    """What the brief builds the driver into, ``"in a closed box of 8 l"``."""
    own = bool(design.back)
    if brief.box:
        kind = "port" if brief.port else "box"
        return say((OWN if own else INTO)[kind], V_box=show("V_box", float(brief.box.V_box)))
    if brief.baffle:
        wide, high = (show(name, float(getattr(brief.baffle, name))) for name in ("W_baffle", "H_baffle"))
        return say((OWN if own else INTO)["board"], wide=wide, high=high)
    return say((OWN if own else INTO)["wall"])


def _answers(design: Design, brief: Brief, found: Prediction, heard: Sound) -> Iterator[Row]:
    yield say("how loud?"), _loud(found)
    yield say("how low?"), _lowest(design, brief, found)
    yield say("does it boom?"), _boom(found)
    yield say("which baffle or box?"), _where(design, brief, heard)
    yield say("how far can it move?"), _far(brief, heard)
    yield say("how much amplifier?"), _watts(brief, found)
    for f in TOLD:
        yield say("loudest steady tone at {f}?", f=show("f", f)), _loudest(heard, f)
    yield say("safe for the amplifier?"), _safe(brief, heard)
    yield say("how far up is it even?"), _even(found, heard)
    yield say("which card?"), _card(design, found, heard)
    if heard.tone:
        asked = "how loud is {f_tone} alone?" if brief.f_tone else "how loud is {f_tone}, its resonance, alone?"
        yield say(asked, f_tone=show("f_tone", heard.tone.f_tone)), _tone(heard.tone, bool(brief.f_tone))


def _band(found: Prediction, key: str) -> Said:
    return with_band(key.rpartition(".")[2], band(found, key))


def _lowest(design: Design, brief: Brief, found: Prediction) -> Said:
    return say(
        "{f_10} is 10 dB down, {f_3} 3 dB down, {where}; you asked for {f_low}",
        f_10=_low(found, "mounted.f_10"), f_3=_low(found, "mounted.f_3"), where=built_in(brief, design),
        f_low=show("f_low", float(brief.f_low)),
    )  # fmt: skip


def _low(found: Prediction, key: str) -> Said:
    """A lowest note; one that is not reached where notes are looked for is beyond them."""
    if band(found, key).value >= LOW[-1]:
        return say("nothing up to {f}", f=show("f", LOW[-1]))
    return _band(found, key)


def _even(found: Prediction, heard: Sound) -> Said:
    """How far up the level is that of a stiff diaphragm, and why that is not as far as it moves as a whole."""
    f_even = show("f_even", heard.breakup.f_even, 2)
    if found.stiff is None or heard.breakup.f_even >= float(found.stiff.f_stiff):
        return say("to {f_even} it is within 3 dB of a stiff one", f_even=f_even)
    return say(
        "to {f_even} it is within 3 dB of a stiff one; above, coil and surround swing against the diaphragm before it "
        "bends itself",
        f_even=f_even,
    )


def _loud(found: Prediction) -> Said:
    cold = _band(found, "driver.L_1W")
    if found.heat and not burns_out(found):
        return say("{cold} at 1 m for 1 W, warm {warm}", cold=cold, warm=_band(found, "heat.L_1W"))
    return say("{level} at 1 m for 1 W", level=cold)


def _boom(found: Prediction) -> Said:
    peak = band(found, "mounted.dL_peak")
    if peak.high < EVEN:
        return say("no")
    if peak.value < EVEN:
        return say("no, as planned; up to {dL_peak} where it is off", dL_peak=show("dL_peak", peak.high, 2))
    asked = "a little: {dL_peak} about {f_c}" if peak.value < BOOMS else "yes: {dL_peak} about {f_c}"
    return say(asked, dL_peak=_band(found, "mounted.dL_peak"), f_c=_band(found, "mounted.f_c"))


def _where(design: Design, brief: Brief, heard: Sound) -> Said:
    f_low = show("f_low", float(brief.f_low))
    if float(heard.wall.found.f_10) > float(brief.f_low):
        if design.back is not None and int(design.back.n_taped):
            return say(
                "not even a large wall brings {f_low}: open the {n_taped} taped holes of its back",
                f_low=f_low, n_taped=counted("n_taped", design.back.n_taped),
            )  # fmt: skip
        return say("not even a large wall brings {f_low}: more moving mass or a softer suspension", f_low=f_low)
    do = [_sized(place) for place in heard.places if place.is_least]
    if not do:
        return say("only a large wall brings {f_low}; see below", f_low=f_low)
    return say("the smallest for {f_low}: {places}", f_low=f_low, places=either(do))


def _sized(place: Place) -> Said:
    """A place with its size, in a sentence."""
    if place.V_box:
        return say("{kind} of {size}", kind=named(place.kind, KINDS), size=size(place))
    if place.W_baffle:
        return say("{kind} {size} square", kind=named(place.kind, KINDS), size=size(place))
    return named(place.kind, KINDS)


def _far(brief: Brief, heard: Sound) -> Said:
    way, x_pk = heard.travel, float(brief.x_pk)
    ends = [
        say("{end} {x}", end=say(ENDS[name]), x=show(name, end, 2))
        for name in ENDS
        if (end := getattr(way, name)) is not None
    ]
    told = (
        "{x_lim} to each side, less than the {x_pk} you asked for; ends: {ends}"
        if way.x_lim < x_pk
        else "{x_lim} to each side, you asked for {x_pk}; ends: {ends}"
    )
    return say(told, x_lim=show("x_lim", way.x_lim, 2), x_pk=show("x_pk", x_pk), ends=joined(", ", ends))


def _watts(brief: Brief, found: Prediction) -> Said:
    gives = {"amplifier": brief.amplifier.name, "P_max": show("P_max", float(brief.amplifier.P_max))}
    if found.rating is None or float(found.rating.P_cont) <= 0:
        return say("{amplifier} can give {P_max}", **gives)
    return say(
        "the coil bears {P_cont} for good; music makes {P_prog} with the {P_max} of {amplifier}",
        P_cont=_band(found, "rating.P_cont"), P_prog=show("P_prog", float(found.rating.P_prog)), **gives,
    )  # fmt: skip


def _loudest(heard: Sound, f: float) -> Said:
    """At the third-octave next to a note."""
    most = heard.loudest
    k = int(np.argmin(np.abs(np.log(most.f / f))))
    return say(
        "{L_max} with {U_max}, {end}",
        L_max=show("L_max", float(most.L_max[k])), U_max=show("U_max", float(most.U_max[k]), 2), end=_end(most.by[k]),
    )  # fmt: skip


def _end(by: str) -> Said:
    """What ends a tone; a stroke by what ends that."""
    return say(THEN[by.rpartition(": ")[2]])


def _safe(brief: Brief, heard: Sound) -> Said:
    load, rated = heard.load, float(brief.amplifier.Z_least)
    says = say(
        "{Z_min} at {f_least} is the least it meets, {amplifier} is rated for {Z_least}",
        Z_min=show("Z_min", load.Z_min, 2), f_least=show("f_least", load.f_least, 2), amplifier=brief.amplifier.name,
        Z_least=show("Z_least", rated),
    )  # fmt: skip
    if load.R_add is not None and load.dL_add is not None:
        return say(
            "no: {says}; {R_add} in series keeps it safe and takes up to {dL_add}, least at the resonance",
            says=says, R_add=show("R_add", load.R_add), dL_add=show("dL_add", load.dL_add, 2),
        )  # fmt: skip
    return say("yes: {says}" if load.Z_min >= rated else "just, common practice allows 80 %: {says}", says=says)


def _card(design: Design, found: Prediction, heard: Sound) -> Said:
    whole = {"sheet": design.diaphragm.sheet.name, "f_stiff": _band(found, "stiff.f_stiff")}
    if heard.f_flat is None:
        return say(WHOLE[design.diaphragm.form], **whole)
    return say(WHOLE_FLAT[design.diaphragm.form], f_flat=show("f_flat", heard.f_flat, 2), **whole)


def _tone(tone: Tone, is_wished: bool) -> Said:
    """How loud, and what would make it louder where somebody wishes for it."""
    loud = {
        "L_tone": show("L_tone", tone.L_tone),
        "U_tone": show("U_tone", tone.U_tone, 2),
        "R_source": show("R_source", tone.R_source),
        "end": _end(tone.by),
    }
    told = say("{L_tone} with {U_tone} through {R_source}, {end}" if tone.R_source else "{L_tone} with {U_tone}, {end}",
               **loud)  # fmt: skip
    more = list(_louder(tone))
    if more and is_wished:
        return say("{tone}; turned up again as far, {changes}", tone=told, changes=either(more))
    return told


def _louder(tone: Tone) -> Iterator[Said]:
    """What makes a tone louder, and by how much."""
    if tone.k_N is not None and tone.dL_turns is not None and tone.dL_turns >= SMALL:
        yield say("{k_N} times the turns {dL}", k_N=show("k_N", tone.k_N, 2), dL=decibels(tone.dL_turns, 1))
    if tone.m_add is not None and tone.dL_tuned >= SMALL:
        yield say("{m_add} more that moves {dL}", m_add=show("m_add", tone.m_add, 2), dL=decibels(tone.dL_tuned, 1))
    if tone.K_add is not None and tone.dL_tuned >= SMALL:
        yield say("{K_add} more stiffness {dL}", K_add=show("K_add", tone.K_add, 2), dL=decibels(tone.dL_tuned, 1))


def _places(heard: Sound) -> Table:
    head = ("", say("size"), say("10 dB down"), say("3 dB down"), say("boom"), say("resonance"))
    rows: list[Row] = [head]
    for each in heard.places:
        got, wide = each.found, size(each)
        notes = (lowest(name, float(getattr(got, name))) for name in ("f_10", "f_3"))
        boom = decibels(got.dL_peak, 1) if got.dL_peak >= 0 else say("none")
        place = say("{kind}: {why}", kind=named(each.kind, KINDS), why=named(each.why, WHYS))
        rows.append((place, wide, *notes, boom, show("f_c", float(got.f_c), 2)))
    note = say(
        "Litres are of air: the room that the driver takes comes on top. A board is square, the driver in its middle."
    )
    return Table(say("What it can be built into"), tuple(rows), note, right=(2, 3, 4, 5))


def lowest(name: str, f: float) -> Said:
    """A lowest note in a table."""
    return say("over {f}", f=show(name, LOW[-1], 2)) if f >= LOW[-1] else show(name, f, 2)


def size(place: Place) -> Said:
    """How large it is, as one would ask for it at a saw."""
    if place.V_box and place.d_port and place.l_port and place.f_box:
        return say(
            "{V_box}, port ⌀{d_port} × {l_port}, tuned to {f_box}",
            V_box=show("V_box", place.V_box, 2), d_port=show("d_port", place.d_port, 2),
            l_port=show("l_port", place.l_port, 2), f_box=show("f_box", place.f_box, 2),
        )  # fmt: skip
    if place.V_box:
        return show("V_box", place.V_box, 2)
    return show("W_baffle", place.W_baffle, 2) if place.W_baffle else Said("")

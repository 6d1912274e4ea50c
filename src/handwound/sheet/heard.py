"""What the driver will sound like: short answers to what makers ask, and what it can be built into."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from handwound.heard.travel import ENDS
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.parts.sound import Place, Sound, Tone
from handwound.parts.source import LEAST_SHARE
from handwound.sheet.cautions import BOOMS
from handwound.sheet.digits import decibels, with_band
from handwound.sheet.heat_limits import burns_out
from handwound.sheet.motor import SMALL, Row, Table
from handwound.sheet.numbers import band, worded
from handwound.sheet.said import show
from handwound.sounding import LOW

TOLD = (100.0, 1000.0)
"""Notes of which the loudest steady tone is told. [Hz]"""
EVEN = 1.0
"""A boom of less is not heard. [dB] Common practice, no source."""


def tables(design: Design, brief: Brief, found: Prediction) -> tuple[Table, ...]:
    """The answers, and the places; none where nothing was heard."""
    heard = found.sound
    if heard is None or found.mounted is None:
        return ()
    answers = Table(
        worded(found, "How it will sound, motor cold"),
        (("question", "answer"), *_answers(design, brief, found, heard)),
        "A steady tone is meant to last; music gets louder for moments. The stroke ends where the force factor has "
        "fallen to 82 % or the suspension is a third stiffer (IEC 62458, from memory), the coil rubs in more builds "
        "than may, or something is hit.",
        right=(),
    )
    return answers, _places(heard)


def built_in(brief: Brief, design: Design) -> str:
    """What the brief builds the driver into, ``"in a closed box of 8 l"``."""
    own = ", with its own back" if design.back else ""
    if brief.box:
        port = " with a port" if brief.port else ""
        return f"in a {'' if port else 'closed '}box of {show('V_box', float(brief.box.V_box))}{port}{own}"
    if brief.baffle:
        wide, high = (show(name, float(getattr(brief.baffle, name))) for name in ("W_baffle", "H_baffle"))
        return f"in an open board of {wide} × {high}{own}"
    return f"in a large wall{own}"


def _answers(design: Design, brief: Brief, found: Prediction, heard: Sound) -> Iterator[Row]:
    yield "how loud?", _loud(found)
    low = f"{_low(found, 'mounted.f_10')} is 10 dB down, {_low(found, 'mounted.f_3')} 3 dB down"
    yield "how low?", f"{low}, {built_in(brief, design)}; you asked for {show('f_low', float(brief.f_low))}"
    yield "does it boom?", _boom(found)
    yield "which baffle or box?", _where(design, brief, heard)
    yield "how far can it move?", _far(brief, heard)
    yield "how much amplifier?", _watts(brief, found)
    for f in TOLD:
        yield f"loudest steady tone at {show('f', f)}?", _loudest(heard, f)
    yield "safe for the amplifier?", _safe(brief, heard)
    yield "how far up is it even?", _even(found, heard)
    yield "which card?", _card(design, found, heard)
    if heard.tone:
        its = "" if brief.f_tone else ", its resonance,"
        yield f"how loud is {show('f_tone', heard.tone.f_tone)}{its} alone?", _tone(heard.tone, bool(brief.f_tone))


def _band(found: Prediction, key: str) -> str:
    return with_band(key.rpartition(".")[2], band(found, key))


def _low(found: Prediction, key: str) -> str:
    """A lowest note; one that is not reached where notes are looked for is beyond them."""
    return f"nothing up to {show('f', LOW[-1])}" if band(found, key).value >= LOW[-1] else _band(found, key)


def _even(found: Prediction, heard: Sound) -> str:
    """How far up the level is that of a stiff diaphragm, and why that is not as far as it moves as a whole."""
    said = f"to {show('f_even', heard.breakup.f_even, 2)} it is within 3 dB of a stiff one"
    if found.stiff is None or heard.breakup.f_even >= float(found.stiff.f_stiff):
        return said
    return f"{said}; above, coil and surround swing against the diaphragm before it bends itself"


def _loud(found: Prediction) -> str:
    warm = f", warm {_band(found, 'heat.L_1W')}" if found.heat and not burns_out(found) else ""
    return f"{_band(found, 'driver.L_1W')} at 1 m for 1 W{warm}"


def _boom(found: Prediction) -> str:
    peak = band(found, "mounted.dL_peak")
    if peak.high < EVEN:
        return "no"
    if peak.value < EVEN:
        return f"no, as planned; up to {show('dL_peak', peak.high, 2)} where it is off"
    word = "a little" if peak.value < BOOMS else "yes"
    return f"{word}: {_band(found, 'mounted.dL_peak')} about {_band(found, 'mounted.f_c')}"


def _where(design: Design, brief: Brief, heard: Sound) -> str:
    f_low = show("f_low", float(brief.f_low))
    if float(heard.wall.found.f_10) > float(brief.f_low):
        holes = design.back is not None and int(design.back.n_taped)
        helps = f"open the {holes} taped holes of its back" if holes else "more moving mass or a softer suspension"
        return f"not even a large wall brings {f_low}: {helps}"
    do = [
        f"{place.kind} {'of ' * bool(place.V_box)}{size(place)}{' square' * bool(place.W_baffle)}"
        for place in heard.places
        if place.is_least
    ]
    return f"the smallest for {f_low}: {' or '.join(do)}" if do else f"only a large wall brings {f_low}; see below"


def _far(brief: Brief, heard: Sound) -> str:
    way = heard.travel
    ends = [f"{words} {show(name, end, 2)}" for name, words in ENDS.items() if (end := getattr(way, name)) is not None]
    asked = f"you asked for {show('x_pk', float(brief.x_pk))}"
    if way.x_lim < float(brief.x_pk):
        asked = f"less than the {show('x_pk', float(brief.x_pk))} you asked for"
    return f"{show('x_lim', way.x_lim, 2)} to each side, {asked}; ends: {', '.join(ends)}"


def _watts(brief: Brief, found: Prediction) -> str:
    name, gives = brief.amplifier.name, show("P_max", float(brief.amplifier.P_max))
    if found.rating is None or float(found.rating.P_cont) <= 0:
        return f"{name} can give {gives}"
    watts = show("P_prog", float(found.rating.P_prog))
    return f"the coil bears {_band(found, 'rating.P_cont')} for good; music makes {watts} with the {gives} of {name}"


def _loudest(heard: Sound, f: float) -> str:
    """At the third-octave next to a note."""
    most = heard.loudest
    k = int(np.argmin(np.abs(np.log(most.f / f))))
    return f"{show('L_max', float(most.L_max[k]))} with {show('U_max', float(most.U_max[k]), 2)}, {_end(most.by[k])}"


def _end(by: str) -> str:
    kind, _, end = by.partition(": ")
    return f"then the {end} ends the {kind}" if end else f"then the {by}"


def _safe(brief: Brief, heard: Sound) -> str:
    load, rated = heard.load, float(brief.amplifier.Z_least)
    least = f"{show('Z_min', load.Z_min, 2)} at {show('f_least', load.f_least, 2)} is the least it meets"
    says = f"{least}, {brief.amplifier.name} is rated for {show('Z_least', rated)}"
    if load.R_add is not None and load.dL_add is not None:
        most = f"up to {show('dL_add', load.dL_add, 2)}, least at the resonance"
        return f"no: {says}; {show('R_add', load.R_add)} in series keeps it safe and takes {most}"
    return f"{'yes' if load.Z_min >= rated else f'just, common practice allows {100 * LEAST_SHARE:.0f} %'}: {says}"


def _card(design: Design, found: Prediction, heard: Sound) -> str:
    name = design.diaphragm.sheet.name
    said = f"this {design.diaphragm.form} of {name} moves as a whole to {_band(found, 'stiff.f_stiff')}"
    return said if heard.f_flat is None else f"{said}, flat it would to {show('f_flat', heard.f_flat, 2)}"


def _tone(tone: Tone, is_wished: bool) -> str:
    """How loud, and what would make it louder where somebody wishes for it."""
    through = f" through {show('R_source', tone.R_source)}" if tone.R_source else ""
    said = f"{show('L_tone', tone.L_tone)} with {show('U_tone', tone.U_tone, 2)}{through}, {_end(tone.by)}"
    more = []
    if tone.k_N is not None and tone.dL_turns is not None and tone.dL_turns >= SMALL:
        more.append(f"{show('k_N', tone.k_N, 2)} times the turns {decibels(tone.dL_turns, 1)}")
    if tone.m_add is not None and tone.dL_tuned >= SMALL:
        more.append(f"{show('m_add', tone.m_add, 2)} more that moves {decibels(tone.dL_tuned, 1)}")
    if tone.K_add is not None and tone.dL_tuned >= SMALL:
        more.append(f"{show('K_add', tone.K_add, 2)} more stiffness {decibels(tone.dL_tuned, 1)}")
    return f"{said}; turned up again as far, {', or '.join(more)}" if more and is_wished else said


def _places(heard: Sound) -> Table:
    head = ("", "size", "10 dB down", "3 dB down", "boom", "resonance")
    rows: list[Row] = [head]
    for each in heard.places:
        got, wide = each.found, size(each)
        notes = (lowest(name, float(getattr(got, name))) for name in ("f_10", "f_3"))
        boom = decibels(got.dL_peak, 1) if got.dL_peak >= 0 else "none"
        rows.append((f"{each.kind}: {each.why}", wide, *notes, boom, show("f_c", float(got.f_c), 2)))
    note = (
        "Litres are of air: the room that the driver takes comes on top. A board is square, the driver in its middle."
    )
    return Table("What it can be built into", tuple(rows), note, right=(2, 3, 4, 5))


def lowest(name: str, f: float) -> str:
    """A lowest note in a table."""
    return f"over {show(name, LOW[-1], 2)}" if f >= LOW[-1] else show(name, f, 2)


def size(place: Place) -> str:
    """How large it is, as one would ask for it at a saw."""
    if place.V_box and place.d_port and place.l_port and place.f_box:
        tube = f"{show('d_port', place.d_port, 2)} × {show('l_port', place.l_port, 2)}"
        return f"{show('V_box', place.V_box, 2)}, port ⌀{tube}, tuned to {show('f_box', place.f_box, 2)}"
    if place.V_box:
        return show("V_box", place.V_box, 2)
    return show("W_baffle", place.W_baffle, 2) if place.W_baffle else ""

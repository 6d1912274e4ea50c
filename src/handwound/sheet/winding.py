"""The winding ladder: what the meter must read after each layer, and what to do where it does not."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import Coil, FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Layer, Prediction
from handwound.parts.source import COLD_SHARE, LEAST_SHARE
from handwound.quantities import plain, shown
from handwound.sheet.build.leads_out import field_leads
from handwound.sheet.build.operation import rung_code
from handwound.sheet.digits import to_place
from handwound.sheet.fed import Fed, fed
from handwound.sheet.said import Said, counted, joined, printed, ranged, say, show
from handwound.sheet.sections import SectionEnd, forward, section_ends, section_words


@dataclass(frozen=True)
class Rung:
    """One line of the ladder, in words ready to print.

    ``travel`` is the way in which its turns go along the axis; ``end`` has the number of each section that ends in it,
    ``begin`` that of the one that begins with it. ``code`` opens the entry of its reading; empty where none is asked.
    """

    n_layer: str
    N_l: str
    N: str
    D_w: str
    R_20: str
    R_T: str
    low: str
    high: str
    hold: bool
    tape: bool
    end: str
    begin: str = ""
    travel: str = ""
    code: str = ""


@dataclass(frozen=True)
class Hold:
    """A layer after which to stop and read: what is expected, and what to do outside the band."""

    layer: str
    expected: str
    if_low: str
    if_high: str


@dataclass(frozen=True)
class Ladder:
    """A whole ladder with its head, what to do at the end of each section of a coil in several, and its holds.

    ``way`` says where it starts, how its layers travel and turn, and where its end leaves.
    """

    title: str
    wire: str
    sections: str
    rungs: tuple[Rung, ...]
    holds: tuple[Hold, ...]
    way: str = ""


def field_ladder(design: Design, brief: Brief, prediction: Prediction) -> Ladder | None:
    """The ladder of the field coil; None where magnets alone make the field."""
    there = fed(design, brief, prediction)
    if there is None:
        return None
    return _ladder(say("Field coil"), "FC", there.coil, prediction.field_ladder, _at_the_supply(there))


def voice_ladder(design: Design, brief: Brief, prediction: Prediction) -> Ladder:
    """The ladder of the voice coil."""
    low = say(
        "If the turns are right, finish, but do not connect it below {Re}: that is 80 % of what the amplifier is rated "
        "for. Wind again with thinner wire or more turns.",
        Re=show("Re", LEAST_SHARE * float(brief.amplifier.Z_least)),
    )  # fmt: skip
    high = say("If the turns are right, finish: it plays, a little quieter for the same voltage.")
    return _ladder(say("Voice coil"), "VC", design.voice_coil, prediction.voice_ladder, (low, high))


def holds(count: int) -> tuple[int, ...]:
    """Layers after which to stop: the second, the half, the last."""
    return tuple(sorted({min(2, count), (count + 1) // 2, count}))


def way(coil: Coil) -> Said:
    """Where the wire starts, how it travels and turns, and where it ends: the same on every sheet."""
    turn = say("All layers turn the same way, clockwise seen from the front.")
    if isinstance(coil, FieldCoil):
        start = say(
            "The start, marked S, leaves at the back cheek at 6 o'clock; layer 1 travels to the front, the next one "
            "back."
        )
        (_, (_, side, _)) = field_leads(coil)
        back = say("The end, marked F, leaves at the back cheek too, at 7 o'clock.")
        front = say("The end, marked F, leaves at the front cheek at 7 o'clock; do not lead it back over the winding.")
        return joined(" ", (start, turn, back if side == "back" else front))
    even = say(
        "The start, marked S, leaves at the front, the end towards the cone, at 5:30; layer 1 travels to the back, the "
        "next one to the front."
    )
    odd = say(
        "Begin with the lead of the start, marked S: it leaves at the front, the end towards the cone, at 5:30 and "
        "runs straight along the former to the back end. Layer 1 goes over it and travels to the front, the next one "
        "to the back."
    )
    end = say("The end, marked F, leaves at the front too, at 6:30.")
    return joined(" ", (odd if int(coil.n_l) % 2 else even, turn, end))


def _ladder(title: str, code: str, coil: Coil, layers: tuple[Layer, ...], act: tuple[str, str]) -> Ladder:
    stops = holds(len(layers))
    ends = section_ends(coil, layers)
    rungs = tuple(_rung(code, coil, layer, ends, stops, is_last=layer is layers[-1]) for layer in layers)
    words = tuple(_hold(coil, layers[n - 1], act if n == len(layers) else None) for n in stops)
    return Ladder(title, _wire_words(coil), section_words(coil, layers), rungs, words, way(coil))


def _rung(
    code: str, coil: Coil, layer: Layer, ends: tuple[SectionEnd, ...], stops: tuple[int, ...], is_last: bool
) -> Rung:
    n = layer.n_layer
    begins = {1: 1} | {each.n_layer + each.full: each.number + 1 for each in reversed(ends[:-1])} if ends else {}
    return Rung(
        n_layer=counted("n_layer", n),
        N_l=counted("N_l", layer.N_l),
        N=counted("N", layer.N),
        D_w=to_place("D_w", layer.D_w, 2),
        R_20=_ohm("R_20", layer.R_20, layer),
        R_T=_ohm("R_T", layer.R_T, layer),
        low=_ohm("R_T", layer.R_T_band.low, layer),
        high=_ohm("R_T", layer.R_T_band.high, layer),
        hold=n in stops,
        tape=bool(coil.n_tape) and n % coil.n_tape == 0 and not is_last,
        end=joined(", ", (counted("n_sec", each.number) for each in ends if each.n_layer == n)),
        begin=counted("n_sec", begins[n]) if n in begins else "",
        travel=say("→ front") if forward(coil, n) else say("← back"),
        code=rung_code(code, n) if n in stops else "",
    )


def _hold(coil: Coil, layer: Layer, act: tuple[str, str] | None) -> Hold:
    low, high = _ohm("R_T", layer.R_T_band.low, layer), _ohm("R_T", layer.R_T_band.high, layer)
    R_T, band = _ohm("R_T", layer.R_T, layer), layer.R_T_band
    thick, thin = _wire_at(coil, layer, band.low), _wire_at(coil, layer, band.high)
    under = say(
        "Under {low} Ω: count the turns; the wire may be thicker than its label ({d_cu} or more).", low=low, d_cu=thick
    )  # fmt: skip
    shorts = say(
        "Under {low} Ω: count the turns; the wire may be thicker than its label ({d_cu} or more), or turns are "
        "shorted.",
        low=low, d_cu=thick,
    )  # fmt: skip
    over = say(
        "Over {high} Ω: zero the meter's leads, scrape the ends clean; the wire may be thinner ({d_cu} or less).",
        high=high, d_cu=thin,
    )  # fmt: skip
    field = isinstance(coil, FieldCoil)
    carry = (
        say("Carry on and write the reading down.") if field else say("Stop; measure the wire, plan the coil again.")
    )
    ends = act or (carry, carry)
    return Hold(
        layer=say("after layer {n_layer}", n_layer=counted("n_layer", layer.n_layer)),
        expected=ranged("R_T", band, (str(R_T), str(low), str(high)), "Ω"),
        if_low=joined(" ", (shorts if field else under, ends[0])),
        if_high=joined(" ", (over, ends[1])),
    )


def _wire_at(coil: Coil, layer: Layer, R_T: float) -> Said:
    """The copper's diameter that would give this reading with the turns of the plan: R goes as one over its square."""
    d_cu = float(coil.wire.d_cu) if coil.wire else 0.0
    return show("d_cu", d_cu * (layer.R_T / R_T) ** 0.5)


def _at_the_supply(there: Fed) -> tuple[str, str]:
    if there.cold.limit == "current":
        I_f = show("I_f", float(there.cold.I_f))
        return (
            say(
                "The supply holds {I_f}: the ampere-turns stay and the watts fall by the same share. Finish.", I_f=I_f
            ),
            say(
                "The supply holds {I_f}: the ampere-turns stay and the watts rise by the same share. Finish.", I_f=I_f
            ),
        )  # fmt: skip
    V_max, room = show("V_max", float(there.supply.V_max)), show("I_max", COLD_SHARE * float(there.supply.I_max))
    return (
        say(
            "At {V_max} the ampere-turns and the watts rise by the same share. Finish if the cold current stays under "
            "{I_max}, 90 % of the supply's limit.",
            V_max=V_max, I_max=room,
        ),
        say(
            "At {V_max} the ampere-turns and the watts fall by the same share: a little quieter and cooler. Finish.",
            V_max=V_max,
        ),
    )  # fmt: skip


def _wire_words(coil: Coil) -> Said | str:
    wire = coil.wire
    if wire is None:
        return ""
    d_cu = float(wire.d_cu)
    parts = [
        say(
            "{wire}: {metal} {d_cu} mm bare, {d_o} overall; {h_w} high on {D_f}", wire=wire.name,
            metal=say(wire.metal), d_cu=printed("d_cu", d_cu, plain(shown("d_cu", d_cu))),
            d_o=show("d_o", float(wire.d_o)), h_w=show("h_w", float(coil.h_w)), D_f=show("D_f", float(coil.D_f)),
        )
    ]  # fmt: skip
    if coil.n_tape:
        parts.append(say("a layer of tape after every {n_tape}", n_tape=counted("n_tape", coil.n_tape)))
    if coil.n_sec > 1:
        n_sec = counted("n_sec", coil.n_sec)
        series = say("{n_sec} sections in series", n_sec=n_sec)
        parallel = say("{n_sec} sections in parallel; the ladder reads them in series", n_sec=n_sec)
        parts.append(series if coil.connection == "series" else parallel)
    return joined(", ", parts)


def _ohm(name: str, R: float, layer: Layer) -> Said:
    places = 3 if layer.R_T < 1 else 2 if layer.R_T < 100 else 1 if layer.R_T < 1000 else 0
    return to_place(name, R, places)

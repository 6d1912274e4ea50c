"""The winding ladder: what the meter must read after each layer, and what to do where it does not."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import Coil, FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Layer, Prediction
from handwound.parts.source import COLD_SHARE, LEAST_SHARE
from handwound.quantities import plain, shown
from handwound.sheet.digits import to_place
from handwound.sheet.fed import Fed, fed
from handwound.sheet.said import show
from handwound.sheet.sections import section_ends, section_words


@dataclass(frozen=True)
class Rung:
    """One line of the ladder, in words ready to print; ``end`` has the number of each section that ends in it."""

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


@dataclass(frozen=True)
class Hold:
    """A layer after which to stop and read: what is expected, and what to do outside the band."""

    layer: str
    expected: str
    if_low: str
    if_high: str


@dataclass(frozen=True)
class Ladder:
    """A whole ladder with its head, what to do at the end of each section of a coil in several, and its holds."""

    title: str
    wire: str
    sections: str
    rungs: tuple[Rung, ...]
    holds: tuple[Hold, ...]


def field_ladder(design: Design, brief: Brief, prediction: Prediction) -> Ladder | None:
    """The ladder of the field coil; None where magnets alone make the field."""
    there = fed(design, brief, prediction)
    if there is None:
        return None
    return _ladder("Field coil", there.coil, prediction.field_ladder, _at_the_supply(there))


def voice_ladder(design: Design, brief: Brief, prediction: Prediction) -> Ladder:
    """The ladder of the voice coil."""
    least = LEAST_SHARE * float(brief.amplifier.Z_least)
    low = (
        f"If the turns are right, finish, but do not connect it below {show('Re', least)}: that is 80 % of what the "
        f"amplifier is rated for. Wind again with thinner wire or more turns."
    )
    high = "If the turns are right, finish: it plays, a little quieter for the same voltage."
    return _ladder("Voice coil", design.voice_coil, prediction.voice_ladder, (low, high))


def holds(count: int) -> tuple[int, ...]:
    """Layers after which to stop: the second, the half, the last."""
    return tuple(sorted({min(2, count), (count + 1) // 2, count}))


def _ladder(title: str, coil: Coil, layers: tuple[Layer, ...], act: tuple[str, str]) -> Ladder:
    stops = holds(len(layers))
    ends: dict[int, list[str]] = {}
    for each in section_ends(coil, layers):
        ends.setdefault(each.n_layer, []).append(str(each.number))
    rungs = tuple(
        Rung(
            n_layer=str(layer.n_layer),
            N_l=str(layer.N_l),
            N=str(layer.N),
            D_w=to_place("D_w", layer.D_w, 2),
            R_20=_ohm(layer.R_20, layer),
            R_T=_ohm(layer.R_T, layer),
            low=_ohm(layer.R_T_band.low, layer),
            high=_ohm(layer.R_T_band.high, layer),
            hold=layer.n_layer in stops,
            end=", ".join(ends.get(layer.n_layer, ())),
            tape=bool(coil.n_tape) and layer.n_layer % coil.n_tape == 0 and layer.n_layer < len(layers),
        )
        for layer in layers
    )
    words = tuple(_hold(coil, layers[n - 1], act if n == len(layers) else None) for n in stops)
    return Ladder(title, _wire_words(coil), section_words(coil, layers), rungs, words)


def _hold(coil: Coil, layer: Layer, act: tuple[str, str] | None) -> Hold:
    low, high = _ohm(layer.R_T_band.low, layer), _ohm(layer.R_T_band.high, layer)
    thick, thin = (_wire_at(coil, layer, edge) for edge in (layer.R_T_band.low, layer.R_T_band.high))
    begin_low = f"Under {low} Ω: count the turns; the wire may be thicker than its label ({thick} or more)"
    begin_high = (
        f"Over {high} Ω: zero the meter's leads, scrape the ends clean; the wire may be thinner ({thin} or less)"
    )
    field = isinstance(coil, FieldCoil)
    short = ", or turns are shorted" if field else ""
    carry = ("Carry on and write the reading down." if field else "Stop; measure the wire, plan the coil again.",) * 2
    ends = act or carry
    return Hold(
        layer=f"after layer {layer.n_layer}",
        expected=f"{_ohm(layer.R_T, layer)} Ω ({low} to {high})",
        if_low=f"{begin_low}{short}. {ends[0]}",
        if_high=f"{begin_high}. {ends[1]}",
    )


def _wire_at(coil: Coil, layer: Layer, R_T: float) -> str:
    """The copper's diameter that would give this reading with the turns of the plan: R goes as one over its square."""
    d_cu = float(coil.wire.d_cu) if coil.wire else 0.0
    return show("d_cu", d_cu * (layer.R_T / R_T) ** 0.5)


def _at_the_supply(there: Fed) -> tuple[str, str]:
    if there.cold.limit == "current":
        at = f"The supply holds {show('I_f', float(there.cold.I_f))}: the ampere-turns stay and the watts"
        return f"{at} fall by the same share. Finish.", f"{at} rise by the same share. Finish."
    at = f"At {show('V_max', float(there.supply.V_max))} the ampere-turns and the watts"
    room = show("I_max", COLD_SHARE * float(there.supply.I_max))
    return (
        f"{at} rise by the same share. Finish if the cold current stays under {room}, 90 % of the supply's limit.",
        f"{at} fall by the same share: a little quieter and cooler. Finish.",
    )


def _wire_words(coil: Coil) -> str:
    wire = coil.wire
    if wire is None:
        return ""
    size = f"{plain(shown('d_cu', float(wire.d_cu)))} mm bare, {show('d_o', float(wire.d_o))} overall"
    tape = f", a layer of tape after every {coil.n_tape}" if coil.n_tape else ""
    parts = f", {coil.n_sec} sections in {coil.connection}; the ladder reads them in series" if coil.n_sec > 1 else ""
    place = f"{show('h_w', float(coil.h_w))} high on {show('D_f', float(coil.D_f))}"
    return f"{wire.name}: {wire.metal} {size}; {place}{tape}{parts}"


def _ohm(R: float, layer: Layer) -> str:
    places = 3 if layer.R_T < 1 else 2 if layer.R_T < 100 else 1 if layer.R_T < 1000 else 0
    return to_place("R_T", R, places)

"""What can hurt someone or something in this build: each caution only where it applies, short enough to be read.

Local codes and the practice of licensed electricians come first, whatever a sheet says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import Limit
from handwound.parts.prediction import Band, Prediction
from handwound.parts.source import COLD_SHARE, LEAST_SHARE
from handwound.physics.build_up import reverse_voltage
from handwound.physics.loudest import full_heat
from handwound.quantities import Num
from handwound.sheet.digits import with_band
from handwound.sheet.fed import Fed, fed
from handwound.sheet.heat_limits import HELD, after, burns_out, burnt, degrees, duration, limits, weakest
from handwound.sheet.knee import knee_is_near, knee_words
from handwound.sheet.numbers import band
from handwound.sheet.said import show
from handwound.warming import reached

TOUCH_VOLTS = 60.0
"""Direct voltage up to which a bare terminal may commonly be touched. [V] IEC 62368-1 class ES1 (from memory)"""
MANY_HENRY = 5.0
"""Inductance from which a broken circuit makes thousands of volts: common practice, no source. [H]"""
HEARING = 85.0
"""Level at which hearing protection is asked for at work. [dB] Directive 2003/10/EC (from memory)"""
BOOMS = 4.0
"""From this boom on one note stands out of all others: that of a total Q of 1.5. [dB] Common practice, no source."""
AWAY = "Keep it well away from pacemakers and implants."
RUNS_AWAY = "it has no rest on this supply. Never join them: fewer volts and amperes, or more turns of wire."
ISOLATED = ": use a ready-made isolated supply."
VAPOURS = {
    "heat-cured": "never cure it in an oven for food; gloves, and air the room",
    "bonding": "the coil is hot and its enamel gives fumes while it bonds: air the room, do not touch",
    "cyanoacrylate": "its vapour stings eyes and lungs and it bonds skin at once: air the room, wear goggles",
    "epoxy": "skin may become allergic to it: gloves, and air the room while it cures",
    "contact": "its solvent is harmful and catches fire: air the room, no flame",
}


@dataclass(frozen=True)
class Caution:
    """One caution; ``stop`` where the design as planned oversteps a limit and must be looked at before building.

    Where only the end of a band oversteps, the caution stands without the stop: a search judges as planned, too.
    """

    topic: str
    text: str
    stop: bool = False


def cautions(design: Design, brief: Brief, prediction: Prediction) -> tuple[Caution, ...]:
    """All that apply, those that say stop first."""
    there = fed(design, brief, prediction)
    found = [
        *(_heated(there, limits(design, brief, prediction), prediction) if there else ()),
        *(_supply(there) if there else ()),
        *_amplifier(brief, prediction),
        *([_kick(there)] if there else ()),
        *(_magnets(design, prediction) if design.has_magnets else ()),
        *_clearance(brief, prediction),
        *_boom(brief, prediction),
        _glue(design),
        *_sawing(brief),
        *_aluminium(design),
        _voice_coil(design, brief, prediction),
        Caution("Steel", "Cut edges and washers are sharp: deburr, wear goggles when drilling, clamp small parts."),
        *([] if design.has_magnets else [Caution("Pull", f"The live motor snatches steel, pinches fingers. {AWAY}")]),
        *_hearing(brief, prediction),
        Caution("Mains", f"Nothing here goes to the mains{ISOLATED if there else '.'} Local codes come first."),
    ]
    return tuple(sorted(found, key=lambda caution: not caution.stop))


def _supply(there: Fed) -> list[Caution]:
    found, supply = [], there.supply
    if float(supply.V_max) > TOUCH_VOLTS:
        text = (
            f"{show('V_max', float(supply.V_max))} can kill. Above {show('V_max', TOUCH_VOLTS)} d.c. cover every bare "
            "terminal and leave the wiring to licensed practice; your local code decides."
        )
        found.append(Caution("High voltage", text, stop=True))
    cold, limit, name = float(there.cold.I_f), float(supply.I_max), supply.name
    if there.cold.limit == "current":
        text = (
            f"The coil asks for more than {name} gives: it must hold {show('I_max', limit)} by itself, not shut down."
        )
        found.append(Caution("Supply", text))
    elif cold > COLD_SHARE * limit:
        text = (
            f"The cold coil draws {show('I_f', cold)}, more than 90 % of the {show('I_max', limit)} that {name} gives: "
            "it will run at its limit or shut down."
        )
        found.append(Caution("Supply", text))
    return found


def _amplifier(brief: Brief, prediction: Prediction) -> list[Caution]:
    Z, amplifier = Band(*(Z + float(brief.R_series) for Z in band(prediction, "driver.Z_min"))), brief.amplifier
    least = float(amplifier.Z_least)
    if Z.low >= least:
        return []
    says = f"{amplifier.name} is rated for {show('Z_least', least)}; the least impedance is {with_band('Z_min', Z)}"
    if Z.low < LEAST_SHARE * least:
        below = Z.value < LEAST_SHARE * least
        return [Caution("Amplifier", f"{says}. That may go below 80 % of it: wind for more ohms.", stop=below)]
    return [Caution("Amplifier", f"{says}. Common practice allows 80 % of it; never add a second one in parallel.")]


def _heated(there: Fed, found: tuple[Limit, ...], prediction: Prediction) -> list[Caution]:
    """What the field coil's heat does; where it burns out nothing comes after that."""
    if burns_out(prediction):
        return [Caution("Runs away", f"The field coil {burnt(prediction)}: {RUNS_AWAY}", stop=True)]
    return [_warmth(there, found, prediction), *_spoiled(found, prediction)]


def _warmth(there: Fed, found: tuple[Limit, ...], prediction: Prediction) -> Caution:
    watts, later = show("P_f", float(there.cold.P_f)), show("P_f", float(there.warm.P_f))
    outside, inside, touch = band(prediction, "heat.T_case"), band(prediction, "heat.T_hot"), there.T_touch
    played = max((float(each.T_end) for each in found if each.place == "T_case"), default=outside.value)
    over, may = max(played, outside.value) > touch, outside.high + max(played - outside.value, 0.0) > touch
    with_music = f", with music {degrees(played)}" if played > outside.value + 1 else ""
    asked = f" You asked for {degrees(touch)} at most: it {'will' if over else 'may'} be hotter." if may else ""
    text = (
        f"The field coil makes {watts} of heat cold, {later} warm. Outside it ends near "
        f"{with_band('T_case', outside)}{with_music}, inside at {with_band('T_hot', inside)}."
        f"{_burns(prediction)}{asked} Never leave its first run alone; nothing that burns near it."
    )
    return Caution("Hot motor", text, stop=over)


def _burns(prediction: Prediction) -> str:
    """When a hand must no longer stay on it."""
    warming = prediction.warming
    t_w = reached(warming.t_w, warming.T_case, HELD) if warming else None
    return "" if t_w is None else f" Above {degrees(HELD)}, here after {duration(t_w)}, it burns a hand that stays."


def _spoiled(found: tuple[Limit, ...], prediction: Prediction) -> list[Caution]:
    """What the field coil spoils of itself: with music as planned, or at the high end of its own band."""
    cautions, inside = [], band(prediction, "heat.T_hot")
    for each in found:
        high, over = each.T_end + inside.high - inside.value, each.is_over
        if each.is_field and each.place != "T_case" and high > each.T_lim:  # a hand has its own caution
            gets = f"gets {degrees(each.T_end)}, too much {after(each.t_lim)}" if over else f"may get {degrees(high)}"
            text = (
                f"The {each.name} bears {degrees(each.T_lim)} and {gets}: fewer volts or amperes, thinner wire on a "
                "fixed voltage, or a rest in time."
            )
            cautions.append(Caution("Too hot inside", text, stop=over))
    return cautions


def _kick(there: Fed) -> Caution:
    return Caution("Switch-off", kick(there.W_m, there.cold.I_f, there.supply.V_max))


def kick(W_m: Num, I_f: Num, V_max: Num) -> str:
    """What a field does when its circuit is broken, and the diode against it."""
    bears = f"{show('I_diode', float(I_f), 2)} and {show('V_reverse', float(reverse_voltage(V_max)), 2)}"
    return (
        f"The field holds {show('W_m', float(W_m), 2)}. A broken circuit makes {spark(W_m, I_f, V_max)} of volts of "
        f"it: before first power a diode for {bears} across the coil, its ring to plus; turn the supply down, never "
        "pull a live clip."
    )


def spark(W_m: Num, I_f: Num, V_max: Num) -> str:
    """How many volts a broken circuit makes, by what old field coils of many turns do: common practice, no source."""
    many = float(V_max) > TOUCH_VOLTS or 2 * float(W_m) > MANY_HENRY * float(I_f) ** 2
    return "thousands" if many else "hundreds"


def _snaps(prediction: Prediction) -> str:
    """The strongest pull of all, in newtons."""
    pulls = [abs(each.F_hold) for each in prediction.curves.held]
    return f", with up to {show('F_hold', max(pulls), 2)} when closed" if pulls else ""


def _magnets(design: Design, prediction: Prediction) -> list[Caution]:
    """Common practice, no source."""
    magnets = [ring for ring in design.iron.rings if ring.magnetised]
    names = " and ".join(ring.name for ring in magnets)
    found = [
        Caution(
            "Magnets",
            "Never off: it jumps to steel from a hand's breadth and crushes what is between"
            f"{_snaps(prediction)}. Wedges, never fingers; two hands, steel off the bench. {AWAY} From cards, too.",
        ),
        Caution(
            "Brittle",
            "Magnets split when they snap together: goggles on. Never drill, saw or grind one: the dust is harmful, "
            "that of neodymium burns.",
        ),
        Caution("Filings", "Keep filings and swarf from the open gap: they do not come out and scratch. Tape it."),
    ]
    for state in prediction.curves.magnets:
        if knee_is_near(state):
            found.append(Caution("Knee", f"In {state.name}, where it works worst, {knee_words(state)}"))
    if any("alnico" in ring.grade for ring in magnets):
        text = "It loses about half its strength when it is taken out of its iron: leave the old motor together."
        found.append(Caution("Alnico", text))
    if design.field_coil:
        text = "The field coil warms it, and a warm magnet is weaker: Bl and level in the warm motor count that."
        found.append(Caution("Warm magnet", text))
    alone, now = float(prediction.curves.Bl_NI[0]), float(prediction.motor.Bl)
    if now < alone:
        text = (
            f"The field coil works against {names}: {show('Bl', alone)} without current, {show('Bl', now)} with it. "
            "Swap the ends of the coil, and turn magnetised round in design.toml."
        )
        found.append(Caution("Polarity", text, stop=True))
    return found


def _clearance(brief: Brief, prediction: Prediction) -> list[Caution]:
    wanted, tight, over = float(brief.c_min), [], False
    for key, side in (("clearance.c_i", "inside"), ("clearance.c_o", "outside")):
        if key in prediction.numbers() and (air := band(prediction, key)).low < wanted:
            tight.append(f"{side} {with_band(key.split('.')[1], air)}")
            over = over or air.value < wanted
    if not tight:
        return []
    text = f"The coil may rub: {' and '.join(tight)}; you asked for {show('c_min', wanted)}. Measure the parts again."
    return [Caution("Clearance", text, stop=over)]


def _boom(brief: Brief, prediction: Prediction) -> list[Caution]:
    done = prediction.mounted
    if done is None or float(done.dL_peak) <= BOOMS:
        return []
    box = "a larger box helps, too" if brief.box else "a closed box makes it worse"
    if brief.port:
        box = "a longer port or a larger box helps, too"
    text = (
        f"Qts is {with_band('Qts', band(prediction, 'driver.Qts'))}: as it is built in, it is "
        f"{float(done.dL_peak):.0f} dB louder at about {show('f_c', float(done.f_c), 2)} than well above, one note "
        "that rings on. Common practice: more Bl, less moving mass or a suspension that damps helps; a resistor in the "
        f"leads does not, {box}."
    )
    warm = " Warm, with less field, it rings more." if prediction.heat else ""
    return [Caution("Boomy", text + warm)]


def _glue(design: Design) -> Caution:
    """All glues of the build; what they bear is told of that of the voice coil."""
    fumes = (
        "Solder and burnt enamel give bad fumes: scrape the wire, air the room. A mask against dust of card and foam."
    )
    glues = {glue.name: glue for glue in (design.glue, *(bond.glue for bond in design.bonds)) if glue}
    if not glues:
        return Caution("Glue and fumes", f"Read the glue's own label. {fumes}")
    said: dict[str, list[str]] = {}
    for glue in glues.values():
        vapour = next((words for kind, words in VAPOURS.items() if kind in glue.kind.lower()), "read its label")
        heat = f" softens near {show('T_max', float(glue.T_max))}, a warning only;" if glue is design.glue else ":"
        said.setdefault(vapour, []).append(f"{glue.name}{heat}")
    each = ". ".join(f"{' and '.join(names)} {vapour}" for vapour, names in said.items())
    return Caution("Glue and fumes", f"{each}. {fumes}")


def _sawing(brief: Brief) -> list[Caution]:
    """Common practice, no source."""
    if not (brief.box or brief.baffle):
        return []
    text = "A saw takes fingers, fine dust of boards harms lungs: guard on, goggles, mask, hands well away."
    return [Caution("Boards", text)]


def _aluminium(design: Design) -> list[Caution]:
    """Common practice, no source."""
    wires = {coil.wire.name for coil in design.coils.values() if coil.wire and coil.wire.metal != "copper"}
    if not wires:
        return []
    names = " and ".join(sorted(wires))
    return [Caution("Joints", f"{names}: no copper, so ordinary solder does not wet it. Crimp or clamp its ends.")]


def _voice_coil(design: Design, brief: Brief, prediction: Prediction) -> Caution:
    """The watts that it bears beside its warm motor; what a glue bears is a warning only."""
    rating, name, power = prediction.rating, brief.amplifier.name, show("P_max", float(brief.amplifier.P_max))
    begin = "Begin quietly, stop at any smell: hot glue lets the coil slide."
    if rating is None:
        return Caution("Voice coil", f"{name} can give {power}. {begin}")
    part, bears = weakest(design), degrees(rating.T_lim)
    if float(rating.P_cont) <= 0:
        text = (
            f"The field coil alone brings it to the {bears} that its {part} bears, before any music: a {part} that "
            f"bears more, or fewer watts in the field coil. {begin}"
        )
        return Caution("Voice coil", text, stop=True)
    T_vc, P_cont = band(prediction, "rating.T_vc"), band(prediction, "rating.P_cont")
    hot, may = T_vc.value > float(rating.T_lim), T_vc.high > float(rating.T_lim)
    loud = f" That {'is' if hot else 'may be'} too warm: play more quietly than {name} can." if may else ""
    tone = _most_watts(brief, prediction)
    burns = f" A steady tone at the full level of {name} makes {show('P_prog', tone, 2)}, too much for it."
    text = (
        f"Until its {part} has {bears} it bears {with_band('P_cont', P_cont)} for good; music makes "
        f"{show('P_prog', float(rating.P_prog))} and {with_band('T_vc', T_vc)}.{loud}"
        f"{burns if tone > P_cont.low else ''} {begin}"
    )
    return Caution("Voice coil", text, stop=hot)


def _most_watts(brief: Brief, prediction: Prediction) -> float:
    """What all of the amplifier makes in the coil where its impedance is least. [W]"""
    sound, amplifier = prediction.sound, brief.amplifier
    Z_min = sound.load.Z_min if sound else prediction.driver.Z_min + brief.R_series
    return float(full_heat(amplifier.P_max, amplifier.Z_least, Z_min, prediction.driver.Re))


def _hearing(brief: Brief, prediction: Prediction) -> list[Caution]:
    watts = _most_watts(brief, prediction)
    most = float(prediction.driver.L_1W) + 10 * math.log10(watts)
    if most <= HEARING:
        return []
    steady = ""
    if prediction.sound:
        steady = f", a steady tone up to {float(prediction.sound.loudest.L_max.max()):.0f} dB"
    text = (
        f"All of {brief.amplifier.name}, {show('P_prog', watts, 2)} in this coil, makes {most:.0f} dB at 1 m{steady}: "
        f"above {HEARING:.0f} dB protect your ears, and never hold one close to a loud tone."
    )
    return [Caution("Hearing", text)]

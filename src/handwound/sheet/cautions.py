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
from handwound.sheet.caution_words import (
    AWAY,
    BESIDE,
    BOXED,
    COOLER,
    FILINGS,
    FUMES,
    ISOLATED,
    JUMPS,
    JUMPS_WITH,
    KICKS,
    LOUD,
    LOUD_TONE,
    MAY_BE_HOTTER,
    MAYBE_TOO_WARM,
    NO_MAINS,
    OPEN,
    PORTED,
    RUNS_AWAY,
    SHARP,
    SNATCHES,
    TOO_WARM,
    WILL_BE_HOTTER,
    harm,
)  # fmt: skip
from handwound.sheet.digits import with_band
from handwound.sheet.fed import Fed, fed
from handwound.sheet.heat_limits import HELD, after, burns_out, burnt, degrees, duration, limits, weakest
from handwound.sheet.knee import knee_is_near, knee_words
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, joined, listed, printed, say, show
from handwound.warming import reached

TOUCH_VOLTS = 60.0
"""Direct voltage up to which a bare terminal may commonly be touched. [V] IEC 62368-1 class ES1 (from memory)"""
MANY_HENRY = 5.0
"""Inductance from which a broken circuit makes thousands of volts: common practice, no source. [H]"""
HEARING = 85.0
"""Level at which hearing protection is asked for at work. [dB] Directive 2003/10/EC (from memory)"""
BOOMS = 4.0
"""From this boom on one note stands out of all others: that of a total Q of 1.5. [dB] Common practice, no source."""


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
        *([Caution(say("Switch-off"), kick(there.W_m, there.cold.I_f, there.supply.V_max))] if there else ()),
        *(_magnets(design, prediction) if design.has_magnets else ()),
        *_clearance(brief, prediction),
        *_boom(brief, prediction),
        _glue(design),
        *_sawing(brief),
        *_aluminium(design),
        _voice_coil(design, brief, prediction),
        Caution(say("Steel"), say(SHARP)),
        *([] if design.has_magnets else [Caution(say("Pull"), joined(" ", (say(SNATCHES), say(AWAY))))]),
        *_hearing(brief, prediction),
        Caution(say("Mains"), say(ISOLATED if there else NO_MAINS)),
    ]
    return tuple(sorted(found, key=lambda caution: not caution.stop))


def high_voltage(there: Fed) -> list[Caution]:
    """A supply whose bare terminals kill."""
    V_max = float(there.supply.V_max)
    if V_max <= TOUCH_VOLTS:
        return []
    text = say(
        "{V_max} can kill. Above {V_touch} d.c. cover every bare terminal and leave the wiring to licensed practice; "
        "your local code decides.",
        V_max=show("V_max", V_max), V_touch=show("V_max", TOUCH_VOLTS),
    )  # fmt: skip
    return [Caution(say("High voltage"), text, stop=True)]


def _supply(there: Fed) -> list[Caution]:
    found, supply = high_voltage(there), there.supply
    cold, limit = float(there.cold.I_f), float(supply.I_max)
    if there.cold.limit == "current":
        text = say(
            "The coil asks for more than {supply} gives: it must hold {I_max} by itself, not shut down.",
            supply=supply.name, I_max=show("I_max", limit),
        )  # fmt: skip
        found.append(Caution(say("Supply"), text))
    elif cold > COLD_SHARE * limit:
        text = say(
            "The cold coil draws {I_f}, more than 90 % of the {I_max} that {supply} gives: it will run at its limit or "
            "shut down.",
            I_f=show("I_f", cold), I_max=show("I_max", limit), supply=supply.name,
        )  # fmt: skip
        found.append(Caution(say("Supply"), text))
    return found


def _amplifier(brief: Brief, prediction: Prediction) -> list[Caution]:
    Z, amplifier = Band(*(Z + float(brief.R_series) for Z in band(prediction, "driver.Z_min"))), brief.amplifier
    least = float(amplifier.Z_least)
    if Z.low >= least:
        return []
    rated = {"amplifier": amplifier.name, "Z_least": show("Z_least", least), "Z_min": with_band("Z_min", Z)}
    if Z.low < LEAST_SHARE * least:
        text = say(
            "{amplifier} is rated for {Z_least}; the least impedance is {Z_min}. That may go below 80 % of it: wind "
            "for more ohms.",
            **rated,
        )
        return [Caution(say("Amplifier"), text, stop=Z.value < LEAST_SHARE * least)]
    text = say(
        "{amplifier} is rated for {Z_least}; the least impedance is {Z_min}. Common practice allows 80 % of it; never "
        "add a second one in parallel.",
        **rated,
    )
    return [Caution(say("Amplifier"), text)]


def _heated(there: Fed, found: tuple[Limit, ...], prediction: Prediction) -> list[Caution]:
    """What the field coil's heat does; where it burns out nothing comes after that."""
    if burns_out(prediction):
        text = say("The field coil {burnt}: {why}", burnt=burnt(prediction), why=say(RUNS_AWAY))
        return [Caution(say("Runs away"), text, stop=True)]
    return [_warmth(there, found, prediction), *_spoiled(found, prediction)]


def _warmth(there: Fed, found: tuple[Limit, ...], prediction: Prediction) -> Caution:
    outside, touch = band(prediction, "heat.T_case"), there.T_touch
    played = max((float(each.T_end) for each in found if each.place == "T_case"), default=outside.value)
    over, may = max(played, outside.value) > touch, outside.high + max(played - outside.value, 0.0) > touch
    text = [_ends(there, played, prediction), *_burns(prediction)]
    if may:
        text.append(say(WILL_BE_HOTTER if over else MAY_BE_HOTTER, T_touch=degrees(touch, "T_touch")))
    text.append(say("Never leave its first run alone; nothing that burns near it."))
    return Caution(say("Hot motor"), joined(" ", text), stop=over)


def _ends(there: Fed, played: float, prediction: Prediction) -> Said:
    """The heat that it makes, and how warm it is in the end; with music, where that makes a difference."""
    outside = band(prediction, "heat.T_case")
    ends = {
        "cold": show("P_f", float(there.cold.P_f)),
        "warm": show("P_f", float(there.warm.P_f)),
        "T_case": with_band("T_case", outside),
        "T_hot": with_band("T_hot", band(prediction, "heat.T_hot")),
    }
    if played > outside.value + 1:
        return say(
            "The field coil makes {cold} of heat cold, {warm} warm. Outside it ends near {T_case}, with music "
            "{played}, inside at {T_hot}.",
            played=degrees(played, "T_case"), **ends,
        )  # fmt: skip
    return say(
        "The field coil makes {cold} of heat cold, {warm} warm. Outside it ends near {T_case}, inside at {T_hot}.",
        **ends,
    )


def _burns(prediction: Prediction) -> list[Said]:
    """When a hand must no longer stay on it."""
    warming = prediction.warming
    t_w = reached(warming.t_w, warming.T_case, HELD) if warming else None
    if t_w is None:
        return []
    return [say("Above {T}, here after {time}, it burns a hand that stays.", T=degrees(HELD), time=duration(t_w))]


def _spoiled(found: tuple[Limit, ...], prediction: Prediction) -> list[Caution]:
    """What the field coil spoils of itself: with music as planned, or at the high end of its own band."""
    cautions, inside = [], band(prediction, "heat.T_hot")
    for each in found:
        high = each.T_end + inside.high - inside.value
        if each.is_field and each.place != "T_case" and high > each.T_lim:  # a hand has its own caution
            bears = {"part": each.name, "T_lim": degrees(each.T_lim, "T_lim")}
            if each.is_over:
                gets = degrees(each.T_end, "T_end")
                text = say(
                    "The {part} bears {T_lim} and gets {T_end}, too much {after}: {cure}",
                    T_end=gets, after=after(each.t_lim), cure=say(COOLER), **bears,
                )  # fmt: skip
            else:
                text = say(
                    "The {part} bears {T_lim} and may get {T_end}: {cure}",
                    T_end=degrees(high, "T_end"), cure=say(COOLER), **bears,
                )  # fmt: skip
            cautions.append(Caution(say("Too hot inside"), text, stop=each.is_over))
    return cautions


def kick(W_m: Num, I_f: Num, V_max: Num) -> Said:
    """What a field does when its circuit is broken, and the diode against it."""
    return say(
        KICKS[spark(W_m, I_f, V_max)], W_m=show("W_m", float(W_m), 2), I_diode=show("I_diode", float(I_f), 2),
        V_reverse=show("V_reverse", float(reverse_voltage(V_max)), 2),
    )  # fmt: skip


def spark(W_m: Num, I_f: Num, V_max: Num) -> str:
    """How many volts a broken circuit makes, by what old field coils of many turns do: common practice, no source."""
    many = float(V_max) > TOUCH_VOLTS or 2 * float(W_m) > MANY_HENRY * float(I_f) ** 2
    return "thousands" if many else "hundreds"


def _magnets(design: Design, prediction: Prediction) -> list[Caution]:
    """Common practice, no source."""
    magnets = [ring for ring in design.iron.rings if ring.magnetised]
    found = [
        Caution(say("Magnets"), joined(" ", (_snaps(prediction), say(AWAY), say("From cards, too.")))),
        Caution(
            say("Brittle"),
            say(
                "Magnets split when they snap together: goggles on. Never drill, saw or grind one: the dust is "
                "harmful, that of neodymium burns."
            ),
        ),
        Caution(say("Filings"), say(FILINGS)),
    ]
    for state in prediction.curves.magnets:
        if knee_is_near(state):
            text = say("In {name}, where it works worst, {knee}", name=state.name, knee=knee_words(state))
            found.append(Caution(say("Knee"), text))
    if any("alnico" in ring.grade for ring in magnets):
        text = say("It loses about half its strength when it is taken out of its iron: leave the old motor together.")
        found.append(Caution(say("Alnico"), text))
    if design.field_coil:
        text = say("The field coil warms it, and a warm magnet is weaker: Bl and level in the warm motor count that.")
        found.append(Caution(say("Warm magnet"), text))
    return [*found, *_against([ring.name for ring in magnets], prediction)]


def _snaps(prediction: Prediction) -> Said:
    """How a magnet jumps, with the strongest pull of all."""
    pulls = [abs(each.F_hold) for each in prediction.curves.held]
    return say(JUMPS_WITH, F_hold=show("F_hold", max(pulls), 2)) if pulls else say(JUMPS)


def _against(magnets: list[str], prediction: Prediction) -> list[Caution]:
    """A field coil that takes away from its magnets."""
    alone, now = float(prediction.curves.Bl_NI[0]), float(prediction.motor.Bl)
    if now >= alone:
        return []
    text = say(
        "The field coil works against {magnets}: {alone} without current, {now} with it. Swap the ends of the coil, "
        "and turn magnetised round in design.toml.",
        magnets=listed(magnets), alone=show("Bl", alone), now=show("Bl", now),
    )  # fmt: skip
    return [Caution(say("Polarity"), text, stop=True)]


def _clearance(brief: Brief, prediction: Prediction) -> list[Caution]:
    wanted, tight, over = float(brief.c_min), [], False
    for key in BESIDE:
        if key in prediction.numbers() and (air := band(prediction, key)).low < wanted:
            tight.append(say(BESIDE[key], c=with_band(key.split(".")[1], air)))
            over = over or air.value < wanted
    if not tight:
        return []
    text = say(
        "The coil may rub: {air}; you asked for {c_min}. Measure the parts again.",
        air=listed(tight), c_min=show("c_min", wanted),
    )  # fmt: skip
    return [Caution(say("Clearance"), text, stop=over)]


def _boom(brief: Brief, prediction: Prediction) -> list[Caution]:
    done = prediction.mounted
    if done is None or float(done.dL_peak) <= BOOMS:
        return []
    helps = [say(PORTED if brief.port else BOXED if brief.box else OPEN)]
    if prediction.heat:
        helps.append(say("Warm, with less field, it rings more."))
    text = say(
        "Qts is {Qts}: as it is built in, it is {dL_peak} louder at about {f_c} than well above, one note that rings "
        "on. {helps}",
        Qts=with_band("Qts", band(prediction, "driver.Qts")), f_c=show("f_c", float(done.f_c), 2),
        dL_peak=printed("dL_peak", done.dL_peak, f"{float(done.dL_peak):.0f}", "dB"), helps=joined(" ", helps),
    )  # fmt: skip
    return [Caution(say("Boomy"), text)]


def _glue(design: Design) -> Caution:
    """All glues of the build; what they bear is told of that of the voice coil."""
    glues = {glue.name: glue for glue in (design.glue, *(bond.glue for bond in design.bonds)) if glue}
    if not glues:
        return Caution(say("Glue and fumes"), joined(" ", (say("Read the glue's own label."), say(FUMES))))
    warned: dict[Said, list[str]] = {}
    for glue in glues.values():
        warned.setdefault(harm(glue), []).append(glue.name)
    text = [say("{glues}: {warning}.", glues=listed(names), warning=warning) for warning, names in warned.items()]
    if design.glue:
        softens = show("T_max", float(design.glue.T_max))
        text.append(say("{glue} softens near {T_max}, a warning only.", glue=design.glue.name, T_max=softens))
    return Caution(say("Glue and fumes"), joined(" ", (*text, say(FUMES))))


def _sawing(brief: Brief) -> list[Caution]:
    """Common practice, no source."""
    if not (brief.box or brief.baffle):
        return []
    text = say("A saw takes fingers, fine dust of boards harms lungs: guard on, goggles, mask, hands well away.")
    return [Caution(say("Boards"), text)]


def _aluminium(design: Design) -> list[Caution]:
    """Common practice, no source."""
    wires = {coil.wire.name for coil in design.coils.values() if coil.wire and coil.wire.metal != "copper"}
    if not wires:
        return []
    text = say(
        "{wires}: no copper, so ordinary solder does not wet it. Crimp or clamp its ends.", wires=listed(sorted(wires))
    )
    return [Caution(say("Joints"), text)]


def _voice_coil(design: Design, brief: Brief, prediction: Prediction) -> Caution:
    """The watts that it bears beside its warm motor; what a glue bears is a warning only."""
    rating, name = prediction.rating, brief.amplifier.name
    begin = say("Begin quietly, stop at any smell: hot glue lets the coil slide.")
    if rating is None:
        gives = say("{name} can give {P_max}.", name=name, P_max=show("P_max", float(brief.amplifier.P_max)))
        return Caution(say("Voice coil"), joined(" ", (gives, begin)))
    part, T_lim = weakest(design), degrees(rating.T_lim, "T_lim")
    if float(rating.P_cont) <= 0:
        alone = say(
            "The field coil alone brings it to the {T_lim} that its {part} bears, before any music: a {part} that "
            "bears more, or fewer watts in the field coil.",
            T_lim=T_lim, part=part,
        )  # fmt: skip
        return Caution(say("Voice coil"), joined(" ", (alone, begin)), stop=True)
    T_vc, P_cont = band(prediction, "rating.T_vc"), band(prediction, "rating.P_cont")
    hot = T_vc.value > float(rating.T_lim)
    text = [say(
        "Until its {part} has {T_lim} it bears {P_cont} for good; music makes {P_prog} and {T_vc}.",
        part=part, T_lim=T_lim, P_cont=with_band("P_cont", P_cont), P_prog=show("P_prog", float(rating.P_prog)),
        T_vc=with_band("T_vc", T_vc),
    )]  # fmt: skip
    if T_vc.high > float(rating.T_lim):
        text.append(say(TOO_WARM if hot else MAYBE_TOO_WARM, amplifier=name))
    tone = _most_watts(brief, prediction)
    if tone > P_cont.low:
        text.append(say(
            "A steady tone at the full level of {amplifier} makes {watts}, too much for it.",
            amplifier=name, watts=show("P_prog", tone, 2),
        ))  # fmt: skip
    return Caution(say("Voice coil"), joined(" ", (*text, begin)), stop=hot)


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
    makes = {
        "amplifier": brief.amplifier.name,
        "watts": show("P_prog", watts, 2),
        "level": printed("L_max", most, f"{most:.0f}", "dB"),
        "limit": printed("L_max", HEARING, f"{HEARING:.0f}", "dB"),
    }
    if prediction.sound is None:
        return [Caution(say("Hearing"), say(LOUD, **makes))]
    tone = float(prediction.sound.loudest.L_max.max())
    return [Caution(say("Hearing"), say(LOUD_TONE, tone=printed("L_max", tone, f"{tone:.0f}", "dB"), **makes))]

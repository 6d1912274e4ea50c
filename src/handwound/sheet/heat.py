"""The driver's heat in full as tables of words: one table a question, each with what to make of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwound.parts.heat_study import Bears, Duty, Feeding, FromCold, HeatStudy, Help, Music, State, VoiceHeat
from handwound.programme import USUAL
from handwound.quantities import Num
from handwound.sheet.caution_words import RUNS_AWAY
from handwound.sheet.cautions import TOUCH_VOLTS, Caution, kick
from handwound.sheet.digits import decibels
from handwound.sheet.heat_limits import HELD, TOUCHED, degrees, duration, head, row
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import show
from handwound.sheet.warming import FED, FILMS, WARM
from handwound.warming import RUNAWAY

JUST = 1e-6
"""A share by which rounding may go beyond what an amplifier gives. [1]"""
SURE = 0.9
"""Share of the way to a limit that may be used: still air is known to a tenth of the rise. [1]"""
CURES = {
    "glue": "a glue that cures hot bears 100 to 120 °C (from memory)",
    "former": "a former of thicker film, glass-epoxy or aluminium bears more than paper",
    "enamel": "wire of a higher class bears more",
}
"""What helps against the part that gives way first: common practice."""


def tables(found: HeatStudy) -> tuple[Table, ...]:
    """Everything that there is to say about the heat, in the order in which one asks."""
    return tuple(_tables(found))


def _tables(found: HeatStudy) -> Iterator[Table]:
    yield _from_cold(found.from_cold, found)
    yield _limits(found)
    if found.feedings:
        yield _feedings(found.feedings, found)
    if runs_away(found.from_cold):
        return  # what comes after it never comes
    if found.duties:
        yield _duties(found.duties, found)
    yield _music(found.voice)
    yield _bears(found.voice.bears, found.voice)
    yield _helps(found.helps, found)


def runs_away(cold: FromCold) -> bool:
    """Whether the field coil has no rest that any insulation bears."""
    return cold.t_out is not None or float(cold.end.T_hot or 0.0) >= RUNAWAY


def _numbers(state: State, columns: Sequence[str]) -> Row:
    """The columns that a driver has, field coil or not."""
    there = ((name, getattr(state, name)) for name in columns)
    return tuple(degrees(value) if name.startswith("T_") else show(name, float(value)) for name, value in there
                 if value is not None)  # fmt: skip


def _head(state: State, columns: Sequence[str]) -> Row:
    return tuple((FED | WARM)[name] for name in columns if getattr(state, name) is not None)


def _numbered(rows: Sequence[Row]) -> tuple[int, ...]:
    """All columns but the first hold numbers."""
    return tuple(range(1, len(rows[0])))


def _from_cold(cold: FromCold, found: HeatStudy) -> Table:
    columns = (*FED, *WARM)
    rows = [("", *_head(cold.end, columns))]
    for t, state in zip(cold.t_w.tolist(), cold.states, strict=True):
        rows.append(("cold" if not t else duration(t), *_numbers(state, columns)))
    if runs_away(cold):
        after = "later" if cold.t_out is None else f"after {duration(cold.t_out)}"
        near = f"It runs away and burns out {after}: no rest below {degrees(RUNAWAY)}, which no insulation bears"
    else:
        rows.append(("end", *_numbers(cold.end, columns)))
        near = "Not there yet" if cold.t_near is None else f"All within 1 K of the end after {duration(cold.t_near)}"
    note = f"{near}. The voice coil plays all the time. {FILMS}"
    return Table("From cold, left on", tuple(rows), note, right=tuple(range(len(rows[0]))))


def _limits(found: HeatStudy) -> Table:
    limits, away = found.limits, runs_away(found.from_cold)
    rows: list[Row] = [head()]
    for each in limits:
        name, bears, *ends, there = row(each)
        if away:  # nothing comes to an end, and nothing to its limit once that is gone
            ends = ["burns out", ""]
            there = "burnt by then" if each.t_lim is None or each.t_lim > (found.from_cold.t_out or 0.0) else there
        rows.append((name, bears, *ends, there))
    broken = [each for each in limits if each.is_over]
    if broken:
        first = min(broken, key=lambda each: float("inf") if each.t_lim is None else float(each.t_lim))
        within = "later than was followed" if first.t_lim is None else f"after {duration(first.t_lim)}"
        note = f"Not for good: from cold the first is reached {within}, {first.name}."
    else:
        near = [each.name for each in limits if each.used > SURE]
        note = f"It may run for good{f', but too near to be sure: {near[0]}' if near else ''}."
    note += " What glue and spool bear is a warning only."
    return Table("How long it may run", tuple(rows), note, _numbered(rows))


def _feedings(feedings: Sequence[Feeding], found: HeatStudy) -> Table:
    drawn = "I_f", "NI", "P_f"
    rows: list[Row] = [("", *(FED[name] for name in drawn), "level", "outside", "hot spot")]
    for each in feedings:
        if each.end is None:
            rows.append((each.name, *_numbers(each.cold, drawn), "runs away", "", ""))
            continue
        ends = (_from_to(name, each.cold, each.end) for name in drawn)
        warm = (degrees(each.end.T_case), degrees(each.end.T_hot or 0.0))
        rows.append((each.name, *ends, decibels(each.dL or 0.0), *warm))
    return Table(
        "How it is fed, cold and in the end", tuple(rows), " ".join(_fed_note(feedings, found)), _numbered(rows)
    )


def _from_to(name: str, cold: State, end: State) -> str:
    """``"0.67 to 0.56 A"``; one number where nothing changes."""
    before, after = (show(name, float(getattr(state, name))) for state in (cold, end))
    return after if before == after else f"{before.rpartition(' ')[0]} to {after}"


def _fed_note(feedings: Sequence[Feeding], found: HeatStudy) -> Iterator[str]:
    yield f"Level is that of the end beside this supply cold, by Bl alone. {_supply(feedings[0])}"
    yield "On a steady voltage a warming coil draws less: it loses level, and cools itself."
    yield "At a steady current the level stays, and the watts rise with the resistance."
    constant = found.constant
    if constant:
        ends = f"above {show('I_rest', float(constant.I_rest))} it runs away: no rest below "
        ends += f"{degrees(constant.T_none)}, which no insulation bears."
        if constant.I_keep is None:
            yield f"No steady current or voltage keeps the limits of the field coil; {ends}"
        else:
            volts = show("V_keep", float(constant.V_keep or 0.0))
            yield f"A steady voltage may be {volts} at most for good (first comes: {constant.first})."
            yield f"A steady current may be {show('I_keep', float(constant.I_keep))} at most for good; {ends}"


def _supply(each: Feeding) -> str:
    """Which limit of the supply holds, and when it goes over to the other."""
    if each.limit[0] == each.limit[1]:
        return f"This supply is at its limit of {each.limit[0]} all the time."
    when = "later" if each.t_cross is None else f"after {duration(each.t_cross)}"
    return f"This supply is at its limit of {each.limit[0]} from cold, {when} at that of {each.limit[1]}."


def _duties(duties: Sequence[Duty], found: HeatStudy) -> Table:
    rows: list[Row] = [("on", "off", "outside", "hot spot", "voice coil", "Bl when on again", "loses", "limits")]
    for each in duties:
        warm = tuple(degrees(T or 0.0) for T in (each.hottest.T_case, each.hottest.T_hot, each.hottest.T_vc))
        again = show("Bl", float(each.again.Bl or 0.0))
        more = f" and {len(each.over) - 1} more" if len(each.over) > 1 else ""
        held = f"over: {each.over[0]}{more}" if each.over else "hold"
        rows.append((duration(each.t_on), duration(each.t_rest), *warm, again, decibels(each.dL or 0.0), held))
    note = (
        "Highest temperatures of a round in the long run, both coils on and off together; what each round loses by Bl."
    )
    if any(each.is_over for each in found.limits):
        note += f" Left on it oversteps a limit; {_kept(found.t_keep)}."
    return Table("On and off, again and again", tuple(rows), note, right=(1, 2, 3, 4, 5, 6))


def _kept(t_keep: float | None) -> str:
    if t_keep is None:
        return "even the shortest time on, with as long a rest, does not keep them all"
    return f"with as long a rest, up to {duration(t_keep)} on keeps them all"


def _music(voice: VoiceHeat) -> Table:
    peaks = any(each.T_pk is not None for each in voice.music)
    rows: list[Row] = [
        ("peaks", "volts", "watts in the coil", "ends at", "loses", *(("hottest", "loses then") if peaks else ()))
    ]
    for each in voice.music:
        volts, watts = show("U_prog", float(each.U_prog), 2), show("P_prog", float(each.P_prog), 2)
        row = (show("level", float(each.level)), volts, watts, degrees(each.T_vc), _lost(each.dL_hot))
        rows.append((*row, *_peak(each)))
    note = (
        f"Played: {voice.programme}, crest factor {show('crest', float(voice.crest))}; its peaks beside the highest "
        "that the amplifier gives. Level is lost where the impedance is all resistance; at resonance hardly any. What "
        "quiet music loses, the warm motor takes."
    )
    if peaks:
        note += " Hottest is the highest in the file, played round and round, in quarters of a second."
    elif voice.programme != USUAL:
        note += " The file is too short for a hottest moment: longer than a quarter of a second tells it."
    weakest = voice.parts[0]
    hot = [each.level for each in voice.music if max(each.T_vc, each.T_pk or 0.0) > weakest.T_max]
    if hot:
        note += f" Too hot for the {weakest.name} with peaks at {show('level', float(min(hot)))} and above."
    return Table("Voice coil with music", tuple(rows), note, _numbered(rows))


def _lost(dL: Num) -> str:
    return f"{float(dL):.1f} dB"


def _peak(each: Music) -> Row:
    return () if each.T_pk is None or each.dL_pk is None else (degrees(each.T_pk), _lost(each.dL_pk))


def _bears(bears: Sequence[Bears], voice: VoiceHeat) -> Table:
    rows: list[Row] = [("", "heat in the coil", "volts of this programme", "nominal watts", "this amplifier")]
    most = max(float(each.U_prog) * 10 ** (-float(each.level) / 20) for each in voice.music)
    for each in bears:
        if each.P_prog > 0:
            cells = [show(name, float(getattr(each, name)), 2) for name in ("P_prog", "U_prog", "P_nom")]
            beyond = each.U_prog > most * (1 + JUST)
            rows.append((each.name, *cells, "more than it gives" if beyond else ""))
        else:
            rows.append((each.name, "none", "none", "none", ""))
    weakest = voice.parts[0]
    borne = ", ".join(f"{part.name} {degrees(part.T_max)}" for part in voice.parts)
    note = f"Until the weakest part has what it bears, with the motor warm. They bear: {borne}. "
    note += f"First gives way the {weakest.name}: {CURES[weakest.name]}. Nominal watts are of these volts on the rated "
    note += f"impedance. This amplifier gives at most {show('U_prog', most, 2)} of this programme; low notes may run "
    note += "out of stroke first. Limits of glue are a warning only: begin quietly, stop at any smell."
    if bears[0].P_prog <= 0:
        note = f"The motor alone brings the {weakest.name} past {degrees(weakest.T_max)}: no music at all. {note}"
    return Table("What the voice coil bears", tuple(rows), note, right=(1, 2, 3))


def _helps(helps: Sequence[Help], found: HeatStudy) -> Table:
    columns = tuple(name for name in WARM if name != "T_f")
    rows: list[Row] = [("", "change", *_head(found.from_cold.end, columns), "level")]
    for each in helps:
        rows.append((each.name, f"{float(each.dT_place):+.0f} K", *_numbers(each.end, columns), decibels(each.dL)))
    note = f"One change at a time, in the end. The first column is for what comes to its limit first: {found.place}."
    if any("wax" in each.name for each in helps):
        note += " Wax melts at 50 to 65 °C (from memory) and runs out of a hotter coil."
    return Table("What would help", tuple(rows), note, _numbered(rows))


def cautions(found: HeatStudy) -> tuple[Caution, ...]:
    """What may hurt: only what applies."""
    return tuple(sorted(_cautions(found), key=lambda caution: not caution.stop))


def _cautions(found: HeatStudy) -> Iterator[Caution]:
    T_case = float(found.from_cold.end.T_case)
    if runs_away(found.from_cold):
        yield Caution("Runs away", f"The field coil burns out: {RUNS_AWAY}", stop=True)
    elif T_case >= HELD:
        touched = f"above {degrees(TOUCHED)} metal burns at a touch, above {degrees(HELD)} when it is held"
        text = f"Its outside comes to {degrees(T_case)}, inside it is hotter: {touched} (ISO 13732-1, from memory)."
        yield Caution("Burns", f"{text} A thermometer, not a finger.", stop=T_case >= TOUCHED)
    if found.V_max is None or found.W_m is None:
        yield Caution("Voice coil", "Hot glue lets the coil slide: begin quietly, stop at any smell.")
        return
    yield Caution("Heat run", "Stay with it the first time, nothing that burns around it; stop at any smell or smoke.")
    yield Caution("Switch-off", kick(found.W_m, found.from_cold.states[0].I_f or 0.0, found.V_max))
    if float(found.V_max) > TOUCH_VOLTS:
        text = (
            f"{show('V_max', float(found.V_max))} can kill: above {show('V_max', TOUCH_VOLTS)} d.c. the wiring is for "
            "licensed practice, and your local code decides."
        )
        yield Caution("High voltage", text, stop=True)

"""The first current: a tenth, then all of it, cold, then warm; by the supply's volts or by its amperes."""

from __future__ import annotations

import math

import numpy as np

from handwound.parts.prediction import Band
from handwound.physics.wire import resistivity
from handwound.sheet.build import care
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.caution_words import RUNS_AWAY
from handwound.sheet.digits import with_band
from handwound.sheet.fed import Fed
from handwound.sheet.heat_limits import burns_out, burnt, duration
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, joined, say, show

JUST = 1e-6
"""Relative difference below which a current is at the limit."""
LAST = 1.0
"""What is nearer to its end than this is warm. [K]"""


def energise(build: Build, there: Fed) -> Operation:
    """First a tenth, then all of it, watched."""
    title, cautions = say("First current"), care.power(build, there)
    if burns_out(build.prediction):
        do = say("Do not switch it on: on this supply the field coil {burnt}.", burnt=burnt(build.prediction))
        stop = say("The field coil burns out: {away}", away=say(RUNS_AWAY))
        return Operation("EN", title, (do,), (), stop, cautions=cautions)
    by_current = there.cold.limit == "current"
    do, cold = _by_current(build, there) if by_current else _by_voltage(build, there)
    start = say(
        "Diode across the coil, its ring to plus; then the ohmmeter once more from coil to iron: open. Supply at zero, "
        "then connect, a tenth first, then turn it up."
    )
    tools = (
        say("supply"), say("diode"), say("voltmeter"), say("ammeter"), say("ohmmeter"), say("thermometer"),
        say("clock"), say("screws or plugs for the supply's leads, no loose clips"),
    )  # fmt: skip
    if build.off is None:
        run = _heat_run(build)
        checks = (*cold, *(_warm_by_current if by_current else _warm_by_voltage)(build, there), _outside(build, there))
    else:
        run, checks = say("Do not leave it on: {off}. Measure, stay with it.", off=build.off), tuple(cold)
    return Operation("EN", title, (start, do, run), checks, _stop(there), tools, cautions=cautions)


def _heat_run(build: Build) -> Said:
    """As long as it takes until nothing warms any more: the prediction knows when all but the last kelvin is there."""
    run = build.prediction.warming
    rises = [T for T in (run.T_case, run.T_f) if T is not None] if run else []
    late = [(run.t_w, np.flatnonzero(abs(T - T[-1]) > LAST)) for T in rises] if run else []
    ends = [float(t_w[at[-1] + 1]) for t_w, at in late if len(at)]
    if not ends:
        return say("Heat run: volts and amperes every 10 minutes until they no longer change: warm. Stay with it.")
    return say(
        "Heat run: volts and amperes every 10 minutes until they no longer change, about {t_w}: warm. Stay with it.",
        t_w=duration(max(ends), "t_w"),
    )  # fmt: skip


def _outside(build: Build, there: Fed) -> Check:
    return Check(
        say("outside, warm"), with_band("T_case", band(build.prediction, "heat.T_case")), say("Better so."),
        say("Turn the supply down until it stays below {T_touch}.", T_touch=show("T_touch", there.T_touch)),
    )  # fmt: skip


def _stop(there: Fed) -> Said:
    """The copper as its own thermometer: its mean is as far below the hot spot as in the end."""
    wire = there.coil.wire
    if wire is None:
        return say("Stop at any smell or smoke, when the amperes climb by themselves.")
    T = float(wire.T_max) - float(there.warm.T_hot - there.warm.T_f)
    return say(
        "Stop at any smell or smoke, when the amperes climb by themselves, or at {ohms} (volts over amperes): its hot "
        "spot then has the {T_max} that its enamel bears.",
        ohms=show("R_T", float(there.wound.R_20 * resistivity(1.0, wire.alpha_20, T))),
        T_max=show("T_max", float(wire.T_max)),
    )  # fmt: skip


def settings(there: Fed) -> Said:
    """How the supply is set: its volts, and its amperes where those are what it holds."""
    if there.cold.limit == "current":
        volts, amperes = show("V_max", float(there.supply.V_max)), show("I_max", float(there.supply.I_max))
        return say("{volts} and {amperes}", volts=volts, amperes=amperes)
    return show("V_f", float(there.cold.V_f))


def _by_voltage(build: Build, there: Fed) -> tuple[Said, list[Check]]:
    made, supply, V = build.prediction, there.supply, float(there.cold.V_f)
    cold, R = band(made, "excitation.I_f"), band(made, "field_winding.R_T")
    do = say(
        "Full: {settings} on {supply}; the current falls as the copper warms.", settings=settings(there),
        supply=supply.name,
    )  # fmt: skip
    if cold.high >= float(supply.I_max) * (1 - JUST):
        near = say(
            "Near its limit: if it holds {I_max} at fewer volts, leave it so; it rises to them as it warms.",
            I_max=show("I_max", float(supply.I_max)),
        )
        do = joined(" ", (do, near))
    return do, [
        Check(
            say("current at {V_f}, cold", V_f=show("V_f", V / 10)), with_band("I_f", _ratio(V / 10, R)),
            say("A bad joint or a thinner wire."),
            say("Shorted turns or a thicker wire: compare with the ohms of the ladder."),
        ),
        Check(
            say("current at {V_f}, cold", V_f=show("V_f", V)), with_band("I_f", cold),
            say("The field is weaker by about as much."), say("More field and more heat: watch the supply's limit."),
        ),
    ]  # fmt: skip


def _by_current(build: Build, there: Fed) -> tuple[Said, list[Check]]:
    made, supply = build.prediction, there.supply
    limit, most = float(supply.I_max), show("V_f", float(supply.V_max))
    cold, warm, volts = band(made, "excitation.I_f"), band(made, "heat.I_f"), band(made, "excitation.V_f")
    R = band(made, "field_winding.R_T")
    parts = [
        say(
            "Set {supply} to {settings}. Cold it holds {I_f} at about {volts}.", supply=supply.name,
            settings=settings(there), I_f=show("I_f", limit), volts=with_band("V_f", volts),
        ),
        say("The volts rise as the copper warms until they reach {most}; from there on the current falls.", most=most)
        if warm.value < limit * (1 - JUST)
        else say("The volts rise as the copper warms."),
    ]  # fmt: skip
    if cold.low < limit * (1 - JUST):
        thin = say(
            "A thin wire may reach {most} cold already and draw {I_f}: that is fine.", most=most,
            I_f=show("I_f", cold.low),
        )  # fmt: skip
        parts.append(thin)
    low = say("Shorted turns or a thicker wire: compare with the ohms of the ladder.")
    high, tenth = say("A bad joint or thin wire."), Band(*(limit / 10 * ohms for ohms in R))
    return joined(" ", parts), [
        Check(say("volts at {I_f}, cold", I_f=show("I_f", limit / 10)), with_band("V_f", tenth), low, high),
        Check(say("volts at {I_f}, cold", I_f=show("I_f", limit)), with_band("V_f", volts), low, high),
    ]


def _warm_by_voltage(build: Build, there: Fed) -> list[Check]:
    return [_warm_current(float(there.cold.V_f), band(build.prediction, "heat.I_f"), there.T_touch)]


def _warm_by_current(build: Build, there: Fed) -> list[Check]:
    limit, warm = float(there.supply.I_max), band(build.prediction, "heat.I_f")
    checks = []
    if warm.high >= limit * (1 - JUST):
        high = say(
            "Hotter than planned: turn the current down if it passes {T_touch}.",
            T_touch=show("T_touch", there.T_touch),
        )
        words = say("volts at {I_f}, warm", I_f=show("I_f", limit))
        expected = with_band("V_f", _warm_volts(build, there))
        checks.append(Check(words, expected, say("Cooler than planned. Fine."), high))
    if warm.low < limit * (1 - JUST):
        checks.append(_warm_current(float(there.supply.V_max), warm, there.T_touch))
    return checks


def _warm_current(V: float, warm: Band, T_touch: float) -> Check:
    return Check(
        say("current at {V_f}, warm", V_f=show("V_f", V)), with_band("I_f", warm),
        say(
            "Hotter than planned, a weaker field: give it air; outside above {T_touch} turn it down.",
            T_touch=show("T_touch", T_touch),
        ), say("Cooler than planned, or still warming."),
    )  # fmt: skip


def _ratio(V: float, R: Band) -> Band:
    return Band(V / R.value, V / R.high, V / R.low, V / R.median)


def _warm_volts(build: Build, there: Fed) -> Band:
    """Ohm's law with the warm copper, up to the supply's volts: cold resistance and warmth are told apart."""
    made, supply, wire = build.prediction, there.supply, there.coil.wire
    R, T = band(made, "field_winding.R_T"), band(made, "heat.T_f")
    if wire is None:
        return band(made, "excitation.V_f")
    rise = [float(resistivity(1.0, wire.alpha_20, each)) for each in (float(build.brief.T_room), *T)]
    hot = R.value * rise[1] / rise[0]
    low = hot * math.hypot(1 - R.low / R.value, 1 - rise[2] / rise[1])
    high = hot * math.hypot(R.high / R.value - 1, rise[3] / rise[1] - 1)
    return Band(*(min(float(supply.V_max), float(supply.I_max) * ohms) for ohms in (hot, hot - low, hot + high, hot)))

"""The first current: a tenth, then all of it, cold, then warm; by the supply's volts or by its amperes."""

from __future__ import annotations

import math

from handwound.parts.prediction import Band
from handwound.physics.wire import resistivity
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.cautions import RUNS_AWAY
from handwound.sheet.digits import with_band
from handwound.sheet.fed import Fed
from handwound.sheet.heat_limits import burns_out, burnt
from handwound.sheet.numbers import band
from handwound.sheet.said import show

WARM = ", warm"
"""Ends what is read when it no longer warms."""
JUST = 1e-6
"""Relative difference below which a current is at the limit."""
HEAT_RUN = "Heat run: volts and amperes every 5 minutes until they no longer change: warm. Measure, stay with it."


def energise(build: Build, fed: Fed) -> Operation:
    """First a tenth, then all of it, watched."""
    if burns_out(build.prediction):
        do = f"Do not switch it on: on this supply the field coil {burnt(build.prediction)}."
        return Operation("EN", "First current", (do,), (), f"The field coil burns out: {RUNS_AWAY}")
    do, checks = _by_current(build, fed) if fed.cold.limit == "current" else _by_voltage(build, fed)
    outside = Check(
        "outside, warm", with_band("T_case", band(build.prediction, "heat.T_case")), "Better so.",
        f"Turn the supply down until it stays below {show('T_touch', fed.T_touch)}.",
    )  # fmt: skip
    start = "Diode across the coil, its ring to plus. Supply at zero, then connect, then turn it up."
    stop = f"Stop at any smell or smoke, when the amperes climb by themselves{_too_many_ohms(fed)}."
    if build.off is None:
        return Operation("EN", "First current", (start, do, HEAT_RUN), (*checks, outside), stop)
    cold = tuple(check for check in checks if not check.what.endswith(WARM))
    off = f"Do not leave it on: {build.off}. Measure, stay with it."
    return Operation("EN", "First current", (start, do, off), cold, stop)


def _too_many_ohms(fed: Fed) -> str:
    """The copper as its own thermometer: its mean is as far below the hot spot as in the end."""
    wire = fed.coil.wire
    if wire is None:
        return ""
    T = float(wire.T_max) - float(fed.warm.T_hot - fed.warm.T_f)
    ohms = show("R_T", float(fed.wound.R_20 * resistivity(1.0, wire.alpha_20, T)))
    bears = show("T_max", float(wire.T_max))
    return f", or at {ohms} (volts over amperes): its hot spot then has the {bears} that its enamel bears"


def settings(fed: Fed) -> str:
    """How the supply is set: its volts, and its amperes where those are what it holds."""
    if fed.cold.limit == "current":
        return f"{show('V_max', float(fed.supply.V_max))} and {show('I_max', float(fed.supply.I_max))}"
    return show("V_f", float(fed.cold.V_f))


def _by_voltage(build: Build, fed: Fed) -> tuple[str, list[Check]]:
    made, supply, V = build.prediction, fed.supply, float(fed.cold.V_f)
    cold, warm = band(made, "excitation.I_f"), band(made, "heat.I_f")
    R = band(made, "field_winding.R_T")
    do = f"Full: {settings(fed)} on {supply.name}; the current falls as the copper warms."
    if cold.high >= float(supply.I_max) * (1 - JUST):
        limit = show("I_max", float(supply.I_max))
        do += f" Near its limit: if it holds {limit} at fewer volts, leave it so; it rises to them as it warms."
    return do, [
        Check(
            f"current at {show('V_f', V / 10)}, cold", with_band("I_f", _ratio(V / 10, R)),
            "A bad joint or a thinner wire.", "Shorted turns or a thicker wire: compare with the ohms of the ladder.",
        ),
        Check(
            f"current at {show('V_f', V)}, cold", with_band("I_f", cold), "The field is weaker by about as much.",
            "More field and more heat: watch the supply's limit.",
        ),
        _warm_current(V, warm),
    ]  # fmt: skip


def _by_current(build: Build, fed: Fed) -> tuple[str, list[Check]]:
    made, supply = build.prediction, fed.supply
    limit, most = float(supply.I_max), float(supply.V_max)
    cold, warm, volts = band(made, "excitation.I_f"), band(made, "heat.I_f"), band(made, "excitation.V_f")
    R = band(made, "field_winding.R_T")
    falls = warm.value < limit * (1 - JUST)
    end = f" until they reach {show('V_f', most)}; from there on the current falls" if falls else ""
    do = (
        f"Set {supply.name} to {settings(fed)}. Cold it holds {show('I_f', limit)} at about "
        f"{with_band('V_f', volts)}; the volts rise as the copper warms{end}."
    )
    if cold.low < limit * (1 - JUST):
        do += f" A thin wire may reach {show('V_f', most)} cold already and draw {show('I_f', cold.low)}: that is fine."
    low = "Shorted turns or a thicker wire: compare with the ohms of the ladder."
    tenth = Band(*(limit / 10 * ohms for ohms in R))
    checks = [
        Check(f"volts at {show('I_f', limit / 10)}, cold", with_band("V_f", tenth), low, "A bad joint or thin wire."),
        Check(f"volts at {show('I_f', limit)}, cold", with_band("V_f", volts), low, "A bad joint or thin wire."),
    ]
    if warm.high >= limit * (1 - JUST):
        high = f"Hotter than planned: turn the current down if it passes {show('T_touch', fed.T_touch)}."
        words, expected = f"volts at {show('I_f', limit)}{WARM}", _warm_volts(build, fed)
        checks.append(Check(words, with_band("V_f", expected), "Cooler than planned. Fine.", high))
    if warm.low < limit * (1 - JUST):
        checks.append(_warm_current(most, warm))
    return do, checks


def _warm_current(V: float, warm: Band) -> Check:
    return Check(
        f"current at {show('V_f', V)}{WARM}", with_band("I_f", warm),
        "Hotter than planned: a weaker field.", "Cooler than planned, or still warming.",
    )  # fmt: skip


def _ratio(V: float, R: Band) -> Band:
    return Band(V / R.value, V / R.high, V / R.low, V / R.median)


def _warm_volts(build: Build, fed: Fed) -> Band:
    """Ohm's law with the warm copper, up to the supply's volts: cold resistance and warmth are told apart."""
    made, supply, wire = build.prediction, fed.supply, fed.coil.wire
    R, T = band(made, "field_winding.R_T"), band(made, "heat.T_f")
    if wire is None:
        return band(made, "excitation.V_f")
    rise = [float(resistivity(1.0, wire.alpha_20, each)) for each in (float(build.brief.T_room), *T)]
    hot = R.value * rise[1] / rise[0]
    low = hot * math.hypot(1 - R.low / R.value, 1 - rise[2] / rise[1])
    high = hot * math.hypot(R.high / R.value - 1, rise[3] / rise[1] - 1)
    return Band(*(min(float(supply.V_max), float(supply.I_max) * ohms) for ohms in (hot, hot - low, hot + high, hot)))

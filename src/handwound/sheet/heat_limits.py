"""What heat may spoil, how far each part is from it, and when it has come so far; in words of time and degrees."""

from __future__ import annotations

from dataclasses import replace

from handwound import warming
from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import Limit
from handwound.parts.prediction import Prediction
from handwound.quantities import Num, plain, units
from handwound.sheet.said import Said, named, printed, say
from handwound.warming import RUNAWAY, burnt_out
from handwound.warmth import borne

MARKS = (1.0, 10.0, 60.0, 600.0, 3600.0, 8 * 3600.0, 24 * 3600.0)
"""Times written under a logarithmic axis. [s]"""


LIMITS = (
    "your touch limit", "enamel of the field coil", "spool", "enamel of the voice coil", "former",
    "glue of the voice coil",
)  # fmt: skip
"""What the limits are called by what follows the heat."""
PARTS = ("enamel", "former", "glue")
"""What the parts of a voice coil are called that heat may spoil."""
HELD, TOUCHED = 48.0, 60.0
"""Bare metal that is held for ten minutes, and that is touched by chance for some seconds, begins to burn skin. [°C]
ISO 13732-1 (from memory)"""


def limits(design: Design, brief: Brief, found: Prediction) -> tuple[Limit, ...]:
    """All that heat may spoil, and what a hand bears; none where no warming was followed."""
    every = warming.limits(design, brief, found.warming) if found.warming else ()
    return tuple(replace(each, name=named(each.name, LIMITS)) for each in every)


def head() -> tuple[str, ...]:
    """What stands over the rows of limits."""
    return say("what heat may spoil"), say("bears"), say("gets"), say("left"), say("there after")


def row(each: Limit) -> tuple[str, ...]:
    """A limit under the ``head``."""
    there = say("later") if each.is_over and each.t_lim is None else duration(each.t_lim)
    left = printed("dT_left", each.dT_left, f"{float(each.dT_left):.0f}", "K")
    return (each.name, degrees(each.T_lim, "T_lim"), degrees(each.T_end, "T_end"), left, there)


def burns_out(found: Prediction) -> bool:
    """Whether the field coil has no rest that any insulation bears; nothing warm that is told of it ever comes."""
    run, heat = found.warming, found.heat
    hot = [float(heat.T_hot)] if heat else []
    hot += [float(run.T_hot[-1])] if run and run.T_hot is not None else []
    return max(hot, default=0.0) >= RUNAWAY


def burnt(found: Prediction) -> Said:
    """``"burns out after 12 min"``."""
    t_out = burnt_out(found.warming) if found.warming else None
    return say("burns out") if t_out is None else say("burns out after {time}", time=duration(t_out, "t_out"))


def duration(t: float | None, name: str = "t_lim") -> Said:
    """``"10 min"``, ``"2.5 h"``; ``"never"`` for None."""
    if t is None:
        return say("never")
    hour, minute = units()["h"].scale, units()["min"].scale
    if t >= 1.5 * hour or t == hour:
        return printed(name, t, plain(t / hour, 2), "h")
    return printed(name, t, plain(t / minute, 2), "min") if t >= minute else printed(name, t, plain(t, 2), "s")


def after(t: float | None) -> Said:
    """``"after 10 min"``."""
    return say("in the end") if t is None else say("after {time}", time=duration(t))


def degrees(T: Num, name: str = "T") -> Said:
    """Whole degrees: no more is known."""
    return printed(name, T, f"{float(T):.0f}", "°C")


def weakest(design: Design) -> Said:
    """The part of the voice coil that gives way first."""
    bears = borne(design)
    return named(min(bears, key=lambda part: bears[part]), PARTS)

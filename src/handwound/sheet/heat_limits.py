"""What heat may spoil, how far each part is from it, and when it has come so far; in words of time and degrees."""

from __future__ import annotations

from handwound import warming
from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import Limit
from handwound.parts.prediction import Prediction
from handwound.quantities import Num, plain, units
from handwound.warming import RUNAWAY, burnt_out
from handwound.warmth import borne

MARKS = (1.0, 10.0, 60.0, 600.0, 3600.0, 8 * 3600.0, 24 * 3600.0)
"""Times written under a logarithmic axis. [s]"""


HEAD = ("what heat may spoil", "bears", "gets", "left", "there after")
HELD, TOUCHED = 48.0, 60.0
"""Bare metal that is held for ten minutes, and that is touched by chance for some seconds, begins to burn skin. [°C]
ISO 13732-1 (from memory)"""


def limits(design: Design, brief: Brief, found: Prediction) -> tuple[Limit, ...]:
    """All that heat may spoil, and what a hand bears; none where no warming was followed."""
    return warming.limits(design, brief, found.warming) if found.warming else ()


def row(each: Limit) -> tuple[str, ...]:
    """A limit under the ``HEAD``."""
    there = "later" if each.is_over and each.t_lim is None else duration(each.t_lim)
    return (each.name, degrees(each.T_lim), degrees(each.T_end), f"{float(each.dT_left):.0f} K", there)


def burns_out(found: Prediction) -> bool:
    """Whether the field coil has no rest that any insulation bears; nothing warm that is told of it ever comes."""
    run, heat = found.warming, found.heat
    hot = [float(heat.T_hot)] if heat else []
    hot += [float(run.T_hot[-1])] if run and run.T_hot is not None else []
    return max(hot, default=0.0) >= RUNAWAY


def burnt(found: Prediction) -> str:
    """``"burns out after 12 min"``."""
    t_out = burnt_out(found.warming) if found.warming else None
    return "burns out" if t_out is None else f"burns out after {duration(t_out)}"


def duration(t: float | None) -> str:
    """``"10 min"``, ``"2.5 h"``; ``"never"`` for None."""
    if t is None:
        return "never"
    hour, minute = units()["h"].scale, units()["min"].scale
    if t >= 1.5 * hour or t == hour:
        return f"{plain(t / hour, 2)} h"
    return f"{plain(t / minute, 2)} min" if t >= minute else f"{plain(t, 2)} s"


def after(t: float | None) -> str:
    """``"after 10 min"``."""
    return "in the end" if t is None else f"after {duration(t)}"


def degrees(T: Num) -> str:
    """Whole degrees: no more is known."""
    return f"{float(T):.0f} °C"


def weakest(design: Design) -> str:
    """The part of the voice coil that gives way first."""
    bears = borne(design)
    return min(bears, key=lambda part: bears[part])

"""All questions about a driver's heat in one go."""

from __future__ import annotations

from math import inf

from handwound.heat import duty, feeding, music
from handwound.heat.driven import Driven
from handwound.heat.from_cold import from_cold
from handwound.heat.helps import helps
from handwound.heat.limits import over
from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import HeatStudy
from handwound.parts.programme import Recording
from handwound.warming import bounds


def study(
    design: Design, brief: Brief, t_run: float, on_off: tuple[float, float] | None = None,
    recording: Recording | None = None,
) -> HeatStudy:  # fmt: skip
    """Everything about the heat of a design whose coils are chosen; ``on_off`` is a duty, ``recording`` what is played
    in place of the usual programme."""
    build = Driven.of(design, brief, recording)
    cold, limits = from_cold(build, t_run)
    first = min(limits, key=lambda each: inf if each.t_lim is None else each.t_lim)  # of several, the one most used
    nearest = next(each for each in bounds(design, brief) if each.name == first.name)
    lasting = build.idle.fed is None or not over(build, cold.end)
    return HeatStudy(
        t_run=t_run,
        from_cold=cold,
        limits=limits,
        feedings=feeding.feedings(build, t_run),
        constant=feeding.constant(build),
        duties=duty.duties(build, on_off),
        t_keep=None if lasting else duty.longest(build),
        voice=music.voice_heat(build),
        place=nearest.name,
        helps=helps(build, cold.end, nearest),
        V_max=brief.supply.V_max if brief.supply else None,
        W_m=build.done.motor.W_m,
    )

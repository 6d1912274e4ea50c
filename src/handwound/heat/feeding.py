"""Ways to feed the field coil: this supply, a voltage or a current that stays, sections joined the other way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import log10

import numpy as np

from handwound.heat.driven import Driven
from handwound.heat.limits import largest
from handwound.parts.heat_study import Constant, Feeding, State
from handwound.parts.prediction import Warming
from handwound.physics.heat.network import NoRestError
from handwound.physics.heat.sources import Supplied
from handwound.warming import RUNAWAY, bounds

MOST = 1000.0
"""A constant current is sought up to so many times that of the cold coil, and down to as small a share."""
OTHER = {"series": "parallel", "parallel": "series"}


def feedings(build: Driven, t_run: float) -> tuple[Feeding, ...]:
    """This supply, then a voltage and a current that stay, both those of its cold coil, then sections joined anew."""
    fed, cold = build.idle.fed, build.done.excitation
    if fed is None or cold is None:
        return ()
    V, I = float(cold.V_f), float(cold.I_f)
    ways = {
        "this supply": fed,
        "constant voltage": replace(fed, V_max=V, I_max=np.inf),
        "constant current": replace(fed, V_max=np.inf, I_max=I),
    }
    before = build.state(build.cold())
    found = [_fed(name, build.fed(way), before, t_run) for name, way in ways.items()]
    return (*found, *(_fed(name, each, before, t_run) for name, each in _joined_anew(build)))


def _joined_anew(build: Driven) -> Iterator[tuple[str, Driven]]:
    coil = build.design.field_coil
    if coil is not None and coil.n_sec > 1:
        other = OTHER[coil.connection]
        design = replace(build.design, field_coil=replace(coil, connection=other))
        yield f"its {coil.n_sec} sections in {other}", Driven.of(design, build.brief)


def _fed(name: str, build: Driven, before: State, t_run: float) -> Feeding:
    fed = build.idle.fed
    assert fed is not None
    cold, end = build.state(build.cold()), rest(build)
    dL = None if end is None else 20 * log10(float(end.Bl or 0.0) / float(before.Bl or 0.0))
    after = _limit(fed, end) if end else "current"
    both = (_limit(fed, cold), after)
    t_cross = _crossing(fed, build.run(t_run, np.empty(0))[1]) if both == ("current", "voltage") else None
    return Feeding(name=name, limit=both, cold=cold, end=end, dL=dL, t_cross=t_cross)


def rest(build: Driven) -> State | None:
    """What it comes to; None where it runs away.

    It is sought from above: there warm faces cool better the warmer they are, so each of Newton's steps comes nearer.
    From below a current that stays may look as if it had no rest.
    """
    network, room = replace(build.idle.model.network, _kept={}), float(build.brief.T_room)
    try:
        found = build.state(network.steady(room, build.heat, np.full(network.n + 1, RUNAWAY)))
    except NoRestError:
        return None
    return found if float(found.T_hot or 0.0) < RUNAWAY else None


def _limit(fed: Supplied, state: State) -> str:
    return "current" if state.I_f is not None and state.I_f >= float(fed.I_max) else "voltage"


def _crossing(fed: Supplied, run: Warming) -> float | None:
    """When the current begins to fall. [s]"""
    assert run.I_f is not None
    falling = np.flatnonzero(run.I_f < float(fed.I_max))
    return float(run.t_w[falling[0]]) if len(falling) else None


def constant(build: Driven) -> Constant | None:
    """How large a current that stays may be, and a voltage that does; None without a field coil."""
    fed, cold = build.idle.fed, build.done.excitation
    if fed is None or cold is None:
        return None
    field_bounds = [each for each in bounds(build.design, build.brief) if each.is_field]

    def at(I: float) -> State | None:
        return rest(build.fed(replace(fed, V_max=np.inf, I_max=I)))

    def keeps(I: float) -> bool:
        state = at(I)
        return state is not None and all(getattr(state, each.place) <= each.T_lim for each in field_bounds)

    I_cold = float(cold.I_f)
    I_rest = largest(lambda I: at(I) is not None, I_cold / MOST, I_cold * MOST)
    if I_rest is None:
        return None
    I_keep = largest(keeps, I_rest / MOST, I_rest)
    near = at(I_rest if I_keep is None else I_keep)
    assert near is not None
    room = {each.name: each.T_lim - getattr(near, each.place) for each in field_bounds}
    first = min(room, key=lambda name: room[name])
    V_keep = None if I_keep is None else float(near.P_f or 0.0) / I_keep  # the same watts, so the same rest
    return Constant(I_rest=I_rest, T_none=RUNAWAY, I_keep=I_keep, V_keep=V_keep, first=first)

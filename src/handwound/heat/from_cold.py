"""From cold: what becomes of the driver over a day, and when its limits are reached."""

from __future__ import annotations

import numpy as np

from handwound.heat.driven import Driven, states
from handwound.parts.heat_study import FromCold, Limit
from handwound.physics.heat.network import Run
from handwound.warming import burnt_out, limits, until

TOLD = 60 * np.array([0.0, 1, 5, 10, 20, 30, 60, 120, 240, 480])
"""The times that the table tells. [s]"""
NEAR = 1.0
"""What is nearer to its end than this is there. [K]"""


def from_cold(build: Driven, t_run: float) -> tuple[FromCold, tuple[Limit, ...]]:
    """The driver over the hours, and its limits."""
    nodes, run = build.run(t_run, np.append(TOLD[TOLD < t_run], t_run))
    t_out = burnt_out(run)
    told = run if t_out is None else until(run, t_out)
    at = np.append(TOLD[TOLD < told.t_w[-1]], told.t_w[-1])
    rest = build.end()
    end = build.state(rest)
    rows = np.searchsorted(told.t_w, at)
    cold = FromCold(
        t_w=at, states=states(told, rows.tolist()), end=end, t_near=_near(nodes, rest), t_out=t_out,
    )  # fmt: skip
    found = limits(build.design, build.brief, run, end)
    return cold, tuple(sorted(found, key=lambda each: -each.used))


def _near(nodes: Run, rest: np.ndarray) -> float | None:
    """When no node is further than a kelvin from its end any more; None for later. [s]"""
    away = np.flatnonzero(np.max(np.abs(nodes.T - rest[:, None]), axis=0) > NEAR)
    last = int(away[-1]) if len(away) else -1
    return float(nodes.t[last + 1]) if last + 1 < len(nodes.t) else None

"""The driver from cold over hours: its temperatures, and with them current, ampere-turns, watts and Bl."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.iron_field import Field
from handwound.parts.coil import Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import Limit, State
from handwound.parts.prediction import Chain, Warming
from handwound.physics.heat.network import Run
from handwound.physics.heat.sources import Played
from handwound.quantities import Num
from handwound.warmth import Settled, borne, weakened

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array

HOURS = 8.0
"""How long a run is followed: a working day. [h]"""
FIRST, COUNT = 1.0, 160
"""The first instant that is told after switching on [s], and how many there are."""
WAY = 2e-3
"""Where a limit is no warmer than the room the way to it counts as so long. [K]"""
RUNAWAY = 400.0
"""No insulation bears more: what has no rest below this has run away, and burns out when it comes so far. [°C]"""


def instants(hours: float = HOURS) -> Array:
    """Times of a run from cold, ever further apart. [s]"""
    return np.append(0.0, np.geomspace(FIRST, 3600 * hours, COUNT))


def from_cold(settled: Settled, driven: Played, field: Field, found: Chain, place: Rectangle) -> Warming:
    """A driver from the temperature of the room over a working day, both coils fed.

    It ends where the field coil burns out.
    """
    run = follow(settled, driven, instants())
    warming = tell(settled, field, found, place, run.t, run.T)
    t_out = burnt_out(warming)
    return warming if t_out is None else until(warming, t_out)


def burnt_out(warming: Warming) -> float | None:
    """When the field coil burns out; None where it does not. [s]"""
    t_out = None if warming.T_hot is None else reached(warming.t_w, warming.T_hot, RUNAWAY)
    return None if t_out is None else max(t_out, FIRST)


def until(warming: Warming, t_end: float) -> Warming:
    """The same, up to a time."""
    t_w = np.append(warming.t_w[warming.t_w < t_end], t_end)
    rows = {item.name: getattr(warming, item.name) for item in fields(Warming) if item.name not in ("t_w", "spread")}
    cut = {name: np.interp(t_w, warming.t_w, row) for name, row in rows.items() if row is not None}
    return Warming(t_w=t_w, **cut)


def tell(
    settled: Settled, field: Field, found: Chain, place: Rectangle, t_w: Array, T_all: Array, is_on: Num = 1.0
) -> Warming:
    """What a driver is like at the temperatures of all nodes [node, t] over the times ``t_w``."""
    model, fed, T = settled.model, settled.fed, T_all[:-1]
    both = {"t_w": t_w, "T_case": model.network.outside(T_all)[1], "T_vc": T[list(model.voice)].max(axis=0)}
    if fed is None or found.field_winding is None:
        return Warming(**both)
    fed = replace(fed, share=fed.share[:, None])  # one axis more: time
    I_f = np.asarray(fed.current(T) * is_on)
    NI = I_f * found.field_winding.N
    return Warming(
        **both, T_f=np.asarray(fed.T_mean(T)), T_hot=np.asarray(model.hot_spot(T_all, fed(T)[0] * is_on)),
        T_spool=np.asarray(model.spool(T)), I_f=I_f, NI=NI, P_f=np.asarray(I_f**2 * fed.R_T(T)),
        Bl=np.asarray(field.Bl(place, found.voice_winding.N, NI) * weakened(field, model, T_all)),
    )  # fmt: skip


def follow(settled: Settled, driven: Played, t: Array) -> Run:
    """All nodes from cold over the times t, both coils fed."""
    network = settled.model.network
    return network.run(t, network.at_room(float(settled.T[-1])), settled.beside(driven))


class Bound(NamedTuple):
    """A limit: its name, what it bears, the temperature of a warming that it holds for, whether of the field coil."""

    name: str
    T_lim: float
    place: str
    is_field: bool


def bounds(design: Design, brief: Brief) -> tuple[Bound, ...]:
    """All that heat may spoil in a build, and what a hand bears."""
    return tuple(_bounds(design, brief))


def _bounds(design: Design, brief: Brief) -> Iterator[Bound]:
    coil, T_touch = design.field_coil, brief.T_touch
    if T_touch is not None:
        yield Bound("your touch limit", float(T_touch), "T_case", True)
    if coil and coil.wire:
        yield Bound("enamel of the field coil", float(coil.wire.T_max), "T_hot", True)
    if coil and coil.spool:
        yield Bound("spool", float(coil.spool.T_max), "T_spool", True)
    for name, T_max in borne(design).items():
        yield Bound(name if name == "former" else f"{name} of the voice coil", T_max, "T_vc", False)


def limits(design: Design, brief: Brief, run: Warming, end: State | None = None) -> tuple[Limit, ...]:
    """Every limit: what becomes of it in the end, that of the run where no other is known, and when it is reached."""
    return tuple(_limit(each, float(brief.T_room), run, end) for each in bounds(design, brief)
                 if getattr(run, each.place) is not None)  # fmt: skip


def _limit(each: Bound, T_room: float, run: Warming, end: State | None) -> Limit:
    T = getattr(run, each.place)
    T_end = float(getattr(end, each.place) if end else T[-1])
    used = (T_end - T_room) / max(each.T_lim - T_room, WAY)
    return Limit(
        name=each.name, place=each.place, is_field=each.is_field, T_lim=each.T_lim, T_end=T_end,
        dT_left=each.T_lim - T_end, used=used, t_lim=reached(run.t_w, T, each.T_lim),
    )  # fmt: skip


def reached(t_w: Array, T: Array, T_max: Num) -> float | None:
    """When a temperature that rises comes to a limit; None where it does not. [s]"""
    above = np.flatnonzero(T >= T_max)
    if not len(above):
        return None
    k = int(above[0])
    return float(np.interp(T_max, T[k - 1 : k + 1], t_w[k - 1 : k + 1])) if k else float(t_w[0])

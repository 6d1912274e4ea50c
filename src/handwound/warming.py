"""The driver from cold over hours: its temperatures, and with them current, ampere-turns, watts and Bl."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.iron_field import Field
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS
from handwound.parts.prediction import Chain, Warming
from handwound.parts.programme import Programme
from handwound.physics.heat.network import Run
from handwound.physics.heat.sources import Played, Together
from handwound.quantities import Num
from handwound.thermal import Rectangle
from handwound.warmth import Settled, borne, on_amplifier, settle, weakened

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array, Heat

HOURS = 8.0
"""How long a run is followed: a working day. [h]"""
FIRST, COUNT = 1.0, 160
"""The first instant that is told after switching on [s], and how many there are."""


class Period(NamedTuple):
    """So long on, or off; the instants that are told in it."""

    t: Array
    is_on: bool


def once(hours: float = HOURS) -> tuple[Period, ...]:
    """Switched on and left on."""
    return (Period(np.append(0.0, np.geomspace(FIRST, 3600 * hours, COUNT)), True),)


def from_cold(
    design: Design, brief: Brief, field: Field, found: Chain, place: Rectangle, played: Programme,
    periods: Sequence[Period] | None = None,
) -> Warming:  # fmt: skip
    """A driver from the temperature of the room through some periods, both coils fed; at first once, for hours."""
    settled = settle(design, brief, DOUBTS, found.field_winding, place)
    driven = on_amplifier(design, brief, found.voice_winding, settled.model, played)
    run, is_on = follow(settled, driven, once() if periods is None else periods)
    return tell(settled, field, found, place, run.t, run.T, is_on)


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


def follow(settled: Settled, driven: Played | None, periods: Sequence[Period]) -> tuple[Run, Array]:
    """All nodes through the periods, one after the other, and where it is on."""
    network, room = settled.model.network, settled.T[-1]
    sources: list[Heat] = [source for source in (settled.fed, driven) if source is not None]
    T, E_0 = network.at_room(float(room)), (0.0, 0.0)
    runs: list[Run] = []
    for period in periods:
        heat = Together(sources if period.is_on else [])
        part = network.run(period.t, T, heat)
        runs.append(replace(part, E_in=part.E_in + E_0[0], E_out=part.E_out + E_0[1]))
        T, E_0 = part.T[:, -1], (runs[-1].E_in[-1], runs[-1].E_out[-1])
    is_on = np.concatenate([np.full(len(period.t), float(period.is_on)) for period in periods])
    t, T, E_in, E_out = (
        np.concatenate([getattr(run, name) for run in runs], axis=-1) for name in ("t", "T", "E_in", "E_out")
    )
    return Run(t, T, E_in, E_out), is_on


class Bound(NamedTuple):
    """A limit: its name, what it bears, the temperature of a warming that it holds for, whether of the field coil."""

    name: str
    T_max: float
    quantity: str
    is_field: bool


def bounds(design: Design, brief: Brief) -> tuple[Bound, ...]:
    """All that heat may spoil in a build, and what a hand bears."""
    return tuple(_bounds(design, brief))


def _bounds(design: Design, brief: Brief) -> Iterator[Bound]:
    coil, T_touch = design.field_coil, brief.T_touch
    if T_touch is not None:
        yield Bound("outside, to touch", float(T_touch), "T_case", True)
    if coil and coil.wire:
        yield Bound("enamel of the field coil", float(coil.wire.T_max), "T_hot", True)
    if coil and coil.spool:
        yield Bound("spool", float(coil.spool.T_max), "T_spool", True)
    for name, T_max in borne(design).items():
        yield Bound(name if name == "former" else f"{name} of the voice coil", T_max, "T_vc", False)


def reached(t_w: Array, T: Array, T_max: Num) -> float | None:
    """When a temperature that rises comes to a limit; None where it does not. [s]"""
    above = np.flatnonzero(T >= T_max)
    if not len(above):
        return None
    k = int(above[0])
    return float(np.interp(T_max, T[k - 1 : k + 1], t_w[k - 1 : k + 1])) if k else float(t_w[0])

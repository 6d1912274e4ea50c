"""How warm the driver gets in the end: the field coil on its supply, the voice coil at its limit and with music."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.parts.coil import FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS, Doubts
from handwound.parts.iron import Ring
from handwound.parts.prediction import Chain, Excitation, Heat, Rating, Winding
from handwound.parts.programme import Programme
from handwound.parts.source import Supply
from handwound.physics import air, sound
from handwound.physics.heat import sources
from handwound.physics.heat.sources import Together
from handwound.physics.programme import compression, peak_voltage, programme_voltage
from handwound.programme import LONG_TERM, SHORT_TERM, mean_heat, usual
from handwound.quantities import Num
from handwound.stages import F_LOW, R_REF, U_REF, Blocked, stage, wire_of
from handwound.thermal import Rectangle, Thermal, thermal

if TYPE_CHECKING:
    import numpy.typing as npt

    from handwound.physics.heat.network import Array

F_HIGH = 20e3
"""Where hearing ends. [Hz] (from memory)"""


LEAST = 1e-2
"""A rise is measured with at least this much heat. [W]"""
POOR = 0.7
"""Share of each doubt's half band that is taken for the poorest cooling: convection and radiation, two about equal
doubts, are rarely both at their ends. Common practice, no source."""


class Settled(NamedTuple):
    """The driver when it no longer warms: its network, its field coil as a source, all nodes, the heat made in each."""

    model: Thermal
    fed: sources.Supplied | None
    T: Array
    q: Array

    def heat(self, warm: Excitation, Bl: Num, L_1W: Num) -> Heat:
        """The numbers of it, with what the warm coil draws and gives."""
        assert self.fed is not None, "who asks has a field coil"
        A_case, T_case = self.model.network.outside(self.T)
        return Heat(
            A_case=A_case, T_case=T_case, T_f=self.fed.T_mean(self.T), T_hot=self.model.hot_spot(self.T, self.q),
            I_f=warm.I_f, NI=warm.NI, P_f=warm.P_f, Bl=Bl, L_1W=L_1W,
        )  # fmt: skip

    @property
    def T_case(self) -> Num:
        """The warmest place that can be touched. [°C]"""
        return self.model.network.outside(self.T)[1]


def on_supply(coil: FieldCoil, wound: Winding, supply: Supply, model: Thermal) -> sources.Supplied:
    """The field coil as a source of heat."""
    return sources.Supplied(
        nodes=model.field, share=model.field_share, R_20=wound.R_20, alpha_20=wire_of(coil).alpha_20,
        V_max=supply.V_max, I_max=supply.I_max,
    )  # fmt: skip


@stage
def settle(
    design: Design, brief: Brief, doubts: Doubts, field: Winding | None, voice: Rectangle | None = None
) -> Settled:
    """The driver at rest on the supply of its field coil, the voice coil silent; numbers or arrays.

    ``voice`` is the voice coil as a rectangle in r-z; without it the network is that of the motor alone.
    """
    model = thermal(design, brief, doubts, field.D_w if field else None, voice)
    if not (field and design.field_coil and brief.supply):
        T = model.network.at_room(brief.T_room)
        return Settled(model, None, T, np.zeros_like(T[:-1]))
    fed = on_supply(design.field_coil, field, brief.supply, model)
    T = end(model, brief.T_room, fed)
    return Settled(model, fed, T, fed(T[:-1])[0])


def end(model: Thermal, T_room: Num, fed: sources.Supplied) -> Array:
    """All temperatures at rest. At a fixed voltage there always is a rest; where the current's limit is lower, the rest
    lies below that one, and from there it is found downwards."""
    at_voltage = model.network.steady(T_room, replace(fed, I_max=np.inf))
    if not np.any(fed.current(at_voltage[:-1]) >= fed.I_max):
        return at_voltage
    return model.network.steady(T_room, fed, at_voltage)


def rate(design: Design, brief: Brief, voice: Winding, idle: Settled, played: Programme) -> Rating:
    """What the voice coil bears beside a motor that its field coil has warmed, and what a programme does to it.

    It is as hot as its hottest piece.
    """
    model, T_lim, T_room = idle.model, bears(design), brief.T_room
    network, fed = model.network, [idle.fed] if idle.fed else []
    driven = on_amplifier(design, brief, voice, model, played)
    nodes, share, T = list(model.voice), model.voice_share, idle.T
    P: Num = 1.0
    room = np.maximum(T_lim - idle.T[nodes], 0.0)
    for _ in range(2):  # the rise is nearly as the heat: a step finds it, the next one makes it exact
        P = np.maximum(P, LEAST)
        T = network.steady(T_room, Together([*fed, sources.Fixed(model.voice, share * P)]), T)
        k = np.min(room, axis=0) / np.max(T[nodes] - idle.T[nodes], axis=0)
        P, T = P * k, idle.T + (T - idle.T) * k
    G, C_th = network.around(nodes, network.conductances(idle.T)), network.C_th[nodes]
    short, long = (
        np.min(room * G / share / (1 - np.exp(-duty.t_on * G / C_th)), axis=0) for duty in (SHORT_TERM, LONG_TERM)
    )
    hot = network.steady(T_room, Together([*fed, driven]), idle.T)
    return Rating(
        T_lim=T_lim, P_cont=P, P_long=long, P_short=short, tau_vc=np.sum(C_th, axis=0) / np.sum(G, axis=0),
        U_prog=programme_voltage(U_pk(brief), played.crest, brief.level), P_prog=driven.P(hot),
        T_vc=np.max(hot[nodes], axis=0), dL_hot=compression(driven.R_T(hot), voice.R_T),
    )  # fmt: skip


def U_pk(brief: Brief) -> Num:
    """Highest voltage of the amplifier. [V]"""
    return peak_voltage(brief.amplifier.P_max, brief.amplifier.Z_least)


def on_amplifier(design: Design, brief: Brief, wound: Winding, model: Thermal, played: Programme) -> sources.Played:
    """The voice coil as a source of heat, under the mean of a programme."""
    P_cold = mean_heat(played) * U_pk(brief) ** 2 / wound.R_T
    return sources.Played(
        nodes=model.voice, share=model.voice_share, R_20=wound.R_20, alpha_20=wire_of(design.voice_coil).alpha_20,
        P_cold=P_cold, Re=wound.R_T, n_hot=played.n_hot,
    )  # fmt: skip


def impedance(found: Chain, brief: Brief, Z_b: Blocked) -> tuple[Array, npt.NDArray[np.complex128]]:
    """Impedance of the driver with its motion, over all that is heard: frequencies and values. [Hz], [Ω]"""
    moving, driver, rho_0, c_0 = found.moving, found.driver, air.density(brief.T_room), air.speed(brief.T_room)
    f = np.geomspace(F_LOW, F_HIGH, 600)
    Z, _ = sound.response(f, U_REF, driver.Re, found.motor.Bl, moving.Mmd, moving.Rms, moving.Kms, moving.a, moving.Sd,
                          rho_0, c_0, R_REF, Z_b.at(f))  # fmt: skip
    return f, np.asarray(Z)


def played_in(found: Chain, brief: Brief, Z_b: Blocked) -> Programme:
    """The programme of the brief in the voice coil of a driver."""
    return usual(brief.crest, brief.level, *impedance(found, brief, Z_b), found.driver.Re)


def bears(design: Design) -> float:
    """The temperature that the weakest part of the voice coil bears. [°C]"""
    return min(borne(design).values())


def borne(design: Design) -> dict[str, float]:
    """The temperature that each part of the voice coil bears. [°C]"""
    coil = design.voice_coil
    glued = {"glue": design.glue.T_max} if design.glue else {}
    parts = {"enamel": wire_of(coil).T_max, "former": coil.former.T_max, **glued}
    return {name: float(T_max) for name, T_max in parts.items()}


def poorest(design: Design) -> Design:
    """The design with surfaces that radiate as little as well may be."""

    def dull(ring: Ring) -> Ring:
        if ring.surface is None:
            return ring
        eps = ring.surface.eps - POOR * dict(ring.surface.spread).get("eps", 0.0)
        return replace(ring, surface=replace(ring.surface, eps=eps))

    return replace(design, iron=replace(design.iron, rings=tuple(dull(ring) for ring in design.iron.rings)))


POOREST = replace(DOUBTS, **{name: getattr(DOUBTS, name) - POOR * half for name, half in DOUBTS.spread})
"""Films, covers and windings that lead as little heat as well may be."""

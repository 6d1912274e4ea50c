"""How warm the driver gets in the end: the field coil on its supply, the voice coil at its limit and with music."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple, TypeVar

import numpy as np

from handwound.errors import JobError
from handwound.iron_field import Field
from handwound.kept import stage
from handwound.materials import magnets
from handwound.mounting import Lodging
from handwound.parts.coil import FieldCoil, Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS, Doubts, Frame
from handwound.parts.iron import Ring
from handwound.parts.prediction import Chain, Excitation, Heat, MagnetState, Rating, Winding
from handwound.parts.programme import Programme
from handwound.parts.source import Supply
from handwound.physics.heat import sources
from handwound.physics.heat.network import NoRestError
from handwound.physics.heat.sources import Together
from handwound.physics.programme import compression, peak_voltage, programme_voltage
from handwound.physics.wire import resistivity
from handwound.programme import LONG, SHORT, mean_heat, usual
from handwound.quantities import Num
from handwound.sounding import HEARD, Blocked, R_source, moved
from handwound.stages import wire_of
from handwound.thermal import Thermal, thermal

if TYPE_CHECKING:
    import numpy.typing as npt

    from handwound.physics.heat.network import Array
    from handwound.physics.heat.network import Heat as Heats


P = TypeVar("P", Ring, Frame)
GLOWING = 1000.0
"""No winding lasts here. [°C]"""
GONE = 1e-2
"""No slope is followed to less of Bl than this: what is so hot is no magnet any more."""
LEAST = 1e-2
"""A rise is measured with at least this much heat. [W]"""
NEAR, ROUNDS, BENT = 5e-3, 10, 1.1
"""The last step to the heat for good is smaller than this share of it: a tenth of that is left; so many at most. A hot
coil cools better: a rise wants a little more heat than in proportion, about this power."""
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

    def beside(self, *others: Heats) -> Together:
        """Its field coil, if it has one, and other sources as one."""
        return Together([*([self.fed] if self.fed else []), *others])

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
    lies below that one, and from there it is found downwards. No voltage is tried that the current asks for only where
    nothing lasts."""
    V_max = np.minimum(fed.V_max, fed.I_max * resistivity(fed.R_20, fed.alpha_20, GLOWING))
    try:
        at_voltage = model.network.steady(T_room, replace(fed, V_max=V_max, I_max=np.inf))
        if not np.any(fed.current(at_voltage[:-1]) >= fed.I_max):
            return at_voltage
        return model.network.steady(T_room, fed, at_voltage)
    except NoRestError:
        raise JobError(
            "brief: must name a supply on which the field coil comes to rest; found one that heats it without end. Ask "
            "for fewer volts or amperes, or wind more wire."
        ) from None


def weakened(field: Field, model: Thermal, T: Array) -> Num:
    r"""What Bl is worth beside that of magnets as warm as the room: to first order, each by its own temperature. [1]

    The slopes are those at the cold current; with a field coil they are up to a fifth too small for the warm one.

    .. math:: k = 1 + \sum_k \frac{\partial \ln Bl}{\partial \ln B_{r,k}} \left(\frac{B_{r,k}(T_k)}{B_{r,k}(T_{room})}
        - 1\right)
    """
    k_B: Num = 1.0
    for name, grade in model.magnets:
        cold, warm = (magnets.warmed(grade, each) for each in (T[-1], np.mean(T[model.cells.of(name)], axis=0)))
        k_B = k_B + field.by_magnet[name] * (warm / cold - 1)
    return np.maximum(k_B, GONE)


def playing(idle: Settled, driven: sources.Played) -> Array:
    """All temperatures at rest with a programme in the voice coil, beside a motor that its field coil has warmed."""
    try:
        return idle.model.network.steady(idle.T[-1], idle.beside(driven), idle.T)
    except NoRestError:
        raise JobError(
            "brief: must name an amplifier and a programme with which the driver comes to rest; found more heat than "
            "it can give off. Ask for fewer watts, lower peaks or a larger crest factor."
        ) from None


def level_lost(driven: sources.Played, voice: Winding, idle: Settled, T: Array, field: Field) -> Num:
    """What the level loses at the temperatures of all nodes, beside a cold voice coil in the idle motor: the voice coil
    takes less current, and music warms the magnets too. [dB]"""
    k_B = weakened(field, idle.model, T) / weakened(field, idle.model, idle.T)
    return compression(driven.R_T(T), voice.R_T, k_B)


def in_the_end(states: tuple[MagnetState, ...], idle: Settled, driven: sources.Played) -> tuple[MagnetState, ...]:
    """Magnets with how warm they get, on their mean."""
    T, cells = playing(idle, driven), idle.model.cells
    return tuple(replace(state, T_end=float(np.mean(T[cells.of(state.name)]))) for state in states)


def rate(design: Design, brief: Brief, voice: Winding, idle: Settled, played: Programme, field: Field) -> Rating:
    """What the voice coil bears beside a motor that its field coil has warmed, and what a programme does to it.

    It is as hot as its hottest piece.
    """
    model, network, T_lim = idle.model, idle.model.network, bears(design)
    driven = on_amplifier(design, brief, voice, model, played)
    nodes, share, T = list(model.voice), model.voice_share, idle.T
    P: Num = 1.0
    room = np.maximum(T_lim - idle.T[nodes], 0.0)
    for _ in range(ROUNDS):
        P = np.maximum(P, LEAST)
        T = network.steady(brief.T_room, idle.beside(sources.Fixed(model.voice, share * P)), T)
        k = np.min(room / (T[nodes] - idle.T[nodes]), axis=0)  # the first piece that comes to the limit
        P, T = P * k**BENT, idle.T + (T - idle.T) * k
        if np.all((np.abs(k - 1) < NEAR) | (P < LEAST)):
            break
    coil = network.few(nodes, T)  # its films are those of a coil at its limit
    short, long = (np.min(room / coil.rise(share, t_s), axis=0) for t_s in (SHORT, LONG))
    hot = playing(idle, driven)
    return Rating(
        T_lim=T_lim, P_cont=P, P_long=long, P_short=short, tau_vc=coil.tau_T,
        U_prog=programme_voltage(U_pk(brief), played.crest, played.level), P_prog=driven.P(hot),
        T_vc=np.max(hot[nodes], axis=0), dL_hot=level_lost(driven, voice, idle, hot, field),
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
    """Impedance of the driver with its motion as the brief builds it in, its back open, and with all that is in series,
    over all that is heard: frequencies and values. [Hz], [Ω]"""
    Z_m, _ = moved(HEARD, found, Lodging.of(brief, None), brief.T_room)
    return HEARD, np.asarray(R_source(brief) + found.driver.Re + Z_b.heard + found.motor.Bl**2 / Z_m)


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

    def dull(part: P) -> P:
        surface = part.surface
        if surface is None:
            return part
        eps = surface.eps - POOR * dict(surface.spread).get("eps", 0.0)
        return replace(part, surface=replace(surface, eps=eps))

    rings, frame = tuple(dull(ring) for ring in design.iron.rings), design.frame
    return replace(design, iron=replace(design.iron, rings=rings), frame=dull(frame) if frame else None)


POOREST = replace(DOUBTS, **{name: getattr(DOUBTS, name) - POOR * half for name, half in DOUBTS.spread})
"""Films, covers and windings that lead as little heat as well may be."""

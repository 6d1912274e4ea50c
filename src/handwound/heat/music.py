"""The voice coil under a programme: its mean, the hottest moment of a sound file, what it bears and what gives way."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from handwound.heat.driven import Driven
from handwound.parts.heat_study import Bears, Borne, Music, VoiceHeat
from handwound.physics.heat.sources import Played
from handwound.physics.programme import programme_voltage
from handwound.programme import mean_heat, turned
from handwound.warmth import U_pk, borne, level_lost, on_amplifier

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array

LEVELS = (0.0, -3.0, -6.0, -12.0)
"""Levels of the peaks beside the highest that the amplifier gives, besides that of the brief. [dB]"""


def voice_heat(build: Driven) -> VoiceHeat:
    """All that there is to say about the voice coil's watts."""
    programme = build.programme
    levels = sorted({float(programme.level), *LEVELS}, reverse=True)
    parts = sorted(borne(build.design).items(), key=lambda part: part[1])
    return VoiceHeat(
        programme=programme.name,
        crest=programme.crest,
        music=tuple(_music(build, level) for level in levels),
        bears=bears(build),
        parts=tuple(Borne(name=name, T_max=T_max) for name, T_max in parts),
    )


def _music(build: Driven, level: float) -> Music:
    """The programme with its peaks at a level."""
    design, brief, wound, idle = build.design, build.brief, build.done.voice_winding, build.idle
    programme = turned(build.programme, build.programme.crest, level)
    music = on_amplifier(design, brief, wound, idle.model, programme)
    played = replace(build, programme=programme, music=music)
    T = played.end()
    pk = None if len(programme.P_rel) == 1 else hottest(played, T)
    return Music(
        level=level,
        U_prog=programme_voltage(U_pk(brief), programme.crest, level),
        P_prog=music.P(T),
        T_vc=_warmest(music, T),
        dL_hot=level_lost(music, wound, idle, T, build.field),
        T_pk=None if pk is None else _warmest(music, pk),
        dL_pk=None if pk is None else level_lost(music, wound, idle, pk, build.field),
    )


def _warmest(music: Played, T: Array) -> float:
    return float(np.max(T[list(music.nodes)]))


def hottest(build: Driven, T: Array) -> Array:
    """All nodes at the hottest moment of a programme that goes round and round, about its mean ``T``. [°C]

    The network is taken as straight there, so that each block of the programme is followed exactly: every mode of it
    decays by itself. Where a round ends, the next begins.
    """
    network, programme = build.idle.model.network, build.programme
    root = np.sqrt(network.C_th)
    straight = network.matrix(network.conductances(T)) - np.diag(build.heat(T[:-1])[1])
    rate, modes = np.linalg.eigh(straight / np.outer(root, root))
    made, _ = build.music(T[:-1])  # at the mean of the programme
    blocks, lasts, mean = programme.P_rel, np.diff(programme.t_b), mean_heat(programme)
    pushed = modes.T @ (made / root)
    amplitude, followed = np.zeros(len(rate)), []
    for block, t in zip(blocks / mean - 1, lasts, strict=True):
        left = np.exp(-rate * t)
        amplitude = amplitude * left + (1 - left) / rate * pushed * block
        followed.append(amplitude)
    from_before = amplitude / (1 - np.exp(-rate * programme.t_b[-1]))
    found = np.array(followed) + np.exp(-np.outer(programme.t_b[1:], rate)) * from_before
    x = found @ (modes / root[:, None]).T
    k = int(np.argmax(np.max(x[:, list(build.music.nodes)] + T[list(build.music.nodes)], axis=1)))
    return np.append(T[:-1] + x[k], T[-1])


def bears(build: Driven) -> tuple[Bears, ...]:
    """What the voice coil bears for good, for a minute and for a second, and the voltage of the programme for it.

    The voltage is that of a coil as warm as its idle motor: as it gets hotter it takes a little more.
    """
    rating, Re, programme = build.done.rating, build.done.voice_winding.R_T, build.programme
    assert rating is not None
    warm = build.music.R_T(build.idle.T[:-1])
    volts = np.sqrt(Re / programme.heat_share * (warm / Re) ** programme.n_hot)
    found = []
    for name, P in (("for good", rating.P_cont), ("for a minute", rating.P_long), ("for a second", rating.P_short)):
        U = float(volts * np.sqrt(P))
        found.append(Bears(name=name, P_prog=P, U_prog=U, P_nom=U**2 / float(build.brief.Z_rated)))
    return tuple(found)

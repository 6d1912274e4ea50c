"""Each place once more in full: how loud its lowest note gets, the boards to saw, the air in its ports; the back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi, sqrt

import numpy as np

from handwound.heard.boards import least_air, sawn
from handwound.heard.limits import Moves, Voice, loudest_tones, one_tone, pushed
from handwound.heard.places import Q_LEAK, T_BOARD
from handwound.mounting import Lodging, around
from handwound.parts.design import Brief
from handwound.parts.heat import Box
from handwound.parts.mounting import Baffle, Port
from handwound.parts.sound import Place
from handwound.parts.sound_study import Lodged, Taped
from handwound.physics.loudest import third_octaves
from handwound.physics.vents import open_area, port_velocity
from handwound.sound.build import Build
from handwound.sounding import F_LOW, R_source, mount

ABOVE = 2.0
"""Up to so many times the tuning the air in a port is looked at; above, hardly any moves."""


def lodged(build: Build) -> tuple[Lodged, ...]:
    """The place where it is built in, then all others."""
    sound = build.found.sound
    assert sound is not None, "a prediction tells of the sound"
    return tuple(_lodged(build, place, brief) for place, brief in zip(sound.places, _briefs(build), strict=True))


def _briefs(build: Build) -> Iterator[Brief]:
    """The brief with each place in it."""
    brief, sound = build.brief, build.found.sound
    assert sound is not None
    for k, place in enumerate(sound.places):
        own = k == 0 and (brief.box or brief.baffle)
        yield brief if own else brief_in(place, brief)


def brief_in(place: Place, brief: Brief) -> Brief:
    """The same wish in a place that is only suggested."""
    box = port = baffle = None
    if place.V_box is not None:
        box = Box(V_box=place.V_box, t_box=T_BOARD)
    if place.d_port is not None and place.l_port is not None:
        port = Port(n_port=1, d_port=place.d_port, l_port=place.l_port, Q_leak=Q_LEAK)
    if place.W_baffle is not None:
        baffle = Baffle(W_baffle=place.W_baffle, H_baffle=place.W_baffle)
    return replace(brief, box=box, port=port, baffle=baffle)


def _lodged(build: Build, place: Place, brief: Brief) -> Lodged:
    sound = build.found.sound
    assert sound is not None
    of = (build.design, brief, build.found, build.Z_b)
    low = one_tone(float(brief.f_low), float(R_source(brief)), *of, sound.travel)
    v_port = blown(build, place, brief) if place.f_box else None
    return Lodged(
        place=place, f_low=brief.f_low, L_max=low.L_tone, by=low.by, boards=sawn(build.design, brief),
        V_least=least_air(build.design, brief) if brief.box else None, v_port=v_port,
    )  # fmt: skip


def blown(build: Build, place: Place, brief: Brief) -> float:
    """How fast the air in the ports gets with the loudest steady tones. [m/s]"""
    sound, port, found = build.found.sound, brief.port, build.found
    assert sound is not None
    assert port is not None
    f_top = ABOVE * float(place.f_box or 0.0)
    f = np.asarray(third_octaves(F_LOW, f_top)[1])
    of = (build.design, brief, found, build.Z_b)
    U_max = loudest_tones(*of, sound.travel, f_top).U_max
    moves, voice = Moves.of(f, build.design, brief, found), Voice.of(f, build.design, found, build.Z_b)
    v = pushed(f, moves, voice.Re, voice.Z_b, voice.Bl, float(R_source(brief))).x * U_max * 2 * pi * f / sqrt(2)
    k_port = around(f, found.moving, Lodging.of(brief, build.design.back), float(brief.T_room)).k_port
    return float(np.max(port_velocity(v, k_port, found.moving.Sd, int(port.n_port), port.d_port)))


def taped(build: Build) -> tuple[Taped, ...]:
    """The frame's own back with none, half and all of its holes taped; nothing where it is open."""
    back, brief, found = build.design.back, build.brief, build.found
    if back is None:
        return ()
    n = int(back.n_vent)
    told = []
    for n_taped in sorted({0, n // 2, n, int(back.n_taped)}):
        lodging = Lodging.of(brief, replace(back, n_taped=n_taped))
        got = mount(found, lodging, R_source(brief), float(brief.T_room))
        share = float(open_area(n, n_taped, back.d_vent, found.moving.Sd))
        told.append(Taped(n_taped=n_taped, open_share=share, found=got))
    return tuple(told)

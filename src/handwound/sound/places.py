"""Each place once more in full: how loud its lowest note gets, the boards to saw, the air in its ports; the back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import pi, sqrt

import numpy as np

from handwound.files.fits import motor_volume
from handwound.heard.limits import Moves, Voice, loudest_tones, one_tone, pushed
from handwound.heard.places import Q_LEAK, T_BOARD
from handwound.mounting import Lodging, around
from handwound.parts.design import Brief, Design
from handwound.parts.heat import Box
from handwound.parts.mounting import Baffle, Port
from handwound.parts.sound import Place
from handwound.parts.sound_study import Boards, Lodged, Taped
from handwound.physics.alignment import panels
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
    boards = sawn(brief.box, brief.port, build.design) if brief.box else None
    return Lodged(place=place, f_low=brief.f_low, L_max=low.L_tone, by=low.by, boards=boards, v_port=v_port)


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


def sawn(box: Box, port: Port | None, design: Design) -> Boards:
    """The boards of a box around the motor and what its cone and its ports take; a frame is not known."""
    part = design.diaphragm
    bowl = pi / 12 * part.h_c * (part.d_in**2 + part.d_in * part.d_out + part.d_out**2) if part.form == "cone" else 0.0
    tubes = port.n_port * pi / 4 * port.d_port**2 * port.l_port if port else 0.0
    V_more = motor_volume(design) + float(bowl + tubes)
    W_in, H_in, D_in, W_out, H_out = (float(each) for each in panels(box.V_box, box.t_box, V_more))
    return Boards(t_box=box.t_box, V_more=V_more, W_in=W_in, H_in=H_in, D_in=D_in, W_out=W_out, H_out=H_out)


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

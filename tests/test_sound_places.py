"""Where the study of the sound puts the examples, and one tone: every answer beside one found in another way."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from handwound.cone import whole
from handwound.heard import boards
from handwound.heard.limits import Moves, Voice, pushed
from handwound.mounting import Lodging
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Port
from handwound.physics.moving import effective_area
from handwound.sound import places, tones
from handwound.sound.build import Build
from handwound.sounding import mount
from tests.sounded import Studied


def test_the_lowest_note_in_each_place(wound: Studied) -> None:
    """Second way: one volt turned up until stroke, heat, volts or amperes are what they may be; by heat the coil is
    hot and the motor warm."""
    build, found = wound
    rating, amplifier = build.found.rating, build.brief.amplifier
    assert rating
    f = np.array([float(build.brief.f_low)])
    voice = Voice.of(f, build.design, build.found, build.Z_b)
    U_lim = float(np.sqrt(amplifier.P_max * amplifier.Z_least))
    for each in found.lodged:
        moves = Moves.of(f, build.design, places.brief_in(each.place, build.brief), build.found)
        cold = pushed(f, moves, voice.Re, voice.Z_b, voice.Bl, 0.0)
        hot = pushed(f, moves, voice.Re_hot, voice.Z_b, voice.Bl_hot, 0.0)
        ends = (found.sound.travel.x_lim / cold.x[0], np.sqrt(float(rating.P_cont) / hot.P[0]), U_lim,
                U_lim / float(amplifier.Z_least) / abs(cold.I[0]))  # fmt: skip
        p = min(ends) * abs((hot if min(ends) == ends[1] else cold).p[0])
        assert each.L_max == pytest.approx(20 * np.log10(p / 20e-6), abs=1e-6)


def test_boards_hold_the_air(wound: Studied) -> None:
    """Balance: what is inside the boards less what driver and port take is the air; outside less two boards is
    inside. Limit: the motor takes less than the can round it."""
    build, found = wound
    sawn = [each for each in found.lodged if each.boards]
    assert sawn
    for each in sawn:
        of = each.boards
        assert of
        assert of.W_in * of.H_in * of.D_in - of.V_more == pytest.approx(each.place.V_box, rel=1e-9)
        assert of.W_out - 2 * of.t_box == pytest.approx(of.W_in, rel=1e-9)
        assert of.H_out - 2 * of.t_box == pytest.approx(of.H_in, rel=1e-9)
        assert 0.5 * CAN < float(of.V_more) < CAN + BOWL


def test_boards_hold_the_driver(wound: Studied) -> None:
    """By hand: whatever is suggested is as wide and high inside as the driver's outline, and deeper than its motor is
    high. Limit: the least air just has boards, a hair less has none, nor is so little suggested."""
    build, found = wound
    outline = float(build.brief.D_outline)
    for each in found.lodged:
        if each.boards:
            assert min(each.boards.W_in, each.boards.H_in) >= outline * (1 - 1e-9)
            assert each.boards.D_in > 0.058
    least = boards.least_air(build.design, build.brief)
    assert outline**2 * 0.058 - CAN - BOWL < least < outline**2 * 0.15
    assert all(each.place.V_box >= least for each in found.lodged if each.place.V_box)
    just, less = (replace(build.brief, box=Box(V_box=k * least, t_box=0.012)) for k in (1.001, 0.999))
    assert boards.sawn(build.design, just)
    assert boards.sawn(build.design, less) is None


CAN = pi / 4 * 0.068**2 * 0.058
"""Round the open-day motor: two plates of 6 mm and a pipe of 46 mm. [m³]"""
BOWL = pi / 12 * 0.015 * (0.0255**2 + 0.0255 * 0.096 + 0.096**2)
"""Its cone's frustum, by the volume of a cone. [m³]"""


def test_air_in_a_port(repaired: Studied) -> None:
    """Second way: p = rho f q at 1 m in a wall tells the flow q of diaphragm and port together, and (f_box/f)² times
    that is the port's, as spring and tube share one pressure. That the rim of the bending card lags is 0.5 dB."""
    build, _ = repaired
    brief = replace(
        build.brief, box=Box(V_box=6e-3, t_box=0.012), port=Port(n_port=1, d_port=0.03, l_port=0.06, Q_leak=20)
    )
    own = Build.of(build.design, brief)
    at = places.lodged(own)[0]
    assert at.place.f_box
    assert at.v_port
    assert own.found.sound
    loud = own.found.sound.loudest
    flow = 20e-6 * 10 ** (loud.L_max / 20) * np.sqrt(2) / (own.rho_0 * loud.f)
    of_port = flow * (at.place.f_box / loud.f) ** 2 / (pi / 4 * 0.03**2)
    assert at.v_port == pytest.approx(float(np.max(of_port)), rel=0.08)


def test_taping_the_back(repaired: Studied) -> None:
    """Limit: all holes taped is a closed box of the back's air, less the 0.65 rho pi a³ (Beranek, from memory) that
    swing in a larger one. Closed form: the open share. Sense: tape raises the resonance, open holes nearly leave it."""
    build, _ = repaired
    back = Back(V_back=1e-3, n_vent=20, d_vent=0.02, t_vent=0.001)
    own = replace(build, design=replace(build.design, back=back))
    open_all, half, shut = places.taped(own)
    closed = mount(build.found, Lodging(box=Box(V_box=1e-3, t_box=0.01)), 0.0, float(build.brief.T_room))
    moving = build.found.moving
    light = float(moving.Mmd + moving.m_air / 2)
    heavy = light + 0.65 * pi * build.rho_0 * float(moving.a) ** 3
    assert shut.found.f_c == pytest.approx(float(closed.f_c) * np.sqrt(heavy / light), rel=0.01)
    Sd = float(effective_area(build.found.moving.a))
    assert open_all.open_share == pytest.approx(20 * pi / 4 * 0.02**2 / Sd, rel=1e-9)
    assert (shut.open_share, half.n_taped) == (0.0, 10)
    wall = mount(build.found, Lodging(), 0.0, float(build.brief.T_room))
    assert open_all.found.f_c == pytest.approx(float(wall.f_c), rel=0.05)
    assert open_all.found.f_c < half.found.f_c * 1.02 < shut.found.f_c


def test_one_tone_as_asked(wound: Studied) -> None:
    """Second way: the coil of the turns that are told meets the tone with as many ohms as are in series with it. The
    asked tone comes first."""
    build, found = wound
    asked = tones.tones(build, 200.0, 24.0)
    assert (asked[0].tone.f_tone, asked[0].tone.R_source) == (200.0, 24.0)
    assert asked[0].N_best
    assert asked[0].d_best
    n = float(asked[0].N_best) / float(build.found.voice_winding.N)
    f = np.array([200.0])
    shell = whole(build.design, build.found.moving)
    Z_m = shell.driven.answer(f, build.rho_0, build.c_0).Z_m
    Z = build.found.driver.Re + build.Z_b.at(f) + build.found.motor.Bl**2 / Z_m
    assert n**2 * np.abs(Z) == pytest.approx(24.0, rel=1e-6)
    assert next(each for each in asked if not each.tone.R_source).N_best is None


def test_no_more_amperes_than_it_has(wound: Studied) -> None:
    """Ohm's law: an amplifier for 16 Ω, on this driver, is at the end of its amperes before that of its volts."""
    build, found = wound
    P, Re, Z = 15.0, float(build.found.driver.Re), found.sound.load.Z_min
    for Z_least, amperes in ((4.0, np.sqrt(P * 4) / Z), (16.0, np.sqrt(P / 16))):
        amplifier = replace(build.brief.amplifier, P_max=P, Z_least=Z_least)
        own = replace(build, brief=replace(build.brief, amplifier=amplifier))
        load = replace(found.sound.load, I_max=np.sqrt(P * Z_least) / Z)
        assert tones.full(own, load).P_vc == pytest.approx(amperes**2 * Re, rel=1e-9)

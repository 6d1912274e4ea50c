"""Where the study of the sound puts the examples, and one tone: every answer beside one found in another way."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from handwound.heard.limits import driven
from handwound.mounting import Lodging
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Port
from handwound.physics.moving import effective_area
from handwound.sound import places, tones
from handwound.sound.build import Build
from handwound.sounding import mount
from tests.sounded import Studied


def test_the_lowest_note_in_each_place(wound: Studied) -> None:
    """Second way: one volt turned up until stroke, heat, volts or amperes are what they may be."""
    build, found = wound
    rating, amplifier = build.found.rating, build.brief.amplifier
    assert rating
    for each in found.lodged:
        brief = places.brief_in(each.place, build.brief)
        did = driven(np.array([float(brief.f_low)]), build.design, brief, build.found, build.Z_b, 0.0)
        U_lim = float(np.sqrt(amplifier.P_max * amplifier.Z_least))
        most = min(found.sound.travel.x_lim / did.x[0], np.sqrt(float(rating.P_cont) / did.P[0]), U_lim,
                   U_lim / float(amplifier.Z_least) / abs(did.I[0]))  # fmt: skip
        assert each.L_max == pytest.approx(20 * np.log10(most * abs(did.p[0]) / 20e-6), abs=1e-6)


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


CAN = pi / 4 * 0.068**2 * 0.058
"""Round the open-day motor: two plates of 6 mm and a pipe of 46 mm. [m³]"""
BOWL = pi / 12 * 0.015 * (0.0255**2 + 0.0255 * 0.096 + 0.096**2)
"""Its cone's frustum, by the volume of a cone. [m³]"""


def test_air_in_a_port(repaired: Studied) -> None:
    """Second way: near its tuning nearly all that is heard comes out of the port: p = rho f q at 1 m from a wall, so
    the sound tells the flow."""
    build, _ = repaired
    brief = replace(
        build.brief, box=Box(V_box=6e-3, t_box=0.012), port=Port(n_port=1, d_port=0.03, l_port=0.06, Q_leak=20)
    )
    own = Build.of(build.design, brief)
    at = places.lodged(own)[0]
    assert at.place.f_box
    assert at.v_port
    assert own.found.sound
    thirds_apart = 10**0.1
    loud = own.found.sound.loudest
    near = np.abs(np.log(loud.f / at.place.f_box)) < np.log(thirds_apart)
    heard = 20e-6 * 10 ** (loud.L_max[near] / 20) * np.sqrt(2) / (own.rho_0 * loud.f[near]) / (pi / 4 * 0.03**2)
    assert at.v_port == pytest.approx(float(np.max(heard)), rel=0.35)


def test_taping_the_back(repaired: Studied) -> None:
    """Limit: all holes taped is a closed box of the back's air. Closed form: the open share. Sense: tape raises the
    resonance, open holes nearly leave it."""
    build, _ = repaired
    back = Back(V_back=1e-3, n_vent=20, d_vent=0.02, t_vent=0.001)
    own = replace(build, design=replace(build.design, back=back))
    open_all, half, shut = places.taped(own)
    closed = mount(build.found, Lodging(box=Box(V_box=1e-3, t_box=0.01)), 0.0, float(build.brief.T_room))
    assert shut.found.f_c == pytest.approx(float(closed.f_c), rel=0.02)
    Sd = float(effective_area(build.found.moving.a))
    assert open_all.open_share == pytest.approx(20 * pi / 4 * 0.02**2 / Sd, rel=1e-9)
    assert (shut.open_share, half.n_taped) == (0.0, 10)
    wall = mount(build.found, Lodging(), 0.0, float(build.brief.T_room))
    assert open_all.found.f_c == pytest.approx(float(wall.f_c), rel=0.05)
    assert open_all.found.f_c < half.found.f_c * 1.02 < shut.found.f_c


def test_one_tone_as_asked(wound: Studied) -> None:
    """Balance: as much copper in other turns; the asked tone comes first. Ohm's law: the amplifier's heat."""
    build, found = wound
    asked = tones.tones(build, 200.0, 24.0)
    assert (asked[0].tone.f_tone, asked[0].tone.R_source) == (200.0, 24.0)
    assert asked[0].N_best
    assert asked[0].d_best
    wire = build.design.voice_coil.wire
    assert wire
    copper = float(wire.d_cu) ** 2 * float(build.found.voice_winding.N)
    assert float(asked[0].d_best) ** 2 * float(asked[0].N_best) == pytest.approx(copper, rel=1e-9)
    assert next(each for each in asked if not each.tone.R_source).N_best is None
    load = found.sound.load
    U = np.sqrt(15.0 * 4.0)
    assert found.full.P_vc == pytest.approx((U / load.Z_min) ** 2 * float(build.found.driver.Re), rel=1e-9)

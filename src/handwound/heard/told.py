"""What a prediction tells of the sound: suspension, bending, stroke, loudness, the amplifier's load, places for it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from handwound import masses
from handwound.cone import whole
from handwound.heard.limits import load, loudest_tones, one_tone
from handwound.heard.places import places
from handwound.heard.travel import held, travel
from handwound.iron_field import Field
from handwound.mounting import Lodging
from handwound.parts.coil import Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.parts.sound import Breakup, Sound
from handwound.physics import air, circuit, sound
from handwound.physics.rayleigh import deep_limit
from handwound.physics.shell.linear import ring_frequency
from handwound.sounding import F_LOW, HEARD, LOW, R_REF, U_REF, Blocked, Heard, R_source, heard
from handwound.spread import Drawn
from handwound.stiff import piston_to

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

THETA = np.radians([0.0, 15.0, 30.0, 45.0, 60.0, 75.0, 90.0])
"""Angles off the axis at which the sound is told. [rad]"""
UNLIKE = 3.0
"""So far from that of a stiff diaphragm the level on the axis is no longer the same. [dB]"""
BREAKUP = np.geomspace(F_LOW, HEARD[-1], 400)
"""Frequencies at which the bending diaphragm is followed. [Hz]"""


def told(
    design: Design, brief: Brief, found: Chain, field: Field, place: Rectangle, Z_b: Blocked, drawn: Drawn
) -> Sound:
    """All of it, for plain numbers; the draws tell only when it rubs."""
    hung = held(design, found, float(brief.x_pk))
    way = travel(design, brief, found, field, place, hung, drawn)
    f_piston = float(sound.piston_limit(float(found.moving.a), float(air.speed(brief.T_room))))
    f_tone = float(found.driver.fs) if brief.f_tone is None else float(brief.f_tone)
    return Sound(
        held=hung,
        breakup=breakup(design, brief, found, Z_b),
        f_flat=flat_limit(design, brief, found),
        travel=way,
        loudest=loudest_tones(design, brief, found, Z_b, way, f_piston),
        load=load(design, brief, found, Z_b),
        places=places(design, brief, found),
        tone=one_tone(f_tone, float(R_source(brief)), design, brief, found, Z_b, way),
    )


def flat_limit(design: Design, brief: Brief, found: Chain) -> float | None:
    """How far up a flat card of the same sheet would move as a whole; None where it is flat. [Hz]"""
    part = design.diaphragm
    if part.form == "disc":
        return None
    flat = replace(design, diaphragm=replace(part, form="disc", h_c=0.0, w_seam=0.0, m_d=None, ribs=None))
    weighed = found.moving.m_d / masses.diaphragm_mass(replace(part, m_d=None))
    m_d = masses.diaphragm_mass(flat.diaphragm) * weighed
    rest = found.moving.Mmd - found.moving.m_d - found.moving.m_rib
    lighter = replace(found.moving, m_d=m_d, m_rib=0.0, Mmd=rest + m_d)
    rho_0, c_0 = float(air.density(brief.T_room)), float(air.speed(brief.T_room))
    return piston_to(flat, lighter, float(found.driver.fs), rho_0, c_0)


def breakup(design: Design, brief: Brief, found: Chain, Z_b: Blocked, f: Array = BREAKUP) -> Breakup:
    """The diaphragm as it bends, in a wall without end, for 2.83 V."""
    rho_0, c_0 = float(air.density(brief.T_room)), float(air.speed(brief.T_room))
    shell, part = whole(design, found.moving), design.diaphragm
    answer = shell.driven.answer(f, rho_0, c_0)
    Z, v, _ = circuit.driven(U_REF, R_source(brief), found.driver.Re, Z_b.at(f), found.motor.Bl, answer.Z_m)
    moving = answer.v.reshape(len(f), -1) * np.asarray(v)[:, None]
    p = shell.skin.pressure(f, THETA, moving, rho_0, c_0, R_REF)
    flat = part.form == "disc"
    rho_m = part.sheet.rho_A / part.sheet.t
    ring = float(ring_frequency(part.sheet.E, rho_m, part.d_out / 2, part.alpha_c))
    L_off = np.asarray(circuit.sound_level(p))
    in_wall = Heard(found, Lodging(), R_source(brief))
    stiff = circuit.sound_level(heard(f, in_wall, float(brief.T_room), Z_b.at(f))[2])
    apart = np.abs(L_off[:, 0] - stiff) > UNLIKE
    return Breakup(
        f=f, theta=THETA, L_off=L_off, Z=np.abs(Z), f_bent=float(f[np.argmax(np.where(f < LOW[-1], np.abs(Z), 0.0))]),
        f_even=float(f[np.argmax(apart)] if apart.any() else f[-1]),
        f_ring=ring if part.form == "cone" else None,
        f_deep=None if flat else float(deep_limit(part.h_c, c_0)),
    )  # fmt: skip

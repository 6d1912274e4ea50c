"""The boards of a box: room for the driver and for its air, and how little air still leaves room for the driver."""

from __future__ import annotations

from math import isnan, pi

from handwound.cone import level, neck
from handwound.files.fits import motor_bodies, motor_volume, moving_bodies
from handwound.parts.design import Brief, Design
from handwound.parts.mounting import Port
from handwound.parts.sound_study import Boards
from handwound.physics.alignment import panels

BEHIND = 20e-3
"""So much air between the motor and the board behind it. [m] Common practice, no source."""


def sawn(design: Design, brief: Brief) -> Boards | None:
    """The boards of the box that the brief has; None without one, and where so little air cannot hold the driver."""
    box = brief.box
    if box is None:
        return None
    V_more = taken(design, brief.port)
    least = inside(design, brief)
    made = panels(box.V_box, box.t_box, V_more, W_least=least[0], D_least=least[1])
    W_in, H_in, D_in, W_out, H_out = (float(each) for each in made)
    if isnan(H_in):
        return None
    return Boards(t_box=box.t_box, V_more=V_more, W_in=W_in, H_in=H_in, D_in=D_in, W_out=W_out, H_out=H_out)


def least_air(design: Design, brief: Brief) -> float:
    """The air in the smallest box of boards that holds the driver. [m³]"""
    W_least, D_least = inside(design, brief)
    return W_least**2 * D_least - taken(design, None)


def taken(design: Design, port: Port | None) -> float:
    """What the motor, the bowl of its cone and the ports take of a box; a frame is not known. [m³]"""
    part = design.diaphragm
    bowl = pi / 12 * part.h_c * (part.d_in**2 + part.d_in * part.d_out + part.d_out**2) if part.form == "cone" else 0.0
    tubes = port.n_port * pi / 4 * port.d_port**2 * port.l_port if port else 0.0
    return motor_volume(design) + float(bowl + tubes)


def inside(design: Design, brief: Brief) -> tuple[float, float]:
    """Least width and height, and least depth, of the room for the driver: from its rim to behind its motor. [m]"""
    coil, part = design.voice_coil, design.diaphragm
    rim = moving_bodies(design.iron, coil, 0.0)[0].z_hi + float(level(part, neck(design), float(part.d_out) / 2))
    back = min(each.z_lo for each in motor_bodies(design.iron, design.field_coil))
    return float(brief.D_outline), rim - back + BEHIND

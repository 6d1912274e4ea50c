"""What the driver is built into, for its diaphragm and for the listener: open air, a board, a box, the frame's back."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from handwound.parts.design import Brief
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.prediction import Moving
from handwound.physics import air, box, sound, vents
from handwound.physics.heat.convection import film
from handwound.physics.hum import Phasor
from handwound.physics.open_baffle import open_baffle
from handwound.quantities import Num

B_BOX = 0.65
"""Mass of the air behind a diaphragm in a box, as a length over its radius times pi: 0.85 in a wall; Beranek's B for a
diaphragm that takes a third of its wall (from memory)."""
ETA_BOX = 0.03
"""Loss factor of the air in an empty box. Common practice, no source."""


class Around(NamedTuple):
    """What the air and all that holds it put against the diaphragm, over its velocity; the far pressure on the axis
    beside that of the diaphragm's own flow in a wall without end; the diaphragm's flow that leaves by the ports."""

    Z_air: Phasor
    k_out: Phasor
    k_port: Phasor


class Lodging(NamedTuple):
    """What the driver stands in. With a box it is that, with or without a port, else a board, else a wall."""

    box: Box | None = None
    port: Port | None = None
    baffle: Baffle | None = None
    back: Back | None = None

    @classmethod
    def of(cls, brief: Brief, back: Back | None) -> Lodging:
        """As the brief says."""
        return cls(brief.box, brief.port, brief.baffle, back)


def around(f: Num, moving: Moving, lodging: Lodging, T_room: Num) -> Around:
    """The air at frequencies, which stand on the first axis where the rest are draws.

    A piston's radiation hangs so little on the spread of its radius and of the room that the middle ones do for all.
    """
    T_room = float(np.mean(T_room))
    rho_0, c_0, a, Sd = air.density(T_room), air.speed(T_room), float(np.mean(moving.a)), moving.Sd
    front = sound.radiation(f, a, np.pi * a**2, rho_0, c_0) / 2
    if lodging.baffle and not lodging.box and not lodging.back:
        Z_air, k_out = _on_board(f, moving, lodging.baffle, T_room)
        return Around(Z_air, k_out, 0.0)
    Z_a, k_out, k_port = _behind(f, moving, lodging, T_room)
    if lodging.back:
        vent = lodging.back
        if not lodging.box:
            Z_a = np.asarray(Z_a).real + 0j  # the air that moves outside the holes is told with them
        Z_vent = vents.vent_holes(f, vent.n_vent, vent.n_taped, vent.d_vent, vent.t_vent, rho_0, film(T_room).nu_air)
        Z_a, k_vent = box.frame_back(f, vent.V_back, Z_vent, Z_a, rho_0, c_0)
        k_out, k_port = 1 - k_vent * (1 - k_out), k_vent * k_port
        if lodging.baffle and not lodging.box:
            # half of a flow on one side of a thin board is of both sides alike, which play as in a wall without end
            k_out = (1 - k_vent) / 2 + (1 + k_vent) / 2 * _on_board(f, moving, lodging.baffle, T_room)[1]
    return Around(front + Sd**2 * Z_a, k_out, k_port)


def _behind(f: Num, moving: Moving, lodging: Lodging, T_room: Num) -> tuple[Phasor, Phasor, Phasor]:
    """What is behind the frame: its impedance to a flow, what that leaves for the listener, what leaves by ports."""
    rho_0, c_0 = air.density(T_room), air.speed(T_room)
    if not lodging.box:
        a = float(np.mean(moving.a))
        return box.open_rear(f, a, np.pi * a**2, rho_0, c_0), 1.0, 0.0
    V_box, port = lodging.box.V_box, lodging.port
    carried = 2j * np.pi * f * rho_0 * B_BOX / (np.pi * float(np.mean(moving.a)))
    if not port:
        return box.closed(f, V_box, rho_0, c_0, eta_box=ETA_BOX) + carried, 1.0, 0.0
    Z_port = vents.ports(f, port.n_port, port.d_port, port.l_port, rho_0, c_0, film(T_room).nu_air)
    R_leak = box.leak_resistance(V_box, tuned(lodging.box, port, c_0), port.Q_leak, rho_0, c_0)
    Z_a, k_port, k_out = box.vented(f, V_box, Z_port, rho_0, c_0, R_leak)
    return Z_a + carried, k_out, k_port


def _on_board(f: Num, moving: Moving, baffle: Baffle, T_room: Num) -> tuple[Phasor, Phasor]:
    """The driver in the middle of a board: its air, and the far pressure beside that in a wall without end."""
    shape, sizes = np.shape(f), (moving.a, baffle.W_baffle, baffle.H_baffle, air.density(T_room), air.speed(T_room))
    a, W, H, rho_0, c_0 = (float(np.mean(each)) for each in sizes)
    Z_air, D_open = open_baffle(np.ravel(f), a, W, H, rho_0, c_0, [0.0])
    return Z_air.reshape(shape), D_open[:, 0].reshape(shape)


def tuned(box: Box, port: Port, c_0: Num) -> Num:
    """To what the ports tune the box. [Hz]"""
    return vents.tuning(box.V_box, port.n_port, port.d_port, port.l_port, vents.FLANGED + vents.FREE, c_0)

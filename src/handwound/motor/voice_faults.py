"""What a fault in the voice coil's winding would do: to the ohms, to the force, to the peak of the impedance."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10

import numpy as np
import numpy.typing as npt

from handwound.motor.solved import Solved
from handwound.motor.winding_faults import NOTHING, Case, joined
from handwound.parts.coil import VoiceCoil
from handwound.parts.faults import VoiceFault
from handwound.physics.driver import Z_max
from handwound.physics.winding_faults import shorted_drag, with_shorts
from handwound.physics.wire import resistivity
from handwound.stages import rungs, wire_of

F_VOICE = 1e3
"""Where the inductance of a voice coil is told. [Hz] Common practice, no source."""


def voice_faults(build: Solved) -> tuple[VoiceFault, ...]:
    """The voice coil as planned, then each fault that it has room for."""
    found = (_with(build, case) for case in _cases(build.design.voice_coil, float(build.brief.T_room)))
    return tuple(fault for fault in found if fault)


def _cases(coil: VoiceCoil, T_room: float) -> Iterator[Case]:
    n_l, layers = int(coil.n_l), rungs(coil, T_room)

    def case(name: str, kind: str, n: int, way: float) -> Case:
        sense = np.ones(n_l)
        sense[n] = way
        return Case(name, kind, layers, sense)

    yield case("as planned", "none", 0, 1.0)
    yield case("one turn shorted", "shorted", 0, 1 - 1 / float(layers.N_l[0]))
    if n_l > 1:
        yield case("one layer shorted", "shorted", 0, 0.0)
        yield case("one layer reversed", "reversed", 0, -1.0)
        yield case("last layer left out", "left out", n_l - 1, 0.0)


def _with(build: Solved, case: Case) -> VoiceFault | None:
    """The coil with a fault; None where nothing would be left of a section of it."""
    coil, sound, Bl_l = build.design.voice_coil, build.done, _forces(build, case)
    of_turns, of_forces = joined(coil, case, case.N_l), joined(coil, case, Bl_l)
    if of_turns is None or of_forces is None:
        return None
    R_l, gone = np.diff(case.layers.R_T, prepend=0.0), (1 - case.sense) * (case.kind == "shorted")
    N_k, R_k, Bl_k = (each[gone > 0] for each in (gone * case.N_l, gone * R_l, gone * Bl_l))
    Re = float(resistivity(of_turns[0], wire_of(coil).alpha_20, build.brief.T_room))
    Bl, Bl_sound, R_drag = abs(float(of_forces[1])), float(sound.motor.Bl), shorted_drag(Bl_k, R_k)
    R_sound = Bl_sound**2 / (sound.driver.Z_max - sound.driver.Re)
    L_vc = None
    if coil.n_sec == 1 or coil.connection == "series":
        Z = with_shorts(build.blocked.at(np.array([F_VOICE])), build.coil.N, of_turns[1], N_k, R_k)
        L_vc = float(Z[0].imag / (2 * np.pi * F_VOICE))
    return VoiceFault(
        name=case.name, kind=case.kind, N_net=of_turns[1], Re=Re, Bl=Bl,
        dL=20 * log10(max(Bl / Bl_sound * sound.driver.Re / Re, NOTHING)),
        R_drag=R_drag, Z_max=Z_max(Re, Bl, R_sound + R_drag), L_vc=L_vc,
    )  # fmt: skip


def _forces(build: Solved, case: Case) -> npt.NDArray[np.float64]:
    """Force factor of each layer where it lies. [T·m]"""
    _, _, z_lo, z_hi = build.coil.rectangle
    d_o = wire_of(build.design.voice_coil).d_o
    r_in, r_out = (case.layers.D_l - d_o) / 2, (case.layers.D_l + d_o) / 2
    solution = build.field.solution
    return np.array([
        float(solution.Bl(r_1, r_2, z_lo, z_hi, N)) for r_1, r_2, N in zip(r_in, r_out, case.N_l, strict=True)
    ])  # fmt: skip

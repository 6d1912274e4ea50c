"""All questions about a motor in one go."""

from __future__ import annotations

from handwound.motor import alternating, forces, switching, travel, voice_faults, winding_faults, worth
from handwound.motor.solved import Solved
from handwound.parts.design import Brief, Design
from handwound.parts.study import MotorStudy
from handwound.stages import magnet_states


def study(design: Design, brief: Brief) -> MotorStudy:
    """Everything about the motor of a design whose coils are chosen, cold."""
    build = Solved.of(design, brief)
    return MotorStudy(
        travel=travel.travel(build),
        gap=travel.gap(build),
        iron=travel.filled(build),
        magnets=magnet_states(design.iron, build.field, brief.T_room),
        worths=worth.worths(build),
        dL_legs=worth.legs(build),
        pulls=forces.pulls(build),
        sideways=forces.sideways(build),
        lift_test=forces.lift(build),
        switching=switching.switching(build),
        alternating=alternating.alternating(build),
        hum=alternating.hum_of(build),
        winding_faults=winding_faults.winding_faults(build),
        voice_faults=voice_faults.voice_faults(build),
    )

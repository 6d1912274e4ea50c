"""What every question about the sound begins from: the design with all that is predicted of it, and builds beside it
that differ in what moves."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from handwound.masses import budget, diaphragm_mass
from handwound.parts.design import Brief, Design
from handwound.parts.moving import Diaphragm
from handwound.parts.prediction import Driver, Moving, Prediction
from handwound.physics import air
from handwound.predict import blocked, field_of, predict
from handwound.sounding import Blocked, drive
from handwound.stages import move
from handwound.stiff import piston_to


class Other(NamedTuple):
    """A build on the same motor: what moves in it, and the driver that this makes."""

    design: Design
    moving: Moving
    driver: Driver


@dataclass(frozen=True, eq=False)
class Build:
    """A design on its brief, what it will do, its voice coil held still, and the air of the room."""

    design: Design
    brief: Brief
    found: Prediction
    Z_b: Blocked
    rho_0: float
    c_0: float

    @classmethod
    def of(cls, design: Design, brief: Brief) -> Build:
        """All that is predicted of a design whose coils are chosen."""
        found, Z_b = predict(design, brief), blocked(design, brief, field_of(design, brief))
        return cls(design, brief, found, Z_b, float(air.density(brief.T_room)), float(air.speed(brief.T_room)))

    def changed(self, design: Design) -> Other:
        """A design that differs in what moves; where all was weighed together, heavier by what its parts are."""
        found, T_room = self.found, self.brief.T_room
        if design.m_weighed is not None:
            before, after = (sum(budget(each, found.voice_winding)) for each in (self.design, design))
            design = replace(design, m_weighed=design.m_weighed + after - before)
        moving = move(design, found.voice_winding, T_room)
        of = (moving.Mms, moving.Kms, moving.Rms, moving.Sd, moving.a)
        return Other(design, moving, drive(found.driver.Re, found.motor.Bl, *of, T_room))

    def stiff_to(self, other: Other) -> float:
        """How far up its diaphragm moves as a whole. [Hz]"""
        return piston_to(other.design, other.moving, float(other.driver.fs), self.rho_0, self.c_0)


def weighed_alike(before: Diaphragm, after: Diaphragm) -> Diaphragm:
    """A diaphragm in place of one that was weighed: as much heavier or lighter than its sheet says."""
    if before.m_d is None:
        return after
    k = before.m_d / diaphragm_mass(replace(before, m_d=None))
    return replace(after, m_d=k * diaphragm_mass(replace(after, m_d=None)))

"""What every question about a motor begins from: the design, its solved field, its voice coil for the solver."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from handwound import iron_field
from handwound.iron_field import Field
from handwound.parts.coil import FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.physics.field import Problem, Winding
from handwound.predict import blocked, chain, field_of
from handwound.sounding import Blocked
from handwound.stages import coil_place


@dataclass(frozen=True, eq=False)
class Solved:
    """A design on its brief, as far as it was computed; ``coil`` is the voice coil at rest."""

    design: Design
    brief: Brief
    field: Field
    done: Chain
    coil: Winding

    @classmethod
    def of(cls, design: Design, brief: Brief) -> Solved:
        """Solve what has not been solved yet."""
        field = field_of(design, brief)
        done = chain(design, brief, field)
        place = coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
        return cls(design, brief, field, done, iron_field.coil_of(place, done.voice_winding.N))

    @cached_property
    def blocked(self) -> Blocked:
        """The voice coil held still."""
        return blocked(self.design, self.brief, self.field)

    @property
    def T(self) -> float:
        """Temperature of the magnets. [°C]"""
        return float(self.brief.T_room)

    def problem(self, design: Design) -> Problem:
        """A changed design with the same field coil and temperature, its plate where the plate of this one is.

        The voice coil is set by its plate, so what moves the plate moves everything but the voice coil.
        """
        on_it = replace(design, field_coil=self._following(design))
        asked = iron_field.problem(on_it, *iron_field.wound(self.field.problem), T=self.T)
        up = sum(map(float, self.design.iron.plate_levels())) - sum(map(float, design.iron.plate_levels()))
        return raised(asked, up / 2)

    def _following(self, design: Design) -> FieldCoil | None:
        """The field coil, standing on the same ring as in this build."""
        coil, before, after = self.design.field_coil, self.design.iron.levels(), design.iron.levels()
        if coil is None:
            return None
        tops = {name: float(z_hi) for name, (_, z_hi) in before.items()}
        under = [
            ring.name
            for ring in self.design.iron.rings
            if tops[ring.name] <= coil.z_w and ring.d_in < coil.D_f < ring.d_out
        ]
        if not under:
            return coil
        stands_on = max(under, key=lambda name: tops[name])
        return replace(coil, z_w=coil.z_w + after[stands_on][1] - before[stands_on][1])


def raised(problem: Problem, by: float) -> Problem:
    """The same motor at another level, and with it the zones in which its voice coil moves."""
    if not by:
        return problem
    rings = tuple(ring.raised(by) for ring in problem.rings)
    zones = tuple((r_in, r_out, z_lo + by, z_hi + by) for r_in, r_out, z_lo, z_hi in problem.zones)
    return replace(problem, rings=rings, zones=zones, winding=problem.winding and problem.winding.raised(by))

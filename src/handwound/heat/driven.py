"""What every question about heat begins from: the design in its field, both coils fed, its network at rest."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

import numpy as np

from handwound.iron_field import Field
from handwound.parts.coil import Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS
from handwound.parts.heat_study import State
from handwound.parts.prediction import Chain, Warming
from handwound.parts.programme import Programme, Recording
from handwound.physics.heat.network import Run
from handwound.physics.heat.sources import Played, Supplied, Together
from handwound.predict import blocked, chain, field_of
from handwound.programme import played
from handwound.stages import coil_place
from handwound.warming import follow, instants, tell
from handwound.warmth import Settled, impedance, on_amplifier, played_in, playing, settle

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array


@dataclass(frozen=True, eq=False)
class Driven:
    """A design on its brief as far as it was computed; ``idle`` is it at rest with its voice coil silent."""

    design: Design
    brief: Brief
    field: Field
    done: Chain
    programme: Programme
    place: Rectangle
    idle: Settled
    music: Played

    @classmethod
    def of(cls, design: Design, brief: Brief, recording: Recording | None = None) -> Driven:
        """Solve what has not been solved yet; what is played is the usual programme, or a sound file."""
        field = field_of(design, brief)
        Z_b, found = blocked(design, brief, field), chain(design, brief, field)
        if recording:
            programme = played(recording, brief.level, *impedance(found, brief, Z_b), found.driver.Re)
        else:
            programme = played_in(found, brief, Z_b)
        done = chain(design, brief, field, Z_b=Z_b, played=programme)
        place = coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
        idle = settle(design, brief, DOUBTS, done.field_winding, place)
        music = on_amplifier(design, brief, done.voice_winding, idle.model, programme)
        return cls(design, brief, field, done, programme, place, idle, music)

    def changed(self, design: Design | None = None, brief: Brief | None = None) -> Driven:
        """The same windings in the same field, where something else leads the heat away or another supply feeds it."""
        design, brief, done = design or self.design, brief or self.brief, self.done
        idle = settle(design, brief, DOUBTS, done.field_winding, self.place)
        music = on_amplifier(design, brief, done.voice_winding, idle.model, self.programme)
        return replace(self, design=design, brief=brief, idle=idle, music=music)

    def fed(self, by: Supplied | None) -> Driven:
        """The same with its field coil fed in another way, or not at all."""
        return replace(self, idle=self.idle._replace(fed=by))

    @property
    def heat(self) -> Together:
        """Both coils as one source of heat."""
        return self.idle.beside(self.music)

    def cold(self) -> Array:
        """All nodes as warm as the room. [°C]"""
        return self.idle.model.network.at_room(float(self.brief.T_room))

    def end(self) -> Array:
        """All nodes when nothing warms any more. [°C]"""
        return playing(self.idle, self.music)

    def run(self, t_run: float, also: Array) -> tuple[Run, Warming]:
        """From cold for some time, at instants that lie ever further apart, and at others."""
        found = follow(self.idle, self.music, np.union1d(instants(t_run / 3600), also))
        return found, self.told(found.t, found.T)

    def told(self, t_w: Array, T: Array, is_on: float = 1.0) -> Warming:
        """What it is like at the temperatures of all nodes [node, t]."""
        return tell(self.idle, self.field, self.done, self.place, t_w, T, is_on)

    def state(self, T: Array, is_on: float = 1.0) -> State:
        """What it is like at the temperatures of all nodes [node]."""
        return states(self.told(np.zeros(1), T[:, None], is_on), [0])[0]


def states(told: Warming, at: list[int]) -> tuple[State, ...]:
    """Some moments of what was told over time."""
    rows = {
        item.name: row
        for item in fields(State)
        if item.name != "spread" and (row := getattr(told, item.name)) is not None
    }
    return tuple(State(**{name: float(row[k]) for name, row in rows.items()}) for k in at)  # type: ignore[arg-type]

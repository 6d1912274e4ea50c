"""What heat meets on its way out: surfaces, insulation, what fills a winding, a frame; and how sure all that is."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num

PLACES = ("in a baffle", "on its back", "face down")
"""How a driver may be placed: its axis level, cone up on a bench, or cone down."""


@dataclass(frozen=True, kw_only=True)
class Surface(Part):
    """How a surface radiates."""

    name: str
    eps: Num


@dataclass(frozen=True, kw_only=True)
class Insulator(Part):
    """What a spool or a former is made of, and what heat it bears."""

    name: str
    k_th: Num
    T_max: Num


@dataclass(frozen=True, kw_only=True)
class Filler(Part):
    """What fills the room between the wires of a winding: how it leads heat, and what it stores."""

    name: str
    k_th: Num
    c_v: Num


@dataclass(frozen=True, kw_only=True)
class Frame(Part):
    """The frame, screwed to the ring ``on``: sheet of ``t_frame``, ``A_frame`` of both faces together."""

    on: str
    metal: str
    t_frame: Num
    A_frame: Num
    surface: Surface


@dataclass(frozen=True, kw_only=True)
class Box(Part):
    """A closed box around the motor: the air in it, and how thick its walls of wood are."""

    V_box: Num
    t_box: Num


@dataclass(frozen=True, kw_only=True)
class Doubts(Part):
    """What no file tells: factors on natural convection, on the winding's conductivity, and on the heat that passes
    through the cone."""

    k_conv: Num = 1.0
    k_w: Num = 1.0
    k_cover: Num = 1.0


DOUBTS = Doubts(spread=(("k_conv", 0.35), ("k_w", 0.3), ("k_cover", 0.3)))
"""Two common formulas differ by 10 %, those of level faces by 20; short bodies, what stands near and draughts by as
much again. With less, a motor on a large painted frame, which radiates much of its heat, would claim to know still air
better than to 10 % (a test looks). A winding's conductivity is known to a third; so are the two films of air on the
cone, a rule of the bench. Common practice, no source."""

"""What the iron is cut from or put together of: pieces of steel and of other metals, and magnets."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.heat import Surface
from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Piece(Part):
    """One piece, or ``count`` alike, as the largest ring that can be cut from it: d_in to d_out, t along the axis.

    ``grade`` names the steel, the magnet or the metal; ``surface`` is as it lies on the shelf.
    """

    name: str
    grade: str
    d_in: Num
    d_out: Num
    t: Num
    count: int = 1
    surface: Surface | None = None


@dataclass(frozen=True, kw_only=True)
class Metal(Piece):
    """A piece of metal of some form.

    A washer, ring, pipe or nut has its hole; a plate, bar or bolt shank has ``d_in`` 0. A nut and a bolt's head are
    taken as rings of equal area. Of a flat bar, ``t`` thick, straps can be cut as well as discs.
    """

    form: str
    head: tuple[float, float] | None = None
    """Diameter of equal area and height of a bolt's head. [m]"""
    width: Num | None = None
    length: Num | None = None
    """Of a flat bar. [m]"""


@dataclass(frozen=True, kw_only=True)
class Steel(Metal):
    """A piece of steel."""


@dataclass(frozen=True, kw_only=True)
class Magnet(Piece):
    """A magnet, as it was bought: magnetised along its axis or along its radius."""

    B_rem: Num
    magnetised: str

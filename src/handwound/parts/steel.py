"""Steel on the shelf: washers, rings, pipe, plate, bar and bolts."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Steel(Part):
    """One piece, or ``count`` alike, as the largest ring that can be cut from it: d_in to d_out, t along the axis.

    A washer, ring or pipe has its hole; a plate, bar or bolt shank has ``d_in`` 0. A bolt also has a head, taken as
    the ring of equal area.
    """

    name: str
    form: str
    grade: str
    d_in: Num
    d_out: Num
    t: Num
    count: int = 1
    head: tuple[float, float] | None = None
    """Diameter of equal area and height of a bolt's head. [m]"""

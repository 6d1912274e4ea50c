"""One reading from the bench."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Reading(Part):
    """What was read when and where: ``quantity`` is a name of the table, ``value`` is in its SI unit."""

    time: str
    where: str
    quantity: str
    value: Num
    note: str = ""

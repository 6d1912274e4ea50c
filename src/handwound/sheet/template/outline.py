"""What is cut out at true size: outlines of straight lines and arcs, in metres, y up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Role = Literal["cut", "fold", "mark"]
"""Where the knife goes, where it only scores, and what is only drawn."""
Corner = tuple[float, float, float]
"""x, y, and how the way to the next corner bulges: tan of a quarter of its angle, + where it turns left, 0 straight.

The same number as in a DXF polyline, so an arc stays an arc in every file."""


@dataclass(frozen=True)
class Line:
    """A way through corners. A closed one ends where it begins."""

    corners: tuple[Corner, ...]
    role: Role = "cut"
    closed: bool = True


@dataclass(frozen=True)
class Words:
    """A text on the template, its middle at (x, y), turned by ``angle``. [m], [rad]"""

    x: float
    y: float
    text: str
    height: float = 3e-3
    angle: float = 0.0


@dataclass(frozen=True)
class Template:
    """One thing to cut: ``count`` pieces of the sheet ``of``; ``operation`` is the code of the strip that needs it.

    ``name`` is for people, ``key`` for files ("cone"). ``notes`` tell what to do with it, with the sizes that a ruler
    can check.
    """

    key: str
    name: str
    of: str
    operation: str
    lines: tuple[Line, ...]
    words: tuple[Words, ...] = ()
    notes: tuple[str, ...] = ()
    count: int = 1


def circle(d: float, role: Role = "cut", x: float = 0.0, y: float = 0.0) -> Line:
    """A circle around (x, y): two half turns. [m]"""
    return Line(((x - d / 2, y, 1.0), (x + d / 2, y, 1.0)), role)


def bulge(angle: float) -> float:
    """Of an arc that turns left by this angle; negative to the right. [rad]"""
    return math.tan(angle / 4)

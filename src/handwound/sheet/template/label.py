"""What is written on every template: its name, the operation that needs it, how many there are of it."""

from __future__ import annotations

from handwound.sheet.said import Said, counted, say
from handwound.sheet.template.outline import Words

LETTERS = 3e-3
"""Height of the letters on a template. [m]"""


def label(name: str, operation: str, count: int = 1) -> Said:
    """``"Ribs (DI), 6 pieces"``."""
    if count == 1:
        return say("{name} ({operation})", name=name, operation=operation)
    pieces = counted("count", count)
    return say("{name} ({operation}), {count} pieces", name=name, operation=operation, count=pieces)


def named(
    x: float, y: float, name: str, operation: str, count: int = 1, height: float = LETTERS, angle: float = 0.0
) -> Words:
    """The name of a template as a text on it."""
    return Words(x, y, label(name, operation, count), height, angle)

"""Parts as a builder who knows everything exactly has them."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TypeVar

from handwound.parts.part import Part

P = TypeVar("P", bound=Part)


def sure(part: P) -> P:
    """The part and all within it without any spread."""
    changed: dict[str, object] = {"spread": ()}
    for item in fields(part):
        value = getattr(part, item.name)
        if isinstance(value, Part):
            changed[item.name] = sure(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            changed[item.name] = tuple(sure(each) for each in value)
    return replace(part, **changed)

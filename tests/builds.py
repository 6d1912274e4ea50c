"""Parts as a builder has them: one of many drawn ones, or known exactly."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TypeVar

import numpy as np

from handwound.parts.part import Part

P = TypeVar("P", bound=Part)


def one(part: P, k: int) -> P:
    """One of the builds in drawn parts, with plain numbers."""
    changed: dict[str, object] = {}
    for item in fields(part):
        value = getattr(part, item.name)
        if isinstance(value, np.ndarray):
            changed[item.name] = float(value[k])
        elif isinstance(value, Part):
            changed[item.name] = one(value, k)
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            changed[item.name] = tuple(one(each, k) for each in value)
    return replace(part, **changed)


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

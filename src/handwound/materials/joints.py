"""The air that is left in each kind of joint between two faces, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import table
from handwound.quantities import Measured


@cache
def _index() -> dict[str, Measured]:
    found = {}
    for line in table("joints"):
        joint, spread = line["joint"], line["joint_spread"]
        assert isinstance(joint, float) and isinstance(spread, float)
        found[str(line["kind"])] = Measured(joint, spread)
    return found


def joints() -> dict[str, Measured]:
    """Every kind of joint, with its air and how sure that is. [m]"""
    return dict(_index())

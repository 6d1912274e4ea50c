"""The weight that a current holds: how Bl is read on a bench."""

from __future__ import annotations

from handwound.physics.moving import G_N
from handwound.quantities import Num

BALANCE = 0.020
"""Mass laid on the cone to find Bl: common practice. [kg]"""


def balance(Bl: Num) -> Num:
    """The current that holds it: I = m g / Bl. [A]"""
    return BALANCE * G_N / Bl

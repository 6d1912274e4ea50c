"""The field coil with all that only a motor with one has: its supply, its winding, its current and its heat."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Excitation, Heat, Prediction, Winding
from handwound.parts.source import Supply


@dataclass(frozen=True)
class Fed:
    """A field coil on its supply; ``T_touch`` is what its outside may reach. [°C]"""

    coil: FieldCoil
    supply: Supply
    wound: Winding
    cold: Excitation
    warm: Heat
    W_m: float
    T_touch: float


def fed(design: Design, brief: Brief, prediction: Prediction) -> Fed | None:
    """The field coil of a build; None where magnets alone make the field."""
    wound, cold, warm, W_m = (prediction.field_winding, prediction.excitation, prediction.heat, prediction.motor.W_m)
    if not (design.field_coil and brief.supply and wound and cold and warm):
        return None
    assert W_m is not None and brief.T_touch is not None, "both belong to a field coil"
    return Fed(design.field_coil, brief.supply, wound, cold, warm, float(W_m), float(brief.T_touch))

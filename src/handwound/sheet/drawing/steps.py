"""A small drawing for each operation where it helps."""

from __future__ import annotations

from collections.abc import Callable

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing import steps_motor, steps_moving
from handwound.sheet.said import Said

Drawer = Callable[[Design, Brief, Prediction], Said | None]
DRAWN: dict[str, Drawer] = {
    "IR": steps_motor.strips, "SP": steps_motor.spool, "FC": steps_motor.field_winding, "MG": steps_motor.magnets,
    "EN": steps_motor.first_current, "FO": steps_moving.former, "VC": steps_moving.voice_coil,
    "DI": steps_moving.diaphragm, "FR": steps_moving.frame, "AS": steps_moving.assembly, "SU": steps_moving.surround,
    "RB": steps_moving.rub, "ME": steps_moving.measure, "FS": steps_moving.first_sound,
}  # fmt: skip
"""By the code of the operation."""


def picture(code: str, design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """The drawing of an operation, at most 84 x 52 mm; None where words say it better."""
    drawer = DRAWN.get(code)
    return drawer(design, brief, prediction) if drawer else None

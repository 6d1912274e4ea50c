"""The operations of the build, in their order."""

from __future__ import annotations

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build import last, motor, moving
from handwound.sheet.build.operation import Build, Operation


def operations(design: Design, brief: Brief, prediction: Prediction) -> tuple[Operation, ...]:
    """The whole build; the first is number 0."""
    build = Build(design, brief, prediction)
    return tuple(each for part in (motor, moving, last) for each in part.operations(build))

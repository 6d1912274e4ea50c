"""What cannot be built in the order of the sheet, all of it at once, each with the operation that it stops."""

from __future__ import annotations

from handwound.errors import Fault, FileError
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build import order
from handwound.sheet.build.operations import operations
from handwound.sheet.template import fits
from handwound.sheet.template.templates import templates


def unbuildable(design: Design, brief: Brief, prediction: Prediction) -> tuple[Fault, ...]:
    """Parts that cannot pass one another, and pieces larger than the sheet that they are cut from."""
    cut = templates(design, brief, prediction)
    titles = {each.code: each.title for each in operations(design, brief, prediction)}
    return (*order.faults(design, brief, prediction), *fits.faults(cut, design, brief, titles))


def refuse(design: Design, brief: Brief, prediction: Prediction) -> None:
    """Raise FileError with every reason why this cannot be built as drawn; nothing where it can."""
    found = unbuildable(design, brief, prediction)
    if found:
        raise FileError(found)

"""The build as a record for JSON: every operation, ladder hold, template and drawing with the figures that it shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, fields, is_dataclass
from typing import Any

from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Prediction
from handwound.sheet.build.needs import needs
from handwound.sheet.build.operation import Build, Operation
from handwound.sheet.build.operations import operations
from handwound.sheet.build.refused import unbuildable
from handwound.sheet.drawing import steps
from handwound.sheet.drawing.clock import winding_clock
from handwound.sheet.drawing.exploded import exploded
from handwound.sheet.drawing.gap import gap_picture
from handwound.sheet.drawing.section import cross_section
from handwound.sheet.drawing.wiring import wiring
from handwound.sheet.said import figures
from handwound.sheet.summary import summary
from handwound.sheet.template.templates import templates
from handwound.sheet.winding import field_ladder, voice_ladder

GEOMETRY = {"lines", "words"}
"""Fields of a template that are drawn, not read."""


def build(design: Design, brief: Brief, prediction: Prediction, stock: Stock | None = None) -> dict[str, Any]:
    """What the sheet tells the builder, and why it would be refused."""
    every = operations(design, brief, prediction)
    drawn = {
        "section": cross_section(design, prediction),
        "gap": gap_picture(design, prediction),
        "exploded": exploded(design, prediction),
        "clock": winding_clock(design, brief, prediction),
        "wiring": wiring(design, brief, prediction),
        **{each.code: steps.picture(each.code, design, brief, prediction) for each in every},
    }
    ladders = field_ladder(design, brief, prediction), voice_ladder(design, brief, prediction)
    return {
        "refused": [vars(fault) for fault in unbuildable(design, brief, prediction)],
        "summary": told(summary(design, brief, prediction)),
        "operations": [_operation(each) for each in every],
        "ladders": [told(each) for each in ladders if each],
        "needs": told(needs(Build(design, brief, prediction), stock)),
        "templates": [
            {f.name: told(getattr(each, f.name)) for f in fields(each) if f.name not in GEOMETRY}
            | {"words": told(tuple(words.text for words in each.words))}
            for each in templates(design, brief, prediction)
        ],
        "drawings": {name: _figures(svg) for name, svg in drawn.items() if svg},
    }


def _operation(operation: Operation) -> dict[str, Any]:
    codes = [{"code": operation.reading(each), **told(each)} for each in operation.checks]
    return {**told(operation), "is_hold": operation.is_hold, "checks": codes}


def told(thing: Any) -> Any:
    """A part of the sheet as plain data: a text that holds figures becomes both."""
    if is_dataclass(thing) and not isinstance(thing, type):
        return {each.name: told(getattr(thing, each.name)) for each in fields(thing)}
    if isinstance(thing, list | tuple):
        return [told(each) for each in thing]
    if isinstance(thing, str):
        return {"text": str(thing), "figures": _figures(thing)} if figures(thing) else str(thing)
    return thing


def _figures(text: str) -> list[dict[str, Any]]:
    return [asdict(each) for each in _once(figures(text))]


def _once(found: Iterable[Any]) -> list[Any]:
    return list(dict.fromkeys(found))

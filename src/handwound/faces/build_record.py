"""The build as a record for JSON: every operation, ladder hold, template and drawing with the figures that it shows."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Prediction
from handwound.quantities import quantities
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
from handwound.sheet.said import Figure, figures
from handwound.sheet.summary import summary
from handwound.sheet.template.templates import templates
from handwound.sheet.winding import field_ladder, voice_ladder

GEOMETRY = {"lines", "words"}
"""Fields of a template that are drawn, not read."""
NAMES = {"code", "key", "ladder", "operation"}
"""Fields that name something for a program."""


def build(design: Design, brief: Brief, prediction: Prediction, stock: Stock | None = None) -> dict[str, Any]:
    """What the sheet tells the builder, and why it would be refused."""
    every, cut = operations(design, brief, prediction), templates(design, brief, prediction)
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
        "needs": told(needs(Build(design, brief, prediction), every, cut, stock)),
        "templates": [
            {f.name: _field(f.name, getattr(each, f.name)) for f in fields(each) if f.name not in GEOMETRY}
            | {"words": told(tuple(words.text for words in each.words))}
            for each in cut
        ],
        "drawings": {name: _figures(svg) for name, svg in drawn.items() if svg},
    }


def _operation(operation: Operation) -> dict[str, Any]:
    codes = [{"code": operation.reading(each), **told(each)} for each in operation.checks]
    return {**told(operation), "is_hold": operation.is_hold, "checks": codes}


def told(thing: Any) -> Any:
    """A part of the sheet as plain data: each text with the figures that it shows, each name as it is."""
    if is_dataclass(thing) and not isinstance(thing, type):
        return {each.name: _field(each.name, getattr(thing, each.name)) for each in fields(thing)}
    if isinstance(thing, list | tuple):
        return [told(each) for each in thing]
    return {"text": str(thing), "figures": _figures(thing)} if isinstance(thing, str) else thing


def _field(name: str, value: Any) -> Any:
    return value if name in NAMES else told(value)


def _figures(text: str) -> list[dict[str, Any]]:
    """Each figure once: SI value, band and unit, and how it is printed; without a band low and high are null."""
    return [_figure(each) for each in dict.fromkeys(figures(text))]


def _figure(figure: Figure) -> dict[str, Any]:
    sure = figure.low == figure.high
    return {
        "name": figure.name, "value": figure.value, "low": None if sure else figure.low,
        "high": None if sure else figure.high, "unit": quantities()[figure.name].unit,
        "printed": {"text": figure.text, "low": figure.text_low, "high": figure.text_high, "unit": figure.unit},
    }  # fmt: skip

"""Every template of a build, in the order of its operations."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.parts.design import Brief, Design
from handwound.parts.moving import Cap
from handwound.parts.prediction import Prediction
from handwound.sheet.said import say
from handwound.sheet.template import cone, frame, gauges, rings, strips
from handwound.sheet.template.dome import domed
from handwound.sheet.template.outline import Template


def templates(design: Design, brief: Brief, prediction: Prediction) -> tuple[Template, ...]:
    """What is cut out, and what is held against the work."""
    return tuple(_each(design, brief, prediction))


def _each(design: Design, brief: Brief, prediction: Prediction) -> Iterator[Template]:
    centring = tuple(gauges.centring_ring(design, prediction))
    yield from (each for each in centring if each.operation == "IR")
    yield from strips.spool(design, prediction)
    yield from (each for each in centring if each.operation != "IR")
    yield from strips.mandrel_wrap(design)
    yield strips.former(design)
    yield from gauges.go_rings(design, prediction)
    yield from cone.diaphragm(design.diaphragm)
    yield from frame.frame(design, brief)
    yield from gauges.depth_gauge(design, prediction)
    yield from gauges.shims(design, prediction)
    yield from rings.spider(design, brief)
    yield rings.surround(design, brief)
    if design.cap:
        yield from _cap(design.cap)


def _cap(cap: Cap) -> Iterator[Template]:
    """What closes the middle, last of all."""
    if cap.form == "dome" and cap.h_c:
        yield from domed("cap", say("Dust cap"), "DC", cap.sheet.name, float(cap.d_out), float(cap.h_c))
    else:
        yield cone.disc("cap", say("Dust cap"), "DC", cap.sheet.name, float(cap.d_out))

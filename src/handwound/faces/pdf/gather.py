"""All that the layout of the sheet places, as plain data: rows, words, drawings, codes."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Literal, TypeVar

from handwound.faces.pdf.codes import HERE, square
from handwound.faces.pdf.layout_words import layout_words
from handwound.language import spoken
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Prediction
from handwound.parts.sheet import Sheet
from handwound.sheet import doubt, heard, rub, warming
from handwound.sheet.build.needs import needs
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.build.operations import operations
from handwound.sheet.cautions import Caution, cautions
from handwound.sheet.drawing import curves, steps
from handwound.sheet.drawing.clock import winding_clock
from handwound.sheet.drawing.exploded import exploded
from handwound.sheet.drawing.field_picture import flux_picture
from handwound.sheet.drawing.gap import gap_picture
from handwound.sheet.drawing.letters import shortened
from handwound.sheet.drawing.section import cross_section
from handwound.sheet.drawing.svg import printable
from handwound.sheet.drawing.wiring import wiring
from handwound.sheet.numbers import Group, key_numbers, numbers
from handwound.sheet.said import figures, say, show
from handwound.sheet.summary import summary
from handwound.sheet.template.outline import Template
from handwound.sheet.template.pages import pages
from handwound.sheet.template.templates import templates
from handwound.sheet.winding import Ladder, field_ladder, voice_ladder

T = TypeVar("T", Caution, Group)
Paper = Literal["a4", "us-letter"]
FLUX = 150.0, 92.0
"""Most width and height of the picture of the flux. [mm]"""
HEAD, TITLE = (9.0, 230.0), (13.0, 490.0)
"""Size of the letters in the head of a page and in a long title, and the room there for the name of the job. [pt]"""
TITLE_LINES = 3
WIDTH = re.compile(r'viewBox="0 0 ([\d.]+) ')
POINT = 25.4 / 72
"""Millimetres in a typographic point."""


@dataclass(frozen=True)
class Print:
    """How a sheet is printed: its date, the paper, and where the page is that its codes open."""

    date: datetime.date
    paper: Paper = "a4"
    address: str = HERE


def gather(
    design: Design, brief: Brief, prediction: Prediction, how: Print, stock: Stock | None = None
) -> dict[str, Any]:
    """All that the template places, as plain data, in the language that is spoken."""
    return {
        **_head(brief, how),
        **_glance(design, brief, prediction),
        **_build(design, brief, prediction, how, stock),
        **_report(design, brief, prediction),
    }


def _head(brief: Brief, how: Print) -> dict[str, Any]:
    T_room = show("T_room", float(brief.T_room))
    return {
        "words": layout_words(T_room),
        "language": spoken().code,
        "paper": how.paper,
        "date": [how.date.year, how.date.month, how.date.day],
        "day": how.date.isoformat(),
        "job": shortened(printable(brief.name), *HEAD, bold=True),
        "title": say("{name}: build sheet", name=shortened(printable(brief.name), *TITLE, TITLE_LINES, bold=True)),
        "room": say("room at {T_room}", T_room=T_room),
        "room_is_20": round(float(brief.T_room), 1) == 20.0,
    }


def _glance(design: Design, brief: Brief, prediction: Prediction) -> dict[str, Any]:
    every = numbers(prediction)
    return {
        "summary": summary(design, brief, prediction),
        "section": _picture(cross_section(design, prediction), say("Section of the driver")),
        "keys": [asdict(number) for number in key_numbers(prediction)],
        "cautions": _halves(cautions(design, brief, prediction), _words),
        "exploded": _picture(exploded(design, prediction), say("The parts in the order in which they go together")),
        "clock": _picture(winding_clock(design, brief, prediction), say("The coils seen from the front")),
        "wiring": _picture(wiring(design, brief, prediction), say("How supply, amplifier and coils are joined")),
        "gap": _picture(gap_picture(design, prediction), say("The air gap, enlarged")),
        "air": [asdict(number) for number in every[-1].numbers],
        "rub": asdict(rub.table(design, _sheets(design), prediction.rub)) if prediction.rub else None,
    }


def _build(design: Design, brief: Brief, prediction: Prediction, how: Print, stock: Stock | None) -> dict[str, Any]:
    every = operations(design, brief, prediction)
    field, voice = field_ladder(design, brief, prediction), voice_ladder(design, brief, prediction)

    def qr(code: str) -> dict[str, Any]:
        return square(how.address, code, brief.name)

    def strip(operation: Operation) -> dict[str, Any]:
        drawn = steps.picture(operation.code, design, brief, prediction)
        return asdict(operation) | {
            "is_hold": operation.is_hold,
            "picture": _picture(drawn, operation.title) if drawn else None,
            "checks": [_check(each) | {"qr": qr(operation.reading(each))} for each in operation.checks],
        }

    cut = templates(design, brief, prediction)
    return {
        "operations": [strip(operation) for operation in every],
        "ladders": [
            _ladder(coil, each, show("T_room", float(brief.T_room)), qr)
            for coil, each in (("field", field), ("voice", voice))
            if each
        ],
        "needs": asdict(needs(Build(design, brief, prediction), every, cut, stock)),
        "templates": [_template(each, every) for each in cut],
        "template_pages": [_picture(page.svg, page.title) | {"title": page.title} for page in pages(cut, how.paper)],
    }


def _report(design: Design, brief: Brief, prediction: Prediction) -> dict[str, Any]:
    made = prediction.curves
    flux = flux_picture(design, made.flux_lines, made.iron, *FLUX)
    return {
        "groups": _halves(numbers(prediction), _lines),
        "heard": [asdict(table) for table in heard.tables(design, brief, prediction)],
        "heat": [asdict(table) for table in warming.tables(design, brief, prediction)],
        "warming": _warming(brief, prediction),
        "doubts": [asdict(table) for table in doubt.tables(prediction)],
        "curves": [_picture(svg, alt, POINT) for alt, svg in _curves(design, brief, prediction).items() if svg],
        "flux": _picture(flux, say("Flux lines over the section")),
    }


def _check(check: Check) -> dict[str, str]:
    """A reading with its value, large, apart from its band."""
    found = figures(check.expected)
    record = {"what": check.what, "if_low": check.if_low, "if_high": check.if_high}
    if len(found) != 1 or found[0].text_low == found[0].text_high:
        return record | {"value": check.expected, "band": ""}
    one = found[0]
    band = say("{low} to {high}", low=one.text_low, high=one.text_high)
    return record | {"value": f"{one.text} {one.unit}".strip(), "band": band}


def _template(template: Template, every: Sequence[Operation]) -> dict[str, Any]:
    step = next((k for k, operation in enumerate(every) if operation.code == template.operation), "")
    return {
        "name": template.name, "of": template.of, "notes": template.notes, "count": str(template.count),
        "pieces": say("{count} pieces", count=str(template.count)), "step": str(step),
    }  # fmt: skip


def _ladder(coil: str, ladder: Ladder, T_room: str, qr: Callable[[str], dict[str, Any]]) -> dict[str, Any]:
    """The ladder with its codes, and what its narrow form, two columns on a page, says only once."""
    first, last = ladder.rungs[0], ladder.rungs[-1]
    ohms = say("At 20 °C the last layer reads {R_20} Ω, at {T_room} {R_T} Ω.", R_20=last.R_20, T_room=T_room,
               R_T=last.R_T)  # fmt: skip
    alike = len({rung.N_l for rung in ladder.rungs}) == 1
    short = say("{N_l} turns in every layer. {ohms}", N_l=first.N_l, ohms=ohms) if alike else ohms
    stops = [rung for rung in ladder.rungs if rung.hold]
    holds = [asdict(hold) | {"qr": qr(rung.code)} for hold, rung in zip(ladder.holds, stops, strict=True)]
    heading = say("{coil}: the winding ladder", coil=ladder.title)
    return asdict(ladder) | {"coil": coil, "heading": heading, "short": short, "holds": holds}


def _curves(design: Design, brief: Brief, prediction: Prediction) -> dict[str, str | None]:
    """Each curve under what it shows."""
    return {
        say("Impedance over frequency"): curves.impedance(prediction),
        say("Level over frequency"): curves.level(prediction, heard.built_in(brief, design)),
        say("Loudest steady tone over frequency"): curves.loudest(prediction),
        say("Level at all angles"): curves.polar(prediction),
        say("Bl over displacement"): curves.bl_over_x(prediction),
        say("Stiffness over displacement"): curves.stiffness_over_x(prediction),
        say("Bl over the field's current"): curves.bl_over_current(prediction),
    }


def _warming(brief: Brief, prediction: Prediction) -> dict[str, Any] | None:
    """The curves of warming; None where none was followed."""
    svg = curves.warming(prediction, None if brief.T_touch is None else float(brief.T_touch))
    return _picture(svg, say("Temperatures over time"), POINT) if svg else None


def _sheets(design: Design) -> list[Sheet]:
    """The firm sheets that are at hand whatever else is on the shelf."""
    return list(dict.fromkeys((design.voice_coil.former, design.diaphragm.sheet)))


def _picture(svg: str, alt: str, unit: float = 1.0) -> dict[str, Any]:
    found = WIDTH.search(svg)
    if found is None:
        raise ValueError("an SVG without a viewBox has no size on paper")
    return {"svg": str(svg), "width": float(found[1]) * unit, "alt": alt}


def _halves(things: tuple[T, ...], length: Callable[[T], float]) -> list[list[dict[str, Any]]]:
    """The things in two columns of about equal length, in their order."""
    lengths = [length(thing) for thing in things]
    split = min(range(len(things) + 1), key=lambda k: abs(sum(lengths[:k]) - sum(lengths[k:])))
    return [[asdict(thing) for thing in part] for part in (things[:split], things[split:])]


def _words(caution: Caution) -> float:
    return len(caution.topic) + len(caution.text) + 25


def _lines(group: Group) -> float:
    """Lines of a group of numbers in its column, its title among them; about so many letters go on one line."""
    return 2.2 + sum(1 + (len(number.words) > 34) for number in group.numbers)

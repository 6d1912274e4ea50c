"""From a design and its prediction to a PDF: gathers the rows and drawings of the sheet, lets typst set the pages."""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Callable
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

import typst

from handwound.files.write import write_whole
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.parts.sheet import Sheet
from handwound.quantities import show, units
from handwound.sheet import doubt, heard, rub, warming
from handwound.sheet.build.operations import operations
from handwound.sheet.cautions import Caution, cautions
from handwound.sheet.drawing import curves
from handwound.sheet.drawing.field_picture import flux_picture
from handwound.sheet.drawing.gap import gap_picture
from handwound.sheet.drawing.letters import font_folder, shortened
from handwound.sheet.drawing.section import cross_section
from handwound.sheet.drawing.svg import printable
from handwound.sheet.numbers import Group, key_numbers, numbers
from handwound.sheet.summary import summary
from handwound.sheet.winding import Ladder, field_ladder, voice_ladder

T = TypeVar("T", Caution, Group)
Paper = Literal["a4", "us-letter"]
TEMPLATE = Path(__file__).with_name("sheet.typ")
FLUX = 150.0, 92.0
"""Most width and height of the picture of the flux. [mm]"""
HEAD, TITLE = (9.0, 230.0), (13.0, 490.0)
"""Size of the letters in the head of a page and in a long title, and the room there for the name of the job. [pt]"""
TITLE_LINES = 3
LONG, PIECE, BREAK = re.compile(r"\S{25,}"), 20, "\u200b"
"""A word that may be wider than its column, and where a line may end in it."""
WIDTH = re.compile(r'viewBox="0 0 ([\d.]+) ')
BAND, TIED = re.compile(r"\(\S+ to \S+\)"), "\xa0"
POINT = 25.4 / 72
"""Millimetres in a typographic point."""


def write_pdf(
    path: str | Path, design: Design, brief: Brief, prediction: Prediction, date: datetime.date, paper: Paper = "a4"
) -> None:
    """Write the whole build sheet; the file appears complete or not at all. Equal input gives equal bytes."""
    write_whole(Path(path), sheet_pdf(design, brief, prediction, date, paper))


def sheet_pdf(design: Design, brief: Brief, prediction: Prediction, date: datetime.date, paper: Paper = "a4") -> bytes:
    """The build sheet as the bytes of a PDF."""
    data = json.dumps(ready(gather(design, brief, prediction, date, paper)), ensure_ascii=False)
    stamp = datetime.datetime(date.year, date.month, date.day, tzinfo=datetime.UTC)
    pages = _compiler().compile(format="pdf", sys_inputs={"data": data}, timestamp=stamp)
    if not isinstance(pages, bytes):
        raise TypeError(f"typst answered with {type(pages).__name__} instead of one document")
    return pages


def gather(design: Design, brief: Brief, prediction: Prediction, date: datetime.date, paper: Paper) -> dict[str, Any]:
    """All that the template places, as plain data."""
    T_room = show("T_room", float(brief.T_room))
    every, made = numbers(prediction), prediction.curves
    field, voice = field_ladder(design, brief, prediction), voice_ladder(design, brief, prediction)
    return {
        "paper": paper,
        "date": [date.year, date.month, date.day],
        "day": date.isoformat(),
        "job": shortened(printable(brief.name), *HEAD, bold=True),
        "title": f"{shortened(printable(brief.name), *TITLE, TITLE_LINES, bold=True)}: build sheet",
        "room": f"room at {T_room}",
        "T_room": T_room,
        "room_is_20": round(float(brief.T_room), 1) == 20.0,
        "summary": summary(design, brief, prediction),
        "section": _picture(cross_section(design, prediction), "Section of the driver"),
        "keys": [asdict(number) for number in key_numbers(prediction)],
        "cautions": _halves(cautions(design, brief, prediction), _words),
        "ladders": [_ladder(each, T_room) for each in (*([field] if field else []), voice)],
        "gap": _picture(gap_picture(design, prediction), "The air gap, enlarged"),
        "air": [asdict(number) for number in every[-1].numbers],
        "rub": asdict(rub.table(design, _sheets(design), prediction.rub)) if prediction.rub else None,
        "groups": _halves(every, _lines),
        "heard": [asdict(table) for table in heard.tables(design, brief, prediction)],
        "heat": [asdict(table) for table in warming.tables(design, brief, prediction)],
        "warming": _warming(brief, prediction),
        "doubts": [asdict(table) for table in doubt.tables(prediction)],
        "curves": [_picture(svg, alt, POINT) for alt, svg in _curves(design, brief, prediction).items() if svg],
        "flux": _picture(flux_picture(design, made.flux_lines, made.iron, *FLUX), "Flux lines over the section"),
        "operations": [asdict(operation) for operation in operations(design, brief, prediction)],
    }  # fmt: skip


@cache
def _compiler() -> typst.Compiler:
    """One typesetter with one typeface: no font of the machine can change a page."""
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
    return typst.Compiler(TEMPLATE, root=TEMPLATE.parent, font_paths=fonts)


def _curves(design: Design, brief: Brief, prediction: Prediction) -> dict[str, str | None]:
    """Each curve under what it shows."""
    return {
        "Impedance over frequency": curves.impedance(prediction),
        "Level over frequency": curves.level(prediction, heard.built_in(brief, design)),
        "Loudest steady tone over frequency": curves.loudest(prediction),
        "Level at all angles": curves.polar(prediction),
        "Bl over displacement": curves.bl_over_x(prediction),
        "Stiffness over displacement": curves.stiffness_over_x(prediction),
        "Bl over the field's current": curves.bl_over_current(prediction),
    }


def _warming(brief: Brief, prediction: Prediction) -> dict[str, Any] | None:
    """The curves of warming; None where none was followed."""
    svg = curves.warming(prediction, None if brief.T_touch is None else float(brief.T_touch))
    return _picture(svg, "Temperatures over time", POINT) if svg else None


def _sheets(design: Design) -> list[Sheet]:
    """The firm sheets that are at hand whatever else is on the shelf."""
    return list(dict.fromkeys((design.voice_coil.former, design.diaphragm.sheet)))


def _picture(svg: str, alt: str, unit: float = 1.0) -> dict[str, Any]:
    found = WIDTH.search(svg)
    if found is None:
        raise ValueError("an SVG without a viewBox has no size on paper")
    return {"svg": svg, "width": float(found[1]) * unit, "alt": alt}


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


def _ladder(ladder: Ladder, T_room: str) -> dict[str, Any]:
    """The ladder with what its narrow form, two columns on a page, says only once."""
    first, last = ladder.rungs[0], ladder.rungs[-1]
    alike = len({rung.N_l for rung in ladder.rungs}) == 1
    turns = f"{first.N_l} turns in every layer. " if alike else ""
    return asdict(ladder) | {"short": f"{turns}At 20 °C the last layer reads {last.R_20} Ω, at {T_room} {last.R_T} Ω."}


def ready(data: Any) -> Any:
    """Every text ready to print; drawings have been made so by their writer."""
    if isinstance(data, dict):
        return {key: value if key == "svg" else ready(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [ready(value) for value in data]
    return breakable(unbroken(printable(data))) if isinstance(data, str) else data


def unbroken(text: str) -> str:
    """The text with its units tied to their numbers and its bands tied together: no line ends inside them."""
    tied = BAND.sub(lambda band: band[0].replace(" ", TIED), text)
    return _unit_after_number().sub(TIED, tied)


def breakable(text: str) -> str:
    """The text with places where a line may end in words so long that they could leave their column."""
    return LONG.sub(lambda word: BREAK.join(word[0][k : k + PIECE] for k in range(0, len(word[0]), PIECE)), text)


@cache
def _unit_after_number() -> re.Pattern[str]:
    names = "|".join(re.escape(name) for name in sorted(units(), key=len, reverse=True) if name != "1")
    return re.compile(rf"(?<=\d) (?=(?:{names})(?![\w/]))")

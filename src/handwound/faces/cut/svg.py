"""An outline as plain SVG 1.1: millimetres, one group for each role, arcs that stay arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import get_args
from xml.etree import ElementTree

from handwound.faces.cut.owner import sign, with_job
from handwound.sheet.drawing.svg import number, printable
from handwound.sheet.template.outline import Line, Role, Template, Words
from handwound.sheet.template.shape import is_circle, legs, radius, reach

MM, MARGIN = 1e3, 2.0
"""Millimetres in a metre; how much is left round the outline. [mm]"""
STYLE: dict[Role, dict[str, str]] = {
    "cut": {"stroke": "#ff0000", "stroke-width": "0.1"},
    "fold": {"stroke": "#0000ff", "stroke-width": "0.1", "stroke-dasharray": "2.5 1.2"},
    "mark": {"stroke": "#000000", "stroke-width": "0.1"},
}
"""Colours that cutters tell roles apart by: common practice, no source."""
COLOURS = "Red: cut, blue: score, black: draw."


def svg_bytes(template: Template, job_name: str) -> bytes:
    """The file of a template of a job."""
    template = with_job(template, job_name)
    x, y, x_2, y_2 = reach(template)
    left, top = MARGIN - MM * x, MARGIN + MM * y_2
    width, height = (number(MM * size + 2 * MARGIN) for size in (x_2 - x, y_2 - y))
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg", "version": "1.1", "width": f"{width}mm", "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}", "fill": "none",
        },
    )  # fmt: skip
    ElementTree.SubElement(root, "title").text = printable(template.name)
    told = [sign(job_name), COLOURS, *(printable(note) for note in template.notes)]
    ElementTree.SubElement(root, "desc").text = " ".join(told)
    for role in get_args(Role):
        group = ElementTree.SubElement(root, "g", {"id": role, **STYLE[role]})
        for line in (line for line in template.lines if line.role == role):
            _line(group, line, left, top)
        for words in template.words if role == "mark" else ():
            _words(group, words, left, top)
    ElementTree.indent(root)
    return ElementTree.tostring(root, encoding="utf-8", xml_declaration=True) + b"\n"


def _line(group: ElementTree.Element, line: Line, left: float, top: float) -> None:
    if is_circle(line):
        (x, y, _), (x_2, y_2, _) = line.corners
        place = {
            "cx": number(left + MM * (x + x_2) / 2), "cy": number(top - MM * (y + y_2) / 2),
            "r": number(MM * math.dist((x, y), (x_2, y_2)) / 2),
        }  # fmt: skip
        ElementTree.SubElement(group, "circle", place)
    else:
        x, y, _ = line.corners[0]
        way = [f"M{number(left + MM * x)} {number(top - MM * y)}", *_pieces(line, left, top)]
        ElementTree.SubElement(group, "path", {"d": "".join(way) + ("Z" if line.closed else "")})


def _pieces(line: Line, left: float, top: float) -> Iterator[str]:
    for start, end, bulging in legs(line):
        to = f"{number(left + MM * end[0])} {number(top - MM * end[1])}"
        if not bulging:
            yield f"L{to}"
        else:  # on paper y runs down, and a turn to the left is the one that SVG calls negative
            r = number(MM * radius(start, end, bulging))
            yield f"A{r} {r} 0 {int(abs(bulging) > 1)} {int(bulging < 0)} {to}"


def _words(group: ElementTree.Element, words: Words, left: float, top: float) -> None:
    x, y, size = left + MM * words.x, top - MM * words.y, MM * words.height
    place = {
        "x": number(x), "y": number(y + 0.36 * size), "font-size": number(size), "font-family": "sans-serif",
        "text-anchor": "middle", "fill": "#000000", "stroke": "none",
    }  # fmt: skip
    if words.angle:
        place["transform"] = f"rotate({number(-math.degrees(words.angle))} {number(x)} {number(y)})"
    ElementTree.SubElement(group, "text", place).text = printable(words.text)

"""Templates drawn in ink: solid where the knife goes, dashed where it scores, hair lines for what is only seen."""

from __future__ import annotations

import math

from handwound.sheet.drawing.style import FIRM, HAIR, THIN
from handwound.sheet.drawing.svg import Svg, number
from handwound.sheet.template.outline import Role, Template
from handwound.sheet.template.shape import is_circle, points

BLACK = "#000000"
STROKE: dict[Role, tuple[float, str]] = {"cut": (FIRM, ""), "fold": (THIN, "2.5 1.2"), "mark": (HAIR, "")}
"""Width of the line and its dashes. [mm of paper]"""
MM = 1e3
FINE = 2e-6
"""Way by which a line on paper may leave the arc that it stands for. [m]"""


def write(
    page: Svg, x: float, y: float, text: str, size: float, angle: float = 0.0, anchor: str = "middle"
) -> None:  # fmt: skip
    """One line of text, the middle of its height at (x, y), turned to the left. [mm], [rad]"""
    turn = f"rotate({number(-math.degrees(angle))} {number(x)} {number(y)})" if angle else ""
    page.text(x, y + 0.36 * size, text, size, anchor, fill=BLACK, turn=turn)


def draw(page: Svg, template: Template, x: float, y: float) -> None:
    """The template with its origin at (x, y) of the page. [mm]"""
    for line in template.lines:
        width, dash = STROKE[line.role]
        if is_circle(line):
            (x_1, y_1, _), (x_2, y_2, _) = line.corners
            middle = x + MM * (x_1 + x_2) / 2, y - MM * (y_1 + y_2) / 2
            r = MM * math.dist((x_1, y_1), (x_2, y_2)) / 2
            if not dash:
                page.circle(*middle, r, stroke=BLACK, line=width)
                continue
        way = [(x + MM * p, y - MM * q) for p, q in points(line, FINE)]
        page.lines(way, stroke=BLACK, line=width, closed=line.closed, dash=dash)
    for each in template.words:
        write(page, x + MM * each.x, y - MM * each.y, each.text, MM * each.height, each.angle)

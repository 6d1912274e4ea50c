"""Both coils as clock faces seen from the front: which way the wire turns, where it begins and where it leaves."""

from __future__ import annotations

from math import cos, pi, sin

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build.leads_out import F_HOUR, S_HOUR
from handwound.sheet.drawing.letters import wrap
from handwound.sheet.drawing.polarity import polarity
from handwound.sheet.drawing.style import COPPER, COPPER_INK, FIRM, HAIR, INK, LARGE, PAPER, SOFT, SPOOL, TEXT, THIN
from handwound.sheet.drawing.svg import Point, Svg, drawn
from handwound.sheet.said import Said, counted, joined, say
from handwound.sheet.sections import forward

WIDTH, HALF, HEIGHT = 180.0, 90.0, 104.0
"""The drawing, and one coil of it. [mm of paper]"""
R_OUT, R_IN = 21.0, 14.0
"""Radii of the winding on the face of the clock. [mm of paper]"""
VOICE_HOURS, SEAM = (5.5, 6.5), 12.0
"""Where the leads of the voice coil leave by the clock: S, then F; the seam of the cone. Common practice, no source."""
SHOWN = 4
"""So many layers are drawn from the side; of more the first and the last ones."""


def winding_clock(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """Field coil on the left, voice coil on the right; a voice coil alone in the middle."""
    svg = Svg(WIDTH, HEIGHT, say("Both coils seen from the front, as clock faces"))
    way = polarity(design, prediction)
    places = [HALF / 2, 1.5 * HALF] if design.field_coil else [WIDTH / 2]
    ends = []
    if design.field_coil and way.field:
        title = say("Field coil, seen from the front")
        hours = float(S_HOUR), float(F_HOUR)
        ends.append(_face(svg, places[0], title, hours, way.field, design.field_coil, True))
    title = say("Voice coil, seen from the front")
    ends.append(_face(svg, places[-1], title, VOICE_HOURS, way.voice, design.voice_coil, False))
    svg.height = max(ends) + 1
    return drawn(svg)


def at_hour(x: float, y: float, r: float, hour: float) -> Point:
    """A place on the face of a clock."""
    angle = hour * pi / 6
    return x + r * sin(angle), y - r * cos(angle)


def _face(
    svg: Svg, x: float, title: str, hours: tuple[float, float], plus: str, coil: Coil, is_field: bool
) -> float:  # fmt: skip
    """One clock face with the side view and the words under it; answers where it ends. [mm]"""
    y = 10.0 + R_OUT + 6
    svg.text(x, LARGE + 1, title, LARGE, "middle", bold=True)
    svg.circle(x, y, R_OUT, COPPER, COPPER_INK, FIRM)
    svg.circle(x, y, R_IN, PAPER, COPPER_INK, FIRM)
    for mark in (12, 3, 6, 9):
        px, py = at_hour(x, y, R_IN - 3.4, mark)
        svg.text(px, py + 0.36 * TEXT, f"{mark}", TEXT, "middle", fill=SOFT)
    turning_arrow(svg, x, y, (R_IN + R_OUT) / 2)
    for k, (end, hour) in enumerate(zip("SF", hours, strict=True)):
        near, far = at_hour(x, y, R_IN if k == 0 else R_OUT, hour), at_hour(x, y, R_OUT + 6.5, hour)
        svg.lines([near, far], INK, FIRM)
        svg.circle(*near, 0.9, INK)
        sign = "+" if end == plus else "−"
        tx, ty = at_hour(x, y, R_OUT + 10.5, hour + (-0.25 if k == 0 else 0.25))
        svg.text(tx, ty + 0.36 * LARGE, f"{end} {sign}", LARGE, "middle", bold=True)
    if not is_field:
        px, py = at_hour(x, y, R_OUT, SEAM)
        svg.lines([(px, py - 4.5), (px, py)], INK, THIN, dash="1 0.8")
        svg.text(px + 1.5, py - 1.6, say("seam of the cone"), TEXT)
    return _side(svg, x, y + R_OUT + 17, coil, is_field, plus)


def turning_arrow(svg: Svg, x: float, y: float, r: float, start: float = 8.0, end: float = 16.0) -> None:
    """An arrow the way the clock turns, from one hour to another."""
    points = [at_hour(x, y, r, start + (end - start) * k / 40) for k in range(41)]
    svg.lines(points, INK, 0.7)
    arrow_head(svg, points[-3], points[-1], 2.6)


def arrow_head(svg: Svg, tail: Point, tip: Point, long: float = 2.0) -> None:
    """The head of an arrow."""
    (x_1, y_1), (x_2, y_2) = tail, tip
    size = ((x_2 - x_1) ** 2 + (y_2 - y_1) ** 2) ** 0.5
    u, v = (x_2 - x_1) / size, (y_2 - y_1) / size
    tx, ty = x_2 + 0.5 * long * u, y_2 + 0.5 * long * v
    wings = [(tx - long * u + s * 0.45 * long * v, ty - long * v - s * 0.45 * long * u) for s in (1, -1)]
    svg.lines([wings[0], (tx, ty), wings[1]], INK, HAIR, fill=INK, closed=True)


def _side(svg: Svg, x: float, y: float, coil: Coil, is_field: bool, plus: str) -> float:
    """The travel of the layers from the side, the front on the right; words below."""
    n_l, long, row = int(coil.n_l), 34.0, 4.6
    shown = list(range(1, n_l + 1)) if n_l <= SHOWN else [1, 2, n_l - 1, n_l]
    left, right = x - long / 2, x + long / 2
    svg.text(left - 2, y - 2, say("back"), TEXT, "end", fill=SOFT)
    svg.text(right + 2, y - 2, say("front"), TEXT, fill=SOFT)
    foot = y + row * len(shown)
    svg.rect(left - 1, y - 1, long + 2, row * len(shown) + 1.6, SPOOL, SOFT, THIN)
    for k, n in enumerate(reversed(shown)):
        at = y + row * (k + 0.5)
        ahead = forward(coil, n)
        tail, tip = ((left + 1, at), (right - 1.5, at)) if ahead else ((right - 1, at), (left + 1.5, at))
        svg.lines([tail, tip], COPPER_INK, 0.6)
        arrow_head(svg, tail, tip, 2.2)
        if n_l > SHOWN and n == n_l - 1:  # those between are left out
            svg.lines([(left - 3, at + row / 2), (right + 1, at + row / 2)], SOFT, THIN, dash="0.3 1.6")
        svg.text(right + 3, at + 0.36 * TEXT, say("layer {n}", n=counted("n_layer", n)), TEXT)
    y = foot + 1.5
    for line in wrap(_words(svg, coil, is_field, plus), TEXT, HALF - 6):
        y += 1.3 * TEXT
        svg.text(x, y, line, TEXT, "middle")
    return y


def _words(svg: Svg, coil: Coil, is_field: bool, plus: str) -> Said:
    """What the drawing cannot show."""
    odd = int(coil.n_l) % 2 == 1
    if is_field:
        leave = say("S leaves at the back cheek at 6 o'clock, F at 7 o'clock.")
        front = say("S leaves at the back cheek at 6 o'clock, F at the front cheek at 7 o'clock.")
        told = [say("Always clockwise."), front if odd else leave]
    else:
        begin = say("Begin at the front end. S leaves at 5:30, F at 6:30, the seam of the cone at 12 o'clock.")
        behind = say(
            "Begin at the back end: the lead of S runs under layer 1 to the front. S leaves at 5:30, F at 6:30, the "
            "seam of the cone at 12 o'clock."
        )
        out = say("+ on {end} drives the cone out.", end=plus)
        told = [say("Always clockwise."), behind if odd else begin, out]
    if coil.n_sec > 1:
        many = counted("n_sec", coil.n_sec)
        series = say("{many} sections in series: F of each to S of the next.", many=many)
        parallel = say("{many} sections in parallel: all S together, all F together.", many=many)
        told.append(series if coil.connection == "series" else parallel)
    words = joined(" ", told)
    svg.remember(words)
    return words

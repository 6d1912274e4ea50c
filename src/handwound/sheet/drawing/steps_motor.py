"""Small drawings for the operations of the motor: gap, spool, field coil, magnets, first current."""

from __future__ import annotations

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing import symbols
from handwound.sheet.drawing.clock import arrow_head, at_hour, turning_arrow
from handwound.sheet.drawing.dimension import across
from handwound.sheet.drawing.letters import shortened
from handwound.sheet.drawing.polarity import polarity
from handwound.sheet.drawing.shapes import coils, gap
from handwound.sheet.drawing.style import (
    CARD,
    COPPER,
    COPPER_INK,
    FIRM,
    INK,
    IRON,
    LARGE,
    MAGNET,
    PAPER,
    SOFT,
    SPOOL,
    TEXT,
    THIN,
)
from handwound.sheet.drawing.svg import Svg, drawn
from handwound.sheet.said import Said, mm, say, show

WIDTH, HIGH = 84.0, 50.0
"""The most that one takes. [mm of paper]"""
POSITIONS = tuple(1.5 * k for k in range(8))
"""Eight places round the clock."""


def strips(design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """The gap from the front, strips of paper in it at eight places."""
    air = gap(design, prediction)
    if air.r_pole is None or air.r_plate is None or design.has_magnets:
        return None  # with magnets the gap is there only when they are in
    svg = Svg(WIDTH, HIGH, say("Strips of paper in the gap at 8 clock positions"))
    x, y, r_pole, r_plate = 26.0, 25.0, 11.0, 15.0
    svg.circle(x, y, 24, IRON, INK, FIRM)
    svg.circle(x, y, r_plate, PAPER, INK, FIRM)
    svg.circle(x, y, r_pole, IRON, INK, FIRM)
    for hour in POSITIONS:
        ends = [at_hour(x, y, r, hour) for r in (r_pole + 0.3, r_plate - 0.3)]
        svg.lines(ends, INK, 2.2)
    svg.text(x, y + 0.36 * TEXT, shortened(air.pole, TEXT, 2 * r_pole - 2), TEXT, "middle")
    at = 53.0
    svg.text(at, 12, say("paper strips"), TEXT, bold=True)
    svg.text(at, 12 + 1.4 * TEXT, say("at 8 places:"), TEXT)
    svg.text(at, 12 + 2.8 * TEXT, say("all alike"), TEXT)
    svg.text(at, 30, show("c_o", air.r_plate - air.r_pole), LARGE, bold=True)
    svg.text(at, 30 + 1.5 * TEXT, say("all round"), TEXT)
    return drawn(svg)


def spool(design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """The empty spool cut along its axis, with its sizes."""
    coil = design.field_coil
    if coil is None:
        return None
    wound = {s.name: s for s in coils(design, prediction)}
    r_cheek, r_f, wall = (
        float(each) for each in (wound["field coil"].r_out, coil.D_f / 2, coil.t_f)
    )  # fmt: skip
    svg = Svg(WIDTH, HIGH, say("The spool and its sizes"))
    k = min(46 / (2 * r_cheek), 26 / float(coil.h_w + 2 * coil.t_fl))
    x, top, tall, cheek = 31.0, 9.0, k * float(coil.h_w), max(k * float(coil.t_fl), 1.2)
    wide, hub, thick = k * r_cheek, k * r_f, max(k * wall, 1.0)
    for side in (-1, 1):
        outer, inner = x + side * hub, x + side * (hub - thick)
        svg.rect(min(inner, outer), top, thick, tall + 2 * cheek, SPOOL, INK, THIN)
        for y in (top, top + cheek + tall):
            edge = x + side * wide
            svg.rect(min(edge, outer), y, abs(edge - outer), cheek, SPOOL, INK, THIN)
    foot = top + tall + 2 * cheek
    svg.lines([(x, top - 3), (x, foot + 2)], SOFT, THIN, dash="5 1 1 1")
    across(svg, x - hub, x + hub, top - 4, say("⌀{d}", d=mm("D_f", coil.D_f)), (top, top), TEXT)
    d_cheek = say("cheeks ⌀{d} or more", d=mm("D_w", 2 * r_cheek))
    svg.text(x, foot + 6, d_cheek, TEXT, "middle")
    at = x + wide + 4
    svg.lines([(at, top + cheek), (at, top + cheek + tall)], SOFT, THIN)
    for y in (top + cheek, top + cheek + tall):
        svg.lines([(at - 1.5, y), (at + 1.5, y)], SOFT, THIN)
    middle = top + cheek + tall / 2
    svg.text(at + 2, middle, say("{h_w} between", h_w=mm("h_w", coil.h_w)), TEXT)
    svg.text(at + 2, middle + 1.3 * TEXT, say("wall {t_f}", t_f=mm("t_f", coil.t_f)), TEXT)
    svg.text(at + 2, middle + 2.6 * TEXT, say("cheek {t_fl}", t_fl=mm("t_fl", coil.t_fl)), TEXT)
    svg.height = foot + 9
    return drawn(svg)


def field_winding(design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """Which way round, and where layer 1 begins."""
    if design.field_coil is None:
        return None
    svg = Svg(WIDTH, 44.0, say("The way the field coil is wound"))
    x, y = 19.0, 23.0
    svg.circle(x, y, 16, COPPER, COPPER_INK, FIRM)
    svg.circle(x, y, 10, PAPER, COPPER_INK, FIRM)
    turning_arrow(svg, x, y, 13)
    svg.text(x, 4, say("from the front"), TEXT, "middle", fill=SOFT)
    left, right, top = 44.0, 80.0, 15.0
    svg.text(left, 4, say("from the side"), TEXT, fill=SOFT)
    for at in (left, right):
        svg.rect(at - 0.9, top - 5, 1.8, 24, SPOOL, INK, THIN)
    svg.rect(left, top + 14, right - left, 1.6, SPOOL, INK, THIN)
    for k, (tail, tip) in enumerate(
        (((left + 3, top + 10), (right - 4, top + 10)), ((right - 3, top + 3), (left + 4, top + 3)))
    ):
        svg.lines([tail, tip], COPPER_INK, 0.7)
        arrow_head(svg, tail, tip, 2.4)
        svg.text((left + right) / 2, tail[1] - 1.3, say("layer 1") if k == 0 else say("layer 2"), TEXT, "middle")
    svg.text(left, top + 24, say("back: S"), TEXT, "middle", bold=True)
    svg.text(right, top + 24, say("front"), TEXT, "end")
    return drawn(svg)


def magnets(design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """The magnet on three wedges over its plate, its poles marked."""
    rings = [ring for ring in design.iron.rings if ring.magnetised]
    if not rings:
        return None
    ring = max(rings, key=lambda each: float(each.d_out))
    svg = Svg(WIDTH, 42.0, say("A magnet let down on wedges"))
    x, wide = 37.0, 44.0
    svg.rect(x - wide / 2 - 2, 32, wide + 4, 6, IRON, INK, FIRM)
    svg.hatch(x - wide / 2 - 2, 32, wide + 4, 6, 1.6, True)
    svg.rect(x - wide / 2, 10, wide, 13, MAGNET, INK, FIRM)
    pole = any(not other.magnetised and 0 < other.d_out <= ring.d_in for other in design.iron.rings)
    if pole:  # it stands on the plate, in the magnet's hole
        svg.rect(x - 7.5, 10, 15, 13, PAPER, INK, FIRM)
        svg.rect(x - 6, 8.5, 12, 23.5, IRON, INK, FIRM)
        svg.hatch(x - 6, 8.5, 12, 23.5, 1.6, False)
    middle = (x - 14.5, x + 14.5) if pole else (x,)
    for side in (-1, 1):
        inner, outer = x + side * 8, x + side * 28
        svg.lines([(inner, 32), (outer, 32), (outer, 19.4)], INK, THIN, CARD, closed=True)
        arrow_head(svg, (x + side * 30, 28), (x + side * 34, 28), 2.4)
        svg.lines([(x + side * 30, 28), (x + side * 34, 28)], INK, FIRM)
    if ring.magnetised in ("up", "down"):
        upper, lower = ("N", "S") if ring.magnetised == "up" else ("S", "N")
        for at in middle:
            svg.text(at, 14.5, upper, LARGE, "middle", bold=True)
            svg.text(at, 21.8, lower, LARGE, "middle", bold=True)
    else:
        for side in (-1, 1):
            inside, outside = ("S", "N") if ring.magnetised == "out" else ("N", "S")
            svg.text(x + side * 19, 18, outside, LARGE, "middle", bold=True)
            svg.text(x + side * (10 if pole else 8), 18, inside, LARGE, "middle", bold=True)
    svg.text(x, 6, say("front, towards the cone"), TEXT, "middle", fill=SOFT)
    svg.text(72, 8, say("wedges out"), TEXT, "middle", bold=True)
    svg.text(72, 8 + 1.4 * TEXT, say("in turn"), TEXT, "middle")
    return drawn(svg)


def first_current(design: Design, brief: Brief, prediction: Prediction) -> Said | None:
    """The diode across the coil, and a tenth before all."""
    cold, way = prediction.excitation, polarity(design, prediction)
    if cold is None or way.field is None:
        return None
    svg = Svg(WIDTH, 44.0, say("The diode across the field coil, and a tenth of the current first"))
    top, foot, x, right = 8.0, 38.0, 22.0, 38.0
    for y, sign in ((top, "+"), (foot, "−")):
        symbols.wire(svg, (6, y), (right, y))
        symbols.terminal(svg, (6, y), sign)
        symbols.dot(svg, (x, y))
    ring, low = symbols.diode(svg, x, 21)
    symbols.wire(svg, (x, top), ring)
    symbols.wire(svg, low, (x, foot))
    svg.text(x - 4, 20.5, say("ring"), TEXT, "end")
    upper, lower = symbols.coil(svg, right, 14, 18)
    symbols.wire(svg, (right, top), upper)
    symbols.wire(svg, lower, (right, foot))
    svg.text(right - 2.5, 13.5, way.field, TEXT, "end", bold=True)
    at, tall = 50.0, 28.0
    for k, (share, words) in enumerate(((0.1, say("first a tenth")), (1.0, say("then all")))):
        left = at + 20 * k
        svg.rect(left, 36 - tall * share, 7, tall * share, SOFT if k else INK)
        svg.text(left + 3.5, 34.8 - tall * share, show("I_f", share * cold.I_f), TEXT, "middle", bold=True)
        svg.text(left + 3.5, 40.5, words, TEXT, "middle")
    return drawn(svg)

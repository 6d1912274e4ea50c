"""Small drawings for the operations of what moves, from the former to the first sound."""

from __future__ import annotations

from math import pi

from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build.balance import BALANCE, balance
from handwound.sheet.drawing import symbols
from handwound.sheet.drawing.clock import arrow_head, at_hour
from handwound.sheet.drawing.dimension import across
from handwound.sheet.drawing.shapes import front_face, gap, voice_levels
from handwound.sheet.drawing.steps_motor import POSITIONS, WIDTH
from handwound.sheet.drawing.style import (
    CARD,
    COPPER,
    COPPER_INK,
    FIRM,
    FOAM,
    INK,
    IRON,
    LARGE,
    PAPER,
    SOFT,
    TEXT,
    THIN,
)
from handwound.sheet.drawing.svg import Point, Svg, drawn
from handwound.sheet.said import Said, counted, mm, printed, say, show
from handwound.sheet.template.frame import screws, vents


def former(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The strip, and how it lies round the mandrel."""
    coil = design.voice_coil
    svg = Svg(WIDTH, 40.0, say("The strip of the former round its mandrel"))
    x, y = 19.0, 21.0
    svg.circle(x, y, 13, IRON, INK, FIRM)
    svg.text(x, y + 0.36 * TEXT, say("⌀{d}", d=mm("D_fi", coil.D_fi)), TEXT, "middle", bold=True)
    svg.lines([at_hour(x, y, 14.2, 12.15 + 11.7 * k / 60) for k in range(61)], INK, 1.4)
    svg.text(x, 4, say("butt joint"), TEXT, "middle")
    left, top = 42.0, 15.0
    svg.rect(left, top, 38, 11, CARD, INK, THIN)
    strip = mm("length", pi * float(coil.D_fi + coil.t_f))
    across(svg, left, left + 38, top - 4, strip, (top, top), TEXT)
    svg.text(left + 19, top + 6.6, say("{l_f} wide", l_f=mm("l_f", coil.l_f)), TEXT, "middle")
    svg.text(left + 19, top + 17, say("{t_f} thick, in mm", t_f=mm("t_f", coil.t_f)), TEXT, "middle", fill=SOFT)
    return drawn(svg)


def voice_coil(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The winding on its former, cut, with its sizes."""
    coil, wound = design.voice_coil, prediction.voice_winding
    svg = Svg(WIDTH, 50.0, say("The voice coil on its former"))
    k = min(34 / float(wound.D_w), 30 / float(coil.l_f))
    x, top = 26.0, 9.0
    tall, high = k * float(coil.l_f), k * float(coil.h_w)
    r_i, wall = k * float(coil.D_fi) / 2, 0.9
    thick = 2.4
    for side in (-1, 1):
        svg.rect(x + side * r_i - (wall if side < 0 else 0), top, wall, tall, CARD, INK, THIN)
        edge = x + side * (r_i + wall) - (thick if side < 0 else 0)
        svg.rect(edge, top + tall - high, thick, high, COPPER, COPPER_INK, FIRM)
    foot, r_o = top + tall, r_i + wall + thick
    svg.lines([(x, top - 3), (x, foot + 2)], SOFT, THIN, dash="5 1 1 1")
    across(svg, x - r_o, x + r_o, foot + 4, say("⌀{d}", d=mm("D_w", wound.D_w)), (foot, foot), TEXT)
    at = x + r_o + 3
    svg.text(at, top + 3, say("former {l_f} long", l_f=mm("l_f", coil.l_f)), TEXT)
    middle = foot - high / 2
    svg.text(at, middle, say("winding {h_w} high", h_w=mm("h_w", coil.h_w)), TEXT, bold=True)
    turns = say("{n_l} layers, {N} turns", n_l=counted("n_l", coil.n_l), N=counted("N", wound.N))
    svg.text(at, middle + 1.4 * TEXT, turns, TEXT)
    svg.text(x, 4, say("cone"), TEXT, "middle", fill=SOFT)
    svg.height = foot + 8
    return drawn(svg)


def diaphragm(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """From the flat sector to the cone; a disc or a dome by its outline."""
    part = design.diaphragm
    svg = Svg(WIDTH, 46.0, say("The diaphragm, flat and finished"))
    right, top = 62.0, 12.0
    if part.form == "cone":
        _sector(svg, design)
        hole, rim, deep = 5.0, 18.0, 12.0
        for side in (-1, 1):
            svg.lines([(right + side * rim, top), (right + side * hole, top + deep)], INK, 0.8)
        across(svg, right - rim, right + rim, top - 5, say("⌀{d}", d=mm("d_out", part.d_out)), (top, top), TEXT)
        foot = top + deep
        across(svg, right - hole, right + hole, foot + 4, say("⌀{d}", d=mm("d_in", part.d_in)), (foot, foot), TEXT)
        svg.text(right, foot + 11, say("{h_c} deep", h_c=mm("h_c", part.h_c)), TEXT, "middle", bold=True)
        return drawn(svg)
    svg.circle(24, 23, 18, CARD, INK, FIRM)
    svg.text(24, 23 + 0.36 * TEXT, say("⌀{d}", d=mm("d_out", part.d_out)), TEXT, "middle", bold=True)
    high = 8.0 if part.form == "dome" else 0.0
    arc = [(right + 18 * u / 10, top + 10 - high * (1 - (u / 10) ** 2)) for u in range(-10, 11)]
    svg.lines(arc, INK, 0.8)
    if high:
        svg.text(right, top + 18, say("{h_c} high", h_c=mm("h_c", part.h_c)), TEXT, "middle", bold=True)
    svg.height = 43.0
    return drawn(svg)


def _sector(svg: Svg, design: Design) -> None:
    """The flat cone with the lap of its seam, in its true angle."""
    from handwound.sheet.template.cone import developed

    part = design.diaphragm
    flat = developed(float(part.d_in), float(part.d_out), float(part.h_c))
    x, y, r_out = 19.0, 22.0, 17.0
    r_in, hours = r_out * flat.r_in / flat.r_out, flat.angle / (pi / 6)
    begin = 6 + (12 - hours) / 2
    arcs = [[at_hour(x, y, r, begin + hours * k / 60) for k in range(61)] for r in (r_out, r_in)]
    svg.lines([*arcs[0], *reversed(arcs[1])], INK, FIRM, CARD, closed=True)
    if float(part.w_seam):
        ends: list[Point] = [at_hour(x, y, r, begin + hours + 0.35) for r in (r_in, r_out)]
        svg.lines([arcs[1][-1], ends[0], ends[1], arcs[0][-1]], INK, THIN, dash="1 0.8")
        svg.text(x, y + r_out + 5, say("lap {w_seam}", w_seam=mm("w_seam", part.w_seam)), TEXT, "middle")
    arrow_head(svg, (37.5, y), (40, y), 2.6)
    svg.lines([(36.5, y), (40, y)], INK, FIRM)


def frame(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The rim with its opening, its screws, the vents of its back: all as the templates have them."""
    svg = Svg(WIDTH, 48.0, say("The frame from the front"))
    x, y, back = 24.0, 24.0, vents(design)
    screwed = screws(design, brief)
    d_open, d_rim = float(design.surround.d_out), float(brief.D_outline)
    k = 42 / d_rim
    svg.circle(x, y, 21, IRON, INK, FIRM)
    svg.circle(x, y, k * d_open / 2, PAPER, INK, FIRM)
    lines = [say("opening ⌀{d}", d=mm("d_out", d_open)), say("within ⌀{d}", d=mm("D_outline", d_rim))]
    if screwed:
        for at_x, at_y in screwed.places:
            svg.circle(x + k * at_x, y - k * at_y, max(k * screwed.d / 2, 0.7), PAPER, INK, THIN)
        lines += [
            say("{n} holes ⌀{d}", n=counted("n_screw", screwed.n), d=mm("d_screw", screwed.d)),
            say("on ⌀{D}", D=mm("D_screw", screwed.D)),
        ]
    if back:
        for at_x, at_y in back.places:
            svg.circle(x + k * at_x, y - k * at_y, max(k * back.d / 2, 0.7), "none", SOFT, THIN)
        lines += [
            say("{n} vents ⌀{d}", n=counted("n_vent", back.n), d=mm("d_vent", back.d)),
            say("on ⌀{D}", D=mm("D_vent", back.D)),
        ]
    for row, line in enumerate(lines):
        svg.text(50, 14 + row * 1.6 * TEXT, line, TEXT, bold=row == 0)
    return drawn(svg)


def assembly(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The depth gauge on the face, and where three shims stand."""
    svg = Svg(WIDTH, 48.0, say("The depth of the coil, and the three shims"))
    _, z_face = front_face(design)
    depth, air = voice_levels(design)[1] - z_face, gap(design, prediction)
    face, top = 26.0, 26.0 - (7.0 if depth >= 0 else -5.0)
    svg.rect(3, face, 14, 12, IRON, INK, FIRM)
    svg.hatch(3, face, 14, 12, 1.6, True)
    svg.rect(20, 8, 1.2, 36, CARD, INK, THIN)
    svg.rect(17.6, top, 2.4, 44 - top, COPPER, COPPER_INK, FIRM)
    svg.rect(5, top - 2, 4, face - top + 2 if depth >= 0 else 3, PAPER, INK, FIRM)
    if depth >= 0:
        svg.rect(5, top - 4, 15, 3.2, PAPER, INK, FIRM)
    else:
        svg.rect(5, face - 4, 8.5, 4, PAPER, INK, FIRM)
        svg.rect(13.5, face - 4, 3.4, 4 + top - face, PAPER, INK, FIRM)
    svg.text(1, 4, say("depth gauge"), TEXT, fill=SOFT)
    size = say("{x} mm", x=mm("x", abs(depth), 3))
    svg.text(24, 18, size, LARGE, bold=True)
    svg.text(24, 18 + 1.5 * TEXT, say("in front") if depth >= 0 else say("behind"), TEXT)
    x, y = 64.0, 24.0
    svg.circle(x, y, 19, IRON, INK, FIRM)
    svg.circle(x, y, 15, PAPER, INK, FIRM)
    svg.circle(x, y, 12.2, CARD, INK, THIN)
    svg.circle(x, y, 11.2, PAPER, INK, THIN)
    if air.r_pole is not None:
        svg.circle(x, y, 8, IRON, INK, FIRM)
    from handwound.sheet.build.diaphragm import closes

    outside = (closes(design) and design.spider is None and air.r_plate is not None) or air.r_pole is None
    reach = (12.6, 14.7) if outside else (8.4, 10.9)
    for hour in (12, 4, 8):
        svg.lines([at_hour(x, y, r, hour) for r in reach], INK, 2.4)
    svg.text(x, y + 0.36 * TEXT, say("3 shims"), TEXT, "middle", bold=True)
    return drawn(svg)


def surround(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The free ring between the lap on the cone and that on the frame."""
    part = design.surround
    svg = Svg(WIDTH, 44.0, say("The surround and its laps"))
    x, y, k = 22.0, 22.0, 17 / float(part.d_out / 2)
    r_in, r_out = k * float(part.d_in) / 2, k * float(part.d_out) / 2
    svg.circle(x, y, r_out + 3.2, FOAM, SOFT, THIN)
    svg.circle(x, y, r_out, FOAM, INK, FIRM)
    svg.circle(x, y, r_in, FOAM, INK, FIRM)
    svg.circle(x, y, r_in - 3.2, PAPER, SOFT, THIN)
    lines = (
        say("lap on the frame"), say("free to ⌀{d}", d=mm("d_out", part.d_out)),
        say("free from ⌀{d}", d=mm("d_in", part.d_in)), say("lap on the diaphragm"),
    )  # fmt: skip
    for row, (line, r) in enumerate(zip(lines, (r_out + 1.6, r_out, r_in, r_in - 1.6), strict=True)):
        at = 10 + row * 8.5
        edge = at_hour(x, y, r, 1.9 + 0.75 * row)
        svg.lines([edge, (46, at - 1), (48, at - 1)], INK, THIN)
        svg.text(49, at, line, TEXT, bold=row in (1, 2))
    return drawn(svg)


def rub(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """Where the rim is pressed while a slow tone plays."""
    svg = Svg(WIDTH, 46.0, say("Press the rim at 8 places while a slow tone plays"))
    x, y = 24.0, 23.0
    svg.circle(x, y, 17, FOAM, INK, FIRM)
    svg.circle(x, y, 13, CARD, INK, THIN)
    svg.circle(x, y, 4.5, PAPER, INK, THIN)
    for k, hour in enumerate(POSITIONS):
        px, py = at_hour(x, y, 15.5, hour)
        svg.circle(px, py, 2.7, PAPER, INK, THIN)
        svg.text(px, py + 0.36 * TEXT, f"{k + 1}", TEXT, "middle", bold=True)
    svg.text(50, 12, say("20 to 100 Hz, quiet"), TEXT, bold=True)
    wave = [(50 + 28 * u / 60, 20 - 3.5 * _sine(u / 30)) for u in range(61)]
    svg.lines(wave, INK, 0.6)
    svg.text(50, 32, say("{x} each way", x=show("x_pk", brief.x_pk)), LARGE, bold=True)
    svg.text(50, 32 + 1.5 * TEXT, say("without a scratch"), TEXT)
    return drawn(svg)


def _sine(turns: float) -> float:
    from math import sin

    return sin(2 * pi * turns)


def measure(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The weight on the cone, and the current that lifts it back."""
    svg = Svg(WIDTH, 44.0, say("The weight that a current holds"))
    x = 24.0
    for side in (-1, 1):
        svg.lines([(x + side * 19, 15), (x + side * 6, 27), (x + side * 6, 38)], INK, 0.8)
        svg.rect(x + side * 8.5 - 1.5, 31, 3, 7, COPPER, COPPER_INK, THIN)
    svg.rect(x - 6, 21, 12, 6, SOFT, INK, FIRM)
    svg.text(x, 18, show("load", BALANCE), LARGE, "middle", bold=True)
    svg.lines([(x, 6), (x, 12)], INK, FIRM)
    arrow_head(svg, (x, 8), (x, 12), 2.4)
    I = float(balance(prediction.motor.Bl))
    svg.text(50, 17, printed("I", I, f"{1000 * I:.0f}", "mA"), LARGE, bold=True)
    for row, line in enumerate((say("lifts it back to"), say("its height: level"), say("with no weight"))):
        svg.text(50, 17 + (row + 1) * 1.5 * TEXT, line, TEXT)
    return drawn(svg)


def first_sound(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The resistor that keeps amplifier and coil safe."""
    svg = Svg(WIDTH, 38.0, say("The first sound through a resistor"))
    symbols.box(svg, 1, 4, 22, 30, say("amplifier"))
    top, foot, right = 10.0, 28.0, 68.0
    for y, sign in ((top, "+"), (foot, "−")):
        symbols.terminal(svg, (23, y), sign)
    start, end = symbols.resistor(svg, 36, top)
    symbols.wire(svg, (24, top), start)
    upper, lower = symbols.coil(svg, right, top + 2, foot - top - 4)
    symbols.wire(svg, end, (right, top), upper)
    symbols.wire(svg, lower, (right, foot), (24, foot))
    svg.text(41.5, top - 3.5, "4 Ω 5 W", TEXT, "middle", bold=True)
    svg.text(41.5, top + 6.5, say("in series"), TEXT, "middle")
    svg.text(right + 4, (top + foot) / 2 - 1, say("voice"), TEXT)
    svg.text(right + 4, (top + foot) / 2 - 1 + 1.3 * TEXT, say("coil"), TEXT)
    return drawn(svg)

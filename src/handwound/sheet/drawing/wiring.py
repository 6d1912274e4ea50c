"""How supply, amplifier and coils are joined: one circuit for the field coil, one for the voice coil."""

from __future__ import annotations

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing import symbols as sign
from handwound.sheet.drawing.letters import shortened, wrap
from handwound.sheet.drawing.polarity import polarity
from handwound.sheet.drawing.style import LARGE, SOFT, TEXT
from handwound.sheet.drawing.svg import Svg, drawn
from handwound.sheet.fed import Fed, fed
from handwound.sheet.said import Said, counted, say, show

WIDTH, HIGH = 180.0, 42.0
"""The drawing, and the distance between the two wires of a circuit. [mm of paper]"""
BOX = 36.0
"""Width of supply and amplifier. [mm of paper]"""
AT_COIL = 142.0
"""Where the coils stand. [mm of paper]"""
FIRST = "4 Ω 5 W"
"""What is in series for the first sound only: common practice."""


def wiring(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The circuits, the field coil's above."""
    svg = Svg(WIDTH, 0.0, say("How supply, amplifier and coils are joined"))
    there, way, y = fed(design, brief, prediction), polarity(design, prediction), 1.0
    if there and way.field:
        y = _field(svg, there, y, way.field)
    y = _voice(svg, design, brief, prediction, y, way.voice)
    svg.height = y
    return drawn(svg)


def _device(svg: Svg, y: float, *words: str) -> None:
    """Supply or amplifier, its terminals on the right."""
    sign.box(
        svg, 1.0, y - 7, BOX, HIGH + 14, *(shortened(word, TEXT, BOX - 3, bold=k == 0) for k, word in enumerate(words))
    )
    svg.remember(*words)
    for at, mark in ((y, "+"), (y + HIGH, "−")):
        sign.terminal(svg, (BOX + 1, at), mark)


def _field(svg: Svg, there: Fed, y: float, plus: str) -> float:
    """Supply, switch, fuse, ammeter, the coil with its diode."""
    svg.text(1, y + LARGE, say("Field coil"), LARGE, bold=True)
    y += LARGE + 12
    supply, cold = there.supply, there.cold
    limits = say("at most {V}, {I}", V=show("V_max", supply.V_max), I=show("I_max", supply.I_max))
    by_current = cold.limit == "current"
    setting = say("set to {to}", to=show("I_f", cold.I_f) if by_current else show("V_f", cold.V_f))
    _device(svg, y, supply.name, limits, setting)
    x, right = BOX + 2, AT_COIL
    _, end = sign.switch(svg, x + 8, y)
    sign.wire(svg, (x, y), (x + 8, y))
    svg.text(x + 12, y + 5, say("switch"), TEXT, "middle")
    start, fused = sign.fuse(svg, end[0] + 8, y)
    sign.wire(svg, end, start)
    svg.text(start[0] + sign.LONG / 2, y + 6.5, say("fuse, or"), TEXT, "middle")
    svg.text(start[0] + sign.LONG / 2, y + 6.5 + 1.3 * TEXT, say("current limit"), TEXT, "middle")
    start, out = sign.meter(svg, fused[0] + 14, y, "A")
    sign.wire(svg, fused, start)
    svg.text(start[0] + 4, y + 8, say("{I} cold", I=show("I_f", cold.I_f)), TEXT, "middle")
    sign.wire(svg, out, (right, y), (right, y + 12))
    diode = right - 18
    sign.dot(svg, (diode, y))
    sign.dot(svg, (diode, y + HIGH))
    ring, foot = sign.diode(svg, diode, y + HIGH / 2 - 2)
    sign.wire(svg, (diode, y), ring)
    sign.wire(svg, foot, (diode, y + HIGH))
    svg.text(diode - 4, ring[1] + 1, say("diode, its ring"), TEXT, "end")
    svg.text(diode - 4, ring[1] + 1 + 1.3 * TEXT, say("to plus"), TEXT, "end")
    _, low = sign.coil(svg, right, y + 12, HIGH - 24)
    sign.wire(svg, low, (right, y + HIGH), (BOX + 2, y + HIGH))
    _ends(svg, y, plus)
    words = (
        say("field coil"), say("{R} cold", R=show("R_T", there.wound.R_T)), *_sections(there.coil),
    )  # fmt: skip
    _beside(svg, y, *words)
    return y + HIGH + 12


def _voice(svg: Svg, design: Design, brief: Brief, prediction: Prediction, y: float, plus: str) -> float:
    """Amplifier, resistors, the voice coil."""
    svg.text(1, y + LARGE, say("Voice coil"), LARGE, bold=True)
    y += LARGE + 12
    amplifier = brief.amplifier
    power = say("{P} at most", P=show("P_max", amplifier.P_max))
    _device(svg, y, amplifier.name, power, say("into {Z} or more", Z=show("Z_least", amplifier.Z_least)))
    at = (BOX + 2, y)
    start, end = sign.resistor(svg, BOX + 14, y)
    sign.wire(svg, at, start)
    svg.text(start[0] + sign.LONG / 2, y - 4, FIRST, TEXT, "middle", bold=True)
    svg.text(start[0] + sign.LONG / 2, y + 6.5, say("for the first"), TEXT, "middle")
    svg.text(start[0] + sign.LONG / 2, y + 6.5 + 1.3 * TEXT, say("sound only"), TEXT, "middle")
    if float(brief.R_series) > 0:
        start, after = sign.resistor(svg, end[0] + 20, y)
        sign.wire(svg, end, start)
        svg.text(start[0] + sign.LONG / 2, y - 4, show("R_series", brief.R_series), TEXT, "middle", bold=True)
        svg.text(start[0] + sign.LONG / 2, y + 6.5, say("stays in"), TEXT, "middle")
        end = after
    right = AT_COIL
    sign.wire(svg, end, (right, y), (right, y + 12))
    _, low = sign.coil(svg, right, y + 12, HIGH - 24)
    sign.wire(svg, low, (right, y + HIGH), (BOX + 2, y + HIGH))
    _ends(svg, y, plus)
    words = (say("voice coil"), say("{R} cold", R=show("Re", prediction.driver.Re)), *_sections(design.voice_coil))
    _beside(svg, y, *words)
    svg.text(right - 4, y + HIGH / 2 + 1, say("+ drives the cone out"), TEXT, "end", fill=SOFT)
    return y + HIGH + 9


def _ends(svg: Svg, y: float, plus: str) -> None:
    """The ends of the wire at the coil."""
    other = "F" if plus == "S" else "S"
    for at, text in ((y + 9, f"{plus} +"), (y + HIGH - 7, f"{other} −")):
        svg.text(AT_COIL - 3, at, text, LARGE, "end", bold=True)


def _beside(svg: Svg, y: float, *words: str) -> None:
    """What the coil is, on its right."""
    lines = [line for each in words for line in wrap(each, TEXT, WIDTH - AT_COIL - 9)]
    svg.remember(*words)
    top = y + HIGH / 2 - (len(lines) - 1) * 0.65 * TEXT
    for k, line in enumerate(lines):
        svg.text(AT_COIL + 8, top + 0.36 * TEXT + k * 1.3 * TEXT, line, TEXT, bold=k == 0)


def _sections(coil: Coil) -> tuple[Said, ...]:
    """How its sections are joined, where it has some."""
    if coil.n_sec == 1:
        return ()
    many = counted("n_sec", coil.n_sec)
    if coil.connection == "series":
        return (say("{many} sections in series: F of each to S of the next", many=many),)
    return (say("{many} sections in parallel: all S together, all F together", many=many),)

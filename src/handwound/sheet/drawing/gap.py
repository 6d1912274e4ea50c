"""The air gap at the plate under a lens: pole, air, former, wire, air, plate, with the millimetres of each.

Where the voice coil has less air elsewhere on its way, a line below says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.digits import to_place
from handwound.sheet.drawing.dimension import spread
from handwound.sheet.drawing.letters import shortened, text_width, wrap
from handwound.sheet.drawing.shapes import Gap, Kind, gap, voice_levels
from handwound.sheet.drawing.style import (
    CARD,
    COPPER,
    COPPER_INK,
    ENAMEL,
    FIRM,
    HAIR,
    INK,
    SMALL,
    SOFT,
    TEXT,
    THIN,
)
from handwound.sheet.drawing.svg import Point, Svg, drawn
from handwound.sheet.drawing.view import FILL, HATCH_STEP, ratio
from handwound.sheet.said import Said, mm, say, show

ENLARGED = (100, 80, 60, 50, 40, 30, 25, 20, 15, 12, 10, 8, 6, 5, 4, 3, 2, 1)
FAN = 4.0
"""Height in which lines lead from an edge to its number. [mm of paper]"""
HEAD, FOOT = 1.6 * TEXT + 1.4 * SMALL + FAN, FAN + TEXT + 1.6 * SMALL + 1.0
"""Heights of what stands above and below the window. [mm of paper]"""
LINE = 1.3 * SMALL
"""Height of one line of words below. [mm of paper]"""
SEEN = 0.005e-3
"""Half of the last digit of the lens: less air than this by more is worth a line. [m]"""


@dataclass(frozen=True)
class Stage:
    """One thing met on the way out from the axis: its word, its fill, and how thick it is on the part. [m]"""

    word: str
    fill: str
    r_in: float
    r_out: float


def stages(design: Design, prediction: Prediction) -> list[Stage]:
    """What a straight line from the pole to the plate goes through."""
    air = gap(design, prediction)
    found = [Stage(say("former"), CARD, air.r_former, air.r_wire), Stage(say("wire"), COPPER, air.r_wire, air.r_air)]
    if air.r_pole is not None:
        found.insert(0, Stage(say("air"), "none", air.r_pole, air.r_former))
    if air.r_plate is not None:
        found.append(Stage(say("air"), "none", air.r_air, air.r_plate))
    return found


def elsewhere(design: Design, prediction: Prediction) -> list[Said]:
    """Where the coil has less air on its way than here at the plate, or has iron beside it only there."""
    air, least = gap(design, prediction), prediction.clearance
    here = {
        "inside": None if air.r_pole is None else air.r_former - air.r_pole,
        "outside": None if air.r_plate is None else air.r_plate - air.r_air,
    }
    found: list[Said] = []
    for side, value in (("inside", least.c_i), ("outside", least.c_o)):
        at_plate = here[side]
        if value is not None and (at_plate is None or float(value) < at_plate - SEEN):
            least_air = show("c_o", float(value))
            inside = say("Least air inside: {c}, elsewhere on its way.", c=least_air)
            outside = say("Least air outside: {c}, elsewhere on its way.", c=least_air)
            found.append(inside if side == "inside" else outside)
    return found


@dataclass(frozen=True)
class Lens:
    """The window of the lens on the paper, and what of the part it shows at its middle."""

    x: float
    top: float
    width: float
    height: float
    scale: float
    r_middle: float
    z_middle: float

    def across(self, r: float) -> float:
        """Place across the paper. [mm]"""
        return self.x + self.width / 2 + 1000 * self.scale * (r - self.r_middle)

    def down(self, z: float) -> float:
        """Place down the paper. [mm]"""
        return self.top + self.height / 2 - 1000 * self.scale * (z - self.z_middle)


def gap_picture(design: Design, prediction: Prediction, width: float = 180.0, height: float = 34.0) -> str:
    """The lens alone, as wide as the page."""
    svg = Svg(width, lens_height(height, design, prediction, width) + 0.3 * SMALL, say("The air gap, enlarged"))
    draw_gap(svg, design, prediction, (0.0, 0.0), width, height, say("Enlarged"))
    return drawn(svg)


def lens_height(window: float, design: Design, prediction: Prediction, width: float) -> float:
    """Height of a lens with its name above, its numbers and its words below. [mm]"""
    return HEAD + window + FOOT + LINE * len(_below(design, prediction, width))


def _below(design: Design, prediction: Prediction, width: float) -> list[str]:
    return [line for words in elsewhere(design, prediction) for line in wrap(words, SMALL, width)]


def draw_gap(
    svg: Svg,
    design: Design,
    prediction: Prediction,
    corner: Point,
    width: float,
    height: float,
    name: str,
) -> float:
    """The lens with its numbers from ``corner`` on, its window ``height`` high; answers where it ends. [mm]"""
    x, y = corner
    row = stages(design, prediction)
    edges = [row[0].r_in, *(stage.r_out for stage in row)]
    # a quarter of the window is left for the iron on the two sides
    scale = next((k for k in ENLARGED if 1000 * k * (edges[-1] - edges[0]) <= 0.75 * width), 1)
    svg.text(x, y + 1.1 * TEXT, say("{name}, {ratio}", name=name, ratio=ratio(scale)), TEXT, bold=True)
    middle = (edges[0] + edges[-1]) / 2, gap(design, prediction).z_plate
    lens = Lens(x, y + HEAD, width, height, scale, *middle)
    with svg.group("lens"), svg.clipped(x, lens.top, width, height):
        _iron_sides(svg, lens, gap(design, prediction))
        _coil(svg, lens, design, prediction)
    svg.rect(x, lens.top, width, height, stroke=INK, line=FIRM)
    _diameters(svg, lens, edges)
    y = _thicknesses(svg, lens, row)
    svg.remember(*elsewhere(design, prediction))
    for line in _below(design, prediction, width):
        y += LINE
        svg.text(x, y, line, SMALL)
    return y


def _iron_sides(svg: Svg, lens: Lens, air: Gap) -> None:
    if air.r_pole is not None:
        _iron(svg, lens.x, lens.top, lens.across(air.r_pole) - lens.x, lens.height, True, air.pole, air.inner)
    if air.r_plate is not None:
        plate = lens.across(air.r_plate)
        _iron(svg, plate, lens.top, lens.x + lens.width - plate, lens.height, False, air.plate, air.outer)


def _coil(svg: Svg, lens: Lens, design: Design, prediction: Prediction) -> None:
    coil, wire = design.voice_coil, design.voice_coil.wire
    z_lo = voice_levels(design)[0]
    left, right, front = lens.across(float(coil.D_fi) / 2), lens.across(float(coil.D_f) / 2), z_lo + float(coil.l_f)
    svg.rect(left, lens.down(front), right - left, lens.down(z_lo) - lens.down(front), CARD, SOFT, THIN, part="former")
    if wire is None:
        return
    r_o, r_cu = 500 * lens.scale * float(wire.d_o), 500 * lens.scale * float(wire.d_cu)
    for layer in prediction.voice_ladder:
        pitch = float(coil.h_w) / max(layer.N_l, 1)
        shift = pitch / 2 if coil.lay == "nested" and layer.n_layer % 2 == 0 else 0.0
        for k in range(layer.N_l):
            x, y = lens.across(layer.D_l / 2), lens.down(z_lo + (k + 0.5) * pitch + shift)
            if abs(y - lens.top - lens.height / 2) < lens.height / 2 + r_o:
                svg.circle(x, y, r_o, ENAMEL, COPPER_INK, HAIR)
                svg.circle(x, y, r_cu, COPPER, COPPER_INK, HAIR)


def _iron(svg: Svg, x: float, y: float, width: float, height: float, rising: bool, word: str, kind: Kind) -> None:
    svg.rect(x, y, width, height, FILL[kind])
    for way in {"iron": (rising,), "metal": (True, False)}.get(kind, ()):
        svg.hatch(x, y, width, height, HATCH_STEP, way)
    svg.rect(x, y, width, height, stroke=INK, line=FIRM)
    word = shortened(word, SMALL, max(width - 1.5, 0.0))
    if text_width(word, SMALL) + 1.5 < width:
        svg.text(x + width / 2, y + height / 2 + 0.36 * SMALL, word, SMALL, "middle", boxed=True)


def _diameters(svg: Svg, lens: Lens, edges: list[float]) -> None:
    texts, places = [say("⌀{d}", d=mm("D_w", 2 * r)) for r in edges], [lens.across(r) for r in edges]
    sizes = [text_width(text, SMALL) + 2.0 for text in texts]
    y = lens.top - FAN
    for text, edge, middle in zip(texts, places, spread(places, sizes, lens.x, lens.x + lens.width), strict=True):
        svg.lines([(edge, lens.top), (edge, lens.top - 0.8), (middle, y), (middle, y - 0.4)], SOFT, HAIR)
        svg.text(middle, y - 1.0, text, SMALL, "middle")


def _thicknesses(svg: Svg, lens: Lens, row: list[Stage]) -> float:
    sizes = [stage.r_out - stage.r_in for stage in row]
    texts = [to_place("c_o", size, 2) for size in sizes]
    widths = [(text_width(t, TEXT, True), text_width(s.word, SMALL)) for t, s in zip(texts, row, strict=True)]
    places = [(lens.across(stage.r_in) + lens.across(stage.r_out)) / 2 for stage in row]
    middles = spread(places, [max(pair) + 2.4 for pair in widths], lens.x, lens.x + lens.width)
    bottom, y = lens.top + lens.height, lens.top + lens.height + FAN
    for stage, text, place, at in zip(row, texts, places, middles, strict=True):
        svg.lines([(place, bottom), (place, bottom + 0.8), (at, y), (at, y + 0.4)], SOFT, HAIR)
        svg.text(at, y + 0.6 + TEXT, text, TEXT, "middle", bold=True)
        svg.text(at, y + 0.8 + TEXT + 1.2 * SMALL, stage.word, SMALL, "middle", fill=SOFT)
    return bottom + FOOT

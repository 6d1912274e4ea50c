"""All parts along one axis, apart, numbered in the order in which they go together."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build.order import Placed, sequence
from handwound.sheet.drawing.letters import shortened, wrap
from handwound.sheet.drawing.shapes import Skin, Solid, coils, piles, skins
from handwound.sheet.drawing.style import HAIR, INK, LARGE, PAPER, SOFT, TEXT, THIN
from handwound.sheet.drawing.svg import Svg, drawn
from handwound.sheet.drawing.view import SCALES, View, ratio
from handwound.sheet.said import Said, say

WIDTH, HEIGHT = 180.0, 235.0
"""The most that it takes. [mm of paper]"""
COLUMN = 74.0
"""Width of the names beside the parts. [mm of paper]"""
APART = 3.0
"""Least distance between two parts. [mm of paper]"""
ROW = 13.0
"""Least height of a part with its name beside it. [mm of paper]"""
HEAD, FOOT = 9.0, 3.0
"""What stands above the foremost part, and below the hindmost. [mm of paper]"""
BALL = 2.9
"""Radius of the ring round a number. [mm of paper]"""
TITLES = {
    "spool": "spool with the field coil", "former": "former with the voice coil", "spider": "spider",
    "diaphragm": "diaphragm", "surround": "surround", "cap": "dust cap",
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    """What goes on the axis as one: its number, its name and sizes, the codes of its operations, its shapes."""

    number: int
    name: str
    words: str
    codes: tuple[str, ...]
    side: str
    solids: tuple[Solid, ...] = ()
    skins: tuple[Skin, ...] = ()

    @property
    def span(self) -> tuple[float, float]:
        """Levels between which it lies in the finished driver. [m]"""
        levels = [z for s in self.solids for z in (s.z_lo, s.z_hi)]
        levels += [z for skin in self.skins for _, z in skin.outline]
        return min(levels, default=0.0), max(levels, default=0.0)

    @property
    def r_out(self) -> float:
        """How far it reaches from the axis. [m]"""
        return max([0.0, *(s.r_out for s in self.solids), *(r for skin in self.skins for r, _ in skin.outline)])


def rows(design: Design, prediction: Prediction) -> list[Row]:
    """The parts as they lie on the axis, the hindmost first; each with its number in the order of the build."""
    steps = sequence(design, prediction)
    found: list[tuple[int, Placed, Row]] = []

    def add(of: str, name: str, words: str, solids: tuple[Solid, ...] = (), thin: tuple[Skin, ...] = ()) -> None:
        at = next(k for k, step in enumerate(steps) if of in (step.name, *step.parts))
        step = steps[at]
        codes = tuple(dict.fromkeys([step.code, *(["FC"] if of == "spool" else ["VC"] if of == "former" else [])]))
        found.append((at, step, Row(0, name, words, codes, step.side, solids, thin)))

    rings = {ring.name for ring in design.iron.rings}
    for pile in piles(design):
        first = max((name for name in rings if pile.name.startswith(name)), key=len)
        add(first, pile.name, pile.words, (pile,))
    bodies = coils(design, prediction)
    wound = tuple(s for s in bodies if s.kind in ("spool", "field coil"))
    if wound:
        add("spool", say(TITLES["spool"]), wound[-1].words, wound)
    moved = tuple(s for s in bodies if s.kind in ("former", "voice coil"))
    add("former", say(TITLES["former"]), moved[-1].words, moved)
    thin = {skin.name: skin for skin in skins(design)}
    for name, title in list(TITLES.items())[2:]:
        if name in thin:
            own = (thin[name], *([thin["ribs"]] if name == "diaphragm" and "ribs" in thin else []))
            add(name, say(title), thin[name].words, (), own)
        elif name == "spider" and design.spider:  # only its stiffness is known
            add(name, say(title), say("not drawn: its sizes are not in the design"))
    numbers = {id(row): k + 1 for k, (_, _, row) in enumerate(sorted(found, key=lambda each: each[0]))}
    made = [
        Row(numbers[id(row)], row.name, row.words, row.codes, row.side, row.solids, row.skins) for _, _, row in found
    ]
    return sorted(made, key=lambda row: (False, sum(row.span)) if row.solids else (True, 0.0))


def exploded(design: Design, prediction: Prediction) -> Said:
    """The drawing, at the largest scale at which it fits."""
    parts = rows(design, prediction)
    room = WIDTH - COLUMN
    scale = next((k for k in SCALES if _fits(parts, k, room)), SCALES[-1])
    tall = [max(ROW, 1000 * scale * (row.span[1] - row.span[0]) + APART) for row in parts]
    svg = Svg(WIDTH, HEAD + sum(tall) + FOOT, say("The parts in the order in which they go together"))
    words = say("front, towards the cone; scale {ratio}, cut along the axis", ratio=ratio(scale))
    svg.text(room / 2, TEXT + 1, words, TEXT, "middle", fill=SOFT)
    x, top = room / 2, HEAD
    svg.lines([(x, HEAD - 3), (x, svg.height - 1)], SOFT, HAIR, dash="6 1 1 1")
    with svg.group("exploded"):
        for row, height in zip(reversed(parts), reversed(tall), strict=True):
            _row(svg, row, scale, x, top + height / 2, room)
            top += height
    return drawn(svg)


def _fits(parts: list[Row], scale: float, room: float) -> bool:
    k = 1000 * scale
    tall = sum(max(ROW, k * (row.span[1] - row.span[0]) + APART) for row in parts)
    return HEAD + tall + FOOT <= HEIGHT and 2 * k * max(row.r_out for row in parts) <= room - 4


def _row(svg: Svg, row: Row, scale: float, x: float, y: float, room: float) -> None:
    """One part about its own middle, and beside it its number, its name, its sizes and its operations."""
    low, high = row.span
    view = View(svg, scale, x, y + 1000 * scale * (low + high) / 2)
    for solid in row.solids:
        view.solid(solid)
    for skin in row.skins:
        view.skin(skin)
    edge, left = view.x(row.r_out), room + BALL
    svg.lines([(edge + 1, y), (left - BALL, y)], INK, HAIR)
    svg.circle(left, y, BALL, PAPER, INK, THIN)
    svg.text(left, y + 0.36 * TEXT, f"{row.number}", TEXT, "middle", bold=True)
    at, wide = left + BALL + 1.6, WIDTH - left - BALL - 2.0
    codes = " ".join(row.codes)
    svg.text(WIDTH - 1, y - 0.5, codes, TEXT, "end", fill=SOFT)
    svg.text(at, y - 0.5, shortened(row.name, LARGE, wide - 14, bold=True), LARGE, bold=True)
    svg.remember(row.words)
    more = say("from the back; {words}", words=row.words) if row.side == "back" else row.words
    lines = _two(more, wide)
    for k, line in enumerate(lines):
        svg.text(at, y + 1.15 * TEXT + 0.4 + k * 1.2 * TEXT, line, TEXT, fill=SOFT)


def _two(words: str, wide: float) -> list[str]:
    """The words in at most two lines."""
    return wrap(shortened(words, TEXT, wide, 2), TEXT, wide)

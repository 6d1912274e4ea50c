"""The driver cut along its axis, to scale, with its dimensions, its names and its gap under a lens."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing.dimension import ROW, TIGHT, WING, Label, across, along, labels, scale_bar, spread
from handwound.sheet.drawing.gap import draw_gap, lens_height
from handwound.sheet.drawing.letters import text_width
from handwound.sheet.drawing.shapes import NAMES, RZ, SPIDER, Gap, Skin, Solid, coils, gap, iron, piles, skins
from handwound.sheet.drawing.style import FIRM, HAIR, INK, SMALL, SOFT, TEXT
from handwound.sheet.drawing.svg import Svg, drawn
from handwound.sheet.drawing.view import SCALES, View, ratio
from handwound.sheet.said import joined, mm, named, printed, say

WIDTH, HEIGHT = 180.0, 132.0
"""The drawing fits A4 and Letter. [mm of paper]"""
COLUMN, AWAY = 58.0, 7.0
"""Width of the names beside the motor, and their distance from it. [mm of paper]"""
LENS = 20.0
"""Height of the lens's window. [mm of paper]"""
BAR = 100.0
"""Greatest length of the scale bar. [mm of paper]"""
GUTTER = 9.5
"""Width of one column of heights. [mm of paper]"""
LEAST = 2.0
"""Least height that has a dimension line of its own. [mm of paper]"""


@dataclass(frozen=True)
class Sizes:
    """The driver's outer measures: what the layout of a drawing goes by. [m]"""

    iron: tuple[Solid, ...]
    piles: tuple[Solid, ...]
    coils: tuple[Solid, ...]
    skins: tuple[Skin, ...]
    air: Gap

    @classmethod
    def of(cls, design: Design, prediction: Prediction) -> Sizes:
        """The solids and the skins of a design."""
        return cls(
            tuple(iron(design)), tuple(piles(design)), tuple(coils(design, prediction)), tuple(skins(design)),
            gap(design, prediction),
        )  # fmt: skip

    @cached_property
    def motor(self) -> tuple[Solid, ...]:
        """All that does not move."""
        return self.iron + tuple(solid for solid in self.coils if solid.kind in ("spool", "field coil"))

    @cached_property
    def r_motor(self) -> float:
        """Outer radius of what does not move."""
        return max(solid.r_out for solid in self.motor)

    @cached_property
    def r_all(self) -> float:
        """Outer radius of everything."""
        return max(self.r_motor, *(r for skin in self.skins for r, _ in skin.outline))

    @cached_property
    def z_back(self) -> float:
        """Level of the hindmost part."""
        return min(solid.z_lo for solid in self.motor + self.coils)

    @cached_property
    def z_motor(self) -> float:
        """Level of the front of what does not move."""
        return max(solid.z_hi for solid in self.motor)

    @cached_property
    def z_front(self) -> float:
        """Level of the foremost part."""
        return max(self.z_motor, *(z for skin in self.skins for _, z in skin.outline))

    @cached_property
    def in_front(self) -> tuple[Skin, ...]:
        """The skins that are told in front of all, the widest last; a spider is told beside the motor."""
        front = [skin for skin in self.skins if skin.name != SPIDER]
        return tuple(sorted(front, key=lambda skin: skin.d_out))

    @cached_property
    def beside(self) -> bool:
        """Whether there is room beside the motor, behind the diaphragm."""
        return min(z for skin in self.skins for _, z in skin.outline) >= self.z_motor

    def z_over(self, r: float) -> float:
        """Lowest level of the skins at and beyond this radius; the front of all where none reaches so far."""
        low = []
        for points in (skin.outline for skin in self.skins):
            beyond = [z for at, z in points if at >= r]
            crossed = [
                z_1 + (r - r_1) / (r_2 - r_1) * (z_2 - z_1)
                for (r_1, z_1), (r_2, z_2) in zip(points, points[1:] + points[:1], strict=True)
                if (r_1 < r) != (r_2 < r)
            ]
            low += beyond + crossed
        return min(low, default=self.z_front)


@dataclass(frozen=True)
class Layout:
    """One scale of the drawing: how much paper the section and what stands beside it take across."""

    sizes: Sizes
    width: float
    scale: float

    @cached_property
    def columns(self) -> list[list[RZ]]:
        """Heights to be shown, in columns in which none overlaps another; the shortest stand nearest the motor."""
        wound = [solid for solid in self.sizes.coils if solid.kind == "field coil"]
        spans = {(solid.z_lo, solid.z_hi) for solid in (*self.sizes.piles, *wound)}
        spans.add((min(z for z, _ in spans), max(z for _, z in spans)))
        columns: list[list[RZ]] = []
        k = 1000 * self.scale
        for span in sorted(spans, key=lambda s: (round(s[1] - s[0], 6), s)):
            if k * (span[1] - span[0]) < LEAST or any(_same(span, z) for c in columns for z in c):
                continue  # too thin for its own line here: its label tells its height
            free = [column for column in columns if all(_apart(_drawn(span, k), _drawn(other, k)) for other in column)]
            if free:
                free[0].append(span)
            else:
                columns.append([span])
        return columns

    @cached_property
    def edge(self) -> float:
        """Radius beyond which heights and names stand. [m]"""
        return self.sizes.r_motor if self.sizes.beside else self.sizes.r_all

    @cached_property
    def mark(self) -> tuple[float, float]:
        """The circle that marks the lens: how far its middle is from the axis, and its radius. [mm]"""
        air, k = self.sizes.air, 1000 * self.scale
        inner = air.r_pole if air.r_pole is not None else air.r_former
        outer = air.r_plate if air.r_plate is not None else air.r_air
        return k * (inner + outer) / 2, max(2.2, 0.7 * k * (outer - inner))

    @cached_property
    def reach(self) -> tuple[float, float]:
        """How far from the axis lines to the heights begin, and the heights: beyond the circle and its letter. [mm]"""
        edge, (middle, r) = 1000 * self.scale * self.edge, self.mark
        if middle + r <= edge:
            return edge + 0.8, edge + 4
        return max(edge, middle + r) + 0.8, middle + r + 0.8 + text_width("A", TEXT, bold=True) + 2

    @cached_property
    def left(self) -> float:
        """Paper needed left of the axis. [mm]"""
        k = 1000 * self.scale
        return max(k * self.sizes.r_all, self.reach[1] + 1 + GUTTER * len(self.columns)) + 2

    @cached_property
    def spare(self) -> float:
        """Paper left over across; negative where the drawing is too wide. [mm]"""
        k = 1000 * self.scale
        return self.width - self.left - max(k * self.sizes.r_all, k * self.edge + AWAY + COLUMN) - 1


def cross_section(design: Design, prediction: Prediction, width: float = WIDTH, height: float = HEIGHT) -> str:
    """The whole section as SVG, at the largest scale that fits; its height is what it needs.

    Where a long row of names fits at no scale, the section alone decides and the drawing grows with the names.
    """
    sizes = Sizes.of(design, prediction)
    layouts = [Layout(sizes, width, scale) for scale in SCALES]
    made = [_draw(design, prediction, layout) for layout in layouts if layout.spare >= 0 or layout is layouts[-1]]
    whole = [svg for svg, _ in made if svg.height <= height]
    without_names = [svg for svg, section in made if section <= height]
    return drawn((whole or without_names or [made[-1][0]])[0])


def _draw(design: Design, prediction: Prediction, layout: Layout) -> tuple[Svg, float]:
    """The drawing, and the height of the section without what stands beside it. [mm]"""
    sizes, scale, edge = layout.sizes, layout.scale, layout.edge
    svg = Svg(layout.width, 0.0, say("Section of the driver, scale {ratio}", ratio=ratio(scale)))
    rows_above = len(sizes.in_front) * ROW + 2
    view = View(svg, scale, layout.left + layout.spare / 2, rows_above + 1000 * scale * sizes.z_front)
    _parts(view, design, sizes)
    _above(view, sizes)
    below = _below(view, sizes)
    _heights(view, layout)
    x = view.x(edge) + AWAY
    top = view.y(sizes.z_over(edge)) + 2 if sizes.beside else 1.0
    named = labels(svg, _labels(view, sizes), x, (top, below - lens_height(LENS, design, prediction, COLUMN)), COLUMN)
    ended = draw_gap(svg, design, prediction, (x, named + 1), COLUMN, LENS, say("A  the gap"))
    _lens_mark(view, layout)
    svg.height = max(ended, _bar(svg, scale, 2.0, below + 2.5, ended, x)) + 1
    return svg, below + 8


def _parts(view: View, design: Design, sizes: Sizes) -> None:
    with view.svg.group("section"):
        for k, solid in enumerate(sizes.iron):
            view.solid(solid, rising=k % 2 == 0)
        for solid in sizes.coils:
            view.solid(solid)
            if solid.kind == "field coil" and design.field_coil:
                view.layers(solid, int(design.field_coil.n_l))
        for skin in sizes.skins:
            view.skin(skin)
        top, bottom = view.y(sizes.z_front) - 1.2, view.y(sizes.z_back) + 2.5
        view.svg.lines([(view.x_axis, top), (view.x_axis, bottom)], SOFT, HAIR, dash="6 1 1 1")


def _above(view: View, sizes: Sizes) -> None:
    y = view.y(sizes.z_front) - 3.5
    for skin in sizes.in_front:
        r, widest = skin.d_out / 2, max(r for r, _ in skin.outline)
        y_end = view.y(max(z for at, z in skin.outline if at == widest)) - 0.6
        room = 2 * (view.x(r) - view.x_axis) - 6
        word = named(skin.name, NAMES)
        long = joined(" ", (word, skin.words))
        text = long if text_width(long, SMALL) < room else say("{name} ⌀{d}", name=word, d=mm("d_out", 2 * r))
        across(view.svg, view.x(-r), view.x(r), y, text, (y_end, y_end))
        y -= ROW


def _below(view: View, sizes: Sizes) -> float:
    rows = {}
    for wound in (solid for solid in sizes.coils if solid.kind == "field coil"):
        rows = {
            round(2 * wound.r_in, 7): (say("spool"), wound.z_lo),
            round(2 * wound.r_out, 7): (say("field coil"), wound.z_lo),
        }
    back = max(sizes.iron, key=lambda solid: (solid.r_out, -solid.z_lo))
    rows[round(2 * back.r_out, 7)] = (say("motor"), back.z_lo)
    y = view.y(sizes.z_back) + 4.5
    # the lowest first: a text beside its short line clears the long lines that run down past it
    for k, (d, (name, z)) in sorted(enumerate(sorted(rows.items())), reverse=True):
        text = say("{name} ⌀{d}", name=name, d=mm("D_w", d))
        across(view.svg, view.x(-d / 2), view.x(d / 2), y + k * ROW, text, (view.y(z), view.y(z)))
    y += ROW * len(rows)
    if sizes.air.r_pole is not None:
        _pole(view, sizes, 2 * sizes.air.r_pole)
    return y


def _pole(view: View, sizes: Sizes, d: float) -> None:
    there = [s for s in sizes.iron if abs(2 * s.r_out - d) < 1e-9 and s.outline is None and not s.way]
    if not there:
        return
    ring = max(there, key=lambda s: s.z_hi)
    text = say("{name} ⌀{d}", name=sizes.air.pole, d=mm("d_out", d))
    x1, x2, y = view.x(-d / 2), view.x(d / 2), view.y(ring.z_lo + 0.35 * (ring.z_hi - ring.z_lo))
    if ring.r_in == 0 and text_width(text, SMALL) + 6 < x2 - x1 and view.y(ring.z_lo) - y > SMALL:
        across(view.svg, x1, x2, y, text, (y, y))


def _apart(one: RZ, other: RZ) -> bool:
    return one[0] >= other[1] - 1e-7 or one[1] <= other[0] + 1e-7


def _same(one: RZ, other: RZ) -> bool:
    return abs(one[0] - other[0]) < 1e-6 and abs(one[1] - other[1]) < 1e-6


def _drawn(span: RZ, k: float) -> RZ:
    """The height with the arrows that stand outside of it where it is short, ``k`` millimetres of paper a metre."""
    out = WING / k if k * (span[1] - span[0]) <= TIGHT else 0.0
    return span[0] - out, span[1] + out


def _heights(view: View, layout: Layout) -> None:
    x_end = view.x_axis - layout.reach[0]
    for k, column in enumerate(layout.columns):
        x = view.x_axis - layout.reach[1] - GUTTER * k
        spans = sorted(column, reverse=True)
        wanted = [(view.y(z_lo) + view.y(z_hi)) / 2 for z_lo, z_hi in spans]
        texts = spread(wanted, [1.25 * SMALL] * len(spans), 0.0)
        for (z_lo, z_hi), y_text in zip(spans, texts, strict=True):
            along(view.svg, view.y(z_hi), view.y(z_lo), x, mm("t", z_hi - z_lo), x_end, y_text)


def _labels(view: View, sizes: Sizes) -> list[Label]:
    front, column = sizes.z_motor, []
    for solid in sorted((*sizes.piles, *(s for s in sizes.coils if s.words)), key=lambda s: s.r_in):
        inset = min(1.5 / (1000 * view.scale), 0.5 * (solid.r_out - solid.r_in))
        z_lo = solid.z_lo
        if solid.kind in ("former", "voice coil") and solid.z_hi > front > solid.z_lo:
            z_lo = front  # what stands in the gap is pointed at where it comes out of it
        name = named(solid.name, NAMES) if solid in sizes.coils else solid.name
        column.append(Label(name, solid.words, view.x(solid.r_out - inset), view.y(solid.z_hi), view.y(z_lo)))
    for skin in (skin for skin in sizes.skins if skin.name == SPIDER):
        r, levels = max(r for r, _ in skin.outline), [z for _, z in skin.outline]
        column.append(Label(named(skin.name, NAMES), skin.words, view.x(r), view.y(max(levels)), view.y(min(levels))))
    # about level: the inner part goes first, so that no leader crosses another
    return sorted(column, key=lambda label: (round(label.y_hi + label.y_lo), label.x))


def _lens_mark(view: View, layout: Layout) -> None:
    middle, r = layout.mark
    x, y = view.x_axis - middle, view.y(layout.sizes.air.z_plate)
    view.svg.circle(x, y, r, stroke=INK, line=FIRM)
    view.svg.text(x - r - 0.8, y - 0.7 * r, "A", TEXT, "end", bold=True, boxed=True)


def _bar(svg: Svg, scale: float, x: float, below: float, ended: float, column: float) -> float:
    part = max(m * 10**n for m in (1, 2, 5) for n in range(-1, 4) if m * 10**n * scale <= BAR and (m > 1 or n >= 0))
    length = part * scale
    y = below if x + length < column - 3 else max(below, ended + 1)
    own = printed("length", part / 1000, f"{part:g}")
    if scale == 1:
        words = say("{part} mm at scale 1:1: lay a ruler on it. Sizes in mm.", part=own)
    else:
        words = say(
            "scale {ratio}: {part} mm of the part; {paper} mm on this paper. Sizes in mm.",
            ratio=ratio(scale), part=own, paper=printed("length", length / 1000, f"{length:.3g}"),
        )  # fmt: skip
    scale_bar(svg, x, y, length, words)
    return y + 1.4 + 1.6 * SMALL

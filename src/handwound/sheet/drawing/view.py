"""From metres in r-z to millimetres on paper: one mirrored section on its axis."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.sheet.drawing.shapes import RZ, Skin, Solid
from handwound.sheet.drawing.style import (
    CARD,
    COPPER,
    COPPER_INK,
    FIRM,
    FOAM,
    HAIR,
    INK,
    IRON,
    MAGNET,
    METAL,
    SMALL,
    SOFT,
    SPOOL,
    THIN,
)
from handwound.sheet.drawing.svg import Point, Svg

SCALES = (20.0, 10.0, 5.0, 4.0, 3.0, 2.0, 1.0, 1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 8, 1 / 10, 1 / 20)
"""Scales a ruler can follow, the largest first."""
FILL = {
    "iron": IRON, "magnet": MAGNET, "metal": METAL, "spool": SPOOL, "field coil": COPPER, "voice coil": COPPER,
    "former": CARD, "card": CARD, "foam": FOAM,
}  # fmt: skip
EDGE = {"iron": INK, "magnet": INK, "metal": INK, "field coil": COPPER_INK, "voice coil": COPPER_INK}
BODY = ("iron", "magnet", "metal")
"""What the motor's body is made of."""
HATCH_STEP = 1.6
"""Distance between hatch lines. [mm of paper]"""


@dataclass(frozen=True)
class View:
    """Where the axis and the zero of the stack lie on the paper; ``scale`` is paper over part."""

    svg: Svg
    scale: float
    x_axis: float
    y_zero: float

    def x(self, r: float) -> float:
        """Place across the paper. [mm]"""
        return self.x_axis + 1000 * self.scale * r

    def y(self, z: float) -> float:
        """Place down the paper. [mm]"""
        return self.y_zero - 1000 * self.scale * z

    def at(self, point: RZ, mirror: int = 1) -> Point:
        """A point of the part on the paper, on the right or the left side of the axis."""
        return self.x(mirror * point[0]), self.y(point[1])

    def solid(self, solid: Solid, rising: bool = True, fill: str | None = None, hatched: bool = True) -> None:
        """A ring in section, both halves; one whole rectangle where it has no hole.

        Iron is hatched one way, other metal both ways; a magnet is plain and has an arrow from its south to its north.
        """
        ground, line = FILL[solid.kind] if fill is None else fill, FIRM if solid.kind in BODY else THIN
        edge = EDGE.get(solid.kind, SOFT)
        for corners in self._halves(solid):
            (x, y), (right, bottom) = corners[3], corners[1]
            if solid.outline is None:
                self.svg.rect(x, y, right - x, bottom - y, ground)
            else:
                self.svg.lines(corners, "none", fill=ground, closed=True)
            for way in {"iron": (rising,), "metal": (True, False)}.get(solid.kind, ()) if hatched else ():
                self.svg.hatch_within(corners, HATCH_STEP, way)
            if solid.outline is None:
                self.svg.rect(x, y, right - x, bottom - y, stroke=edge, line=line, part=solid.name)
            else:
                self.svg.lines(corners, edge, line, closed=True, part=solid.name)
        if solid.way and hatched:
            self._poles(solid)

    def _halves(self, solid: Solid) -> list[list[Point]]:
        """The corners of what is seen cut, on the paper: counted from the lower left one."""
        r_in, r_out, z_lo, z_hi = solid.r_in, solid.r_out, solid.z_lo, solid.z_hi
        right = solid.outline or ((r_in, z_lo), (r_out, z_lo), (r_out, z_hi), (r_in, z_hi))
        (in_lo, _), (out_lo, _), (out_hi, _), (in_hi, _) = right
        if max(in_lo, in_hi) <= 0:
            whole = ((-out_lo, z_lo), (out_lo, z_lo), (out_hi, z_hi), (-out_hi, z_hi))
            return [[self.at(point) for point in whole]]
        left = ((-out_lo, z_lo), (-in_lo, z_lo), (-in_hi, z_hi), (-out_hi, z_hi))
        return [[self.at(point) for point in half] for half in (right, left)]

    def _poles(self, solid: Solid) -> None:
        """An arrow along a magnet's flux in each half, and on the right half the letters of its poles."""
        r, z = (solid.r_in + solid.r_out) / 2, (solid.z_lo + solid.z_hi) / 2
        long = solid.z_hi - solid.z_lo if solid.way in ("up", "down") else solid.r_out - solid.r_in
        half, k = 0.3 * long, 1 if solid.way in ("up", "out") else -1
        for mirror in (1, -1):
            ends = ((r, z - k * half), (r, z + k * half)) if solid.way in ("up", "down") else (
                (r - k * half, z), (r + k * half, z))  # fmt: skip
            tail, tip = (self.at(point, mirror) for point in ends)
            self._arrow(tail, tip)
        across = 1000 * self.scale * min(long, solid.r_out - solid.r_in)
        if across > 3 * SMALL:
            at_tip, at_tail = self.at(ends[1]), self.at(ends[0])
            for (x, y), letter in ((at_tip, "N"), (at_tail, "S")):
                self.svg.text(x + 0.8, y + 0.36 * SMALL, letter, SMALL, bold=True)

    def _arrow(self, tail: Point, tip: Point) -> None:
        (x_1, y_1), (x_2, y_2) = tail, tip
        long = ((x_2 - x_1) ** 2 + (y_2 - y_1) ** 2) ** 0.5
        u, v, head = (x_2 - x_1) / long, (y_2 - y_1) / long, min(1.4, 0.5 * long)
        barbs = [(x_2 - head * u + s * 0.45 * head * v, y_2 - head * v - s * 0.45 * head * u) for s in (1, -1)]
        self.svg.lines([tail, tip], INK, THIN)
        self.svg.lines([barbs[0], tip, barbs[1]], INK, THIN, fill=INK, closed=True)

    def skin(self, skin: Skin) -> None:
        """A thin part, both halves."""
        for mirror in (1, -1):
            points = [self.at(point, mirror) for point in skin.outline]
            self.svg.lines(points, INK, THIN, FILL[skin.kind], closed=True, part=skin.name)

    def layers(self, solid: Solid, count: int) -> None:
        """Hints of the layers in a winding: one line between each two, or between every few where they are too fine."""
        pitch = (solid.r_out - solid.r_in) / count
        every = max(1, round(0.45 / (1000 * self.scale * pitch)))
        for k in range(every, count, every):
            for mirror in (1, -1):
                r = solid.r_in + k * pitch
                ends = [self.at((r, z), mirror) for z in (solid.z_lo, solid.z_hi)]
                self.svg.lines(ends, COPPER_INK, HAIR)


def ratio(scale: float) -> str:
    """A scale as a drawing writes it: ``2:1``, ``1:5``."""
    return f"{round(scale)}:1" if scale >= 1 else f"1:{round(1 / scale)}"

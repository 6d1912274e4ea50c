"""From metres in r-z to millimetres on paper: one mirrored section on its axis."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.sheet.shapes import RZ, Skin, Solid
from handwound.sheet.style import CARD, COPPER, COPPER_INK, FIRM, FOAM, HAIR, INK, IRON, SOFT, SPOOL, THIN
from handwound.sheet.svg import Point, Svg

SCALES = (20.0, 10.0, 5.0, 4.0, 3.0, 2.0, 1.0, 1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 8, 1 / 10, 1 / 20)
"""Scales a ruler can follow, the largest first."""
FILL = {
    "iron": IRON, "spool": SPOOL, "field coil": COPPER, "voice coil": COPPER, "former": CARD, "card": CARD, "foam": FOAM
}  # fmt: skip
EDGE = {"iron": INK, "field coil": COPPER_INK, "voice coil": COPPER_INK}
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
        """A ring in section, both halves; one whole rectangle where it has no hole."""
        halves = ((solid.r_in, solid.r_out), (-solid.r_out, -solid.r_in))
        for left, right in ((-solid.r_out, solid.r_out),) if solid.r_in <= 0 else halves:
            x, y = self.x(left), self.y(solid.z_hi)
            width, height = self.x(right) - x, self.y(solid.z_lo) - y
            ground = FILL[solid.kind] if fill is None else fill
            line = FIRM if solid.kind == "iron" else THIN
            self.svg.rect(x, y, width, height, ground)
            if solid.kind == "iron" and hatched:
                self.svg.hatch(x, y, width, height, HATCH_STEP, rising)
            self.svg.rect(x, y, width, height, stroke=EDGE.get(solid.kind, SOFT), line=line, part=solid.name)

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

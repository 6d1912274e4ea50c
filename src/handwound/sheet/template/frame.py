"""The frame's templates: its ring with the screw holes, which is the drilling circle of a board, and its vents."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from handwound.parts.design import Brief, Design
from handwound.sheet.said import counted, mm, say
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Template, circle
from handwound.sheet.template.rings import outer_lap
from handwound.sheet.template.shape import cross, polar

CODE = "FR"
SCREWS = ((0.2, 4, 4.5e-3), (0.35, 8, 5.5e-3), (math.inf, 8, 6.5e-3))
"""Up to which outline [m] a frame is held by how many screws through holes how wide [m]: common practice, no source."""
WEB = 2.5e-3
"""What is left beside a hole at the least: common practice, no source. [m]"""


class Holes(NamedTuple):
    """Holes evenly round a circle. [m]"""

    n: int
    d: float
    D: float

    @property
    def places(self) -> list[tuple[float, float]]:
        """Where they are, the first at the top for an odd number, beside it for an even one."""
        first = math.pi / 2 + (0.0 if self.n % 2 else math.pi / max(self.n, 1))
        return [polar(self.D / 2, first + 2 * math.pi * k / self.n) for k in range(self.n)]


def screws(design: Design, brief: Brief) -> Holes | None:
    """The screw holes as the design has them, else as usual between lap and edge; None where that is too narrow."""
    told = design.flange
    if told:
        return Holes(int(told.n_screw), float(told.d_screw), float(told.D_screw))
    inner, outer = lap_end(design, brief), float(brief.D_outline)
    n, d = next((n, d) for up_to, n, d in SCREWS if outer <= up_to)
    return Holes(n, d, (inner + outer) / 2) if (outer - inner) / 2 >= d + 2 * WEB else None


def lap_end(design: Design, brief: Brief) -> float:
    """Where the surround's lap on the frame ends. [m]"""
    return float(design.surround.d_out) + 2 * outer_lap(design, brief)


def motor_across(design: Design) -> float:
    """The widest ring of the iron. [m]"""
    return max(max(float(d_out) for _, d_out in (ring.across(0.0), ring.across(1.0))) for ring in design.iron.rings)


def vents(design: Design) -> Holes | None:
    """The vents of the frame's back, between motor and surround; None where there are none or they do not fit."""
    back = design.back
    if back is None:
        return None
    inner, outer = motor_across(design), float(design.surround.d_out)
    d, n = float(back.d_vent), int(back.n_vent)
    least, most = inner + d + 2 * WEB, outer - d - 2 * WEB
    # evenly between the two, but wide enough that as many stand side by side
    apart = (d + WEB) / math.sin(math.pi / n) if n > 1 else 0.0
    D = float(back.D_vent) if back.D_vent is not None else max((inner + outer) / 2, apart)
    return Holes(n, d, D) if least - 1e-9 <= D <= most + 1e-9 and apart <= D + 1e-9 else None


def frame(design: Design, brief: Brief) -> Iterator[Template]:
    """The rim with its opening and screws; the back with its vents."""
    yield _rim(design, brief)
    holes = vents(design)
    if holes:
        yield _back(design, holes)


def _rim(design: Design, brief: Brief) -> Template:
    name, inner, outer = say("Rim of the frame"), float(design.surround.d_out), float(brief.D_outline)
    held = screws(design, brief)
    lines = [circle(outer), circle(inner), *cross()]
    notes = [say(
        "Outside ⌀{outer} mm, opening ⌀{inner} mm, where the surround ends. In a board: the same hole, the same "
        "screws.",
        outer=mm("D_outline", outer), inner=mm("d_out", inner),
    )]  # fmt: skip
    if held:
        lines += [line for x, y in held.places for line in (circle(held.d, x=x, y=y), *cross(x, y, 3e-3))]
        notes.append(say(
            "{n} holes of ⌀{d} mm on a circle of ⌀{D} mm.",
            n=counted("n_screw", held.n), d=mm("d_screw", held.d), D=mm("D_screw", held.D),
        ))  # fmt: skip
        if held.D - held.d < lap_end(design, brief) - 1e-9:
            notes.append(say("They go through the lap of the surround: punch the same holes in it."))
    else:
        notes.append(
            say(
                "Too narrow for screws beside the lap of the surround: hold it by clips over its edge, or glue it to a "
                "wider board."
            )
        )
    words = (named(0, -8e-3, name, CODE),)
    return Template("frame-rim", name, say("the frame; the board"), CODE, tuple(lines), words, tuple(notes))


def _back(design: Design, holes: Holes) -> Template:
    name, motor = say("Vents in the frame's back"), motor_across(design)
    edge = float(design.surround.d_out)
    lines = [circle(edge, "mark"), circle(motor, "mark"), *cross()]
    lines += [line for x, y in holes.places for line in (circle(holes.d, x=x, y=y), *cross(x, y, 3e-3))]
    note = say(
        "{n} holes of ⌀{d} mm on a circle of ⌀{D} mm, between the motor, ⌀{motor} mm, and the surround, ⌀{edge} mm. "
        "Centre-punch, drill, deburr; goggles on.",
        n=counted("n_vent", holes.n), d=mm("d_vent", holes.d), D=mm("D_vent", holes.D), motor=mm("d_out", motor),
        edge=mm("d_out", edge),
    )  # fmt: skip
    words = (named(0, -8e-3, name, CODE),)
    return Template("frame-vents", name, say("the frame"), CODE, tuple(lines), words, (note,))

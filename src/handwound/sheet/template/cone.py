"""The diaphragm's templates: a cone developed into the flat, a disc, a dome with the gauge of its mould, ribs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from handwound.parts.moving import Diaphragm, Ribs
from handwound.sheet.said import Said, counted, mm, say, show
from handwound.sheet.template.dome import domed
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Corner, Line, Template, bulge, circle
from handwound.sheet.template.shape import around, cross, mark, path, polar

CODE = "DI"
LONGEST_COMPASS = 0.25
"""Radius up to which the point of a cone's sector is drawn, to put compasses in: common practice, no source. [m]"""
KNIFE, BARE = 2e-3, 0.3
"""What a knife wants between lap and other end [m]; how much of the seam, at the neck, may go without its full lap:
common practice, no source."""
SMALL = 45e-3
"""A round that is narrower has no room for its name. [m]"""
FLAT = 1e-6
"""A cone less deep than this is a disc, one with a narrower neck ends in a point. [m]"""


class Sector(NamedTuple):
    """A frustum cut open along its side and laid flat: radii of its edges [m], the angle between its ends [rad]."""

    r_in: float
    r_out: float
    angle: float

    @property
    def side(self) -> float:
        """From rim to rim along the slope. [m]"""
        return self.r_out - self.r_in


def developed(d_in: float, d_out: float, h_c: float) -> Sector:
    """The side of a straight cone in the flat: its slant is kept, and the length of each of its rims. [m]"""
    dr = (d_out - d_in) / 2
    slant = math.hypot(dr, h_c)
    d_in = d_in if d_in > FLAT else 0.0
    return Sector(d_in / 2 * slant / dr, d_out / 2 * slant / dr, 2 * math.pi * dr / slant)


def diaphragm(part: Diaphragm) -> Iterator[Template]:
    """What the diaphragm is cut from, and its ribs."""
    d_in, d_out, h_c = float(part.d_in), float(part.d_out), float(part.h_c)
    if part.form == "dome":
        yield from domed("diaphragm", say("Diaphragm"), CODE, part.sheet.name, d_out, h_c, d_in)
    elif part.form == "cone" and h_c > FLAT:
        yield from _cone(part)
    else:
        yield disc("diaphragm", say("Diaphragm"), CODE, part.sheet.name, d_out, d_in)
    if part.ribs:
        yield _ribs(part, part.ribs)


def disc(key: str, name: str, code: str, of: str, d_out: float, d_in: float = 0.0) -> Template:
    """A flat round, with or without a hole."""
    across = mm("d_out", d_out)
    notes = [say("⌀{d_out} mm.", d_out=across)]
    if d_in:
        notes = [say("⌀{d_out} mm, hole ⌀{d_in} mm.", d_out=across, d_in=mm("d_in", d_in))]
    lines = (circle(d_out), *((circle(d_in),) if d_in else ()), *cross())
    return Template(key, name, of, code, lines, (named(0, _beside(d_in, d_out), name, code),), tuple(notes))


def _beside(d_in: float, d_out: float) -> float:
    """Where a name stands on a ring: in the middle of its breadth, in its hole, under what is too small for it."""
    if d_out < SMALL:
        return -d_out / 2 - 4e-3
    return -d_out / 4 - d_in / 4 if d_out - d_in > 16e-3 else -6e-3


def _cone(part: Diaphragm) -> Iterator[Template]:
    flat = developed(float(part.d_in), float(part.d_out), float(part.h_c))
    w_seam = min(float(part.w_seam), 0.7 * flat.r_out)
    begins = _lap_begins(flat, w_seam) if w_seam else None
    yield sector(flat, w_seam if begins is not None else 0.0, part.sheet.name, begins or 0.0)
    if w_seam and begins is None:
        yield _seam_strip(flat, w_seam, part.sheet.name)


def _lap_begins(flat: Sector, w_seam: float) -> float | None:
    """Where along its end the lap has its full width: from there on it stays clear of the sector's other end; None
    where so little of it is left that it would not hold. [m]"""
    # a lap wider than the neck's radius ends slantwise, so that it never reaches round the point
    x = math.sqrt(flat.r_in**2 - w_seam**2) if flat.r_in > w_seam else flat.r_in + w_seam
    free = 2 * math.pi - flat.angle
    if free < math.pi / 2:
        x = max(x, (w_seam + KNIFE) / math.tan(free))
    return x if x <= flat.r_in + BARE * flat.side else None


def sector(flat: Sector, w_seam: float, of: str, begins: float = 0.0) -> Template:
    """The flat cone, its middle upwards, the lap of its seam along its right end, as wide as it is from ``begins``."""
    name, start = say("Cone"), math.pi / 2 - flat.angle / 2
    end, middle = start + flat.angle, math.pi / 2
    lines = [Line(_outline(flat, w_seam, start, begins))]
    if w_seam:
        lines.append(mark(polar(flat.r_in, start), polar(flat.r_out, start)))
        dx, dy = polar(w_seam, end - math.pi / 2)  # where the lap comes to lie: as far from the other end
        r = begins, math.sqrt(flat.r_out**2 - w_seam**2)
        lines.append(mark(*((x + dx, y + dy) for x, y in (polar(each, end) for each in r))))
    tick = min(0.1 * flat.side, 5e-3)
    lines += [mark(polar(r, middle), polar(r + step, middle)) for r, step in ((flat.r_in, tick), (flat.r_out, -tick))]
    if flat.r_in <= LONGEST_COMPASS / 2:
        lines += cross()
    r_name = (flat.r_in + flat.r_out) / 2 if flat.side > 8e-3 else flat.r_out + 4e-3
    words = (named(0, r_name, name, CODE),)
    return Template("cone", name, of, CODE, tuple(lines), words, tuple(_sizes(flat, w_seam)))


def _outline(flat: Sector, w_seam: float, start: float, begins: float) -> tuple[Corner, ...]:
    """Round the outer edge, back along the inner one; the lap stands outside the end where that began."""
    lap: list[Corner] = []
    turn = 0.0
    if w_seam:
        x_out = math.sqrt(flat.r_out**2 - w_seam**2)
        (r, angle), (r_out, angle_out) = ((math.hypot(x, w_seam), math.atan2(w_seam, x)) for x in (begins, x_out))
        if math.isclose(r, flat.r_in, rel_tol=1e-9):  # the lap ends along the neck
            turn = bulge(-angle)
        lap = [(*polar(r, start - angle), 0.0), (*polar(r_out, start - angle_out), bulge(angle_out))]
    outer = around(flat.r_out, start, flat.angle)
    end = (*polar(flat.r_out, start + flat.angle), 0.0)
    inner: list[Corner] = [(0.0, 0.0, 0.0)]
    if flat.r_in:
        neck = around(flat.r_in, start + flat.angle, -flat.angle)
        inner = [*neck, (*polar(flat.r_in, start), turn)]
    return (*outer, end, *inner, *lap)


def _sizes(flat: Sector, w_seam: float) -> Iterator[Said]:
    chord = mm("l_chord", 2 * flat.r_out * math.sin(flat.angle / 2))
    yield say(
        "Outer edge: radius {r_out} mm, inner edge: {r_in} mm, from end to end {angle}; {side} mm along each end.",
        r_out=mm("r_cut", flat.r_out), r_in=mm("r_cut", flat.r_in), angle=show("theta_cut", flat.angle, 4),
        side=mm("length", flat.side),
    )  # fmt: skip
    inner = mm("l_chord", 2 * flat.r_in * math.sin(flat.angle / 2))
    yield say(
        "A ruler from corner to corner, without the lap: {chord} mm outside, {inner} mm inside.",
        chord=chord, inner=inner,
    )  # fmt: skip
    if w_seam:
        yield say(
            "The lap of {w_seam} mm goes under the other end, up to the thin line; the ends meet at the other.",
            w_seam=mm("w_seam", w_seam),
        )
    else:
        yield say("The ends meet edge to edge.")


def _seam_strip(flat: Sector, w_seam: float, of: str) -> Template:
    """What holds a seam edge to edge together, where the sector leaves no room for a lap."""
    name = say("Seam strip")
    half = w_seam / 2
    lines = (
        path((0, 0), (flat.side, 0), (flat.side, w_seam), (0, w_seam)), mark((0, half), (flat.side, half)),
    )  # fmt: skip
    note = say(
        "{length} × {width} mm, half of it under each end of the cone: so shallow a cone leaves no room for a lap.",
        length=mm("length", flat.side), width=mm("w_seam", w_seam),
    )  # fmt: skip
    return Template("seam-strip", name, of, CODE, lines, (named(flat.side / 2, -4e-3, name, CODE),), (note,))


def _ribs(part: Diaphragm, ribs: Ribs) -> Template:
    """Strips on edge: straight on a cone or a disc, round at the foot on a dome."""
    r_1, r_2, high = float(ribs.d_in) / 2, float(ribs.d_out) / 2, float(ribs.h_rib)
    name, n_rib = say("Rib"), int(ribs.n_rib)
    length = math.hypot(r_2 - r_1, float(part.rise(ribs.d_out)) - float(part.rise(ribs.d_in)))
    line = path((0, 0), (length, 0), (length, high), (0, high))
    if part.form == "dome" and part.h_c:
        r = ((float(part.d_out) / 2) ** 2 + float(part.h_c) ** 2) / (2 * float(part.h_c))
        start, turn = math.acos(min(r_2 / r, 1.0)), math.asin(min(r_2 / r, 1.0)) - math.asin(min(r_1 / r, 1.0))
        foot, top = around(r, start + turn, -turn), around(r + high, start, turn)
        end, over = (*polar(r, start), 0.0), (*polar(r + high, start + turn), 0.0)
        x, y = polar(r, start + turn / 2)
        line = Line(tuple((a - x, b - y, c) for a, b, c in (*foot, end, *top, over)))
    note = say(
        "{n_rib} strips, {length} mm from end to end along the foot's ends, {h_rib} mm high, on edge at equal angles.",
        n_rib=counted("n_rib", n_rib), length=mm("length", length), h_rib=mm("h_rib", high),
    )  # fmt: skip
    middle = sum(corner[0] for corner in line.corners) / len(line.corners)
    low = min(corner[1] for corner in line.corners) - 4e-3
    return Template(
        "rib", name, ribs.sheet.name, CODE, (line,), (named(middle, low, name, CODE, n_rib),), (note,), n_rib
    )

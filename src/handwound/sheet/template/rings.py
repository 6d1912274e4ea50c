"""The suspension's templates: the surround with its laps, the spider."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from handwound.masses import LAP, lap_width
from handwound.parts.design import Brief, Design
from handwound.parts.moving import Spider, Surround
from handwound.physics.shell.meridian import Shell
from handwound.sheet.said import Said, counted, mm, say
from handwound.sheet.template.dome import REST
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Corner, Line, Template, circle
from handwound.sheet.template.shape import around, box, cross, polar
from handwound.suspension import spider_shell, surround_shell

SURROUND, SPIDER = "SU", "AS"
OUTER_LAP = 8e-3
"""Lap of a surround or a spider on the frame, where there is room: common practice, no source. [m]"""
LEAST_LAP = 4e-3
"""Lap of a spider on the frame at the least: common practice, no source. [m]"""
PAD = 3e-3
"""What the pad at the end of a spider's arm is wider on each side: common practice, no source. [m]"""


def outer_lap(design: Design, brief: Brief) -> float:
    """How far the surround laps over the frame: never beyond the outline that the brief asks for. [m]"""
    room = (float(brief.D_outline) - float(design.surround.d_out)) / 2
    return max(min(OUTER_LAP, room), 0.0)


def surround(design: Design, brief: Brief) -> Template:
    """The ring with its laps; where it is formed, so much wider that the form takes its way from it."""
    part, name = design.surround, say("Surround")
    d_in, d_out = float(part.d_in), float(part.d_out)
    inner, outer = min(lap_width(design), d_in / 2), outer_lap(design, brief)
    formed = part.form != "flat" and part.h_r
    line = surround_shell(part)
    ways = _way(line) if formed else np.array([0.0, (d_out - d_in) / 2])
    free = d_in + 2 * float(ways[-1])
    notes = [_laps(inner, outer), _ring(d_in - 2 * inner, free + 2 * outer)]
    if formed:
        notes.append(say(
            "The dashed circles are crests and valleys. Formed, the free part is as wide as drawn, from ⌀{d_in} to "
            "⌀{d_out} mm; flat it ends at ⌀{free} mm.",
            d_in=mm("d_in", d_in), d_out=mm("d_out", d_out), free=mm("d_out", free),
        ))  # fmt: skip
    folds = [circle(d_in + 2 * float(way), "fold") for way in _turns(part, line, ways)] if formed else []
    holes = [circle(d_in - 2 * inner)] if d_in > 2 * inner else []
    free_edges = [circle(d_in, "mark"), circle(free, "mark")]
    lines = (circle(free + 2 * outer), *holes, *free_edges, *folds, *cross())
    words = (named(0, -8e-3, name, SURROUND),)
    return Template("surround", name, part.sheet.name, SURROUND, lines, words, tuple(notes))


def _ring(d_in: float, d_out: float) -> Said:
    across = mm("d_out", d_out)
    if d_in <= 0:
        return say("Cut it to ⌀{d_out} mm.", d_out=across)
    return say("Cut it to ⌀{d_out} mm, its hole to ⌀{d_in} mm.", d_out=across, d_in=mm("d_in", d_in))


def _laps(inner: float, outer: float) -> Said:
    return say(
        "The thin circles are where the glue ends: it laps {inner} mm over the diaphragm, {outer} mm over the frame.",
        inner=mm("w_bond", inner), outer=mm("w_bond", outer),
    )  # fmt: skip


def _way(shell: Shell) -> np.ndarray:
    """How far it is to each node over crests and valleys. [m]"""
    return np.append(0.0, np.cumsum(np.hypot(np.diff(shell.r), np.diff(shell.z))))


def _turns(part: Surround | Spider, shell: Shell, ways: np.ndarray) -> list[float]:
    """At which ways crests and valleys lie, between the ends."""
    n = 2 if part.form == "roll" else 2 * int(part.n_pleat)
    r = np.linspace(shell.r[0], shell.r[-1], n + 1)[1:-1]
    return [float(way) for way in np.interp(r, shell.r, ways)]


def spider(design: Design, brief: Brief) -> Iterator[Template]:
    """The second suspension, where its shape is known and can be cut."""
    part = design.spider
    if part is None or part.sheet is None:
        return
    D_f, laps = float(design.voice_coil.D_f), (_spider_lap(design), spider_pad(design, brief))
    if part.form == "arms" and part.l_arm and part.w_arm and arms_fit(*ring_of_arms(design)):
        yield _arms(part, D_f, *laps, part.sheet.name)
    elif part.form == "pleats" and part.d_in and part.d_out:
        yield _pleats(part, D_f, laps[1], part.sheet.name)


def _spider_lap(design: Design) -> float:
    told = [float(bond.w_bond) for bond in design.bonds if bond.at == "spider" and bond.w_bond is not None]
    return told[0] if told else LAP


def ring_of_arms(design: Design) -> tuple[float, float, int]:
    """Radius of the ring that the arms leave, as wide as its glue; width and number of the arms. [m]"""
    part = design.spider
    assert part is not None and part.w_arm is not None
    return float(design.voice_coil.D_f) / 2 + _spider_lap(design), float(part.w_arm), int(part.n_arm)


def arms_fit(r_ring: float, w_arm: float, n_arm: int) -> bool:
    """Whether so many arms leave a ring without one lying on the next. [m]"""
    return w_arm < r_ring and math.acos(1 - w_arm / r_ring) < 2 * math.pi / n_arm


def widest_arm(r_ring: float, n_arm: int) -> float:
    """The width that arms stay below. [m]"""
    return r_ring * min(1.0, 1 - math.cos(2 * math.pi / n_arm)) if n_arm > 1 else r_ring


def spider_reach(design: Design, pad: float) -> float | None:
    """How wide a spider is across what lies glued on the frame; None where its shape is not known. [m]"""
    part = design.spider
    if part is None or part.sheet is None:
        return None
    if part.form == "arms" and part.l_arm and part.w_arm:
        r_ring, w_arm, _ = ring_of_arms(design)
        return 2 * math.hypot(r_ring + PAD, _begins(r_ring, w_arm) + float(part.l_arm) + pad)
    return float(part.d_out) + 2 * pad if part.form == "pleats" and part.d_in and part.d_out else None


def spider_pad(design: Design, brief: Brief) -> float:
    """How far a spider laps over the frame: as usual where there is room within the outline, else less. [m]"""
    part, half = design.spider, float(brief.D_outline) / 2
    room = OUTER_LAP
    if part and part.form == "arms" and part.l_arm and part.w_arm:
        r_ring, w_arm, _ = ring_of_arms(design)
        room = math.sqrt(max(half**2 - (r_ring + PAD) ** 2, 0.0)) - _begins(r_ring, w_arm) - float(part.l_arm)
    elif part and part.form == "pleats" and part.d_out:
        room = half - float(part.d_out) / 2
    return min(max(room, LEAST_LAP), OUTER_LAP)


def _begins(r_ring: float, w_arm: float) -> float:
    """Where on its tangent an arm's inner edge leaves the ring, so that all of it is free. [m]"""
    return math.sqrt(max(r_ring**2 - (r_ring - w_arm) ** 2, 0.0))


def _pleats(part: Spider, D_f: float, pad: float, of: str) -> Template:
    """A round of cloth, so much wider than the spider that its waves take their way from it."""
    assert part.d_in is not None and part.d_out is not None
    name, shell = say("Spider"), spider_shell(part)
    ways, d_in = _way(shell), float(part.d_in)
    free = d_in + 2 * float(ways[-1])
    blank, hole = free + 2 * pad + 2 * REST, min(D_f, d_in)
    folds = [circle(d_in + 2 * way, "fold") for way in _turns(part, shell, ways)]
    lines = (
        circle(blank), circle(free + 2 * pad, "mark"), circle(free, "mark"), *folds, circle(d_in, "mark"),
        circle(hole, "mark"), *cross(),
    )  # fmt: skip
    notes = (
        say("Blank ⌀{blank} mm. The dashed circles are crests and valleys.", blank=mm("d_out", blank)),
        say(
            "Pressed and dry: cut the hole to ⌀{hole} mm, to sit on the former, and the outer edge {lap} mm beyond the "
            "last wave, ⌀{d_out} mm: it reaches ⌀{far} mm with its lap.",
            hole=mm("d_in", hole), lap=mm("w_bond", pad), d_out=mm("d_out", part.d_out),
            far=mm("d_out", float(part.d_out) + 2 * pad),
        ),
    )  # fmt: skip
    return Template("spider", name, of, SPIDER, lines, (named(0, -blank / 2 + 6e-3, name, SPIDER),), notes)


def _arms(part: Spider, D_f: float, lap: float, pad: float, of: str) -> Template:
    """A ring round the former, arms that leave it along a tangent, a pad at the end of each: one piece."""
    assert part.l_arm is not None and part.w_arm is not None
    name, n_arm, l_arm, w_arm = say("Spider"), int(part.n_arm), float(part.l_arm), float(part.w_arm)
    r_ring = D_f / 2 + lap
    corners, marks = _arms_outline(r_ring, n_arm, l_arm, w_arm, pad)
    lines = (Line(tuple(corners)), circle(D_f), *marks, *cross())
    far = math.hypot(r_ring + PAD, _begins(r_ring, w_arm) + l_arm + pad)
    notes = (
        say(
            "Hole ⌀{D_f} mm, for the former; its ring {lap} mm wide. {n_arm} arms, free for {l_arm} mm between the "
            "thin lines, {w_arm} mm wide.",
            D_f=mm("D_f", D_f), lap=mm("w_bond", lap), n_arm=counted("n_arm", n_arm), l_arm=mm("l_arm", l_arm),
            w_arm=mm("w_arm", w_arm),
        ),
        say(
            "The pads, {pad} mm long, land on the frame; with them it reaches ⌀{far} mm.", pad=mm("w_bond", pad),
            far=mm("d_out", 2 * far),
        ),
    )  # fmt: skip
    x, low, x_2, _ = box(corner[:2] for corner in corners)
    return Template("spider", name, of, SPIDER, lines, (named((x + x_2) / 2, low - 4e-3, name, SPIDER),), notes)


def _arms_outline(r_ring: float, n_arm: int, l_arm: float, w_arm: float, pad: float) -> tuple[list[Corner], list[Line]]:
    """The outer edge all round, and the lines between which each arm is free."""
    turn, begins = math.acos(1 - w_arm / r_ring), _begins(r_ring, w_arm)
    ends, corners, marks = begins + l_arm, list[Corner](), list[Line]()
    edge = (
        (r_ring, 0.0), (r_ring, ends), (r_ring + PAD, ends), (r_ring + PAD, ends + pad),
        (r_ring - w_arm - PAD, ends + pad), (r_ring - w_arm - PAD, ends), (r_ring - w_arm, ends),
    )  # fmt: skip
    for k in range(n_arm):
        at = k * 2 * math.pi / n_arm
        corners += [(*_turned(x, y, at), 0.0) for x, y in edge]
        corners += around(r_ring, at + turn, 2 * math.pi / n_arm - turn)
        for y in (begins, ends):
            across = tuple((*_turned(x, y, at), 0.0) for x in (r_ring, r_ring - w_arm))
            marks.append(Line(across, "mark", closed=False))
    return corners, marks


def _turned(x: float, y: float, angle: float) -> tuple[float, float]:
    r, at = math.hypot(x, y), math.atan2(y, x)
    return polar(r, at + angle)

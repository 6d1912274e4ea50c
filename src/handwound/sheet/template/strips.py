"""Strips that are rolled, and what a spool needs: former, tube and cheeks, the wrap that tells a mandrel's diameter."""

from __future__ import annotations

import math
from collections.abc import Iterator

from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.drawing.letters import text_width
from handwound.sheet.said import mm, say
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Corner, Line, Template, Words, circle
from handwound.sheet.template.shape import around, mark, path, polar, rectangle

SPOOL, FORMER = "SP", "FO"
ROLLED = 1e-3
"""A tube with a wall up to this is rolled from a strip: common practice, no source. [m]"""
SLOT, NOTCH = 1.5e-3, 3e-3
"""Least width of the notch for a lead, and how deep that of the outer one is: common practice, no source. [m]"""
T_PAPER = 0.1e-3
"""Thickness of office paper of 80 g/m²: common practice, no source. [m]"""
STEPS = (-0.1e-3, -0.05e-3, 0.0, 0.05e-3, 0.1e-3)
"""Diameters beside the mandrel's that its wrap tells apart. [m]"""
SMALL = 2.4e-3
"""Letters beside a mark. [m]"""
LANE, GRIP = 4.5e-3, 22e-3
"""Height of the lane of each, and how far the wrap reaches beyond the last. [m]"""


def spool(design: Design, prediction: Prediction) -> Iterator[Template]:
    """Tube and cheeks of the field coil, where there is one."""
    coil, wound = design.field_coil, prediction.field_winding
    if coil is None or wound is None:
        return
    D_f, t_f, h_w, t_fl = (float(each) for each in (coil.D_f, coil.t_f, coil.h_w, coil.t_fl))
    if 0 < t_f <= ROLLED:
        yield _tube(D_f, t_f, h_w)
    if t_fl:
        d_o = float(coil.wire.d_o) if coil.wire else 0.0
        yield _cheek(max(D_f - 2 * t_f, 1e-3), D_f, float(wound.D_w), t_fl, max(SLOT, 2 * d_o))


def _tube(D_f: float, t_f: float, h_w: float) -> Template:
    name, length = say("Tube of the field coil's spool"), math.pi * (D_f - t_f)
    note = say(
        "{length} × {h_w} mm: π times the middle of the wall. Rolled and glued edge to edge it is ⌀{D_f} mm outside.",
        length=mm("length", length), h_w=mm("h_w", h_w), D_f=mm("D_f", D_f),
    )  # fmt: skip
    of = say("card, {t_f} mm thick", t_f=mm("t_f", t_f))
    words = (named(length / 2, h_w / 2, name, SPOOL),)
    return Template("spool-tube", name, of, SPOOL, (rectangle(length, h_w),), words, (note,))


def _cheek(d_in: float, D_f: float, D_w: float, t_fl: float, slot: float) -> Template:
    """A ring with a notch down to the tube for the first lead, and a shallow one for the last."""
    name, r_out = say("Cheek of the field coil's spool"), D_w / 2
    deep = r_out - D_f / 2
    notches = [(math.pi / 2, r_out - max(deep, 0.5e-3)), (math.pi / 6, max(r_out - NOTCH, r_out - max(deep, 0.5e-3)))]
    slot = min(slot, r_out / 4)
    half = math.asin(slot / 2 / r_out)
    corners: list[Corner] = []
    for (at, foot), (before, _) in zip(notches, (notches[1], notches[0]), strict=True):
        start = before + half
        corners += around(r_out, start, (at - half - start) % (2 * math.pi))
        depth = math.sqrt(r_out**2 - slot**2 / 4)
        edge = ((depth, -slot / 2), (foot, -slot / 2), (foot, slot / 2))
        corners += [(*_turned(x, y, at), 0.0) for x, y in edge]
    lines = (Line(tuple(corners)), circle(d_in), circle(D_f, "mark"))
    notes = (
        say(
            "⌀{D_w} mm, as wide as the winding; hole ⌀{d_in} mm, flush with the inside of the tube, whose outside is "
            "the thin circle, ⌀{D_f} mm.",
            D_w=mm("D_w", D_w), d_in=mm("d_in", d_in), D_f=mm("D_f", D_f),
        ),
        say("The first lead leaves through the deep notch, the last through the other: only one cheek needs them."),
    )  # fmt: skip
    of = say("stiff card or board, {t_fl} mm thick", t_fl=mm("t_fl", t_fl))
    return Template("spool-cheek", name, of, SPOOL, lines, (named(0, -r_out - 4e-3, name, SPOOL, 2),), notes, 2)


def _turned(x: float, y: float, angle: float) -> tuple[float, float]:
    return polar(math.hypot(x, y), math.atan2(y, x) + angle)


def former(design: Design) -> Template:
    """The strip of the voice coil's former, with what will sit on it."""
    coil, name = design.voice_coil, say("Former")
    D_fi, t_f, l_f, h_w = (float(each) for each in (coil.D_fi, coil.t_f, coil.l_f, coil.h_w))
    length = math.pi * (D_fi + t_f)
    told = [float(bond.w_bond) for bond in design.bonds if bond.at == "neck" and bond.w_bond is not None]
    levels = [(h_w, say("front end of the winding"))]
    if told and told[0] < l_f - h_w:
        levels.append((l_f - told[0], say("glue of the neck, up to the front edge")))
    if design.spider and 0 < float(design.spider.z_sp) < l_f - h_w:
        levels.append((l_f - float(design.spider.z_sp), say("spider")))
    lines = [rectangle(length, l_f), *(mark((0, level), (length, level)) for level, _ in levels)]
    levels.append((3.2e-3, say("the winding begins at this edge, at the motor")))
    words = [_from_left(level - 1.7e-3, text) for level, text in levels]
    notes = (
        say(
            "{length} × {l_f} mm: π times inside plus wall. Round a mandrel of ⌀{D_fi} mm its short ends just meet.",
            length=mm("length", length), l_f=mm("l_f", l_f), D_fi=mm("D_fi", D_fi),
        ),
        say(
            "The winding lies from the lower edge, the one at the motor, to the thin line {h_w} mm above it.",
            h_w=mm("h_w", h_w),
        ),
    )  # fmt: skip
    words.append(named(length * 0.78, h_w / 2, name, FORMER))
    return Template("former", name, coil.former.name, FORMER, tuple(lines), tuple(words), notes)


def _from_left(y: float, text: str) -> Words:
    """A small text that begins at the left edge of a strip."""
    return Words(2e-3 + text_width(text, SMALL) / 2, y, text, SMALL)


def mandrel_wrap(design: Design) -> Template:
    """A strip whose end meets one of five marks on a mandrel of as many diameters, each mark in a lane of its own."""
    D_fi, name = float(design.voice_coil.D_fi), say("Mandrel wrap")
    ends = [math.pi * (D_fi + step + T_PAPER) for step in STEPS]
    high, long = LANE * len(STEPS), ends[-1] + GRIP
    lines, words = [path((0, 0), (long, 0), (long, high), (0, high))], []
    for k, (step, end) in enumerate(zip(STEPS, ends, strict=True)):
        lines.append(mark((end, k * LANE), (end, (k + 1) * LANE)))
        wide = say("⌀{D_fi} mm", D_fi=mm("D_fi", D_fi + step, 5))
        words.append(Words(end + 10e-3, (k + 0.5) * LANE, wide, 2.4e-3))
    words.append(named(ends[0] / 2, high / 2, name, FORMER))
    notes = (
        say(
            "Cut it out on the line, wrap it tightly round the mandrel with its film on, its print outwards: the mark "
            "that the straight end meets tells the diameter. Wanted: ⌀{D_fi} mm, after {length} mm.",
            D_fi=mm("D_fi", D_fi), length=mm("length", ends[2], 5),
        ),
        say("The marks count the paper's own thickness, {t_paper} mm.", t_paper=mm("t_paper", T_PAPER)),
    )  # fmt: skip
    return Template("mandrel-wrap", name, say("this paper"), FORMER, tuple(lines), tuple(words), notes)

"""Strips that are rolled, and what a spool needs: former, tube and cheeks, the wrap that tells a mandrel's diameter."""

from __future__ import annotations

import math
from collections.abc import Iterator

from handwound.parts.coil import FieldCoil
from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from handwound.sheet.build.leads_out import Lead, field_leads
from handwound.sheet.drawing.letters import text_width
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, mm, say
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
STEP, BEFORE, BEYOND = 0.5e-3, 2, 13
"""Of the wrap's main scale: from mark to mark in diameter [m], how many before the mandrel's own, how many after."""
TENTHS = 10
VERNIER = math.pi * STEP * (TENTHS - 1) / TENTHS
"""A vernier's lines: so many go on one less of the main scale. [m]"""
START, HIGH = 4e-3, 16e-3
"""Where the vernier's 0 stands, and the height of the wrap: common practice, no source. [m]"""
PASSES = 0.5e-3
"""So much narrower than the shell a cheek must be to slide in: common practice, no source. [m]"""
SMALL = 2.4e-3
"""Letters beside a mark. [m]"""
GRIP = 15e-3
"""How far the wrap reaches beyond its last mark. [m]"""


def spool(design: Design, prediction: Prediction) -> Iterator[Template]:
    """Tube and cheeks of the field coil, where there is one."""
    coil, wound = design.field_coil, prediction.field_winding
    if coil is None or wound is None:
        return
    D_f, t_f, h_w, t_fl = (float(each) for each in (coil.D_f, coil.t_f, coil.h_w, coil.t_fl))
    if 0 < t_f <= ROLLED:
        yield _tube(D_f, t_f, h_w)
    if t_fl:
        yield from _cheeks(design, coil, prediction)


def _tube(D_f: float, t_f: float, h_w: float) -> Template:
    name, length = say("Tube of the field coil's spool"), math.pi * (D_f - t_f)
    note = say(
        "{length} × {h_w} mm: π times the middle of the wall. Rolled and glued edge to edge it is ⌀{D_f} mm outside.",
        length=mm("length", length), h_w=mm("h_w", h_w), D_f=mm("D_f", D_f),
    )  # fmt: skip
    of = say("card, {t_f} mm thick", t_f=mm("t_f", t_f))
    words = (named(length / 2, h_w / 2, name, SPOOL),)
    return Template("spool-tube", name, of, SPOOL, (rectangle(length, h_w),), words, (note,))


def _cheeks(design: Design, coil: FieldCoil, prediction: Prediction) -> Iterator[Template]:
    """Two alike where both leads leave at the back; else each with the notch of its own lead."""
    wound = band(prediction, "field_winding.D_w")
    low, high = float(coil.z_w - coil.t_fl), float(coil.z_w + coil.h_w + coil.t_fl)
    outside = design.iron.room(wound.value, low, high)[1]
    room = float("inf") if outside is None else float(outside) - PASSES
    across = max(min(float(wound.high), room), float(wound.value))
    tight = across < float(wound.high)
    leads = field_leads(coil)
    if len({side for _, side, _ in leads}) == 1:
        yield _cheek("spool-cheek", say("Cheek of the field coil's spool"), coil, across, leads, tight)
        return
    names = {"back": say("Back cheek of the field coil's spool"), "front": say("Front cheek of the field coil's spool")}
    for side, name in names.items():
        there = tuple(lead for lead in leads if lead[1] == side)
        yield _cheek(f"spool-cheek-{side}", name, coil, across, there, tight)


def _cheek(key: str, name: str, coil: FieldCoil, D: float, leads: tuple[Lead, ...], tight: bool) -> Template:
    """A ring, its side to the cone upwards: a notch down to the tube for the first lead, a shallow one for the last."""
    D_f, d_in, r_out = float(coil.D_f), max(float(coil.D_f - 2 * coil.t_f), 1e-3), D / 2
    deep = max(r_out - D_f / 2, 0.5e-3)
    feet = {"S": r_out - deep, "F": r_out - min(NOTCH, deep)}
    slot = min(max(SLOT, 2 * float(coil.wire.d_o) if coil.wire else 0.0), r_out / 4)
    half, depth = math.asin(slot / 2 / r_out), math.sqrt(r_out**2 - slot**2 / 4)
    found = sorted((_angle(hour), feet[end]) for end, _, hour in leads)
    corners: list[Corner] = []
    for k, (at, foot) in enumerate(found):
        start = found[k - 1][0] + half
        corners += around(r_out, start, (at - half - start) % (2 * math.pi))
        edge = ((depth, -slot / 2), (foot, -slot / 2), (foot, slot / 2))
        corners += [(*_turned(x, y, at), 0.0) for x, y in edge]
    lines = (Line(tuple(corners)), circle(d_in), circle(D_f, "mark"))
    count, below = len(leads), -r_out - 3e-3  # both leads at one cheek: two are cut alike
    words = [Words(*polar(r_out + 3e-3, _angle(hour)), f"{end} {hour}", SMALL) for end, _, hour in leads]
    words += [
        Words(0, below - 4e-3, say("this side to the front, towards the cone; 12 o'clock is up"), SMALL),
        named(0, below - 8e-3, name, SPOOL, count),
    ]
    of = say("stiff card or board, {t_fl} mm thick", t_fl=mm("t_fl", coil.t_fl))
    return Template(key, name, of, SPOOL, lines, tuple(words), _cheek_notes(D, d_in, D_f, leads, tight), count)


def _cheek_notes(D: float, d_in: float, D_f: float, leads: tuple[Lead, ...], tight: bool) -> tuple[Said, ...]:
    notes = [say(
        "⌀{D_w} mm, as wide as the widest that the winding may become; hole ⌀{d_in} mm, flush with the inside of the "
        "tube, whose outside is the thin circle, ⌀{D_f} mm.",
        D_w=mm("D_w", D), d_in=mm("d_in", d_in), D_f=mm("D_f", D_f),
    )]  # fmt: skip
    if tight:
        notes[0] = say(
            "⌀{D_w} mm, no wider, to pass the shell: stop winding where it is full; hole ⌀{d_in} mm, flush with the "
            "inside of the tube, whose outside is the thin circle, ⌀{D_f} mm.",
            D_w=mm("D_w", D), d_in=mm("d_in", d_in), D_f=mm("D_f", D_f),
        )  # fmt: skip
    if len(leads) > 1:
        notes.append(say(
            "Seen from the front: S leaves through the deep notch at 6 o'clock, F through the other at 7 o'clock, both "
            "at the back cheek. The front cheek needs no notch."
        ))  # fmt: skip
    elif leads[0][0] == "S":
        notes.append(say("Seen from the front: S leaves through the deep notch at 6 o'clock."))
    else:
        notes.append(say("Seen from the front: F leaves through the notch at 7 o'clock."))
    return tuple(notes)


def _angle(hour: int) -> float:
    """Of an hour of the clock, from three o'clock to the left. [rad]"""
    return math.pi / 2 - hour * math.pi / 6


def _turned(x: float, y: float, angle: float) -> tuple[float, float]:
    return polar(math.hypot(x, y), math.atan2(y, x) + angle)


def former(design: Design) -> Template:
    """The strip of the voice coil's former, with what will sit on it."""
    coil, name = design.voice_coil, say("Former")
    D_fi, t_f, l_f, h_w = (float(each) for each in (coil.D_fi, coil.t_f, coil.l_f, coil.h_w))
    length = math.pi * (D_fi + t_f)
    told = [float(bond.w_bond) for bond in design.bonds if bond.at == "neck" and bond.w_bond is not None]
    levels = [(h_w, say("front end of the winding"))]
    on_edge = float(design.diaphragm.d_in) < float(coil.D_f) - 1e-9  # it stands on the former's front edge
    if told and told[0] < l_f - h_w and not on_edge:
        levels.append((l_f - told[0], say("glue of the neck, up to the front edge")))
    if design.spider and 0 < float(design.spider.z_sp) < l_f - h_w:
        levels.append((l_f - float(design.spider.z_sp), say("spider")))
    if on_edge and l_f - levels[-1][0] > 6e-3:
        levels.append((l_f, say("glue of the diaphragm: on this edge only")))
    lines = [rectangle(length, l_f), *(mark((0, level), (length, level)) for level, _ in levels if level < l_f)]
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


def mandrel_wrap(design: Design) -> Iterator[Template]:
    """A strip with a main scale at its tail and a vernier on its head, that tells a mandrel's diameter to 0.05 mm."""
    D_fi, name = float(design.voice_coil.D_fi), say("Mandrel wrap")
    once = math.pi * (D_fi + T_PAPER)
    head = START + TENTHS * VERNIER + START / 2
    if head > 0.9 * once:
        return  # head and tail would lie on each other: too thin a mandrel for it
    ticks = [(D_fi + k * STEP, START + once + math.pi * k * STEP) for k in range(-BEFORE, BEYOND + 1)]
    long = ticks[-1][1] + GRIP
    lines = [path((0, 0), (long, 0), (long, HIGH), (head, HIGH), (head, HIGH / 2), (0, HIGH / 2))]
    words = []
    for k, (D, x) in enumerate(ticks, -BEFORE):
        tall = 3.5e-3 if k == 0 else 2.5e-3 if k % 2 == 0 else 1.6e-3
        lines.append(mark((x, HIGH / 2), (x, HIGH / 2 + tall)))
        if k % 4 == 0:
            words.append(Words(x, HIGH / 2 + 5.2e-3, mm("D_fi", D, 5), SMALL))
    for k in range(TENTHS + 1):
        x, tall = START + k * VERNIER, 2.6e-3 if k % 5 == 0 else 1.6e-3
        lines.append(mark((x, HIGH / 2), (x, HIGH / 2 - tall)))
    words.append(Words(START, HIGH / 2 - 4.4e-3, "0", SMALL))
    words.append(named(long / 2, -4e-3, name, FORMER))
    yield Template("mandrel-wrap", name, say("this paper"), FORMER, tuple(lines), tuple(words), _wrap_notes(D_fi, once))


def _wrap_notes(D_fi: float, once: float) -> tuple[Said, ...]:
    return (
        say(
            "Cut it out, wrap it tightly round the mandrel with its film on, its print outwards, the narrow end on "
            "top. Read as a caliper: where the 0 stands tells the diameter, {step} mm from mark to mark; the line of "
            "the narrow end that runs on in a mark adds {fine} mm for each line from the 0. Wanted: ⌀{D_fi} mm, the 0 "
            "on the longest mark.",
            step=mm("D_fi", STEP), fine=mm("D_fi", STEP / TENTHS), D_fi=mm("D_fi", D_fi, 5),
        ),
        say(
            "From the 0 to the longest mark it is {length} mm; that counts the paper's own thickness, {t_paper} mm.",
            length=mm("length", once, 5), t_paper=mm("t_paper", T_PAPER),
        ),
    )  # fmt: skip

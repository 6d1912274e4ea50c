"""What a driver is made of, cut along its axis: rectangles and outlines in r-z, in metres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot
from typing import TYPE_CHECKING, Literal

import numpy as np

from handwound.cone import level, neck
from handwound.materials import metals
from handwound.parts.coil import Coil, FieldCoil
from handwound.parts.design import Design
from handwound.parts.iron import Ring
from handwound.parts.moving import Diaphragm, Ribs, Spider, Surround
from handwound.parts.prediction import Prediction, Winding
from handwound.physics.shell.meridian import dome
from handwound.quantities import Num
from handwound.sheet.said import Said, counted, joined, mm, say
from handwound.suspension import spider_shell, surround_shell

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

RZ = tuple[float, float]
NAMES = (
    "spool", "spool's back cheek", "spool's front cheek", "field coil", "former", "voice coil", "diaphragm", "surround",
    "ribs", "cap", "spider",
)  # fmt: skip
"""Names of what is no ring: they are said in the language that is spoken."""
POLE = {"up": "north pole in front", "down": "north pole at the back", "out": "north pole outside",
        "in": "north pole inside"}  # fmt: skip
"""Where a magnet's north pole is: there its flux comes out."""
FINE, SPIDER = 24, "spider"
"""Pieces of what is round; the one skin that is behind the diaphragm."""
Kind = Literal["iron", "magnet", "metal", "spool", "field coil", "former", "voice coil", "card", "foam"]


@dataclass(frozen=True)
class Solid:
    """One part in section: a ring with this rectangle as its right half. ``words`` tell its sizes.

    Where its sides slope, ``outline`` is the right half as a polygon within the rectangle. ``way`` is that of a magnet.
    """

    name: str
    kind: Kind
    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    words: str = ""
    outline: tuple[RZ, ...] | None = None
    way: str = ""


@dataclass(frozen=True)
class Skin:
    """A thin part that is not a rectangle: the right half of its outline as a polygon; ``d_out`` is how wide it is
    said to be."""

    name: str
    kind: Kind
    outline: tuple[RZ, ...]
    d_out: float
    words: str = ""


@dataclass(frozen=True)
class Gap:
    """The air gap as radii from the inside out. No iron on a side: that one is None, and its word is empty.

    Where there is iron on both sides they are the pole and the plate; iron on one side only, a magnet and another
    metal go by their own names. ``inner`` and ``outer`` are what they are of.
    ``beside`` says in a sentence what the voice coil is centred about: the inner one, the outer where there is none.
    """

    r_pole: float | None
    r_former: float
    r_wire: float
    r_air: float
    r_plate: float | None
    z_plate: float
    pole: str
    plate: str
    beside: str
    inner: Kind = "iron"
    outer: Kind = "iron"


def iron(design: Design) -> list[Solid]:
    """The rings of the motor's body, each as it lies."""
    return [
        _solid(ring, ring.name, float(low), float(high))
        for ring, (low, high) in zip(design.iron.rings, design.iron.levels().values(), strict=True)
    ]


def _solid(ring: Ring, name: str, z_lo: float, z_hi: float, words: str = "") -> Solid:
    kind = _kind(ring)
    (r_in, r_out), (r_in_hi, r_out_hi) = ((float(d) / 2 for d in ring.across(share)) for share in (0.0, 1.0))
    sloped = (r_in, r_out) != (r_in_hi, r_out_hi)
    outline = ((r_in, z_lo), (r_out, z_lo), (r_out_hi, z_hi), (r_in_hi, z_hi)) if sloped else None
    r_in, r_out = min(r_in, r_in_hi), max(r_out, r_out_hi)
    return Solid(name, kind, r_in, r_out, z_lo, z_hi, words, outline, ring.magnetised)


def _kind(ring: Ring) -> Kind:
    return "magnet" if ring.magnetised else "metal" if ring.grade in metals.names() else "iron"


def piles(design: Design) -> list[Solid]:
    """The rings for their labels: equal rings that lie on each other, such as a pile of washers, are one."""
    found: list[list[Ring]] = []
    levels, plate = design.iron.levels(), set(design.iron.plate)
    for ring in design.iron.rings:
        last = found[-1][-1] if found else None
        alike = last and _alike(last, ring) and (ring.name in plate) == (last.name in plate)
        if last and alike and last.name in (ring.on, ring.under):
            found[-1].append(ring)
        else:
            found.append([ring])
    solids = []
    for pile in found:
        first, ends = pile[0], [float(z) for ring in pile for z in levels[ring.name]]
        name = first.name if len(pile) == 1 else say("{first} to {last}", first=first.name, last=pile[-1].name)
        solid = _solid(first, name, min(ends), max(ends))
        solids.append(replace(solid, words=_ring_words(first, solid, len(pile))))
    return solids


def _alike(one: Ring, other: Ring) -> bool:
    straight = one.across(1.0) == (one.d_in, one.d_out)
    same = [getattr(one, name) == getattr(other, name) for name in ("d_in", "d_out", "grade", "magnetised")]
    return all(same) and straight and other.across(1.0) == one.across(1.0)


def coils(design: Design, prediction: Prediction) -> list[Solid]:
    """Spool and field coil, where there are any, former and voice coil."""
    voice, spoken = design.voice_coil, prediction.voice_winding
    low, high = voice_levels(design)
    voice_words = say("{turns}, {h_w} high", turns=_turns(voice, spoken), h_w=mm("h_w", voice.h_w))
    former_words = say(
        "⌀{D_fi} inside, wall {t_f}, {l_f} long", D_fi=mm("D_fi", voice.D_fi), t_f=mm("t_f", voice.t_f),
        l_f=mm("l_f", voice.l_f),
    )  # fmt: skip
    r_in, r_former, r_voice = float(voice.D_fi) / 2, float(voice.D_f) / 2, float(spoken.D_w) / 2
    solids = [
        *_spool(design.field_coil, prediction.field_winding),
        Solid("former", "former", r_in, r_former, low, low + float(voice.l_f), former_words),
        Solid("voice coil", "voice coil", r_former, r_voice, low, high, voice_words),
    ]
    return [solid for solid in solids if solid.r_out > solid.r_in and solid.z_hi > solid.z_lo]


def _spool(field: FieldCoil | None, wound: Winding | None) -> list[Solid]:
    if field is None or wound is None:
        return []
    z_lo, z_hi = float(field.z_w), float(field.z_w + field.h_w)
    r_spool, r_wound = float(field.D_f) / 2 - float(field.t_f), float(wound.D_w) / 2
    words = say(
        "⌀{D_f} to ⌀{D_w}, {high} high, {turns}", D_f=mm("D_f", field.D_f), D_w=mm("D_w", wound.D_w),
        high=mm("h_w", field.h_w), turns=_turns(field, wound),
    )  # fmt: skip
    return [
        Solid("spool", "spool", r_spool, float(field.D_f) / 2, z_lo, z_hi, say("wall {t_f}", t_f=mm("t_f", field.t_f))),
        Solid("spool's back cheek", "spool", r_spool, r_wound, z_lo - float(field.t_fl), z_lo),
        Solid("spool's front cheek", "spool", r_spool, r_wound, z_hi, z_hi + float(field.t_fl)),
        Solid("field coil", "field coil", float(field.D_f) / 2, r_wound, z_lo, z_hi, words),
    ]


def voice_levels(design: Design) -> RZ:
    """Back and front end of the voice coil's winding at rest, whose back end is the back end of the former. [m]"""
    z_lo, z_hi = design.iron.plate_levels()
    middle = float(z_lo + z_hi) / 2 + float(design.voice_coil.x_0)
    half = float(design.voice_coil.h_w) / 2
    return middle - half, middle + half


def skins(design: Design) -> list[Skin]:
    """All that moves in front of the former or hangs on it, on the very lines that are followed as shells."""
    return [*_face(design), *([_spider(design)] if design.spider and _reach(design) else [])]


def _face(design: Design) -> Iterator[Skin]:
    """Diaphragm and surround, glued to the front end of the former; ribs and cap, where there are any."""
    part, ring, cap, r_neck = design.diaphragm, design.surround, design.cap, neck(design)
    z, r_in, r_rim, t = z_neck(design), float(part.d_in) / 2, float(part.d_out) / 2, float(part.sheet.t)
    r = np.linspace(r_in, r_rim, FINE if part.form == "dome" else 2)
    face = z + level(part, r_neck, r)
    sizes = {"d": mm("d_out", part.d_out), "h_c": mm("h_c", part.h_c), "sheet": part.sheet.name}
    words = say("⌀{d}, {sheet}", **sizes)
    if part.h_c:
        high, deep = say("⌀{d}, {h_c} high, {sheet}", **sizes), say("⌀{d}, {h_c} deep, {sheet}", **sizes)
        words = high if part.form == "dome" else deep
    yield Skin("diaphragm", "card", _thick(r, face + t / 2, t), 2 * r_rim, words)
    across = surround_shell(ring)
    t_s = float(ring.sheet.t)
    at = float(face[-1]) + t + t_s / 2 - float(across.z[0])
    yield Skin("surround", "foam", _thick(across.r, across.z + at, t_s), float(ring.d_out), _ring_of_sheet(ring))
    if part.ribs:
        yield _ribs(part, part.ribs, z, r_neck)
    if cap:
        r_cap = max(r_neck, min(float(cap.d_out) / 2, r_rim))
        h_c = float(cap.h_c) if cap.form == "dome" else 0.0
        at = z + float(level(part, r_neck, r_cap)) + t + float(cap.sheet.t) / 2
        sizes = {"d": mm("d_out", cap.d_out), "h_c": mm("h_c", cap.h_c), "sheet": cap.sheet.name}
        words = say("⌀{d}, {h_c} high, {sheet}", **sizes) if h_c else say("⌀{d}, {sheet}", **sizes)
        line = dome(r_cap, h_c, at, FINE if h_c else 1)
        yield Skin("cap", "card", _thick(*line, float(cap.sheet.t)), 2 * r_cap, words)


def z_neck(design: Design) -> float:
    """Level of the front end of the former, where the diaphragm stands on it. [m]"""
    return voice_levels(design)[0] + float(design.voice_coil.l_f)


def _ribs(part: Diaphragm, ribs: Ribs, z: float, r_neck: float) -> Skin:
    """One of the ribs from its side, in front of what it stands on."""
    r = np.linspace(float(ribs.d_in) / 2, float(ribs.d_out) / 2, FINE)
    foot = z + level(part, r_neck, r) + float(part.sheet.t)
    words = say(
        "{n_rib} of {sheet}, {h_rib} high, out to ⌀{d_out}", n_rib=counted("n_rib", ribs.n_rib), sheet=ribs.sheet.name,
        h_rib=mm("h_rib", ribs.h_rib), d_out=mm("d_out", ribs.d_out),
    )  # fmt: skip
    return Skin("ribs", "card", _closed(r, foot, r, foot + float(ribs.h_rib)), float(ribs.d_out), words)


def _spider(design: Design) -> Skin:
    """The spider behind the neck: its pleats, or where arms reach."""
    spider, z = design.spider, z_neck(design)
    assert spider is not None
    z -= float(spider.z_sp)
    t = float(spider.sheet.t) if spider.sheet else float(design.surround.sheet.t)
    r = np.array(_reach(design))
    line = r, np.full(2, z)
    wide = mm("d_out", 2 * r[-1])
    words = say("⌀{d}", d=wide)
    if spider.form == "pleats":
        shell = spider_shell(spider)
        line = shell.r, shell.z + z
        words = say(
            "free from ⌀{d_in} to ⌀{d_out}, {waves}", d_in=mm("d_in", 2 * shell.r[0]), d_out=wide, waves=wavy(spider)
        )
    elif spider.form == "arms":
        assert spider.l_arm is not None and spider.w_arm is not None
        words = say(
            "{n_arm} arms, {l_arm} long, {w_arm} wide", n_arm=counted("n_arm", spider.n_arm),
            l_arm=mm("l_arm", spider.l_arm), w_arm=mm("w_arm", spider.w_arm),
        )  # fmt: skip
    if spider.sheet:
        words = joined(", ", (words, spider.sheet.name))
    return Skin(SPIDER, "foam", _thick(*line, t), 2 * float(r[-1]), words)


def _reach(design: Design) -> RZ | tuple[()]:
    """From where to where the spider is drawn; nowhere where its size is not known. Arms lie along a tangent."""
    spider, r_f = design.spider, float(design.voice_coil.D_f) / 2
    if spider is None:
        return ()
    if spider.form == "arms" and spider.l_arm is not None:
        return r_f, hypot(r_f, float(spider.l_arm))
    return () if spider.d_out is None else (float(spider.d_in or 2 * r_f) / 2, float(spider.d_out) / 2)


def wavy(part: Surround | Spider) -> Said:
    """``"3 waves 4 mm deep"``; nothing for a flat ring."""
    if part.form == "roll":
        return say("half a roll {h_r} high", h_r=mm("h_r", part.h_r))
    if part.form != "pleats":
        return Said("")
    return say("{n_pleat} waves {h_r} deep", n_pleat=counted("n_pleat", part.n_pleat), h_r=mm("h_r", part.h_r))


def _ring_of_sheet(ring: Surround) -> Said:
    free = say("free from ⌀{d_in} to ⌀{d_out}", d_in=mm("d_in", ring.d_in), d_out=mm("d_out", ring.d_out))
    return joined(", ", (words for words in (free, wavy(ring), ring.sheet.name) if words))


def _thick(r: Array, z: Array, t: float) -> tuple[RZ, ...]:
    """A line with the thickness of its sheet, half of it on each side."""
    dr, dz = np.gradient(r), np.gradient(z)
    k = t / 2 / np.hypot(dr, dz)
    return _closed(np.maximum(r + k * dz, 0.0), z - k * dr, np.maximum(r - k * dz, 0.0), z + k * dr)


def _closed(r: Array, z: Array, r_back: Array, z_back: Array) -> tuple[RZ, ...]:
    """The polygon between two lines, the first of them to the end and the other back."""
    there = [*zip(r.tolist(), z.tolist(), strict=True)]
    return (*there, *reversed([*zip(r_back.tolist(), z_back.tolist(), strict=True)]))


def gap(design: Design, prediction: Prediction) -> Gap:
    """The air gap at the voice coil's plate."""
    z_lo, z_hi = (float(z) for z in design.iron.plate_levels())
    D_w = prediction.voice_winding.D_w
    D_f = float(design.voice_coil.D_f)
    inner, outer = nearest(design, D_f, z_lo, z_hi)
    inside, outside = design.iron.room(D_f, z_lo, z_hi)
    both = inner is not None and outer is not None
    inner_word, outer_word = _side(inner, say("pole"), both), _side(outer, say("plate"), both)
    return Gap(
        r_pole=None if inside is None else float(inside) / 2,
        r_former=float(design.voice_coil.D_fi) / 2,
        r_wire=float(design.voice_coil.D_f) / 2,
        r_air=float(D_w) / 2,
        r_plate=None if outside is None else float(outside) / 2,
        z_plate=(z_lo + z_hi) / 2,
        pole=inner_word,
        plate=outer_word,
        beside=say("the pole")
        if inner_word == say("pole") and both
        else inner_word or outer_word or design.iron.plate[0],
        inner=_kind(inner) if inner else "iron",
        outer=_kind(outer) if outer else "iron",
    )


def _side(ring: Ring | None, word: Said, both: bool) -> str:
    """What one side of the gap is called."""
    if ring is None:
        return ""
    return word if both and _kind(ring) == "iron" else ring.name


def nearest(design: Design, d: float, z_lo: float, z_hi: float) -> tuple[Ring | None, Ring | None]:
    """The nearest rings inside and outside a cylinder of diameter ``d`` between two levels, where there are any."""
    inside, outside = design.iron.room(d, z_lo, z_hi)
    there = [
        (ring, ring.reach(z_lo - float(low), z_hi - float(low)))
        for ring, (low, high) in zip(design.iron.rings, design.iron.levels().values(), strict=True)
        if high > z_lo and low < z_hi
    ]
    return (
        next((ring for ring, (_, d_out) in there if inside is not None and d_out == inside), None),
        next((ring for ring, (d_in, _) in there if outside is not None and d_in == outside), None),
    )


def front_face(design: Design) -> tuple[str, float]:
    """The ring on whose front a depth gauge can stand, and its level: the plate's, or of what covers the plate. [m]"""
    levels, rings = design.iron.levels(), {ring.name: ring for ring in design.iron.rings}
    face = max(design.iron.plate, key=lambda name: float(levels[name][1]))
    while over := [ring for ring in rings.values() if _covers(ring, rings[face], levels)]:
        face = max(over, key=lambda ring: float(levels[ring.name][1])).name
    return face, float(levels[face][1])


def _covers(ring: Ring, other: Ring, levels: dict[str, tuple[Num, Num]]) -> bool:
    in_front = float(levels[ring.name][0]) >= float(levels[other.name][1]) - 1e-6
    across = min(float(ring.d_out), float(other.d_out)) - max(float(ring.d_in), float(other.d_in))
    return in_front and ring.name != other.name and across > 1e-6


def _turns(coil: Coil, wound: Winding) -> Said:
    n_l, N_l = counted("n_l", coil.n_l), counted("N_l", wound.N_l)
    if coil.wire is None:
        return say("{n_l} × {N_l} turns", n_l=n_l, N_l=N_l)
    return say("{n_l} × {N_l} turns of {d_cu} wire", n_l=n_l, N_l=N_l, d_cu=mm("d_cu", coil.wire.d_cu))


def _ring_words(ring: Ring, solid: Solid, count: int) -> Said:
    """Its sizes, at the lower and the upper face where they differ, and what else a drawing cannot show."""
    high = mm("t", solid.z_hi - solid.z_lo)
    if ring.t_leg is not None:
        return say(
            "{n_legs} flat bars, {t_leg} thick, {high} high; drawn as a ring of equal area",
            n_legs=counted("n_legs", ring.n_legs), t_leg=mm("t_leg", ring.t_leg), high=high,
        )  # fmt: skip
    (d_in, d_out), (d_in_hi, d_out_hi) = ((float(d) for d in ring.across(share)) for share in (0.0, 1.0))
    words = [joined(" × ", (_across("d_out", d_out, d_out_hi), mm("t", ring.t)))]
    if d_in or d_in_hi:
        words.append(say("hole {d_in}", d_in=_across("d_in", d_in, d_in_hi)))
    if count > 1:
        words.append(say("{count} pieces, together {high}", count=counted("count", count), high=high))
    if solid.way:
        words.append(say("{grade} magnet, {pole}", grade=ring.grade, pole=say(POLE[ring.magnetised])))
    elif solid.kind != "iron":
        words.append(Said(ring.grade))
    return joined(", ", words)


def _across(name: str, low: float, high: float) -> Said:
    """One diameter, or that at the back and that in front."""
    if low == high:
        return say("⌀{d}", d=mm(name, low))
    return say("⌀{low} to ⌀{high}", low=mm(name, low), high=mm(name, high))

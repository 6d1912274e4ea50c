"""What a driver is made of, cut along its axis: rectangles and outlines in r-z, in metres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from handwound.parts.coil import Coil
from handwound.parts.design import Design
from handwound.parts.iron import Ring
from handwound.parts.prediction import Prediction
from handwound.quantities import Num, plain, shown

RZ = tuple[float, float]
Kind = Literal["iron", "spool", "field coil", "former", "voice coil", "card", "foam"]


@dataclass(frozen=True)
class Solid:
    """One part in section: a ring with this rectangle as its right half. ``words`` tell its sizes."""

    name: str
    kind: Kind
    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    words: str = ""


@dataclass(frozen=True)
class Skin:
    """A thin part that is not a rectangle: the right half of its outline as a polygon."""

    name: str
    kind: Kind
    outline: tuple[RZ, ...]
    words: str = ""


@dataclass(frozen=True)
class Gap:
    """The air gap as radii from the inside out. No iron on a side: that one is None, and its word is empty.

    Where there is iron on both sides they are the pole and the plate; iron on one side only goes by its own name.
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


def mm(name: str, value: Num, digits: int = 4) -> str:
    """A length of the drawing in millimetres, as a workshop writes it."""
    return plain(shown(name, float(value)), digits)


def iron(design: Design) -> list[Solid]:
    """The rings of iron, each as it lies."""
    solids = []
    for ring, (z_lo, z_hi) in zip(design.iron.rings, design.iron.levels().values(), strict=True):
        solids.append(Solid(ring.name, "iron", float(ring.d_in) / 2, float(ring.d_out) / 2, float(z_lo), float(z_hi)))
    return solids


def piles(design: Design) -> list[Solid]:
    """The rings for their labels: equal rings that lie on each other, such as a pile of washers, are one."""
    found: list[list[Ring]] = []
    levels, plate = design.iron.levels(), set(design.iron.plate)
    for ring in design.iron.rings:
        last = found[-1][-1] if found else None
        alike = last and (last.d_in, last.d_out, last.grade) == (ring.d_in, ring.d_out, ring.grade)
        if last and alike and ring.on == last.name and (ring.name in plate) == (last.name in plate):
            found[-1].append(ring)
        else:
            found.append([ring])
    solids = []
    for pile in found:
        first, z_lo, z_hi = pile[0], float(levels[pile[0].name][0]), float(levels[pile[-1].name][1])
        name = first.name if len(pile) == 1 else f"{first.name} to {pile[-1].name}"
        words = _ring_words(float(first.d_in), float(first.d_out), z_hi - z_lo, len(pile))
        solids.append(Solid(name, "iron", float(first.d_in) / 2, float(first.d_out) / 2, z_lo, z_hi, words))
    return solids


def coils(design: Design, prediction: Prediction) -> list[Solid]:
    """Spool, field coil, former and voice coil."""
    field, voice = design.field_coil, design.voice_coil
    wound, spoken = prediction.field_winding, prediction.voice_winding
    z_lo, z_hi = float(field.z_w), float(field.z_w + field.h_w)
    r_spool, r_wound = float(field.D_f) / 2 - float(field.t_f), float(wound.D_w) / 2
    low, high = voice_levels(design)
    D_w, D_m = mm("D_w", wound.D_w), mm("h_w", field.h_w)
    words = (
        f"⌀{mm('D_f', field.D_f)} to ⌀{D_w}, {D_m} high, {int(field.n_l)} × {int(wound.N_l)} turns of {_wire(field)}"
    )
    voice_words = f"{int(voice.n_l)} × {int(spoken.N_l)} turns of {_wire(voice)}, {mm('h_w', voice.h_w)} high"
    former_words = f"⌀{mm('D_fi', voice.D_fi)} inside, wall {mm('t_f', voice.t_f)}, {mm('l_f', voice.l_f)} long"
    r_in, r_former, r_voice = float(voice.D_fi) / 2, float(voice.D_f) / 2, float(spoken.D_w) / 2
    solids = [
        Solid("spool", "spool", r_spool, float(field.D_f) / 2, z_lo, z_hi, f"wall {mm('t_f', field.t_f)}"),
        Solid("spool's back cheek", "spool", r_spool, r_wound, z_lo - float(field.t_fl), z_lo),
        Solid("spool's front cheek", "spool", r_spool, r_wound, z_hi, z_hi + float(field.t_fl)),
        Solid("field coil", "field coil", float(field.D_f) / 2, r_wound, z_lo, z_hi, words),
        Solid("former", "former", r_in, r_former, low, low + float(voice.l_f), former_words),
        Solid("voice coil", "voice coil", r_former, r_voice, low, high, voice_words),
    ]
    return [solid for solid in solids if solid.r_out > solid.r_in and solid.z_hi > solid.z_lo]


def voice_levels(design: Design) -> RZ:
    """Back and front end of the voice coil's winding at rest, whose back end is the back end of the former. [m]"""
    z_lo, z_hi = design.iron.plate_levels()
    middle = float(z_lo + z_hi) / 2 + float(design.voice_coil.x_0)
    half = float(design.voice_coil.h_w) / 2
    return middle - half, middle + half


def skins(design: Design) -> list[Skin]:
    """Diaphragm and surround, glued to the front end of the former."""
    cone, ring = design.diaphragm, design.surround
    neck = voice_levels(design)[0] + float(design.voice_coil.l_f)
    rim, t = neck + float(cone.h_c), float(cone.sheet.t)
    r_in, r_out = float(cone.d_in) / 2, float(cone.d_out) / 2
    depth = f", {mm('h_c', cone.h_c)} deep" if cone.h_c else ""
    words = f"⌀{mm('d_out', cone.d_out)}{depth}, {cone.sheet.name}"
    ring_words = f"free from ⌀{mm('d_in', ring.d_in)} to ⌀{mm('d_out', ring.d_out)}, {ring.sheet.name}"
    return [
        Skin("diaphragm", "card", ((r_in, neck), (r_out, rim), (r_out, rim + t), (r_in, neck + t)), words),
        Skin(
            "surround",
            "foam",
            _plate(float(ring.d_in) / 2, float(ring.d_out) / 2, rim + t, float(ring.sheet.t)),
            ring_words,
        ),
    ]


def gap(design: Design, prediction: Prediction) -> Gap:
    """The air gap at the voice coil's plate."""
    z_lo, z_hi = (float(z) for z in design.iron.plate_levels())
    D_w = prediction.voice_winding.D_w
    inner, outer = nearest(design, float(design.voice_coil.D_f), z_lo, z_hi)
    both = inner is not None and outer is not None
    return Gap(
        r_pole=None if inner is None else float(inner.d_out) / 2,
        r_former=float(design.voice_coil.D_fi) / 2,
        r_wire=float(design.voice_coil.D_f) / 2,
        r_air=float(D_w) / 2,
        r_plate=None if outer is None else float(outer.d_in) / 2,
        z_plate=(z_lo + z_hi) / 2,
        pole="pole" if both else inner.name if inner else "",
        plate="plate" if both else outer.name if outer else "",
        beside="the pole" if both else (inner.name if inner else outer.name if outer else design.iron.plate[0]),
    )


def nearest(design: Design, d: float, z_lo: float, z_hi: float) -> tuple[Ring | None, Ring | None]:
    """The nearest rings inside and outside a cylinder of diameter ``d`` between two levels, where there are any."""
    inside, outside = design.iron.room(d, z_lo, z_hi)
    levels = design.iron.levels()
    there = [ring for ring in design.iron.rings if levels[ring.name][1] > z_lo and levels[ring.name][0] < z_hi]
    return (
        next((ring for ring in there if inside is not None and ring.d_out == inside), None),
        next((ring for ring in there if outside is not None and ring.d_in == outside), None),
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


def _plate(r_in: float, r_out: float, z: float, t: float) -> tuple[RZ, ...]:
    return ((r_in, z), (r_out, z), (r_out, z + t), (r_in, z + t))


def _wire(coil: Coil) -> str:
    return f"{mm('d_cu', coil.wire.d_cu)} wire" if coil.wire else "wire"


def _ring_words(d_in: float, d_out: float, t: float, count: int) -> str:
    pieces = f", {count} pieces" if count > 1 else ""
    hole = f", hole ⌀{mm('d_in', d_in)}" if d_in else ""
    return f"⌀{mm('d_out', d_out)} × {mm('t', t)}{hole}{pieces}"

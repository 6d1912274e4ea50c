"""What must lie on the bench before work begins: all tools, and all material with what is cut off and what is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from handwound.parts.design import Design, Stock
from handwound.parts.iron import Ring
from handwound.parts.moving import Bond
from handwound.parts.sheet import Sheet
from handwound.parts.steel import Metal, Piece
from handwound.physics.build_up import reverse_voltage
from handwound.sheet.build.iron import of_one_piece
from handwound.sheet.build.needs_small import Need, small, tools
from handwound.sheet.build.operation import Build, Operation
from handwound.sheet.said import Said, counted, joined, mm, say, show
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import box, points

SAW, FACING = 2e-3, 1e-3
"""Taken by a hacksaw's cut, and left on a sawn length to be faced: common practice, no source. [m]"""
ONE = 1e-4
"""Lengths this near are one. [m]"""


@dataclass(frozen=True)
class Needs:
    """Tools in the order of their first use, each once; material from the iron to the small things."""

    tools: tuple[str, ...]
    materials: tuple[Need, ...]


def needs(build: Build, every: Sequence[Operation], cut: Sequence[Template], stock: Stock | None = None) -> Needs:
    """All that the operations and the templates of a build ask for, against a shelf where there is one."""
    found = (
        *_rings(build.design, stock), *_reels(build), *_sheets(build.design, cut, stock), *_glues(build.design),
        *small(build), *_fed(build), *_bits(build.design),
    )  # fmt: skip
    return Needs(tools(build, every), found)


def _rings(design: Design, stock: Stock | None) -> Iterator[Need]:
    """Piece by piece: all rings that are made from one."""
    pieces = {piece.name: piece for piece in stock.pieces} if stock else {}
    made: dict[str, list[Ring]] = {}
    for ring in design.iron.rings:
        made.setdefault(ring.stock or ring.name, []).append(ring)
    for name, rings in made.items():
        piece, whole = pieces.get(name), [ring for ring in rings if not _is_part(ring, design)]
        what = joined("; ", (_becomes(ring) for ring in rings))
        if isinstance(piece, Metal) and any(ring.n_legs for ring in rings):
            yield _straps(name, what, rings, piece)
        elif isinstance(piece, Metal) and piece.form in ("bar", "pipe"):
            yield _sawn(name, what, whole, piece)
        else:
            yield _whole(name, what, whole, piece)


def _is_part(ring: Ring, design: Design) -> bool:
    """Whether it came with another ring, as a bolt's head does."""
    carrier = ring.under or ring.on
    return any(of_one_piece(ring, other) for other in design.iron.rings if other.name == carrier)


def _straps(name: str, what: Said, rings: list[Ring], piece: Metal) -> Need:
    """Legs of a yoke, cut from a flat bar."""
    lengths = [float(ring.t) for ring in rings for _ in range(ring.n_legs)]
    take = say(
        "cut {count} of {t} mm, {facing} mm longer each to be faced, {saw} mm for each cut of the saw",
        count=counted("count", len(lengths)), t=mm("t", lengths[0]), facing=mm("length", FACING),
        saw=mm("length", SAW),
    )  # fmt: skip
    if piece.length is None:
        return Need(name, what, take)
    return Need(name, what, take, _length(float(piece.length) * int(piece.count) - _used(lengths)))


def _used(lengths: list[float]) -> float:
    return sum(lengths) + len(lengths) * (SAW + FACING)


def _length(left: float) -> Said:
    if left < 0:
        return say("short by {length} mm", length=mm("length", -left))
    return say("{length} mm left", length=mm("length", left))


def _becomes(ring: Ring) -> Said:
    """One ring in words, finished."""
    if ring.t_leg is not None:
        return say(
            "{ring}: {n_legs} straps {t_leg} thick, {t} high (mm)", ring=ring.name,
            n_legs=counted("count", ring.n_legs), t_leg=mm("t_leg", ring.t_leg), t=mm("t", ring.t),
        )  # fmt: skip
    sizes = {"ring": ring.name, "d_out": mm("d_out", ring.d_out), "t": mm("t", ring.t)}
    if ring.d_in:
        return say("{ring}: ⌀{d_out} × {t}, bore ⌀{d_in} (mm)", **sizes, d_in=mm("d_in", ring.d_in))
    return say("{ring}: ⌀{d_out} × {t} (mm)", **sizes)


def _sawn(name: str, what: Said, rings: list[Ring], piece: Piece) -> Need:
    """Lengths from one bar or pipe; one that is as long as what it becomes needs no saw."""
    long = float(piece.t) * int(piece.count)
    if all(abs(float(ring.t) - float(piece.t)) < ONE for ring in rings):
        return Need(name, what, _pieces(len(rings)), _rest(int(piece.count) - len(rings)))
    cut = joined(", ", (say("{t} mm", t=mm("t", ring.t)) for ring in rings))
    take = say(
        "cut {cut} of {long} mm, {facing} mm longer each to be faced, {saw} mm for each cut of the saw", cut=cut,
        long=mm("length", long), facing=mm("length", FACING), saw=mm("length", SAW),
    )  # fmt: skip
    return Need(name, what, take, _length(long - _used([float(ring.t) for ring in rings])))


def _whole(name: str, what: Said, rings: list[Ring], piece: Piece | None) -> Need:
    """Plates, washers, magnets: taken whole, bored or turned where they must be."""
    if piece is None:
        return Need(name, what, _pieces(len(rings)))
    narrower = [ring for ring in rings if float(ring.d_out) < float(piece.d_out) - ONE]
    wider = [ring for ring in rings if float(ring.d_in) > float(piece.d_in) + ONE]
    work = [_pieces(len(rings))]
    work += [say("bore {ring} to ⌀{d_in} mm", ring=ring.name, d_in=mm("d_in", ring.d_in)) for ring in wider]
    work += [say("turn {ring} to ⌀{d_out} mm", ring=ring.name, d_out=mm("d_out", ring.d_out)) for ring in narrower]
    left = _rest(int(piece.count) - len(rings))
    return Need(name, what, joined(", ", work), left)


def _rest(count: int) -> Said:
    if count < 0:
        return say("short by {count}", count=counted("count", -count))
    return say("{count} left", count=counted("count", count)) if count else say("none left")


def _pieces(count: int) -> Said:
    return say("1 piece") if count == 1 else say("{count} pieces", count=counted("count", count))


def _reels(build: Build) -> Iterator[Need]:
    coils = {"field_coil": say("field coil"), "voice_coil": say("voice coil")}
    wound: dict[str, list[Said]] = {}
    for key, coil in build.design.coils.items():
        if coil.wire:
            wound.setdefault(coil.wire.name, []).append(coils[key])
    for reel in build.prediction.reels:
        left: str = ""
        if reel.l_reel is not None and reel.l_reel < 0:
            left = say("short by {l_w}", l_w=show("l_w", -reel.l_reel))
        elif reel.l_reel is not None:
            left = say("{l_w} left", l_w=show("l_w", reel.l_reel))
        yield Need(reel.name, joined(", ", wound.get(reel.name, [])), show("l_w", reel.l_w), left)


def _sheets(design: Design, cut: Sequence[Template], stock: Stock | None) -> Iterator[Need]:
    """Each sheet with the blanks cut from it, as their templates have them."""
    blanks: dict[str, list[Said]] = {}
    for each in cut:
        left, low, right, top = box(point for line in each.lines for point in points(line))
        wide, high = right - left, top - low
        size = {"part": each.name, "width": mm("width", wide, 3), "length": mm("length", high, 3)}
        blank = (
            say("{part} {width} × {length}", **size)
            if each.count == 1
            else say("{part} {count} of {width} × {length}", **size, count=counted("count", each.count))
        )
        blanks.setdefault(each.of, []).append(blank)
    on_shelf = {sheet.name: sheet for sheet in stock.sheets} if stock else {}
    for sheet in _of_sheet(design):
        take = joined(", ", blanks.get(sheet.name, []))
        words = say("blanks in mm: {blanks}", blanks=take) if take else say("as the strips say")
        yield Need(
            sheet.name, say("{t} thick", t=show("t", float(sheet.t))), words, _shelf(on_shelf.get(sheet.name, sheet))
        )


def _shelf(sheet: Sheet) -> Said | str:
    """What lies there to cut from."""
    if sheet.width is None or sheet.length is None:
        return ""
    return say(
        "of {count}, {width} × {length} mm", count=_pieces(int(sheet.count)), width=mm("width", sheet.width),
        length=mm("length", sheet.length),
    )  # fmt: skip


def _of_sheet(design: Design) -> Iterable[Sheet]:
    parts = (
        design.voice_coil.former, design.diaphragm.sheet, design.diaphragm.ribs and design.diaphragm.ribs.sheet,
        design.cap and design.cap.sheet, design.surround.sheet, design.spider and design.spider.sheet,
    )  # fmt: skip
    return {sheet.name: sheet for sheet in parts if sheet}.values()


def _glues(design: Design) -> Iterator[Need]:
    places = {
        "neck": say("neck"), "rim": say("rim"), "cap": say("cap"), "seam": say("seam"), "spider": say("spider"),
        "coil": say("winding"),
    }  # fmt: skip
    lines: dict[str, list[Bond]] = {}
    glues = {glue.name: glue for glue in (*(bond.glue for bond in design.bonds), design.glue) if glue}
    for bond in design.bonds:
        lines.setdefault(bond.glue.name, []).append(bond)
    for name, glue in glues.items():
        at = joined(", ", dict.fromkeys(places[bond.at] for bond in lines.get(name, [])))
        yield Need(name, say(glue.kind), at or say("all other joints"))


def _fed(build: Build) -> Iterator[Need]:
    """What feeds it, and what keeps it safe."""
    there, brief = build.fed, build.brief
    if there:
        supply = there.supply
        take = say(
            "up to {V_max}, {I_max}", V_max=show("V_max", float(supply.V_max)), I_max=show("I_max", float(supply.I_max))
        )
        yield Need(supply.name, say("supply of the field coil"), take)
        bears = say(
            "{I_diode} and {V_reverse} or more", I_diode=show("I_diode", float(there.cold.I_f), 2),
            V_reverse=show("V_reverse", float(reverse_voltage(supply.V_max)), 2),
        )  # fmt: skip
        yield Need(say("diode"), say("across the field coil, its ring to plus"), bears)
    yield Need(brief.amplifier.name, say("amplifier"), show("P_max", float(brief.amplifier.P_max)))
    yield Need(say("resistor"), say("in series for the first sound"), say("4 Ω 5 W"))
    if float(brief.R_series):
        yield Need(say("resistor"), say("in series for good"), show("R_series", float(brief.R_series)))


def _bits(design: Design) -> Iterator[Need]:
    for bit in design.bits:
        yield Need(bit.name, say("moves with the cone"), show("m", float(bit.m)))

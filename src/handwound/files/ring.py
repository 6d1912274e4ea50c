"""One ring of the iron: cut from a piece of steel or metal, a magnet as it was bought, or the legs of a yoke."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import hypot, pi, sqrt
from typing import Annotated, Any

from pydantic import Field, PlainValidator

from handwound.files.heat import surface_of
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word, one_of
from handwound.files.steel import OF_METAL, OF_STEEL, known_grade
from handwound.files.tables import find, spreads_apart
from handwound.files.toml import Document
from handwound.materials import metals, steels
from handwound.materials.joints import joints
from handwound.parts.heat import Surface
from handwound.parts.iron import Ring
from handwound.parts.steel import Magnet, Metal, Piece, Steel
from handwound.quantities import Measured, MisreadError, as_typed, read, show

NUMBERS = ("d_in", "d_out", "t")
SLOPED = ("d_in_hi", "d_out_hi")
WAYS = {"axial": ("up", "down"), "radial": ("out", "in")}
"""The ways in which a magnet can be put in."""
SAW = 1e-6
"""Two lengths this near are the same length. [m]"""
NONE = Measured(0.0, 0.0)
Sizes = dict[str, Measured]


def _joint(value: object) -> Measured | str:
    """``"clean"``, a word of the table of joints, or an air gap with its unit."""
    if isinstance(value, str) and value.replace(" ", "").isalpha():
        return value
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise MisreadError("a word for the joint, or its air with a unit", as_typed(value), "")
    return read("joint", value)


def _yes_or_no(value: object) -> bool:
    if not isinstance(value, bool):
        raise MisreadError("true or false, without quotes", as_typed(value), "")
    return value


Joint = Annotated[Measured | str | None, PlainValidator(_joint)]


class RingRow(Row):
    """``[[iron.ring]]``"""

    name: Word
    stock: Word = Field(alias="from")
    d_in: Number | None = None
    d_out: Number | None = None
    t: Number | None = None
    d_in_hi: Number | None = None
    d_out_hi: Number | None = None
    grade: Word | None = None
    on: Word | None = None
    under: Word | None = None
    joint: Joint = None
    z: Number | None = None
    head: Annotated[bool, PlainValidator(_yes_or_no)] = False
    magnetised: Annotated[str, one_of("up", "down", "out", "in")] = ""
    count: Whole = 1
    n_legs: Whole = 0
    surface: Word | None = None


def read_ring(
    document: Document, key: Key, each: RingRow, pieces: Mapping[str, Piece] | None, usual: Measured | str,
    plain: Surface | None, earlier: Mapping[str, Ring],
) -> Ring | None:  # fmt: skip
    """The ring that a row makes; None where something in it is at fault.

    ``usual`` is the joint where none is told, and ``plain`` the surface; where that is not told either, the piece's.
    """
    must = "the name of a [[steel]], [[magnet]] or [[metal]] in stock.toml"
    piece = find(document, (*key, "from"), each.stock, pieces, must)
    joint = _joint_of(document, key, each, usual)
    surface = surface_of(document, (*key, "surface"), each.surface) or plain
    if piece is None or joint is None:
        return None
    if isinstance(piece, Magnet):
        sizes, special = _magnet(document, key, each, piece)
    else:
        assert isinstance(piece, Metal)
        sizes, special = _cut(document, key, each, piece, earlier)
    if sizes is None:
        return None
    numbers = sizes | {"joint": joint, "z": each.z or NONE}
    values: dict[str, Any] = {name: number.value for name, number in numbers.items()}
    return Ring(
        name=each.name,
        grade=each.grade or piece.grade,
        on=each.on,
        under=each.under,
        stock=each.stock,
        surface=surface or piece.surface,
        spread=tuple((name, number.spread) for name, number in numbers.items() if number.spread),
        **special,
        **values,
    )


def _magnet(document: Document, key: Key, each: RingRow, piece: Magnet) -> tuple[Sizes | None, dict[str, Any]]:
    """A magnet is put in as it is."""
    no_cut = "A magnet is not cut or drilled: it shatters, and its dust can burn."
    why = {"grade": "It is told in stock.toml.", "head": "", "n_legs": ""}
    for name in (*NUMBERS, *SLOPED, *why):
        if getattr(each, name):
            found = f'{name} of "{each.stock}"'
            document.fault((*key, name), "left out for a magnet", found, why.get(name, no_cut))
    ways = WAYS[piece.magnetised]
    if each.magnetised and each.magnetised not in ways:
        must = f'"{ways[0]}" or "{ways[1]}" for a magnet that is {piece.magnetised}'
        document.fault((*key, "magnetised"), must, f'"{each.magnetised}"')
    half = dict(piece.spread)
    sizes = {name: Measured(getattr(piece, name), half.get(name, 0.0)) for name in (*NUMBERS, "B_rem")}
    return sizes, {"magnetised": each.magnetised or ways[0]}


def _cut(
    document: Document, key: Key, each: RingRow, whole: Metal, earlier: Mapping[str, Ring]
) -> tuple[Sizes | None, dict[str, Any]]:
    """A ring, a bolt's head or the legs of a yoke from a piece of metal."""
    if each.grade:
        of = (steels.names(), OF_STEEL) if isinstance(whole, Steel) else (metals.names(), OF_METAL)
        known_grade(document, (*key, "grade"), each.grade, *of)
    if each.magnetised:
        document.fault((*key, "magnetised"), "left out where the piece is no magnet", f'"{whole.name}"')
    if each.n_legs:
        return _legs(document, key, each, whole, earlier), {"n_legs": each.n_legs, "t_leg": whole.t}
    piece = _head_of(document, key, whole) if each.head else whole
    if piece is None:
        return None, {}
    half = dict(piece.spread)
    sizes = {name: getattr(each, name) or Measured(getattr(piece, name), half.get(name, 0.0)) for name in NUMBERS}
    sizes |= {name: size for name in SLOPED if (size := getattr(each, name)) is not None}
    _cuttable(document, key, each, piece, sizes)
    return sizes, {}


def _head_of(document: Document, key: Key, bolt: Metal) -> Metal | None:
    """The head of a bolt as a piece of its own; it is one with the shank, so the joint between them is 0 mm."""
    if bolt.head is None:
        document.fault((*key, "head"), "left out where the piece is no bolt", f'"{bolt.name}", a {bolt.form}')
        return None
    d_out, t = bolt.head
    return replace(bolt, d_in=0.0, d_out=d_out, t=t, spread=())


def _legs(document: Document, key: Key, each: RingRow, bar: Metal, earlier: Mapping[str, Ring]) -> Sizes | None:
    """Flat bars round the rim of what they stand on, as the ring of equal area: n w t = π (d_out² - d_in²) / 4."""
    if bar.width is None or bar.length is None:
        document.fault((*key, "n_legs"), "left out where the piece is no flat bar", f'"{bar.name}", a {bar.form}')
        return None
    for name in ("d_in", *SLOPED, "head"):
        if getattr(each, name):
            document.fault((*key, name), "left out for legs, whose cross-section is known", name)
    carrier = earlier.get(each.on or each.under or "")
    if each.d_out is None and carrier is None:
        document.fault((*key, "d_out"), "given, or taken from the ring that the legs stand on", "neither")
        return None
    d_out = each.d_out.value if each.d_out else float(carrier.d_out) if carrier else 0.0
    width, t_leg, n, half = float(bar.width), float(bar.t), each.n_legs, dict(bar.spread)
    if n * width > pi * (d_out - 2 * t_leg):
        found = f"{n} of {show('width', width)} round {show('d_out', d_out)}"
        document.fault((*key, "n_legs"), "so few that the legs stand beside each other", found)
        return None
    d_in = sqrt(d_out**2 - 4 * n * width * t_leg / pi)
    # what is uncertain of the legs is how much iron they hold; the rim only says where they stand
    doubt = 2 * n / (pi * d_in) * hypot(width * half.get("t", 0.0), t_leg * half.get("width", 0.0))
    t = each.t or Measured(float(bar.length), half.get("length", 0.0))
    if t.value > float(bar.length) + SAW:
        found = f"{show('t', t.value)} from {each.stock}, which cannot grow"
        document.fault((*key, "t"), f"at most {show('t', float(bar.length))}", found)
    return {"d_in": Measured(d_in, doubt), "d_out": Measured(d_out, 0.0), "t": t}


def _cuttable(document: Document, key: Key, each: RingRow, piece: Metal, sizes: Sizes) -> None:
    """A ring can be bored, turned and sawn from its piece, never grown."""
    half = dict(piece.spread)
    of = f"{each.stock}, which cannot grow"
    for name, size in sizes.items():
        room = name.removesuffix("_hi")
        limit, slack = getattr(piece, room), half.get(room, 0.0) + SAW
        if room == "d_in" and size.value < limit - slack:
            document.fault((*key, name), f"at least {show(name, limit)}", f"{show(name, size.value)} from {of}")
        if room != "d_in" and size.value > limit + slack:
            document.fault((*key, name), f"at most {show(name, limit)}", f"{show(name, size.value)} from {of}")
    inner, outer = (name if name in sizes else name.removesuffix("_hi") for name in SLOPED)
    for low, high in (("d_in", "d_out"), (inner, outer)):
        _apart(document, key, low, sizes[low], high, sizes[high])


def _apart(document: Document, key: Key, inner: str, less: Measured, outer: str, more: Measured) -> None:
    """The hole is smaller than the outside, at either face."""
    if less.value >= more.value:
        found = f"{show(inner, less.value)} in a ring of {show(outer, more.value)}"
        document.fault((*key, inner), f"less than {outer}", found)
    spreads_apart(document, key, inner, less, outer, more)


def _joint_of(document: Document, key: Key, each: RingRow, usual: Measured | str) -> Measured | None:
    """The air between a ring and what carries it: measured, from the table of joints, or the usual one."""
    carriers = [name for name in ("on", "under") if getattr(each, name)]
    if len(carriers) > 1:
        document.fault((*key, "under"), "left out where the ring stands on another", f"on and under for {each.name}")
    if carriers and each.z is not None:
        where = "stands on another" if carriers[0] == "on" else "hangs under another"
        document.fault((*key, "z"), f"left out where the ring {where}", f"{carriers[0]} and z for {each.name}")
    if not carriers:
        if each.joint is not None:
            document.fault((*key, "joint"), 'given with on = "the ring below"', "a joint without it")
        return NONE
    word = usual if each.joint is None else each.joint
    if isinstance(word, Measured):
        return word
    return joint_of(document, (*key, "joint"), word)


def joint_of(document: Document, key: Key, word: str) -> Measured | None:
    """What air is left in a joint of the table."""
    return find(document, key, word, joints(), "an air gap with its unit, or a joint of the table", "Joints")

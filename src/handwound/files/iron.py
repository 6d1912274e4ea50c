"""The iron of design.toml: rings cut from the stock, each on another with a joint, or at a level of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from pydantic import Field, PlainValidator

from handwound.files.lines import Path as Key
from handwound.files.row import Names, Number, Row, Word
from handwound.files.steel import known_grade
from handwound.files.tables import find, once, places, row, rows, shelf, spreads_apart
from handwound.files.toml import Document, meant
from handwound.materials.tables import table
from handwound.parts.design import Stock
from handwound.parts.iron import Iron, Ring
from handwound.parts.steel import Steel
from handwound.quantities import Measured, MisreadError, as_typed, read, show

NUMBERS = ("d_in", "d_out", "t")
CUT_TO_LENGTH = ("bar", "pipe")
"""Forms of which several rings come from one piece, one behind the other."""
SAW = 1e-6
"""Two lengths this near are the same length. [m]"""


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


class IronRow(Row):
    """``[iron]`` without its rings."""

    name: Word
    plate: Names


class RingRow(Row):
    """``[[iron.ring]]``"""

    name: Word
    stock: Word = Field(alias="from")
    d_in: Number | None = None
    d_out: Number | None = None
    t: Number | None = None
    grade: Word | None = None
    on: Word | None = None
    joint: Annotated[Measured | str | None, PlainValidator(_joint)] = None
    z: Number | None = None
    head: Annotated[bool, PlainValidator(_yes_or_no)] = False


Placed = tuple[Key, RingRow]


def read_iron(document: Document, stock: Stock | None) -> Iron | None:
    """The stack; None where something in it is at fault, or the stock could not be read."""
    key: Key = ("iron",)
    placed = rows(document, (*key, "ring"), RingRow)
    whole = len(placed) == len(places(document, (*key, "ring")))
    head = row(document, key, IronRow, beside=["ring"])
    once(document, (*key, "ring"))
    if head and not placed and whole:
        document.fault((*key, "ring"), "a list of rings, each under its own [[iron.ring]]", "none")
    on_shelf = shelf(stock.steels if stock else None)
    rings = [_ring(document, place, each, on_shelf) for place, each in placed]
    _enough(document, placed, on_shelf or {})
    if whole:
        _order(document, placed)
        if head and placed:
            _plate(document, (*key, "plate"), head.plate, [each.name for _, each in placed])
    sound = tuple(ring for ring in rings if ring)
    return Iron(name=head.name, plate=head.plate, rings=sound) if head and stock and document.sound else None


def _plate(document: Document, key: Key, plate: tuple[str, ...], names: list[str]) -> None:
    """The ring at the voice coil, or the rings of which it is a stack."""
    listed = isinstance(document.data["iron"]["plate"], list)
    for n, name in enumerate(plate):
        here: Key = (*key, n) if listed else key
        if name not in names:
            must = f"the name of {'a' if listed else 'the'} ring at the voice coil"
            document.fault(here, must, f'"{name}"', meant(name, names, "The rings"))
        elif name in plate[:n]:
            document.fault(here, "a ring that is not named before", f'"{name}" a second time')


def _ring(document: Document, key: Key, each: RingRow, on_shelf: Mapping[str, Steel] | None) -> Ring | None:
    piece = find(document, (*key, "from"), each.stock, on_shelf, "the name of a [[steel]] in stock.toml")
    if each.grade:
        known_grade(document, (*key, "grade"), each.grade)
    joint = _joint_of(document, key, each)
    if piece is not None and each.head:
        piece = _head_of(document, key, piece)
    if piece is None or joint is None:
        return None
    spread = dict(piece.spread)
    numbers = {name: getattr(each, name) or Measured(getattr(piece, name), spread.get(name, 0.0)) for name in NUMBERS}
    _cuttable(document, key, each, piece, numbers)
    numbers |= {"joint": joint, "z": each.z or Measured(0.0, 0.0)}
    sizes: dict[str, Any] = {name: number.value for name, number in numbers.items()}
    return Ring(
        name=each.name,
        grade=each.grade or piece.grade,
        on=each.on,
        stock=each.stock,
        spread=tuple((name, number.spread) for name, number in numbers.items() if number.spread),
        **sizes,
    )


def _head_of(document: Document, key: Key, bolt: Steel) -> Steel | None:
    """The head of a bolt as a piece of its own; it is one with the shank, so the joint between them is 0 mm."""
    if bolt.head is None:
        document.fault((*key, "head"), "left out where the piece is no bolt", f'"{bolt.name}", a {bolt.form}')
        return None
    d_out, t = bolt.head
    return replace(bolt, d_in=0.0, d_out=d_out, t=t, spread=())


def _joint_of(document: Document, key: Key, each: RingRow) -> Measured | None:
    """The air under a ring: measured, from the table of joints, or a clean joint where nothing is said."""
    if each.on and each.z is not None:
        document.fault((*key, "z"), "left out where the ring stands on another", f"on and z for {each.name}")
    if not each.on:
        if each.joint is not None:
            document.fault((*key, "joint"), 'given with on = "the ring below"', "a joint without it")
        return Measured(0.0, 0.0)
    word = "clean" if each.joint is None else each.joint
    if isinstance(word, Measured):
        return word
    what = "an air gap with its unit, or a joint of the table"
    return find(document, (*key, "joint"), word, joints(), what, "Joints")


def joints() -> dict[str, Measured]:
    """The table of joints: what air is left in each kind."""
    found = {}
    for line in table("joints"):
        joint, spread = line["joint"], line["joint_spread"]
        assert isinstance(joint, float) and isinstance(spread, float)
        found[str(line["kind"])] = Measured(joint, spread)
    return found


def _cuttable(document: Document, key: Key, each: RingRow, piece: Steel, numbers: Mapping[str, Measured]) -> None:
    """A ring can be bored, turned and sawn from its piece, never grown."""
    half = dict(piece.spread)
    d_in, d_out, t = (numbers[name].value for name in NUMBERS)
    room = {name: getattr(piece, name) for name in NUMBERS}
    of = f"{each.stock}, which cannot grow"
    if d_in < room["d_in"] - half.get("d_in", 0.0) - SAW:
        document.fault((*key, "d_in"), f"at least {show('d_in', room['d_in'])}", f"{show('d_in', d_in)} from {of}")
    for name, size in (("d_out", d_out), ("t", t)):
        if size > room[name] + half.get(name, 0.0) + SAW:
            document.fault((*key, name), f"at most {show(name, room[name])}", f"{show(name, size)} from {of}")
    if d_in >= d_out:
        found = f"{show('d_in', d_in)} in a ring of {show('d_out', d_out)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", numbers["d_in"], "d_out", numbers["d_out"])


def _enough(document: Document, placed: list[Placed], on_shelf: Mapping[str, Steel]) -> None:
    """As many pieces on the shelf as rings are cut from them; one bar or pipe gives rings until its length is gone."""
    for name, piece in on_shelf.items():
        for heads in (False, True):
            cut = [(key, each) for key, each in placed if each.stock == name and each.head is heads]
            if piece.form in CUT_TO_LENGTH:
                _long_enough(document, cut, piece)
            elif len(cut) > piece.count:
                found = f"{len(cut)} rings from it in the design, {piece.count} in stock.toml"
                document.fault((*cut[piece.count][0], "from"), f'a piece that is still there ("{name}")', found)


def _long_enough(document: Document, cut: list[Placed], piece: Steel) -> None:
    lengths: list[float] = []
    for key, each in cut:
        lengths.append(each.t.value if each.t else float(piece.t))
        if not _sawn(sorted(lengths, reverse=True), [float(piece.t)] * piece.count):
            have = " + ".join([show("length", float(piece.t))] * piece.count) or "none"
            found = f"{' + '.join(show('length', each) for each in lengths)} in the design, {have} in stock.toml"
            document.fault((*key, "from"), f'a piece that is long enough ("{piece.name}")', found)
            return


def _sawn(lengths: list[float], rooms: list[float]) -> bool:
    """Whether these lengths, the longest first, can be sawn from bars with this room left; the saw takes nothing."""
    if not lengths:
        return True
    for room in sorted(set(rooms)):
        if lengths[0] <= room + SAW:
            rest = list(rooms)
            rest.remove(room)
            if _sawn(lengths[1:], [*rest, room - lengths[0]]):
                return True
    return False


def _order(document: Document, placed: list[Placed]) -> None:
    """Each ring on an earlier one, so that the stack can be built up in the order of the file."""
    names = [each.name for _, each in placed]
    for n, (key, each) in enumerate(placed):
        if each.on is None or each.on in names[:n]:
            continue
        must = "the name of a ring further up in the file"
        if each.on in names:
            found = f'"{each.on}", which {"comes later" if each.on != each.name else "is this ring itself"}'
            document.fault((*key, "on"), must, found, "Put the lower ring first.")
        else:
            document.fault((*key, "on"), must, f'"{each.on}"', meant(each.on, names[:n], "Further up"))

"""The iron of design.toml: rings from the stock, each on or under another with a joint, or at a level of its own.

They are written one by one, or in the short way: an arrangement by its name, a piece for each of its rings.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from handwound.files.arrangements import chosen, expanded, known_arrangement
from handwound.files.heat import surface_of
from handwound.files.lines import Path as Key
from handwound.files.ring import SAW, Joint, RingRow, joint_of, read_ring
from handwound.files.row import Names, Row, Word
from handwound.files.tables import once, places, row, rows, second, shelf, sound
from handwound.files.toml import Document, meant
from handwound.parts.design import Stock
from handwound.parts.iron import Iron, Ring
from handwound.parts.steel import Magnet, Metal, Piece, Steel
from handwound.quantities import Measured, show

CUT_TO_LENGTH = ("bar", "pipe", "flat bar")
"""Forms of which several rings come from one piece, one behind the other."""
PILE = 50
"""So many alike may lie on each other."""
WAYS_TRIED = 10_000
"""So many ways to saw the rings from their bars are tried: less than a second."""
Placed = tuple[Key, RingRow]


class IronRow(Row):
    """``[iron]`` without its rings."""

    name: Word
    plate: Names | None = None
    arrangement: Word | None = None
    joint: Joint = None
    surface: Word | None = None


def read_iron(document: Document, stock: Stock | None) -> Iron | None:
    """The stack; None where something in it is at fault, or the stock could not be read."""
    key: Key = ("iron",)
    written, whole = _written(document)
    head = _head(document, key)
    once(document, (*key, "ring"))
    if head and not written and whole and not head.arrangement:
        document.fault((*key, "ring"), "a list of rings, each under its own [[iron.ring]]", "none")
    placed = list(_piled(document, written))
    pieces, usual = shelf(stock.pieces if stock else None), (head.joint if head else None) or "clean"
    if isinstance(usual, str):
        usual = joint_of(document, (*key, "joint"), usual) or "clean"
    plain = surface_of(document, (*key, "surface"), head.surface if head else None)
    rings: dict[str, Ring] = {}
    for place, each in placed:
        right = _right_piece(document, place, each, pieces)
        ring = read_ring(document, place, each, pieces, usual, plain, rings) if right else None
        rings |= {each.name: ring} if ring else {}
    _enough(document, placed, pieces or {})
    plate = _plate(document, head, written) if head else ()
    if whole:
        _order(document, placed)
    if not (head and stock and document.sound):
        return None
    return Iron(name=head.name, plate=plate, rings=tuple(rings.values()), arrangement=head.arrangement or "")


def place_of(document: Document, key: Key) -> Key:
    """Where a sound file writes what is wrong with ring n of the iron: rings of a pile have one place."""
    if key[:2] != ("iron", "ring") or len(key) < 3:
        return key
    placed = list(_piled(document, _written(document)[0]))
    assert isinstance(key[2], int)
    return (*placed[key[2]][0], *key[3:])


def _head(document: Document, key: Key) -> IronRow | None:
    arrangement = chosen(document)
    table = document.data.get("iron")
    named = isinstance(table, dict) and "arrangement" in table
    # of an arrangement that is not known nobody can say which rings it has
    own = IronRow.model_fields.keys()
    roles = arrangement.roles if arrangement else [each for each in table or {} if each not in own] if named else []
    head = row(document, key, IronRow, beside=["ring", *roles])
    if head and head.arrangement:
        known_arrangement(document, head.arrangement)
    return head


def _written(document: Document) -> tuple[list[Placed], bool]:
    """Every sound ring as it is written, those of the arrangement first, and whether that is all of them."""
    made = expanded(document)
    of_roles = [
        (key, each) for role, keys in made.items() if (each := sound(document, (key := ("iron", role)), keys, RingRow))
    ]
    free = rows(document, ("iron", "ring"), RingRow)
    written: list[Placed] = [*of_roles, *free]
    arrangement = chosen(document)
    lacking = arrangement and arrangement.rings.keys() - made.keys()
    whole = not lacking and len(of_roles) == len(made) and len(free) == len(places(document, ("iron", "ring")))
    return written, whole


def _names(each: RingRow) -> list[str]:
    """The names of the rings of a pile: the first as it stands, or all numbered."""
    return [each.name] if each.count <= 1 else [f"{each.name} {k + 1}" for k in range(min(each.count, PILE))]


def _piled(document: Document, written: list[Placed]) -> Iterator[Placed]:
    """Every ring on its own: of ``count`` alike each stands on the one before, and so does what stands on the pile."""
    top: dict[str, str] = {}
    foot: dict[str, str] = {}
    seen: dict[str, int] = {}
    for key, each in written:
        if not 1 <= each.count <= PILE:
            document.fault((*key, "count"), f"between 1 and {PILE}", str(each.count))
        names = _names(each)
        on, under = top.get(each.on or "", each.on), foot.get(each.under or "", each.under)
        # the joint of a pile that nothing carries is the one between its pieces
        of_first = {"joint": None} if len(names) > 1 and not (on or under) else {}
        for n, name in enumerate(names):
            if name in seen:
                second(document, (*key, "name"), name, seen[name])
            seen[name] = document.line((*key, "name"))
            own = {"z": None} if n else of_first
            yield key, each.model_copy(update={"name": name, "on": on, "under": under, **own})
            on, under = (None, name) if under else (name, None)
        first, last = names[0], names[-1]
        top[each.name], foot[each.name] = (first, last) if each.under else (last, first)


def _plate(document: Document, head: IronRow, written: list[Placed]) -> tuple[str, ...]:
    """The ring at the voice coil, or the rings of which it is a stack; of an arrangement it is known."""
    arrangement = chosen(document)
    if head.plate is None:
        if head.arrangement is None:
            must = "the name of the ring at the voice coil"
            document.fault(("iron", "plate"), must, "nothing", "Or give the arrangement.")
        told: tuple[str, ...] = (arrangement.plate,) if arrangement else ()
    else:
        told = head.plate
        _known(document, told, [each.name for _, each in written] if written else None)
    piles = {each.name: _names(each) for _, each in written}
    return tuple(name for pile in told for name in piles.get(pile, [pile]))


def _known(document: Document, plate: tuple[str, ...], names: list[str] | None) -> None:
    key: Key = ("iron", "plate")
    listed = isinstance(document.data["iron"]["plate"], list)
    for n, name in enumerate(plate if names else ()):
        here: Key = (*key, n) if listed else key
        if name not in (names or ()):
            must = f"the name of {'a' if listed else 'the'} ring at the voice coil"
            document.fault(here, must, f'"{name}"', meant(name, names or (), "The rings"))
        elif name in plate[:n]:
            document.fault(here, "a ring that is not named before", f'"{name}" a second time')


def _right_piece(document: Document, key: Key, each: RingRow, pieces: Mapping[str, Piece] | None) -> bool:
    """Whether a role of an arrangement is made of what it is for; legs are told by their number."""
    arrangement, (_, role, *_), piece = chosen(document), key, (pieces or {}).get(each.stock)
    if arrangement is None or role not in arrangement.roles or piece is None:
        return True
    kind = "magnet" if isinstance(piece, Magnet) else "steel" if isinstance(piece, Steel) else "metal"
    wanted = arrangement.roles[str(role)].get("of", "steel")
    if kind != wanted:
        do = "What is meant otherwise is written as [[iron.ring]], without the arrangement."
        must, found = f"the name of a [[{wanted}]] in stock.toml", f'"{piece.name}", a [[{kind}]]'
        document.fault((*key, "from"), must, found, do)
    elif role == "legs" and each.n_legs < 1:
        do = 'Such as legs = { from = "flat bar", n_legs = 2 }.'
        document.fault((*key, "n_legs"), "the number of flat bars", str(each.n_legs or "nothing"), do)
    else:
        return True
    return False


def _enough(document: Document, placed: list[Placed], pieces: Mapping[str, Piece]) -> None:
    """As many pieces on the shelf as rings are made from them; a bar or pipe gives rings until its length is gone."""
    for name, piece in pieces.items():
        for heads in (False, True):
            cut = [(key, each) for key, each in placed if each.stock == name and each.head is heads]
            if isinstance(piece, Metal) and piece.form in CUT_TO_LENGTH:
                _long_enough(document, cut, piece)
            elif len(cut) > piece.count:
                found = f"{len(cut)} rings from it in the design, {piece.count} in stock.toml"
                document.fault((*cut[piece.count][0], "from"), f'a piece that is still there ("{name}")', found)


def _long_enough(document: Document, cut: list[Placed], piece: Metal) -> None:
    lengths: list[float] = []
    whole = float(piece.length if piece.length is not None else piece.t)
    for key, each in cut:
        lengths += _lengths(each, piece, whole)
        if not _sawn(sorted(lengths, reverse=True), [whole] * min(piece.count, len(lengths))):
            have = _sum([whole], piece.count) if piece.count else "none"
            found = f"{_sum(lengths)} in the design, {have} in stock.toml"
            document.fault((*key, "from"), f'a piece that is long enough ("{piece.name}")', found)
            return


def _sum(lengths: list[float], times: int = 1) -> str:
    """``52 mm + 31 × 6.6 mm``"""
    told = Counter(show("length", each) for each in lengths)
    return " + ".join(each if n * times == 1 else f"{n * times} × {each}" for each, n in told.items())


def _lengths(each: RingRow, piece: Metal, whole: float) -> list[float]:
    """What one ring takes of its bar: its height; of a flat bar a leg's height each, or its diameter."""
    if each.n_legs:
        return [each.t.value if each.t else whole] * each.n_legs
    if piece.width is not None:
        return [(each.d_out or Measured(float(piece.d_out), 0.0)).value]
    return [each.t.value if each.t else whole]


def _sawn(lengths: list[float], rooms: list[float]) -> bool:
    """Whether these lengths, the longest first, can be sawn from bars with this room left; the saw takes nothing.

    The tightest bar is tried first. Where the lengths add up to no more than the bars and very many ways are tried in
    vain, the maker is believed.
    """
    if sum(lengths) > sum(rooms) + SAW * len(lengths):
        return False
    ways = [(0, tuple(sorted(rooms)))]
    seen = set(ways)
    while ways and len(seen) < WAYS_TRIED:
        done, left = ways.pop()
        if done == len(lengths):
            return True
        for room in sorted(set(left), reverse=True):
            if lengths[done] <= room + SAW:
                rest = list(left)
                rest[rest.index(room)] = round(room - lengths[done], 9)
                way = (done + 1, tuple(sorted(rest)))
                if way not in seen:
                    seen.add(way)
                    ways.append(way)
    return bool(ways)


def _order(document: Document, placed: list[Placed]) -> None:
    """Each ring on or under an earlier one, so that the stack can be built up in the order of the file."""
    names = [each.name for _, each in placed]
    for n, (key, each) in enumerate(placed):
        for how, carrier in (("on", each.on), ("under", each.under)):
            if carrier is None or carrier in names[:n]:
                continue
            must = "the name of a ring further up in the file"
            if carrier in names:
                found = f'"{carrier}", which {"comes later" if carrier != each.name else "is this ring itself"}'
                document.fault((*key, how), must, found, "Put the lower ring first.")
            else:
                document.fault((*key, how), must, f'"{carrier}"', meant(carrier, names[:n], "Further up"))

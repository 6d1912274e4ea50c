"""brief.toml: the wish and its limits."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from handwound.files.row import Number, Row, Word, one_of
from handwound.files.tables import find, row, shelf
from handwound.files.toml import Document
from handwound.parts.design import Brief, Stock
from handwound.parts.heat import PLACES, Box

OF_A_BOX = ("V_box", "t_box")
NUMBERS = ("Z_rated", "D_outline", "L_want", "f_low", "T_touch", "c_min", "x_pk", "T_room", "crest", "level")


class BriefRow(Row):
    """The whole file."""

    name: Word
    iron: Word
    supply: Word | None = None
    amplifier: Word
    Z_rated: Number
    D_outline: Number
    L_want: Number
    f_low: Number
    T_touch: Number | None = None
    c_min: Number
    x_pk: Number
    T_room: Number | None = None
    placed: Annotated[str, one_of(*PLACES)] = PLACES[0]
    V_box: Number | None = None
    t_box: Number | None = None
    crest: Number | None = None
    level: Number | None = None


def read_brief(path: str | Path, stock: Stock) -> Brief:
    """The wish, with supply and amplifier found on the shelf, or all faults of the file at once."""
    document = Document(Path(path))
    brief = _brief(document, stock)
    document.done()
    assert brief, "a brief that cannot be made has said why"
    return brief


def check_brief(path: str | Path) -> None:
    """Raise what can be said of the file while the stock cannot be read: all but whether its names are there."""
    document = Document(Path(path))
    _brief(document, None)
    document.done()


def _brief(document: Document, stock: Stock | None) -> Brief | None:
    each = row(document, (), BriefRow)
    if each is None:
        return None
    supplies, amplifiers = shelf(stock.supplies if stock else None), shelf(stock.amplifiers if stock else None)
    supply = None
    if each.supply is not None:
        supply = find(document, ("supply",), each.supply, supplies, "the name of a [[supply]] in stock.toml")
    amplifier = find(document, ("amplifier",), each.amplifier, amplifiers, "the name of an [[amplifier]] in stock.toml")
    box = _box(document, each)
    if amplifier is None or not document.sound:
        return None
    return Brief(
        name=each.name,
        iron=each.iron,
        supply=supply,
        amplifier=amplifier,
        placed=each.placed,
        box=box,
        spread=each.spread(*NUMBERS),
        **each.numbers(*NUMBERS),
    )


def _box(document: Document, each: BriefRow) -> Box | None:
    """The closed box around the motor: its air and its wall say something only together."""
    given = [name for name in OF_A_BOX if getattr(each, name) is not None]
    if len(given) == 1:
        (lacks,) = set(OF_A_BOX) - set(given)
        document.fault((lacks,), f"given with {given[0]}", f"only {given[0]}", "Give both, or neither.")
        return None
    return Box(spread=each.spread(*OF_A_BOX), **each.numbers(*OF_A_BOX)) if given else None

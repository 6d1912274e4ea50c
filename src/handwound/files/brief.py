"""brief.toml: the wish and its limits."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from handwound.files.mounting import MountingRow, read_baffle, read_box, read_port
from handwound.files.row import Number, Word, one_of
from handwound.files.tables import find, row, shelf
from handwound.files.toml import Document
from handwound.parts.design import Brief, Stock
from handwound.parts.heat import PLACES

OF_THE_DRIVER = ("Z_rated", "D_outline", "L_want", "f_low", "T_touch", "c_min", "x_pk", "T_room")
NUMBERS = (*OF_THE_DRIVER, "crest", "level", "R_series", "f_tone")


class BriefRow(MountingRow):
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
    crest: Number | None = None
    level: Number | None = None
    R_series: Number | None = None
    f_tone: Number | None = None


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
    box, port = read_box(document, each), read_port(document, each)
    baffle = read_baffle(document, each, each.D_outline)
    if amplifier is None or not document.sound:
        return None
    return Brief(
        name=each.name,
        iron=each.iron,
        supply=supply,
        amplifier=amplifier,
        placed=each.placed,
        box=box,
        baffle=baffle,
        port=port,
        spread=each.spread(*NUMBERS),
        **each.numbers(*NUMBERS),
    )

"""stock.toml: everything on the shelf."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from handwound.files.lines import Path as Key
from handwound.files.magnet import read_magnets
from handwound.files.row import Number, Row, Word
from handwound.files.sheet import read_adhesives, read_sheets
from handwound.files.steel import read_metals, read_steels
from handwound.files.tables import known_only, once, rows
from handwound.files.toml import Document
from handwound.files.wire import read_wires
from handwound.parts.design import Stock
from handwound.parts.moving import Bit
from handwound.parts.source import Amplifier, Supply
from handwound.quantities import Measured, show

KINDS = ("wire", "steel", "magnet", "metal", "sheet", "adhesive", "supply", "amplifier", "bit")
OF_THE_IRON: tuple[Key, ...] = (("steel",), ("magnet",), ("metal",))
"""Among these a ring's `from` finds its piece."""
P = TypeVar("P", Supply, Amplifier, Bit)


class SupplyRow(Row):
    """``[[supply]]``"""

    name: Word
    V_max: Number
    I_max: Number
    dV: Number | None = None
    f_mains: Number = Measured(50.0, 0.0)


class AmplifierRow(Row):
    """``[[amplifier]]``"""

    name: Word
    P_max: Number
    Z_least: Number
    R_out: Number | None = None


class BitRow(Row):
    """``[[bit]]``: a small thing that will move with the cone."""

    name: Word
    m: Number


def read_stock(path: str | Path) -> Stock:
    """The shelf, or all faults of the file at once."""
    document = Document(Path(path))
    known_only(document, (), KINDS)
    if not any(document.data.get(kind) for kind in KINDS):
        do = "Begin with a [[wire]]; docs/how-to/write-a-job.md shows every kind."
        document.fault((), "a list of what is on the shelf", "nothing in it", do)
    for kind in KINDS:
        once(document, (kind,))
    once(document, *OF_THE_IRON)
    supplies = rows(document, ("supply",), SupplyRow)
    for key, each in supplies:
        if each.dV is not None and each.dV.value > each.V_max.value:
            most = show("V_max", each.V_max.value)
            document.fault((*key, "dV"), f"at most V_max, {most}", show("dV", each.dV.value))
    amplifiers = rows(document, ("amplifier",), AmplifierRow)
    stock = Stock(
        wires=read_wires(document),
        steels=read_steels(document),
        magnets=read_magnets(document),
        metals=read_metals(document),
        sheets=read_sheets(document),
        adhesives=read_adhesives(document),
        supplies=tuple(_part(Supply, each, "V_max", "I_max", "dV", "f_mains") for _, each in supplies),
        amplifiers=tuple(_part(Amplifier, each, "P_max", "Z_least", "R_out") for _, each in amplifiers),
        bits=tuple(_part(Bit, each, "m") for _, each in rows(document, ("bit",), BitRow)),
    )
    document.done()
    return stock


def _part(kind: Callable[..., P], each: SupplyRow | AmplifierRow | BitRow, *names: str) -> P:
    return kind(name=each.name, spread=each.spread(*names), **each.numbers(*names))

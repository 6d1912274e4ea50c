"""stock.toml: everything on the shelf."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar

from handwound.files.lines import Path as Key
from handwound.files.magnet import read_magnets
from handwound.files.row import Number, Row, Word
from handwound.files.steel import read_metals, read_steels
from handwound.files.tables import find, known_only, once, rows
from handwound.files.toml import Document
from handwound.files.wire import read_wires
from handwound.materials.insulators import c_p, insulators
from handwound.materials.tables import table
from handwound.parts.design import Stock
from handwound.parts.moving import Bit
from handwound.parts.sheet import Adhesive, Sheet
from handwound.parts.source import Amplifier, Supply
from handwound.quantities import Measured, show

KINDS = ("wire", "steel", "magnet", "metal", "sheet", "adhesive", "supply", "amplifier", "bit")
OF_THE_IRON: tuple[Key, ...] = (("steel",), ("magnet",), ("metal",))
"""Among these a ring's `from` finds its piece."""
OF_STUFFS = "what a sheet is made of", "Known"
OF_A_SHEET = ("t", "rho_A", "E", "nu", "eta_s")
P = TypeVar("P", Supply, Amplifier, Bit)


class SheetRow(Row):
    """``[[sheet]]``: paper, card, foam, film; a material of the table, what was measured counting before it."""

    name: Word
    material: Word | None = None
    t: Number | None = None
    rho_A: Number | None = None
    E: Number | None = None
    nu: Number | None = None
    eta_s: Number | None = None
    insulator: Word | None = None
    T_max: Number | None = None


class AdhesiveRow(Row):
    """``[[adhesive]]``"""

    name: Word
    kind: Word
    T_max: Number | None = None


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
        sheets=_sheets(document),
        adhesives=_adhesives(document),
        supplies=tuple(_part(Supply, each, "V_max", "I_max", "dV", "f_mains") for _, each in supplies),
        amplifiers=tuple(_part(Amplifier, each, "P_max", "Z_least") for _, each in amplifiers),
        bits=tuple(_part(Bit, each, "m") for _, each in rows(document, ("bit",), BitRow)),
    )
    document.done()
    return stock


def _part(kind: Callable[..., P], each: SupplyRow | AmplifierRow | BitRow, *names: str) -> P:
    return kind(name=each.name, spread=each.spread(*names), **each.numbers(*names))


def _sheets(document: Document) -> tuple[Sheet, ...]:
    known = {str(line["name"]): line for line in table("sheets")}
    found = []
    for key, each in rows(document, ("sheet",), SheetRow):
        given = {name: number for name in OF_A_SHEET if (number := getattr(each, name)) is not None}
        if each.material is None:
            lacking = [name for name in OF_A_SHEET if name not in given]
            if lacking:
                do = f"Or give material, one of: {', '.join(known)}."
                document.fault(key, "given with all its numbers, or with a material of the table",
                               f"no {', no '.join(lacking)}", do)  # fmt: skip
            usual, kind = {}, next(iter(insulators()))
        else:
            line = find(document, (*key, "material"), each.material, known, "a material of the table", "Known")
            if line is None:
                continue
            usual, kind = _usual(line), str(line["insulator"])
        stuff = find(document, (*key, "insulator"), each.insulator or kind, insulators(), *OF_STUFFS)
        if stuff is None or not usual.keys() | given.keys() >= {*OF_A_SHEET}:
            continue
        numbers = {**usual, **given, "k_th": Measured(float(stuff.k_th), dict(stuff.spread)["k_th"])}
        numbers |= {"c_p": Measured(c_p(stuff.name), 0.0), "T_max": each.T_max or Measured(float(stuff.T_max), 0.0)}
        values = {name: number.value for name, number in numbers.items()}
        spread = tuple((name, number.spread) for name, number in numbers.items() if number.spread)
        found.append(Sheet(name=each.name, spread=spread, **values))
    return tuple(found)


def _usual(line: Mapping[str, str | float | None]) -> dict[str, Measured]:
    """The numbers of a material of the table; a cloth has no modulus, which is written as zero."""
    halves = {name: line.get(f"{name}_spread") for name in OF_A_SHEET}
    return {name: Measured(_float(line[name]), _float(halves[name])) for name in OF_A_SHEET}


def _float(cell: str | float | None) -> float:
    return cell if isinstance(cell, float) else 0.0


def _adhesives(document: Document) -> tuple[Adhesive, ...]:
    """Glues; the temperature of a kind is the lowest at which any of that kind gives way."""
    known = {str(line["kind"]): line for line in table("adhesives")}
    found = []
    for key, each in rows(document, ("adhesive",), AdhesiveRow):
        line = find(document, (*key, "kind"), each.kind, known, "a kind of the table", "Known")
        if line is not None:
            T_max = each.T_max or Measured(_float(line["T_max_low"]), 0.0)
            rho_m = _float(line["rho_m"])
            spread = (*each.spread("T_max"), ("rho_m", _float(line["rho_m_spread"])))
            found.append(Adhesive(name=each.name, kind=each.kind, T_max=T_max.value, rho_m=rho_m, spread=spread))
    return tuple(found)

"""What moves, in design.toml: the diaphragm with its ribs, its cap, the lines of glue, the small things beside."""

from __future__ import annotations

from typing import Annotated, NamedTuple

from handwound.files.forms import Keys, of_form, of_stiff_sheet, ring_shaped
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word, Words, as_part, one_of
from handwound.files.suspension import NONE
from handwound.files.tables import find, once, row, rows, shelf
from handwound.files.toml import Document
from handwound.parts.design import Stock
from handwound.parts.moving import BONDS, CAPS, DIAPHRAGMS, Bit, Bond, Cap, Diaphragm, Ribs
from handwound.parts.sheet import Adhesive
from handwound.quantities import Measured, show

OF_GLUES = "the name of an [[adhesive]] in stock.toml"
ZERO = Measured(0.0, 0.0)
OF_DIAPHRAGMS = {"disc": Keys(), "cone": Keys(("h_c",), ("w_seam",)), "dome": Keys(("h_c",))}
OF_CAPS = {"disc": Keys(), "dome": Keys(("h_c",))}


class DiaphragmRow(Row):
    """``[diaphragm]``"""

    form: Annotated[str, one_of(*DIAPHRAGMS)]
    sheet: Word
    d_in: Number = ZERO
    d_out: Number
    h_c: Number | None = None
    w_seam: Number | None = None
    m_d: Number | None = None


class RibsRow(Row):
    """``[diaphragm.ribs]``"""

    sheet: Word
    n_rib: Whole
    h_rib: Number
    d_in: Number
    d_out: Number


class CapRow(Row):
    """``[cap]``"""

    form: Annotated[str, one_of(*CAPS)]
    sheet: Word
    d_out: Number
    h_c: Number | None = None
    m_cap: Number | None = None


class BondRow(Row):
    """``[[bond]]``: one line of glue."""

    name: Word
    at: Annotated[str, one_of(*BONDS)]
    glue: Word
    w_bond: Number | None = None
    t_bond: Number


class MovingRow(Row):
    """``[moving]``"""

    bits: Words = ()
    glue: Word | None = None
    m_weighed: Number | None = None


class Riders(NamedTuple):
    """What moves along, the glue that holds the voice coil, and the scale's word on the whole."""

    bits: tuple[Bit, ...] = ()
    glue: Adhesive | None = None
    m_weighed: Measured | None = None


def read_diaphragm(document: Document, stock: Stock | None) -> Diaphragm | None:
    """The diaphragm; None where something in it is at fault."""
    key: Key = ("diaphragm",)
    each = row(document, key, DiaphragmRow, beside=["ribs"])
    written = document.data.get("diaphragm")
    ribbed = isinstance(written, dict) and "ribs" in written
    ribs = _ribs(document, (*key, "ribs"), stock) if ribbed else None
    if each is None:
        return None
    sheet = of_stiff_sheet(document, (*key, "sheet"), each.sheet, stock)
    ring_shaped(document, key, each.d_in, each.d_out)
    sound = of_form(document, key, each, each.form, OF_DIAPHRAGMS)
    _shallow(document, key, each)
    if sheet is None or not sound or (ribbed and ribs is None):
        return None
    names = ("d_in", "d_out", "h_c", "w_seam", "m_d")
    return Diaphragm(form=each.form, sheet=sheet, ribs=ribs, spread=each.spread(*names), **each.numbers(*names))


def read_cap(document: Document, stock: Stock | None) -> Cap | None:
    """What closes the middle; None where there is none, or where something in it is at fault."""
    key: Key = ("cap",)
    each = row(document, key, CapRow) if "cap" in document.data else None
    if each is None:
        return None
    sheet = of_stiff_sheet(document, (*key, "sheet"), each.sheet, stock)
    sound = of_form(document, key, each, each.form, OF_CAPS)
    _shallow(document, key, each)
    if sheet is None or not sound:
        return None
    names = ("d_out", "h_c", "m_cap")
    return Cap(form=each.form, sheet=sheet, spread=each.spread(*names), **each.numbers(*names))


def read_bonds(document: Document, stock: Stock | None, diaphragm: Diaphragm | None) -> tuple[Bond, ...]:
    """Every sound line of glue."""
    once(document, ("bond",))
    found = [_bond(document, key, each, stock, diaphragm) for key, each in rows(document, ("bond",), BondRow)]
    return tuple(bond for bond in found if bond)


def read_riders(document: Document, stock: Stock | None) -> Riders:
    """What ``[moving]`` tells."""
    key: Key = ("moving",)
    each = row(document, key, MovingRow) if "moving" in document.data else None
    if each is None:
        return Riders()
    on_shelf = shelf(stock.bits if stock else None)
    must = "the name of a [[bit]] in stock.toml"
    bits = [find(document, (*key, "bits", n), name, on_shelf, must) for n, name in enumerate(each.bits)]
    glue = None
    if each.glue is not None:
        glue = find(document, (*key, "glue"), each.glue, shelf(stock.adhesives if stock else None), OF_GLUES)
    return Riders(tuple(bit for bit in bits if bit), glue, each.m_weighed)


def _ribs(document: Document, key: Key, stock: Stock | None) -> Ribs | None:
    each = row(document, key, RibsRow)
    if each is None:
        return None
    sheet = of_stiff_sheet(document, (*key, "sheet"), each.sheet, stock)
    ring_shaped(document, key, each.d_in, each.d_out)
    if sheet is None:
        return None
    names = ("h_rib", "d_in", "d_out")
    return Ribs(sheet=sheet, n_rib=each.n_rib, spread=each.spread(*names), **each.numbers(*names))


def _shallow(document: Document, key: Key, each: DiaphragmRow | CapRow) -> None:
    """Note a dome that is more than half a ball."""
    if each.form == "dome" and each.h_c is not None and each.h_c.value > each.d_out.value / 2:
        must = f"at most half of d_out, {show('h_c', each.d_out.value / 2, 4)}"
        document.fault((*key, "h_c"), must, show("h_c", each.h_c.value, 4))


def _bond(document: Document, key: Key, each: BondRow, stock: Stock | None, diaphragm: Diaphragm | None) -> Bond | None:
    glue = find(document, (*key, "glue"), each.glue, shelf(stock.adhesives if stock else None), OF_GLUES)
    lacks = _nothing_there(document, each.at, diaphragm)
    if lacks:
        document.fault((*key, "at"), f"given with {lacks}", "none")
    w_bond = each.w_bond
    if each.at == "coil" and w_bond is not None:
        document.fault((*key, "w_bond"), 'left out at the "coil"', "w_bond", "It is as wide as the winding is high.")
    elif each.at == "seam" and w_bond is None and diaphragm:
        w_bond = Measured(float(diaphragm.w_seam), dict(diaphragm.spread).get("w_seam", 0.0))
    elif each.at not in ("coil", "seam") and w_bond is None:
        document.fault((*key, "w_bond"), f'given at the "{each.at}"', "nothing", "w_bond is the width of the glue.")
    if glue is None:
        return None
    numbers = {"t_bond": each.t_bond} | ({"w_bond": w_bond} if w_bond else {})
    return Bond(name=each.name, at=each.at, glue=glue, **({"w_bond": None} | as_part(numbers)))


def _nothing_there(document: Document, at: str, diaphragm: Diaphragm | None) -> str:
    """What a bond at this place would need and the design does not have; nothing where all is there."""
    if at == "cap" and "cap" not in document.data:
        return "a [cap]"
    if at == "spider" and document.data.get("spider", NONE) == NONE:
        return "a [spider]"
    return "a cone with w_seam" if at == "seam" and diaphragm and not diaphragm.w_seam else ""

"""The moving parts of design.toml: diaphragm, surround, spider, and the small things that ride along."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Annotated

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Word, Words, one_of
from handwound.files.tables import find, row, shelf, spreads_apart
from handwound.files.toml import Document
from handwound.parts.design import Stock
from handwound.parts.moving import Bit, Diaphragm, Spider, Surround
from handwound.parts.sheet import Adhesive, Sheet
from handwound.physics.moving import stiffness_from_dip
from handwound.quantities import Measured, as_typed, show

OF_SHEETS = "the name of a [[sheet]] in stock.toml"
NONE = "none"
ZERO = Measured(0.0, 0.0)


class DiaphragmRow(Row):
    """``[diaphragm]``"""

    form: Annotated[str, one_of("disc", "cone")]
    sheet: Word
    d_in: Number = ZERO
    d_out: Number
    h_c: Number | None = None
    w_seam: Number | None = None
    m_d: Number | None = None


class SurroundRow(Row):
    """``[surround]``"""

    sheet: Word
    d_in: Number
    d_out: Number
    K_s: Number | None = None
    dip: Number | None = None
    load: Number | None = None


class SpiderRow(Row):
    """``[spider]``"""

    K_sp: Number | None = None
    dip: Number | None = None
    load: Number | None = None
    m_sp: Number


class MovingRow(Row):
    """``[moving]``"""

    bits: Words = ()
    glue: Word | None = None


def read_diaphragm(document: Document, stock: Stock | None) -> Diaphragm | None:
    """The diaphragm; None where something in it is at fault."""
    key: Key = ("diaphragm",)
    each = row(document, key, DiaphragmRow)
    if each is None:
        return None
    sheet = find(document, (*key, "sheet"), each.sheet, _sheets(stock), OF_SHEETS)
    _ring_shaped(document, key, each)
    if each.form == "cone" and each.h_c is None:
        document.fault((*key, "h_c"), "given for a cone", "nothing", "h_c is the depth of the cone.")
    if each.form == "disc":
        for name in ("h_c", "w_seam"):
            if getattr(each, name) is not None:
                document.fault((*key, name), "left out for a disc", name, 'Or write form = "cone".')
    if sheet is None:
        return None
    names = ("d_in", "d_out", "h_c", "w_seam", "m_d")
    return Diaphragm(form=each.form, sheet=sheet, spread=each.spread(*names), **each.numbers(*names))


def read_surround(document: Document, stock: Stock | None) -> Surround | None:
    """The surround; None where something in it is at fault."""
    key: Key = ("surround",)
    each = row(document, key, SurroundRow)
    if each is None:
        return None
    sheet = find(document, (*key, "sheet"), each.sheet, _sheets(stock), OF_SHEETS)
    _ring_shaped(document, key, each)
    K_s = _stiffness(document, key, each, "K_s")
    if sheet is None:
        return None
    if K_s is None and not sheet.E and _unmeasured(each):
        found = f"none of them, and {sheet.name} has no modulus of its own"
        document.fault((*key, "K_s"), "given, or dip and load", found)
    return Surround(
        sheet=sheet,
        K_s=K_s.value if K_s else None,
        spread=each.spread("d_in", "d_out") + ((("K_s", K_s.spread),) if K_s and K_s.spread else ()),
        **each.numbers("d_in", "d_out"),
    )


def read_spider(document: Document) -> Spider | None:
    """The spider; None where there is none, or where something in it is at fault."""
    key: Key = ("spider",)
    written = document.data.get("spider", NONE)
    if written == NONE:
        return None
    if isinstance(written, str):
        close = get_close_matches(written.strip().casefold(), [NONE])
        hint = f'Did you mean "{NONE}"?' if close else ""
        document.fault(key, f'a table [spider], or the word "{NONE}"', as_typed(written), hint)
        return None
    each = row(document, key, SpiderRow)
    if each is None:
        return None
    K_sp = _stiffness(document, key, each, "K_sp")
    if K_sp is None and _unmeasured(each):
        do = "Without a measurement there is no stiffness of a spider to count on."
        document.fault((*key, "K_sp"), "given, or dip and load", "none of them", do)
    if K_sp is None:
        return None
    spread = ((("K_sp", K_sp.spread),) if K_sp.spread else ()) + each.spread("m_sp")
    return Spider(K_sp=K_sp.value, m_sp=each.m_sp.value, spread=spread)


def read_riders(document: Document, stock: Stock | None) -> tuple[tuple[Bit, ...], Adhesive | None]:
    """The bits that move along, and the glue that holds it all."""
    key: Key = ("moving",)
    each = row(document, key, MovingRow) if "moving" in document.data else MovingRow()
    if each is None:
        return (), None
    on_shelf = shelf(stock.bits if stock else None)
    must = "the name of a [[bit]] in stock.toml"
    bits = [find(document, (*key, "bits", n), name, on_shelf, must) for n, name in enumerate(each.bits)]
    glues = shelf(stock.adhesives if stock else None)
    glue = None
    if each.glue is not None:
        glue = find(document, (*key, "glue"), each.glue, glues, "the name of an [[adhesive]] in stock.toml")
    return tuple(bit for bit in bits if bit), glue


def _sheets(stock: Stock | None) -> Mapping[str, Sheet] | None:
    return shelf(stock.sheets if stock else None)


def _ring_shaped(document: Document, key: Key, each: DiaphragmRow | SurroundRow) -> None:
    if each.d_in.value >= each.d_out.value:
        found = f"{show('d_in', each.d_in.value)} in a d_out of {show('d_out', each.d_out.value)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", each.d_in, "d_out", each.d_out)


def _unmeasured(each: SurroundRow | SpiderRow) -> bool:
    return each.dip is None and each.load is None


def _stiffness(document: Document, key: Key, each: SurroundRow | SpiderRow, name: str) -> Measured | None:
    """A measured stiffness: given, or from how far the part dips under a load."""
    given: Measured | None = getattr(each, name)
    if (each.dip is None) != (each.load is None):
        has, lacks = ("dip", "load") if each.load is None else ("load", "dip")
        document.fault((*key, lacks), f"given with {has}", f"only {has}")
        return given
    if each.dip is None or each.load is None:
        return given
    if given is not None:
        document.fault((*key, name), "given instead of dip and load", "both", "Keep what was measured.")
        return None
    K = float(stiffness_from_dip(each.dip.value, each.load.value))
    relative = ((each.load.spread / each.load.value) ** 2 + (each.dip.spread / each.dip.value) ** 2) ** 0.5
    return Measured(K, K * relative)

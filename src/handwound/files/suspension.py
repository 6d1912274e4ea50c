"""What holds the moving parts, in design.toml: the surround and the spider, by their shape or by what was measured."""

from __future__ import annotations

from difflib import get_close_matches
from typing import Annotated, Any

from handwound.files.forms import OF_SHEETS, Keys, number_of, of_form, ring_shaped
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word, as_part, following, one_of
from handwound.files.tables import find, row, shelf
from handwound.files.toml import Document
from handwound.parts.design import Stock
from handwound.parts.moving import SPIDERS, SURROUNDS, Spider, Surround
from handwound.parts.sheet import Sheet
from handwound.physics.moving import stiffness_from_dip
from handwound.quantities import Measured, as_typed

NONE = "none"
MEASURED = SPIDERS[0]
OF_SURROUNDS = {"flat": Keys(), "roll": Keys(may=("h_r",)), "pleats": Keys(("h_r", "n_pleat"))}
LEAST_WAVE = 2
"""A wave is longer than the sheet is thick by this: a narrower one cannot be folded."""
OF_SPIDERS = {
    "measured": Keys(("m_sp",), ("sheet",)),
    "pleats": Keys(("sheet", "d_in", "d_out", "h_r", "n_pleat"), ("m_sp",)),
    "arms": Keys(("sheet", "n_arm", "l_arm", "w_arm"), ("m_sp",)),
}


class SurroundRow(Row):
    """``[surround]``"""

    form: Annotated[str, one_of(*SURROUNDS)] = SURROUNDS[0]
    sheet: Word
    d_in: Number
    d_out: Number
    h_r: Number | None = None
    n_pleat: Whole | None = None
    K_s: Number | None = None
    dip: Number | None = None
    load: Number | None = None


class SpiderRow(Row):
    """``[spider]``"""

    form: Annotated[str, one_of(*SPIDERS)] = MEASURED
    sheet: Word | None = None
    d_in: Number | None = None
    d_out: Number | None = None
    h_r: Number | None = None
    n_pleat: Whole | None = None
    n_arm: Whole | None = None
    l_arm: Number | None = None
    w_arm: Number | None = None
    z_sp: Number | None = None
    K_sp: Number | None = None
    dip: Number | None = None
    load: Number | None = None
    m_sp: Number | None = None


def read_surround(document: Document, stock: Stock | None) -> Surround | None:
    """The surround; None where something in it is at fault."""
    key: Key = ("surround",)
    each = row(document, key, SurroundRow)
    if each is None:
        return None
    sheet = find(document, (*key, "sheet"), each.sheet, shelf(stock.sheets if stock else None), OF_SHEETS)
    ring_shaped(document, key, each.d_in, each.d_out)
    sound = of_form(document, key, each, each.form, OF_SURROUNDS)
    _foldable(document, key, each, sheet)
    K_s = _stiffness(document, key, each, "K_s", sheet)
    if sheet is None or not sound:
        return None
    _modulus(document, key, each, "K_s", K_s, sheet)
    numbers = {"d_in": each.d_in, "d_out": each.d_out}
    if each.form == "roll":
        numbers["h_r"] = each.h_r or _half_round(each.d_in, each.d_out)
    elif each.h_r is not None:
        numbers["h_r"] = each.h_r
    if K_s:
        numbers["K_s"] = K_s
    return Surround(form=each.form, sheet=sheet, n_pleat=each.n_pleat or 0, **as_part(numbers))


def read_spider(document: Document, stock: Stock | None) -> Spider | None:
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
    return _spider(document, key, each, stock) if each else None


def _spider(document: Document, key: Key, each: SpiderRow, stock: Stock | None) -> Spider | None:
    sheet = None
    if each.sheet is not None:
        sheet = find(document, (*key, "sheet"), each.sheet, shelf(stock.sheets if stock else None), OF_SHEETS)
    if each.d_in is not None and each.d_out is not None:
        ring_shaped(document, key, each.d_in, each.d_out)
    sound = of_form(document, key, each, each.form, OF_SPIDERS)
    _foldable(document, key, each, sheet)
    K_sp = _stiffness(document, key, each, "K_sp", sheet)
    if each.form == MEASURED and K_sp is None and _unmeasured(each):
        do = "Or say its form, pleats or arms, and its sizes."
        document.fault((*key, "K_sp"), "given, or dip and load", "none of them", do)
    if not sound or (each.sheet is not None and sheet is None) or (each.form == MEASURED and K_sp is None):
        return None
    if sheet and each.form != MEASURED:
        _modulus(document, key, each, "K_sp", K_sp, sheet)
    names = ("d_in", "d_out", "h_r", "l_arm", "w_arm", "z_sp", "m_sp")
    numbers = {name: number for name in names if (number := getattr(each, name)) is not None}
    if K_sp:
        numbers["K_sp"] = K_sp
    counts: dict[str, Any] = {name: getattr(each, name) or 0 for name in ("n_pleat", "n_arm")}
    return Spider(form=each.form, sheet=sheet, **counts, **as_part(numbers))


def _half_round(d_in: Measured, d_out: Measured) -> Measured:
    """Height of a roll that is half a circle: half its width."""
    return Measured((d_out.value - d_in.value) / 4, (d_in.spread**2 + d_out.spread**2) ** 0.5 / 4)


def _foldable(document: Document, key: Key, each: SurroundRow | SpiderRow, sheet: Sheet | None) -> None:
    """Note waves that a sheet is too thick for."""
    if each.form != "pleats" or not (sheet and each.n_pleat and each.d_in and each.d_out):
        return
    wide = (each.d_out.value - each.d_in.value) / 2
    most = int(wide / (LEAST_WAVE * sheet.t))
    if each.n_pleat > most and wide > 0:
        must = f"at most {most}: each wave longer than twice the sheet is thick" if most else "waves of a thinner sheet"
        document.fault((*key, "n_pleat"), must, str(each.n_pleat))


def _unmeasured(each: SurroundRow | SpiderRow) -> bool:
    return each.dip is None and each.load is None


def _modulus(
    document: Document, key: Key, each: SurroundRow | SpiderRow, name: str, K: Measured | None, sheet: Sheet
) -> None:
    """Note a part that nobody measured, of a sheet that has no modulus."""
    if K is None and not sheet.E and _unmeasured(each):
        found = f"none of them, and {sheet.name} has no modulus of its own"
        do = "Or stretch a strip of it: docs/how-to/write-a-job.md says how."
        document.fault((*key, name), "given, or dip and load", found, do)


def _stiffness(
    document: Document, key: Key, each: SurroundRow | SpiderRow, name: str, sheet: Sheet | None
) -> Measured | None:
    """A measured stiffness: given, or from how far the part dips under a load; that one is of a part at rest."""
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
    k_dyn = number_of(sheet, "k_dyn") if sheet else Measured(1.0, 0.0)
    return following(K * k_dyn.value, each.load, each.dip, k_dyn)

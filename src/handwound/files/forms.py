"""Parts that come in several forms: which keys each form needs, and which belong to another."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from handwound.files.lines import Path as Key
from handwound.files.row import Row
from handwound.files.tables import find, shelf, spreads_apart
from handwound.files.toml import Document
from handwound.parts.design import Stock
from handwound.parts.sheet import Sheet
from handwound.quantities import Measured, quantities, show

OF_SHEETS = "the name of a [[sheet]] in stock.toml"
HEIGHTS = ("h_c", "h_r")


class Keys(NamedTuple):
    """What a form must be told, and what it may be told besides."""

    needs: tuple[str, ...] = ()
    may: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        return self.needs + self.may


def of_form(document: Document, key: Key, each: Row, form: str, forms: Mapping[str, Keys]) -> bool:
    """Note each key that the form lacks, or that is another form's; whether there was none."""
    sound = True
    for name in dict.fromkeys(name for keys in forms.values() for name in keys.all):
        value = getattr(each, name)
        if value is None and name in forms[form].needs:
            does = f"{name} is the {quantities()[name].words}." if name in quantities() else ""
            document.fault((*key, name), f'given where form is "{form}"', "nothing", does)
        elif value is not None and name not in forms[form].all:
            others = " or ".join(f'"{other}"' for other, keys in forms.items() if name in keys.all)
            document.fault((*key, name), f'left out where form is "{form}"', name, f"It belongs to form = {others}.")
        elif value == 0 and isinstance(value, int):
            document.fault((*key, name), "at least 1", "0")
        elif name in HEIGHTS and isinstance(value, Measured) and not value.value:
            document.fault((*key, name), "more than 0 mm", show(name, 0.0), "One that is flat has another form.")
        else:
            continue
        sound = False
    return sound


def ring_shaped(document: Document, key: Key, d_in: Measured, d_out: Measured) -> None:
    """Note a ring that is all hole, or may be."""
    if d_in.value >= d_out.value:
        found = f"{show('d_in', d_in.value)} in a d_out of {show('d_out', d_out.value)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", d_in, "d_out", d_out)


def of_stiff_sheet(document: Document, key: Key, name: str, stock: Stock | None) -> Sheet | None:
    """The sheet of a part that is followed as it bends: one whose modulus is known."""
    sheet = find(document, key, name, shelf(stock.sheets if stock else None), OF_SHEETS)
    if sheet and not sheet.E:
        do = "Give it E, or stretch a strip of it: docs/how-to/write-a-job.md says how."
        document.fault(key, "a sheet with a modulus, which tells where it bends", f"{name}, which has none", do)
    return sheet


def number_of(part: Sheet, name: str) -> Measured:
    """A number of a sheet with half of its band."""
    return Measured(float(getattr(part, name)), dict(part.spread).get(name, 0.0))

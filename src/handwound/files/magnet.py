"""The magnets of stock.toml."""

from __future__ import annotations

from typing import Annotated

from handwound.files.heat import UNKNOWN, surface_of
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word, one_of
from handwound.files.steel import known_grade
from handwound.files.tables import rows, spreads_apart
from handwound.files.toml import Document
from handwound.materials import magnets
from handwound.parts.steel import Magnet
from handwound.quantities import Measured, show


class MagnetRow(Row):
    """``[[magnet]]``: a disc or a ring; a remanence that was measured counts before the grade's."""

    name: Word
    grade: Word | None = None
    d_in: Number | None = None
    d_out: Number
    t: Number
    count: Whole = 1
    magnetised: Annotated[str, one_of("axial", "radial")] = "axial"
    B_rem: Number | None = None
    surface: Word = UNKNOWN


def read_magnets(document: Document) -> tuple[Magnet, ...]:
    """Every sound magnet on the shelf."""
    found = [_magnet(document, key, each) for key, each in rows(document, ("magnet",), MagnetRow)]
    return tuple(each for each in found if each)


def _magnet(document: Document, key: Key, each: MagnetRow) -> Magnet | None:
    grade, d_in = each.grade or magnets.names()[0], each.d_in or Measured(0.0, 0.0)
    known_grade(document, (*key, "grade"), grade, magnets.names(), "a magnet of the table")
    if d_in.value >= each.d_out.value:
        found = f"{show('d_in', d_in.value)} in a d_out of {show('d_out', each.d_out.value)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", d_in, "d_out", each.d_out)
    if each.magnetised == "radial" and not d_in.value:
        document.fault((*key, "magnetised"), '"axial" for a disc', '"radial" without a hole', "Or give d_in.")
    surface = surface_of(document, (*key, "surface"), each.surface)
    if grade not in magnets.names() or surface is None:
        return None
    known = magnets.grade(grade)
    sizes = {"d_in": d_in, "d_out": each.d_out, "t": each.t}
    sizes["B_rem"] = each.B_rem or Measured(known.B_rem, known.B_rem_spread)
    return Magnet(
        name=each.name,
        grade=grade,
        count=each.count,
        magnetised=each.magnetised,
        surface=surface,
        spread=tuple((name, size.spread) for name, size in sizes.items() if size.spread),
        **{name: size.value for name, size in sizes.items()},
    )

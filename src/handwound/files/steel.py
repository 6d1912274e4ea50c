"""Steel and other metals of stock.toml: each form with the sizes a maker measures on it, as the ring it can become."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from math import hypot, pi, sqrt
from typing import TypeVar

from handwound.files.heat import UNKNOWN, surface_of
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word
from handwound.files.tables import find, places, row, spreads_apart
from handwound.files.toml import Document, meant
from handwound.materials import metals, steels
from handwound.materials.tables import table
from handwound.parts.steel import Metal, Steel
from handwound.quantities import Measured, as_typed, show

OF_STEEL, OF_METAL = "a steel with a magnetisation curve", "a metal of the table"
METRIC = re.compile(r"M(\d+(?:\.\d+)?)")
Sizes = dict[str, Measured]
P = TypeVar("P", bound=Metal)


class SteelRow(Row):
    """What every piece of steel, or of another metal, says of itself."""

    name: Word
    form: Word
    grade: Word | None = None
    count: Whole = 1
    surface: Word = UNKNOWN


class RingRow(SteelRow):
    """A ring, or a washer that was measured."""

    d_in: Number
    d_out: Number
    t: Number


class WasherRow(SteelRow):
    """A washer by its standard and size, or measured."""

    standard: Word | None = None
    size: Word | None = None
    d_in: Number | None = None
    d_out: Number | None = None
    t: Number | None = None


class PipeRow(SteelRow):
    """A pipe."""

    d_out: Number
    wall: Number
    length: Number


class PlateRow(SteelRow):
    """A plate, round or square; a longer one gives several rings."""

    width: Number
    length: Number | None = None
    t: Number


class FlatBarRow(SteelRow):
    """A flat bar, for straps; discs come from it as from a plate."""

    width: Number
    t: Number
    length: Number


class BarRow(SteelRow):
    """A round bar."""

    d_out: Number
    length: Number


class BoltRow(SteelRow):
    """A bolt by its size; its head counts as iron too."""

    size: Word
    length: Number
    standard: Word = "ISO 4017"


class NutRow(SteelRow):
    """A nut by its size."""

    size: Word
    standard: Word = "ISO 4032"


FORMS: Mapping[str, type[SteelRow]] = {
    "washer": WasherRow,
    "ring": RingRow,
    "pipe": PipeRow,
    "plate": PlateRow,
    "bar": BarRow,
    "flat bar": FlatBarRow,
    "bolt": BoltRow,
    "nut": NutRow,
}


def read_steels(document: Document) -> tuple[Steel, ...]:
    """Every sound piece of steel on the shelf."""
    return _read(document, "steel", Steel, steels.names(), OF_STEEL)


def read_metals(document: Document) -> tuple[Metal, ...]:
    """Every sound piece of another metal on the shelf."""
    return _read(document, "metal", Metal, metals.names(), OF_METAL)


def _read(document: Document, kind: str, part: type[P], grades: Sequence[str], must: str) -> tuple[P, ...]:
    found = []
    for n in places(document, (kind,)):
        key: Key = (kind, n)
        model = _form(document, key)
        each = row(document, key, model) if model else None
        if each:
            known_grade(document, (*key, "grade"), each.grade or grades[0], grades, must)
        piece = _piece(document, key, each, part, each.grade or grades[0]) if each else None
        if piece:
            found.append(piece)
    return tuple(found)


def _form(document: Document, key: Key) -> type[SteelRow] | None:
    """Which keys a piece has hangs on its form, so the form is looked at first."""
    kind, n = key
    table_ = document.data[str(kind)][n]
    if not isinstance(table_, dict):
        return SteelRow
    form = table_.get("form")
    if isinstance(form, str) and form in FORMS:
        return FORMS[form]
    document.fault((*key, "form"), "the form of the piece", as_typed(form), meant(form, FORMS, "Forms"))
    return None


def _piece(document: Document, key: Key, each: SteelRow, part: type[P], grade: str) -> P | None:
    sizes, surface = _sizes(document, key, each), surface_of(document, (*key, "surface"), each.surface)
    if sizes is None or surface is None:
        return None
    d_in, d_out = sizes["d_in"].value, sizes["d_out"].value
    if d_in >= d_out:
        found = f"{show('d_in', d_in)} in a d_out of {show('d_out', d_out)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", sizes["d_in"], "d_out", sizes["d_out"])
    if isinstance(each, FlatBarRow):
        sizes |= {"width": each.width, "length": each.length}
    return part(
        name=each.name,
        form=each.form,
        grade=grade,
        count=_pieces(each),
        surface=surface,
        head=_head(each) if isinstance(each, BoltRow) else None,
        spread=tuple((name, size.spread) for name, size in sizes.items() if size.spread),
        **{name: size.value for name, size in sizes.items()},
    )


def known_grade(document: Document, key: Key, grade: str, grades: Sequence[str], must: str) -> None:
    """Note a grade of which nothing is known."""
    if grade not in grades:
        document.fault(key, must, f'"{grade}"', meant(grade, grades, "Known"))


def _sizes(document: Document, key: Key, each: SteelRow) -> Sizes | None:
    """Inner and outer diameter and height of the largest ring that the piece can become."""
    none = Measured(0.0, 0.0)
    if isinstance(each, RingRow):
        return {"d_in": each.d_in, "d_out": each.d_out, "t": each.t}
    if isinstance(each, WasherRow):
        return _washer(document, key, each)
    if isinstance(each, PipeRow):
        return _pipe(document, key, each)
    if isinstance(each, PlateRow):
        across = min(each.width, each.length or each.width, key=lambda size: size.value)
        return {"d_in": none, "d_out": across, "t": each.t}
    if isinstance(each, FlatBarRow):
        return {"d_in": none, "d_out": each.width, "t": each.t}
    if isinstance(each, BarRow):
        return {"d_in": none, "d_out": each.d_out, "t": each.length}
    assert isinstance(each, (BoltRow, NutRow))
    known = hexagons(each.form)
    hexagon = find(
        document, (*key, "size"), f"{each.standard} {each.size}", known, f"a {each.form} of the table", "Known"
    )
    size = METRIC.fullmatch(each.size)
    if hexagon is None or size is None:
        return None
    thread = Measured(float(size[1]) / 1000, 0.0)
    if isinstance(each, BoltRow):
        return {"d_in": none, "d_out": thread, "t": each.length}
    return {"d_in": thread, "d_out": Measured(hexagon[0], 0.0), "t": Measured(hexagon[1], 0.0)}


def _washer(document: Document, key: Key, each: WasherRow) -> Sizes | None:
    """From the table where standard and size are given; what was measured counts before it."""
    given = {name: size for name in ("d_in", "d_out", "t") if (size := getattr(each, name)) is not None}
    if each.standard is None and each.size is None:
        if len(given) == 3:
            return given
        must = "given as d_in, d_out and t, or as standard and size"
        document.fault(key, must, ", ".join(given) or "none of them", 'Such as standard = "ISO 7089" and size = "M8".')
        return None
    if each.standard is None or each.size is None:
        has, lacks = ("size", "standard") if each.standard is None else ("standard", "size")
        document.fault((*key, lacks), f"given with {has}", f"only {has}")
        return None
    known = {f"{line['standard']} {line['size']}": line for line in table("washers")}
    line = find(document, (*key, "size"), f"{each.standard} {each.size}", known, "a washer of the table", "Known")
    if line is None:
        return None
    t, t_max = _cell(line["t"]), _cell(line["t_max"])
    named = {name: Measured(_cell(line[name]), 0.0) for name in ("d_in", "d_out")}
    return {**named, "t": Measured(t, t_max - t), **given}


def _pipe(document: Document, key: Key, each: PipeRow) -> Sizes | None:
    if 2 * each.wall.value >= each.d_out.value:
        found = f"{show('wall', each.wall.value)} in a d_out of {show('d_out', each.d_out.value)}"
        document.fault((*key, "wall"), "less than half of d_out", found)
        return None
    d_in = Measured(each.d_out.value - 2 * each.wall.value, hypot(each.d_out.spread, 2 * each.wall.spread))
    return {"d_in": d_in, "d_out": each.d_out, "t": each.length}


def _pieces(each: SteelRow) -> int:
    """How many rings the pieces give side by side; bar, pipe and flat bar are counted by their length instead."""
    if isinstance(each, PlateRow) and each.length is not None:
        narrow, long = sorted((each.width.value, each.length.value))
        return each.count * int(long / narrow + 1e-9)
    return each.count


def hexagons(form: str) -> Mapping[str, tuple[float, float]]:
    """Bolts' heads, or nuts, of the table: diameter of the circle of equal area, and height. [m]

    The hexagon as a circle: flats² √3 / 2 = π d² / 4.
    """
    lines = table(f"{form}s")
    equal = sqrt(2 * sqrt(3) / pi)
    return {f"{line['standard']} {line['size']}": (equal * _cell(line["flats"]), _cell(line["t"])) for line in lines}


def _head(each: BoltRow) -> tuple[float, float]:
    return hexagons("bolt")[f"{each.standard} {each.size}"]


def _cell(cell: str | float | None) -> float:
    assert isinstance(cell, float)
    return cell

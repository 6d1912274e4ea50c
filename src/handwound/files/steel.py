"""The steel of stock.toml: each form with the sizes a maker measures on it, turned into the ring it can become."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import hypot, pi, sqrt

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word
from handwound.files.tables import find, places, row, spreads_apart
from handwound.files.toml import Document, meant
from handwound.materials import steels
from handwound.materials.tables import table
from handwound.parts.steel import Steel
from handwound.quantities import Measured, as_typed, show

METRIC = re.compile(r"M(\d+(?:\.\d+)?)")
Sizes = dict[str, Measured]


class SteelRow(Row):
    """What every piece of steel says of itself."""

    name: Word
    form: Word
    grade: Word | None = None
    count: Whole = 1


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


class BarRow(SteelRow):
    """A round bar."""

    d_out: Number
    length: Number


class BoltRow(SteelRow):
    """A bolt by its size; its head counts as iron too."""

    size: Word
    length: Number
    standard: Word = "ISO 4017"


FORMS: Mapping[str, type[SteelRow]] = {
    "washer": WasherRow,
    "ring": RingRow,
    "pipe": PipeRow,
    "plate": PlateRow,
    "bar": BarRow,
    "bolt": BoltRow,
}


def read_steels(document: Document) -> tuple[Steel, ...]:
    """Every sound piece of steel on the shelf."""
    found = []
    for n in places(document, ("steel",)):
        key: Key = ("steel", n)
        model = _form(document, key)
        each = row(document, key, model) if model else None
        steel = _steel(document, key, each) if each else None
        if steel:
            found.append(steel)
    return tuple(found)


def _form(document: Document, key: Key) -> type[SteelRow] | None:
    """Which keys a piece has hangs on its form, so the form is looked at first."""
    table_ = document.data["steel"][key[1]]
    if not isinstance(table_, dict):
        return SteelRow
    form = table_.get("form")
    if isinstance(form, str) and form in FORMS:
        return FORMS[form]
    document.fault((*key, "form"), "the form of the piece", as_typed(form), meant(form, FORMS, "Forms"))
    return None


def _steel(document: Document, key: Key, each: SteelRow) -> Steel | None:
    grade = each.grade or steels.names()[0]
    known_grade(document, (*key, "grade"), grade)
    sizes = _sizes(document, key, each)
    if sizes is None:
        return None
    d_in, d_out = sizes["d_in"].value, sizes["d_out"].value
    if d_in >= d_out:
        found = f"{show('d_in', d_in)} in a d_out of {show('d_out', d_out)}"
        document.fault((*key, "d_in"), "less than d_out", found)
    spreads_apart(document, key, "d_in", sizes["d_in"], "d_out", sizes["d_out"])
    return Steel(
        name=each.name,
        form=each.form,
        grade=grade,
        count=_pieces(each),
        head=_head(each) if isinstance(each, BoltRow) else None,
        spread=tuple((name, size.spread) for name, size in sizes.items() if size.spread),
        **{name: size.value for name, size in sizes.items()},
    )


def known_grade(document: Document, key: Key, grade: str) -> None:
    """Note a grade whose curve is not known."""
    names = steels.names()
    if grade not in names:
        document.fault(key, "a steel with a magnetisation curve", f'"{grade}"', meant(grade, names, "Known"))


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
    if isinstance(each, BarRow):
        return {"d_in": none, "d_out": each.d_out, "t": each.length}
    assert isinstance(each, BoltRow)
    size = METRIC.fullmatch(each.size)
    if find(document, (*key, "size"), f"{each.standard} {each.size}", bolts(), "a bolt of the table", "Known") and size:
        return {"d_in": none, "d_out": Measured(float(size[1]) / 1000, 0.0), "t": each.length}
    return None


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
    """How many rings the pieces give side by side; bar and pipe are counted by their length instead."""
    if isinstance(each, PlateRow) and each.length is not None:
        narrow, long = sorted((each.width.value, each.length.value))
        return each.count * int(long / narrow + 1e-9)
    return each.count


def bolts() -> Mapping[str, tuple[float, float]]:
    """The bolts of the table: width across flats and height of the head. [m]"""
    lines = table("bolts")
    return {f"{line['standard']} {line['size']}": (_cell(line["flats"]), _cell(line["t"])) for line in lines}


def _head(each: BoltRow) -> tuple[float, float]:
    """The hexagon as a circle of equal area: flats² √3 / 2 = π d² / 4."""
    flats, height = bolts()[f"{each.standard} {each.size}"]
    return flats * sqrt(2 * sqrt(3) / pi), height


def _cell(cell: str | float | None) -> float:
    assert isinstance(cell, float)
    return cell

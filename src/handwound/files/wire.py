"""The wire of stock.toml: a reel by what was measured on it, or by the size on its label."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot
from typing import Annotated

from pydantic import PlainValidator

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Word
from handwound.files.tables import find, rows, spreads_apart
from handwound.files.toml import Document
from handwound.materials import metals
from handwound.materials.tables import GRADES, WireSize, table, wire_size
from handwound.parts.wire import Wire
from handwound.physics.wire import (
    diameter_from_resistance,
    mass_per_metre,
    overall_diameter_from_wraps,
    reel_length,
    resistivity,
)
from handwound.quantities import Measured, MisreadError, as_typed, show

Metal = dict[str, float]
OF_CLASSES = "a thermal class of the table", "Known"
COOL = Measured(20.0, 5.0)
"""Temperature of a wire under test where nobody wrote it down. [°C] Common practice, no source."""


def _grade(value: object) -> str:
    word = str(value).strip().lower() if isinstance(value, str) or value in (1, 2) else ""
    if word not in GRADES:
        raise MisreadError('1 or "single", 2 or "heavy"', as_typed(value), "Leave it out where the label does not say.")
    return word


class WireRow(Row):
    """``[[wire]]``: one reel."""

    name: Word
    metal: Word = "copper"
    size: Word | None = None
    grade: Annotated[str | None, PlainValidator(_grade)] = None
    d_cu: Number | None = None
    d_o: Number | None = None
    n_wrap: Number | None = None
    w_wrap: Number | None = None
    R_test: Number | None = None
    l_test: Number | None = None
    T_test: Number = COOL
    l_reel: Number | None = None
    m_reel: Number | None = None
    thermal_class: Word = "A"


def read_wires(document: Document) -> tuple[Wire, ...]:
    """Every sound reel on the shelf."""
    reels = [_wire(document, key, each) for key, each in rows(document, ("wire",), WireRow)]
    return tuple(reel for reel in reels if reel)


def _wire(document: Document, key: Key, each: WireRow) -> Wire | None:
    wound = {name: _numbers(line) for name, line in metals.wires().items()}
    metal = find(document, (*key, "metal"), each.metal, wound, "a metal of the table", "Known")
    heat = find(document, (*key, "thermal_class"), each.thermal_class, thermal_classes(), *OF_CLASSES)
    label = _label(document, key, each)
    _pairs(document, key, each)
    if metal is None or heat is None or (each.size and label is None):
        return None
    d_cu, d_o = _bare(document, key, each, metal, label), _overall(document, key, each, label)
    if d_cu is None or d_o is None:
        return None
    if d_o.value <= d_cu.value:
        found = f"{show('d_o', d_o.value)} over a d_cu of {show('d_cu', d_cu.value)}"
        document.fault((*key, "d_o"), "larger than d_cu", found, "d_o is measured over the enamel, d_cu without it.")
        return None
    if label is None or (d_cu.value, d_o.value) != (label.d_cu, label.d_o):
        # the two tolerances of a label go together: where the copper is thick, so is the whole
        spreads_apart(document, key, "d_cu", d_cu, "d_o", d_o)
    # where ohms per metre were read, the metal's own spread is in the reading and must not come on top of it
    of_metal = 0.0 if each.d_cu is None and each.R_test is not None else metal["rho_20_spread"]
    numbers = {"d_cu": d_cu, "d_o": d_o, "rho_20": Measured(metal["rho_20"], of_metal)}
    l_reel = _left(document, key, each, numbers, metal)
    if l_reel:
        numbers["l_reel"] = l_reel
    return Wire(
        name=each.name,
        metal=each.metal,
        alpha_20=metal["alpha_20"],
        rho_m=metal["rho_m"],
        T_max=heat,
        spread=tuple((name, number.spread) for name, number in numbers.items() if number.spread),
        **{name: number.value for name, number in numbers.items()},
    )


def thermal_classes() -> dict[str, float]:
    """Each class of insulation with the highest temperature of its hottest spot. [°C]"""
    return {str(line["thermal_class"]): _numbers(line)["T_max"] for line in table("thermal_classes")}


def _label(document: Document, key: Key, each: WireRow) -> WireSize | None:
    """What the size on the label says; without a grade, from the thinnest grade 1 to the thickest grade 2."""
    if each.size is None:
        if each.grade is not None:
            document.fault((*key, "size"), "given with grade", "only grade")
        return None
    try:
        if each.grade is not None:
            return wire_size(each.size, each.grade)
        thin, thick = wire_size(each.size, 1), wire_size(each.size, 2)
    except MisreadError as error:
        document.fault((*key, "size"), error.must, error.found, error.do)
        return None
    low, high = thin.d_o - thin.d_o_spread, thick.d_o + thick.d_o_spread
    return WireSize(thin.d_cu, thin.d_cu_spread, (low + high) / 2, (high - low) / 2)


def _pairs(document: Document, key: Key, each: WireRow) -> None:
    """What only says something together, and what says the same twice."""
    for one, other in (("n_wrap", "w_wrap"), ("R_test", "l_test")):
        for has, lacks in ((one, other), (other, one)):
            if getattr(each, has) is not None and getattr(each, lacks) is None:
                document.fault((*key, lacks), f"given with {has}", f"only {has}")
    for one, other in (("d_o", "w_wrap"), ("d_cu", "R_test"), ("l_reel", "m_reel")):
        if getattr(each, one) is not None and getattr(each, other) is not None:
            document.fault((*key, one), f"left out where {other} is given", "both", "Keep the one you trust.")


def _bare(document: Document, key: Key, each: WireRow, metal: Metal, label: WireSize | None) -> Measured | None:
    """Bare diameter: measured, from the resistance of a length, or from the label; in this order of trust."""
    if each.d_cu is not None:
        return each.d_cu
    if each.R_test is not None and each.l_test is not None:
        rho = resistivity(metal["rho_20"], metal["alpha_20"], each.T_test.value)
        d_cu = float(diameter_from_resistance(each.R_test.value, each.l_test.value, rho))
        warmth = metal["alpha_20"] * each.T_test.spread * metal["rho_20"] / rho
        # the diameter goes with the square root of each of them
        return Measured(d_cu, d_cu / 2 * hypot(_share(each.R_test), _share(each.l_test), warmth))
    if label is not None:
        return Measured(label.d_cu, label.d_cu_spread)
    if each.R_test is None and each.l_test is None:
        document.fault((*key, "d_cu"), "given, or size, or R_test with l_test", "none of them")
    return None


def _overall(document: Document, key: Key, each: WireRow, label: WireSize | None) -> Measured | None:
    """Overall diameter: measured, from a wrap, or from the label; in this order of trust."""
    if each.d_o is not None:
        return each.d_o
    if each.n_wrap is not None and each.w_wrap is not None:
        d_o = float(overall_diameter_from_wraps(each.w_wrap.value, each.n_wrap.value))
        return Measured(d_o, d_o * hypot(_share(each.w_wrap), _share(each.n_wrap)))
    if label is not None:
        return Measured(label.d_o, label.d_o_spread)
    if each.n_wrap is None and each.w_wrap is None:
        document.fault((*key, "d_o"), "given, or size, or n_wrap with w_wrap", "none of them")
    return None


def _left(document: Document, key: Key, each: WireRow, numbers: dict[str, Measured], metal: Metal) -> Measured | None:
    """How long the wire on the reel is: given, or from its weight; None where nobody knows."""
    if each.l_reel is not None or each.m_reel is None:
        return each.l_reel
    d_cu = numbers["d_cu"]
    m_m = mass_per_metre(d_cu.value, numbers["d_o"].value, metal["rho_m"])
    length = float(reel_length(each.m_reel.value, m_m))
    # nearly all of the weight is metal, and goes with the square of the diameter
    relative = hypot(_share(each.m_reel), 2 * _share(d_cu))
    return Measured(length, length * relative)


def _numbers(line: Mapping[str, str | float | None]) -> Metal:
    return {name: cell for name, cell in line.items() if isinstance(cell, float)}


def _share(number: Measured) -> float:
    return number.spread / number.value if number.value else 0.0

"""The tables of materials as rows of SI numbers, and a wire's diameters by the name of its size."""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from handwound.quantities import MisreadError, units

HERE = Path(__file__).parent
GRADES = {"1": 1, "grade 1": 1, "single": 1, "2": 2, "grade 2": 2, "heavy": 2}
TABLED = 0.5e-3
"""Up to this diameter the table gives the tolerance of the conductor. [m]"""
TOLERANCE = 0.01
"""Tolerance above it, and of American gauges, over the diameter. [1] IEC 60317-0-1, MW 1000 (from memory)."""
TOLERANCE_FINEST = 3e-6
"""Tolerance below 0.071 mm as at 0.071 mm: there the standard limits the resistance instead. [m] (from memory)"""

Cell = str | float | None
Row = dict[str, Cell]


class WireSize(NamedTuple):
    """Diameters of a wire as bought, each with half of its band. [m]"""

    d_cu: float
    d_cu_spread: float
    d_o: float
    d_o_spread: float


@cache
def _table(name: str) -> tuple[Row, ...]:
    with (HERE / f"{name}.csv").open(encoding="utf8", newline="") as file:
        lines = csv.DictReader(file)
        unit = next(lines)
        first = lines.fieldnames[0] if lines.fieldnames else ""
        text = {column for column, written in unit.items() if column == first or written == "-"}
        return tuple(
            {column: cell if column in text else _si(cell, unit[column]) for column, cell in line.items()}
            for line in lines
        )


def table(name: str) -> list[Row]:
    """The rows of a table: words as they stand, numbers in SI units, None where a cell is empty."""
    return [dict(row) for row in _table(name)]


def number(found: Row, column: str) -> float:
    """The number in a column that holds one in every row."""
    cell = found[column]
    assert isinstance(cell, float), f"{column} of {found} is a number in every row"
    return cell


def wire_size(size: str, grade: str | int = 1) -> WireSize:
    """Diameters of an enamelled wire: ``size`` as ``"0.50"``, ``"0.5 mm"`` or ``"AWG 24"``, ``grade`` 1 or 2.

    Grade 1 is also called single, grade 2 heavy. Of a size that is not known the MisreadError says the nearest ones.
    """
    layers = GRADES.get(str(grade).strip().lower())
    if layers is None:
        raise MisreadError("a grade of enamel: 1 or single, 2 or heavy", f'"{grade}"', "")
    gauge = re.fullmatch(r"\s*(?:AWG\s*(\d{1,3})|(\d{1,3})\s*AWG)\s*", size, re.IGNORECASE)
    metric = re.fullmatch(r"\s*(\d*\.?\d+)\s*(?:mm)?\s*", size, re.IGNORECASE)
    if gauge:
        found = _gauge(int(gauge[1] or gauge[2]))
    elif metric:
        found = _metric(float(metric[1]) * 1e-3)
    else:
        raise MisreadError('a size of wire such as "0.50 mm" or "AWG 24"', f'"{size}"', "")
    d_cu = number(found, "d_cu")
    d_cu_spread = found.get("d_cu_spread")
    if not isinstance(d_cu_spread, float):
        d_cu_spread = TOLERANCE * d_cu if gauge or d_cu > TABLED else TOLERANCE_FINEST
    return WireSize(d_cu, d_cu_spread, *_overall(found, layers))


def _gauge(n_awg: int) -> Row:
    rows = table("wires_awg")
    found = [each for each in rows if each["size"] == f"AWG {n_awg}"]
    if not found:
        near = sorted(rows, key=lambda each: abs(int(str(each["size"])[4:]) - n_awg))[:3]
        raise MisreadError(f"a gauge of the table, such as {_names(near)}", f'"AWG {n_awg}"', "")
    return found[0]


def _metric(d_cu: float) -> Row:
    rows = table("wires_iec")
    near = sorted(rows, key=lambda each: abs(number(each, "d_cu") - d_cu))[:3]
    if abs(number(near[0], "d_cu") - d_cu) > 1e-9:
        must = f"a size of the table, such as {_names(near)} mm"
        raise MisreadError(must, f'"{d_cu * 1e3:.4g} mm"', "Or give both diameters, measured.")
    return near[0]


def _overall(found: Row, grade: int) -> tuple[float, float]:
    """Overall diameter and half of its band.

    Where a table gives less than both limits, the band of a grade is taken as wide as the step from one grade to the
    next: in every complete row the two agree to within 5 µm (a test looks).
    """
    low, high = found[f"d_o_{grade}_min"], found[f"d_o_{grade}_max"]
    if isinstance(low, float) and isinstance(high, float):
        return (low + high) / 2, (high - low) / 2
    known = "max" if isinstance(high, float) else "nominal"
    half = (number(found, f"d_o_2_{known}") - number(found, f"d_o_1_{known}")) / 2
    d_o = number(found, f"d_o_{grade}_{known}")
    return (d_o - half if known == "max" else d_o), half


def _names(rows: list[Row]) -> str:
    return ", ".join(str(each["size"]) for each in rows)


def _si(cell: str, unit: str) -> float | None:
    return float(cell) * units()[unit].scale if cell else None

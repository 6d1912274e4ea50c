"""Fill the sizes that the tables of wire lack from their neighbours:  python -m tools.wires

The rule, for a size between two that the table has from elsewhere: the build of the enamel (overall less bare diameter)
is interpolated linearly over the bare diameter; its band is the wider of the two neighbours'; the limits are rounded
outwards to 0.001 mm. The tolerance of the conductor is the wider of theirs where both have one. The bare diameter of
a gauge is the formula's.
"""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path

from handwound.materials.tables import wire_size
from handwound.physics.wire import awg_diameter

HERE = Path(__file__).resolve().parents[1] / "src" / "handwound" / "materials"
RULE = "interpolated between neighbours (this project)"
GAUGES = "bare diameter: formula of ASTM B258 (from memory); overall: "
MISSING = {
    "wires_iec": [
        f"{size:.3f}" for size in (0.063, 0.09, 0.132, 0.18, 0.236, 0.315, 0.375, 0.45, 0.53, 0.63, 0.85, 1.12, 1.4)
    ],
    "wires_awg": [f"AWG {gauge}" for gauge in (12, 17, 21, 26, 29, 33, 36, 39, 40, 43)],
}
Row = dict[str, str]


def bare(size: str) -> float:
    """Bare diameter of a size. [mm]"""
    return float(awg_diameter(int(size[4:]))) * 1e3 if size.startswith("AWG") else float(size)


def outwards(low: float, high: float) -> tuple[str, str]:
    """Both limits to 0.001 mm, rounded away from each other; a rounding error of the arithmetic is no reason to."""
    return f"{math.floor(low * 1e3 + 1e-6) / 1e3:.3f}", f"{math.ceil(high * 1e3 - 1e-6) / 1e3:.3f}"


def between(size: str, below: Row, above: Row) -> Row:
    """The row of a size from its two neighbours."""
    d_cu = bare(size)
    row = dict.fromkeys(below, "") | {"size": size, "source": RULE}
    for grade in (1, 2):
        ends = [wire_size(near["size"], grade) for near in (below, above)]
        share = (d_cu * 1e-3 - ends[0].d_cu) / (ends[1].d_cu - ends[0].d_cu)
        build = [end.d_o - end.d_cu for end in ends]
        d_o = d_cu + (build[0] + share * (build[1] - build[0])) * 1e3
        half = max(end.d_o_spread for end in ends) * 1e3
        row[f"d_o_{grade}_min"], row[f"d_o_{grade}_max"] = outwards(d_o - half, d_o + half)
        if f"d_o_{grade}_nominal" in row:
            row[f"d_o_{grade}_nominal"] = f"{d_o:.3f}"
    if size.startswith("AWG"):
        return row | {"d_cu": f"{d_cu:.5f}", "source": GAUGES + RULE}
    tolerances = [near["d_cu_spread"] for near in (below, above)]
    return row | {"d_cu": size, "d_cu_spread": max(tolerances) if all(tolerances) else ""}


def filled(name: str) -> str:
    """The table with every missing size in its place."""
    with (HERE / f"{name}.csv").open(encoding="utf8", newline="") as file:
        header, *lines = csv.reader(file)
    units, *rows = (dict(zip(header, line, strict=True)) for line in lines)
    known = sorted((row for row in rows if not row["source"].endswith(RULE)), key=_bare)
    made = [between(size, *_neighbours(size, known)) for size in MISSING[name]]
    text = io.StringIO()
    table = csv.DictWriter(text, header, lineterminator="\n")
    table.writeheader()
    table.writerows([units, *sorted([*known, *made], key=_bare, reverse=name == "wires_awg")])
    return text.getvalue()


def _neighbours(size: str, known: list[Row]) -> tuple[Row, Row]:
    place = next(k for k, row in enumerate(known) if _bare(row) > bare(size))
    return known[place - 1], known[place]


def _bare(row: Row) -> float:
    return bare(row["size"])


if __name__ == "__main__":
    for name in MISSING:
        (HERE / f"{name}.csv").write_text(filled(name), encoding="utf8", newline="\n")
        print(HERE / f"{name}.csv")

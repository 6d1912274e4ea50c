"""Columns of numbers that others have published, in SI units; each file says where they are from."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

from handwound.physics.field import Magnet, Ring, Winding
from handwound.physics.field.bh import MU_0, Array
from tests.physics.field.motors import MM, linear

DATA = Path(__file__).parent / "data"
SCALE = {"mm": 1e-3, "mH": 1e-3, "µWb": 1e-6, "N": 1.0, "A": 1.0, "dB": 1.0, "1": 1.0}


def columns(name: str) -> dict[str, Array]:
    """Each column of a file by its head, without that of the sources."""
    with (DATA / f"{name}.csv").open(encoding="utf8", newline="") as file:
        heads, units, *rows = csv.reader(file)
    return {
        head: SCALE[unit] * np.array([float(row[k]) for row in rows])
        for k, (head, unit) in enumerate(zip(heads, units, strict=True))
        if unit != "-"
    }


def moving_coil(x: float = 0.0) -> tuple[tuple[Ring, ...], Winding]:
    """The motor of the two moving_coil tables: its rings, and the coil at x, positive inwards.

    Printed: core, gap, magnet, tube, turns; the rest is scaled from the figure. The magnet is bonded neodymium, 0.58 T
    and 400 kA/m; the steel takes mu_r = 1000 throughout.
    """
    steel = linear(1000)
    rings = (
        Ring("core", 0.0, 12.5 * MM, 0.0, 30 * MM, steel),
        Ring("base", 0.0, 23 * MM, 30 * MM, 40 * MM, steel),
        Ring("tube", 19 * MM, 23 * MM, 0.0, 30 * MM, steel),
        Ring("magnet", 15.5 * MM, 19 * MM, 0.0, 20 * MM, magnet=Magnet(0.58, 0.58 / (MU_0 * 400e3), "in")),
    )
    return rings, Winding(13 * MM, 15 * MM, 4 * MM + x, 16 * MM + x, 140)

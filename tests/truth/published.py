"""Columns of numbers that others have published, in SI units; each file says where they are from."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

from handwound.physics.field.bh import Array

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

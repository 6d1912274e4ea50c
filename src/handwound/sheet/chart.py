"""Temperatures over time as plain letters: for a terminal, a pipe, a letter, a printer that knows no more."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor
from typing import TYPE_CHECKING

import numpy as np

from handwound.sheet.heat_limits import MARKS, degrees, duration
from handwound.sheet.warming import Curve

if TYPE_CHECKING:
    from handwound.parts.prediction import Array

HIGH = 15
"""About so many lines high is the drawing, its axis left out."""
STEPS = (1, 2, 5, 10, 20, 50, 100, 200)
"""Kelvins from number to number of the scale: the first that needs no more numbers than are easily read."""
NUMBERS = 8
NOISE = 1e-6
"""What the scale need not hold. [K]"""
EDGE = 5
"""Signs before the drawing: the numbers of the scale and its line."""


def chart(t_w: Array, curves: Sequence[Curve], limit: float | None, wide: int) -> str:
    """The curves, the later ones on top, a limit as a dashed line, under them the times and what each letter is."""
    values = [float(T) for each in curves for T in (np.min(each.T), np.max(each.T))] + ([limit] if limit else [])
    step, low, high = _scale(min(values), max(values))
    rows = HIGH // ((high - low) // step) * ((high - low) // step) + 1
    t = np.geomspace(t_w[1], t_w[-1], wide - EDGE)  # the first instant is that of switching on
    grid = [[" "] * len(t) for _ in range(rows)]

    def line(T: float) -> int:
        return min(max(round((rows - 1) * (high - T) / (high - low)), 0), rows - 1)

    if limit:
        grid[line(limit)] = ["-" if k % 2 else " " for k in range(len(t))]
    for each in curves:
        for k, T in enumerate(np.interp(t, t_w, each.T)):
            grid[line(float(T))][k] = each.sign
    scale = {line(T): f"{T:.0f}" for T in range(low, high + 1, step)}
    lines = [f"{scale.get(k, ''):>{EDGE - 2}} |{''.join(row).rstrip()}" for k, row in enumerate(grid)]
    return "\n".join([*lines, *_times(t)])


def _scale(least: float, most: float) -> tuple[int, int, int]:
    """Step, lowest and highest number of the scale; what no one sees does not make it longer."""
    for step in STEPS:
        low, high = step * floor((least + NOISE) / step), step * ceil((most - NOISE) / step)
        if high <= low + step * (NUMBERS - 1):
            break
    return step, low, max(high, low + step)


def key(curves: Sequence[Curve], limit: float | None) -> str:
    """What each letter is, and where it ends."""
    told = [f"{each.name} {degrees(each.T[-1])} ({each.sign})" for each in curves]
    dashed = [f"your touch limit {degrees(limit)} (- -)"] if limit else []
    return f"°C over time, in the end: {', '.join([*told, *dashed])}."


def _times(t: Array) -> list[str]:
    """The axis with a tick at each mark, and the words below, those left out that would touch the one before."""
    axis, words = ["-"] * len(t), ""
    for mark in (m for m in MARKS if t[0] <= m <= t[-1] * (1 + 1e-9)):
        k = int(np.argmin(np.abs(np.log(t / mark))))
        text = duration(mark)
        begin = min(k, len(t) - len(text))
        if not words or begin > len(words):
            axis[k] = "+"
            words = words.ljust(begin) + text
    return [" " * (EDGE - 1) + "+" + "".join(axis), " " * EDGE + words]

"""Strips cut from the sheets at hand, which tell by a ruler how stiff they are, while there is still sheet to cut."""

from __future__ import annotations

from collections.abc import Callable

from handwound.parts.prediction import Band
from handwound.parts.sheet import Sheet
from handwound.physics.suspension import droop_modulus, strip_modulus
from handwound.quantities import Num
from handwound.sheet.bands import half
from handwound.sheet.build.operation import Build, Check
from handwound.sheet.digits import with_band
from handwound.sheet.said import mm, say, show

LOADS = (0.010, 0.020, 0.050, 0.100, 0.200, 0.500)
"""Weights to lay on a cone or to hang on a strip: common practice. [kg]"""
STRIPS, DROOP = (0.05, 0.07, 0.1, 0.15, 0.2), 4e-3
"""Free lengths of a strip of card, and how far its end must sink for a ruler to tell. [m] Common practice."""
STRIP, STRETCH = (0.06, 0.02), 1e-3
"""Length and width of a strip of foam, and how much longer a weight must make it. [m] Common practice."""


def strips(build: Build) -> tuple[Check, ...]:
    """One strip of each sheet that bends or is stretched."""
    design = build.design
    firm, spider = design.diaphragm.sheet, design.spider.sheet if design.spider else None
    soft = {each.name: each for each in (design.surround.sheet, spider) if each and each.name != firm.name}
    return _droops(firm), *(_stretches(each) for each in soft.values())


def _droops(sheet: Sheet) -> Check:
    """A strip of card or paper that sinks by its own weight, long enough to be read."""

    def sinks(long: float, E: Num) -> float:
        return float(droop_modulus(long, sheet.t, sheet.rho_A, 1.0) / E)

    long = next((long for long in STRIPS if sinks(long, sheet.E) >= DROOP), STRIPS[-1])
    return Check(
        say(
            "{sheet}: droop of the end of a strip held level, {l_strip} of it free", sheet=sheet.name,
            l_strip=show("l_strip", long),
        ),
        with_band("droop", _over(sheet, lambda E: sinks(long, E))),
        say("Stiffer than planned. Enter it in the stock, predict again."),
        say("Softer than planned: it bends sooner. Enter it in the stock, predict again."),
    )  # fmt: skip


def _stretches(sheet: Sheet) -> Check:
    """A strip of foam, rubber or cloth with a weight on it, heavy enough to be read."""
    long, wide = STRIP
    size = {"sheet": sheet.name, "w_strip": mm("w_strip", wide), "l_strip": mm("l_strip", long)}
    if not sheet.E:
        what = say("{sheet}: stretch of a strip of {w_strip} × {l_strip} mm, after a minute under a weight", **size)
        return Check(what, "", "", "")

    def longer(load: float, E: Num) -> float:
        return float(strip_modulus(long, wide, sheet.t, 1.0, load) * sheet.k_dyn / E)

    load = next((load for load in LOADS if longer(load, sheet.E) >= STRETCH), LOADS[-1])
    return Check(
        say(
            "{sheet}: stretch of a strip of {w_strip} × {l_strip} mm, after a minute under {load}", **size,
            load=show("load", load),
        ),
        with_band("stretch", _over(sheet, lambda E: longer(load, E))),
        say("Stiffer than planned: it rings higher. Enter it in the stock, predict again, before you cut it."),
        say("Softer than planned: it rings lower. Enter it in the stock, predict again, before you cut it."),
    )  # fmt: skip


def _over(sheet: Sheet, read: Callable[[Num], float]) -> Band:
    """What is read over the doubt of the sheet's stiffness: a softer one gives more."""
    E = float(sheet.E)
    wide = min(half(sheet, "E"), 0.9 * E)
    return Band(read(E), read(E + wide), read(E - wide), read(E))

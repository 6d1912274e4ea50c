"""Strips cut from the sheets at hand, which tell by a ruler how stiff they are, while there is still sheet to cut."""

from __future__ import annotations

from handwound.parts.sheet import Sheet
from handwound.physics.suspension import droop_modulus, strip_modulus
from handwound.sheet.build.operation import Build
from handwound.sheet.said import Said, mm, say, show

LOADS = (0.010, 0.020, 0.050, 0.100, 0.200, 0.500)
"""Weights to lay on a cone or to hang on a strip: common practice. [kg]"""
STRIPS, DROOP = (0.05, 0.07, 0.1, 0.15, 0.2), 4e-3
"""Free lengths of a strip of card, and how far its end must sink for a ruler to tell. [m] Common practice."""
STRIP, STRETCH = (0.06, 0.02), 1e-3
"""Length and width of a strip of foam, and how much longer a weight must make it. [m] Common practice."""


def stretched(build: Build) -> tuple[Said, ...]:
    """One strip of each sheet."""
    design = build.design
    firm, spider = design.diaphragm.sheet, design.spider.sheet if design.spider else None
    soft = {each.name: each for each in (design.surround.sheet, spider) if each and each.name != firm.name}
    return _droops(firm), *(_stretches(each) for each in soft.values())


def _droops(sheet: Sheet) -> Said:
    """A strip of card or paper that sinks by its own weight, long enough to be read."""

    def sinks(long: float) -> float:
        return float(droop_modulus(long, sheet.t, sheet.rho_A, 1.0) / sheet.E)

    long = next((long for long in STRIPS if sinks(long) >= DROOP), STRIPS[-1])
    return say(
        "Cut a strip of {sheet} with {l_strip} free, hold it level at one end: the other sinks about {droop} (droop).",
        sheet=sheet.name, l_strip=show("l_strip", long), droop=show("droop", sinks(long), 2),
    )  # fmt: skip


def _stretches(sheet: Sheet) -> Said:
    """A strip of foam, rubber or cloth with a weight on it, heavy enough to be read."""
    long, wide = STRIP
    size = {"sheet": sheet.name, "w_strip": mm("w_strip", wide), "l_strip": mm("l_strip", long)}
    if not sheet.E:
        return say(
            "Cut a strip of {sheet}, {w_strip} × {l_strip} mm, hang a weight on it, read after a minute how far it "
            "stretches.", **size,
        )  # fmt: skip

    def longer(load: float) -> float:
        return float(strip_modulus(long, wide, sheet.t, 1.0, load) * sheet.k_dyn / sheet.E)

    load = next((load for load in LOADS if longer(load) >= STRETCH), LOADS[-1])
    return say(
        "Cut a strip of {sheet}, {w_strip} × {l_strip} mm, hang {load} on it: after a minute it is about {stretch} "
        "longer (stretch).", **size, load=show("load", load), stretch=show("stretch", longer(load), 2),
    )  # fmt: skip

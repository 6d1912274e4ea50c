"""Lines of glue and small masses in the words of the build."""

from __future__ import annotations

from handwound.masses import bond_mass
from handwound.sheet.build.operation import Build
from handwound.sheet.digits import with_band
from handwound.sheet.numbers import band
from handwound.sheet.said import mm, show

WHERE = {
    "neck": "round the neck", "rim": "round the rim", "cap": "under the cap", "seam": "along the seam",
    "spider": "round the spider", "coil": "over the winding",
}  # fmt: skip
"""Where each line of glue lies."""


def weighs(build: Build, name: str, words: str) -> str:
    """What a small mass of the build is expected to weigh."""
    return f", {words} {with_band(name, band(build.prediction, f'moving.{name}'))}"


def glued(build: Build, *places: str) -> tuple[str, ...]:
    """The lines of glue at some places, each with what it weighs when cured."""
    design, found = build.design, []
    for bond in (bond for bond in design.bonds if bond.at in places):
        wide = f"{mm('w_bond', bond.w_bond)} wide, " if bond.w_bond is not None else ""
        m = show("m_g", float(bond_mass(design, bond, build.prediction.voice_winding)), 2)
        found.append(
            f"Glue {WHERE[bond.at]}: {bond.glue.name}, {wide}{mm('t_bond', bond.t_bond)} thick (mm), {m} when cured."
        )
    return tuple(found)

"""How far up a diaphragm moves as a whole, and how that answers what it is made of: a law for its draws."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound import suspension
from handwound.cone import whole
from handwound.kept import stage
from handwound.parts.design import Design
from handwound.parts.prediction import Moving
from handwound.parts.sound import Stiff
from handwound.physics import air
from handwound.quantities import Num

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

ROUGH = 5e3
"""Up to here a coarser shell is followed first. [Hz]"""
TABLES = {"E": (0.35, 0.46, 0.6, 0.77, 1.0, 1.3, 1.68, 2.2, 2.8), "K_s": (0.3, 0.55, 1.0, 1.8, 3.3)}
"""Factors on the modulus of the diaphragm and on the stiffness of the surround at which it is solved."""
ASIDE = 1.15
"""Factor on a number by which its power is taken."""


def piston_to(design: Design, moving: Moving, fs: float, rho_0: float, c_0: float) -> float:
    """How far up the diaphragm moves as a whole, by a coarser shell where that is not very far. [Hz]"""
    return whole(design, moving, ROUGH).piston_to(fs, rho_0, c_0) or whole(design, moving).piston_to(fs, rho_0, c_0)


class StiffLaw(NamedTuple):
    r"""How far up the diaphragm of a design moves as a whole, and how that answers what it is made of.

    .. math:: \ln f = L_E(\ln E) + L_K(\ln K_s) + \sum_j n_j \ln (x_j / x_{j,0}), \quad x_j = t, h_c, m_s

    Over the moduli of diaphragm and surround, which are known least, it climbs and falls in steps, as one note of the
    surround after the other is passed: so it is solved at several of each, and straight between them; beyond the last
    it stays as there. Thickness, depth and the surround's mass follow a power law. Glue and lap are as told.
    """

    at: dict[str, float]
    seen: dict[str, tuple[Array, Array]]
    powers: dict[str, float]

    def of(self, design: Design, moving: Moving) -> Stiff:
        """With other numbers, or with draws of them."""
        now = _asked(design, moving)
        f: Num = self.at["f"]
        for name, (x, f_x) in self.seen.items():
            f = f * np.exp(np.interp(np.log(now[name]), np.log(x), np.log(f_x))) / self.at["f"]
        for name, power in self.powers.items():
            f = f * (now[name] / self.at[name]) ** power
        return Stiff(f_stiff=f)


def _asked(design: Design, moving: Moving) -> dict[str, Num]:
    """The numbers that the law hangs on."""
    part = design.diaphragm
    K_s = suspension.surround_stiffness(design.surround)
    return {"E": part.sheet.E, "K_s": K_s, "t": part.sheet.t, "h_c": part.h_c, "m_s": moving.m_s}


@stage
def stiff_law(design: Design, moving: Moving, fs: float, T_room: float) -> StiffLaw:
    """The law about a design with plain numbers, its solutions found as many at once as there are processors."""
    rho_0, c_0, now = float(air.density(T_room)), float(air.speed(T_room)), _asked(design, moving)
    tried = [(name, factor) for name, factors in TABLES.items() for factor in factors]
    tried += [(name, ASIDE) for name in ("t", "h_c", "m_s") if now[name]]

    def limit(change: tuple[str, float]) -> float:
        return piston_to(*_changed(design, moving, *change), fs, rho_0, c_0)

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        f = dict(zip(tried, pool.map(limit, tried), strict=True))
    at = {name: float(value) for name, value in now.items()} | {"f": f["E", 1.0]}
    seen = {
        name: (at[name] * np.array(factors), np.array([f[name, factor] for factor in factors]))
        for name, factors in TABLES.items()
    }
    powers = {name: float(np.log(f[name, ASIDE] / at["f"]) / np.log(ASIDE)) for name, k in tried if name not in TABLES}
    return StiffLaw(at, seen, powers)


def _changed(design: Design, moving: Moving, name: str, k: float) -> tuple[Design, Moving]:
    """A design with one number of the law so many times as large."""
    part, surround = design.diaphragm, design.surround
    if name == "m_s":
        more = moving.m_s * (k - 1)
        sheet = replace(surround.sheet, rho_A=surround.sheet.rho_A * k)
        heavier = replace(moving, m_s=moving.m_s + more, Mmd=moving.Mmd + more)
        return replace(design, surround=replace(surround, sheet=sheet)), heavier
    if name == "K_s":
        K_s = float(suspension.surround_stiffness(surround)) * k
        return replace(design, surround=replace(surround, K_s=K_s)), moving
    if name == "h_c":
        return replace(design, diaphragm=replace(part, h_c=part.h_c * k)), moving
    sheet = replace(part.sheet, **{name: getattr(part.sheet, name) * k})
    return replace(design, diaphragm=replace(part, sheet=sheet)), moving

"""What the moving parts weigh, part by part: as weighed, or from their sheets and their lines of glue.

With arrays in place of numbers each answers for all candidates or draws at once. The wire's mass is its winding's, the
shares of surround and spider are their stiffness's neighbours.
"""

from __future__ import annotations

from collections.abc import Collection
from math import pi
from typing import NamedTuple

import numpy as np

from handwound.parts.design import Design
from handwound.parts.moving import BONDS, Bond, Cap, Diaphragm
from handwound.parts.prediction import Winding
from handwound.physics import masses
from handwound.quantities import Num

LATE = ("rim", "spider")
"""Where glue lies that comes after all that moves was weighed."""
LAP = 5e-3
"""Width of the lap of a surround on a diaphragm where nothing is told: common practice, no source. [m]"""


class Budget(NamedTuple):
    """Masses beside those of wire, suspension and air. [kg]"""

    m_d: Num
    m_cap: Num
    m_rib: Num
    m_g: Num
    m_f: Num
    m_bits: Num


def budget(design: Design, voice_wound: Winding) -> Budget:
    """Everything that moves wholly, without the wire."""
    coil, diaphragm = design.voice_coil, design.diaphragm
    return Budget(
        m_d=diaphragm_mass(diaphragm),
        m_cap=cap_mass(design.cap) if design.cap else 0.0,
        m_rib=rib_mass(diaphragm),
        m_g=glue_mass(design, voice_wound),
        m_f=masses.strip_mass(coil.D_fi, coil.t_f, coil.l_f, coil.former.rho_A),
        m_bits=sum((bit.m for bit in design.bits), start=0.0),
    )


def diaphragm_mass(diaphragm: Diaphragm) -> Num:
    """Mass of the bare diaphragm: as weighed, or from its sheet. [kg]"""
    if diaphragm.m_d is not None:
        return diaphragm.m_d
    d_in, d_out, rho_A = diaphragm.d_in, diaphragm.d_out, diaphragm.sheet.rho_A
    if diaphragm.form == "disc":
        return masses.ring_mass(d_in, d_out, rho_A)
    if diaphragm.form == "dome":
        return masses.dome_mass(d_in, d_out, diaphragm.h_c, rho_A)
    return masses.cone_mass(d_in, d_out, diaphragm.h_c, diaphragm.w_seam, rho_A)


def cap_mass(cap: Cap) -> Num:
    """Mass of what closes the middle: as weighed, or from its sheet. [kg]"""
    if cap.m_cap is not None:
        return cap.m_cap
    if cap.form == "disc":
        return masses.ring_mass(0.0, cap.d_out, cap.sheet.rho_A)
    return masses.dome_mass(0.0, cap.d_out, cap.h_c, cap.sheet.rho_A)


def rib_mass(diaphragm: Diaphragm) -> Num:
    """Mass of the ribs, along the slope of what they stand on. [kg]"""
    ribs = diaphragm.ribs
    if ribs is None:
        return 0.0
    climb = diaphragm.rise(ribs.d_out) - diaphragm.rise(ribs.d_in)
    return masses.rib_mass(ribs.n_rib, ribs.h_rib, ribs.d_in, ribs.d_out, climb, ribs.sheet.rho_A)


def lap_width(design: Design) -> float:
    """How far the surround laps over the diaphragm: as wide as their glue. [m]"""
    return float(np.mean(_lap(design)))


def lap_mass(design: Design) -> Num:
    """Mass of the surround where it lies glued on the diaphragm, and moves wholly. [kg]"""
    lap, surround = _lap(design), design.surround
    return masses.ring_mass(surround.d_in - 2 * lap, surround.d_in, surround.sheet.rho_A)


def _lap(design: Design) -> Num:
    told = [bond.w_bond for bond in design.bonds if bond.at == "rim" and bond.w_bond is not None]
    return told[0] if told else LAP


def glue_mass(design: Design, wound: Winding, places: Collection[str] = BONDS) -> Num:
    """Mass of all lines of glue, or of those at some places. [kg]"""
    return sum((bond_mass(design, bond, wound) for bond in design.bonds if bond.at in places), start=0.0)


def bond_mass(design: Design, bond: Bond, wound: Winding) -> Num:
    """Mass of one line of glue. [kg]"""
    w_bond = design.voice_coil.h_w if bond.w_bond is None else bond.w_bond
    return masses.bond_mass(_length(design, bond, wound), w_bond, bond.t_bond, bond.glue.rho_m)


def _length(design: Design, bond: Bond, wound: Winding) -> Num:
    """How long a line of glue is. [m]"""
    diaphragm, cap = design.diaphragm, design.cap
    if bond.at == "seam":
        return np.hypot((diaphragm.d_out - diaphragm.d_in) / 2, diaphragm.h_c)
    round_of = {"rim": diaphragm.d_out, "cap": cap.d_out if cap else 0.0, "coil": wound.D_w}
    return pi * round_of.get(bond.at, design.voice_coil.D_f)

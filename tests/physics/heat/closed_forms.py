"""Heat on its way through solid matter by formulas of textbooks (from memory): what the nodes are held against."""

from __future__ import annotations

import numpy as np


def slab_hot_spot(q_v: float, t: float, k_th: float) -> float:
    """How much hotter a slab of thickness ``t`` that makes ``q_v`` W/m³ is in its middle than at its cool faces. [K]"""
    return q_v * t**2 / (8 * k_th)


def ring_hot_spot(q_v: float, k_th: float, r_in: float, r_out: float) -> tuple[float, float]:
    """How much hotter a ring that makes heat is inside than at its two equally cool round faces, and where. [K], [m]"""
    r_hot = np.sqrt((r_out**2 - r_in**2) / (2 * np.log(r_out / r_in)))
    return q_v / (4 * k_th) * (2 * r_hot**2 * np.log(r_hot / r_in) - (r_hot**2 - r_in**2)), r_hot


def ring_mean_rise(q_v: float, k_th: float, r_in: float, r_out: float) -> float:
    """The same on the mean of its volume, as a meter finds it from the resistance of a winding. [K]"""
    return q_v / (8 * k_th) * (r_out**2 + r_in**2 - (r_out**2 - r_in**2) / np.log(r_out / r_in))


def R_radial(r_in: float, r_out: float, k_th: float, height: float) -> float:
    """Thermal resistance of a ring along its radius. [K/W]"""
    return np.log(r_out / r_in) / (2 * np.pi * k_th * height)


def R_axial(r_in: float, r_out: float, length: float, k_th: float) -> float:
    """Thermal resistance of a ring along its axis; ``r_in`` is 0 for a bar. [K/W]"""
    return length / (np.pi * k_th * (r_out**2 - r_in**2))


def lumped_rise(t_s: float, tau_T: float, dT_end: float) -> float:
    """How warm one lump has become after ``t_s`` seconds: Newton's law of cooling. [K]"""
    return dT_end * -np.expm1(-t_s / tau_T)


def adiabatic_rate(J: float, rho: float, rho_m: float, c_p: float) -> float:
    """How fast a wire with a current density ``J`` warms as long as it gives off nothing. [K/s]"""
    return rho * J**2 / (rho_m * c_p)


def discs(r_1: float, r_2: float, d: float) -> float:
    """What a disc sees of another on the same axis, parallel to it: a table of view factors."""
    X = 1 + (d**2 + r_2**2) / r_1**2
    return float((X - np.sqrt(X**2 - 4 * (r_2 / r_1) ** 2)) / 2)


def rings(r_in: float, r_out: float, d: float) -> float:
    """What two equal flat rings face to face see of each other, straight across their hole as well: sums of discs."""
    outer, inner = r_out**2 * discs(r_out, r_out, d), r_in**2 * discs(r_in, r_in, d)
    return (outer - 2 * r_out**2 * discs(r_out, r_in, d) + inner) / (r_out**2 - r_in**2)

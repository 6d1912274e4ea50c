"""Closed forms of a driver that computed curves are held against, written down without the house's own functions."""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy.special import j1, struve


def one_side(f: Any, a: float, Sd: float, rho_0: float, c_0: float) -> Any:
    """Air on one side of a piston in a wall without end, over its velocity: Rayleigh, The Theory of Sound, § 302 (from
    memory). [kg/s]"""
    x = 4 * np.pi * f * a / c_0
    return rho_0 * c_0 * Sd * (1 - 2 * j1(x) / x + 2j * struve(1, x) / x)


def mass_on_a_spring(f: Any, Mmd: Any, Rms: Any, Kms: Any) -> Any:
    """Newton's law, over the velocity. [kg/s]"""
    return Rms + 1j * (2 * np.pi * f * Mmd - Kms / (2 * np.pi * f))


def in_a_wall(
    f: Any, U: float, Re: Any, Bl: Any, Mmd: Any, Rms: Any, Kms: Any, a: Any, Sd: Any, rho_0: Any, c_0: Any, r: float,
    Z_b: Any = 0.0,
) -> tuple[Any, Any]:  # fmt: skip
    """Impedance and level on the axis of a rigid driver, both sides free: Beranek, Acoustics (from memory)."""
    Z_m = mass_on_a_spring(f, Mmd, Rms, Kms) + 2 * one_side(f, a, Sd, rho_0, c_0)
    Z = Re + Z_b + Bl**2 / Z_m
    return Z, 20 * np.log10(rho_0 * f * Sd * np.abs(Bl * U / (Z * Z_m)) / (r * 20e-6))


def high_pass(f: Any, f_0: float, Q: float) -> Any:
    """Of second order, as all drivers are in a wall or a closed box: Small 1972 (from memory)."""
    s = 1j * f / f_0
    return s**2 / (s**2 + s / Q + 1)


def level(f: Any, f_0: float, Q: float) -> Any:
    """The same in decibels."""
    return 20 * np.log10(np.abs(high_pass(f, f_0, Q)))


def low_end(f_0: float, Q: float) -> tuple[float, float]:
    """Where it is 3.01 dB down, and how far it rises above nought: Small 1972 (from memory). [Hz], [dB]"""
    b = 1 / Q**2 - 2
    boom = 20 * np.log10(Q**2 / np.sqrt(Q**2 - 0.25)) if b < 0 else 0.0
    return float(f_0 * np.sqrt(b / 2 + np.sqrt(b**2 / 4 + 1))), float(boom)

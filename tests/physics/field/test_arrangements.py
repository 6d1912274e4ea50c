"""Balances that every arrangement must keep, bare and with a copper sleeve around its pole."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.materials import steels
from handwound.physics.field import FULL, Solution, Winding, solve
from tests.physics.field.motors import ARRANGEMENTS, MM, Built, Dims, built

DIMS = Dims(p=10, g=1.6, t=5, w=12, h=18, s=5, j=0.05, n=3)
EVERY = pytest.mark.parametrize(("arrangement", "sleeve"), [(a, s) for a in ARRANGEMENTS for s in ("", "copper")])
N = 60
STROKE = np.linspace(-3, 3, 7) * MM


def motor(arrangement: str, sleeve: str) -> Built:
    return built(arrangement, DIMS, steels.curve("mild_steel"), (0.4, 1.07), 1500.0, sleeve)


def driven(motor: Built, x: float, NI: float) -> Solution:
    """The motor without a field coil, its voice coil at x with a current; fine where the coil's own field bends."""
    r_in, r_out, z_lo, z_hi = motor.coil
    there = replace(motor.problem, winding=Winding(r_in, r_out, z_lo + x, z_hi + x, N))
    return solve(there, NI, order=4, fineness=replace(FULL, growth=1.6, outside=1.5, largest=0.1))


@EVERY
def test_force_factor_two_ways(arrangement, sleeve) -> None:
    """Kind of truth: balance. Bl = -dpsi/dx over the stroke, by differences over 2 µm, to 1e-5 of the greatest."""
    one = motor(arrangement, sleeve)
    found, step = solve(one.problem, one.NI), 1e-6
    Bl = found.Bl(*one.coil, N, STROKE)
    psi = found.linkage(*one.coil, N, np.stack([STROKE - step, STROKE + step]))
    assert np.abs(Bl).max() > 0.5
    assert (psi[0] - psi[1]) / (2 * step) == pytest.approx(Bl, abs=1e-5 * np.abs(Bl).max())


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_the_work_of_moving_the_coil_is_the_change_of_coenergy(arrangement) -> None:
    """Kind of truth: balance. By hand from 1 to 4 mm, 25 A held in the coil, to 2e-4.

    In a motor without magnets the whole pull is that of the coil's own field in the iron.
    """
    one, NI = motor(arrangement, "copper"), 25.0 * N
    gauss, weight = np.polynomial.legendre.leggauss(4)
    fields = [driven(one, x, NI) for x in (2.5 + 1.5 * np.array([-1, *gauss, 1])) * MM]
    force = [-NI / N * float(each.Bl(*each.problem.winding.rectangle, N)) for each in fields[1:-1]]
    work = float(force @ weight) * 1.5 * MM
    gain = fields[-1].coenergy() - fields[0].coenergy()
    assert abs(work) > 1e-3
    assert gain == pytest.approx(work, rel=2e-4)

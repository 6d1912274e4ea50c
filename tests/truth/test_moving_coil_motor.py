"""A motor with a radially magnetised ring whose force and inductance were published over position and current."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from handwound.physics.field import Problem, Solution, solve
from tests.truth import published

MM = 1e-3
N, MOST = 140, 3.0  # turns, and the current of the table over positions
POSITIONS, CURRENTS = published.columns("moving_coil_positions"), published.columns("moving_coil_currents")


@cache
def field(x: float, current: float) -> Solution:
    """The coil at x with its current."""
    rings, coil = published.moving_coil(x)
    return solve(Problem(rings, coil), N * current)


def Bl(solution: Solution) -> float:
    """Force on the coil along x for one ampere, in the field that its own current helps to make."""
    coil = solution.problem.winding
    assert coil is not None
    return -float(solution.Bl(*coil.rectangle, N))


@pytest.mark.parametrize("k", range(17), ids=[f"{x / MM:g} mm" for x in POSITIONS["x"]])
def test_over_positions(k) -> None:
    """Kind of truth: printed example, there a finite element solution. Force at -3 A and inductance to 2 %."""
    x, F, L = (float(POSITIONS[column][k]) for column in ("x", "F", "L"))
    assert -MOST * Bl(field(x, -MOST)) == pytest.approx(F, rel=0.02)
    assert field(x, 0.0).L_differential() == pytest.approx(L, rel=0.02)


@pytest.mark.parametrize("current", CURRENTS["I"][CURRENTS["I"] != 0])
def test_over_currents(current) -> None:
    """Kind of truth: printed example. The force at x = 0 to 2 %."""
    F = float(CURRENTS["F"][CURRENTS["I"] == current][0])
    assert current * Bl(field(0.0, current)) == pytest.approx(F, rel=0.02)


def test_force_factor_and_reluctance_force() -> None:
    """Kind of truth: printed example. F = Bl i + 1/2 i² dL/dx, taken apart as parts odd and even in the current.

    Bl at rest 3.788 N/A and 1/2 dL/dx 0.1904 N/A² (both fitted to the printed forces) to 2 %; with that L the printed
    forces give Bl(x) / Bl(0), held to 1 %.
    """
    even, odd, _ = np.polyfit(CURRENTS["I"], CURRENTS["F"], 2)
    assert (even, odd) == pytest.approx((0.1904, 3.7884), rel=1e-3)
    own = np.array([MOST * Bl(field(0.0, MOST)), -MOST * Bl(field(0.0, -MOST))])
    assert Bl(field(0.0, 0.0)) == pytest.approx(odd, rel=0.02)
    assert own.sum() / (2 * MOST**2) == pytest.approx(even, rel=0.02)
    x = POSITIONS["x"]
    half_slope = np.polyfit(x, POSITIONS["L"], 1)[0] / 2
    printed = (half_slope * MOST**2 - POSITIONS["F"]) / MOST
    found = np.array([Bl(field(float(each), 0.0)) for each in x])
    assert found / found[8] == pytest.approx(printed / printed[8], rel=0.01)


def test_force_is_the_change_of_coenergy() -> None:
    """Kind of truth: balance. At 3 A the pull on the coil is dW'/dx, by two fields 0.2 mm apart, to 2e-4."""
    step = 0.1 * MM
    back, forth = (field(d, MOST).coenergy() for d in (-step, step))
    assert (forth - back) / (2 * step) == pytest.approx(MOST * Bl(field(0.0, MOST)), rel=2e-4)

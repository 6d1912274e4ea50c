"""First-order answers to small changes, against real solves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.materials import steels
from handwound.physics.field import FULL, Problem, Solution, sensitivity, solve
from handwound.physics.field.newton import Newton
from handwound.physics.field.system import System
from tests.physics.field.motors import COIL, MM, changed, pot

N = 80
FINE = replace(FULL, edge=0.015, zone=0.004)


def shifted(problem: Problem, by: float) -> Problem:
    winding = problem.winding
    return replace(problem, winding=replace(winding, z_lo=winding.z_lo + by * MM, z_hi=winding.z_hi + by * MM))


def softer(problem: Problem, k_B: float) -> Problem:
    return replace(problem, rings=tuple(replace(ring, curve=ring.curve.scaled(k_B)) for ring in problem.rings))


JOINT = 0.1
CHANGES = {
    "plate's hole": changed(pot(JOINT), "top", r_in=0.01),
    "pole": changed(pot(JOINT), "pole", r_out=-0.01),
    "joints": pot(JOINT + 0.004),
    "wall": changed(pot(JOINT), "wall", r_in=0.1),
    "steel": softer(pot(JOINT), 0.94),
    "winding": shifted(pot(JOINT), 0.3),
}


@pytest.fixture(scope="module")
def found() -> Solution:
    return solve(pot(JOINT), 1200.0)


@pytest.fixture(scope="module")
def response(found):
    return sensitivity(found, COIL, tuple(CHANGES.values()), N)


def on_moved_grid(solution: Solution, problem: Problem) -> Solution:
    r, z, bend = solution.grid.moved(problem)
    system = System(problem, r, z, solution.system.spans, 3, bend)
    return Solution.of(problem, solution.NI, solution.grid, system, Newton(system).solve(solution.A.ravel(), 1200.0).A)


def test_the_unchanged_values_are_the_solutions(found, response) -> None:
    assert response.Bl_0 == pytest.approx(float(found.Bl(*COIL, N)), rel=1e-12)
    assert response.psi_0 == pytest.approx(float(found.linkage(*COIL, N)), rel=1e-12)
    assert response.by == ("first order", "first order", "first order", "first order", "solved", "first order")


@pytest.mark.parametrize("name", CHANGES)
def test_against_solves_on_the_moved_grid(found, response, name) -> None:
    """Kind of truth: second method, real solves. To first order: within 4 % of the change, for one grid moved along."""
    k = list(CHANGES).index(name)
    real = on_moved_grid(found, CHANGES[name])
    noise = 2e-5  # of Bl: what the grid itself makes of being stretched
    for dq, before, after in (
        (response.Bl[k], response.Bl_0, float(real.Bl(*COIL, N))),
        (response.psi[k], response.psi_0, float(real.linkage(*COIL, N))),
    ):
        assert dq == pytest.approx(after - before, rel=0.04, abs=noise * abs(before))


@pytest.mark.parametrize("name", CHANGES)
def test_against_fresh_solves(response, name) -> None:
    """Kind of truth: second method. Both motors anew on fine grids of their own."""
    k = list(CHANGES).index(name)
    real = [float(solve(p, 1200.0, fineness=FINE).Bl(*COIL, N)) for p in (pot(JOINT), CHANGES[name])]
    assert response.Bl[k] == pytest.approx(real[1] - real[0], rel=0.05, abs=1e-4 * real[0])


def test_the_error_is_of_second_order(found) -> None:
    """Kind of truth: convergence. Half the change, a quarter of the error."""
    errors = []
    for change in (0.04, 0.02):
        problem = changed(pot(JOINT), "top", r_in=change)
        first = sensitivity(found, COIL, (problem,), N)
        errors.append(abs(float(on_moved_grid(found, problem).Bl(*COIL, N)) - first.Bl_0 - first.Bl[0]))
    assert errors[0] / errors[1] == pytest.approx(4, rel=0.15)


def test_edges_that_part_are_solved(found) -> None:
    """Kind of truth: second method. A plate higher by 0.2 mm than the pole it was level with, and a wider back."""
    motors = (changed(pot(JOINT), "top", z_hi=0.2), changed(pot(JOINT), "back", r_out=0.5))
    answer = sensitivity(found, COIL, motors, N)
    assert answer.by == ("solved", "solved")
    fine = [float(solve(p, 1200.0, fineness=FINE).Bl(*COIL, N)) for p in (pot(JOINT), *motors)]
    assert answer.Bl == pytest.approx(np.array(fine[1:]) - fine[0], rel=0.05, abs=1e-4 * fine[0])


def test_no_change_is_no_change(found) -> None:
    answer = sensitivity(found, COIL, (pot(JOINT),), N)
    assert answer.Bl[0] == 0 and answer.psi[0] == 0
    assert sensitivity(found, COIL, (), N).Bl.shape == (0,)


def test_another_steel_and_a_moved_edge_are_added(found) -> None:
    """Kind of truth: balance. Both at once are told as both, and as the sum of each alone."""
    edge = changed(pot(JOINT), "back", z_lo=-0.1)
    stuff, both = (
        replace(motor, rings=tuple(replace(ring, curve=steels.curve("team13")) for ring in motor.rings))
        for motor in (pot(JOINT), edge)
    )
    answer = sensitivity(found, COIL, (edge, stuff, both), N)
    assert answer.by == ("first order", "solved", "both")
    assert answer.Bl[2] == pytest.approx(answer.Bl[0] + answer.Bl[1], rel=1e-9)

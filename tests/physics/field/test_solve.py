"""The solver's own laws: convergence, energy, box, sweeps, repeatability, refusals."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import FULL, SEARCH, Fineness, Problem, Ring, Winding, newton, solve, sweep
from tests.physics.field.motors import COIL, MM, SPOOL_COIL, motor, pot, spool

STROKE = np.linspace(-3, 3, 7) * MM


def halved(fineness: Fineness, share: float) -> Fineness:
    return replace(
        fineness, edge=fineness.edge * share, zone=fineness.zone * share, largest=fineness.largest * share,
        growth=fineness.growth**share, outside=fineness.outside**share,
    )  # fmt: skip


def test_smaller_elements_converge() -> None:
    """Kind of truth: convergence. Steel corners limit the rate in h to about 4/3 whatever the degree."""
    coarse = Fineness(edge=0.1, zone=0.1, growth=2.5, outside=2.5)
    Bl = [float(solve(pot(), 800.0, fineness=halved(coarse, s)).Bl(*COIL, 80)) for s in (1, 0.5, 0.25, 0.125)]
    steps = np.abs(np.diff(Bl))
    assert steps[0] > 2 * steps[1] > 4 * steps[2]


@pytest.mark.parametrize(("order", "rate"), [(1, 2), (2, 4), (3, 4)])
def test_a_field_without_steel_converges_at_the_full_rate(order, rate) -> None:
    """Kind of truth: convergence. Energy gains 2^(2p) per halving, until the winding's corners limit it to 2^4."""
    problem, box = Problem((), Winding(10 * MM, 20 * MM, -8 * MM, 8 * MM, 1)), 4.0  # the same box for all
    exact = solve(problem, 1.0, order=6, fineness=Fineness(0.1, 0.1, 0.1, 1.1, 1.1, box)).L_static()
    uniform = [Fineness(s, s, s, 1.0001, 1.0001, box) for s in (0.2, 0.1)]
    errors = [abs(solve(problem, 1.0, order=order, fineness=f).L_static() - exact) for f in uniform]
    assert np.log2(errors[0] / errors[1]) > rate - 0.7


def test_higher_degree_converges() -> None:
    """Kind of truth: convergence in p on one grid."""
    fine = float(solve(pot(), 800.0, order=4, fineness=halved(FULL, 0.5)).Bl(*COIL, 80))
    errors = [abs(float(solve(pot(), 800.0, order=p, fineness=SEARCH).Bl(*COIL, 80)) / fine - 1) for p in (1, 2, 3)]
    assert errors[0] > 3 * errors[1] and errors[1] > 2 * errors[2]


@pytest.mark.parametrize(("problem", "coil"), [(pot(), COIL), (spool(), SPOOL_COIL)], ids=["pot", "spool"])
def test_the_defaults_keep_their_promise(problem, coil) -> None:
    """Kind of truth: convergence. SEARCH 0.5 %, FULL 0.05 % of Bl over the stroke on these two."""
    finest = replace(FULL, edge=0.006, zone=0.003, largest=0.15)
    exact = solve(problem, 1200.0, order=4, fineness=finest).Bl(*coil, 80, STROKE)
    for fineness, promise in ((SEARCH, 5e-3), (FULL, 5e-4)):
        found = solve(problem, 1200.0, fineness=fineness).Bl(*coil, 80, STROKE)
        assert np.abs(found / exact - 1).max() < promise


@pytest.mark.parametrize(("problem", "coil"), [(pot(), COIL), (spool(), SPOOL_COIL)], ids=["pot", "spool"])
def test_a_larger_box_changes_nothing(problem, coil) -> None:
    """Kind of truth: limit. Box of 10 against 25 motor sizes: below 3e-5 of Bl, closed and open motor."""
    near = solve(problem, 1200.0, fineness=FULL).Bl(*coil, 80, STROKE)
    far = solve(problem, 1200.0, fineness=replace(FULL, box=25.0)).Bl(*coil, 80, STROKE)
    assert np.abs(far / near - 1).max() < 3e-5


def test_the_field_takes_up_the_work_of_the_source() -> None:
    """Kind of truth: balance. dW = I dpsi and dW' = psi dI along the current, by Gauss's rule."""
    gauss, weight = np.polynomial.legendre.leggauss(16)
    low, high = 500.0, 2000.0
    inner = list((low + high) / 2 + (high - low) / 2 * gauss)
    first, *between, last = sweep(pot(), [low, *inner, high], fineness=SEARCH)
    per_turn = np.array([s.L_static() * s.NI for s in between]) / 800**2
    work = float(per_turn @ weight) * (high - low) / 2
    assert last.coenergy() - first.coenergy() == pytest.approx(work, rel=2e-4)
    slope = np.array([s.L_differential() for s in between]) / 800**2
    taken = float((np.array(inner) * slope) @ weight) * (high - low) / 2
    assert last.energy() - first.energy() == pytest.approx(taken, rel=5e-3)
    for s in (first, last):
        assert s.energy() + s.coenergy() == pytest.approx(s.NI**2 * s.L_static() / 800**2, rel=1e-12)


def test_without_steel_energy_is_half_L_i_squared() -> None:
    """Kind of truth: closed form. The part beyond the box is in it."""
    found = solve(Problem((), Winding(10 * MM, 16 * MM, 0, 20 * MM, 500)), 500.0)
    assert found.energy() == pytest.approx(found.L_static() / 2, rel=1e-9)
    assert found.L_differential() == pytest.approx(found.L_static(), rel=1e-9)


def test_a_sweep_is_the_same_as_single_solves() -> None:
    """Kind of truth: second method. The steel has no memory, and what comes out does not depend on the way there."""
    currents = [300.0, 900.0, 2500.0, -900.0, 0.0]
    for found in sweep(pot(), currents, fineness=SEARCH):
        alone = solve(pot(), found.NI, fineness=SEARCH)
        assert found.Bl(*COIL, 80) == pytest.approx(float(alone.Bl(*COIL, 80)), rel=1e-7, abs=1e-12)


def test_the_other_way_round_is_the_other_way_round() -> None:
    """Kind of truth: limit (symmetry). Turning the current turns the field."""
    forth, back = solve(pot(), 900.0, fineness=SEARCH), solve(pot(), -900.0, fineness=SEARCH)
    assert np.abs(back.A + forth.A).max() < 1e-7 * np.abs(forth.A).max()


def test_the_same_again_is_the_same_to_the_bit() -> None:
    one, two = (solve(spool(), 1000.0) for _ in range(2))
    assert np.array_equal(one.A, two.A)


def test_a_start_nearby_leads_to_the_same_field() -> None:
    first = solve(pot(), 800.0)
    same_grid = solve(pot(), 1000.0, first)
    other_grid = solve(pot(joint=0.05), 1000.0, first)
    assert same_grid.Bl(*COIL, 80) == pytest.approx(float(solve(pot(), 1000.0).Bl(*COIL, 80)), rel=1e-7)
    assert other_grid.Bl(*COIL, 80) == pytest.approx(float(solve(pot(joint=0.05), 1000.0).Bl(*COIL, 80)), rel=1e-7)


@pytest.mark.parametrize("steel", steels.names())
@pytest.mark.parametrize("NI", [1.0, 300.0, 20000.0])
def test_every_steel_settles_from_nothing(steel, NI) -> None:
    """From the first magnetisation to far beyond saturation."""
    found = solve(pot(joint=0.03, steel=steel), NI, fineness=SEARCH)
    assert np.isfinite(found.A).all()
    assert found.Bl(*COIL, 80) > 0


def test_a_thin_joint_costs_what_its_reluctance_says() -> None:
    """Kind of truth: limit. Ampere-turns for the same linkage rise by B g / mu_0 of the joints in series, about."""
    steel = "steel37"
    tight, loose = solve(pot(0.0, steel), 400.0), solve(pot(0.05, steel), 400.0)
    pole_flux = float(loose.flux([10 * MM], [6.025 * MM])[0, 0])
    wall_flux = pole_flux
    areas = np.pi * np.array([10**2, 28**2 - 24**2]) * MM**2
    drop = 0.05 * MM / (4e-7 * np.pi) * (pole_flux / areas[0] + wall_flux / areas[1])
    again = solve(pot(0.05, steel), 400.0 + drop)
    assert 0.05 < drop / 400 < 0.25
    assert again.gap_B(10.75 * MM, 26 * MM, 32 * MM) == pytest.approx(
        tight.gap_B(10.75 * MM, 26 * MM, 32 * MM), rel=0.01
    )


def test_no_iron_and_no_current_are_allowed() -> None:
    assert not solve(pot(), 0.0).A.any()
    assert solve(Problem((), Winding(0.01, 0.02, 0, 0.01, 1)), 1.0).L_static() > 0


def test_a_current_without_a_coil_is_refused() -> None:
    without = replace(pot(), winding=None)
    for ask in (lambda: solve(without, 100), lambda: sweep(without, [0.0, 100.0])):
        with pytest.raises(FieldError, match="must be 0 in a motor without a field coil; found 100"):
            ask()


def test_overlapping_rings_are_refused() -> None:
    with pytest.raises(FieldError, match="wall: must not lie in the same place as lid"):
        motor({"wall": (5, 10, 0, 10), "lid": (0, 10, 9.9, 12)}, (1, 4, 0, 9), (0, 1, 0, 1), "team13")
    with pytest.raises(FieldError, match="wall: must not lie in the same place as the winding"):
        motor({"wall": (5, 10, 0, 10)}, (1, 6, 0, 9), (0, 1, 0, 1), "team13")
    with pytest.raises(FieldError, match="0 <= r_in < r_out"):
        Problem((Ring("thin", 0.02, 0.02, 0, 1, steels.curve("team13")),), Winding(0.01, 0.015, 0, 0.01, 1))


def test_when_it_cannot_settle_it_says_so(monkeypatch) -> None:
    monkeypatch.setattr(newton, "MOST", 2)
    with pytest.raises(FieldError, match="must settle within 2 steps; found .* at 2000 ampere-turns"):
        solve(pot(), 2000.0, fineness=SEARCH)


def test_numbers_that_are_none_are_refused() -> None:
    with pytest.raises(FieldError, match="finite"):
        solve(pot(), float("nan"), fineness=SEARCH)

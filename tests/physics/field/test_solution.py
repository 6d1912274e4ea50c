"""What is read from a solved field: coils, points, rings, lines, storage."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import SEARCH, Solution, coils, saturation, solve, sweep
from tests.physics.field.motors import COIL, MM, SPOOL_COIL, pot, spool

STROKE = np.linspace(-3, 3, 7) * MM


@pytest.fixture(scope="module")
def found() -> Solution:
    return solve(pot(), 1200.0)


def test_force_factor_is_minus_the_slope_of_linkage(found) -> None:
    """Kind of truth: balance. Bl = -dpsi/dx, by differences over 1 µm: the two integrals are made apart."""
    step = 1e-6
    for solution, coil in ((found, COIL), (solve(spool(), 1200.0), SPOOL_COIL)):
        psi = solution.linkage(*coil, 80, np.stack([STROKE - step, STROKE + step]))
        assert solution.Bl(*coil, 80, STROKE) == pytest.approx((psi[0] - psi[1]) / (2 * step), rel=1e-5)


def test_force_factor_is_the_mean_radial_flux_density(found) -> None:
    """Kind of truth: second method. 2 pi N <r B_r> over the coil by Gauss's rule on the points' B."""
    r_in, r_out, z_lo, z_hi = COIL
    gauss, weight = np.polynomial.legendre.leggauss(40)
    r, z = (r_in + r_out) / 2 + (r_out - r_in) / 2 * gauss, (z_lo + z_hi) / 2 + (z_hi - z_lo) / 2 * gauss
    mean = weight @ (found.B(r, z)[0] * r) @ weight / 4
    assert found.Bl(*COIL, 80) == pytest.approx(2 * np.pi * 80 * mean, rel=2e-4)


def test_a_sheet_of_turns_across_the_gap(found) -> None:
    """Kind of truth: second method. A very thin coil as high as the plate sees gap_B times its wire length."""
    B_g = found.gap_B(10.75 * MM, 26 * MM, 32 * MM)
    Bl = found.Bl(10.7499 * MM, 10.7501 * MM, 26 * MM, 32 * MM, 10)
    assert Bl == pytest.approx(B_g * 10 * 2 * np.pi * 10.75 * MM, rel=1e-5)


def test_candidates_are_arrays(found) -> None:
    r_in, z_lo = np.array([10.4, 10.5, 10.6])[:, None] * MM, np.array([22.0, 24.0])[None] * MM
    Bl = found.Bl(r_in, r_in + 0.4 * MM, z_lo, z_lo + 9 * MM, np.array([40, 80]), STROKE)
    assert Bl.shape == (3, 2, 7)
    alone = found.Bl(10.6 * MM, 11.0 * MM, 24 * MM, 33 * MM, 80, 1 * MM)
    assert alone.shape == ()
    assert Bl[2, 1, 4] == pytest.approx(float(alone), rel=1e-10)
    assert found.linkage(r_in, r_in + 0.4 * MM, z_lo, z_lo + 9 * MM, 80).shape == (3, 2)


def test_many_unlike_candidates_take_the_other_way_and_agree(found, monkeypatch) -> None:
    rng = np.random.default_rng(1)
    r_in, z_lo = 10.3 * MM + 0.4 * MM * rng.random(300), 20 * MM + 5 * MM * rng.random(300)
    table = found.Bl(r_in, r_in + 0.5 * MM, z_lo, z_lo + 8 * MM, 80, STROKE)
    monkeypatch.setattr(coils, "TABLE", 0)
    assert found.Bl(r_in, r_in + 0.5 * MM, z_lo, z_lo + 8 * MM, 80, STROKE) == pytest.approx(table, rel=1e-10)


@pytest.mark.parametrize("bent", [False, True])
def test_fields_asked_together_answer_as_each_alone(bent, monkeypatch) -> None:
    """Second method: each field of a sweep by itself; straight and bent grids, and the way of many unlike coils."""
    motor = replace(pot(), rings=(*pot().rings[:-1], replace(pot().rings[-1], r_out_hi=9 * MM))) if bent else pot()
    fields = sweep(motor, (500.0, 1000.0), fineness=SEARCH)
    assert (fields[0].bend is not None) is bent
    r_in = np.array([10.2, 10.5]) * MM
    coils_at = (r_in, r_in + 0.4 * MM, *COIL[2:], np.array([60.0, 80.0]))
    for table in (coils.TABLE, 0):
        monkeypatch.setattr(coils, "TABLE", table)
        together = coils.force_factors(fields, *coils_at, 0.0)
        alone = [each.Bl(*coils_at) for each in fields]
        assert together == pytest.approx(np.array(alone), rel=1e-12)
        assert together.shape == (2, 2) and np.all(np.abs(together[1]) > np.abs(together[0]))


def test_flux_through_circles_is_the_integral_of_B(found) -> None:
    """Kind of truth: second method (Gauss's rule), in the pole where B is smooth."""
    gauss, weight = np.polynomial.legendre.leggauss(30)
    r = 9 * MM * (gauss + 1) / 2
    B_z = found.B(r, [15 * MM])[1][0]
    assert found.flux([9 * MM], [15 * MM])[0, 0] == pytest.approx(np.pi * 9 * MM * float(weight @ (B_z * r)), rel=1e-4)


def test_on_the_axis_the_field_is_axial_and_smooth(found) -> None:
    """Kind of truth: limit (symmetry)."""
    B_r, B_z = found.B([0.0, 1e-7], [15 * MM])
    assert abs(B_r[0, 0]) < 1e-15
    assert B_z[0, 0] == pytest.approx(B_z[0, 1], rel=1e-3)


def test_rings_tell_how_full_they_are(found) -> None:
    """Kind of truth: balance. The pole's fullest section carries what flux() says; the word goes by that section."""
    rings = {ring.name: ring for ring in found.ring_B()}
    flux = np.abs(found.flux([10 * MM], np.linspace(6, 32, 500) * MM)).max()
    pole = rings["pole"]
    assert pole.B_axial == pytest.approx(float(flux) / (np.pi * (10 * MM) ** 2), rel=1e-3)
    assert pole.B_s == max(pole.B_axial, pole.B_radial)
    assert pole.word == saturation(steels.curve("mild_steel"), pole.B_s)
    for ring in rings.values():
        assert 0 < ring.B_mean < ring.B_peak < 2.5
    full = {ring.name: ring.word for ring in solve(pot(), 6000.0, fineness=SEARCH).ring_B()}
    assert full["pole"] == "saturated"
    empty = {ring.word for ring in solve(pot(), 50.0, fineness=SEARCH).ring_B()}
    assert empty == {"unsaturated"}


def test_points_and_coils_outside_the_box_are_refused(found) -> None:
    with pytest.raises(FieldError, match="inside the computed box"):
        found.B([0.01], [1.0])
    with pytest.raises(FieldError, match="inside the computed box"):
        found.Bl(10 * MM, 11 * MM, 24 * MM, 34 * MM, 80, [0.0, 0.5])


def test_flux_lines_are_levels_of_the_flux(found) -> None:
    lines = found.flux_lines(12)
    most = np.abs(found.flux(found.r.places, found.z.places)).max()
    assert len(lines) >= 10
    for line in lines:
        values = np.array([found.flux([r], [z])[0, 0] for r, z in line[:: max(1, len(line) // 7)]])
        assert np.ptp(values) < 0.02 * most
        assert line[:, 0].min() >= 0
    some = found.flux_lines(12, (0.0, 12 * MM, 20 * MM, 35 * MM))
    assert all(line[:, 0].max() <= 12 * MM + 1e-12 for line in some)


def test_a_solution_can_be_stored_and_restored(found, tmp_path) -> None:
    np.savez(tmp_path / "field.npz", **found.to_arrays())
    with np.load(tmp_path / "field.npz") as arrays:
        again = Solution.from_arrays(pot(), arrays)
        with pytest.raises(FieldError, match="must belong to this motor"):
            Solution.from_arrays(spool(), arrays)
        with pytest.raises(FieldError, match="must belong to this motor"):
            Solution.from_arrays(pot(joint=0.001), arrays)
    assert np.array_equal(again.Bl(*COIL, 80, STROKE), found.Bl(*COIL, 80, STROKE))
    assert again.energy() == found.energy()
    assert again.ring_B() == found.ring_B()
    assert again.NI == found.NI


def test_inductance_of_the_unsaturated_motor_grows_with_the_square_of_turns(found) -> None:
    """Kind of truth: closed form. L = N psi_1 / NI."""
    problem = replace(pot(), winding=replace(pot().winding, N=400))
    assert solve(problem, 1200.0).L_static() * 4 == pytest.approx(found.L_static(), rel=1e-12)
    assert 0 < found.L_differential() < found.L_static()
    nothing = solve(pot(), 0.0, fineness=SEARCH)
    assert nothing.L_static() == nothing.L_differential() > 0

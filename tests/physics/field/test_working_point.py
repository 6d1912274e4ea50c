"""Where magnets work, against magnetic circuits, a second program and their own straight lines."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import magpylib
import numpy as np
import pytest

from handwound.materials import steels
from handwound.physics.field import Fineness, Magnet, Problem, Ring, Winding, solve
from handwound.physics.field.grid import FULL, SEARCH
from handwound.physics.field.working_point import knee_field, knee_margin, knee_temperature, working_points
from tests.physics.field.motors import MM, linear

MU_0 = 4e-7 * pi
FERRITE = {"alpha_B": -0.002, "HcJ": 180e3, "alpha_H": 0.003, "k_knee": 0.9}
NEODYMIUM = {"alpha_B": -0.0012, "HcJ": 955e3, "alpha_H": -0.0076, "k_knee": 0.9}


def boxed(gap: float, way: str = "up") -> Problem:
    """A flat magnet of 5 mm in a box of very permeable steel, air of so many millimetres above it."""
    steel, top = linear(1e5), 5 + gap
    places = {"floor": (0, 40, -10, 0), "wall": (30, 40, 0, top), "lid": (0, 40, top, top + 10)}
    rings = tuple(Ring(name, *(MM * v for v in place), steel) for name, place in places.items())
    return Problem((*rings, Ring("magnet", 0, 20 * MM, 0, 5 * MM, magnet=Magnet(0.39, 1.07, way))))


@pytest.mark.parametrize(("gap", "way"), [(0.2, "up"), (0.2, "down"), (0.5, "up")])
def test_a_flat_magnet_in_a_closed_circuit(gap, way) -> None:
    """Kind of truth: closed form, B = B_rem / (1 + mu_rec g / l) far from the rim, whichever way it points."""
    (point,) = working_points(solve(boxed(gap, way), 0))
    B = 0.39 / (1 + 1.07 * gap / 5)
    inside = point.r < 10 * MM
    assert inside.sum() > 3
    assert point.B[inside] == pytest.approx(B, rel=2e-3)
    assert point.H[inside] == pytest.approx(-B * gap / 5 / MU_0, rel=5e-3)
    assert point.share.sum() == pytest.approx(1)
    assert np.all(np.abs(point.z - 2.5 * MM) < 2.5 * MM)


def test_a_disc_alone_works_where_another_program_says() -> None:
    """Kind of truth: second method (magpylib), its closed-form field summed over a fine grid of the disc."""
    disc = Problem((Ring("disc", 0.0, 10 * MM, 0.0, 10 * MM, magnet=Magnet(1.2, 1.0, "up")),))
    (point,) = working_points(solve(disc, 0))
    r, z = (np.arange(200) + 0.5) / 200 * 10 * MM, (np.arange(200) + 0.5) / 200 * 10 * MM
    places = np.stack([np.repeat(r, 200), np.zeros(40_000), np.tile(z, 200)], axis=1)
    other = magpylib.magnet.Cylinder(dimension=(0.02, 0.01), polarization=(0, 0, 1.2), position=(0, 0, 0.005))
    B = other.getB(places)[:, 2]
    share = places[:, 0] / places[:, 0].sum()
    assert point.B_mean == pytest.approx(float(share @ B), rel=1e-3)
    assert point.H_mean == pytest.approx(float((share @ B - 1.2) / MU_0), rel=1e-3)
    rising = np.argsort(B)
    worst = B[rising][np.searchsorted(np.cumsum(share[rising]), 0.01)]
    assert point.H_worst == pytest.approx((worst - 1.2) / MU_0, rel=0.01)
    assert point.H_worst < point.H_mean < 0


@pytest.mark.parametrize(("fineness", "tolerance"), [(FULL, 0.01), (SEARCH, 0.05)])
def test_the_worst_place_does_not_hang_on_the_grid(fineness, tolerance) -> None:
    """Kind of truth: convergence. A flat neodymium disc in a cup, beside a grid of a sixth of the size."""
    steel = steels.curve("mild_steel")
    places = {"floor": (0, 17, 0, 5), "wall": (14, 17, 5, 13), "cap": (0, 12.5, 10, 13)}
    rings = [Ring(name, *(MM * v for v in place), steel) for name, place in places.items()]
    disc = Ring("disc", 0.0, 12.5 * MM, 5 * MM, 10 * MM, magnet=Magnet(1.2, 1.05, "up"))
    motor = Problem((*rings, disc), None, ((12.8 * MM, 13.5 * MM, 8 * MM, 15 * MM),))
    finest = Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
    (found,), (wanted,) = (working_points(solve(motor, 0, fineness=f)) for f in (fineness, finest))
    assert found.H_worst == pytest.approx(wanted.H_worst, rel=tolerance)
    assert found.H_mean == pytest.approx(wanted.H_mean, rel=1e-3)


def test_a_radial_magnet_is_read_along_its_radius() -> None:
    """Kind of truth: closed form. Between two permeable pipes without air it works at its remanence, B ~ 1/r apart."""
    steel = linear(1e5)
    places = {"pole": (0, 10, -20, 40), "wall": (15, 40, -20, 40), "floor": (10, 15, -20, -10)}
    rings = [Ring(name, *(MM * v for v in place), steel) for name, place in places.items()]
    magnet = Ring("magnet", 10 * MM, 15 * MM, 0, 20 * MM, magnet=Magnet(0.39, 1.07, "out"))
    # The flux of r B_r is the same through every radius, and H has no sum across a closed circuit.
    (point,) = working_points(solve(Problem((*rings, magnet)), 0))
    middle = np.abs(point.z - 10 * MM) < 5 * MM
    r_B = 0.39 * 5 * MM / np.log(15 / 10)
    assert point.B[middle] == pytest.approx(r_B / point.r[middle], rel=5e-3)


def test_a_coil_against_the_magnet_pushes_it_down_its_line() -> None:
    """Kind of truth: limit. A current of either sign moves the working point to either side."""
    wound = replace(boxed(0.5), winding=Winding(21 * MM, 29 * MM, 0.5 * MM, 4.5 * MM, 1))
    aided, alone, against = (working_points(solve(wound, NI))[0].H_mean for NI in (300, 0, -300))
    assert against < alone < aided


def test_a_motor_without_magnets_has_no_working_points() -> None:
    assert working_points(solve(Problem((), Winding(10 * MM, 15 * MM, 0, 10 * MM, 1)), 10)) == []


def test_the_knee_of_the_makers_table() -> None:
    """Kind of truth: closed form, by hand: 0.9 of 955 kA/m at 20 °C; 60 K warmer less 45.6 %; never positive."""
    line = {key: NEODYMIUM[key] for key in ("HcJ", "alpha_H", "k_knee")}
    assert knee_field(T=20.0, **line) == pytest.approx(-859.5e3)
    assert knee_field(T=80.0, **line) == pytest.approx(-859.5e3 * (1 - 0.456))
    assert knee_field(T=300.0, **line) == 0


@pytest.mark.parametrize(
    ("grade", "H_m", "cold"), [(FERRITE, -120e3, True), (FERRITE, -150e3, True), (NEODYMIUM, -400e3, False)]
)
def test_ferrite_meets_its_knee_cold_and_neodymium_hot(grade, H_m, cold) -> None:
    """Kind of truth: limit. At the temperature of the knee nothing is left; on its safe side something is."""
    T = float(knee_temperature(H_m, 20.0, **grade))
    assert (T < 20) == cold
    assert knee_margin(H_m, 20.0, T=T, **grade) == pytest.approx(0, abs=1e-6)
    safer = T + 10 if cold else T - 10
    assert knee_margin(H_m, 20.0, T=safer, **grade) > 1000 > -1000 > knee_margin(H_m, 20.0, T=2 * T - safer, **grade)


def test_the_temperature_of_the_solution_does_not_matter() -> None:
    """Kind of truth: closed form. The same magnet computed at another temperature meets its knee at the same one."""
    at_60 = -400e3 * (1 - 0.0012 * 40)
    here, there = (knee_temperature(H, T_0, **NEODYMIUM) for H, T_0 in ((-400e3, 20.0), (at_60, 60.0)))
    assert here == pytest.approx(there, rel=1e-12)


def test_what_is_not_demagnetised_meets_no_knee() -> None:
    assert np.isnan(knee_temperature(np.array([0.0, 5e3]), 20.0, **FERRITE)).all()


def test_the_margin_is_that_of_a_solved_motor_at_the_temperature() -> None:
    """Kind of truth: second method. Solved anew with the remanence at 60 °C, in steel that is not saturated."""
    cool = boxed(0.5)
    magnet = replace(cool.rings[-1], magnet=Magnet(0.39 * (1 - 0.002 * 40), 1.07, "up"))
    warm = replace(cool, rings=(*cool.rings[:-1], magnet))
    before, after = (working_points(solve(motor, 0))[0].H_worst for motor in (cool, warm))
    margin = knee_margin(before, 20.0, T=60.0, **FERRITE)
    knee = knee_field(FERRITE["HcJ"], FERRITE["alpha_H"], FERRITE["k_knee"], 60.0)
    assert margin == pytest.approx(after - knee, rel=1e-6)

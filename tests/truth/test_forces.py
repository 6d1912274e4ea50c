"""Pulls between parts against closed forms, other programs, printed values and the balance of energy."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import acosh, log, pi, sqrt

import magpylib
import numpy as np
import pytest

from handwound.physics.field import FULL, SEARCH, Fineness, Magnet, Problem, Ring, Winding, solve
from handwound.physics.field.forces import pull
from handwound.physics.field.sideways import eccentric_pull, sideways
from tests.physics.field.motors import MM, changed, linear, pot
from tests.truth.test_electromagnet import CURRENT, PRINTED, N, electromagnet

MU_0 = 4e-7 * pi
FINEST = Fineness(0.01, 0.003, 0.1, 1.7, 1.7)


def lid(gap: float) -> Problem:
    """The pot with its top plate so many millimetres above wall and pole."""
    return changed(pot(0.1), "top", z_lo=gap, z_hi=gap)


def discs(gap: float, second: str = "up") -> Problem:
    """Two magnets of 20 x 10 mm on one axis, their faces so many millimetres apart."""
    ways, floors = ("up", second), (0.0, (10 + gap) * MM)
    return Problem(
        tuple(
            Ring(way, 0.0, 10 * MM, z, z + 10 * MM, magnet=Magnet(1.2, 1.0, to))
            for way, z, to in zip(("lower", "upper"), floors, ways, strict=True)
        )
    )


@cache
def work_of_a_lift() -> float:
    """The co-energy gained per metre, in two steps of the lift, so that what is of second order drops out."""
    slopes = []
    for step in (0.01, 0.02):
        low, high = (solve(lid(0.1 + d), 800, fineness=FINEST).coenergy() for d in (-step, step))
        slopes.append((high - low) / (2 * step * MM))
    return (4 * slopes[0] - slopes[1]) / 3


@pytest.mark.parametrize(("fineness", "tolerance"), [(FINEST, 5e-4), (FULL, 3e-3), (SEARCH, 0.015)])
def test_pull_is_the_change_of_the_coenergy(fineness, tolerance) -> None:
    """Kind of truth: balance. At fixed ampere-turns the work of a lift is the co-energy gained, on a finest grid."""
    work = work_of_a_lift()
    assert pull(solve(lid(0.1), 800, fineness=fineness), ["top"]) == pytest.approx(work, rel=tolerance)
    assert work < -50  # drawn down


@pytest.mark.parametrize(("gap", "second"), [(0.5, "up"), (2, "up"), (5, "up"), (10, "up"), (5, "down")])
def test_two_disc_magnets(gap, second) -> None:
    """Kind of truth: second method (magpylib, closed-form fields summed over 20000 cells)."""
    found = solve(discs(gap, second), 0)
    shape = {"dimension": (0.02, 0.01)}
    turned = 1.2 if second == "up" else -1.2
    lower = magpylib.magnet.Cylinder(polarization=(0, 0, 1.2), position=(0, 0, 0.005), **shape)
    upper = magpylib.magnet.Cylinder(polarization=(0, 0, turned), position=(0, 0, 0.015 + gap * MM), **shape)
    force = magpylib.getFT(lower, upper, meshing=20_000)[0][2]
    assert pull(found, ["upper"]) == pytest.approx(force, rel=3e-4)
    assert (force < 0) == (second == "up")


def test_a_magnet_before_a_plate_is_drawn_as_by_its_image() -> None:
    """Kind of truth: limit. A very permeable wide plate at a distance acts as a like magnet at twice the distance."""
    whole = solve(discs(6.0), 0)
    magnet = Ring("magnet", 0.0, 10 * MM, 13 * MM, 23 * MM, magnet=Magnet(1.2, 1.0, "up"))
    plate = Ring("plate", 0.0, 80 * MM, 0.0, 10 * MM, linear(1e5))
    assert pull(solve(Problem((plate, magnet)), 0), ["magnet"]) == pytest.approx(pull(whole, ["upper"]), rel=5e-3)


@pytest.mark.parametrize("NI", [100.0, 800.0, 5000.0])
def test_action_is_reaction(NI) -> None:
    """Kind of truth: balance (Newton's third law). Lid, pot and coil together are pulled by nothing.

    The coil's force is read another way: as that on its own current in the flux that crosses it.
    """
    found = solve(lid(0.1), NI)
    on_lid, on_pot = pull(found, ["top"]), pull(found, ["back", "wall", "pole"])
    on_coil = -float(found.Bl(*found.problem.winding.rectangle, NI))
    assert abs(on_lid + on_pot + on_coil) < 1e-6 * abs(on_lid)
    assert abs(on_coil) > 0.01 * abs(on_lid)


def test_action_is_reaction_on_sloped_sides() -> None:
    """Kind of truth: balance. A pole and a bore that both taper, the grid bent along them."""
    slopes = {"top": {"r_in_hi": 13.5 * MM}, "pole": {"r_out_hi": 8.5 * MM}}
    straight = lid(0.1)
    rings = tuple(replace(ring, **slopes.get(ring.name, {})) for ring in straight.rings)
    found = solve(replace(straight, rings=rings), 800)
    on_lid, on_pot = pull(found, ["top"]), pull(found, ["back", "wall", "pole"])
    on_coil = -float(found.Bl(*found.problem.winding.rectangle, 800))
    assert abs(on_lid + on_pot + on_coil) < 1e-6 * abs(on_lid)
    ends = [
        solve(changed(found.problem, "top", z_lo=d, z_hi=d), 800, fineness=FINEST).coenergy() for d in (-0.01, 0.01)
    ]
    assert on_lid == pytest.approx((ends[1] - ends[0]) / (0.02 * MM), rel=4e-3)


def test_a_coil_close_to_a_magnet_takes_its_own_force_along() -> None:
    """Kind of truth: balance. The winding touches the magnet, so its force lies in the very air of the integral."""
    magnet = Ring("magnet", 0.0, 10 * MM, 0.0, 10 * MM, magnet=Magnet(1.2, 1.05, "up"))
    found = solve(Problem((magnet,), Winding(10 * MM, 15 * MM, 3 * MM, 14 * MM, 1)), 2000)
    on_coil = -float(found.Bl(*found.problem.winding.rectangle, 2000))
    assert pull(found, ["magnet"]) == pytest.approx(-on_coil, rel=1e-3)
    assert abs(on_coil) > 1


@pytest.mark.parametrize("k", range(20), ids=[f"{gap / MM:g} mm" for gap in PRINTED["gap"]])
def test_a_printed_electromagnet_pulls_as_printed(k) -> None:
    """Kind of truth: printed example (its file names the source), a finite element solution: 4 %, below 1 mm 5 %."""
    gap, force = float(PRINTED["gap"][k]), abs(float(PRINTED["F"][k]))
    found = solve(electromagnet(gap), N * CURRENT)
    assert -pull(found, ["armature"]) == pytest.approx(force, rel=0.05 if gap < 1 * MM else 0.04)


def by_stress(r_1: float, r_2: float, e: float, U: float) -> float:
    """The force on the inner of two eccentric cylinders from the stress of the field of two line sources on it."""
    middle = (r_2**2 - r_1**2 - e**2) / (2 * e)  # of the inner cylinder, from the point between the two lines
    line = sqrt(middle**2 - r_1**2)
    angle = (np.arange(4000) + 0.5) / 4000 * 2 * pi
    points = middle + r_1 * np.exp(1j * angle)

    def level(x: float) -> float:
        return log(abs((x - line) / (x + line)))

    strength = U / abs(level(middle - r_1) - level(middle + e - r_2))
    H = strength * np.abs(1 / (points - line) - 1 / (points + line))
    return -float(np.sum(MU_0 / 2 * H**2 * np.cos(angle)) * r_1 * 2 * pi / 4000)


@pytest.mark.parametrize(("r_1", "r_2", "e"), [(12.5, 14, 0.3), (12.5, 14, 1.2), (5, 20, 6)])
def test_eccentric_cylinders(r_1, r_2, e) -> None:
    """Kind of truth: closed form, the slope of the permeance; and second method, the stress on the inner cylinder."""

    def permeance(x: float) -> float:
        return 2 * pi * MU_0 / acosh((r_1**2 + r_2**2 - x**2) / (2 * r_1 * r_2))

    slope = (permeance(e + 1e-4) - permeance(e - 1e-4)) / (2e-4 * MM)
    found = eccentric_pull(r_1 * MM, r_2 * MM, e * MM, 700.0)
    assert found == pytest.approx(700.0**2 / 2 * slope, rel=1e-6)
    assert found == pytest.approx(by_stress(r_1, r_2, e, 700.0) / MM, rel=1e-6)


def test_a_pole_a_little_off_centre() -> None:
    """Kind of truth: common practice (no source): about 80 N e/g for a pole of 25 mm at 0.65 T in a plate of 6 mm.

    And its closed form in the narrow gap, pi r B² h e / (mu_0 g).
    """
    r, g, B, h, e = 12.5 * MM, 0.5 * MM, 0.65, 6 * MM, 0.01 * MM
    U = B * (r + g / 2) * log((r + g) / r) / MU_0
    force = eccentric_pull(r, r + g, e, U) * h
    assert force / (e / g) == pytest.approx(pi * (r + g / 2) * B**2 * h / MU_0, rel=2e-3)
    assert force / (e / g) == pytest.approx(80, rel=0.05)


def test_sideways_of_an_ideal_gap() -> None:
    """Kind of truth: closed form in the limit. Steel that takes nothing leaves all ampere-turns to the gap."""
    steel = linear(1e6)
    places = {"pole": (0, 12.5, 0, 50), "back": (12.5, 40, 0, 5), "wall": (32, 40, 5, 30), "plate": (14, 40, 30, 50)}
    rings = tuple(Ring(name, *(MM * v for v in place), steel) for name, place in places.items())
    gap = 12.5 * MM, 14 * MM, 32 * MM, 48 * MM  # without the ends, where the field bulges
    found = solve(Problem(rings, Winding(16 * MM, 30 * MM, 7 * MM, 26 * MM, 1)), 500.0)
    ideal = eccentric_pull(12.5 * MM, 14 * MM, 0.3 * MM, 500.0) * 16 * MM
    assert sideways(found, *gap, 0.3 * MM) == pytest.approx(ideal, rel=2e-3)
    twice = solve(replace(found.problem), 1000.0)
    assert sideways(twice, *gap, 0.3 * MM) == pytest.approx(4 * ideal, rel=2e-3)

"""What is asked of the pulls beside their size: refusals, the approach of a part, the lift test."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import Magnet, Problem, Ring, solve
from handwound.physics.field.forces import LIFTS, approach, lifting_force, lifting_NI, pull
from handwound.physics.field.sideways import sideways
from tests.physics.field.motors import MM, changed, pot, spool
from tests.physics.field.test_magnet import ring_motor


def opened(joint: float) -> Problem:
    """The ring motor with air under its top plate and under its magnet."""
    motor = ring_motor(2 * joint)
    rings = (
        replace(ring, z_lo=ring.z_lo + joint * MM, z_hi=ring.z_hi + joint * MM) if ring.magnet else ring
        for ring in motor.rings
    )
    return replace(motor, rings=tuple(rings))


def test_what_touches_without_a_joint_is_refused() -> None:
    with pytest.raises(FieldError, match="found top touching wall. Put a joint between them, or let them move"):
        pull(solve(pot(), 100), ["top"])


@pytest.mark.parametrize(("names", "found"), [(["lid"], "found lid"), ([], "found none")])
def test_who_is_not_there_is_not_pulled(names, found) -> None:
    with pytest.raises(FieldError, match=f"must be asked for rings of the motor; {found}.*back, wall, top, pole"):
        pull(solve(pot(), 100), names)


def test_a_name_alone_is_a_set_of_one() -> None:
    found = solve(opened(0.05), 0)
    assert pull(found, "top") == pull(found, ["top"])
    assert approach(opened(0.05), 0, "top", [0.001]) == approach(opened(0.05), 0, ["top"], [0.001])


def test_copper_may_touch_and_is_pulled_by_nothing() -> None:
    """Kind of truth: limit. To a steady field copper is air, so it neither joins two parts nor is pulled."""
    lifted = changed(pot(0.1), "top", z_lo=0.1, z_hi=0.1)
    copper = Ring("copper", 11.5 * MM, 23 * MM, 25.5 * MM, 26.2 * MM, sigma=58e6)
    bare, capped = (solve(problem, 800) for problem in (lifted, replace(lifted, rings=(*lifted.rings, copper))))
    assert pull(capped, ["top"]) == pytest.approx(pull(bare, ["top"]), rel=2e-3)
    assert pull(capped, ["top", "copper"]) == pytest.approx(pull(capped, ["top"]), rel=1e-9)
    assert abs(pull(capped, ["copper"])) < 1e-9


def test_all_rings_of_a_magnet_motor_pull_on_nothing() -> None:
    """Kind of truth: balance. What moves as a whole meets no force of its own, beside those between its parts."""
    found = solve(opened(0.05), 0)
    between = abs(pull(found, ["top"]))
    assert abs(pull(found, [ring.name for ring in found.problem.rings])) < 1e-6 * between


def test_a_plate_comes_down_on_its_magnet_ever_harder() -> None:
    """Kind of truth: limit. Far off the pull fades; near the joint it is the largest; it always draws down."""
    forces = approach(opened(0.05), 0, ["top"])
    assert len(forces) == len(LIFTS)
    assert np.all(forces < 0) and np.all(np.diff(forces) > 0)
    assert forces[0] < -100 and forces[-1] > 0.2 * forces[0]
    on_joint = pull(solve(opened(0.05), 0), ["top"])
    assert forces[0] == pytest.approx(on_joint, rel=0.03)


def test_a_part_cannot_be_lifted_through_another() -> None:
    cover = Ring("cover", 0.0, 36 * MM, 30 * MM, 32 * MM, steels.curve("mild_steel"))
    motor = replace(opened(0.05), rings=(*opened(0.05).rings, cover))
    with pytest.raises(FieldError, match="top: must not lie in the same place as cover"):
        approach(motor, 0, ["top"], [0.006])


def test_a_disc_is_lifted_by_more_current_through_a_thicker_card() -> None:
    """Kind of truth: limit. Below saturation the pull goes about with the square of the current; air weakens it."""
    steel = steels.curve("mild_steel")
    NI = [0.0, 100.0, 200.0, 400.0]
    near, far = (
        lifting_force(spool(), Ring("piece", 0.0, 10 * MM, (28 + card) * MM, (33 + card) * MM, steel), NI)
        for card in (1.0, 2.0)
    )
    assert near[0] == 0 and np.all(near[1:] < far[1:]) and np.all(far[1:] < 0)
    assert 3.6 < near[2] / near[1] < 4.4
    assert lifting_NI(NI, near, 0.001) < lifting_NI(NI, far, 0.001)


def test_the_current_that_lifts() -> None:
    """Kind of truth: closed form, a force of c NI²."""
    NI = np.linspace(0, 100, 5)
    assert lifting_NI(NI, -2e-4 * NI**2, 0.05) == pytest.approx(np.sqrt(0.05 * 9.80665 / 2e-4), rel=1e-9)
    assert np.isnan(lifting_NI(NI, -2e-4 * NI**2, 1.0))
    assert lifting_NI(NI, -5 - 2e-4 * NI**2, 0.05) == 0  # a magnet holds it without any


@pytest.mark.parametrize("e_pole", [-1e-4, 1.5 * MM])
def test_a_pole_outside_its_bore_is_refused(e_pole) -> None:
    with pytest.raises(FieldError, match=r"from 0 to less than the gap of 1.5 mm; found"):
        sideways(solve(pot(), 100), 10 * MM, 11.5 * MM, 26 * MM, 32 * MM, e_pole)


def test_turning_all_over_changes_no_pull() -> None:
    """Kind of truth: symmetry. The stress is of the field's square."""
    motor = opened(0.05)
    turned = tuple(replace(r, magnet=Magnet(0.39, 1.07, "down")) if r.magnet else r for r in motor.rings)
    up, down = (pull(solve(m, 0), ["top"]) for m in (motor, replace(motor, rings=turned)))
    assert up == pytest.approx(down, rel=1e-6)

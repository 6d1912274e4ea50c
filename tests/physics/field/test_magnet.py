"""Magnets in the solver, against closed forms and balances."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import Curve, Magnet, Problem, Ring, Solution, Winding, solve

MM = 1e-3
CURVE = steels.curve("mild_steel")


def ring_motor(lift: float = 0.0, way: str = "up") -> Problem:
    """A ferrite ring between plates, the upper one lifted."""
    rings = {"back": (0, 36, 0, 5), "pole": (0, 10, 5, 25), "top": (11.3, 36, 20 + lift, 25 + lift)}
    solids = [Ring(name, *(MM * v for v in place), CURVE) for name, place in rings.items()]
    magnet = Ring("magnet", 16 * MM, 36 * MM, 5 * MM, 20 * MM, magnet=Magnet(0.39, 1.07, way))
    return Problem((*solids, magnet), None, ((10 * MM, 11.3 * MM, 17 * MM, 28 * MM),))


def test_a_disc_alone_has_the_field_of_its_closed_form() -> None:
    """CHECKS C5.10, closed form: Br 1.2 T, 20 x 10 mm; on the axis at the face and 5 mm off."""
    disc = Problem((Ring("disc", 0.0, 10 * MM, 0.0, 10 * MM, magnet=Magnet(1.2, 1.0, "up")),))
    assert solve(disc, 0).B(0, [10 * MM, 15 * MM])[1].ravel() == pytest.approx([0.424264, 0.230902], rel=2e-4)


def test_a_magnet_turned_over_turns_the_field_over() -> None:
    up, down = (solve(ring_motor(way=way), 0).gap_B(10.7 * MM, 20 * MM, 25 * MM) for way in ("up", "down"))
    assert up == pytest.approx(-down, rel=1e-9)
    assert up < -0.5  # the plate on a magnet that points up is a north pole: the flux crosses the gap inwards


def test_what_is_neither_steel_nor_magnet_does_nothing_to_a_steady_field() -> None:
    bare, cap = solve(ring_motor(), 0), Ring("cap", 10 * MM, 10.3 * MM, 5 * MM, 25 * MM, sigma=58e6)
    capped = solve(replace(bare.problem, rings=(*bare.problem.rings, cap)), 0)
    assert gap(capped) == pytest.approx(gap(bare), rel=2e-4)


def gap(solution: Solution) -> float:
    return solution.gap_B(10.7 * MM, 20 * MM, 25 * MM)


def test_coenergy_answers_a_change_of_the_magnet_by_its_moment() -> None:
    """Balance: dW'/dB_rem of the magnet is the integral of H_c-weighted B over it, by the envelope theorem."""
    step, base = 1e-3, ring_motor()
    ends = []
    for B_rem in (0.39 - step, 0.39 + step):
        rings = tuple(replace(r, magnet=replace(r.magnet, B_rem=B_rem)) if r.magnet else r for r in base.rings)
        ends.append(solve(replace(base, rings=rings), 0))
    slope = (ends[1].coenergy() - ends[0].coenergy()) / (2 * step)
    middle = solve(base, 0)
    # integral over the ring of (B_z - B_rem) / (mu_0 mu_rec) = -H dV; Gauss points on a fine even grid
    r = (np.arange(200) + 0.5) / 200 * 20 * MM + 16 * MM
    z = (np.arange(150) + 0.5) / 150 * 15 * MM + 5 * MM
    B_z = middle.B(r, z)[1]
    volume = 2 * np.pi * r * 20 * MM / 200 * 15 * MM / 150
    assert slope == pytest.approx(float(np.sum((B_z - 0.39) / (4e-7 * np.pi * 1.07) * volume)), rel=2e-3)


def test_a_current_on_top_of_a_magnet_has_its_own_inductance() -> None:
    """The linkage that the magnet gives without current is no part of L."""
    wound = replace(ring_motor(), winding=Winding(10.2 * MM, 15.8 * MM, 5.5 * MM, 19.5 * MM, 300))
    small, none = solve(wound, 1.0), solve(wound, 0.0)
    assert small.L_static() == pytest.approx(none.L_differential(), rel=1e-3)
    assert none.L_static() == pytest.approx(none.L_differential(), rel=1e-9)


def test_inductance_without_a_coil_is_refused() -> None:
    with pytest.raises(FieldError, match="must be asked of a motor with a field coil"):
        solve(ring_motor(), 0).L_differential()


def test_a_ring_is_of_one_thing_and_a_motor_of_something() -> None:
    with pytest.raises(FieldError, match="must be steel or a magnet"):
        Problem((Ring("odd", 0.0, 1.0, 0.0, 1.0, Curve([0, 1, 2], [0, 100, 9000]), Magnet(1.0, 1.0, "up")),))
    with pytest.raises(FieldError, match="must have a ring or a winding"):
        Problem(())

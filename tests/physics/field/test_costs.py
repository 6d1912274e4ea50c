"""What changes are worth in decibels, against solving the changed motor."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import log10

import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import solve
from handwound.physics.field.costs import Cost, costs
from tests.physics.field.motors import COIL, MM, changed, pot
from tests.physics.field.test_magnet import ring_motor

N = 80
BASE = pot(0.05)
CHANGES = {
    "bore tapered": replace(
        BASE, rings=tuple(replace(r, r_in_hi=r.r_in + 1 * MM) if r.name == "top" else r for r in BASE.rings)
    ),
    "no wall": replace(BASE, rings=tuple(ring for ring in BASE.rings if ring.name != "wall")),
    "joints closed": pot(0.0),
    "joints painted": pot(0.15),
    "bore 0.05 larger": changed(BASE, "top", r_in=0.05),
    "bore 1 larger": changed(BASE, "top", r_in=1.0),
    "back 1 thicker": changed(BASE, "back", z_lo=-1.0),
    "pole of another steel": replace(
        BASE, rings=tuple(replace(r, curve=steels.curve("team13")) if r.name == "pole" else r for r in BASE.rings)
    ),
    "top of brass": replace(BASE, rings=tuple(replace(r, curve=None) if r.name == "top" else r for r in BASE.rings)),
}
SMALL = {"bore 0.05 larger", "back 1 thicker"}


@cache
def told() -> list[Cost]:
    return costs(solve(BASE, 800), COIL, list(CHANGES.items()), N)


def test_every_change_costs_what_the_changed_motor_lacks() -> None:
    """Kind of truth: second method. The decibels of the changed motor solved alone; small ones within a tenth."""
    Bl_0, found = solve(BASE, 800).Bl(*COIL, N), told()
    assert [cost.name for cost in found] == list(CHANGES)
    for cost in found:
        alone = float(solve(CHANGES[cost.name], 800).Bl(*COIL, N))
        wanted = 20 * log10(abs(alone / Bl_0))
        assert cost.by == ("first order" if cost.name in SMALL else "solved")
        assert cost.dL == pytest.approx(wanted, rel=0.1 if cost.name in SMALL else 1e-6, abs=0.005)
        assert pytest.approx(20 * log10(abs(cost.Bl / Bl_0))) == cost.dL


def test_costs_have_the_signs_and_sizes_of_the_trade() -> None:
    """Kind of truth: common practice (no source): no pipe about -10 dB, paint -1 to -3, a brass plate -12.

    In a closed pot whose plate is missing the pole's end still sees some field, so the bands are wide.
    """
    level = {cost.name: cost.dL for cost in told()}
    assert -16 < level["no wall"] < -6
    assert -3 < level["joints painted"] < -0.5 < 0 < level["joints closed"] < 2
    assert -20 < level["top of brass"] < -8
    assert level["bore 1 larger"] < level["bore 0.05 larger"] < 0


def test_a_motor_of_magnets_without_its_magnet_is_silent() -> None:
    """Kind of truth: limit."""
    motor = ring_motor()
    coil = (0.0104, 0.0109, 0.019, 0.026)
    without = replace(motor, rings=tuple(ring for ring in motor.rings if ring.magnet is None))
    (cost,) = costs(solve(motor, 0), coil, [("no magnet", without)])
    assert cost.Bl == 0 and cost.dL == -300


def test_a_coil_without_a_field_has_no_decibels() -> None:
    with pytest.raises(FieldError, match="found a force factor of 0"):
        costs(solve(BASE, 0.0), COIL, [("joints closed", pot(0.0))])


def test_nothing_asked_nothing_told() -> None:
    assert costs(solve(BASE, 800), COIL, []) == []

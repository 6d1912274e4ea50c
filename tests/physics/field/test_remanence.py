"""What the steel keeps, against the magnetic circuit of a coercive part and a gap."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.physics.field import Curve, Problem, Ring, Winding, solve
from handwound.physics.field.costs import costs
from handwound.physics.field.harmonic import harmonic
from handwound.physics.field.remanence import H_C_MILD, remanence
from tests.physics.field.motors import COIL, MM, pot
from tests.physics.field.test_magnet import gap as gap_of
from tests.physics.field.test_magnet import ring_motor

MU_0 = 4e-7 * pi
B = np.array([0.0, 100.0, 1000.0, 1e4])
PERMEABLE = Curve(B, B / (1e6 * MU_0))
"""Steel so permeable that it takes nothing, and that cannot be filled."""


def gapped(length: float, gap: float) -> Problem:
    """A core in a closed pot, with a gap over it; millimetres."""
    end = 10 + length
    places = {"back": (0, 40, 0, 10), "wall": (30, 40, 10, end + gap), "top": (0, 40, end + gap, end + gap + 10)}
    places["core"] = (0, 10, 10, end)
    rings = tuple(Ring(name, *(MM * v for v in place), PERMEABLE) for name, place in places.items())
    return Problem(rings, Winding(12 * MM, 28 * MM, 12 * MM, (end - 2) * MM, 1))


def over_closed_form(length: float, gap: float, H_c: float) -> float:
    """The field left in the gap over mu_0 H_c l / g; driven so hard before that the core saw far more than H_c."""
    left = remanence(solve(gapped(length, gap), 1e6), {"core": H_c})
    assert left.NI == 0
    return float(left.B([0.0], [(10 + length + gap / 2) * MM])[1][0, 0] / (MU_0 * H_c * length / gap))


@pytest.mark.parametrize(("gap", "H_c"), [(0.5, 150.0), (1.0, 150.0), (0.5, 600.0)])
def test_a_coercive_core_drives_its_gap(gap, H_c) -> None:
    """Kind of truth: closed form in the limit, B = mu_0 H_c l / g along the axis through core and gap.

    At its ends the core kept a field that turns aside, which takes the same length from cores of any length.
    """
    short, long = (over_closed_form(length, gap, H_c) for length in (20, 80))
    assert 0.96 < short < long < 1
    assert (1 - short) / (1 - long) == pytest.approx(4, rel=0.25)


def test_a_current_the_other_way_leaves_the_other_field() -> None:
    """Kind of truth: symmetry."""
    plus, minus = (remanence(solve(pot(0.02), NI), 160.0).Bl(*COIL, 80) for NI in (800, -800))
    assert plus == pytest.approx(-minus, rel=1e-6)
    assert 0 < plus < 0.05 * solve(pot(0.02), 800).Bl(*COIL, 80)  # some per cent at most: common practice, no source


def test_hard_bolts_keep_more() -> None:
    """Kind of truth: common practice (no source): screws stick with the supply off when the pole is a hard bolt."""
    on = solve(pot(0.02), 800)
    soft, hard = (remanence(on, {"pole": H_c}).Bl(*COIL, 80) for H_c in (160.0, 900.0))
    assert 1.5 * soft < hard


def test_steel_never_keeps_more_than_it_had() -> None:
    """Kind of truth: limit. After a small current even a hard steel keeps at most the field that this made."""
    on = solve(pot(0.02), 20)
    kept, had = (found.Bl(*COIL, 80) for found in (remanence(on, 5000.0), on))
    assert 0 < kept < had
    nothing = remanence(solve(pot(0.02), 0.0), 160.0)
    assert abs(nothing.Bl(*COIL, 80)) < 1e-9


def test_without_coercivity_only_the_magnets_stay() -> None:
    """Kind of truth: limit."""
    on = solve(ring_motor(), 0)
    assert gap_of(remanence(on, 0.0)) == pytest.approx(gap_of(on), rel=1e-6)


def test_what_the_steel_keeps_is_in_no_later_solution() -> None:
    """Kind of truth: limit. A pot that is solved anew without current, begun from its remanence, has no field."""
    left = remanence(solve(pot(0.02), 800), H_C_MILD)
    assert abs(solve(pot(0.02), 0.0, start=left).Bl(*COIL, 80)) < 1e-9 < 1e-3 < left.Bl(*COIL, 80)
    on = solve(pot(0.02), 800, start=left)
    assert on.Bl(*COIL, 80) == pytest.approx(float(solve(pot(0.02), 800).Bl(*COIL, 80)), rel=1e-6)


@pytest.mark.parametrize(
    ("ask", "where"),
    [
        (lambda left: left.to_arrays(), "stored field"),
        (lambda left: harmonic(left, [Winding(*COIL, 80)]), "alternating field"),
        (lambda left: costs(left, COIL, []), "sensitivity"),
        (lambda left: remanence(left, 160.0), "remanence"),
    ],
)
def test_what_would_forget_the_remanence_is_refused(ask, where) -> None:
    with pytest.raises(FieldError, match=f"{where}: must be asked of a solved field; found one of remanence"):
        ask(remanence(solve(pot(0.02), 800), 160.0))


def test_wrong_coercivities_are_said_at_once() -> None:
    on = solve(pot(0.02), 800)
    with pytest.raises(FieldError) as said:
        remanence(on, {"pole": -160.0, "bolt": 900.0})
    assert str(said.value).splitlines() == [
        "coercivity of pole: must be 0 or more; found -160 A/m.",
        "coercivity: must be given for rings of steel; found bolt. There are back, wall, top, pole.",
    ]
    with pytest.raises(FieldError, match="coercivity of all steel: must be 0 or more; found nan"):
        remanence(on, float("nan"))

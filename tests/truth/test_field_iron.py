"""Steel bodies with known answers: a sphere in a uniform field, an ideal radial gap, a motor of any size."""

from __future__ import annotations

from functools import cache
from math import log, pi, sqrt

import numpy as np
import pytest

from handwound.materials import steels
from handwound.physics.field import Curve, Fineness, Problem, Ring, Winding, solve
from tests.physics.field.motors import linear

MM = 1e-3
MU_0 = 4e-7 * pi
FAR = Winding(198 * MM, 202 * MM, -2 * MM, 2 * MM, 1)  # a coil so large that its field is uniform over 20 mm


@cache
def tesla_per_ampere_turn() -> float:
    a = 10 * MM
    alone = solve(Problem((), FAR, ((0, a, -a, a),)), 1.0)
    return float(alone.B([0.0], [0.0])[1][0, 0])


def in_sphere(steps: int, curve: Curve, B_0: float) -> float:
    """Mean B_z in the middle of a sphere of 10 mm built of 2 x ``steps`` discs, each with the volume of its slice."""
    a = 10 * MM
    z = a * np.linspace(-1, 1, 2 * steps + 1)
    below, above = z[:-1], z[1:]
    radius = np.sqrt(a**2 - (below**2 + below * above + above**2) / 3)
    discs = tuple(
        Ring(f"disc {k}", 0.0, r, lo, hi, curve) for k, (r, lo, hi) in enumerate(zip(radius, below, above, strict=True))
    )
    fine = Fineness(edge=0.0005, zone=0.0005, growth=2.5)  # shares of the coil's size: 0.1 mm at the stair
    found = solve(Problem(discs, FAR), B_0 / tesla_per_ampere_turn(), fineness=fine)
    levels = np.linspace(-0.5, 0.5, 11) * a
    return float(found.flux([a / 2], levels).mean() / (pi * (a / 2) ** 2))


@pytest.mark.parametrize(
    ("curve", "B_0", "B_in", "tolerance"),
    [
        (linear(1000), 0.01, 0.01 * 2.994012, 0.008),
        (steels.curve("steel37"), 0.3, 0.898751, 0.008),
        (steels.curve("steel37"), 0.8, 2.167598, 0.002),
        (steels.curve("team13"), 0.5, 1.497672, 0.005),
    ],
    ids=["mu_r 1000", "unsaturated", "saturated", "knee"],
)
def test_a_sphere_in_a_uniform_field(curve, B_0, B_in, tolerance) -> None:
    """Kind of truth: closed form, B_in + 2 mu_0 H_in = 3 B_0 with B(H) of the steel (from memory).

    A stair of n steps is not a sphere: its error must halve when the steps are halved, and what is left when that part
    is taken away (twice the finer less the coarser) is held to the tolerance.
    """
    assert B_in + 2 * MU_0 * float(curve.H_dH(B_in)[0]) == pytest.approx(3 * B_0, rel=1.5e-3)
    coarse, fine = (in_sphere(steps, curve, B_0) / B_in - 1 for steps in (6, 12))
    assert 1.8 < coarse / fine < 2.5
    assert abs(2 * fine - coarse) < tolerance


@pytest.mark.parametrize(("height", "mu_r", "tolerance"), [(10, 1e4, 0.015), (10, 1e6, 5e-4), (20, 1e6, 5e-4)])
def test_an_ideal_radial_gap(height, mu_r, tolerance) -> None:
    """Kind of truth: closed form in the limit, B(r) = mu_0 NI / (r ln(r_2 / r_1)): 0.41843 T at 13.25 mm for 500 A.

    With mu_r of 1e4 the steel still takes about one per cent of the ampere-turns.
    """
    ideal = MU_0 * 500 / (13.25 * MM * log(14 / 12.5))
    assert ideal == pytest.approx(0.41843, abs=1e-5)
    steel, top = linear(mu_r), 30 + height
    places = {
        "pole": (0, 12.5, 0, top), "back": (12.5, 40, 0, 5), "wall": (32, 40, 5, 30), "plate": (14, 40, 30, top)
    }  # fmt: skip
    rings = tuple(Ring(name, *(MM * v for v in place), steel) for name, place in places.items())
    winding = Winding(16 * MM, 30 * MM, 7 * MM, 26 * MM, 1)
    found = solve(Problem(rings, winding, ((12.5 * MM, 14 * MM, 30 * MM, top * MM),)), 500.0)
    B_r = found.B([13.25 * MM], [(30 + height / 2) * MM])[0][0, 0]
    assert B_r == pytest.approx(ideal, rel=tolerance)
    assert B_r < ideal


def test_a_motor_of_any_size_is_the_same() -> None:
    """Kind of truth: limit. Lengths and ampere-turns twice as large leave B as it is, and double Bl."""
    steel = steels.curve("mild_steel")
    answers = []
    for scale in (1.0, 2.0, sqrt(7)):
        unit = MM * scale
        bolt = Ring("bolt", 0, 6 * unit, 0, 30 * unit, steel)
        found = solve(Problem((bolt,), Winding(7 * unit, 15 * unit, 3 * unit, 27 * unit, 1)), 700 * scale)
        Bl = found.Bl(8 * unit, 9 * unit, 28 * unit, 34 * unit, 50)
        answers.append((float(found.B([2 * unit], [15 * unit])[1][0, 0]), float(Bl) / scale))
    assert answers[1] == pytest.approx(answers[0], rel=1e-7)
    assert answers[2] == pytest.approx(answers[0], rel=1e-7)

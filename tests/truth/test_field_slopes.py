"""Sloped sides against an independent finite element library, and against the sphere's closed form."""

from __future__ import annotations

import platform
import sys
from math import pi

import numpy as np
import pytest
from scipy.optimize import brentq

from handwound.materials import steels
from handwound.physics.field import Curve, Fineness, Problem, Ring, Winding, solve
from tests.physics.field.motors import linear
from tests.physics.field.test_bent import all_slopes

MM = 1e-3
MU_0 = 4e-7 * pi
HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}

if HAS_WHEEL:
    from benchmarks import field as bench


@pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")
def test_force_factor_over_the_stroke() -> None:
    """Kind of truth: second method (NGSolve, triangles). Every kind of slope: 1e-4 when both are refined."""
    case = bench.Case("slopes", all_slopes(), (10.8 * MM, 11 * MM, 27 * MM, 35 * MM), 80, 1200)
    other = bench.peer(case, 4, bench.MeshSizes(0.002, 0.007, 0.03, 0.1, 1.0, 0.3))
    assert np.abs(bench.ours(case, 4, bench.FINEST) / other - 1).max() < 1e-4
    assert np.abs(bench.ours(case, 3, bench.FULL) / other - 1).max() < 1e-3
    assert np.abs(bench.ours(case, 3, bench.SEARCH) / other - 1).max() < 5e-3


def flux_density(steps: int, curve: Curve, NI: float) -> float:
    """Mean B_z in the middle of a sphere of 10 mm built of 2 x ``steps`` cones, in the field of a very large coil."""
    a, angle = 10 * MM, np.linspace(0, pi, 2 * steps + 1)
    z, r = -a * np.cos(angle), a * np.sin(angle)
    r[0] = r[-1] = 0.02 * a  # a cone must not end in a point
    cones = tuple(Ring(f"cone {k}", 0.0, r[k], z[k], z[k + 1], curve, r_out_hi=r[k + 1]) for k in range(2 * steps))
    far = Winding(398 * MM, 402 * MM, -2 * MM, 2 * MM, 1)
    found = solve(Problem(cones, far), NI, fineness=Fineness(edge=0.001, zone=0.001, largest=0.015, growth=2.5))
    return float(found.flux([a / 2], np.linspace(-0.5, 0.5, 11) * a).mean() / (pi * (a / 2) ** 2))


@pytest.mark.parametrize(
    ("curve", "B_0"),
    [
        (linear(1000), 0.01),
        (steels.curve("steel37"), 0.3),
        (steels.curve("steel37"), 0.8),
        (steels.curve("team13"), 0.5),
    ],
    ids=["mu_r 1000", "unsaturated", "saturated", "knee"],
)
def test_a_sphere_of_cones_in_a_uniform_field(curve, B_0) -> None:
    """Kind of truth: closed form, B_in + 2 mu_0 H_in = 3 B_0 with B(H) of the steel (from memory).

    With stairs the error halves when the steps are halved; with cones it must fall to a quarter at least.
    """
    B_in = brentq(lambda B: B + 2 * MU_0 * float(curve.H_dH(np.array(B))[0]) - 3 * B_0, 0, 3 * B_0)
    per_ampere = flux_density(6, linear(1), 1.0)  # the same cones of air
    coarse, fine, finer = (flux_density(n, curve, B_0 / per_ampere) / B_in - 1 for n in (3, 6, 12))
    assert abs(coarse) > 4 * abs(fine)
    assert abs(finer) < 5e-4

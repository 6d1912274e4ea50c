"""Coils in air: the solver without steel against closed forms; each test names its source."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from scipy.special import ellipe, ellipk

from handwound.physics.field import FULL, Problem, Solution, Winding, solve

MM = 1e-3
MU_0 = 4e-7 * pi


def loop_mutual(a: float, b: float, d: float) -> float:
    """Mutual inductance of two coaxial loops, Maxwell: mu_0 sqrt(ab) [(2/k - k) K - (2/k) E]. [H]"""
    m = 4 * a * b / ((a + b) ** 2 + d**2)
    k = np.sqrt(m)
    return float(MU_0 * np.sqrt(a * b) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m)))


def nagaoka(diameter_over_length: float) -> float:
    """Nagaoka's coefficient of a cylindrical current sheet, by Lorenz's closed form."""
    x = diameter_over_length
    m = x**2 / (1 + x**2)
    k = np.sqrt(m)
    return float(4 / (3 * pi * np.sqrt(1 - m)) * ((1 - m) / m * ellipk(m) - (1 - 2 * m) / m * ellipe(m) - k))


def coil_field(coil: tuple, N: float, NI: float, *zones: tuple) -> Solution:
    """The field of one coil alone; lengths in millimetres."""
    zones_m = tuple(tuple(MM * v for v in zone) for zone in zones)
    return solve(Problem((), Winding(*(MM * v for v in coil), N), zones_m), NI, fineness=FULL)


def test_the_oracles() -> None:
    """Kind of truth: closed form (Maxwell) and printed example (Nagaoka 1909, p. 31, by a public copy quoting it)."""
    for (a, b, d), M in {
        (0.25, 0.25, 0.01): 1.0366648e-6,
        (0.25, 0.20, 0.10): 0.2487874e-6,
        (0.25, 0.25, 0.20): 0.1670858e-6,
    }.items():
        assert loop_mutual(a, b, d) == pytest.approx(M, rel=1e-6)
    printed = {0.25: 0.901649, 0.5: 0.818136, 1: 0.688423, 2: 0.525510, 5: 0.319825}
    for x, K in printed.items():
        assert nagaoka(x) == pytest.approx(K, abs=2e-6)
    assert nagaoka(10) == pytest.approx(0.203315, abs=1e-5)


@pytest.mark.parametrize(("a", "b", "d"), [(250, 250, 10), (250, 200, 100), (250, 250, 200)])
def test_mutual_inductance_of_loops(a, b, d) -> None:
    """Kind of truth: closed form (Maxwell). Loops of 1 mm x 1 mm section: that moves the 10 mm pair by 1e-4 at most."""
    other = (b - 0.5, b + 0.5, d - 0.5, d + 0.5)
    found = coil_field((a - 0.5, a + 0.5, -0.5, 0.5), 1, 1.0, other)
    mutual = found.linkage(*(MM * v for v in other), 1)
    assert mutual == pytest.approx(loop_mutual(a * MM, b * MM, d * MM), rel=2e-4)


def test_a_thick_coil() -> None:
    """Kind of truth: second method, an independent integration. 500 turns, r 10 to 16, length 20 mm: 4.2060 mH."""
    assert coil_field((10, 16, 0, 20), 500, 500.0).L_static() == pytest.approx(4.2060e-3, rel=1e-4)


def test_two_thick_coils() -> None:
    """Kind of truth: second method, an independent integration. 10.062934 nH per turn squared."""
    other = (25, 35, 30, 50)
    found = coil_field((25, 35, -10, 10), 1, 1.0, other)
    assert found.linkage(*(MM * v for v in other), 1) == pytest.approx(10.062934e-9, rel=1e-4)


@pytest.mark.parametrize(("N", "length", "L"), [(200, 25, 679.446e-6), (60, 10, 104.785e-6)])
def test_a_current_sheet(N, length, L) -> None:
    """Kind of truth: closed form (Nagaoka, Lorenz). The sheet is 4 µm thick here, which lowers L by about 1e-4."""
    assert pi * MU_0 * N**2 * 0.0125**2 / (length * MM) * nagaoka(25 / length) == pytest.approx(L, rel=1e-5)
    found = coil_field((12.498, 12.502, 0, length), N, float(N))
    assert found.L_static() == pytest.approx(L, rel=3e-4)


def test_a_loop_on_its_axis() -> None:
    """Kind of truth: closed form. R 10 mm, 1 A: 62.832 µT in the middle and 22.214 µT at z = R; section 0.1 mm."""
    found = coil_field((9.95, 10.05, -0.05, 0.05), 1, 1.0, (0, 1, -10, 10))
    B_z = found.B([0.0], [0.0, 10 * MM])[1][:, 0]
    assert B_z == pytest.approx([62.832e-6, 22.214e-6], rel=2e-4)


def test_a_helmholtz_pair() -> None:
    """Kind of truth: closed form. R 0.1 m, 100 turns, 1 A: 0.899176 mT, twice what one coil gives at z = R / 2."""
    found = coil_field((99.5, 100.5, -0.5, 0.5), 100, 100.0, (0, 10, 40, 60))
    assert 2 * found.B([0.0], [50 * MM])[1][0, 0] == pytest.approx(0.899176e-3, rel=2e-4)


@pytest.mark.parametrize(
    ("coil", "NI", "middle", "end"),
    [((9.99, 10.01, 0, 20), 100.0, 4.44288e-3, 2.80993e-3), ((10, 20, 0, 30), 1000.0, 29.7488e-3, 18.7047e-3)],
)
def test_solenoids_on_their_axis(coil, NI, middle, end) -> None:
    """Kind of truth: closed form. A thin one (a sheet; 20 µm here) and a thick one."""
    found = coil_field(coil, 1, NI, (0, 1, coil[2], coil[3]))
    B_z = found.B([0.0], [coil[3] / 2 * MM, coil[3] * MM])[1][:, 0]
    assert B_z == pytest.approx([middle, end], rel=2e-4)


def test_mutual_inductance_is_the_same_both_ways() -> None:
    """Kind of truth: balance (reciprocity). Each way on its own grid."""
    one, two = (10, 16, 0, 20), (20, 22, 5, 9)
    forth = coil_field(one, 1, 1.0, two).linkage(*(MM * v for v in two), 1)
    back = coil_field(two, 1, 1.0, one).linkage(*(MM * v for v in one), 1)
    assert forth == pytest.approx(back, rel=1e-5)


def test_far_away_it_is_a_dipole() -> None:
    """Kind of truth: limit. B_z on the axis -> mu_0 m / (2 pi z^3), m = NI pi <r^2>, to (R/z)^2."""
    found = coil_field((10, 16, -10, 10), 1, 1000.0)
    m = 1000 * pi * (16**3 - 10**3) / 3 / 6 * MM**2
    z = 0.15
    assert found.B([0.0], [z])[1][0, 0] == pytest.approx(MU_0 * m / (2 * pi * z**3), rel=0.03)

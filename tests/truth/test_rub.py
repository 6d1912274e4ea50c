"""Check values of run-out, ovality, tilt and growth, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from handwound.materials.expansion import alpha_L
from handwound.physics.rub import WITHIN, axis_offset, grown, least_clearance, roundness

MM = 1e-3


@pytest.mark.parametrize("n", [3, 4, 5, 6])
@pytest.mark.parametrize("angle", [0.0, 0.3, 1.0, 2.2])
def test_the_calipers_of_an_ellipse(n, angle) -> None:
    """Kind of truth: closed form. The width of an ellipse between parallel jaws is 2 sqrt(a² cos² + b² sin²)."""
    a, b = 13.04 * MM, 13.00 * MM
    theta = np.pi * np.arange(n) / n - angle
    widths = 2 * np.sqrt((a * np.cos(theta)) ** 2 + (b * np.sin(theta)) ** 2)
    found = roundness(widths.tolist())
    assert found.D_f == pytest.approx(a + b, abs=1e-7)
    assert found.oval == pytest.approx(a - b, abs=1e-7)


@pytest.mark.parametrize("n", [3, 4, 5, 6])
def test_a_caliper_does_not_see_three_lobes(n) -> None:
    """Kind of truth: closed form. Of r = r_0 + a cos 3θ every diameter is 2 r_0: cos 3(θ + π) = -cos 3θ."""
    theta = np.pi * np.arange(n) / n
    widths = sum(13 * MM + 0.1 * MM * np.cos(3 * (theta + turn)) for turn in (0.0, np.pi))
    assert roundness(widths.tolist()) == pytest.approx((26 * MM, 0.0), abs=1e-9)


def test_nine_offsets_of_ten_keep_within_what_is_told() -> None:
    """Kind of truth: a general library, scipy's Rayleigh distribution."""
    assert stats.rayleigh.cdf(1.0, scale=WITHIN) == pytest.approx(0.9, rel=1e-12)


@pytest.mark.parametrize("c", [0.5, 1.0, 2.0])
def test_the_tail_in_round_numbers(c) -> None:
    """Kind of truth: closed form. An offset is longer than c in 10^-(c/e)² of the builds."""
    assert stats.rayleigh.sf(c, scale=0.8 * WITHIN) == pytest.approx(10 ** -((c / 0.8) ** 2), rel=1e-12)


def outline(e: complex, oval: complex, r: float) -> np.ndarray:
    """Distance from the middle of the gap of very many points on a coil that stands off it."""
    theta = np.linspace(0, 2 * np.pi, 200_001)
    coil = (r + np.real(oval * np.exp(-2j * theta)) / 2) * np.exp(1j * theta) + e
    return np.abs(coil)


@pytest.mark.parametrize("seed", range(5))
def test_the_air_round_a_crooked_coil(seed) -> None:
    """Kind of truth: second method. Points of the coil against the circles of bore and pole, without approximation."""
    source, r, c = np.random.default_rng(seed), 13.0 * MM, 0.3 * MM
    e, oval = (0.1 * MM * (source.standard_normal() + 1j * source.standard_normal()) for _ in range(2))
    points = outline(e, oval, r)
    assert least_clearance(c, e, oval) == pytest.approx(r + c - points.max(), abs=2e-6)
    assert least_clearance(c, -e, -oval) == pytest.approx(points.min() - (r - c), abs=2e-6)


def test_a_bulge_takes_air_only_where_it_is() -> None:
    """Kind of truth: closed form. It stands at θ = 0: the coil leans towards it, away from it, or across."""
    e, bulge = 0.05 * MM, 0.08 * MM
    leaning = np.array([e, -e, 1j * e])
    taken = [e + bulge, max(bulge - e, e), max(bulge, e)]
    assert 0.3 * MM - least_clearance(0.3 * MM, leaning, 0.0, bulge) == pytest.approx(taken)


def test_a_tilted_axis() -> None:
    """Kind of truth: closed form, the tangent; leaning east and 3 up from the pivot it stands 3 tan τ to the east."""
    tau = np.radians(0.5)
    assert axis_offset(1j * MM, tau, 13 * MM, 10 * MM) == pytest.approx((3 * np.tan(tau) + 1j) * MM, rel=1e-4)


def test_metals_grow_as_the_handbook_says() -> None:
    """Kind of truth: from memory. A metre of copper 1.65 mm longer for 100 K, of aluminium 2.3, of steel 1.2."""
    longer = {name: 1000 * grown(1.0, alpha_L(name), 120.0, 20.0) - 1000 for name in ("copper", "aluminium", "steel")}
    assert longer == pytest.approx({"copper": 1.65, "aluminium": 2.3, "steel": 1.2}, rel=0.02)

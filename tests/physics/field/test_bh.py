"""B-H curves: the interpolation, its inverse, its energy, spreads and refusals."""

from __future__ import annotations

import pickle

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field.bh import MU_0, Curve, saturation


@pytest.mark.parametrize("name", steels.names())
def test_the_cubics_are_pchip(name) -> None:
    """Kind of truth: second method, scipy's PchipInterpolator through the same table."""
    curve = steels.curve(name)
    outside = PchipInterpolator(curve.B, curve.H)
    B = np.linspace(0, curve.B[-1] * (1 - 1e-9), 5001)
    H, dH = curve.H_dH(B)
    assert outside(B) == pytest.approx(H, rel=1e-12, abs=1e-9)
    assert dH == pytest.approx(outside.derivative()(B), rel=1e-9)
    assert curve.energy(B[-1]) == pytest.approx(float(outside.antiderivative()(B[-1])), rel=1e-12)


@pytest.mark.parametrize("name", steels.names())
def test_a_steel_always_rises_and_is_never_worse_than_air(name) -> None:
    """Kind of truth: limit. 0 < dH/dB <= 1/mu_0, within the roundness of the tables' last digits."""
    B = np.linspace(0, 4, 4001)
    H, dH = steels.curve(name).H_dH(B)
    assert np.all(np.diff(H) > 0)
    assert dH.min() > 0
    assert dH.max() * MU_0 < 1.1


def test_beyond_the_table_is_vacuum() -> None:
    """Kind of truth: limit."""
    curve = steels.curve("steel37")
    H, dH = curve.H_dH(np.array([3.0, 4.0]))
    assert dH * MU_0 == pytest.approx(1)
    assert np.diff(H) * MU_0 == pytest.approx(1)


def test_the_inverse_returns() -> None:
    curve = steels.curve("team20")
    B = np.array([0.0, 1e-3, 0.7, 1.62, 2.25, 3.5])
    assert curve.B_of(curve.H_dH(B)[0]) == pytest.approx(B, abs=1e-12)


def test_a_scaled_curve_scales_the_steel_and_not_the_air() -> None:
    """Kind of truth: limit. J = B - mu_0 H is scaled at each H; far out the slope is still that of vacuum."""
    curve = steels.curve("team20")
    more = curve.scaled(1.05)
    H = np.array(curve.H[1:])
    assert more.B_of(H) - MU_0 * H == pytest.approx(1.05 * (curve.B_of(H) - MU_0 * H), rel=1e-9)
    assert more.H_dH(3.0)[1] == pytest.approx(1 / MU_0)


def test_a_harder_steel_takes_more_field_for_the_same_polarisation() -> None:
    """Kind of truth: definition. At k_H times the field strength the polarisation is the same."""
    curve = steels.curve("team20")
    harder = curve.scaled(1.0, 1.5)
    H = np.array(curve.H[1:])
    assert harder.B_of(1.5 * H) - MU_0 * 1.5 * H == pytest.approx(curve.B_of(H) - MU_0 * H, rel=1e-9)
    assert harder.H_dH(3.0)[1] == pytest.approx(1 / MU_0)


def test_equal_tables_are_equal_curves() -> None:
    one, two = Curve([0, 1, 2], [0, 100, 9000]), Curve(np.array([0.0, 1, 2]), (0, 100, 9000))
    one.H_dH(0.5)
    assert one == two and hash(one) == hash(two) and one != one.scaled(1.01)
    assert pickle.loads(pickle.dumps(one)) == two


@pytest.mark.parametrize(
    ("B", "H", "words"),
    [
        ([0, 1, 0.9], [0, 1, 2], "rise"),
        ([0, 1, 2], [0, 5, 5], "rise"),
        ([0.1, 1, 2], [0, 5, 6], "begin with B = 0"),
        ([0, 1, float("nan")], [0, 5, 6], "finite"),
        ([0, 1], [0, 5], "at least 3"),
    ],
)
def test_a_bad_table_is_refused_in_words(B, H, words) -> None:
    with pytest.raises(FieldError, match=words):
        Curve(B, H)


def test_the_word_follows_the_differential_permeability() -> None:
    """Kind of truth: the word's own definition, 200 and 25; a low slope far below the knee is not saturation."""
    curve = steels.curve("dc01")
    assert saturation(curve, 0.001) == "unsaturated"
    for B in np.linspace(0.8, 2.2, 29):
        mu = float(curve.mu_differential(B))
        assert saturation(curve, B) == ("unsaturated" if mu > 200 else "knee" if mu > 25 else "saturated")


def test_an_unknown_steel_is_answered_with_a_guess() -> None:
    with pytest.raises(FieldError, match='Did you mean "team13"'):
        steels.curve("team31")

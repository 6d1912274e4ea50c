"""The stroke of curves whose strokes are known."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.physics.stroke import KEPT, asymmetry, best_rest, stroke

MM = 1e-3
X = np.linspace(-8, 8, 17) * MM


def hill(x, middle: float = 0.0, width: float = 10.0):
    """A parabola in millimetres, 4 T·m at its top."""
    return 4 * (1 - ((x - middle * MM) / (width * MM)) ** 2)


def bell(x, middle: float):
    return 4 / np.cosh((x - middle * MM) / (5 * MM))


def test_a_parabola_ends_where_it_must() -> None:
    """Kind of truth: closed form. 18 % are lost at the root of 0.18 of the half width."""
    found = stroke(X, hill(X))
    assert found == pytest.approx((4, 0, np.sqrt(0.18) * 10 * MM, np.sqrt(0.18) * 10 * MM, np.sqrt(0.18) * 10 * MM))


@pytest.mark.parametrize("middle", [-1.0, 0.3, 1.5])
def test_a_bell_off_the_middle(middle) -> None:
    """Kind of truth: closed form. Of 1/cosh the places of 82 % of that at rest are known on both sides.

    Sampled at every millimetre, as a motor would be; held to ten micrometres.
    """
    found = stroke(X, bell(X, middle))
    at_rest = 1 / np.cosh(middle / 5)
    half = 5 * np.arccosh(1 / (KEPT * at_rest))
    wanted = (half - middle) * MM, (half + middle) * MM
    assert found.Bl_max == pytest.approx(4, rel=1e-4)
    assert found.x_max == pytest.approx(middle * MM, abs=2e-5)
    assert (found.x_down, found.x_up) == pytest.approx(wanted, abs=1e-5)
    assert found.x_82 == pytest.approx(min(wanted), abs=1e-5)


def test_the_rest_position_is_where_the_stroke_begins() -> None:
    """Kind of truth: symmetry. A shifted curve with a shifted rest has the same strokes."""
    here, there = stroke(X, bell(X, 0.0), 0.001), stroke(X, bell(X, -1.0))
    assert here[2:] == pytest.approx(there[2:], abs=1e-5)


def test_a_stroke_that_does_not_end_is_not_told() -> None:
    found = stroke(X, hill(X, middle=6, width=15))
    assert np.isnan(found.x_up) and found.x_down == found.x_82 > 0
    assert np.isnan(stroke(X, np.full(17, 4.0)).x_82)


@pytest.mark.parametrize(("Bl", "wanted"), [(hill(X), 0.0), (4 + 100 * X, 0.1), (4 - 100 * X, -0.1)])
def test_asymmetry(Bl, wanted) -> None:
    """Kind of truth: closed form. 100 T over 4 mm between the ends, 4 T·m in the mean."""
    assert asymmetry(X, Bl, 2 * MM) == pytest.approx(wanted, abs=1e-12)


def test_the_best_rest_of_an_even_hill_is_its_top() -> None:
    """Kind of truth: symmetry."""
    assert best_rest(X, bell(X, 1.2), 3 * MM) == pytest.approx((1.2 * MM, 1.2 * MM), abs=2e-5)


def test_the_even_rest_of_a_skewed_hill_evens_its_ends() -> None:
    """Kind of truth: closed form. 4 - a x² - b x³ has equal ends about x_0 where 2 a x_0 + b (3 x_0² + s²) = 0."""
    a, b, s = 2e4, 1e6, 3 * MM
    most, even = best_rest(X, 4 - a * X**2 - b * X**3, s)
    root = (-a + np.sqrt(a**2 - 3 * b**2 * s**2)) / (3 * b)
    assert most == pytest.approx(0, abs=1e-6)
    assert even == pytest.approx(root, abs=1e-8)
    assert asymmetry(X, 4 - a * X**2 - b * X**3, s, even) == pytest.approx(0, abs=1e-9)


def test_a_slope_without_a_top_has_no_even_rest() -> None:
    most, even = best_rest(X, 4 + 100 * X, 3 * MM)
    assert most == pytest.approx(8 * MM, abs=1e-5)
    assert np.isnan(even)


def test_beyond_what_is_known_is_refused() -> None:
    with pytest.raises(FieldError, match="must stay between -8 and 8 mm.*found -9 to 9 mm"):
        asymmetry(X, hill(X), 9 * MM)
    with pytest.raises(FieldError, match="must stay between -8 and 8 mm"):
        best_rest(X, hill(X), 8 * MM)
    with pytest.raises(FieldError, match="4 or more rising displacements; found 3 and 3"):
        stroke(X[:3], hill(X[:3]))
    with pytest.raises(FieldError, match="4 or more rising displacements"):
        stroke(X[::-1], hill(X))
    for x_0 in (-9 * MM, 9 * MM):
        with pytest.raises(FieldError, match="must stay between -8 and 8 mm"):
            stroke(X, hill(X), x_0)


def test_a_force_factor_that_is_none_is_refused() -> None:
    with pytest.raises(FieldError, match="must be above 0 at rest; found -4 T·m. Turn the sign"):
        stroke(X, -hill(X))
    with pytest.raises(FieldError, match="found a mean of 0"):
        asymmetry(X, 100 * X, 2 * MM)

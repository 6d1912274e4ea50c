"""What must hold for any coil in any gap: symmetry, order, and arrays that answer as numbers do."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.physics import rub

MM = 1e-3
VECTOR = st.builds(lambda length, way: length * MM * np.exp(1j * way), st.floats(0, 0.3), st.floats(0, 6.3))


@given(VECTOR, VECTOR, st.floats(0, 0.2))
def test_no_crookedness_makes_air(e, oval, bulge) -> None:
    """Kind of truth: limit. Never more than is drawn, never less than all of it in one direction."""
    found = rub.least_clearance(0.3 * MM, e, oval, bulge * MM)
    assert 0.3 * MM - abs(e) - abs(oval) / 2 - bulge * MM - 1e-9 <= found <= 0.3 * MM + 1e-9


@given(VECTOR, VECTOR, st.integers(0, rub.ANGLES - 1))
def test_the_direction_of_all_together_does_not_matter(e, oval, steps) -> None:
    """Kind of truth: symmetry. The whole turned by one angle; an ovality turns by twice as much."""
    turn = np.exp(2j * np.pi * steps / rub.ANGLES)
    turned = rub.least_clearance(0.3 * MM, e * turn, oval * turn**2)
    assert turned == pytest.approx(rub.least_clearance(0.3 * MM, e, oval), abs=1e-12)


@given(VECTOR)
def test_one_cause_alone_takes_its_length(e) -> None:
    """Kind of truth: closed form. An offset takes e, an ovality half of o; the places missed are 0.2 and 0.9 %."""
    assert 0.3 * MM - rub.least_clearance(0.3 * MM, e, 0.0) == pytest.approx(abs(e), rel=0.0022, abs=1e-12)
    assert 0.3 * MM - rub.least_clearance(0.3 * MM, 0.0, e) == pytest.approx(abs(e) / 2, rel=0.0087, abs=1e-12)


@given(st.lists(st.floats(20, 30), min_size=3, max_size=6))
def test_readings_begun_at_the_next_angle(D_read) -> None:
    """Kind of truth: symmetry. Where the first one is read does not matter."""
    here, there = rub.roundness(D_read), rub.roundness(D_read[1:] + D_read[:1])
    assert there == pytest.approx(here, abs=1e-9)


def test_draws_answer_as_numbers_do() -> None:
    """Kind of truth: second method. Draw by draw."""
    source = np.random.default_rng(3)
    c, e, oval, bulge = (0.1 * MM * source.standard_normal(20) for _ in range(4))
    one_by_one = [rub.least_clearance(*each) for each in zip(c, 1j * e, oval, bulge, strict=True)]
    assert rub.least_clearance(c, 1j * e, oval, bulge) == pytest.approx(one_by_one)
    readings = 26 * MM + 0.01 * MM * source.standard_normal((4, 20))
    found = rub.roundness(list(readings))
    assert np.array(found).T == pytest.approx(np.array([rub.roundness(each.tolist()) for each in readings.T]))


def test_a_shim_can_be_pulled() -> None:
    """Kind of truth: common practice, no source. A fiftieth of a millimetre thinner than the air."""
    assert rub.shim(0.30 * MM) == pytest.approx(0.28 * MM)

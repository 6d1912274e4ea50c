"""A wire told from what a bench reads: what was put in must come out."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.physics import wire

RHO = 1 / 58e6


@given(d_cu=st.floats(0.05e-3, 2e-3), l_test=st.floats(0.5, 500), T=st.floats(-10, 150))
def test_the_diameter_comes_back_from_the_resistance(d_cu, l_test, T) -> None:
    """Kind of truth: balance. Ohm's law forth and back, warm or cold."""
    rho = wire.resistivity(RHO, 0.00393, T)
    R_test = wire.resistance(rho, l_test, d_cu)
    assert wire.diameter_from_resistance(R_test, l_test, rho) == pytest.approx(d_cu, rel=1e-12)


@given(d_cu=st.floats(0.05e-3, 2e-3), l_w=st.floats(1, 2000))
def test_the_length_comes_back_from_the_mass(d_cu, l_w) -> None:
    """Kind of truth: balance."""
    d_o = 1.1 * d_cu
    m_m = wire.mass_per_metre(d_cu, d_o, 8890)
    assert wire.reel_length(wire.wire_mass(l_w, d_cu, d_o, 8890), m_m) == pytest.approx(l_w, rel=1e-12)


def test_enamel_is_a_few_per_cent_of_a_copper_wire() -> None:
    """Kind of truth: common practice, no source: 2 to 5 %."""
    for d_cu, d_o in ((0.1e-3, 0.1125e-3), (0.2e-3, 0.22e-3), (0.5e-3, 0.534e-3)):
        share = wire.mass_per_metre(d_cu, d_o, 8890) / wire.mass_per_metre(d_cu, d_cu, 8890) - 1
        assert 0.015 < share < 0.05


def test_wraps() -> None:
    """Kind of truth: closed form. 50 turns on 9.6 mm."""
    assert wire.overall_diameter_from_wraps(9.6e-3, 50) == pytest.approx(0.192e-3)


def test_a_metre_of_a_square_millimetre() -> None:
    """Kind of truth: from memory. IEC 60028: 1/58 Ω; a current of 1 A in it is 1 A/mm²."""
    d_cu = np.sqrt(4e-6 / np.pi)
    assert wire.resistance(RHO, 1.0, d_cu) == pytest.approx(1 / 58)
    assert wire.resistance_per_metre(RHO, d_cu) == pytest.approx(1 / 58)
    assert wire.current_density(1.0, d_cu) == pytest.approx(1e6)


def test_six_gauges_double_the_diameter() -> None:
    """Kind of truth: closed form. A rule of the trade: 6 gauges are a factor of 2 in diameter, within 0.6 %."""
    gauges = np.arange(10, 38)
    assert wire.awg_diameter(gauges) / wire.awg_diameter(gauges + 6) == pytest.approx(np.full(28, 2.0), rel=6e-3)

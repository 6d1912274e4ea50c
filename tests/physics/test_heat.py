"""The end temperature of one lump, against its balance."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.heat.lumped import case_area, case_temperature

ALPHA = 0.00393


def watts(T: float, V_max: float, I_max: float, R_20: float) -> float:
    R = R_20 * (1 + ALPHA * (T - 20))
    return R * min(V_max / R, I_max) ** 2


@pytest.mark.parametrize(("V_max", "I_max"), [(12.0, 5.0), (40.0, 0.7), (12.0, 0.74), (5.0, 0.1)])
def test_heat_in_equals_heat_out(V_max: float, I_max: float) -> None:
    """Balance: what the supply puts in at the end temperature is what the surface gives off."""
    T = case_temperature(V_max, I_max, 16.0, ALPHA, 0.02, 11.0, 20.0)
    assert watts(T, V_max, I_max, 16.0) == pytest.approx(11.0 * 0.02 * (T - 20), rel=1e-9)


def test_a_runaway_current_is_ended_by_the_voltage_limit() -> None:
    """Limit: where alpha R I² outruns the cooling no end temperature exists at constant current alone."""
    I_max = (11.0 * 0.02 / (16.0 * ALPHA)) ** 0.5 * 1.01
    with_limit = case_temperature(100.0, I_max, 16.0, ALPHA, 0.02, 11.0, 20.0)
    assert with_limit == pytest.approx(case_temperature(100.0, 1e6, 16.0, ALPHA, 0.02, 11.0, 20.0))


def test_without_a_temperature_coefficient_it_is_ohms_law() -> None:
    """Limit: alpha -> 0 gives T_room + V²/(R h A)."""
    T = case_temperature(12.0, 5.0, 16.0, 1e-9, 0.02, 11.0, 20.0)
    assert T == pytest.approx(20 + 9.0 / 0.22, rel=1e-6)


def test_arrays_answer_like_numbers() -> None:
    R_20 = np.array([4.0, 16.0, 64.0])
    many = case_temperature(12.0, 1.0, R_20, ALPHA, 0.02, 11.0, 20.0)
    assert many == pytest.approx([case_temperature(12.0, 1.0, R, ALPHA, 0.02, 11.0, 20.0) for R in R_20])


def test_a_can_has_a_wall_and_two_ends() -> None:
    """Closed form: a cylinder 60 mm across and 40 mm long."""
    assert case_area(0.06, 0.04) == pytest.approx(np.pi * 0.06 * 0.04 + 2 * np.pi * 0.03**2)

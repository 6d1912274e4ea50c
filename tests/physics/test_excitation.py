"""A coil on a bench supply: which limit holds, and what the power is."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.excitation import ampere_turns_at_voltage, power, supply_current


@pytest.mark.parametrize(("R_T", "I_f"), [(24.0, 0.5), (6.0, 2.0), (3.0, 2.0)])
def test_the_limit_met_first_holds(R_T, I_f) -> None:
    """Kind of truth: closed form. A supply of 12 V and 2 A: above 6 Ω its voltage holds, below its current."""
    assert supply_current(R_T, 12.0, 2.0) == I_f


def test_the_power_is_greatest_where_both_limits_meet() -> None:
    """Kind of truth: limit. No coil takes more than V_max I_max, and the one that does is V_max / I_max."""
    R_T = np.geomspace(0.6, 60, 401)
    watts = power(supply_current(R_T, 12.0, 2.0), R_T)
    assert watts.max() == pytest.approx(24.0)
    assert R_T[watts.argmax()] == pytest.approx(6.0)


def test_only_wire_size_and_volts_make_field_on_a_fixed_voltage() -> None:
    """Kind of truth: closed form. Twice the diameter is four times the ampere-turns; twice the volts is twice."""
    once = ampere_turns_at_voltage(12.0, 0.4e-3, 1 / 58e6, 0.04)
    assert ampere_turns_at_voltage(12.0, 0.8e-3, 1 / 58e6, 0.04) == pytest.approx(4 * once)
    assert ampere_turns_at_voltage(24.0, 0.4e-3, 1 / 58e6, 0.04) == pytest.approx(2 * once)

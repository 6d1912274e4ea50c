"""Check values of a winding, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.excitation import ampere_turns_at_voltage, supply_current
from handwound.physics.layers import LAY, layer_diameter, turns_per_layer
from handwound.physics.winding import ladder, mean_diameter, outer_diameter, turns, wire_length
from handwound.physics.wire import resistance

COPPER = 1 / 58e6


def test_a_winding_plan() -> None:
    """Kind of truth: closed form. 0.200 mm, 0.226 mm overall, on 20 mm, 12 mm high, two layers stacked; 0.2 %."""
    plan = ladder(0.020, 2, 0.012, 0.226e-3, 1.0, LAY["stacked"], 0, 0.0, 0.2e-3, COPPER, 0.00393, 20.0)
    assert plan.N_l.tolist() == [53, 53]
    assert plan.D_l * 1e3 == pytest.approx([20.226, 20.678], rel=1e-6)
    assert np.diff(plan.l_w, prepend=0) == pytest.approx([3.368, 3.443], rel=2e-3)
    assert plan.R_20.tolist() == pytest.approx([1.848, 3.738], rel=2e-3)
    assert plan.R_T.tolist() == pytest.approx(plan.R_20.tolist())


def test_nested_layers_are_rows_of_touching_circles() -> None:
    """Kind of truth: closed form. Three touching circles: the rows lie sqrt(3)/2 = 0.8660 diameters apart."""
    one, two = (layer_diameter(0.020, 0.2e-3, LAY["nested"], n, 0, 0.0) for n in (1, 2))
    assert (two - one) / 2 / 0.2e-3 == pytest.approx(0.8660, abs=5e-5)


@pytest.mark.parametrize(("lay", "fill"), [("nested", np.pi / (2 * 3**0.5)), ("stacked", np.pi / 4)])
def test_a_thick_winding_fills_its_room(lay, fill) -> None:
    """Kind of truth: limit. Circles in a plane fill 0.9069 in hexagons and 0.7854 in squares; edges cost the rest."""
    h_w, d_o, n_l = 0.2, 0.1e-3, 1500
    N = turns(n_l, h_w, d_o, 1.0, LAY[lay], 0)
    room = h_w * (outer_diameter(0.02, d_o, LAY[lay], n_l, 0, 0.0) - 0.02) / 2
    assert N * np.pi * d_o**2 / 4 / room == pytest.approx(fill, rel=1e-3)


@pytest.mark.parametrize("n_l", [4, 10, 16])
def test_turns_do_not_make_field_on_a_fixed_voltage(n_l) -> None:
    """Kind of truth: closed form. Twice the turns of a wire: as many ampere-turns, but for the larger mean turn."""

    def ampere_turns(layers: int) -> tuple[float, float]:
        shape = (layers, 0.044, 0.55e-3, 1.0, LAY["stacked"], 0)
        N, D_m = turns(*shape), mean_diameter(0.030, *shape, 0.0)
        return N * float(supply_current(resistance(COPPER, wire_length(N, D_m), 0.5e-3), 12.0, 100.0)), D_m

    (once, D_once), (twice, D_twice) = ampere_turns(n_l), ampere_turns(2 * n_l)
    assert twice / once == pytest.approx(D_once / D_twice, rel=1e-9)
    assert once == pytest.approx(ampere_turns_at_voltage(12.0, 0.5e-3, COPPER, D_once), rel=1e-9)


def test_turns_that_fit_exactly() -> None:
    """Kind of truth: closed form. Whole multiples stay whole, however binary fractions fall."""
    for n in range(1, 400):
        assert turns_per_layer(n * 0.1e-3, 0.1e-3, 1.0) == n

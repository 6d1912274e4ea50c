"""Films of air never stop where temperatures become equal, and what fills a winding leads its heat."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.heat import convection, winding_heat

FILMS = [convection.h_vertical, convection.h_cylinder, convection.h_up, convection.h_down]


@pytest.mark.parametrize("h", FILMS, ids=lambda h: h.__name__)
def test_heat_passes_smoothly_through_nothing(h) -> None:
    """Limit: h stays finite and positive, and heat per area rises with the difference and never jumps."""
    dT = np.linspace(-60, 60, 2401)
    q = h(20.0 + dT, 20.0, 0.06) * dT
    assert np.all(np.isfinite(q))
    assert np.all(h(20.0 + dT, 20.0, 0.06) > 0)
    assert np.all(np.diff(q) > 0)
    assert np.abs(np.diff(q)).max() < 0.05 * np.abs(q).max()


def test_a_cold_face_up_is_a_hot_face_down() -> None:
    """Limit: turned over and with the sign of the difference changed, at the same film nothing changes."""
    assert convection.h_up(20.0, 60.0, 0.07) == pytest.approx(convection.h_down(60.0, 20.0, 0.07))
    assert convection.h_down(20.0, 60.0, 0.07) == pytest.approx(convection.h_up(60.0, 20.0, 0.07))
    assert convection.h_vertical(20.0, 60.0, 0.07) == pytest.approx(convection.h_vertical(60.0, 20.0, 0.07))
    assert convection.h_layer(20.0, 60.0, 0.01, 0.05) == pytest.approx(convection.h_layer(60.0, 20.0, 0.01, 0.05))


def test_better_filling_conducts_better() -> None:
    """Limit: a winding lies between its filling and its metal, and rises with either."""
    k_fill = np.array([0.027, 0.1, 0.2, 1.0, 10.0, 390.0])
    found = winding_heat.winding_conductivity(0.5e-3, 0.55e-3, 0.92, 1.0, 390.0, 0.2, k_fill)
    assert np.all(np.diff(found) > 0)
    assert np.all(found[:3] > k_fill[:3])
    assert np.all(found < 390.0)

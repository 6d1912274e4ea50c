"""Heat's functions answer arrays as numbers, and films never stop where temperatures become equal."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.heat import convection, nusselt, radiation, winding_heat

CALLS = [
    (convection.film, (40.0,)),
    (convection.h_vertical, (60.0, 20.0, 0.05)),
    (convection.h_cylinder, (60.0, 20.0, 0.07)),
    (convection.h_up, (60.0, 20.0, 0.07)),
    (convection.h_down, (60.0, 20.0, 0.07)),
    (convection.h_layer, (60.0, 20.0, 0.008, 0.04)),
    (nusselt.nusselt_vertical, (1e5, 0.7)),
    (nusselt.nusselt_cylinder, (1e5, 0.7)),
    (nusselt.nusselt_up, (1e5,)),
    (nusselt.nusselt_down, (1e5,)),
    (nusselt.nusselt_layer, (1e5, 8.0)),
    (radiation.h_radiation, (60.0, 20.0, 0.8)),
    (radiation.eps_between, (0.8, 0.3)),
    (winding_heat.fill_factor, (0.50e-3, 0.60e-3, 0.8, 1.0)),
    (winding_heat.mixture_conductivity, (390.0, 0.2, 0.6)),
    (winding_heat.touching_conductivity, (0.50e-3, 0.60e-3, 0.8, 390.0, 0.2, 0.027)),
    (winding_heat.winding_conductivity, (0.50e-3, 0.60e-3, 0.8, 1.0, 390.0, 0.2, 0.027)),
    (winding_heat.winding_capacity, (0.50e-3, 0.60e-3, 0.8, 1.0, 3.4e6, 1e6)),
]
FILMS = [convection.h_vertical, convection.h_cylinder, convection.h_up, convection.h_down]


def results(answer) -> tuple:
    return answer if isinstance(answer, tuple) else (answer,)


@pytest.mark.parametrize(("function", "numbers"), CALLS, ids=[function.__name__ for function, _ in CALLS])
def test_arrays_answer_like_numbers(function, numbers) -> None:
    """Kind of truth: second method. Each argument in turn as a column of three, cell by cell."""
    for k, number in enumerate(numbers):
        column = np.array([0.95, 1.0, 1.05]) * number
        many = results(function(*numbers[:k], column, *numbers[k + 1 :]))
        single = [results(function(*numbers[:k], each, *numbers[k + 1 :])) for each in column.tolist()]
        for which, result in enumerate(many):
            cells = np.broadcast_to(result, 3)
            assert cells == pytest.approx(np.array([one[which] for one in single]), rel=1e-12)


def test_every_public_function_is_called() -> None:
    modules = (convection, nusselt, radiation, winding_heat)
    public = {
        each
        for module in modules
        for name, each in vars(module).items()
        if callable(each) and not name.startswith("_") and getattr(each, "__module__", "") == module.__name__
    }
    assert public - {convection.Film} == {function for function, _ in CALLS}


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

"""Every function of the moving parts, the driver, its sound and its heat answers arrays as it answers numbers."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics import air, driver, level, masses, moving, sound
from handwound.physics.heat import convection, nusselt, radiation, winding_heat

CALLS = [
    (air.density, (20.0,)),
    (air.speed, (20.0,)),
    (masses.strip_mass, (0.0256, 0.00015, 0.030, 0.12)),
    (masses.ring_mass, (0.02, 0.10, 0.16)),
    (masses.cone_mass, (0.026, 0.100, 0.020, 0.006, 0.16)),
    (masses.moving_share, (0.100, 0.120, 0.3)),
    (masses.dome_mass, (0.02, 0.10, 0.02, 0.16)),
    (masses.rib_mass, (6.0, 0.003, 0.03, 0.09, 0.012, 0.16)),
    (masses.bond_mass, (0.302, 0.006, 1e-4, 1150.0)),
    (moving.effective_radius, (0.100, 0.120)),
    (moving.effective_area, (0.055,)),
    (moving.air_mass, (1.204, 0.050)),
    (moving.ring_stiffness, (0.4e6, 0.3, 0.002, 0.100, 0.120)),
    (moving.stiffness_from_dip, (0.0005, 0.020)),
    (moving.loss_resistance, (0.2, 1100.0, 0.0077)),
    (driver.resonance, (0.0185, 833.0)),
    (driver.compliance, (833.0,)),
    (driver.Q_ms, (33.8, 0.0185, 1.4)),
    (driver.Q_es, (33.8, 0.0185, 6.0, 7.5)),
    (driver.Q_ts, (2.8, 0.42)),
    (driver.V_as, (0.0012, 0.0214, 1.204, 343.2)),
    (driver.reference_efficiency, (33.8, 0.078, 0.42, 343.2)),
    (level.level_1W, (0.007, 1.204, 343.2)),
    (level.level_2V83, (90.6, 6.0)),
    (level.level_at, (87.0, 5.0, 4.5)),
    (driver.Z_max, (6.0, 7.5, 1.4)),
    (driver.impedance, (40.0, 6.0, 7.5, 0.0185, 1.4, 833.0)),
    (sound.piston_resistance, (2.0,)),
    (sound.piston_reactance, (2.0,)),
    (sound.directivity, (2.0,)),
    (sound.piston_limit, (0.055, 343.2)),
    (sound.radiation, (300.0, 0.0825, 0.0214, 1.204, 343.2)),
    (sound.mechanical_impedance, (300.0, 0.0149, 1.4, 833.0, 0.0825, 0.0214, 1.204, 343.2)),
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


def results(answer) -> tuple:
    return answer if isinstance(answer, tuple) else (answer,)


@pytest.mark.parametrize(("function", "numbers"), CALLS, ids=[function.__name__ for function, _ in CALLS])
def test_arrays_answer_like_numbers(function, numbers) -> None:
    """Kind of truth: second method. Each argument in turn as a column of three, cell by cell."""
    for k, number in enumerate(numbers):
        column = np.array([0.9, 1.0, 1.1]) * number
        many = results(function(*numbers[:k], column, *numbers[k + 1 :]))
        single = [results(function(*numbers[:k], each, *numbers[k + 1 :])) for each in column.tolist()]
        for which, result in enumerate(many):
            cells = np.broadcast_to(result, 3)
            assert cells == pytest.approx(np.array([one[which] for one in single]), rel=1e-12)


def test_every_public_function_is_called() -> None:
    modules = (air, driver, level, masses, moving, sound, convection, nusselt, radiation, winding_heat)
    public = {
        each
        for module in modules
        for name, each in vars(module).items()
        if callable(each) and not name.startswith("_") and getattr(each, "__module__", "") == module.__name__
    }
    assert public - {convection.Film} == {function for function, _ in CALLS}

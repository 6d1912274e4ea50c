"""A driver in what it is built into, for many frequencies and many draws at once: each cell as by itself."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from handwound.physics import bench, box, tone, vents
from handwound.physics.alignment import closed_box, lowest, panels, vented_alignment, vented_polynomial
from handwound.physics.circuit import driven, excursion, pressure, sound_level
from handwound.physics.loudest import amplifier_limits, full_heat, loudest, preferred
from handwound.physics.sound import radiation
from tests.closed import mass_on_a_spring

RHO_0, C_0, NU = 1.204, 343.2, 15.1e-6
GENERATOR = np.random.default_rng(7)
DRAWS = {
    name: value * GENERATOR.uniform(0.9, 1.1, 5)
    for name, value in {
        "Re": 6.0, "Bl": 4.2, "Mmd": 7e-3, "Rms": 0.6, "Kms": 1100.0, "a": 0.055, "V_box": 0.01, "V_back": 4e-4,
        "d_port": 0.04, "l_port": 0.1, "Q_leak": 7.0, "R_source": 0.7,
    }.items()
}  # fmt: skip
F = np.geomspace(20, 2000, 6)


def chain(f: Any, some: dict[str, Any]) -> list[Any]:
    """All that follows for a vented box behind a frame with holes."""
    Sd = np.pi * some["a"] ** 2
    Z_port = vents.ports(f, 2, some["d_port"], some["l_port"], RHO_0, C_0, NU)
    f_box = vents.tuning(some["V_box"], 2, some["d_port"], some["l_port"], 1.463, C_0)
    R_leak = box.leak_resistance(some["V_box"], f_box, some["Q_leak"], RHO_0, C_0)
    Z_a, k_port, k_out = box.vented(f, some["V_box"], Z_port, RHO_0, C_0, R_leak, 0.02)
    holes = vents.vent_holes(f, 8, 3, 0.014, 0.001, RHO_0, NU)
    Z_a, k_vent = box.frame_back(f, some["V_back"], holes, Z_a, RHO_0, C_0)
    front = radiation(f, some["a"], Sd, RHO_0, C_0) / 2
    Z_m = mass_on_a_spring(f, some["Mmd"], some["Rms"], some["Kms"]) + front + Sd**2 * Z_a
    Z, v, I = driven(1.0, some["R_source"], some["Re"], 0.5j, some["Bl"], Z_m)
    p = pressure(f, v * (1 - k_vent * (1 - k_out)), Sd, RHO_0, 1.0, some["a"], 0.3, C_0)
    x, at_port = excursion(f, v), vents.port_velocity(v, k_port * k_vent, Sd, 2, some["d_port"])
    end = loudest(1.0, x, np.abs(I) ** 2 * some["Re"], np.abs(I), sound_level(p), 0.002, 8.0, 8.0, 1.0)
    best = tone.best_turns(some["R_source"], some["Re"], 0.5j, some["Bl"], Z_m)
    mass = tone.best_mass(f, some["R_source"], some["Re"], 0.5j, some["Bl"], Z_m)
    return [Z, v, I, p, at_port, *end, *best, *mass]


def test_frequencies_and_draws_at_once() -> None:
    """Kind of truth: second method. Frequencies down, draws across, against one at a time."""
    together = chain(F[:, None], DRAWS)
    for row, f in enumerate(F.tolist()):
        for column in range(5):
            alone = chain(f, {name: float(values[column]) for name, values in DRAWS.items()})
            for many, one in zip(together, alone, strict=True):
                assert np.shape(many) == (6, 5)
                assert many[row, column] == pytest.approx(complex(one), rel=1e-9)


CALLS = [
    (bench.flank, (46.0, 6.0)),
    (bench.Q_from_peak, (46.0, 6.0, 21.0, 54.0)),
    (bench.mass_from_shift, (0.01, 33.8, 27.2)),
    (bench.Vas_from_box, (0.015, 33.8, 84.0)),
    (bench.copper_mass, (9.0, 6.0, 1.724e-8, 8890.0)),
    (closed_box, (40.0, 0.35, 0.06, 0.8)),
    (vented_polynomial, (1.1, 2.0, 7.0, 0.35)),
    (lambda *numbers: vented_alignment(*numbers)[:3], (7.0, 0.3)),
    (vents.port_length, (0.01, 40.0, 1, 0.05, 1.463, C_0)),
    (vents.open_area, (8, 2, 0.014, 0.0095)),
    (panels, (0.01, 0.012, 5e-4, 0.6, 0.4, 0.2, 0.2)),
    (amplifier_limits, (15.0, 4.0)),
    (full_heat, (15.0, 4.0, 6.0, 5.6)),
    (preferred, (3.5,)),
    (box.closed, (50.0, 0.01, RHO_0, C_0, 3e5, 0.02)),
    (box.open_rear, (50.0, 0.055, 0.0095, RHO_0, C_0)),
]


@pytest.mark.parametrize(("function", "numbers"), CALLS, ids=[function.__name__ for function, _ in CALLS])
def test_arrays_answer_like_numbers(function, numbers) -> None:
    """Kind of truth: second method. Each argument in turn as a column of three, cell by cell."""
    for k, number in enumerate(numbers):
        column = np.array([0.9, 1.0, 1.1]) * number
        many = np.atleast_2d(np.broadcast_arrays(*_tuple(function(*numbers[:k], column, *numbers[k + 1 :]))))
        for cell, each in enumerate(column.tolist()):
            alone = _tuple(function(*numbers[:k], each, *numbers[k + 1 :]))
            shown = [line[min(cell, len(line) - 1)] for line in many]
            assert shown == pytest.approx([complex(one) for one in alone], rel=1e-12)


def test_the_low_ends_of_many_draws() -> None:
    """Kind of truth: limit. A curve that is shifted by a factor of frequency has its low end shifted by it."""
    f = np.geomspace(10, 1000, 200)
    level = -10 * np.log10(1 + (np.array([50.0, 80.0]) / f[:, None]) ** 4)
    low = lowest(f, level, 0.0, 10 * np.log10(2))
    assert low == pytest.approx([50.0, 80.0], rel=3e-4)


def _tuple(answer: Any) -> tuple[Any, ...]:
    return tuple(answer) if isinstance(answer, tuple) else (answer,)

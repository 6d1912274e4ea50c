"""Check values of a piston in a baffle, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from handwound.physics import air, driver, sound
from handwound.physics.circuit import driven, pressure, sound_level
from handwound.physics.level import level_1W, level_2V83
from handwound.physics.moving import air_mass

RHO_0, C_0 = 1.204, 343.2


@pytest.mark.parametrize(
    ("x", "R_1", "X_1"),
    [(0.1, 0.00125, 0.04241), (1, 0.119899, 0.396915), (2, 0.423275, 0.646764), (4, 1.033022, 0.534863),
     (10, 0.99131, 0.17837), (20, 0.99332, 0.04727)],
)  # fmt: skip
def test_radiation_impedance(x, R_1, X_1) -> None:
    """Kind of truth: closed form. A textbook's 1 - 2 J1(x)/x and 2 H1(x)/x (excerpt), evaluated to 1e-5 or better."""
    assert sound.piston_resistance(x) == pytest.approx(R_1, abs=6e-6)
    assert sound.piston_reactance(x) == pytest.approx(X_1, abs=6e-6)


@pytest.mark.parametrize("x", [0.5, 3.0, 11.0])
def test_radiation_impedance_by_integrals(x) -> None:
    """Kind of truth: second method. The integral forms of Bessel's and Struve's functions (from memory)."""
    J_1 = 2 * x / np.pi * quad(lambda u: np.sqrt(1 - u**2) * np.cos(x * u), 0, 1)[0]
    H_1 = 2 * x / np.pi * quad(lambda u: np.sqrt(1 - u**2) * np.sin(x * u), 0, 1)[0]
    assert sound.piston_resistance(x) == pytest.approx(1 - 2 * J_1 / x, abs=1e-8)
    assert sound.piston_reactance(x) == pytest.approx(2 * H_1 / x, abs=1e-8)


def test_the_air_of_a_slow_piston_is_a_mass() -> None:
    """Kind of truth: limit. Both sides carry 16/3 rho a³: 0.80267 g for 50 mm, and omega times it is 2 rho c S X1."""
    assert air_mass(RHO_0, 0.050) == pytest.approx(0.80267e-3, rel=1e-5)
    f = 5.0
    reactance = 2 * RHO_0 * C_0 * np.pi * 0.050**2 * sound.piston_reactance(4 * np.pi * f * 0.050 / C_0)
    assert reactance / (2 * np.pi * f) == pytest.approx(air_mass(RHO_0, 0.050), rel=1e-4)


@pytest.mark.parametrize(("fall", "x"), [(3.0, 1.6137), (6.0, 2.2118)])
def test_where_a_piston_beams(fall, x) -> None:
    """Kind of truth: closed form. 2 J1(x)/x is 3.00 dB down at 1.6137 and 6.00 dB at 2.2118."""
    assert brentq(lambda x: 20 * np.log10(sound.directivity(x)) + fall, 0.1, 3.5) == pytest.approx(x, abs=5e-5)
    if fall == 3.0:
        assert sound.piston_limit(0.05, C_0) * 2 * np.pi * 0.05 / C_0 == pytest.approx(x, abs=5e-5)


def test_on_the_axis_and_at_standstill() -> None:
    """Kind of truth: limit. 1 - x²/8, x²/8 and 4x/3π at x = 0, alone and in an array, and either side of the axis."""
    for nought in (0, 0.0, np.zeros(2)):
        assert np.all(sound.directivity(nought) == 1)
        assert np.all(sound.piston_resistance(nought) == 0)
        assert np.all(sound.piston_reactance(nought) == 0)
    x = np.array([0.0, 1e-3])
    assert sound.directivity(x) == pytest.approx(1 - x**2 / 8, abs=1e-12)
    assert sound.piston_reactance(x) == pytest.approx(4 * x / (3 * np.pi), abs=1e-9)
    assert sound.directivity(-2.0) == sound.directivity(2.0)


@pytest.mark.parametrize("ka", [0.2, 1.0, 3.0])
def test_power_sent_is_power_arriving(ka) -> None:
    """Kind of truth: balance. Far-field intensity over the half sphere is v² rho c S R1, whatever ka."""

    def intensity(angle: float) -> float:
        return float(sound.directivity(ka * np.sin(angle))) ** 2 * np.sin(angle)

    # p = rho f S v / r on the axis, S = pi a²: power = rho c k² S² v² / (2 pi)² times the integral of D² dOmega
    arriving = ka**2 / 2 * quad(intensity, 0, np.pi / 2)[0]
    assert arriving == pytest.approx(float(sound.piston_resistance(2 * ka)), rel=1e-7)


def heard(f, U, Re, Bl, Mmd, Rms, Kms, a, Sd, r=1.0) -> tuple[complex, float]:
    """Impedance and level on the axis in a wall."""
    Z_m = sound.mechanical_impedance(f, Mmd, Rms, Kms, a, Sd, RHO_0, C_0)
    Z, v, _ = driven(U, 0.0, Re, 0.0, Bl, Z_m)
    return complex(Z), float(sound_level(pressure(f, v, Sd, RHO_0, r, a, 0.0, C_0)))


def small(f: float, U: float = 2.83) -> tuple[complex, float, float]:
    """A light small driver that is far above resonance while ka is still small; its air mass counted in."""
    a, Re, Bl, Mmd, Rms, Kms = 0.010, 6.0, 0.5, 2e-3, 0.05, 300.0
    Mms, Sd = Mmd + air_mass(RHO_0, a), np.pi * a**2
    Z, L_p = heard(f, U, Re, Bl, Mmd, Rms, Kms, a, Sd)
    fs = driver.resonance(Mms, Kms)
    Vas, Qes = driver.V_as(1 / Kms, Sd, RHO_0, C_0), driver.Q_es(fs, Mms, Re, Bl)
    level = level_2V83(level_1W(driver.reference_efficiency(fs, Vas, Qes, C_0), RHO_0, C_0), Re)
    return Z, L_p, float(level)


@pytest.mark.parametrize("f", [1000.0, 1500.0])
def test_level_above_resonance_is_the_reference_level(f) -> None:
    """Kind of truth: limit. Well above 61 Hz and at ka below 0.3 the response is the reference efficiency; 0.1 dB."""
    Z, L_p, level = small(f)
    assert L_p == pytest.approx(level, abs=0.1)
    assert abs(Z) == pytest.approx(6.0, rel=0.01)


@pytest.mark.parametrize("f", [20.0, 61.0, 300.0, 1500.0])
def test_power_in_is_heat_and_sound(f) -> None:
    """Kind of truth: balance. Amplifier's power = I² Re + v² Rms + v² times both sides' radiation resistance."""
    a, Sd, Re, Bl, Rms, U = 0.0825, np.pi * 0.0825**2, 6.0, 7.5, 1.4, 2.83
    Z, L_p = heard(f, U, Re, Bl, 14.9e-3, Rms, 833.0, a, Sd)
    current = abs(U / Z)
    v = 20e-6 * 10 ** (L_p / 20) / (RHO_0 * f * Sd)
    radiation = 2 * RHO_0 * C_0 * Sd * sound.piston_resistance(4 * np.pi * f * a / C_0)
    assert U * current * np.cos(np.angle(Z)) == pytest.approx(current**2 * Re + v**2 * (Rms + radiation), rel=1e-9)


def test_twice_the_volts_and_half_the_distance_are_6_db_each() -> None:
    """Kind of truth: closed form. A linear driver in the far field; 20 lg 2 = 6.0206 dB."""
    numbers = (6.0, 7.5, 14.9e-3, 1.4, 833.0, 0.0825, 0.0214)
    once = heard(100.0, 1.0, *numbers)[1]
    assert heard(100.0, 2.0, *numbers)[1] - once == pytest.approx(6.0206, abs=1e-4)
    assert heard(100.0, 1.0, *numbers, 0.5)[1] - once == pytest.approx(6.0206, abs=1e-4)


def test_the_air_of_a_room() -> None:
    """Kind of truth: from memory. Dry air at 20 °C and 101 325 Pa: 1.204 kg/m³, 343.2 m/s."""
    assert air.density(20.0) == pytest.approx(1.204, abs=5e-4)
    assert air.speed(20.0) == pytest.approx(343.2, abs=0.05)


@pytest.mark.parametrize("T", [-10.0, 20.0, 40.0])
def test_sound_in_an_ideal_gas(T) -> None:
    """Kind of truth: second method. c = sqrt(1.4 p / rho), good to 0.1 % for air."""
    assert air.speed(T) == pytest.approx(np.sqrt(1.4 * 101325 / air.density(T)), rel=1e-3)

"""Check values of a driver's small-signal numbers, from outside the project."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from scipy.optimize import brentq

from handwound.physics import driver, level

RHO_0, C_0 = 1.204, 343.2
SD, MMS, CMS, RMS, R_E, BL = 0.0214, 18.5e-3, 1.2e-3, 1.4, 6.0, 7.5
"""A driver made up for checks: everything below follows from these six numbers by the formulas of Small 1972."""


def test_the_small_signal_numbers() -> None:
    """Kind of truth: closed form. Thiele and Small's formulas (from memory), worked by hand; 1e-4, 0.02 dB."""
    fs = driver.resonance(MMS, 1 / CMS)
    Qms, Qes = driver.Q_ms(fs, MMS, RMS), driver.Q_es(fs, MMS, R_E, BL)
    Vas = driver.V_as(CMS, SD, RHO_0, C_0)
    eta_0 = driver.reference_efficiency(fs, Vas, Qes, C_0)
    L_1W = level.level_1W(eta_0, RHO_0, C_0)
    found = [fs, Qms, Qes, driver.Q_ts(Qms, Qes), Vas * 1000, eta_0 * 100, driver.Z_max(R_E, BL, RMS)]
    assert found == pytest.approx([33.7788, 2.80458, 0.418817, 0.364400, 77.9345, 0.700414, 46.179], rel=1e-4)
    assert [L_1W, level.level_2V83(L_1W, R_E)] == pytest.approx([90.61, 91.862], abs=0.02)
    assert driver.compliance(1 / CMS) == pytest.approx(CMS)


@pytest.mark.parametrize(("c_0", "constant", "digits"), [(343.2, 9.766e-7, 4), (345, 9.614e-7, 4), (344.7, 9.64e-7, 3)])
def test_the_constant_of_the_efficiency(c_0, constant, digits) -> None:
    """Kind of truth: closed form; 9.64e-10 is printed for litres (Small 1972, from memory)."""
    assert driver.reference_efficiency(1.0, 1.0, 1.0, c_0) == pytest.approx(constant, rel=0.6 * 10 ** (1 - digits))


@pytest.mark.parametrize("stiffer", [1.0, 7.0])
def test_the_efficiency_is_force_area_and_mass(stiffer) -> None:
    """Kind of truth: closed form. The suspension drops out: rho Bl² Sd² / (2 pi c Re Mms²), exactly."""
    Kms = stiffer / CMS
    fs = driver.resonance(MMS, Kms)
    Vas = driver.V_as(driver.compliance(Kms), SD, RHO_0, C_0)
    eta_0 = driver.reference_efficiency(fs, Vas, driver.Q_es(fs, MMS, R_E, BL), C_0)
    assert eta_0 == pytest.approx(RHO_0 * BL**2 * SD**2 / (2 * pi * C_0 * R_E * MMS**2), rel=1e-12)


@pytest.mark.parametrize(("rho_c", "dB"), [(413.2, 112.16), (407, 112.09), (415.7, 112.19)])
def test_level_of_all_power_turned_into_sound(rho_c, dB) -> None:
    """Kind of truth: closed form. 1 W of sound through half a sphere of 1 m, for the values of rho c in use."""
    assert level.level_1W(1.0, rho_c / 343.0, 343.0) == pytest.approx(dB, abs=0.006)


def test_one_watt_is_2_83_volts_at_8_ohm() -> None:
    """Kind of truth: closed form. IEC 60268-5 (from memory): 1 W in 8 Ω, and 3.01 dB more in 4 Ω."""
    assert level.level_2V83(90.0, 8.0) == pytest.approx(90.0, abs=0.006)
    assert level.level_2V83(90.0, 4.0) - level.level_2V83(90.0, 8.0) == pytest.approx(3.0103, abs=1e-4)


def test_the_level_goes_with_the_force_factor() -> None:
    """Kind of truth: closed form. 20 lg 0.9 = -0.9151 dB, either way round; half the force is -6.02 dB."""
    assert level.level_at(90.0, 5.0, 4.5) == pytest.approx(90.0 - 0.91515, abs=1e-5)
    assert level.level_at(90.0, -5.0, -2.5) == pytest.approx(90.0 - 6.0206, abs=1e-4)


def test_a_warm_level_is_the_level_of_the_warm_driver() -> None:
    """Kind of truth: second method. The whole chain of formulas again with a tenth less force; 1e-9 dB."""

    def whole(Bl: float) -> float:
        fs, Vas = driver.resonance(MMS, 1 / CMS), driver.V_as(CMS, SD, RHO_0, C_0)
        Qes = driver.Q_es(fs, MMS, R_E, Bl)
        return float(level.level_1W(driver.reference_efficiency(fs, Vas, Qes, C_0), RHO_0, C_0))

    assert level.level_at(whole(BL), BL, 0.9 * BL) == pytest.approx(whole(0.9 * BL), abs=1e-9)


def modulus(f: float) -> float:
    return float(abs(driver.impedance(f, R_E, BL, MMS, RMS, 1 / CMS)))


def test_quality_factors_read_off_the_impedance() -> None:
    """Kind of truth: second method. The flanks of the peak at sqrt(Re Zmax), as a bench reads them; 1e-9."""
    fs, Z_max = sqrt(1 / (CMS * MMS)) / (2 * pi), modulus(sqrt(1 / (CMS * MMS)) / (2 * pi))
    ratio = Z_max / R_E
    f_1, f_2 = (brentq(lambda f: modulus(f) - sqrt(ratio) * R_E, *ends, xtol=1e-13) for ends in ((5, fs), (fs, 200)))
    assert [ratio, sqrt(ratio) * R_E, f_1, f_2] == pytest.approx([7.69643, 16.6455, 20.97775, 54.39118], rel=1e-5)
    assert sqrt(f_1 * f_2) == pytest.approx(fs, rel=1e-9)
    Qms = fs * sqrt(ratio) / (f_2 - f_1)
    assert Qms == pytest.approx(driver.Q_ms(fs, MMS, RMS), rel=1e-9)
    assert Qms / (ratio - 1) == pytest.approx(driver.Q_es(fs, MMS, R_E, BL), rel=1e-9)
    assert Qms / ratio == pytest.approx(driver.Q_ts(Qms, Qms / (ratio - 1)), rel=1e-12)


def test_an_added_mass_tells_the_moving_mass() -> None:
    """Kind of truth: closed form. 10 g more bring 33.7788 Hz down to 27.2149 Hz; Mms = m / ((fs/fm)² - 1)."""
    fs, fm = driver.resonance(MMS, 1 / CMS), driver.resonance(MMS + 0.010, 1 / CMS)
    assert fm == pytest.approx(27.2149, abs=5e-5)
    assert 0.010 / ((fs / fm) ** 2 - 1) == pytest.approx(MMS, rel=1e-9)


def test_impedance_far_from_resonance_is_the_wire() -> None:
    """Kind of truth: limit. Held or outrun, the coil no longer moves."""
    f = np.array([1e-3, 1e7])
    assert abs(driver.impedance(f, R_E, BL, MMS, RMS, 1 / CMS)) == pytest.approx([R_E, R_E], rel=1e-6)

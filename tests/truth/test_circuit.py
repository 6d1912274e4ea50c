"""Check values of a driver on its amplifier and on the bench, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar
from scipy.signal import TransferFunction, step

from handwound.physics import bench, driver, tone
from handwound.physics.circuit import driven, excursion, group_delay, phase, pressure, sound_level, step_response
from handwound.physics.loudest import LIMITS, amplifier_limits, full_heat, loudest, preferred, third_octaves
from handwound.physics.sound import mechanical_impedance
from tests.closed import high_pass, in_a_wall, mass_on_a_spring

RHO_0, C_0 = 1.204, 343.2
SD, MMS, CMS, RMS, R_E, BL = 0.0214, 18.5e-3, 1.2e-3, 1.4, 6.0, 7.5
"""A driver made up for checks: what follows from these six numbers was worked by hand."""


def simple(f: np.ndarray | float) -> np.ndarray:
    """Mass, spring and loss alone, the air a fixed mass."""
    return np.asarray(mass_on_a_spring(f, MMS, RMS, 1 / CMS))


def test_impedance_and_back_to_the_quality_factors() -> None:
    """Kind of truth: second method. A bench's reading of the curve: 7.69643, 16.6455 Ω, 20.97775 and 54.39118 Hz give
    Qms 2.804576, Qes 0.418817, Qts 0.3644 (Small 1972, from memory, worked by hand); the round trip to 1e-9."""

    def modulus(f: float) -> float:
        return float(np.abs(driven(1.0, 0.0, R_E, 0.0, BL, simple(f))[0]))

    fs = driver.resonance(MMS, 1 / CMS)
    Z_max = modulus(fs)
    height = bench.flank(Z_max, R_E)
    f_1, f_2 = (brentq(lambda f: modulus(f) - height, *ends, xtol=1e-13) for ends in ((5, fs), (fs, 200)))
    assert [Z_max / R_E, height, f_1, f_2] == pytest.approx([7.69643, 16.6455, 20.97775, 54.39118], rel=3e-6)
    found = bench.Q_from_peak(Z_max, R_E, f_1, f_2)
    assert found[1:] == pytest.approx([2.804576, 0.418817, 0.364400], abs=1e-6)
    Qms, Qes = driver.Q_ms(fs, MMS, RMS), driver.Q_es(fs, MMS, R_E, BL)
    assert found == pytest.approx([fs, Qms, Qes, driver.Q_ts(Qms, Qes)], rel=1e-9)


def test_an_added_mass_and_an_added_box() -> None:
    """Kind of truth: closed form. 10 g bring 33.7788 Hz to 27.2149; 15 litres to 84.0788 (worked by hand)."""
    fs = driver.resonance(MMS, 1 / CMS)
    assert bench.mass_from_shift(0.010, fs, driver.resonance(MMS + 0.010, 1 / CMS)) == pytest.approx(MMS, rel=1e-9)
    assert bench.mass_from_shift(0.010, 33.7788, 27.2149) * 1000 == pytest.approx(18.500, abs=1e-3)
    f_c = driver.resonance(MMS, 1 / CMS + RHO_0 * C_0**2 * SD**2 / 0.015)
    assert f_c == pytest.approx(84.0788, abs=5e-5)
    assert bench.Vas_from_box(0.015, fs, f_c) == pytest.approx(driver.V_as(CMS, SD, RHO_0, C_0), rel=1e-9)
    assert bench.Vas_from_box(0.015, 33.7788, 84.0788) * 1000 == pytest.approx(77.9345, abs=1e-3)


def test_copper_is_weighed_by_its_ohms() -> None:
    """Kind of truth: common practice, no source: m[g] = 0.153 l²/R; and a metre of 0.2 mm is 0.2793 g (closed form)."""
    assert bench.copper_mass(1.0, 1.0, 1 / 58e6, 8890.0) * 1000 == pytest.approx(0.153, abs=5e-4)
    area = np.pi * 0.0002**2 / 4
    assert bench.copper_mass(1.0, 1 / 58e6 / area, 1 / 58e6, 8890.0) * 1000 == pytest.approx(0.2793, abs=5e-5)


@pytest.mark.parametrize("f", [20.0, 33.8, 300.0, 3000.0])
def test_power_of_the_source_is_heat_and_motion(f) -> None:
    """Kind of truth: balance. E.m.f. times current = I² (Rs + Re + Re Zb) + v² Re Zm, to 1e-12."""
    Z_m, Z_b = simple(f), 0.02 * (2j * np.pi * f) ** 0.7
    Z, v, I = driven(3.0, 2.2, R_E, Z_b, BL, Z_m)
    out = abs(I) ** 2 * (2.2 + R_E + Z_b.real) + abs(v) ** 2 * Z_m.real
    assert (3.0 * np.conj(I)).real == pytest.approx(out, rel=1e-12)
    assert Z * I + 2.2 * I == pytest.approx(3.0, rel=1e-12)


def test_a_source_without_resistance_is_the_terminals() -> None:
    """Kind of truth: second method. A driver in a wall in closed form: level and impedance."""
    f, a = np.geomspace(20, 1000, 30), 0.0825
    moved = (14.9e-3, RMS, 1 / CMS, a, SD, RHO_0, C_0)
    Z, v, _ = driven(2.83, 0.0, R_E, 0.3j, BL, mechanical_impedance(f, *moved))
    Z_too, L_p = in_a_wall(f, 2.83, R_E, BL, *moved, 1.0, 0.3j)
    assert Z == pytest.approx(Z_too, rel=1e-12)
    assert sound_level(pressure(f, v, SD, RHO_0, 1.0, a, 0.0, C_0)) == pytest.approx(L_p, abs=1e-9)


def test_a_resistor_in_series_makes_the_motor_weak() -> None:
    """Kind of truth: closed form. Velocity at resonance U Bl / (Rms (Rs + Re) + Bl²), far above it U Bl / (R m w)."""
    fs = driver.resonance(MMS, 1 / CMS)
    assert abs(driven(1.0, 4.0, R_E, 0.0, BL, simple(fs))[1]) == pytest.approx(BL / (RMS * 10 + BL**2), rel=1e-12)
    far = abs(driven(1.0, 4.0, R_E, 0.0, BL, simple(1e5))[1])
    assert far == pytest.approx(BL / (10 * MMS * 2 * np.pi * 1e5), rel=1e-6)


def test_excursion_of_a_slow_tone() -> None:
    """Kind of truth: limit. Far below resonance the spring alone holds: √2 Cms Bl U / Re."""
    f = 0.05
    assert excursion(f, driven(1.0, 0.0, R_E, 0.0, BL, simple(f))[1]) == pytest.approx(
        np.sqrt(2) * CMS * BL / R_E, rel=1e-3
    )


@pytest.mark.parametrize(("fall", "x"), [(3.0, 1.6137), (6.0, 2.2118)])
def test_off_the_axis(fall, x) -> None:
    """Kind of truth: closed form. 2 J1(x)/x is 3.00 dB down at ka sin θ = 1.6137, 6.00 dB at 2.2118."""
    a, theta = 0.055, np.radians(60)
    f = x * C_0 / (2 * np.pi * a * np.sin(theta))
    both = sound_level(pressure(f, 0.01, SD, RHO_0, 1.0, a, np.array([0.0, theta]), C_0))
    assert both[0] - both[1] == pytest.approx(fall, abs=1e-3)


@pytest.mark.parametrize("Q", [0.5, 2**-0.5, 2.0])
def test_phase_and_group_delay_of_a_second_order_high_pass(Q) -> None:
    """Kind of truth: closed form. π - atan2(x/Q, 1 - x²); delay at f_0 is 2Q/ω_0, far below 1/(Q ω_0)."""
    f, f_0 = np.geomspace(5, 5000, 400), 50.0
    p, x = high_pass(f, f_0, Q), f / f_0
    assert phase(p) == pytest.approx(np.pi - np.arctan2(x / Q, 1 - x**2), abs=1e-9)
    delay = group_delay(f, p) * 2 * np.pi * f_0
    assert delay == pytest.approx((1 + x**2) / Q / ((1 - x**2) ** 2 + (x / Q) ** 2), rel=0.03, abs=0.005)
    assert np.interp(f_0, f, delay) == pytest.approx(2 * Q, rel=0.005)


def test_phase_of_many_at_once() -> None:
    """Kind of truth: second method. Each column by itself."""
    f = np.geomspace(5, 5000, 60)
    columns = [high_pass(f, 50.0, 0.7), high_pass(f, 80.0, 1.5)]
    both = np.stack(columns, axis=1)
    assert phase(both) == pytest.approx(np.stack([phase(p) for p in columns], axis=1))
    assert group_delay(f, both) == pytest.approx(np.stack([group_delay(f, p) for p in columns], axis=1))


@pytest.mark.parametrize("Q", [0.4, 0.8, 2.0])
def test_step_of_a_second_order_high_pass(Q) -> None:
    """Kind of truth: second method, a general library's step of s²/(s² + s/Q + 1); 1 % of the first peak after 1 ms."""
    f, omega = np.geomspace(10, 20e3, 400), 2 * np.pi * 60
    t, s = step_response(f, high_pass(f, 60.0, Q))
    at = np.linspace(0, 0.15, 601)
    _, wanted = step(TransferFunction([1, 0, 0], [1, omega / Q, omega**2]), T=at)
    assert np.interp(at, t, s)[4:] == pytest.approx(wanted[4:], abs=0.01)


def test_step_of_a_narrow_band_is_rounded_but_not_shifted() -> None:
    """Kind of truth: limit. At the moment of a jump a band shows half of it; a wider one hardly more after 1/f_hi."""
    f = np.geomspace(10, 2000, 400)
    t, s = step_response(f, high_pass(f, 60.0, 0.7))
    assert s[0] == pytest.approx(0.5, abs=0.03)
    assert t[-1] == pytest.approx(0.2, rel=0.01)


def test_the_loudest_tone_is_at_its_limit() -> None:
    """Kind of truth: second method. The driver computed again at the voltage found meets one limit, exceeds none."""
    f = np.geomspace(20, 2000, 60)
    U_lim, I_lim = amplifier_limits(15.0, 4.0)

    def at(U: np.ndarray | float) -> tuple[np.ndarray, ...]:
        _, v, I = driven(U, 0.5, R_E, 0.02 * (2j * np.pi * f) ** 0.7, BL, simple(f))
        p = pressure(f, v, SD, RHO_0, 1.0, 0.0825, 0.0, C_0)
        return excursion(f, v), np.abs(I) ** 2 * R_E, np.abs(I), sound_level(p)

    x, P, I, L = at(1.0)
    limits = {"excursion": 0.002, "heat": 4.0, "voltage": U_lim, "current": I_lim}
    end = loudest(1.0, x, P, I, L, *limits.values())
    x, P, I, L = at(end.U_max)
    used = np.stack([x / 0.002, np.sqrt(P / 4.0), end.U_max / U_lim, I / I_lim])
    assert np.max(used, axis=0) == pytest.approx(np.ones(60), rel=1e-12)
    assert np.argmax(used, axis=0).tolist() == end.n_limit.tolist()
    assert end.L_max == pytest.approx(L, abs=1e-9)
    assert {LIMITS[k] for k in end.n_limit} == {"excursion", "heat", "voltage"}


def test_an_amplifier_at_its_least_load_meets_both_limits() -> None:
    """Kind of truth: closed form. Voltage times current is the power, voltage over current the load."""
    U_lim, I_lim = amplifier_limits(20.0, 8.0)
    assert U_lim * I_lim == pytest.approx(20.0) and U_lim / I_lim == pytest.approx(8.0)
    assert U_lim == pytest.approx(12.65, abs=0.005)


def test_third_octaves() -> None:
    """Kind of truth: IEC 61260-1 by a general acoustics library: 19.95, 100, 316.23, 1995.26, 19952.6 Hz are called
    20, 100, 315, 2000, 20000."""
    f_nom, f_mid = third_octaves(20, 20000)
    assert len(f_nom) == 31
    places = [f_nom.tolist().index(f) for f in (20, 100, 315, 2000, 20000)]
    assert f_mid[places] == pytest.approx([19.95, 100, 316.23, 1995.26, 19952.6], rel=2e-4)
    assert np.max(np.abs(np.log2(f_nom / f_mid))) < 0.02
    assert third_octaves(31.5, 31.5)[0].tolist() == [31.5]


def test_preferred_resistors() -> None:
    """Kind of truth: IEC 60063 (from memory): E12 and E24 are themselves; others go to the nearest as a ratio."""
    E12 = [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82]
    E24 = sorted([*E12, 11, 13, 16, 20, 24, 30, 36, 43, 51, 62, 75, 91])
    assert preferred(np.array(E12, float)).tolist() == E12
    assert preferred(np.array(E24, float), 24).tolist() == E24
    assert preferred(np.array([0.47, 4.7, 4700.0])).tolist() == [0.47, 4.7, 4700.0]
    assert preferred(np.array([3.55, 9.06, 0.99])).tolist() == [3.3, 10.0, 1.0]


Z_B = 0.02 * (2j * np.pi * 440) ** 0.7


@pytest.mark.parametrize("R_source", [0.5, 8.0, 100.0])
@pytest.mark.parametrize("Z_b", [0.0, Z_B])
@pytest.mark.parametrize("Z_m", [complex(simple(440.0)), complex(simple(33.78)), complex(RMS)])
def test_the_best_turns_are_the_best(R_source, Z_b, Z_m) -> None:
    """Kind of truth: second method. A numerical search over the turns, with the copper kept."""

    def speed(n: float) -> float:
        return float(abs(driven(1.0, R_source, n**2 * R_E, n**2 * Z_b, n * BL, Z_m)[1]))

    k_N, dL = tone.best_turns(R_source, R_E, Z_b, BL, Z_m)
    found = minimize_scalar(lambda lg: -speed(np.exp(lg)), (-1, 1), options={"xtol": 1e-10})
    assert k_N == pytest.approx(np.exp(found.x), rel=1e-6)
    assert dL == pytest.approx(20 * np.log10(-found.fun / speed(1.0)), abs=1e-9)


def test_the_best_turns_take_the_most_power() -> None:
    """Kind of truth: closed form. With nothing reactive a coil can take U²/4Rs and no more."""
    k_N, _ = tone.best_turns(8.0, R_E, 0.0, BL, RMS)
    Z, _, I = driven(1.0, 8.0, k_N**2 * R_E, 0.0, k_N * BL, RMS)
    assert I**2 * Z == pytest.approx(1 / (4 * 8.0), rel=1e-12)


def test_without_resistance_no_turns_are_too_few() -> None:
    """Kind of truth: limit. A stiff source: half the turns of the same copper are 6 dB louder, and so on."""
    k_N, dL = tone.best_turns(0.0, R_E, 0.0, BL, simple(440.0))
    assert k_N == 0 and dL == np.inf


@pytest.mark.parametrize("R_source", [0.0, 8.0, 100.0])
@pytest.mark.parametrize("f", [20.0, 50.0, 440.0])
def test_the_best_mass_or_spring_is_the_best(R_source, f) -> None:
    """Kind of truth: second method. A numerical search over mass and stiffness."""
    omega, Z_b = 2 * np.pi * f, 0.02 * (2j * np.pi * f) ** 0.7
    m_add, K_add, dL = tone.best_mass(f, R_source, R_E, Z_b, BL, simple(f))

    def speed(X: float) -> float:
        return float(abs(driven(1.0, R_source, R_E, Z_b, BL, simple(f) + 1j * X)[1]))

    found = minimize_scalar(lambda X: -speed(X), (-1.0, 1.0), options={"xtol": 1e-12})
    assert omega * m_add - K_add / omega == pytest.approx(found.x, rel=1e-5, abs=1e-6)
    assert dL == pytest.approx(20 * np.log10(-found.fun / speed(0.0)), abs=1e-9)
    assert (m_add > 0) == (f < 33.0) and (m_add == 0 or K_add == 0)


def test_a_coil_without_inductance_is_best_at_its_resonance() -> None:
    """Kind of truth: closed form. Mass to add is K/ω² - Mms."""
    m_add, K_add, _ = tone.best_mass(20.0, 5.0, R_E, 0.0, BL, simple(20.0))
    assert m_add == pytest.approx(1 / CMS / (2 * np.pi * 20) ** 2 - MMS, rel=1e-12) and K_add == 0


def test_all_of_an_amplifier_in_a_coil() -> None:
    """Kind of truth: limit and hand. A bare resistor of the least load takes the rated watts, one of half as much no
    more amperes; through 4 Ω more, 7.75 V leave 15 x 4 / 10² x 6 = 3.6 W in a coil of 6 Ω."""
    assert full_heat(15.0, 4.0, 4.0, 4.0) == pytest.approx(15.0)
    assert full_heat(15.0, 4.0, 2.0, 2.0) == pytest.approx(7.5)
    assert full_heat(15.0, 4.0, 10.0, 6.0) == pytest.approx(3.6)

"""The field coil switched on and off, against exponentials, a solver of differential equations, and energy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from handwound.errors import FieldError
from handwound.physics.build_up import build_up, eddy_delay, rise_times, switch_off
from handwound.physics.field.bh import MU_0

V, R = 12.0, 16.0
SHARES = np.array([1 - np.exp(-1), 0.95])


def linkage(I_f):
    """A coil whose steel is full at the steady current: 1 H at first, a tenth of it in the end. [Wb]"""
    return 0.1 * I_f + 0.9 * 0.2 * np.tanh(I_f / 0.2)


def slope(I_f):
    return 0.1 + 0.9 / np.cosh(I_f / 0.2) ** 2


def test_a_coil_without_iron_rises_as_an_exponential() -> None:
    """Kind of truth: closed form. L/R and three times that, for current and flux alike."""
    L, I_f = 0.4, np.array([0.0, 0.2, 0.75])
    for times in rise_times(I_f, L * I_f, V, R, SHARES):
        assert times == pytest.approx(np.array([1, np.log(20)]) * L / R, rel=1e-12)
    assert build_up(I_f, I_f, L * I_f, V, R) == pytest.approx([0, L / R * np.log(12 / 8.8), np.inf], rel=1e-12)


def test_a_supply_at_its_current_limit_is_quicker() -> None:
    """Kind of truth: closed form. 24 V into 16 Ω and 0.4 H, stopped at 0.5 A: 25 ms ln(24 / (24 - 0.632 * 8))."""
    I_f = np.array([0.0, 0.5])
    t_I, t_psi = rise_times(I_f, 0.4 * I_f, 24.0, R, SHARES[0], I_max=0.5)
    assert t_I == pytest.approx(0.025 * np.log(24 / (24 - SHARES[0] * 8)), rel=1e-12)
    assert t_psi == pytest.approx(t_I, rel=1e-12)
    assert t_I < 0.25 * rise_times(I_f, 0.4 * I_f, 8.0, R, SHARES[0])[0]  # than one that ends there at its voltage


@pytest.mark.parametrize(("V_f", "R_T"), [(0.0, 16.0), (12.0, 0.0), (12.0, -1.0)])
def test_no_voltage_or_no_resistance_is_refused(V_f, R_T) -> None:
    I_f = np.array([0.0, 1.0])
    with pytest.raises(FieldError, match=f"a voltage and a resistance above 0; found {V_f:g} V and {R_T:g} Ω"):
        rise_times(I_f, I_f, V_f, R_T, 0.63, I_max=0.5)


def test_a_row_of_ten_currents_is_enough() -> None:
    """Kind of truth: second method. The differential equation, solved step by step, for a coil that saturates."""
    coarse, fine = np.linspace(0, V / R, 11), np.linspace(0, V / R, 2000)
    run = solve_ivp(lambda t, I: (V - R * I) / slope(I), (0, 0.5), [0.0], rtol=1e-10, atol=1e-12, dense_output=True)
    t = np.linspace(0, 0.5, 200_001)
    I_t = run.sol(t)[0]
    wanted_I = np.interp(SHARES * V / R, I_t, t)
    wanted_psi = np.interp(SHARES * linkage(V / R), linkage(I_t), t)
    for row, tolerance in ((fine, 2e-4), (coarse, 0.02)):
        t_I, t_psi = rise_times(row, linkage(row), V, R, SHARES)
        assert t_I == pytest.approx(wanted_I, rel=tolerance)
        assert t_psi == pytest.approx(wanted_psi, rel=tolerance)
    assert np.all(wanted_psi < wanted_I)  # a full steel: the flux is there before the current


def test_magnets_flux_was_there_before() -> None:
    """Kind of truth: limit. A linkage that does not begin at nothing changes no time."""
    I_f = np.linspace(0, V / R, 50)
    without, with_magnets = (rise_times(I_f, psi_0 + linkage(I_f), V, R, SHARES) for psi_0 in (0, 3))
    assert np.array(without) == pytest.approx(np.array(with_magnets), rel=1e-9)


def test_energy_of_the_coil_is_what_comes_back() -> None:
    """Kind of truth: closed form. 2 H at 0.5 A in 100 Ω: 0.25 J; 20 ms of time constant, three of them to 5 %."""
    off = switch_off(np.array([0.0, 0.5]), np.array([0.0, 1.0]), 100.0, 50.0, 0.0)
    assert off.W_off == pytest.approx(0.25)
    assert off.t_off == pytest.approx(0.020 * np.log(20))


def test_switching_off_a_saturated_coil() -> None:
    """Kind of truth: second method and balance. The equation solved step by step; heat in coil and diode is W."""
    I_f = np.linspace(0, V / R, 2000)
    off = switch_off(I_f, linkage(I_f), R, V, 0.8)

    def gone(t, I):
        return I[0] - 0.05 * V / R

    gone.terminal = True
    run = solve_ivp(lambda t, I: -(R * I + 0.8) / slope(I), (0, 2), [V / R], rtol=1e-10, atol=1e-12, events=gone)
    assert off.t_off == pytest.approx(run.t_events[0][0], rel=1e-4)
    assert off.W_off == pytest.approx(quad(lambda I: I * slope(I), 0, V / R)[0], rel=1e-5)
    assert off.I_diode == V / R
    assert off.V_reverse == 50  # at least, common practice
    assert switch_off(I_f, linkage(I_f), R, 40.0).V_reverse == 80


def test_a_diode_shortens_the_end() -> None:
    """Kind of truth: limit. Its own voltage takes energy too, so the current ends sooner."""
    I_f = np.linspace(0, V / R, 50)
    assert switch_off(I_f, linkage(I_f), R, V, 0.8).t_off < switch_off(I_f, linkage(I_f), R, V, 0.0).t_off


def test_eddy_delay_is_the_slowest_mode_of_diffusion() -> None:
    """Kind of truth: second method. The least eigenvalue of diffusion in a round bar, by finite differences."""
    n, a, mu_d, sigma = 400, 0.0125, 500.0, 7e6
    h = a / n
    r = (np.arange(n) + 0.5) * h  # rings of the bar; the surface is held at the new field
    inner, outer = r - h / 2, r + h / 2
    A = np.diag(inner[1:], -1) + np.diag(outer[:-1], 1) - np.diag(inner + outer)
    A[-1, -1] -= outer[-1]  # the surface lies half a step away
    slowest = -np.linalg.eigvals(A / (r * h**2)[:, None]).real.max()
    assert eddy_delay(mu_d, sigma, a) == pytest.approx(MU_0 * mu_d * sigma / slowest, rel=1e-4)


@pytest.mark.parametrize(
    ("I_f", "psi", "words"),
    [
        ([0.1, 0.2], [0.1, 0.2], "currents that rise from 0"),
        ([0.0], [0.0], "found 1 currents and 1 linkages"),
        ([0.0, 0.2, 0.1], [0.0, 0.1, 0.2], "currents that rise from 0"),
        ([0.0, 0.1, 0.2], [0.0, 0.2, 0.1], "must rise with the current"),
    ],
)
def test_a_row_that_makes_no_sense_is_refused(I_f, psi, words) -> None:
    with pytest.raises(FieldError, match=words):
        build_up(0.1, np.array(I_f), np.array(psi), V, R)


def test_a_row_too_short_is_refused() -> None:
    with pytest.raises(FieldError, match="up to the final current of 0.75 A; found 0.5 A"):
        rise_times(np.array([0.0, 0.5]), np.array([0.0, 0.5]), V, R, 0.63)

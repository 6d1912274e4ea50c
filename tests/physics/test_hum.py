"""Hum in its limits, its balance of power, and the numbers of the bench."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.physics.hum import bucking_turns, hum, ripple_allowed, sawtooth, smoothing, total_level
from handwound.physics.sound import radiation
from tests.closed import in_a_wall

F = np.array([100.0, 200.0, 300.0])
OMEGA = 2 * np.pi * F
N_F, N_V, L_F, K = 1500, 100, 0.4, 0.6  # turns, inductance of the field coil, share of its flux in the voice coil
MASS, STIFF, LOSS = 0.0077, 2700.0, 0.8
A = {
    "f": F, "V_ripple": 0.5, "R_f": 16.0, "Re": 6.0, "R_source": 0.1,
    "Z_ff": 1j * OMEGA * L_F,
    "Z_vf": 1j * OMEGA * L_F * K * N_V / N_F,
    "Z_vv": 1j * OMEGA * 0.0004 + 0.2,
    "Bl": 4.2, "Z_m": LOSS + 1j * (OMEGA * MASS - STIFF / OMEGA), "Sd": 0.0095, "rho_0": 1.204, "r": 1.0,
}  # fmt: skip


def test_an_open_voice_coil_makes_no_sound_and_shows_the_transformer() -> None:
    """Kind of truth: limit, and common practice (no source): e = k V N_vc / N_field, where the coil's R is small."""
    tone = hum(**{**A, "R_source": np.inf})
    assert np.all(tone.I_hum == 0) and np.all(tone.v_hum == 0) and np.all(np.isneginf(tone.L_hum))
    assert np.abs(tone.U_hum) == pytest.approx(K * 0.5 * N_V / N_F, rel=3e-3)
    assert np.abs(tone.I_ripple) == pytest.approx(0.5 / np.hypot(16, OMEGA * L_F), rel=1e-12)


def test_coils_without_a_common_flux_do_not_hum() -> None:
    """Kind of truth: limit."""
    assert np.all(np.isneginf(hum(**{**A, "Z_vf": 0j}).L_hum))


def test_power_in_is_power_out() -> None:
    """Kind of truth: balance. The supply's power is the heat of all resistances and the work against friction."""
    tone = hum(**A)
    given = (0.5 * np.conj(tone.I_ripple)).real
    heat = 16.0 * np.abs(tone.I_ripple) ** 2 + (6.0 + 0.1 + 0.2) * np.abs(tone.I_hum) ** 2
    assert given == pytest.approx(heat + LOSS * np.abs(tone.v_hum) ** 2, rel=1e-12)


def test_a_clamped_cone_is_a_plain_transformer() -> None:
    """Kind of truth: closed form. The cone held, the field coil is loaded by Z_vf² over the voice coil's loop."""
    tone = hum(**{**A, "Z_m": 1e12 + 0j})
    loop = 6.1 + A["Z_vv"]
    assert tone.I_ripple == pytest.approx(0.5 / (16 + A["Z_ff"] - A["Z_vf"] ** 2 / loop), rel=1e-9)
    assert tone.I_hum == pytest.approx(-A["Z_vf"] * tone.I_ripple / loop, rel=1e-9)


def test_the_voice_coil_driven_by_its_hum_is_a_driver() -> None:
    """Kind of truth: second method. The same voltage at the terminals of the driver, in closed form.

    A field coil of such impedance that the voice coil does not load it; the air is in the mechanical impedance.
    """
    a, Sd = 0.055, 0.0095
    Z_m = A["Z_m"] + radiation(F, a, Sd, 1.204, 343.2)
    weak = {**A, "R_source": 0.0, "Z_vv": 0j, "Z_m": Z_m, "Z_ff": 1e9 * A["Z_ff"], "V_ripple": 1e9}
    tone = hum(**weak)
    wanted = [
        in_a_wall(f, abs(U), 6.0, 4.2, MASS, LOSS, STIFF, a, Sd, 1.204, 343.2, 1.0)[1]
        for f, U in zip(F, tone.U_hum, strict=True)
    ]
    assert tone.L_hum == pytest.approx(wanted, abs=1e-6)


def test_a_hand_worked_tone() -> None:
    """Kind of truth: closed form, by hand. Field coil all reactance, 400 Ω; 8 Ω between the coils; cone a mass of 10 g.

    At 1000/2π Hz, 4 mA give 32 mV; with Bl 2 and 8 + 2²/(10j) Ω the velocity is 0.79 mm/s.
    """
    tone = hum(1000 / (2 * np.pi), 1.6, 0.0, 8.0, 0.0, 400j, 8j, 0j, 2.0, 10j, 0.01, 1.2, 1.0)
    I_v = 0.032 / abs(8 + 4 / 10j)
    assert abs(tone.I_hum) == pytest.approx(I_v, rel=2e-3)  # the voice coil's own load on the field coil left out
    assert abs(tone.v_hum) == pytest.approx(2 * I_v / 10, rel=2e-3)
    p = 1000 * 1.2 * 0.01 * abs(tone.v_hum) / (2 * np.pi)
    assert tone.L_hum == pytest.approx(20 * np.log10(p / 20e-6))


def test_the_ripple_allowed_makes_the_level_wanted() -> None:
    """Kind of truth: limit. Put back into the hum it gives that level."""
    allowed = ripple_allowed(0.5, hum(**A).L_hum, 20.0)
    assert hum(**{**A, "V_ripple": allowed}).L_hum == pytest.approx(np.full(3, 20.0))


def test_tones_add_by_power() -> None:
    """Kind of truth: closed form. Two alike are 3 dB more; one 100 dB lower adds nothing."""
    assert total_level(np.array([40.0, 40.0])) == pytest.approx(40 + 10 * np.log10(2))
    assert total_level(np.array([40.0, -60.0, -np.inf])) == pytest.approx(40, abs=1e-6)


def test_bucking_turns_of_coils_that_lag_alike_leave_the_rounding() -> None:
    """Kind of truth: closed form. 16.4 turns wanted, 16 wound: 0.4 of 16.4 are left."""
    N, left = bucking_turns(8.2j, 0.5j)
    assert N == 16 and left == pytest.approx(20 * np.log10(0.4 / 16.4))
    assert bucking_turns(8.0j, 0.5j) == (16, -300)


@pytest.mark.parametrize("Z", [(0j, 0.5j), (8.2j, 0j)])
def test_what_no_hum_reaches_is_not_bucked(Z) -> None:
    with pytest.raises(FieldError, match="must reach both the voice coil and the bucking coil"):
        bucking_turns(*Z)


def test_no_other_number_of_turns_leaves_less() -> None:
    """Kind of truth: second method. Every number tried, for coils whose fluxes lag differently and run either way."""
    for Z_vf in (1.3 + 8.2j, -0.7 - 5.1j, 0.05 + 0.1j):
        Z_turn = 0.02 + 0.47j
        tried = {N: abs(Z_vf - N * Z_turn) / abs(Z_vf) for N in range(-40, 40)}
        N, left = bucking_turns(Z_vf, Z_turn)
        assert min(tried, key=tried.get) == N
        assert left == pytest.approx(20 * np.log10(tried[N]))


def test_a_capacitor_of_the_bench() -> None:
    """Kind of truth: common practice (no source), I / (2 f dV): 1 A, 50 Hz, 1 V need 10000 µF."""
    assert smoothing(1.0, 50.0, 1.0) == pytest.approx(10_000e-6)


@pytest.mark.parametrize("n_h", [1, 2, 5])
def test_harmonics_of_the_sawtooth(n_h) -> None:
    """Kind of truth: second method. The Fourier integral of a falling ramp, by sums."""
    t = (np.arange(100_000) + 0.5) / 100_000
    part = 2 * np.mean((0.5 - t) * 3.0 * np.exp(-2j * np.pi * n_h * t))
    assert sawtooth(3.0, n_h) == pytest.approx(abs(part) / np.sqrt(2), rel=1e-6)

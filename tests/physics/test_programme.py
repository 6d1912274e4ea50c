"""Spectra and heat of programmes: limits, bounds, and draws like numbers."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics import driver
from handwound.physics.programme import F_HI, F_LO, compression, heat_of, heat_share, hot_exponent, pink, spectrum

F = np.geomspace(20.0, 20e3, 240)
RE = 6.0


def whole(f):
    """A driver with motion and inductance, from the tests of the driver."""
    return driver.impedance(f, RE, 7.5, 18.5e-3, 1.4, 833.0) + 2j * np.pi * f * 0.6e-3


def test_a_pink_band_has_the_same_in_each_octave() -> None:
    """Kind of truth: limit. 1000 to 2000 Hz of six octaves is a sixth, and all together is one."""
    f = np.geomspace(100.0, 6400.0, 6 * 200 + 1)
    shares = pink(f, 100.0, 6400.0)
    assert shares.sum() == pytest.approx(1, rel=1e-12)
    octave = (f >= 800) & (f < 1600)
    assert shares[octave].sum() == pytest.approx(1 / 6, rel=2e-3)


def test_beyond_what_is_known_the_ends_count() -> None:
    """Kind of truth: limit. A band of which only a point is known lies at this point."""
    assert pink(np.array([900.0, 1000.0]), 2000.0, 4000.0).tolist() == [0.0, 1.0]


def test_all_resistance_is_all_heat() -> None:
    """Kind of truth: limit."""
    assert heat_share(F, np.full(F.shape, RE), RE) == pytest.approx(1, rel=1e-12)


def test_noise_made_pink_is_pink() -> None:
    """Kind of truth: second method. Random phases and equal power an octave, as samples: the share of the integral."""
    n, f_sample = 2**19, 44100.0
    lines = np.fft.rfftfreq(n, 1 / f_sample)
    inside = (lines >= F_LO) & (lines <= F_HI)
    phases = np.exp(2j * np.pi * np.random.default_rng(4).random(lines.shape))
    wave = np.fft.irfft(np.where(inside, phases / np.sqrt(np.maximum(lines, 1.0)), 0.0), n)
    seen = spectrum(wave[: n // 8192 * 8192].reshape(-1, 8192), f_sample, F).mean(axis=0)
    assert heat_of(seen, whole(F), RE) / seen.sum() == pytest.approx(heat_share(F, whole(F), RE), rel=5e-3)


def test_many_drivers_at_once() -> None:
    """Kind of truth: second method. Draws in the last axis, one by one; blocks of a spectrum likewise."""
    Re = np.array([5.8, 6.0, 6.3])
    Z = whole(F)[:, None] + Re - RE
    many = heat_share(F, Z, Re)
    assert many == pytest.approx([heat_share(F, Z[:, k], Re[k]) for k in range(3)])
    blocks = np.random.default_rng(1).random((4, len(F)))
    assert heat_of(blocks, Z, Re) == pytest.approx(np.stack([heat_of(each, Z, Re) for each in blocks]))


@pytest.mark.parametrize("warmer", [1.05, 1.4, 1.8])
def test_what_the_rule_of_re_over_r_leaves_out(warmer) -> None:
    """Kind of truth: closed form of the hot coil. Never more heat than (R/Re)² times the rule's, never less than it."""
    R = warmer * RE
    exact = heat_share(F, whole(F) + R - RE, R) / R
    rule = heat_share(F, whole(F), RE) / RE * RE / R
    assert 1 < exact / rule < warmer**2
    resistor = np.full(F.shape, RE)
    assert heat_share(F, resistor + R - RE, R) / R == pytest.approx(1 / R, rel=1e-12)


def test_the_exponent_of_a_hot_coil() -> None:
    """Kind of truth: closed form. A resistor's heat is U²/R; with a large reactance I² R; R = x is the top between."""
    for reactance, n in ((0.0, 1.0), (1e6, -1.0)):
        assert hot_exponent(pink(F), np.full(F.shape, RE + 1j * reactance), RE, 1.4 * RE) == pytest.approx(n, abs=1e-9)
    at_the_top = np.full(F.shape, RE + 1j * RE)
    assert hot_exponent(pink(F), at_the_top, RE, 1.001 * RE) == pytest.approx(0, abs=1e-3)


@pytest.mark.parametrize("warmer", [0.9, 1.05, 1.2, 1.4, 1.6, 1.8])
def test_the_exponent_holds_from_cold_to_very_hot(warmer) -> None:
    """Kind of truth: closed form of the hot coil; 2 %."""
    R = warmer * RE
    n = hot_exponent(pink(F), whole(F), RE, 1.4 * RE)
    exact = heat_share(F, whole(F) + R - RE, R) / heat_share(F, whole(F), RE) / warmer
    assert warmer**-n == pytest.approx(exact, rel=0.02)


def test_at_resonance_a_hot_coil_loses_little() -> None:
    """Kind of truth: limit. Level goes with the current; Z is 46 ohms at resonance, and Re far above and far below."""
    fs, R = driver.resonance(18.5e-3, 833.0), 1.4 * RE
    for f, least, most in ((fs, 0.0, 0.2), (20 * fs, 0.98, 1.0), (fs / 20, 0.98, 1.0)):
        Z = driver.impedance(f, RE, 7.5, 18.5e-3, 1.4, 833.0)
        lost = 20 * np.log10(abs(Z + R - RE) / abs(Z))
        assert least < lost / compression(R, RE) < most

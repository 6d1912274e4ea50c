"""Check values of programmes as volts and watts, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from handwound.physics import programme

F = np.geomspace(20.0, 20e3, 400)
RE, L = 6.0, 0.6e-3
"""A coil without motion: its impedance is RE + j omega L."""


def blocked(f):
    return RE + 2j * np.pi * f * L


def test_noise_of_twenty_watts() -> None:
    """Kind of truth: closed form. 20 W in 8 ohm are 12.65 V r.m.s.; a crest factor of 2 makes peaks of 25.3 V."""
    U_pk = 2 * np.sqrt(20.0 * 8.0)
    crest = programme.crest_factor(U_pk, np.sqrt(20.0 * 8.0))
    assert U_pk == pytest.approx(25.3, abs=0.005)
    assert programme.programme_voltage(U_pk, crest, 0.0) == pytest.approx(12.65, abs=0.005)


def test_a_sine_at_clip_is_the_rated_power() -> None:
    """Kind of truth: closed form. A sine's crest factor is 10 lg 2 dB: its r.m.s. voltage gives P_max in Z_least."""
    U = programme.programme_voltage(programme.peak_voltage(15.0, 4.0), 10 * np.log10(2), 0.0)
    assert U**2 / 4.0 == pytest.approx(15.0, rel=1e-12)


@pytest.mark.parametrize(("f_lo", "f_hi"), [(40.0, 5000.0), (100.0, 400.0), (1000.0, 16000.0)])
def test_pink_noise_in_a_coil(f_lo, f_hi) -> None:
    """Kind of truth: closed form. The integral of 1/(1 + (f/fc)²) over ln f, fc = Re/(2 pi L)."""

    def up_to(f: float) -> float:
        return float(np.log(f) - np.log1p((f * 2 * np.pi * L / RE) ** 2) / 2)

    expected = (up_to(f_hi) - up_to(f_lo)) / np.log(f_hi / f_lo)
    assert programme.heat_share(F, blocked(F), RE, f_lo, f_hi) == pytest.approx(expected, rel=1e-4)


def whole(f):
    """The driver of docs/why/programme.md by its resonance and quality factors, with the inductance above."""
    return blocked(f) + RE * 2.80458 / 0.418817 / (1 + 2.80458j * (f / 33.7788 - 33.7788 / f))


def watts(R: float) -> float:
    """Heat of one volt of pink noise by adaptive integration, the coil at a resistance."""
    heat = quad(lambda x: R / abs(whole(np.exp(x)) + R - RE) ** 2, np.log(40), np.log(5000), limit=200)[0]
    return float(heat / np.log(125))


def test_pink_noise_at_a_resonance() -> None:
    """Kind of truth: second method, an adaptive integration; the shares are those of docs/why/programme.md."""
    share = programme.heat_share(F, whole(F), RE)
    assert share == pytest.approx(watts(RE) * RE, rel=1e-4)
    assert programme.heat_share(F, np.abs(whole(F)), RE) == share
    assert watts(RE) * RE == pytest.approx(0.58, abs=0.005)
    assert programme.heat_share(F, blocked(F), RE) == pytest.approx(0.75, abs=0.005)
    assert programme.programme_voltage(programme.peak_voltage(15.0, 4.0), 12.0, 0.0) ** 2 * watts(RE) == pytest.approx(
        0.74, abs=0.005
    )


def test_the_same_when_hot() -> None:
    """Kind of truth: second method, as above: exact at 1.4 Re, 2 % up to 1.8 Re, and what Re/R would fall short."""
    n = programme.hot_exponent(programme.pink(F), whole(F), RE, 1.4 * RE)
    assert 1.4**-n == pytest.approx(watts(1.4 * RE) / watts(RE), rel=1e-4)
    assert 1.8**-n == pytest.approx(watts(1.8 * RE) / watts(RE), rel=0.02)
    assert n == pytest.approx(0.59, abs=0.005)
    assert 1.4 * watts(1.4 * RE) / watts(RE) == pytest.approx(1.15, abs=0.005)


@pytest.mark.parametrize("f", [48.0, 1000.0, 1001.7, 5333.0])
def test_a_sine_in_a_coil(f) -> None:
    """Kind of truth: closed form. U²/2 Re/(Re² + (omega L)²), on a line of the spectrum or between two: 0.3 %."""
    u = np.sin(2 * np.pi * f * np.arange(11025) / 44100)
    heat = programme.heat_of(programme.spectrum(u, 44100.0, F), blocked(F), RE)
    assert heat == pytest.approx(np.mean(u**2) * RE**2 / abs(blocked(f)) ** 2, rel=3e-3)


@pytest.mark.parametrize("n", [1, 2, 7, 2000, 2001])
def test_all_volts_make_heat_in_a_resistor(n) -> None:
    """Kind of truth: balance (Parseval). Any signal, its d.c. too: the mean square over Re, to the last digits."""
    u = np.random.default_rng(n).normal(0.3, 1.0, (5, n))
    spectra = programme.spectrum(u, 8000.0, F)
    assert spectra.sum(axis=-1) == pytest.approx(np.mean(u**2, axis=-1), rel=1e-12)
    assert programme.heat_of(spectra, np.full(F.shape, RE), RE) == pytest.approx(np.mean(u**2, axis=-1), rel=1e-12)


def test_a_hot_coil() -> None:
    """Kind of truth: closed form. Copper 100 K warmer has 1.393 times the ohms: 20 lg 1.393 = 2.879 dB less level."""
    assert programme.compression(1.393 * RE, RE) == pytest.approx(2.879, abs=5e-4)
    assert programme.compression(RE, RE, 0.9, 1.0) == pytest.approx(0.915, abs=5e-4)

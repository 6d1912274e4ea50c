"""Programmes on one voice coil: the usual one, a file's, in bursts, and over and over for hours."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.io import wavfile

from handwound.files.wav import read_wav
from handwound.physics import programme as physics
from handwound.programme import LONG_TERM, SHORT_TERM, blocks, bursts, played, usual

F = np.geomspace(10.0, 20e3, 300)
RE, L = 6.0, 0.6e-3
Z = RE + 2j * np.pi * F * L


def noise(f_sample: int, seconds: float):
    """Pink between the usual ends, made in the frequencies; both channels the same, the second weaker."""
    n = round(f_sample * seconds)
    f = np.fft.rfftfreq(n, 1 / f_sample)
    random = np.random.default_rng(8).normal(size=(2, len(f)))
    shape = np.where((f >= physics.F_LO) & (f <= physics.F_HI), 1 / np.sqrt(np.maximum(f, 1.0)), 0.0)
    wave = np.fft.irfft((random[0] + 1j * random[1]) * shape, n)
    return np.stack([wave, 0.5 * wave], axis=1) / np.max(np.abs(wave)) * 0.8


@pytest.fixture(scope="module")
def recording(tmp_path_factory):
    path = tmp_path_factory.mktemp("sound") / "noise.wav"
    wavfile.write(path, 44100, noise(44100, 20.1).astype(np.float32))
    return read_wav(path)


def test_a_file_of_pink_noise_is_the_usual_programme(recording) -> None:
    """Kind of truth: second method. The file's own crest factor in the formula; 2 % for its 20 s."""
    found = played(recording, -3.0, F, Z, RE)
    expected = usual(recording.crest, -3.0, F, Z, RE)
    assert found.heat_share == pytest.approx(expected.heat_share, rel=0.02)
    mean = np.diff(found.t_b) @ found.P_rel / found.t_b[-1]
    assert mean == pytest.approx(expected.P_rel[0], rel=0.02)


def test_a_resistor_gets_what_the_file_holds(tmp_path) -> None:
    """Kind of truth: closed form. A loud and a soft tone, -20 dB apart, 6 dB below clip: U²/2R and a hundredth."""
    tone = np.cos(2 * np.pi * 500 * np.arange(8000) / 8000)
    wavfile.write(tmp_path / "a.wav", 8000, np.concatenate([tone, 0.1 * tone]).astype(np.float32))
    found = played(read_wav(tmp_path / "a.wav"), -6.0, F, np.full(F.shape, RE + 0j), RE)
    quarter = 10**-0.6
    assert found.P_rel == pytest.approx([0.5 * quarter] * 4 + [0.005 * quarter] * 4, rel=1e-5)
    assert found.heat_share == pytest.approx(1, rel=1e-6)
    assert found.crest == pytest.approx(10 * np.log10(2 / 0.505), abs=1e-4)


def test_over_and_over_for_hours(recording) -> None:
    """Kind of truth: balance. Three times and a bit of a fourth are three times the heat of one and that bit's."""
    found = played(recording, 0.0, F, Z, RE)
    length = found.t_b[-1]
    t_b, P_rel = blocks(found, 3 * length + 0.4)
    assert t_b[0] == 0 and t_b[-1] == 3 * length + 0.4 and len(t_b) == len(P_rel) + 1
    assert np.all(np.diff(t_b) > 0)
    once = np.diff(found.t_b) @ found.P_rel
    bit = 0.25 * found.P_rel[0] + 0.15 * found.P_rel[1]
    assert np.diff(t_b) @ P_rel == pytest.approx(3 * once + bit)
    hours, _ = blocks(found, 8 * 3600.0)
    assert hours[-1] == 8 * 3600.0


def test_only_the_beginning_of_a_long_file(recording) -> None:
    """Kind of truth: limit."""
    found = played(recording, 0.0, F, Z, RE)
    t_b, P_rel = blocks(found, 0.6)
    assert t_b.tolist() == [0.0, 0.25, 0.5, 0.6]
    assert np.array_equal(P_rel, found.P_rel[:3])


def test_what_is_steady_has_one_stretch() -> None:
    """Kind of truth: closed form. Crest factor 12 dB, all resistance: 10^-1.2 of the peaks' heat, however long."""
    found = usual(12.0, 0.0, F, np.full(F.shape, RE + 0j), RE)
    t_b, P_rel = blocks(found, 1e5)
    assert t_b.tolist() == [0.0, 1e5]
    assert P_rel == pytest.approx([10**-1.2])


@pytest.mark.parametrize(("duty", "lasts", "on"), [(SHORT_TERM, 3660.0, 60.0), (LONG_TERM, 1800.0, 600.0)])
def test_bursts(duty, lasts, on) -> None:
    """Kind of truth: from memory, IEC 60268-5: 1 s, 60 times, a minute apart; 1 min, ten times, two minutes apart."""
    found = usual(12.0, 0.0, F, Z, RE)
    t_b, P_rel = blocks(bursts(found, duty), duty.times * (duty.t_on + duty.t_rest))
    assert t_b[-1] == lasts
    assert np.diff(t_b) @ P_rel == pytest.approx(on * found.P_rel[0])
    assert np.count_nonzero(P_rel) == duty.times


def test_bursts_of_a_file_have_its_mean(recording) -> None:
    """Kind of truth: balance."""
    found = played(recording, 0.0, F, Z, RE)
    mean = np.diff(found.t_b) @ found.P_rel / found.t_b[-1]
    assert bursts(found, LONG_TERM).P_rel.tolist() == [mean, 0.0]


def test_draws_of_a_driver_and_of_what_is_played() -> None:
    """Kind of truth: second method. Three draws together and one by one."""
    Re, crest = np.array([5.8, 6.0, 6.2]), np.array([9.0, 12.0, 15.0])
    many = usual(crest, -1.0, F, Z[:, None] + Re - RE, Re)
    assert many.P_rel.shape == (1, 3)
    assert many.n_hot.shape == (3,)
    single = [usual(crest[k], -1.0, F, Z + Re[k] - RE, Re[k]).P_rel[0] for k in range(3)]
    assert many.P_rel[0] == pytest.approx(single)
    assert bursts(many, SHORT_TERM).P_rel.shape == (2, 3)


def test_a_louder_recording_of_the_same_is_the_same(recording) -> None:
    """Kind of truth: limit. Its own peak is brought to the amplifier's, so how loud it was saved means nothing."""
    wave = noise(44100, 20.1)[:, 0]
    assert recording.crest == pytest.approx(20 * np.log10(np.max(np.abs(wave)) / np.sqrt(np.mean(wave**2))), abs=1e-4)
    again = played(replace(recording, name="again"), -3.0, F, Z, RE)
    assert again.P_rel == pytest.approx(played(recording, -3.0, F, Z, RE).P_rel)

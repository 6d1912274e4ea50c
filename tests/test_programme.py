"""Programmes on one voice coil: the usual one, a file's, louder and softer, and many at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.io import wavfile

from handwound.files.wav import read_wav
from handwound.physics import programme as physics
from handwound.programme import mean_heat, played, turned, usual

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


def test_what_is_steady_has_one_stretch() -> None:
    """Kind of truth: closed form. Crest factor 12 dB, all resistance: 10^-1.2 of the peaks' heat."""
    assert mean_heat(usual(12.0, 0.0, F, np.full(F.shape, RE + 0j), RE)) == pytest.approx(10**-1.2)


def test_the_mean_of_a_file(tmp_path) -> None:
    """Kind of truth: closed form. A second of a tone and half a second of nothing: two thirds of U²/2R."""
    tone = np.cos(2 * np.pi * 500 * np.arange(8000) / 8000)
    wavfile.write(tmp_path / "a.wav", 8000, np.append(tone, np.zeros(4000)).astype(np.float32))
    found = played(read_wav(tmp_path / "a.wav"), 0.0, F, np.full(F.shape, RE + 0j), RE)
    assert mean_heat(found) == pytest.approx(1 / 3, rel=1e-5)


def test_the_same_music_at_other_levels_and_crest_factors(recording) -> None:
    """Kind of truth: second method. Turned from one to the other, and made there; a whole file by its level alone."""
    crest, level = np.array([9.0, 12.0, 15.0]), np.array([0.0, -3.0, -6.0])
    many = turned(usual(10.0, -1.0, F, Z, RE), crest, level)
    single = [mean_heat(usual(crest[k], level[k], F, Z, RE)) for k in range(3)]
    assert mean_heat(many) == pytest.approx(single)
    assert (many.crest is crest, many.level is level) == (True, True)
    softer = turned(played(recording, 0.0, F, Z, RE), recording.crest, -6.0)
    assert softer.P_rel == pytest.approx(played(recording, -6.0, F, Z, RE).P_rel)


def test_draws_of_a_driver_and_of_what_is_played() -> None:
    """Kind of truth: second method. Three draws together and one by one."""
    Re, crest = np.array([5.8, 6.0, 6.2]), np.array([9.0, 12.0, 15.0])
    many = usual(crest, -1.0, F, Z[:, None] + Re - RE, Re)
    assert many.P_rel.shape == (1, 3)
    assert many.n_hot.shape == (3,)
    single = [usual(crest[k], -1.0, F, Z + Re[k] - RE, Re[k]).P_rel[0] for k in range(3)]
    assert many.P_rel[0] == pytest.approx(single)
    assert mean_heat(many) == pytest.approx(single)


def test_a_louder_recording_of_the_same_is_the_same(recording) -> None:
    """Kind of truth: limit. Its own peak is brought to the amplifier's, so how loud it was saved means nothing."""
    wave = noise(44100, 20.1)[:, 0]
    assert recording.crest == pytest.approx(20 * np.log10(np.max(np.abs(wave)) / np.sqrt(np.mean(wave**2))), abs=1e-4)
    again = played(replace(recording, name="again"), -3.0, F, Z, RE)
    assert again.P_rel == pytest.approx(played(recording, -3.0, F, Z, RE).P_rel)

"""Sound files: written by other people's programs, read as volts; and what is said of those that cannot be read."""

from __future__ import annotations

import struct
import tracemalloc
import wave
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.io import wavfile

from handwound.errors import FileError
from handwound.files import wav
from handwound.files.wav import F, read_wav


def tone(f: float, seconds: float, f_sample: int, peak: float = 0.5):
    return peak * np.cos(2 * np.pi * f * np.arange(round(seconds * f_sample)) / f_sample)


def write(path: Path, u, f_sample: int, width: int) -> Path:
    """Whole numbers of so many bytes, by the library that comes with Python; a column for each channel."""
    u = u[:, None] if u.ndim == 1 else u
    whole = np.round(u * (2 ** (8 * width - 1) - 1)).astype("<i8") + (128 if width == 1 else 0)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(u.shape[1])
        file.setsampwidth(width)
        file.setframerate(f_sample)
        file.writeframes(whole[..., None].view(np.uint8)[..., :width].tobytes())
    return path


def said(path: Path) -> str:
    with pytest.raises(FileError) as told:
        read_wav(path)
    return str(told.value).removeprefix(f"{path}: ")


@pytest.mark.parametrize(("width", "near"), [(1, 2e-2), (2, 1e-4), (3, 1e-6), (4, 1e-6)])
@pytest.mark.parametrize("f_sample", [8000, 44100, 96000])
def test_a_sine(width, near, f_sample, tmp_path) -> None:
    """Kind of truth: closed form. A sine has a crest factor of 10 lg 2 dB and lies at its own frequency."""
    found = read_wav(write(tmp_path / "sine.wav", tone(400.0, 2.0, f_sample), f_sample, width))
    assert found.name == "sine"
    assert found.crest == pytest.approx(10 * np.log10(2), abs=10 * near)
    assert found.t_b == pytest.approx(np.linspace(0, 2, 9))
    assert found.u_f.sum(axis=1) == pytest.approx(np.full(8, 0.5), rel=2 * near)
    around = (F > 400 / 2 ** (1 / 12)) & (F < 400 * 2 ** (1 / 12))
    assert found.u_f[:, around].sum(axis=1) == pytest.approx(np.full(8, 0.5), rel=4 * near)


@pytest.mark.parametrize("kind", ["<i2", "<i4", "<f4", "<f8"])
def test_noise_loses_nothing(kind, tmp_path) -> None:
    """Kind of truth: balance, and second method: scipy writes, and its samples' mean square is ours, block by block."""
    noise = np.random.default_rng(3).uniform(-0.7, 0.7, 30000)
    full = np.iinfo(kind).max if kind[1] == "i" else 1.0
    wavfile.write(tmp_path / "noise.wav", 22050, (noise * full).astype(kind))
    samples = wavfile.read(tmp_path / "noise.wav")[1].astype(float)
    samples /= np.max(np.abs(samples))
    found, n = read_wav(tmp_path / "noise.wav"), round(0.25 * 22050)
    blocks = [np.mean(samples[k : k + n] ** 2) for k in range(0, 30000, n)]
    assert found.u_f.sum(axis=1) == pytest.approx(blocks, rel=1e-5)
    assert np.diff(found.t_b) == pytest.approx([n / 22050] * 5 + [30000 / 22050 - 5 * n / 22050])
    assert found.crest == pytest.approx(-10 * np.log10(np.mean(samples**2)), abs=1e-5)


def test_the_louder_channel_counts(tmp_path) -> None:
    """Kind of truth: limit. A channel that would cancel the other in a mix leaves the louder one as it is."""
    u = tone(300.0, 1.0, 44100)
    mono = read_wav(write(tmp_path / "mono.wav", u, 44100, 2))
    stereo = read_wav(write(tmp_path / "stereo.wav", np.stack([-0.9 * u, u, 0 * u], axis=1), 44100, 2))
    assert stereo.crest == mono.crest
    assert np.array_equal(stereo.u_f, mono.u_f)


def test_pieces_join_without_a_seam(tmp_path, monkeypatch) -> None:
    """Kind of truth: second method. Read in pieces of two blocks, and in one."""
    path = write(tmp_path / "a.wav", np.random.default_rng(5).uniform(-1, 1, 23456), 8000, 3)
    whole = read_wav(path)
    monkeypatch.setattr(wav, "PIECE", 2)
    assert np.allclose(read_wav(path).u_f, whole.u_f, rtol=1e-5, atol=1e-12)


def test_a_long_file_takes_little_memory(tmp_path) -> None:
    """Kind of truth: limit. Ten minutes are 106 MB as numbers; what is held of them at a time is a tenth of it."""
    u = np.random.default_rng(6).integers(-(2**14), 2**14, (60 * 44100, 2), dtype=np.int16)
    wavfile.write(tmp_path / "long.wav", 44100, np.tile(u, (10, 1)))
    tracemalloc.start()
    found = read_wav(tmp_path / "long.wav")
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(found.u_f) == 2400
    assert most < 60e6


def test_a_file_may_be_cut_short_and_hold_other_things(tmp_path) -> None:
    """Kind of truth: limit. A recorder that lost its power; a chunk of words of odd length before the samples."""
    sound = write(tmp_path / "a.wav", tone(500.0, 1.0, 8000), 8000, 2).read_bytes()
    words = struct.pack("<4sI", b"LIST", 5) + b"hello\0"
    (tmp_path / "b.wav").write_bytes(sound[:36] + words + sound[36:-8000])
    found = read_wav(tmp_path / "b.wav")
    assert found.t_b == pytest.approx([0, 0.25, 0.5])
    assert found.crest == pytest.approx(10 * np.log10(2), abs=1e-3)


def test_the_other_way_to_name_plain_samples(tmp_path) -> None:
    """Kind of truth: second method. The longer head of many 24-bit files, from memory, and the plain one."""
    plain = write(tmp_path / "a.wav", tone(500.0, 1.0, 8000), 8000, 3)
    head = struct.pack("<HHIIHH", 0xFFFE, 1, 8000, 24000, 3, 24) + struct.pack("<HHIH", 22, 24, 4, 1)
    head += bytes.fromhex("000000001000800000AA00389B71")
    data = plain.read_bytes()[36:]
    form = struct.pack("<4sI", b"fmt ", len(head)) + head
    (tmp_path / "b.wav").write_bytes(struct.pack("<4sI4s", b"RIFF", 4 + len(form) + len(data), b"WAVE") + form + data)
    assert np.array_equal(read_wav(tmp_path / "b.wav").u_f, read_wav(plain).u_f)
    assert np.array_equal(wavfile.read(tmp_path / "b.wav")[1], wavfile.read(plain)[1]), "others can read it as well"


def test_what_cannot_be_read(tmp_path) -> None:
    do = "Save it as plain WAV, 16 or 24 bit, in a sound editor."
    assert said(tmp_path / "none.wav") == "must be a file that can be read; found No such file or directory."
    assert said(tmp_path).startswith("must be a file that can be read; found ")
    empty, song, bare = (tmp_path / f"{name}.wav" for name in ("empty", "song", "bare"))
    empty.write_bytes(b"")
    song.write_bytes(b"ID3\x04" + bytes(100))
    bare.write_bytes(b"RIFF\x04\0\0\0WAVE")
    assert said(empty) == f"must be a WAV file; found an empty file. {do}"
    assert said(song) == f'must be a WAV file; found a file that begins with "ID3 ". {do}'
    assert said(bare) == f"must be a WAV file with sound in it; found no samples. {do}"
    none = write(tmp_path / "nothing.wav", np.zeros(0), 8000, 2)
    assert said(none) == f"must be a WAV file with sound in it; found no samples. {do}"
    silent = write(tmp_path / "silent.wav", np.zeros(8000), 8000, 2)
    assert said(silent) == "must be a WAV file with sound in it; found nothing but silence."


@pytest.mark.parametrize(
    ("at", "byte", "found"),
    [(20, 2, "samples of 2 bytes in format 2, 8000 in a second"), (22, 0, "samples of 0 bytes in format 1, 8000 in a "
     "second"), (32, 5, "samples of 5 bytes in format 1, 8000 in a second")],
)  # fmt: skip
def test_samples_that_are_coded(at, byte, found, tmp_path) -> None:
    data = bytearray(write(tmp_path / "a.wav", tone(500.0, 1.0, 8000), 8000, 2).read_bytes())
    data[at] = byte
    (tmp_path / "a.wav").write_bytes(data)
    assert said(tmp_path / "a.wav").startswith(f"must be a WAV file of plain samples; found {found}. Save ")


@pytest.mark.parametrize("wrong", [np.nan, np.inf, 1e9])
def test_samples_that_are_no_sound(wrong, tmp_path) -> None:
    wavfile.write(tmp_path / "a.wav", 8000, np.array([0.1, wrong, 0.2]))
    assert said(tmp_path / "a.wav").startswith("must be a WAV file of samples near full scale; found others.")


@given(
    kind=st.sampled_from(["<i2", "<f4", "<f8"]),
    at=st.integers(0, 80),
    bytes_there=st.binary(min_size=1, max_size=8),
    keep=st.integers(0, 700),
)
@settings(max_examples=200, deadline=None)
def test_a_damaged_file_is_read_or_refused(tmp_path_factory, kind, at, bytes_there, keep) -> None:
    """Kind of truth: limit. Whatever stands in it: a recording whose heat adds up, or a sentence."""
    path = tmp_path_factory.getbasetemp() / "damaged.wav"
    wavfile.write(path, 8000, (100 * tone(500.0, 0.01, 8000)).astype(kind))
    data = path.read_bytes()
    path.write_bytes((data[:at] + bytes_there + data[at + len(bytes_there) :])[:keep])
    try:
        found = read_wav(path)
    except FileError as error:
        assert str(error).startswith(f"{path}: must be ")
    else:
        mean_square = np.diff(found.t_b) @ found.u_f.sum(axis=1) / found.t_b[-1]
        assert mean_square == pytest.approx(10 ** (-found.crest / 10), rel=1e-4)

"""A sound file (WAV), read piece by piece: how much of its voltage lies at which frequency, block by block."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from handwound.errors import Fault, FileError
from handwound.files.toml import one_line
from handwound.parts.programme import Recording
from handwound.physics.programme import crest_factor, spectrum

BLOCK = 0.25
"""Length of a block: a few swings of 20 Hz, short beside the seconds in which a voice coil follows its watts. [s]"""
PIECE = 64
"""Blocks held at a time, so an hour of sound takes little more memory than a quarter of a minute."""
F = np.geomspace(10.0, 20480.0, 133)
"""Twelve frequencies to the octave. [Hz]"""
PLAIN, FLOAT, EXTENSIBLE = 1, 3, 0xFFFE
"""Kinds of samples that are no code to be undone; the last says further down which of the first two it is."""
STORED = {
    (PLAIN, 1): "u1",
    (PLAIN, 2): "<i2",
    (PLAIN, 3): "<i4",
    (PLAIN, 4): "<i4",
    (FLOAT, 4): "<f4",
    (FLOAT, 8): "<f8",
}
"""How numpy calls a sample of a kind and so many bytes; for three bytes, what they are once made four."""
LOUDEST = 1e6
"""A sample so many times beyond full scale is none."""
DO = "Save it as plain WAV, 16 or 24 bit, in a sound editor."

Samples = npt.NDArray[Any]


class Form(NamedTuple):
    """How the samples of a file are written, and where they stand."""

    kind: int
    channels: int
    f_sample: int
    width: int
    begin: int
    frames: int


def read_wav(path: str | Path) -> Recording:
    """The louder channel of a sound file with its own highest peak as 1, or a fault that says why not.

    A mix of two channels could cancel; of a pair of drivers the one on the louder channel gets hotter.
    """
    place = Path(path)
    try:
        form = _form(place)
        peak, blocks = _blocks(place, form)
    except OSError as error:
        raise FileError([Fault(str(place), "a file that can be read", str(error.strerror or error))]) from None
    n = _block(form)
    t_b = np.append(np.arange(0, form.frames, n), form.frames) / form.f_sample
    power = np.diff(t_b) @ blocks.sum(axis=-1).T / t_b[-1]
    loud = int(np.argmax(power))
    if not power[loud]:
        raise FileError([Fault(str(place), "a WAV file with sound in it", "nothing but silence")])
    return Recording(
        name=place.stem,
        crest=float(crest_factor(peak[loud], np.sqrt(power[loud]))),
        t_b=t_b,
        f=F,
        u_f=blocks[loud] / peak[loud] ** 2,
    )


def _block(form: Form) -> int:
    """Samples of a block."""
    return max(1, round(BLOCK * form.f_sample))


def _blocks(path: Path, form: Form) -> tuple[Samples, Samples]:
    """Peak of each channel, and its mean square by block and frequency."""
    n = _block(form)
    peaks, blocks = [], []
    for u in _pieces(path, form, PIECE * n):
        peaks.append(np.max(np.abs(u), axis=-1))
        if not np.all(peaks[-1] < LOUDEST):  # not a number is not less either
            raise FileError([Fault(str(path), "a WAV file of samples near full scale", "others", DO)])
        whole = u.shape[-1] // n * n
        if whole:
            blocks.append(spectrum(u[:, :whole].reshape(form.channels, -1, n), form.f_sample, F))
        if whole < u.shape[-1]:
            blocks.append(spectrum(u[:, None, whole:], form.f_sample, F))
    return np.max(peaks, axis=0).astype(float), np.concatenate(blocks, axis=1).astype(float)


def _pieces(path: Path, form: Form, n: int) -> Iterator[Samples]:
    """So many samples of every channel at a time, full scale as 1, a row for each channel."""
    stored, step = np.dtype(STORED[form.kind, form.width]), form.channels * form.width
    with path.open("rb") as file:
        file.seek(form.begin)
        for k in range(0, form.frames, n):
            raw = file.read(min(n, form.frames - k) * step)
            piece = np.frombuffer(raw, np.uint8).reshape(-1, form.channels, form.width)
            if stored.itemsize > form.width:  # three bytes become the upper ones of four
                piece = np.concatenate([np.zeros((*piece.shape[:2], 1), np.uint8), piece], axis=-1)
            u = piece.view(stored)[..., 0].T
            if form.kind == PLAIN:
                u = u.astype(np.float32) / 2 ** (8 * stored.itemsize - 1) - (stored.itemsize == 1)
            yield np.ascontiguousarray(u)


def _form(path: Path) -> Form:
    """The head of the file: chunk after chunk up to the samples."""
    with path.open("rb") as file:
        head, form = file.read(12), b""
        if head[:4] != b"RIFF" or head[8:] != b"WAVE":
            raise FileError([Fault(str(path), "a WAV file", _beginning(head), DO)])
        while len(chunk := file.read(8)) == 8:
            name, size = struct.unpack("<4sI", chunk)
            begin = file.tell()
            if name == b"data":
                return _stored(path, form, begin, min(size, path.stat().st_size - begin))  # a file that was cut short
            if name == b"fmt ":
                form = file.read(40)
            file.seek(begin + size + size % 2)
    raise FileError([Fault(str(path), "a WAV file with sound in it", "no samples", DO)])


def _stored(path: Path, form: bytes, begin: int, size: int) -> Form:
    """How the samples are written, from the bytes that say so."""
    kind, channels, f_sample, _, step = struct.unpack("<HHIIH", form[:14].ljust(14, b"\0"))
    if kind == EXTENSIBLE:
        kind = int.from_bytes(form[24:26], "little")
    width = step // channels if channels else 0
    if (kind, width) not in STORED or not f_sample:
        found = f"samples of {width} bytes in format {kind}, {f_sample} in a second"
        raise FileError([Fault(str(path), "a WAV file of plain samples", found, DO)])
    frames = size // (channels * width)
    if not frames:
        raise FileError([Fault(str(path), "a WAV file with sound in it", "no samples", DO)])
    return Form(kind, channels, f_sample, width, begin, frames)


def _beginning(head: bytes) -> str:
    text = one_line(head[:4].decode("latin-1"))
    return f'a file that begins with "{text}"' if head else "an empty file"

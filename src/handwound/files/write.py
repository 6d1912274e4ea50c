"""Writing so that nothing is ever lost: a file is whole before it takes the place of the old one, which is kept."""

from __future__ import annotations

import os
import secrets
import shutil
from codecs import BOM_UTF8
from collections.abc import Iterator
from contextlib import contextmanager
from errno import EIO
from pathlib import Path

BEFORE = ".before"
"""What the kept version is called: ``design.toml.before``."""


@contextmanager
def naming(path: Path) -> Iterator[None]:
    """Let every error of the system name the file that its user named, not a helper beside it, and never none."""
    try:
        yield
    except OSError as error:
        raise OSError(error.errno or EIO, error.strerror or str(error), str(path)) from error


def write_whole(path: Path, data: bytes, like: Path | None = None) -> None:
    """Write beside the place, then rename: whoever reads sees the old file or the new one, never half of it.

    Rights are those of the file ``like``, else of the file that stood there, else what this system gives new files. A
    link stays a link: what it points to is written. A device or a pipe is written into; it is never replaced.
    """
    with naming(path):
        if path.exists() and not path.is_file():
            with path.open("wb") as device:
                device.write(data)
        else:
            _replace(path.resolve(), data, like)


def _replace(place: Path, data: bytes, like: Path | None) -> None:
    model = like or place
    temporary = place.with_name(f".{place.name}.{secrets.token_hex(4)}.tmp")
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if model.exists():
            shutil.copymode(model, temporary)
        os.replace(temporary, place)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def replace_text(path: Path, text: str) -> None:
    """Put a text in the place of a file; the version before is kept beside it. On any error both stay as they were."""
    with naming(path):
        place = path.resolve()
        data = text.encode()
        if place.exists():
            old = place.read_bytes()
            data = BOM_UTF8 + data if old.startswith(BOM_UTF8) else data
            write_whole(place.with_name(place.name + BEFORE), old, like=place)
        write_whole(place, data)


def append_line(path: Path, line: str, first: str) -> None:
    """Add a line to the end of a log in one write; ``first`` is the line that a new log begins with."""
    with naming(path), path.open("ab+") as file:
        end = file.seek(0, os.SEEK_END)
        if end:
            file.seek(end - 1)
        start = f"{first}\n" if not end else "" if file.read(1) == b"\n" else "\n"
        file.write(f"{start}{line}\n".encode())
        file.flush()
        os.fsync(file.fileno())

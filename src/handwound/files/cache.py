"""Arrays kept on disk under a key made from all the inputs that they came from. Safe under several processes."""

from __future__ import annotations

import hashlib
import io
import os
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_cache_path

from handwound import __version__
from handwound.files.write import write_whole

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Arrays = dict[str, npt.NDArray[np.float64]]

KEPT = 400
"""Files kept; the oldest go first. One field of a motor is about 0.2 MB."""


def folder() -> Path:
    """Where the cache lives: HANDWOUND_CACHE, or the system's place for caches."""
    named = os.environ.get("HANDWOUND_CACHE")
    return Path(named) if named else user_cache_path("handwound", appauthor=False)


def key(*inputs: object) -> str:
    """A name for these inputs: equal inputs give equal names on every machine; the version of handwound counts."""
    text = "\x1f".join([__version__, *map(repr, inputs)])
    return hashlib.sha256(text.encode()).hexdigest()[:40]


def get(name: str) -> Arrays | None:
    """The arrays kept under this name, or None; a file that cannot be read counts as not there."""
    import numpy as np

    path = folder() / f"{name}.npz"
    try:
        # opened here, since numpy leaves a damaged file open
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            found = {item: kept[item] for item in kept.files}
        os.utime(path)
    except (OSError, ValueError, EOFError, KeyError, zipfile.BadZipFile):
        return None
    return found


def put(name: str, arrays: Arrays) -> None:
    """Keep the arrays. Another process sees the whole file or none of it; a full or read-only disk is no fault."""
    import numpy as np

    place, whole = folder(), io.BytesIO()
    np.savez(whole, allow_pickle=False, **arrays)
    try:
        place.mkdir(parents=True, exist_ok=True)
        write_whole(place / f"{name}.npz", whole.getvalue())
        _forget_oldest(place)
    except OSError:
        return


def _forget_oldest(place: Path) -> None:
    kept = sorted(place.glob("*.npz"), key=lambda path: path.stat().st_mtime)
    for path in kept[:-KEPT]:
        path.unlink(missing_ok=True)

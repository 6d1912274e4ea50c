"""The disk cache: whole files or none, under several processes and on bad disks."""

from __future__ import annotations

import multiprocessing
from pathlib import Path

import numpy as np
import pytest

from handwound.files import cache


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HANDWOUND_CACHE", str(tmp_path / "kept"))
    return tmp_path / "kept"


def test_what_was_put_comes_back() -> None:
    cache.put("one", {"a": np.arange(3.0)})
    kept = cache.get("one")
    assert kept is not None
    assert kept["a"].tolist() == [0.0, 1.0, 2.0]


def test_nothing_comes_back_under_another_name() -> None:
    assert cache.get("never put") is None


def test_equal_inputs_share_a_key_and_a_changed_digit_does_not() -> None:
    assert cache.key("field", 0.028) == cache.key("field", 0.028)
    assert cache.key("field", 0.028) != cache.key("field", 0.028000000000000004)
    assert cache.key("a", "bc") != cache.key("ab", "c")


@pytest.mark.parametrize("damage", [b"", b"PK\x03\x04 cut short", b"not an archive at all"])
def test_a_damaged_file_counts_as_not_there(place: Path, damage: bytes) -> None:
    cache.put("hurt", {"a": np.ones(1000)})
    whole = place / "hurt.npz"
    whole.write_bytes(damage or whole.read_bytes()[:200])
    assert cache.get("hurt") is None


def test_a_place_that_cannot_be_written_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocked = tmp_path / "a file, not a folder"
    blocked.write_text("in the way")
    monkeypatch.setenv("HANDWOUND_CACHE", str(blocked))
    cache.put("one", {"a": np.ones(1)})
    assert cache.get("one") is None


def test_the_oldest_go_first(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "KEPT", 3)
    for k in range(5):
        cache.put(f"file {k}", {"a": np.ones(1)})
    assert len(list(place.glob("*.npz"))) == 3
    assert not list(place.glob("*.tmp"))


def _write_and_read(seed: int) -> bool:
    array = np.full(20000, 7.0)
    for _ in range(25):
        cache.put("shared", {"a": array})
        kept = cache.get("shared")
        if kept is not None and not np.array_equal(kept["a"], array):
            return False
    return True


def test_two_processes_never_see_half_a_file() -> None:
    with multiprocessing.get_context("spawn").Pool(2) as pool:
        assert pool.map(_write_and_read, range(2)) == [True, True]

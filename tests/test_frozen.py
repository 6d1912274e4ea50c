"""An alarm, never the truth: the examples' numbers are what they were when last looked at."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import freeze


@pytest.mark.parametrize("example", freeze.EXAMPLES)
def test_no_number_moves_unseen(example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Moved on purpose? Then: python -m tools.freeze, and a line under "Your numbers change" in CHANGELOG.md."""
    monkeypatch.setenv("HANDWOUND_CACHE", str(tmp_path))
    then, today = freeze.then(example), freeze.today(example)
    assert set(today) == set(then)
    for name, (value, low, high) in today.items():
        was = then[name]
        assert value == pytest.approx(was[0], rel=1e-5), name
        assert (low, high) == pytest.approx(was[1:], rel=1e-3), name

"""What the documents show is what the program makes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tools import outputs, pictures


@pytest.mark.parametrize("page", outputs.pages(), ids=lambda page: page.name)
def test_printed_blocks_are_what_the_commands_print(page: Path) -> None:
    """Mend with: python -m tools.outputs"""
    text = page.read_text(encoding="utf8")
    assert outputs.refilled(text) == text


def test_pictures_are_what_the_example_looks_like() -> None:
    """Mend with: python -m tools.pictures"""
    for name, svg in pictures.pictures().items():
        assert (pictures.PLACE / name).read_text(encoding="utf8") == svg, name


def test_some_page_shows_a_command_at_work() -> None:
    assert outputs.pages()


PYTHON = re.compile(r"^```python\n(.*?)^```", re.S | re.M)


def test_the_python_of_the_how_to_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = outputs.ROOT / "docs" / "how-to" / "use-from-python.md"
    monkeypatch.chdir(tmp_path)
    blocks = PYTHON.findall(page.read_text(encoding="utf8"))
    names: dict[str, object] = {}
    exec("\n".join(blocks), names)
    assert (tmp_path / "sheet.pdf").stat().st_size > 10_000
    assert 80 < names["level"].value < 95  # type: ignore[attr-defined]

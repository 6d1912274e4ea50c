"""The command line: every command is written about, and none of them makes the others wait."""

from __future__ import annotations

import subprocess
import sys

import click
import pytest

from handwound.faces import cli
from tests.rules import house
from tools import reference

HEAVY = ("numpy", "scipy", "matplotlib", "contourpy", "pydantic", "typst", "tomlkit")
README = (house.ROOT / "README.md").read_text(encoding="utf8")


def find(words: tuple[str, ...]) -> click.Command:
    """The command that these words call."""
    command: click.Command = reference.top_command(cli)
    for word in words:
        command = command.commands[word]  # type: ignore[attr-defined]
    return command


COMMANDS = {" ".join(words): find(words) for words in reference.command_words(reference.top_command(cli)) if words}


def test_the_usual_commands_are_found() -> None:
    assert {"demo", "search", "sheet"} <= set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_is_written_about(name) -> None:
    assert f"handwound {name}" in README or f"run.py {name}" in README, "name it in README.md"
    assert f"## handwound {name}\n" in (house.ROOT / "docs/reference/commands.md").read_text(encoding="utf8")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_explains_itself(name) -> None:
    command = COMMANDS[name]
    assert command.help and command.help.strip()
    options = [p for p in command.params if isinstance(p, click.Option)]
    assert [option.name for option in options if not option.help and not isinstance(option.type, click.Choice)] == []


def loaded_by(program: str) -> set[str]:
    """Every module that a fresh Python has loaded when the program is done."""
    whole = f"import sys; {program}; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", whole], capture_output=True, text=True, check=True)
    return set(done.stdout.splitlines()[-1].split())


def test_help_does_not_wait_for_heavy_libraries() -> None:
    assert sorted(set(HEAVY) & loaded_by("import handwound.faces.cli")) == []


def test_a_check_reads_every_file_without_the_field_solver() -> None:
    """scipy and the drawings cost ten times as long to load as the files take to read."""
    loaded = loaded_by(
        "from handwound.faces.cli import cli; "
        f"cli(['check', {str(house.ROOT / 'examples' / 'open-day')!r}], standalone_mode=False)"
    )
    assert "handwound.files.steel" in loaded
    assert sorted((set(HEAVY) - {"numpy", "pydantic"}) & loaded) == []
    assert "handwound.physics.field" not in loaded

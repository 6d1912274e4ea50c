"""Write docs/reference from the tables and the commands:  python -m tools.reference

The pages are committed, so they can be read without running anything; a test fails when one is out of date.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import click
from click.testing import CliRunner

from handwound.quantities import plain, quantities, units

ROOT = Path(__file__).resolve().parents[1]
MADE = "<!-- Made by tools/reference.py; changes here are lost. -->\n\n"


def quantities_page() -> str:
    """The table of quantities for people."""
    lines = [
        "# Quantities",
        "",
        "A quantity has one name everywhere: in your files, in the program, on the screen and on the build sheet.",
        'Files write it with a unit, for example `d_cu = "0.35 mm"` or, with how sure you are, `"0.35 ± 0.01 mm"`.',
        "A number outside its limits is refused with a sentence that says why.",
        "",
        "| name | symbol | what it is | shown in | from | to | source |",
        "|---|---|---|---|---|---|---|",
    ]
    for q in quantities().values():
        scale = units()[q.shown].scale
        low, high = plain(q.low / scale), plain(q.high / scale)
        shown = "" if q.shown == "1" else q.shown
        lines.append(f"| `{q.name}` | {q.symbol} | {q.words} | {shown} | {low} | {high} | {q.source} |")
    return MADE + "\n".join(lines) + "\n"


def units_page() -> str:
    """The units that a file may carry, by what they measure."""
    lines = [
        "# Units",
        "",
        "What you may write behind a number. All spellings in one row measure the same thing.",
        "",
        "| SI unit | you may write |",
        "|---|---|",
    ]
    for si in dict.fromkeys(unit.si for unit in units().values()):
        spellings = ", ".join(f"`{unit.unit}`" for unit in units().values() if unit.si == si)
        lines.append(f"| {'a plain number' if si == '1' else si} | {spellings} |")
    return MADE + "\n".join(lines) + "\n"


def commands_page() -> str:
    """What each command says about itself when asked with --help."""
    from handwound.faces import cli

    lines = ["# Commands", "", "What `handwound COMMAND --help` says. Without an installed handwound write"]
    lines += ["`python3 run.py COMMAND` instead of `handwound COMMAND`.", ""]
    for words in command_words(top_command(cli)):
        said = CliRunner().invoke(top_command(cli), [*words, "--help"], prog_name="handwound", terminal_width=100)
        lines += [f"## {' '.join(['handwound', *words])}", "", "```text", said.output.strip(), "```", ""]
    return MADE + "\n".join(lines)


def top_command(module: ModuleType) -> click.Group:
    """The group that holds all commands of the command line."""
    return next(value for value in vars(module).values() if isinstance(value, click.Group))


def command_words(command: click.Command, words: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words that call a command, and every command below it."""
    yield words
    if isinstance(command, click.Group):
        for word, below in sorted(command.commands.items()):
            yield from command_words(below, (*words, word))


PAGES: dict[str, Callable[[], str]] = {
    "quantities.md": quantities_page,
    "units.md": units_page,
    "commands.md": commands_page,
}


def main() -> None:
    """Write every page."""
    for name, page in PAGES.items():
        (ROOT / "docs/reference" / name).write_text(page(), encoding="utf8", newline="\n")


if __name__ == "__main__":
    main()

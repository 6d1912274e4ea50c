"""Put what the commands print into the documents:  python -m tools.outputs

In a page, ``<!-- prints: search open-day -->`` stands before a fenced block; the block is what that command prints in a
folder where the example has just been made and its first build chosen. A test fails when a block is out of date.
"""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from click.testing import CliRunner

from handwound.faces.cli import cli

ROOT = Path(__file__).resolve().parents[1]
BLOCK = re.compile(
    r"(<!-- prints: (?P<words>[^>]+?)(?P<cut>, from (?P<first>.+?) to (?P<last>.+?))? -->\n```\n).*?(```\n)", re.S
)


def pages() -> list[Path]:
    """The documents that show what a command prints."""
    return [page for page in sorted((ROOT / "docs").rglob("*.md")) if BLOCK.search(page.read_text(encoding="utf8"))]


def refilled(text: str) -> str:
    """The page with every block as the command prints it now."""
    said: dict[str, str] = {}  # a page may show several pieces of the same print
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "open-day"
        _run(["start", str(folder)])
        _run(["search", str(folder), "--choose", "1"])
        return BLOCK.sub(lambda match: _block(match, folder, said), text)


def _block(match: re.Match[str], folder: Path, said: dict[str, str]) -> str:
    words = [str(folder) if word == "open-day" else word for word in match["words"].split()]
    if match["words"] not in said:
        said[match["words"]] = _run(words)
    text = said[match["words"]].replace(str(folder.resolve()), "open-day").replace(str(folder), "open-day")
    lines = text.splitlines()
    if match["cut"]:
        first = next(k for k, line in enumerate(lines) if line.startswith(match["first"]))
        last = next(k for k, line in enumerate(lines) if k >= first and line.strip().startswith(match["last"]))
        lines = lines[first : last + 1]
    return match[1] + "\n".join(lines) + "\n" + match[match.lastindex or 0]


def _run(words: list[str]) -> str:
    done = CliRunner(env={"COLUMNS": "100"}).invoke(cli, words, catch_exceptions=False)
    return str(done.output)


if __name__ == "__main__":
    for page in pages():
        page.write_text(refilled(page.read_text(encoding="utf8")), encoding="utf8")
        print(page)

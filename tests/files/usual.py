"""The usual motors as the how-to page writes them, each put together with the page's other pieces."""

from __future__ import annotations

import re
from pathlib import Path

from handwound.files.design import read_design
from handwound.files.stock import read_stock
from handwound.parts.design import Design
from tests.rules import house

PAGE = (house.ROOT / "docs/how-to/write-a-job.md").read_text(encoding="utf8")
PIECES = re.compile(r"^```toml\n# (\w+\.toml)\n(.*?)^```", re.M | re.S)
MOTORS = dict(re.findall(r"^```toml\n# ((?!\w+\.toml)[^\n]+)\n(.*?)^```", PAGE, re.M | re.S))
"""The iron of each arrangement, and a field coil where it is not the page's own, as the page writes them."""
ALONE = ("ring magnet", "cup magnet")


def write(folder: Path, motor: str, text: str | None = None) -> Path:
    """The page's job with the iron of one arrangement; the page's frame is screwed to its own iron."""
    texts: dict[str, list[str]] = {}
    for name, piece in PIECES.findall(PAGE):
        texts.setdefault(name, []).append(piece)
    (folder / "stock.toml").write_text("\n".join(texts["stock.toml"]), encoding="utf8")
    rest = re.split(r"^(?=\[\w)", "\n".join(texts["design.toml"]), flags=re.M)
    tables = [each for each in rest if not each.startswith(("[iron", "[frame"))]
    own = MOTORS[motor] if text is None else text
    if "[field_coil]" in own or motor in ALONE:
        tables = [each for each in tables if not each.startswith("[field_coil")]
    (folder / "design.toml").write_text("\n".join([own, *tables]), encoding="utf8")
    return folder


def read(folder: Path) -> Design:
    return read_design(folder / "design.toml", read_stock(folder / "stock.toml"))

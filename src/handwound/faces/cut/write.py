"""Writing the templates into a folder: each as SVG and as DXF; no file that is not ours is touched."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from handwound.errors import Fault, FileError
from handwound.faces.cut import dxf, svg
from handwound.files.write import naming, write_whole
from handwound.sheet.template.outline import Template

SIGNS = {".svg": svg.OURS, ".dxf": dxf.OURS}
"""By what our files are known, whatever the job."""


def write_outlines(folder: Path, templates: Iterable[Template]) -> list[Path]:
    """Every template as ``<key>.svg`` and ``<key>.dxf``; FileError, and nothing written, where others' files stand."""
    found = {
        folder / f"{template.key}{ending}": made(template)
        for template in templates
        for ending, made in ((".svg", svg.svg_bytes), (".dxf", dxf.dxf_bytes))
    }
    others = [path for path in found if path.exists() and not _is_ours(path)]
    if others:
        raise FileError([_fault(path) for path in others])
    with naming(folder):
        folder.mkdir(parents=True, exist_ok=True)
    for path, data in found.items():
        write_whole(path, data)
    return list(found)


def _is_ours(path: Path) -> bool:
    """Whether handwound has written it."""
    with naming(path):
        return SIGNS[path.suffix].encode() in path.read_bytes()


def _fault(path: Path) -> Fault:
    return Fault(
        str(path), "an outline made by handwound, or not there", "a file of somebody else",
        "Choose another folder, or move the file away.",
    )  # fmt: skip

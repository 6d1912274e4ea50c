"""Writing the templates into a folder: each as SVG and as DXF; no file that is not ours is touched."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from handwound.errors import Fault, FileError
from handwound.faces.cut import dxf, svg
from handwound.faces.cut.owner import ENDINGS, owner, plain
from handwound.files.write import naming, write_whole
from handwound.sheet.template.outline import Template

ELSEWHERE = "Choose another folder, or move the file away."


class Outlines(NamedTuple):
    """The files that were written, and those of the same job that no template stands for any more."""

    made: list[Path]
    removed: list[Path]


def check_folder(folder: Path, job_name: str) -> None:
    """FileError where a folder cannot take the outlines of a job; it need not be there yet."""
    found = [*_no_folder(folder)] or [*_of_another_job(folder, job_name)]
    if found:
        raise FileError(found)


def write_outlines(folder: Path, templates: Iterable[Template], job_name: str) -> Outlines:
    """Every template as ``<key>.svg`` and ``<key>.dxf``; FileError, and nothing written, where others' files stand.

    Outlines of the same job that are made no more are removed: nobody shall cut by them.
    """
    check_folder(folder, job_name)
    found = {
        folder / f"{template.key}{ending}": made(template, job_name)
        for template in templates
        for ending, made in zip(ENDINGS, (svg.svg_bytes, dxf.dxf_bytes), strict=True)
    }
    faults = [fault for path in found for fault in _taken(path)]
    if faults:
        raise FileError(faults)
    stale = [path for path, _ in _ours(folder) if path not in found]
    with naming(folder):
        folder.mkdir(parents=True, exist_ok=True)
    for path, data in found.items():
        write_whole(path, data)
    for path in stale:
        with naming(path):
            path.unlink(missing_ok=True)
    return Outlines(list(found), stale)


def _no_folder(folder: Path) -> Iterator[Fault]:
    """A path that is no folder and cannot become one. An empty path and "." are the same to the system."""
    if folder == Path():
        yield Fault(
            "--cut", "the name of a folder", "no name, or the folder that you are in",
            'Name a folder for the outlines alone, such as "outlines".',
        )  # fmt: skip
        return
    for place in (folder, *folder.parents):
        if place.is_dir():
            return
        if place.is_symlink() and not place.exists():
            yield Fault(str(place), "a folder", "a link that leads nowhere", "Remove the link, or choose another name.")
            return
        if place.exists():
            yield Fault(str(place), "a folder", "something else of that name", "Choose another name.")
            return


def _of_another_job(folder: Path, job_name: str) -> Iterator[Fault]:
    """Outlines of two jobs are not told apart at the machine."""
    others = [(path, job) for path, job in _ours(folder) if job != plain(job_name)]
    if others:
        path, job = others[0]
        yield Fault(
            str(folder), f'a folder for outlines of the job "{plain(job_name)}" alone',
            f'{len(others)} files of the job "{job}", such as {path.name}', "Choose another folder for this job.",
        )  # fmt: skip


def _ours(folder: Path) -> list[tuple[Path, str]]:
    """The outlines in a folder that handwound has written, each with its job."""
    if not folder.is_dir():
        return []
    with naming(folder):
        files = sorted(path for path in folder.iterdir() if path.suffix in ENDINGS and path.is_file())
    jobs = ((path, owner(path)) for path in files)
    return [(path, job) for path, job in jobs if job is not None]


def _taken(path: Path) -> Iterator[Fault]:
    """A place where something stands that is not ours."""
    if path.is_symlink() and not path.exists():
        yield Fault(str(path), "an outline made by handwound, or not there", "a link that leads nowhere", ELSEWHERE)
    elif path.exists() and not path.is_file():
        yield Fault(str(path), "an outline made by handwound, or not there", "no file", ELSEWHERE)
    elif path.exists() and owner(path) is None:
        yield Fault(str(path), "an outline made by handwound, or not there", "a file of somebody else", ELSEWHERE)

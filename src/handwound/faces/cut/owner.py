"""Whose outline a file is: the words by which handwound knows its own, and the job that they were made for."""

from __future__ import annotations

import html
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from handwound.files.write import naming
from handwound.sheet.drawing.svg import printable
from handwound.sheet.template.outline import Template, Words
from handwound.sheet.template.shape import Point, corners_of, points, reach

OURS = "An outline made by handwound, in millimetres"
"""By this a file is known as one that may be written anew."""
JOB = re.compile('made for the job "([^"\r\n]*)"')
ENDINGS = (".svg", ".dxf")
SMALL, FREE = 2.2e-3, 0.4e-3
"""Height of the job's name on a piece; what is left between it and a cut. [m]"""
STEP = 0.5e-3
"""Points of a cut are looked at so far apart. [m]"""


def sign(job_name: str) -> str:
    """What a file carries, in every language the same."""
    return f'{OURS}, made for the job "{plain(job_name)}".'


def plain(job_name: str) -> str:
    """A name as it can stand between quotes in any file."""
    return printable(job_name).replace('"', "'").replace("\r", " ").replace("\n", " ")


def owner(path: Path) -> str | None:
    """The job that an outline was made for, None where handwound has not written the file."""
    with naming(path):
        text = path.read_bytes().decode(errors="replace")
    found = JOB.search(html.unescape(text) if path.suffix == ".svg" else text)
    return found[1] if found and OURS in text else None


def with_job(template: Template, job_name: str) -> Template:
    """The same with the job's name on it: under or over its own name, or below it all where it would meet a cut."""
    name, cuts = plain(job_name), list(_cuts(template))
    for words in template.words:
        away = 0.6 * (words.height + SMALL) + FREE
        for off in (-away, away):
            x, y = words.x - off * math.sin(words.angle), words.y + off * math.cos(words.angle)
            placed = Words(x, y, name, SMALL, words.angle)
            if not any(_within(at, placed) for at in cuts) and not _meets_words(placed, template):
                return replace(template, words=(*template.words, placed))
    x, y, x_2, _ = reach(template)
    return replace(template, words=(*template.words, Words((x + x_2) / 2, y - SMALL, name, SMALL)))


def _cuts(template: Template) -> Iterator[Point]:
    """Points so close together on the cuts that none slips through a letter."""
    for line in template.lines:
        if line.role == "cut":
            at = points(line, 1e-5)
            for (x, y), (x_2, y_2) in zip(at, [*at[1:], at[0]], strict=True):
                n = max(1, math.ceil(math.dist((x, y), (x_2, y_2)) / STEP))
                yield from ((x + (x_2 - x) * k / n, y + (y_2 - y) * k / n) for k in range(n))


def _meets_words(placed: Words, template: Template) -> bool:
    """Whether it lies on another text of about its own size."""
    return any(
        _within(at, placed) or _within((placed.x, placed.y), words)
        for words in template.words
        for at in [*corners_of(words), (words.x, words.y)]
    )


def _within(at: Point, words: Words) -> bool:
    """Whether a point lies in the room of a text."""
    cos, sin = math.cos(words.angle), math.sin(words.angle)
    x, y = at[0] - words.x, at[1] - words.y
    wide, high = (abs(each) for each in corners_of(replace(words, x=0.0, y=0.0, angle=0.0))[0])
    return abs(x * cos + y * sin) < wide + FREE and abs(y * cos - x * sin) < high + FREE

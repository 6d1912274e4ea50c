"""What heat meets on its way out, as files write it: surfaces, a spool's stuff, what fills a winding, the frame."""

from __future__ import annotations

from collections.abc import Collection

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Word
from handwound.files.tables import find, row
from handwound.files.toml import Document
from handwound.materials import fillers, insulators, metals, steels, surfaces
from handwound.parts.heat import Filler, Frame, Insulator, Surface

UNKNOWN = "unknown"
"""The surface where nobody says one."""
USUAL_FILL, USUAL_SPOOL = "air", "card"


class FrameRow(Row):
    """``[frame]``"""

    on: Word
    metal: Word = steels.names()[0]
    t_frame: Number
    A_frame: Number
    surface: Word = UNKNOWN


def surface_of(document: Document, key: Key, word: str | None) -> Surface | None:
    """A surface of the table; None where nothing is said, or where it is none of them, which is then noted."""
    if word is None:
        return None
    return find(document, key, word, surfaces.surfaces(), "a surface of the table", "Surfaces")


def filler_of(document: Document, key: Key, word: str) -> Filler | None:
    """What fills a winding; None where it is nothing of the table, which is then noted."""
    return find(document, key, word, fillers.fillers(), "what fills a winding", "Fillings")


def spool_of(document: Document, key: Key, word: str) -> Insulator | None:
    """What a spool is made of; None where it is nothing of the table, which is then noted."""
    return find(document, key, word, insulators.insulators(), "what a spool is made of", "Known")


def read_frame(document: Document, rings: Collection[str] | None) -> Frame | None:
    """The frame, screwed to one of the rings; None where there is none, or something in it is at fault."""
    key: Key = ("frame",)
    each = row(document, key, FrameRow) if "frame" in document.data else None
    if each is None:
        return None
    surface = surface_of(document, (*key, "surface"), each.surface)
    stuffs = {name: name for name in (*steels.names(), *metals.names())}
    metal = find(document, (*key, "metal"), each.metal, stuffs, "a steel or a metal of the table", "Known")
    known = None if rings is None else {name: name for name in rings}
    on = find(document, (*key, "on"), each.on, known, "the name of the ring that carries it", "The rings")
    if surface is None or metal is None or (on is None and known is not None):
        return None
    numbers = ("t_frame", "A_frame")
    return Frame(on=each.on, metal=metal, surface=surface, spread=each.spread(*numbers), **each.numbers(*numbers))

"""What is pressed round: a blank with something to hold it by, and a card that tells whether the mould is right."""

from __future__ import annotations

import math
from collections.abc import Iterator

from handwound.sheet.said import mm, say
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Line, Template, circle
from handwound.sheet.template.shape import cross, mark

REST = 10e-3
"""What a blank is wider on each side, to be held by while it is pressed: common practice, no source. [m]"""
FOOT, BACK = 10e-3, 15e-3
"""How far the card of a gauge stands beside the mould, and over it: common practice, no source. [m]"""


def meridian(d_out: float, h_c: float) -> float:
    """Way over a dome, part of a sphere, from its top to its edge. [m]"""
    r = d_out / 2
    return r if h_c <= 0 else (r**2 + h_c**2) / h_c * math.atan(h_c / r)


def domed(key: str, name: str, code: str, of: str, d_out: float, h_c: float, d_in: float = 0.0) -> Iterator[Template]:
    """The blank of a dome, and the gauge of its mould."""
    edge = 2 * meridian(d_out, h_c)
    blank = edge + 2 * REST
    lines = [circle(blank), circle(edge, "mark"), *cross()]
    if d_in:
        lines.append(circle(_on_blank(d_in, d_out, h_c), "mark"))
    note = say(
        "Blank ⌀{blank} mm; pressed over the mould its thin circle, ⌀{edge} mm, becomes the edge, ⌀{d_out} mm. Cut "
        "there when it is dry: {h_c} mm high.",
        blank=mm("d_out", blank), edge=mm("d_out", edge), d_out=mm("d_out", d_out), h_c=mm("h_c", h_c),
    )  # fmt: skip
    hole = (say("Then cut the hole, ⌀{d_in} mm.", d_in=mm("d_in", d_in)),) if d_in else ()
    at = -min(12e-3, edge / 4)
    yield Template(key, name, of, code, tuple(lines), (named(0, at, name, code),), (note, *hole))
    if h_c > 0:
        yield _gauge(key, name, code, d_out, h_c)


def _on_blank(d: float, d_out: float, h_c: float) -> float:
    """How wide a circle of a dome is while it still is flat: as far from the top as it will be over the dome. [m]"""
    if h_c <= 0:
        return d
    r = ((d_out / 2) ** 2 + h_c**2) / (2 * h_c)
    return 2 * r * math.asin(min(d / (2 * r), 1.0))


def _gauge(key: str, of_what: str, code: str, d_out: float, h_c: float) -> Template:
    """A card whose lower edge is the dome."""
    name = say("{part}: gauge of the mould", part=of_what)
    r, wide, high = d_out / 2, d_out / 2 + FOOT, h_c + BACK
    outline = (
        (-wide, 0.0, 0.0), (-r, 0.0, -h_c / r), (r, 0.0, 0.0), (wide, 0.0, 0.0), (wide, high, 0.0), (-wide, high, 0.0),
    )  # fmt: skip
    note = say(
        "Hold it on the mould through its top, all round: no light may pass. {h_c} mm high over ⌀{d_out} mm.",
        h_c=mm("h_c", h_c), d_out=mm("d_out", d_out),
    )  # fmt: skip
    lines = (Line(outline), mark((0.0, h_c), (0.0, h_c + 5e-3)))
    words = (named(0, high - 4e-3, name, code),)
    return Template(f"{key}-gauge", name, say("stiff card"), code, lines, words, (note,))

"""A small writer of SVG: one unit is one millimetre on paper, y runs down, equal drawings give equal bytes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from xml.etree import ElementTree

from handwound.sheet.drawing.letters import FAMILY, drawable, text_width
from handwound.sheet.drawing.style import HAIR, HATCH, INK, PAPER, TEXT, THIN
from handwound.sheet.said import Figure, Said, figures

Point = tuple[float, float]


class Svg:
    """A drawing of ``width`` x ``height`` millimetres; ``title`` is what a screen reader says.

    The height may be set once the drawing is done and it is known.
    """

    def __init__(self, width: float, height: float, title: str) -> None:
        self.width, self.height = width, height
        self._root = ElementTree.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "role": "img",
                "font-family": f"'{FAMILY}', Verdana, sans-serif",
                "fill": "none",
                "stroke-linecap": "round",
                "stroke-linejoin": "round",
            },
        )
        self._open = self._root
        self._clips = 0
        self._figures: dict[Figure, None] = {}
        self._element("title", {}).text = printable(title)

    def __str__(self) -> str:
        width, height = number(self.width), number(self.height)
        size = {"width": f"{width}mm", "height": f"{height}mm", "viewBox": f"0 0 {width} {height}"}
        self._root.attrib.update(size)
        return ElementTree.tostring(self._root, encoding="unicode")

    @property
    def figures(self) -> tuple[Figure, ...]:
        """The figures of all texts in it."""
        return tuple(self._figures)

    def remember(self, *texts: str) -> None:
        """Keep the figures of texts that are written in pieces."""
        self._figures |= {figure: None for text in texts for figure in figures(text)}

    @contextmanager
    def group(self, kind: str) -> Iterator[None]:
        """What is drawn inside belongs together under this class."""
        with self._inside(self._element("g", {"class": kind})):
            yield

    @contextmanager
    def clipped(self, x: float, y: float, width: float, height: float) -> Iterator[None]:
        """What is drawn inside is seen only within this rectangle."""
        self._clips += 1
        name = f"clip{self._clips}"
        with self._inside(self._element("clipPath", {"id": name})):
            self._element("rect", _box(x, y, width, height))
        with self._inside(self._element("g", {"clip-path": f"url(#{name})"})):
            yield

    def rect(
        self, x: float, y: float, width: float, height: float, fill: str = "none", stroke: str = "none",
        line: float = THIN, part: str = "",
    ) -> None:  # fmt: skip
        """A rectangle; ``part`` names what it stands for."""
        self._element("rect", _box(x, y, width, height) | _paint(fill, stroke, line, part))

    def circle(
        self, x: float, y: float, r: float, fill: str = "none", stroke: str = "none", line: float = THIN
    ) -> None:
        """A circle around (x, y)."""
        self._element("circle", {"cx": number(x), "cy": number(y), "r": number(r)} | _paint(fill, stroke, line))

    def lines(
        self, points: Iterable[Point], stroke: str = INK, line: float = THIN, fill: str = "none", closed: bool = False,
        dash: str = "", part: str = "",
    ) -> None:  # fmt: skip
        """A polyline, or a polygon where it is closed."""
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("Z" if closed else "")
        marks = {"stroke-dasharray": dash} if dash else {}
        self._element("path", {"d": path} | marks | _paint(fill, stroke, line, part))

    def hatch(self, x: float, y: float, width: float, height: float, step: float, rising: bool) -> None:
        """Lines at 45 degrees across a rectangle, on one raster for the whole drawing: cut iron."""
        self.hatch_within([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], step, rising)

    def hatch_within(self, corners: Sequence[Point], step: float, rising: bool) -> None:
        """The same across any convex polygon."""
        sign = 1 if rising else -1
        offsets = [sign * x + y for x, y in corners]
        pieces = []
        for c in (k * step for k in range(int(min(offsets) // step) + 1, int(max(offsets) // step) + 1)):
            crossed = []
            for n, (x, y) in enumerate(corners):
                (x_2, y_2), before, after = corners[n - 1], offsets[n - 1] - c, offsets[n] - c
                if (before < 0) != (after < 0):
                    share = after / (after - before)
                    crossed.append((x + share * (x_2 - x), y + share * (y_2 - y)))
            # a line through one corner may, by rounding, just miss it
            (x_1, y_1), (x_2, y_2) = (min(crossed), max(crossed)) if crossed else (corners[0], corners[0])
            if x_2 > x_1:
                pieces.append(f"M{number(x_1)} {number(y_1)}L{number(x_2)} {number(y_2)}")
        if pieces:
            self._element("path", {"class": "hatch", "d": "".join(pieces)} | _paint("none", HATCH, HAIR))

    def text(
        self, x: float, y: float, text: str, size: float = TEXT, anchor: str = "start", bold: bool = False,
        fill: str = INK, boxed: bool = False, turn: str = "",
    ) -> None:  # fmt: skip
        """One line of text on its base line; ``boxed`` clears the ground behind it, ``turn`` is a transform of SVG."""
        self.remember(text)
        text = printable(text)
        if boxed:
            wide = text_width(text, size, bold) + 0.8
            left = x - 0.4 - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * (wide - 0.8)
            self._element("rect", _box(left, y - 0.82 * size, wide, 1.08 * size) | _paint(PAPER, "none", 0))
        marks = ({"font-weight": "bold"} if bold else {}) | ({"transform": turn} if turn else {})
        place = {"x": number(x), "y": number(y), "font-size": number(size), "text-anchor": anchor, "fill": fill}
        self._element("text", place | marks).text = text

    def _element(self, tag: str, marks: dict[str, str]) -> ElementTree.Element:
        return ElementTree.SubElement(self._open, tag, marks)

    @contextmanager
    def _inside(self, element: ElementTree.Element) -> Iterator[None]:
        outer, self._open = self._open, element
        yield
        self._open = outer


def drawn(svg: Svg) -> Said:
    """The finished drawing, with the figures that stand in it."""
    return Said(str(svg), svg.figures)


def number(value: float) -> str:
    """A coordinate to a thousandth of a millimetre, without needless zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def printable(text: str) -> str:
    """The text without characters that XML, a printer or the typeface cannot take."""
    return drawable("".join(letter if letter.isprintable() else " " for letter in text))


def _box(x: float, y: float, width: float, height: float) -> dict[str, str]:
    return {"x": number(x), "y": number(y), "width": number(width), "height": number(height)}


def _paint(fill: str, stroke: str, line: float, part: str = "") -> dict[str, str]:
    marks = {"fill": fill} | ({"stroke": stroke, "stroke-width": number(line)} if stroke != "none" else {})
    return marks | ({"data-part": printable(part)} if part else {})

"""How the tests read a drawing back."""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree import ElementTree

from handwound.sheet.drawing.letters import text_width

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Box:
    """A rectangle on the paper, in millimetres, y down."""

    x: float
    y: float
    width: float
    height: float
    text: str = ""

    def overlaps(self, other: Box) -> bool:
        across = min(self.x + self.width, other.x + other.width) - max(self.x, other.x)
        down = min(self.y + self.height, other.y + other.height) - max(self.y, other.y)
        return across > 0.05 and down > 0.05


def parsed(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def part(root: ElementTree.Element, name: str) -> list[Box]:
    """The rectangles of a part, from left to right."""
    found = [r for r in root.iter(f"{SVG}rect") if r.get("data-part") == name]
    boxes = [Box(*(float(r.get(key)) for key in ("x", "y", "width", "height"))) for r in found]
    return sorted(boxes, key=lambda box: box.x)


def texts(root: ElementTree.Element) -> list[Box]:
    """The box around each text: from its base line three quarters of its size up, a fifth down."""
    boxes = []
    for item in root.iter(f"{SVG}text"):
        size, words = float(item.get("font-size")), item.text or ""
        width = text_width(words, size, item.get("font-weight") == "bold")
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[item.get("text-anchor")]
        boxes.append(
            Box(float(item.get("x")) - shift * width, float(item.get("y")) - 0.75 * size, width, 0.95 * size, words)
        )
    return boxes

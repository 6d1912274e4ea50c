"""Where the flux runs: lines between which equal parts of it flow, and how full each part of the iron is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from handwound.parts.design import Design
from handwound.parts.prediction import IronState
from handwound.sheet.drawing.dimension import Label, labels
from handwound.sheet.drawing.shapes import Solid, iron
from handwound.sheet.drawing.style import CURVE, HAIR, IRON, KNEE, SATURATED
from handwound.sheet.drawing.svg import Svg, drawn
from handwound.sheet.drawing.view import View
from handwound.sheet.said import Said, named, say, show

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

COLUMN = 46.0
"""Width of the words beside the motor. [mm of paper]"""
AROUND = 0.16
"""Air shown around the motor, as a share of its size."""
TINT = {"unsaturated": IRON, "knee": KNEE, "saturated": SATURATED}
MEANS = {"unsaturated": "room for more", "knee": "filling up", "saturated": "full"}


def flux_picture(
    design: Design,
    lines: Sequence[npt.NDArray[np.float64]],
    states: Sequence[IronState],
    width: float = 118.0,
    height: float = 84.0,
    wound: Sequence[Solid] = (),
) -> str:
    """Flux lines over the mirrored section as SVG, the iron tinted by its state, with a word for each part.

    ``wound`` are the coils, where these shall be seen too.
    """
    solids, room = iron(design), width - COLUMN
    r_out = max(solid.r_out for solid in solids) * (1 + AROUND)
    z_lo, z_hi = min(s.z_lo for s in solids), max(s.z_hi for s in solids)
    tall, z_middle = (z_hi - z_lo) * (1 + 2 * AROUND), (z_lo + z_hi) / 2
    scale = min(room / (2000 * r_out), height / (1000 * tall))
    svg = Svg(width, 1000 * scale * tall, say("Flux lines and how full the iron is"))
    view = View(svg, scale, room / 2, svg.height / 2 + 1000 * scale * z_middle)
    fullness = {state.name: state for state in states}
    for solid in solids:
        state = fullness.get(solid.name)
        view.solid(solid, fill=TINT[state.word] if state else None, hatched=False)
    for solid in wound:
        view.solid(solid)
    with svg.group("flux"), svg.clipped(view.x(-r_out), 0.0, 2000 * scale * r_out, svg.height):
        for line in lines:
            for mirror in (1, -1):
                svg.lines([view.at((float(r), float(z)), mirror) for r, z in line], CURVE, HAIR)
    ended = labels(svg, _labels(view, solids, fullness), room + 4, (1.0, svg.height - 1), COLUMN - 5)
    svg.height = max(svg.height, ended + 1)  # a flat motor may be lower than the words beside it
    return drawn(svg)


def _words(state: IronState) -> Said:
    B_s = show("B_s", state.B_s)
    return say("{B_s}, {word}: {means}", B_s=B_s, word=named(state.word, MEANS), means=say(MEANS[state.word]))


def _labels(view: View, solids: Sequence[Solid], fullness: dict[str, IronState]) -> list[Label]:
    named = [(solid, fullness[solid.name]) for solid in solids if solid.name in fullness]
    column = [
        Label(solid.name, _words(state),
              view.x(solid.r_out) - min(1.5, 500 * view.scale * (solid.r_out - solid.r_in)),
              view.y(solid.z_hi), view.y(solid.z_lo))
        for solid, state in named
    ]  # fmt: skip
    return sorted(column, key=lambda label: (round(label.y_hi + label.y_lo), label.x))

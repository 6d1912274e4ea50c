"""Fill motor.md with its numbers and draw its pictures:  python docs/why/motor.py

In the page, ``<!--name-->`` and ``<!--/-->`` stand round every number and every table; what is between them is computed
here, from the example motors and the changes that motor_shop.py makes to them. A test refuses a page out of date.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import matplotlib
import motor_figures as figures
import motor_more as more
import motor_shop as shop
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from handwound.motor import alternating
from handwound.motor.solved import Solved
from handwound.physics.stroke import KEPT
from handwound.sheet.drawing import curves
from handwound.sheet.drawing.dimension import spread
from handwound.sheet.drawing.field_picture import flux_picture
from handwound.sheet.drawing.shapes import coils
from handwound.sheet.drawing.style import CURVE, FAINT, INK, SECOND, SOFT

HERE = Path(__file__).resolve().parent
PAGE, PLACE = HERE / "motor.md", HERE.parent / "pictures"
FILLED = re.compile(r"(<!--(\w+)-->).*?(<!--/-->)", re.S)
LINES = 14
"""Flux lines in the picture of the pot; the others have as many for as much flux."""
MM = figures.MM
Curve = tuple[str, Sequence[float], Sequence[float]]


def numbers() -> dict[str, str]:
    """All numbers and tables of the page."""
    asked = (
        figures.pot, figures.open_spool, figures.faults, figures.slices, figures.depth, figures.turns, figures.rule,
        figures.walls, figures.gaps, more.tips, more.discs, more.bucking, more.knees, more.pulls, more.currents,
        more.hums, more.switched,
    )  # fmt: skip
    return {name: text for each in asked for name, text in each().items()}


def refilled(page: str) -> str:
    """The page with what is computed now between its marks."""
    found = numbers()
    return FILLED.sub(lambda mark: mark[1] + found[mark[2]] + mark[3], page)


def flux(build: Solved) -> str:
    """Flux lines of a motor, with its coils."""
    phi = shop.pot().field.solution.most_flux()
    count = max(round(LINES * build.field.solution.most_flux() / phi), 3)
    lines = build.field.flux_lines(count)
    return flux_picture(build.design, lines, build.field.iron_states(), wound=coils(build.design, build.done))


LOOKS = ((CURVE, "-"), (SECOND, "-"), (SOFT, (0, (5, 2))), (INK, (0, (1.5, 1.5))))
FEW = 10
"""Up to so many points of a curve are shown as such."""


def chart(title: str, across: str, drawn: Iterable[Curve], level: float | None = None, **setting: Any) -> str:
    """Some curves over one axis, each with its name at its end, in the look of the sheet's curves."""
    with matplotlib.rc_context(curves.STYLE):
        figure = Figure(figsize=(130 / 25.4, 66 / 25.4))
        axes = figure.add_axes((0.085, 0.15, 0.585, 0.74))
        axes.set_title(title, loc="left", fontsize=curves.LETTERS, fontweight="bold", pad=6, x=-0.11)
        axes.set_xlabel(across, labelpad=2)
        axes.grid(True)
        axes.spines[["top", "right"]].set_visible(False)
        axes.tick_params(length=2)
        if level is not None:
            axes.axhline(level, color=FAINT, linewidth=0.8, linestyle=(0, (4, 3)))
        named: list[tuple[str, float, str]] = []
        for (name, x, y), (colour, dash) in zip(drawn, LOOKS, strict=False):
            axes.plot(x, y, color=colour, linestyle=dash, marker="o" if len(y) <= FEW else "", markersize=2.5)
            named.append((name, float(y[-1]), colour))
        axes.set(**setting)
        axes.yaxis.set_major_formatter("{x:g}")
        _named(axes, sorted(named, key=lambda each: each[1]))
        page = io.StringIO()
        figure.savefig(page, format="svg", metadata={"Date": None, "Creator": None})
    return page.getvalue()[page.getvalue().index("<svg") :]


def _named(axes: Axes, rising: Sequence[tuple[str, float, str]]) -> None:
    """Names beside the ends of the curves, none over another."""
    low, high = axes.get_ylim()
    wanted = [float(np.clip((end - low) / (high - low), 0.0, 1.0)) for _, end, _ in rising]
    places = spread(wanted, [0.085] * len(wanted), 0.0, 1.0)
    for (name, _, colour), at in zip(rising, places, strict=True):
        axes.text(1.02, at, name, color=colour, transform=axes.transAxes, va="center")


def fault_curves() -> str:
    """What faults cost over the ampere-turns."""
    pot = shop.pot()
    NI = [share * pot.field.solution.NI for share in figures.SHARES]

    def Bl(problem: shop.Problem) -> np.ndarray:
        place, N = pot.coil.rectangle, pot.coil.N
        return np.array([abs(float(each.Bl(*place, N))) for each in shop.fields(problem, NI).solutions])

    sound = Bl(pot.field.problem)
    shown = [(key, problem) for key, _, problem in figures.tried() if key in ("hole", "two", "three")]
    words = {"hole": "hole under the pole", "two": "two joints painted", "three": "three joints painted"}
    drawn = [(words[key], NI, 20 * np.log10(Bl(problem) / sound)) for key, problem in shown]
    return chart("change of Bl in dB", "ampere-turns of the field coil", drawn, 0.0)


def depth_curves() -> str:
    """Bl over where the coil rests, for two poles and an open spool."""
    x = np.linspace(-12, 12, 97) * MM
    pot, spool = shop.pot(), shop.spool(68 * MM)
    longer = shop.fields(pot.problem(shop.changed(pot, pole={"t": 55 * MM})), (pot.field.solution.NI,)).solution
    tried = [("pot", pot, pot.field.solution), ("pole 3 mm longer", pot, longer),
             ("open spool, 68 mm", spool, spool.field.solution)]  # fmt: skip
    drawn = []
    for name, build, solution in tried:
        Bl = abs(solution.Bl(*build.coil.rectangle, build.coil.N, x))
        drawn.append((name, x / MM, 100 * Bl / Bl[len(x) // 2]))
    return chart("Bl in % of that as planned", "mm, the coil set in to the left, out to the right", drawn, 100 * KEPT)


def knee_curves() -> str:
    """How far two magnets are from their knees over the temperature."""
    T = np.linspace(-60, 140, 81)
    drawn = [(words.replace(" in air", ""), T, more.used(place, T)) for words, place in more.magnets_tried()]
    return chart("% of the way to the knee, worst place", "temperature of the magnet, °C", drawn, 100.0, ylim=(0, 200))


def inductance_curves() -> str:
    """L of the blocked voice coil."""
    f = alternating.F
    drawn = [(words, f, 1000 * Z.imag / (2 * np.pi * f)) for words, Z in more.impedances().items()]
    return chart("L of the voice coil held still, mH", "Hz", drawn, ylim=(0, 2), xscale="log",
                 xticks=(100, 1000, 10000), xticklabels=("100", "1k", "10k"))  # fmt: skip


def pictures() -> dict[str, str]:
    """Each picture's file name and its SVG."""
    return {
        "motor-pot.svg": flux(shop.pot()),
        "motor-open-spool.svg": flux(shop.spool(68 * MM)),
        "motor-no-pipe.svg": flux(no_pipe()),
        "motor-faults.svg": fault_curves(),
        "motor-depth.svg": depth_curves(),
        "motor-ring-magnet.svg": flux(shop.ring_magnet()),
        "motor-bucking.svg": flux(shop.with_bucking(t=8 * MM)),
        "motor-cup.svg": flux(shop.cup(1, 25 * MM, 5 * MM)),
        "motor-knee.svg": knee_curves(),
        "motor-inductance.svg": inductance_curves(),
    }


def no_pipe() -> Solved:
    """The pot without its pipe."""
    pot = shop.pot()
    return shop.taken(shop.without(pot, "shell"), pot.brief)


if __name__ == "__main__":
    PAGE.write_text(refilled(PAGE.read_text(encoding="utf8")), encoding="utf8")
    for name, svg in pictures().items():
        (PLACE / name).write_text(svg, encoding="utf8")
        print(PLACE / name)

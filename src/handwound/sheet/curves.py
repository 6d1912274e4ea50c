"""The curves of the sheet as SVG: impedance, level, Bl over the stroke, Bl over the field's current, warming."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Literal

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator

from handwound.parts.prediction import Prediction
from handwound.quantities import plain, show, shown
from handwound.sheet.heat_limits import MARKS, burns_out, degrees, duration
from handwound.sheet.letters import FAMILY
from handwound.sheet.style import CURVE, FAINT, INK, SECOND, SOFT
from handwound.sheet.warming import curves as warming_curves

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

WIDTH, HEIGHT = 88.0, 58.0
"""One curve. [mm of paper]"""
KEY_ROW = 4.2
"""What two entries of the key of several curves take between them and their title. [mm of paper]"""
LETTERS = 7.4
"""[pt]"""
NOTES = (20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000)
"""Frequencies written on the axis. [Hz]"""
COLOURS, LINES = (CURVE, SECOND, INK, INK), ("-", (0, (4, 1.5)), (0, (1, 1)), "-")
"""Of the curves of warming: a grey printer tells them apart, too."""
STYLE: dict[Any, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "handwound",
    "font.family": FAMILY,
    "font.size": LETTERS,
    "axes.edgecolor": FAINT,
    "axes.labelcolor": SOFT,
    "axes.linewidth": 0.6,
    "text.color": INK,
    "xtick.color": FAINT,
    "ytick.color": FAINT,
    "xtick.labelcolor": SOFT,
    "ytick.labelcolor": SOFT,
    "lines.linewidth": 1.5,
    "grid.color": "#dfe3e6",
    "grid.linewidth": 0.5,
}


def impedance(prediction: Prediction) -> str:
    """Modulus of the impedance over frequency, with its peak."""
    found, driver = prediction.response, prediction.driver
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(f"impedance in Ω{_cold(prediction)}", "Hz")
        axes.plot(found.f, found.Z, color=CURVE)
        peak = int(np.argmax(found.Z))
        axes.set_ylim(0, 1.28 * float(found.Z[peak]))
        if found.f[0] < float(driver.fs) < found.f[-1]:
            # the curve's own peak: the air that is moved takes a little from the suspension's Z_max
            f, Z = float(found.f[peak]), float(found.Z[peak])
            _note(axes, f, Z, f"{show('Z', Z)} at {show('f', f)}")
        axes.axhline(float(driver.Re), color=SECOND, linewidth=0.8, linestyle=(0, (4, 3)))
        axes.annotate(
            f"Re {show('Re', float(driver.Re))}", (0.99, float(driver.Re)), (0, 3), ("axes fraction", "data"),
            "offset points", ha="right", va="bottom", color=SECOND,
        )  # fmt: skip
        _frequencies(axes, found.f)
        return _svg(figure)


def level(prediction: Prediction) -> str:
    """Level on axis over frequency."""
    found, driver = prediction.response, prediction.driver
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(f"dB at 1 m for 2.83 V in a large baffle{_cold(prediction)}", "Hz")
        axes.plot(found.f, found.L_p, color=CURVE)
        top = 5 * np.ceil((float(np.max(found.L_p)) + 3) / 5)
        axes.set_ylim(top - 35, top)
        flat = float(driver.L_2V83)
        axes.axhline(flat, color=SECOND, linewidth=0.8, linestyle=(0, (4, 3)))
        axes.annotate(
            f"{show('L_2V83', flat)}, the reference", (0.01, flat), (0, 3), ("axes fraction", "data"), "offset points",
            ha="left", va="bottom", color=SECOND,
        )  # fmt: skip
        _frequencies(axes, found.f)
        return _svg(figure)


def bl_over_x(prediction: Prediction) -> str:
    """Bl over the displacement of the voice coil."""
    curves, motor = prediction.curves, prediction.motor
    x = np.asarray([shown("x", float(each)) for each in curves.x])
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(f"Bl in T·m{_cold(prediction)}", "mm, outward to the right")
        axes.plot(x, curves.Bl_x, color=CURVE)
        axes.axvline(0, color=FAINT, linewidth=0.6)
        axes.set_xlim(x[0], x[-1])
        axes.set_ylim(0, 1.28 * float(np.max(np.abs(curves.Bl_x))))
        _note(axes, 0.0, float(motor.Bl), f"{show('Bl', float(motor.Bl))} at rest")
        return _svg(figure)


def bl_over_current(prediction: Prediction) -> str | None:
    """Bl at rest over the current in the field coil: where the iron fills up, the curve lies down."""
    curves, excited, warm = prediction.curves, prediction.excitation, prediction.heat
    if excited is None or warm is None:
        return None
    turns = float(excited.NI) / float(excited.I_f)
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes("Bl in T·m at rest", "A in the field coil")
        axes.plot(curves.NI / turns, curves.Bl_NI, color=CURVE)
        axes.set_xlim(0, float(curves.NI[-1]) / turns)
        axes.set_ylim(0, 1.28 * float(np.max(curves.Bl_NI)))
        _note(axes, float(excited.I_f), float(prediction.motor.Bl), f"cold, {show('I_f', float(excited.I_f))}", "over")
        if not burns_out(prediction):
            _note(axes, float(warm.I_f), float(warm.Bl), f"warm, {show('I_f', float(warm.I_f))}", "under")
        return _svg(figure)


def warming(prediction: Prediction, T_touch: float | None) -> str | None:
    """Temperatures over the time since it was switched on, and what a hand may touch."""
    found = prediction.warming
    if found is None:
        return None
    t_w = found.t_w[1:]  # the first instant is that of switching on: a logarithm has no place for it
    with matplotlib.rc_context(STYLE):
        told = warming_curves(found)
        rows = (len(told) + (T_touch is not None) + 1) // 2
        figure, axes = _axes("°C from cold, music playing", "", KEY_ROW * rows)
        for curve, colour, line in zip(told, COLOURS, LINES, strict=False):
            words = f"{curve.name}, {degrees(curve.T[-1])}"
            axes.plot(t_w, curve.T[1:], color=colour, linestyle=line, label=words)
        if T_touch is not None:
            axes.axhline(T_touch, color=FAINT, linewidth=0.8, label=f"your touch limit, {degrees(T_touch)}")
        _times(axes, t_w)
        axes.yaxis.set_major_locator(MaxNLocator(6, integer=True))
        axes.legend(
            loc="lower left",
            bbox_to_anchor=(-0.1, 1.0),
            ncols=2,
            frameon=False,
            borderpad=0.2,
            handlelength=1.8,
            columnspacing=0.8,
            handletextpad=0.5,
        )
        return _svg(figure)


def _cold(prediction: Prediction) -> str:
    """Said of what falls when a field coil warms."""
    return ", cold" if prediction.heat else ""


def _axes(title: str, across: str, above: float = 0.0) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(WIDTH / 25.4, HEIGHT / 25.4))
    axes = figure.add_axes((0.105, 0.16, 0.865, 0.72 - above / HEIGHT))
    pad = 5 + above / 25.4 * 72
    axes.set_title(title, loc="left", fontsize=LETTERS, fontweight="bold", pad=pad, x=-0.085)
    axes.set_xlabel(across, labelpad=2)
    axes.grid(True)
    axes.spines[["top", "right"]].set_visible(False)
    axes.tick_params(length=2)
    return figure, axes


def _frequencies(axes: Axes, f: Array) -> None:
    axes.set_xscale("log")
    axes.set_xlim(float(f[0]), float(f[-1]))
    inside = [note for note in NOTES if float(f[0]) <= note <= float(f[-1])]
    axes.xaxis.set_major_locator(FixedLocator(inside))
    axes.xaxis.set_major_formatter(FuncFormatter(lambda note, _: f"{note / 1000:g}k" if note >= 1000 else f"{note:g}"))
    axes.xaxis.set_minor_locator(NullLocator())
    axes.set_xlabel(f"Hz; to {plain(float(f[-1]), 2)} Hz the diaphragm moves as one piston", labelpad=2)


def _times(axes: Axes, t_w: Array) -> None:
    axes.set_xscale("log")
    axes.set_xlim(float(t_w[0]), float(t_w[-1]))
    axes.xaxis.set_major_locator(FixedLocator([mark for mark in MARKS if mark <= t_w[-1] * (1 + 1e-9)]))
    axes.xaxis.set_major_formatter(FuncFormatter(lambda mark, _: duration(mark)))
    axes.xaxis.set_minor_locator(NullLocator())


def _note(axes: Axes, x: float, y: float, text: str, rising: Literal["over", "under", ""] = "") -> None:
    """A dot with its words above, towards the middle; beside a rising curve on the free side, over or under it."""
    axes.plot([x], [y], marker="o", markersize=3.5, color=INK, linestyle="none")
    low, high = axes.get_xlim()
    middle = (low * high) ** 0.5 if axes.get_xscale() == "log" else (low + high) / 2
    if rising:  # over it there is room before the dot, unless that is near the axis
        middle = low + 0.35 * (high - low) if rising == "over" else high
    side, shift = ("left", 5) if x <= middle else ("right", -5)
    drop, hang = (-5, "top") if rising == "under" else (5, "bottom")
    axes.annotate(text, (x, y), (shift, drop), textcoords="offset points", ha=side, va=hang)


def _svg(figure: Figure) -> str:
    page = io.StringIO()
    figure.savefig(page, format="svg", metadata={"Date": None, "Creator": None})
    text = page.getvalue()
    return text[text.index("<svg") :]

"""The curves of the sheet as SVG: impedance, level, Bl and stiffness over the stroke, the loudest tone, warming."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Literal

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator, NullLocator, ScalarFormatter

from handwound.language import pointed
from handwound.parts.prediction import Prediction
from handwound.quantities import plain, shown
from handwound.sheet import said
from handwound.sheet.drawing.letters import FAMILY
from handwound.sheet.drawing.style import CURVE, FAINT, INK, SECOND, SHADE, SOFT
from handwound.sheet.heat_limits import MARKS, burns_out, degrees, duration
from handwound.sheet.said import Said, figures, named, printed, say, show
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
DASHED = (0, (4, 3))
BESIDE = (0.0, 30.0, 60.0)
"""Angles at which the level is drawn. [°]"""
AROUND, POLAR_LINES = (1e3, 3e3, 6e3, 12e3), ("-", (0, (4, 1.5)), (0, (1, 1)), "-.")
"""Frequencies of which the level is drawn at all angles. [Hz]"""
BENDING = 0.25
"""From this share of the piston range on the bending diaphragm is drawn beside the stiff one."""
LEAST, MOST = 24.0, 6.0
"""So far below the level on the axis, and so far above it, that is drawn. [dB]"""
SIGNS = ("o", "s", "^", "D", "v")
"""Of what sets the loudest tone."""
LIMITS = (
    "stroke: force factor", "stroke: suspension", "stroke: gap", "stroke: stop", "heat of the voice coil",
    "volts of the amplifier", "amperes of the amplifier",
)  # fmt: skip
"""What may set it, as it is told."""
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


class Sheet(Figure):
    """A figure that remembers the figures of its texts, which its own letters do not."""

    said: tuple[said.Figure, ...] = ()


def impedance(prediction: Prediction) -> Said:
    """Modulus of the impedance over frequency, with its peak; a thin line where it is that of the diaphragm as it
    bends."""
    found, driver = prediction.response, prediction.driver
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(_cold(prediction, say("impedance in Ω"), say("impedance in Ω, cold")), say("Hz"))
        axes.plot(found.f, found.Z, color=CURVE)
        peak = int(np.argmax(found.Z))
        axes.set_ylim(0, 1.28 * float(found.Z[peak]))
        f_end = float(found.f[-1])
        for f, Z in _beyond(prediction, "Z"):
            axes.plot(f, Z, color=CURVE, linewidth=1.0)
            f_end = float(f[-1])
        _frequencies(axes, float(found.f[0]), f_end, _until(prediction))
        if found.f[0] < float(driver.fs) < found.f[-1]:
            # the curve's own peak: the air that is moved takes a little from the suspension's Z_max
            f_peak, Z_peak = float(found.f[peak]), float(found.Z[peak])
            _note(axes, f_peak, Z_peak, say("{Z} at {f}", Z=show("Z", Z_peak), f=show("f", f_peak)))
        axes.axhline(float(driver.Re), color=SECOND, linewidth=0.8, linestyle=DASHED)
        axes.annotate(
            _kept(axes, say("Re {Re}", Re=show("Re", float(driver.Re)))), (0.99, float(driver.Re)), (0, -3),
            ("axes fraction", "data"), "offset points", ha="right", va="top", color=SECOND,
        )  # fmt: skip
        return _svg(figure)


def level(prediction: Prediction, built_in: str) -> str:
    """Level on the axis over frequency as it is built in, with its band; thin lines of the diaphragm as it bends, on
    the axis and beside it."""
    found, driver = prediction.response, prediction.driver
    with matplotlib.rc_context(STYLE):
        heard = prediction.sound
        title = say("dB at 1 m for 2.83 V {built_in}", built_in=built_in)
        title = _cold(prediction, title, say("{title}, cold", title=title))
        figure, axes = _axes(title, say("Hz"), KEY_ROW * (2 if heard else 1))
        axes.fill_between(found.f, found.L_lo, found.L_hi, color=SHADE, linewidth=0)
        axes.plot(found.f, found.L_p, color=CURVE)
        top, f_end = float(np.max(found.L_hi)), float(found.f[-1])
        for f, L_off in _beyond(prediction, "L_off"):
            for angle, line in zip(BESIDE, LINES, strict=False):
                k = int(np.argmin(np.abs(heard.breakup.theta - np.radians(angle)))) if heard else 0
                off = say("{angle} off the axis", angle=printed("theta", np.radians(angle), f"{angle:.0f}°"))
                words = off if angle else say("on the axis")
                axes.plot(f, L_off[:, k], color=INK, linewidth=0.9, linestyle=line, label=_kept(axes, words))
            top, f_end = max(top, float(np.max(L_off))), float(f[-1])
        top = 5 * np.ceil((top + 3) / 5)
        axes.set_ylim(top - 40, top)
        flat = float(driver.L_2V83)
        axes.axhline(
            flat,
            color=SECOND,
            linewidth=0.8,
            linestyle=DASHED,
            label=_kept(axes, say("{L}, the reference", L=show("L_2V83", flat))),
        )
        _key(axes)
        _frequencies(axes, float(found.f[0]), f_end, _until(prediction))
        return _svg(figure)


def _beyond(prediction: Prediction, name: str) -> list[tuple[Array, Array]]:
    """What the bending diaphragm does where it begins to matter; nothing where nobody followed it."""
    if prediction.sound is None:
        return []
    bent = prediction.sound.breakup
    above = bent.f > BENDING * prediction.response.f[-1]
    return [(bent.f[above], getattr(bent, name)[above])] if np.any(above) else []


def _until(prediction: Prediction) -> str:
    """What is said under the frequencies."""
    f_piston = show("f_piston", float(prediction.response.f[-1]), 2)
    if prediction.sound is None:
        return say("Hz; to {f_piston} the diaphragm moves as one piston", f_piston=f_piston)
    return say("Hz; thin lines: the diaphragm as it bends, in a large wall")


def polar(prediction: Prediction) -> str | None:
    """Level at all angles beside that on the axis, at a few frequencies of the bending diaphragm."""
    if prediction.sound is None:
        return None
    bent = prediction.sound.breakup
    fine = np.linspace(0.0, float(bent.theta[-1]), 91)
    with matplotlib.rc_context(STYLE):
        figure = Sheet(figsize=(WIDTH / 25.4, HEIGHT / 25.4))
        axes = figure.add_axes((0.08, -0.06, 0.84, 1.0), projection="polar")
        figure.text(0.03, 0.912, say("where it goes: dB beside the axis"), fontweight="bold", va="bottom")
        for f, line, colour in zip(AROUND, POLAR_LINES, (CURVE, SECOND, INK, INK), strict=True):
            k = int(np.argmin(np.abs(np.log(bent.f / f))))
            dL = np.interp(fine, bent.theta, bent.L_off[k] - bent.L_off[k, 0])
            dL = np.clip(dL, -LEAST, MOST)
            both = np.append(-fine[::-1], fine), np.append(dL[::-1], dL)
            axes.plot(*both, color=colour, linewidth=1.2, linestyle=line, label=_kept(axes, _note_words(f)))
        _half_circle(axes)
        axes.legend(loc="upper right", bbox_to_anchor=(1.0, 0.92), bbox_transform=figure.transFigure, frameon=False)
        return _svg(figure)


def _half_circle(axes: Any) -> None:
    """The front half, its axis upwards."""
    axes.set_theta_zero_location("N")
    axes.set_theta_direction(-1)
    axes.set_thetamin(-90)
    axes.set_thetamax(90)
    axes.set_ylim(-LEAST, MOST)
    axes.set_yticks(np.arange(-18.0, 1.0, 6.0))
    axes.set_xticks(np.radians(np.arange(-90, 91, 30)))
    axes.tick_params(pad=0)


def stiffness_over_x(prediction: Prediction) -> str | None:
    """Force of the suspension over its displacement, by displacement, and where that is a third more than at rest."""
    if prediction.sound is None:
        return None
    held, x_75 = prediction.sound.held, prediction.sound.travel.x_75
    x, K = np.asarray(held.x) * 1e3, np.asarray(held.K_x) * 1e-3
    rest = float(K[len(K) // 2])
    with matplotlib.rc_context(STYLE):
        title = say("stiffness in N/mm; {Kms} at rest", Kms=show("Kms", 1e3 * rest))
        figure, axes = _axes(title, say("mm, outward to the right"))
        axes.plot(x, K, color=CURVE)
        axes.axvline(0, color=FAINT, linewidth=0.6)
        axes.set_xlim(x[0], x[-1])
        axes.set_ylim(0, 1.28 * float(np.nanmax(K)))
        if x_75 is not None:
            for side in (-1, 1):
                axes.axvline(side * shown("x_75", x_75), color=SECOND, linewidth=0.8, linestyle=DASHED)
            words = _kept(axes, say("a third stiffer at {x}", x=show("x_75", x_75, 2)))
            ground = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}  # over the lines, wherever they stand
            axes.text(0.5, 0.97, words, transform=axes.transAxes, ha="center", va="top", color=SECOND, bbox=ground)
        return _svg(figure)


def loudest(prediction: Prediction) -> str | None:
    """The loudest steady tone over frequency, each with a sign for what sets it."""
    if prediction.sound is None:
        return None
    found = prediction.sound.loudest
    with matplotlib.rc_context(STYLE):
        ends = tuple(dict.fromkeys(found.by))
        figure, axes = _axes(
            _cold(prediction, say("loudest steady tone, dB at 1 m"), say("loudest steady tone, dB at 1 m, cold")),
            say("Hz"),
            KEY_ROW * ((len(ends) + 1) // 2),
        )
        axes.plot(found.f, found.L_max, color=CURVE, linewidth=0.9)
        for end, sign in zip(ends, SIGNS, strict=False):
            of = np.array([by == end for by in found.by])
            axes.plot(found.f[of], found.L_max[of], sign, color=CURVE, markersize=3.6, label=named(end, LIMITS))
        top = 5 * np.ceil((float(np.max(found.L_max)) + 3) / 5)
        axes.set_ylim(top - 40, top)
        _key(axes)
        _frequencies(axes, float(found.f[0]), float(found.f[-1]), say("Hz; for music's moments it is more"))
        return _svg(figure)


def bl_over_x(prediction: Prediction) -> str:
    """Bl over the displacement of the voice coil."""
    curves, motor = prediction.curves, prediction.motor
    x = np.asarray([shown("x", float(each)) for each in curves.x])
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(
            _cold(prediction, say("Bl in T·m"), say("Bl in T·m, cold")), say("mm, outward to the right")
        )
        axes.plot(x, curves.Bl_x, color=CURVE)
        axes.axvline(0, color=FAINT, linewidth=0.6)
        axes.set_xlim(x[0], x[-1])
        axes.set_ylim(0, 1.28 * float(np.max(np.abs(curves.Bl_x))))
        _note(axes, 0.0, float(motor.Bl), say("{Bl} at rest", Bl=show("Bl", float(motor.Bl))))
        return _svg(figure)


def bl_over_current(prediction: Prediction) -> str | None:
    """Bl at rest over the current in the field coil: where the iron fills up, the curve lies down."""
    curves, excited, warm = prediction.curves, prediction.excitation, prediction.heat
    if excited is None or warm is None:
        return None
    turns = float(excited.NI) / float(excited.I_f)
    with matplotlib.rc_context(STYLE):
        figure, axes = _axes(say("Bl in T·m at rest"), say("A in the field coil"))
        axes.plot(curves.NI / turns, curves.Bl_NI, color=CURVE)
        axes.set_xlim(0, float(curves.NI[-1]) / turns)
        axes.set_ylim(0, 1.28 * float(np.max(curves.Bl_NI)))
        _note(
            axes,
            float(excited.I_f),
            float(prediction.motor.Bl),
            say("cold, {I}", I=show("I_f", float(excited.I_f))),
            "over",
        )
        if not burns_out(prediction):
            _note(axes, float(warm.I_f), float(warm.Bl), say("warm, {I}", I=show("I_f", float(warm.I_f))), "under")
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
        figure, axes = _axes(say("°C from cold, music playing"), "", KEY_ROW * rows)
        for curve, colour, line in zip(told, COLOURS, LINES, strict=False):
            words = say("{name}, {T}", name=curve.name, T=degrees(curve.T[-1]))
            axes.plot(t_w, curve.T[1:], color=colour, linestyle=line, label=_kept(axes, words))
        if T_touch is not None:
            axes.axhline(
                T_touch, color=FAINT, linewidth=0.8, label=_kept(axes, say("your touch limit, {T}", T=degrees(T_touch)))
            )
        _times(axes, t_w)
        axes.yaxis.set_major_locator(MaxNLocator(6, integer=True))
        _key(axes)
        return _svg(figure)


def _cold(prediction: Prediction, always: Said, cold: Said) -> Said:
    """What falls when a field coil warms is told cold."""
    return cold if prediction.heat else always


def _kept(axes: Axes, words: str) -> str:
    """The words, their figures kept with the drawing that they stand in."""
    assert isinstance(axes.figure, Sheet)
    axes.figure.said += figures(words)
    return words


def _note_words(f: float) -> Said:
    return printed("f", f, plain(f / 1000, 2), "kHz")


def _axes(title: str, across: str, above: float = 0.0) -> tuple[Sheet, Axes]:
    figure = Sheet(figsize=(WIDTH / 25.4, HEIGHT / 25.4))
    axes = figure.add_axes((0.105, 0.16, 0.865, 0.72 - above / HEIGHT))
    pad = 5 + above / 25.4 * 72
    axes.set_title(_kept(axes, title), loc="left", fontsize=LETTERS, fontweight="bold", pad=pad, x=-0.085)
    axes.set_xlabel(_kept(axes, across), labelpad=2)
    axes.grid(True)
    axes.spines[["top", "right"]].set_visible(False)
    axes.tick_params(length=2)
    for axis in (axes.xaxis, axes.yaxis):
        axis.set_major_formatter(Pointed())
    return figure, axes


class Pointed(ScalarFormatter):
    """Ticks with the decimal sign of the language that is spoken."""

    def __call__(self, x: float, pos: int | None = None) -> str:
        return pointed(super().__call__(x, pos))


def _key(axes: Axes) -> None:
    """What each line is, between the title and the curves."""
    axes.legend(
        loc="lower left",
        bbox_to_anchor=(-0.1, 1.0),
        ncols=3 if len(axes.get_legend_handles_labels()[0]) == len(BESIDE) else 2,
        frameon=False,
        borderpad=0.2,
        handlelength=1.8,
        columnspacing=0.8,
        handletextpad=0.5,
    )


def _frequencies(axes: Axes, f_low: float, f_high: float, words: str) -> None:
    axes.set_xscale("log")
    axes.set_xlim(f_low, f_high)
    inside = [note for note in NOTES if f_low <= note <= f_high * (1 + 1e-9)]
    axes.xaxis.set_major_locator(FixedLocator(inside))
    axes.xaxis.set_major_formatter(FuncFormatter(lambda note, _: f"{note / 1000:g}k" if note >= 1000 else f"{note:g}"))
    axes.xaxis.set_minor_locator(NullLocator())
    axes.set_xlabel(_kept(axes, words), labelpad=2)


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
    axes.annotate(_kept(axes, text), (x, y), (shift, drop), textcoords="offset points", ha=side, va=hang)


def _svg(figure: Sheet) -> Said:
    page = io.StringIO()
    figure.savefig(page, format="svg", metadata={"Date": None, "Creator": None})
    text = page.getvalue()
    return Said(text[text.index("<svg") :], dict.fromkeys(figure.said))

"""Rankings and predictions as text for a terminal. The rows come from the sheet; here they only find their columns."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from itertools import count, zip_longest
from pathlib import Path

from handwound.job import Job
from handwound.parts.heat_study import HeatStudy
from handwound.parts.prediction import Prediction
from handwound.parts.ranking import Candidate, Choice, Ranking
from handwound.parts.sound_study import SoundStudy
from handwound.parts.study import MotorStudy
from handwound.quantities import show
from handwound.sheet import chart, doubt, heard, numbers, rub, sound_heard, sound_study, summary, warming
from handwound.sheet import heat as heat_study
from handwound.sheet.cautions import Caution, cautions
from handwound.sheet.motor import Table
from handwound.sheet.motor import tables as motor_tables
from handwound.sheet.winding import Ladder, field_ladder, voice_ladder

WIDTH = 100
"""Signs in a line, where the terminal is not narrower."""
COLUMNS = {
    "field coil, layers": "field_coil",
    "voice coil, layers": "voice_coil",
    "1 W, 1 m": "L_1W",
    "cold": "driver.L_1W",
    "Re": "driver.Re",
    "fs": "driver.fs",
    "heat, cold": "excitation.P_f",
    "outside": "heat.T_case",
}
"""The columns of a ranking, and what stands in them."""
OF_A_FIELD_COIL = ("field coil, layers", "cold", "heat, cold", "outside")
ROOMY = 80
"""From this on there is room for words beside the arrows of a ladder."""
NARROW = 40
"""Below this a line is broken by the terminal itself."""


def width() -> int:
    """Signs in a line: those of the terminal, or of COLUMNS where that is set; never more than is good to read."""
    if sys.stdout.isatty() or "COLUMNS" in os.environ:
        return max(NARROW, min(WIDTH, shutil.get_terminal_size((WIDTH, 24)).columns))
    return WIDTH


def columns(rows: Sequence[Sequence[str]], right: Sequence[int] = (), indent: str = "") -> str:
    """Rows of cells set in columns, those named in ``right`` at the right; cells are folded where a line is short."""
    if not rows:
        return ""
    widths = _widths(rows, right, width() - len(indent))
    lines = []
    for row in rows:
        folded = [_folded(cell, w) for cell, w in zip(row, widths, strict=True)]
        for parts in zip_longest(*folded, fillvalue=""):
            cells = [part.rjust(w) if k in right else part.ljust(w) for k, part, w in zip(count(), parts, widths)]
            lines.append(indent + "  ".join(cells).rstrip())
    return "\n".join(lines)


def _widths(rows: Sequence[Sequence[str]], right: Sequence[int], room: int) -> list[int]:
    """Columns as wide as their cells; the widest give way until the line is short enough or nothing can be folded."""
    by_column = list(zip(*rows, strict=True))
    widths = [max(map(len, cells)) for cells in by_column]
    least = [max(_least(cell, k in right) for cell in cells) for k, cells in enumerate(by_column)]
    while sum(widths) + 2 * (len(widths) - 1) > room:
        loose = [k for k, w in enumerate(widths) if w > least[k]]
        if not loose:
            break
        widths[max(loose, key=lambda k: widths[k])] -= 1
    return widths


def _least(cell: str, is_right: bool) -> int:
    """How narrow a cell can become: at the right stand numbers, which are not parted from their units."""
    whole = is_right and any(sign.isdigit() for sign in cell)
    return len(cell) if whole else max(map(len, cell.split()), default=0)


def _folded(cell: str, room: int) -> list[str]:
    return textwrap.wrap(cell, room, break_long_words=False, break_on_hyphens=False) if len(cell) > room else [cell]


def section(title: str, rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """A titled table; nothing at all where it would be empty."""
    return [f"{filled(title)}\n{columns(rows, right, indent='  ')}"] if rows else []


def filled(text: str, indent: str = "") -> str:
    """A paragraph broken into lines."""
    return textwrap.fill(text, width(), initial_indent=indent, subsequent_indent=indent)


def opening(job: Job) -> str:
    """What the job begins with."""
    stock, brief = job.stock, job.brief
    wires = ", ".join(wire.name for wire in stock.wires)
    makers = [ring.stock or ring.name for ring in job.design.iron.rings if ring.magnetised]
    field = " and ".join([*makers, *([brief.supply.name] if brief.supply else [])])
    touch = "" if brief.T_touch is None else f", no hotter outside than {show('T_touch', float(brief.T_touch))}"
    return filled(
        f"{brief.name}: {len(stock.wires)} wires on the shelf ({wires}), the iron {job.design.iron.name}, "
        f"{field} for the field, {brief.amplifier.name} for the sound. Wanted: "
        f"{show('Z_rated', float(brief.Z_rated))}, {show('L_want', float(brief.L_want))} at 1 m for 1 W, "
        f"notes down to {show('f_low', float(brief.f_low))}{touch}."
    )


def ranking(found: Ranking, most: int = 8) -> str:
    """The builds that fit, best first; or what bound and the nearest miss."""
    if not found.candidates:
        return _nothing(found)
    fed = found.candidates[0].field_coil is not None
    head = [column for column in COLUMNS if fed or column not in OF_A_FIELD_COIL]
    rows = [["", *head], *([str(k), *_row(each, head)] for k, each in enumerate(found.candidates[:most], 1))]
    why = "\n".join(filled(f"{k}: {each.why}.") for k, each in enumerate(found.candidates[:most], 1))
    shown = min(most, len(found.candidates))
    kept = f"{shown} of the builds that keep every limit, out of {found.tried} tried, the loudest first:"
    return f"{filled(kept)}\n\n{columns(rows, right=range(2 + fed, 9))}\n\n{why}"


def _row(each: Candidate, head: Sequence[str]) -> list[str]:
    numbers = {**each.numbers, "L_1W": each.L_1W}
    cells = {name: f"{coil.n_l} of {coil.wire}" for name, coil in _coils(each).items()}
    shown = {name: show(name.rpartition(".")[2], value) for name, value in numbers.items()}
    return [(cells | shown)[COLUMNS[column]] for column in head]


def _coils(each: Candidate) -> dict[str, Choice]:
    fed = {"field_coil": each.field_coil} if each.field_coil else {}
    return {**fed, "voice_coil": each.voice_coil}


def _choice(each: Choice) -> str:
    return f"{each.n_l} layers of {each.wire}"


def _nothing(found: Ranking) -> str:
    rows = [("limit", "came", "passed"), *((s.words, str(s.came), str(s.passed)) for s in found.sieves if s.came)]
    none = f"None of {found.tried} builds keeps every limit. How many came to each limit and passed it:"
    lines = section(none, rows, right=(1, 2))
    if found.nearest:
        coils = (f"{_choice(coil)} for the {name[:5]}" for name, coil in _coils(found.nearest).items())
        lines.append(filled(f"Nearest miss: {', '.join(coils)}. It misses:"))
        lines += [filled(each, "  ") for each in found.missed]
    return "\n".join(lines)


def build(job: Job, found: Prediction) -> str:
    """The chosen build in plain words, and the few numbers that matter."""
    rows = [(each.words, each.symbol, *_value(each)) for each in numbers.key_numbers(found)]
    return f"{filled(summary.summary(job.design, job.brief, found))}\n\n{columns(rows, right=(2,))}"


def _value(each: numbers.Number) -> tuple[str, str]:
    value = f"{each.value} {each.unit}".strip()
    return value, f"({each.low} to {each.high})" if each.low != each.high else ""


def prediction(job: Job, found: Prediction) -> str:
    """What matters first: sound, heat, rubbing, doubts, cautions; then every number, both ladders, the reels."""
    design, brief = job.design, job.brief
    told = [text for table in heard.tables(design, brief, found) for text in noted(table)]
    parts = [build(job, found), *told, *_warming(job, found)]
    if found.rub:
        parts += noted(rub.table(design, job.stock.sheets, found.rub))
    doubts = doubt.tables(found)
    for table in doubts[1:]:
        parts += noted(table)
    parts.append(_care(cautions(design, brief, found)))
    for group in numbers.numbers(found):
        parts += section(group.title, [(each.words, each.symbol, *_value(each)) for each in group.numbers], right=(2,))
    for table in doubts[:1]:
        parts += noted(table)
    parts += section("Iron", _iron(found), right=(1,))
    for ladder in (field_ladder(design, brief, found), voice_ladder(design, brief, found)):
        parts += _ladder(ladder) if ladder else []
    parts += section("Wire", _reels(found), right=(1, 2))
    return "\n\n".join(parts)


def _warming(job: Job, found: Prediction) -> list[str]:
    """The heat: a table over time, the curves drawn in letters, what each part bears."""
    if found.warming is None:
        return []
    over_time, bears = warming.tables(job.design, job.brief, found)
    curves, touch = warming.curves(found.warming), job.brief.T_touch
    limit = None if touch is None else float(touch)
    drawn = textwrap.indent(chart.chart(found.warming.t_w, curves, limit, width() - 2), "  ")
    return [*noted(over_time), f"{filled(chart.key(curves, limit))}\n{drawn}", *noted(bears)]


def motor(found: MotorStudy) -> str:
    """Everything about the motor, question by question."""
    return "\n\n".join(text for table in motor_tables(found) for text in noted(table))


def heat(found: HeatStudy) -> str:
    """Everything about the heat, question by question, and what may hurt."""
    parts = [text for table in heat_study.tables(found) for text in noted(table)]
    return "\n\n".join([*parts, _care(heat_study.cautions(found))])


def sound(found: SoundStudy) -> str:
    """Everything about the sound, question by question, a picture of where it goes, and what may hurt."""
    breakup = found.sound.breakup
    picture = textwrap.indent(sound_heard.polar(breakup), "  ")
    drawn = f"{sound_heard.ALL_ROUND}\n{picture}\n{filled(sound_heard.key(), '  ')}"
    before, after = (
        [text for table in tables for text in noted(table)]
        for tables in (sound_study.before_picture(found), sound_study.after_picture(found))
    )
    return "\n\n".join([*before, drawn, *after, _care(sound_study.cautions(found))])


def _care(found: Iterable[Caution]) -> str:
    return "Take care\n" + "\n".join(_caution(each) for each in found)


def noted(table: Table) -> list[str]:
    """A table with its note; nothing at all where it would be empty."""
    note = f"\n{filled(table.note, '  ')}" if table.note else ""
    return [text + note for text in section(table.title, table.rows, table.right)]


def _caution(caution: Caution) -> str:
    return filled(f"{'STOP  ' if caution.stop else ''}{caution.topic}: {caution.text}", "  ")


def _iron(found: Prediction) -> list[tuple[str, ...]]:
    return [(state.name, show("B_s", state.B_s), state.word) for state in found.curves.iron]


def _reels(found: Prediction) -> list[tuple[str, ...]]:
    left = (
        ("not known how much stays" if r.l_reel is None else f"{show('l_reel', r.l_reel)} stay") for r in found.reels
    )
    return [(reel.name, f"{show('l_w', reel.l_w)} taken", stays) for reel, stays in zip(found.reels, left, strict=True)]


def _ladder(ladder: Ladder) -> list[str]:
    roomy = width() >= ROOMY
    travels = "travels" if roomy else ""
    head = ("layer", travels, "turns", "so far", "over wire, mm", "Ω at 20 °C", "Ω today", "low", "high", "")
    rows = [
        (
            r.n_layer,
            r.travel if roomy else r.travel[:1],
            r.N_l,
            r.N,
            r.D_w,
            r.R_20,
            r.R_T,
            r.low,
            r.high,
            "stop and read" if r.hold else "tape" if r.tape else "",
        )
        for r in ladder.rungs
    ]
    return section(f"{ladder.title}: {ladder.wire}", [head, *rows], right=range(9))


def files(job: Job, sheet: Path) -> str:
    """Where everything lies, and what to do next."""
    return (
        f"The job:    {job.folder.resolve()}  (stock.toml, brief.toml, design.toml: read them, change them)\n"
        f"The sheet:  {sheet.resolve()}\n"
        f"All numbers: handwound predict {job.folder}"
    )

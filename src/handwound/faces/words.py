"""Rankings and predictions as text for a terminal. The rows come from the sheet; here they only find their columns."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path

from handwound.job import Job
from handwound.parts.prediction import Prediction
from handwound.parts.ranking import Candidate, Choice, Ranking
from handwound.quantities import show
from handwound.sheet import numbers, summary
from handwound.sheet.cautions import Caution, cautions
from handwound.sheet.winding import Ladder, field_ladder, voice_ladder

WIDTH = 100


def columns(rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> str:
    """Rows of cells set in columns; those named in ``right`` stand at the right."""
    widths = [max(len(row[k]) for row in rows) for k in range(len(rows[0]))]
    lines = (
        "  ".join(
            cell.rjust(w) if k in right else cell.ljust(w) for k, (cell, w) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    )
    return "\n".join(line.rstrip() for line in lines)


def filled(text: str, indent: str = "") -> str:
    """A paragraph broken into lines."""
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def opening(job: Job) -> str:
    """What the job begins with."""
    stock, brief = job.stock, job.brief
    wires = ", ".join(wire.name for wire in stock.wires)
    return filled(
        f"{brief.name}: {len(stock.wires)} wires on the shelf ({wires}), the iron {job.design.iron.name}, "
        f"{brief.supply.name} for the field, {brief.amplifier.name} for the sound. Wanted: "
        f"{show('Z_rated', float(brief.Z_rated))}, {show('L_want', float(brief.L_want))} at 1 m for 1 W, "
        f"notes down to {show('f_low', float(brief.f_low))}, no hotter outside than "
        f"{show('T_touch', float(brief.T_touch))}."
    )


def ranking(found: Ranking, most: int = 8) -> str:
    """The builds that fit, best first; or what bound and the nearest miss."""
    if not found.candidates:
        return _nothing(found)
    head = ("", "field coil", "voice coil", "1 W, 1 m", "cold", "Re", "fs", "heat", "outside")
    rows = [head, *(_row(str(k), each) for k, each in enumerate(found.candidates[:most], 1))]
    why = "\n".join(filled(f"{k}: {each.why}.") for k, each in enumerate(found.candidates[:most], 1))
    kept = f"{found.sieves[-1].passed} of {found.tried} builds keep every limit, the loudest first:"
    return f"{kept}\n\n{columns(rows, right=range(3, 9))}\n\n{why}"


def _row(head: str, each: Candidate) -> tuple[str, ...]:
    names = ("heat.L_1W", "driver.L_1W", "driver.Re", "driver.fs", "excitation.P_f", "heat.T_case")
    return (
        head,
        _choice(each.field_coil),
        _choice(each.voice_coil),
        *(show(name.partition(".")[2], each.numbers[name]) for name in names),
    )


def _choice(each: Choice) -> str:
    return f"{each.n_l} layers of {each.wire}"


def _nothing(found: Ranking) -> str:
    rows = [("limit", "came", "passed"), *((s.words, str(s.came), str(s.passed)) for s in found.sieves if s.came)]
    lines = [
        f"None of {found.tried} builds keeps every limit. How many came to each limit and passed it:",
        textwrap.indent(columns(rows, right=(1, 2)), "  "),
    ]
    if found.nearest:
        field, voice = _choice(found.nearest.field_coil), _choice(found.nearest.voice_coil)
        lines.append(f"Nearest miss: {field} for the field, {voice} for the voice. It misses:")
        lines += [f"  {each}" for each in found.missed]
    return "\n".join(lines)


def build(job: Job, found: Prediction) -> str:
    """The chosen build in plain words, and the few numbers that matter."""
    rows = [(each.words, each.symbol, *_value(each)) for each in numbers.key_numbers(found)]
    return f"{filled(summary.summary(job.design, job.brief, found))}\n\n{columns(rows, right=(2,))}"


def _value(each: numbers.Number) -> tuple[str, str]:
    value = f"{each.median} {each.unit}".strip()
    return value, f"({each.low} to {each.high})" if each.low != each.high else ""


def prediction(job: Job, found: Prediction) -> str:
    """Every number with its band, both ladders, the iron, the reels and the cautions."""
    design, brief = job.design, job.brief
    parts = [build(job, found)]
    for group in numbers.numbers(found):
        rows = [(each.words, each.symbol, *_value(each)) for each in group.numbers]
        parts.append(f"{group.title}\n{textwrap.indent(columns(rows, right=(2,)), '  ')}")
    parts.append("Iron\n" + textwrap.indent(columns(_iron(found), right=(1,)), "  "))
    parts += [_ladder(field_ladder(design, brief, found)), _ladder(voice_ladder(design, brief, found))]
    parts.append("Wire\n" + textwrap.indent(columns(_reels(found), right=(1, 2)), "  "))
    parts.append("Take care\n" + "\n".join(_caution(each) for each in cautions(design, brief, found)))
    return "\n\n".join(parts)


def _caution(caution: Caution) -> str:
    return filled(f"{'STOP  ' if caution.stop else ''}{caution.topic}: {caution.text}", "  ")


def _iron(found: Prediction) -> list[tuple[str, ...]]:
    return [(state.name, show("B_s", state.B_s), state.word) for state in found.curves.iron]


def _reels(found: Prediction) -> list[tuple[str, ...]]:
    left = (
        ("not known how much stays" if r.l_reel is None else f"{show('l_reel', r.l_reel)} stay") for r in found.reels
    )
    return [(reel.name, f"{show('l_w', reel.l_w)} taken", stays) for reel, stays in zip(found.reels, left, strict=True)]


def _ladder(ladder: Ladder) -> str:
    head = ("layer", "turns", "so far", "over wire, mm", "Ω at 20 °C", "Ω today", "low", "high", "")
    rows = [
        (
            r.n_layer,
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
    return f"{ladder.title}: {ladder.wire}\n{textwrap.indent(columns([head, *rows], right=range(8)), '  ')}"


def files(job: Job, sheet: Path) -> str:
    """Where everything lies, and what to do next."""
    return (
        f"The job:    {job.folder.resolve()}  (stock.toml, brief.toml, design.toml: read them, change them)\n"
        f"The sheet:  {sheet.resolve()}\n"
        f"All numbers: handwound predict {job.folder}"
    )

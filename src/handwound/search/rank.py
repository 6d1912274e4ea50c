"""From the shelf to ranked builds: every wire and number of layers for both coils, against one field curve."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from handwound import iron_field
from handwound.errors import SearchError
from handwound.iron_field import Field
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Chain
from handwound.parts.ranking import Candidate, Choice, Ranking, Sieve
from handwound.predict import chain, excite, field_of, winding
from handwound.search.limits import WINDOW_AIR, Limit, limits
from handwound.search.table import Table, Wound

Progress = Callable[[int, int, str], None]
Array = npt.NDArray[np.float64]
VOICE_LAYERS = (2, 4, 6)
"""An even number brings both ends out at the back: common practice, no source."""
SHOWN = 8
SOLVED_IN_FULL = 3
NODES = 8
"""Points of the field curve; monotone cubics between them."""
NUMBERS = (
    "driver.L_1W",
    "driver.Re",
    "driver.Z_min",
    "driver.fs",
    "excitation.I_f",
    "excitation.NI",
    "excitation.P_f",
    "heat.T_case",
    "motor.Bl",
    "moving.Mms",
    "clearance.c_o",
)
"""What each candidate shows."""


def search(design: Design, brief: Brief, stock: Stock, progress: Progress = lambda done, of, words: None) -> Ranking:
    """Try every wire of the stock in both coils of the design; hard limits first, then the loudest first."""
    steps = 2 + SOLVED_IN_FULL
    progress(0, steps, "laying out the wires")
    table = Table(design, _field_choices(design, stock), tuple((w, n) for w in stock.wires for n in VOICE_LAYERS))
    if not table.field_coils:
        raise SearchError("search: the stock must hold a wire that fits the window of the field coil; found none.")
    progress(1, steps, f"solving the field of {design.iron.name}")
    field = _field_curve(table, brief)
    progress(2, steps, f"trying {np.prod(table.shape)} builds")
    found = chain(table.all_at_once(), brief, field)
    asked = limits(table, brief, found)
    sieves, passed = _sift(asked, table.shape)
    if not passed.any():
        return _nothing(table, found, asked, sieves)
    best = _best(table, found, passed)
    solved = []
    for k, index in enumerate(best[:SOLVED_IN_FULL]):
        progress(2 + k, steps, f"solving build {k + 1} in full")
        solved.append(_in_full(table, brief, index))
    progress(steps, steps, "done")
    kept = [each for each in solved if each is not None]
    kept += [_candidate(table, found, asked, index) for index in best[SOLVED_IN_FULL:SHOWN]]
    ranked = sorted(kept, key=lambda each: -each.numbers["driver.L_1W"])
    return Ranking(tried=int(passed.size), sieves=sieves, candidates=_explained(ranked))


def _field_choices(design: Design, stock: Stock) -> tuple[Wound, ...]:
    """Every wire with every number of layers that the window takes."""
    coil = design.field_coil
    _, window = design.iron.room(float(coil.D_f), float(coil.z_w), float(coil.z_w + coil.h_w))
    room = (float(window) if window is not None else 3 * float(coil.D_f)) - 2 * WINDOW_AIR
    found: list[Wound] = []
    for wire in stock.wires:
        most = int((room - float(coil.D_f)) / 2 / (0.8 * float(wire.d_o)))
        layers = np.arange(1, most + 1)
        if most:
            fits = winding(replace(coil, wire=wire, n_l=layers), 20.0).D_w <= room
            found += [(wire, int(n_l)) for n_l in layers[fits]]
    return tuple(found)


def _field_curve(table: Table, brief: Brief) -> Field:
    """One sweep that covers the ampere-turns of all field coils, with the window wound full."""
    coil = table.all_at_once().field_coil
    wound = winding(coil, brief.T_room)
    NI = np.asarray(excite(coil, wound.R_T, wound.N, brief.supply).NI)
    D_w = float(np.max(wound.D_w))
    low, high = float(NI.min()) * 0.99, float(NI.max()) * 1.01
    # whole steps of a quarter octave, so that another wire on the shelf meets the same fields on the disk
    first, last = np.floor(4 * np.log2(low)), np.ceil(4 * np.log2(high))
    count = int(max(last - first, 1))
    nodes = 2.0 ** (np.linspace(first, last, min(count, NODES - 1) + 1) / 4)
    asked = iron_field.problem(table.design, D_w, 1.0)
    return iron_field.over(asked, tuple(nodes.tolist()), len(nodes) - 1)


def _sift(asked: tuple[Limit, ...], shape: tuple[int, int]) -> tuple[tuple[Sieve, ...], npt.NDArray[np.bool_]]:
    passed = np.ones(shape, bool)
    sieves = []
    for limit in asked:
        came = int(passed.sum())
        passed = passed & (limit.margin >= 0)
        sieves.append(Sieve(name=limit.name, words=limit.words, came=came, passed=int(passed.sum())))
    return tuple(sieves), passed


def _best(table: Table, found: Chain, passed: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Cells in order of loudness: of each choice of wires and voice coil the best, then the rest to fill the list."""
    loudness = np.where(passed, np.broadcast_to(found.driver.L_1W, table.shape), -np.inf)
    order = np.argsort(-loudness, axis=None, kind="stable")[: passed.sum()]
    cells = [(int(flat) // table.shape[1], int(flat) % table.shape[1]) for flat in order]
    kinds: dict[tuple[str, int], tuple[int, int]] = {}
    for row, column in cells:
        kinds.setdefault((table.field_coils[row][0].name, column), (row, column))
    firsts = list(kinds.values())[:SHOWN]
    return firsts + [cell for cell in cells if cell not in firsts][: SHOWN - len(firsts)]


def _candidate(table: Table, found: Chain, asked: tuple[Limit, ...], index: tuple[int, int]) -> Candidate:
    (field_wire, field_n_l), (voice_wire, voice_n_l) = table.field_coils[index[0]], table.voice_coils[index[1]]
    numbers = found.numbers()
    shown = {name: float(np.broadcast_to(numbers[name], table.shape)[index]) for name in NUMBERS if name in numbers}
    tightest = min(asked, key=lambda limit: limit.margin[index])
    return Candidate(
        field_coil=Choice(wire=field_wire.name, n_l=field_n_l),
        voice_coil=Choice(wire=voice_wire.name, n_l=voice_n_l),
        numbers=shown,
        why=f"nearest limit: {tightest.sentence(index)}",
    )


def _in_full(table: Table, brief: Brief, index: tuple[int, int]) -> Candidate | None:
    """The cell solved with its own winding in its own field; None where it then breaks a limit."""
    design = table.one(index)
    row, column = index
    alone = Table(design, (table.field_coils[row],), (table.voice_coils[column],))
    found = chain(alone.all_at_once(), brief, field_of(design, brief))
    asked = limits(alone, brief, found)
    if any(limit.margin[0, 0] < 0 for limit in asked):
        return None
    return _candidate(alone, found, asked, (0, 0))


def _explained(ranked: list[Candidate]) -> tuple[Candidate, ...]:
    """Say of each candidate what it gives and takes beside the first."""
    first = ranked[0].numbers if ranked else {}

    def compared(each: Candidate) -> str:
        quieter = first["driver.L_1W"] - each.numbers["driver.L_1W"]
        watts = each.numbers["excitation.P_f"] - first["excitation.P_f"]
        heat = "as warm" if abs(watts) < 0.05 else f"{abs(watts):.1f} W {'more' if watts > 0 else 'less'} heat"
        return f"{quieter:.1f} dB quieter, {heat}"

    return tuple(
        replace(each, why=f"{compared(each) if k else 'loudest'}; {each.why}") for k, each in enumerate(ranked)
    )


def _nothing(table: Table, found: Chain, asked: tuple[Limit, ...], sieves: tuple[Sieve, ...]) -> Ranking:
    """Nothing keeps all limits: the build whose misses add up to the least, and what it misses."""
    missing = np.sum([np.clip(-limit.margin, 0.0, 1e9) for limit in asked], axis=0)
    row, column = (int(k) for k in np.unravel_index(int(np.argmin(missing)), table.shape))
    missed = tuple(limit.sentence((row, column)) for limit in asked if limit.margin[row, column] < 0)
    nearest = _candidate(table, found, asked, (row, column))
    return Ranking(tried=int(missing.size), sieves=sieves, candidates=(), nearest=nearest, missed=missed)

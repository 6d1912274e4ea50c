"""From the shelf to ranked builds: every wire and number of layers for the coils, against one field curve.

In a motor whose field comes from magnets alone only the voice coil is sought.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from handwound import iron_field
from handwound.errors import SearchError
from handwound.files import fits
from handwound.iron_field import Field
from handwound.parts.coil import FieldCoil
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Chain
from handwound.parts.ranking import Candidate, Choice, Ranking, Sieve
from handwound.physics.layers import turns_per_layer
from handwound.predict import chain, feed, field_of
from handwound.quantities import quantities
from handwound.search.limits import Limit, limits
from handwound.search.table import UNFED, Table, Wound
from handwound.stages import winding

Progress = Callable[[int, int, str], None]
Array = npt.NDArray[np.float64]
VOICE_LAYERS = (2, 4, 6)
"""An even number brings both ends out at the front, by the cone: common practice, no source."""
WINDOW_AIR = 0.5e-3
"""Left free between the field winding and the iron around it. [m] Common practice, no source."""
SHOWN = 8
TRIED_IN_FULL = 2 * SHOWN
STEPS = 3 + SHOWN
MOST_LAYERS = int(quantities()["n_l"].high)
LOOKED_AT = 500
"""How many of the nearest misses are asked whether they have their place."""
NODES = 8
"""Points of the field curve; monotone cubics between them."""
NUMBERS = (
    "heat.L_1W",
    "driver.L_1W",
    "driver.Re",
    "driver.Z_min",
    "driver.fs",
    "driver.Qts",
    "excitation.I_f",
    "excitation.NI",
    "excitation.P_f",
    "heat.T_case",
    "motor.Bl",
    "moving.Mms",
    "clearance.c_i",
    "clearance.c_o",
)
"""What each candidate shows."""


def search(design: Design, brief: Brief, stock: Stock, progress: Progress = lambda done, of, words: None) -> Ranking:
    """Try every wire of the stock in the coils of the design; hard limits first, then the loudest first."""
    progress(0, STEPS, "laying out the wires")
    design = _not_wound(design)
    fed = design.field_coil
    table = Table(design, _field_choices(fed, design, stock) if fed else UNFED, _voice_choices(design, stock))
    if not (table.field_coils and table.voice_coils):
        place = "the window of the field coil" if fed else "the voice coil"
        raise SearchError(f"search: the stock must hold a wire that fits {place}; found none.")
    progress(1, STEPS, f"solving the field of {design.iron.name}")
    field = _field_curve(table, brief)
    progress(2, STEPS, f"trying {np.prod(table.shape)} builds")
    found = chain(table.all_at_once, brief, field, voices=False)
    asked = limits(table, brief, found)
    sieves, passed = _sift(table, brief, asked)
    best = _best(table, found, passed)
    if not best:
        return _nothing(table, brief, found, asked, sieves)
    kept, missed = _solved_in_full(table, brief, best, progress)
    if not kept:
        nearest, by = missed[0]
        return Ranking(tried=int(passed.size), sieves=sieves, candidates=(), nearest=nearest, missed=by)
    ranked = sorted(kept, key=lambda each: -each.L_1W)
    return Ranking(tried=int(passed.size), sieves=sieves, candidates=_explained(ranked))


def _not_wound(design: Design) -> Design:
    """The design before its coils were begun: layers that were counted, and all that was weighed together, are of one
    wire, not of each that is tried."""
    fed = design.field_coil and replace(design.field_coil, N_counted=())
    return replace(design, field_coil=fed, voice_coil=replace(design.voice_coil, N_counted=()), m_weighed=None)


def _field_choices(coil: FieldCoil, design: Design, stock: Stock) -> tuple[Wound, ...]:
    """Every wire with every number of layers that the window takes; without iron around it, the widest ring bounds."""
    _, window = design.iron.room(float(coil.D_f), float(coil.z_w), float(coil.z_w + coil.h_w))
    widest = max(float(ring.d_out) for ring in design.iron.rings)
    room = (float(window) - 2 * WINDOW_AIR) if window is not None else widest
    found: list[Wound] = []
    for wire in stock.wires:
        most = min(int((room - float(coil.D_f)) / 2 / (0.8 * float(wire.d_o))), MOST_LAYERS)
        layers = np.arange(coil.n_sec, most + 1, coil.n_sec)
        if len(layers) and turns_per_layer(coil.h_w, wire.d_o, coil.k_p):
            wound = winding(replace(coil, wire=wire, n_l=layers), 20.0)
            found += [(wire, int(n_l)) for n_l in layers[wound.D_w + 2 * wound.bulge <= room]]
    return tuple(found)


def _voice_choices(design: Design, stock: Stock) -> tuple[Wound, ...]:
    """Every wire with each even number of layers that can be parted into the sections."""
    coil = design.voice_coil
    wires = [wire for wire in stock.wires if turns_per_layer(coil.h_w, wire.d_o, coil.k_p)]
    return tuple((wire, n_l) for wire in wires for n_l in VOICE_LAYERS if n_l % coil.n_sec == 0)


def _field_curve(table: Table, brief: Brief) -> Field:
    """One sweep that covers the ampere-turns of all field coils, with the window wound full."""
    coil = table.all_at_once.field_coil
    if coil is None:
        return field_of(table.design, brief)
    fed = feed(coil, brief)
    NI = np.asarray(fed.cold.NI)
    D_w = float(np.max(fed.wound.D_w))
    low, high = float(NI.min()) * 0.99, float(NI.max()) * 1.01
    # whole steps of a quarter octave, so that another wire on the shelf meets the same fields on the disk
    first, last = np.floor(4 * np.log2(low)), np.ceil(4 * np.log2(high))
    count = int(max(last - first, 1))
    nodes = 2.0 ** (np.linspace(first, last, min(count, NODES - 1) + 1) / 4)
    asked = iron_field.problem(table.design, D_w, 1.0, T=float(brief.T_room))
    return iron_field.over(asked, tuple(nodes.tolist()), len(nodes) - 1)


def _sift(table: Table, brief: Brief, asked: tuple[Limit, ...]) -> tuple[tuple[Sieve, ...], npt.NDArray[np.bool_]]:
    """Each limit in turn, and at the end whether everything has its place, which is asked build by build."""
    passed = np.ones(table.shape, bool)
    sieves = []
    for limit in asked:
        came = int(passed.sum())
        passed = passed & (limit.margin >= 0)
        sieves.append(Sieve(name=limit.name, words=limit.words, came=came, passed=int(passed.sum())))
    came = int(passed.sum())
    for row in np.unique(np.argwhere(passed)[:, 0]):
        if not _field_coil_has_place(table, brief, int(row)):
            passed[row] = False
    for row, column in np.argwhere(passed):
        passed[row, column] = _voice_coil_has_place(table, brief, (int(row), int(column)))
    sieves.append(Sieve(name="place", words="every part in its place", came=came, passed=int(passed.sum())))
    return tuple(sieves), passed


def _field_coil_has_place(table: Table, brief: Brief, row: int) -> bool:
    """Whether a check of the files would let this field coil stand, whatever the voice coil."""
    design = table.one((row, 0))
    fed, around = design.field_coil, (fits.field_coil_fits, fits.open_spool_fits)
    faults = (misfit for ask in around if fed for misfit in ask(design.iron, fed))
    return not any(faults) and not any(fits.outline(design, brief))


def _voice_coil_has_place(table: Table, brief: Brief, index: tuple[int, int]) -> bool:
    """Whether a check of the files would let this voice coil move, in this iron and over this field coil."""
    design = table.one(index)
    return not any(fits.voice_coil_fits(design.iron, design.voice_coil, design.field_coil, float(brief.x_pk)))


def _best(table: Table, found: Chain, passed: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Cells in order of loudness: of each choice of wires and voice coil the best, then the rest to fill the list."""
    loudness = np.where(passed, np.broadcast_to(found.L_1W, table.shape), -np.inf)
    order = np.argsort(-loudness, axis=None, kind="stable")[: passed.sum()]
    cells = [(int(flat) // table.shape[1], int(flat) % table.shape[1]) for flat in order]
    kinds: dict[tuple[str, int], tuple[int, int]] = {}
    for row, column in cells:
        fed = table.field_coils[row]
        kinds.setdefault((fed[0].name if fed else "", column), (row, column))
    firsts = dict.fromkeys(kinds.values())
    return [*firsts, *(cell for cell in cells if cell not in firsts)][:TRIED_IN_FULL]


def _candidate(table: Table, found: Chain, asked: tuple[Limit, ...], index: tuple[int, int]) -> Candidate:
    of_field, of_voice = table.field_coils[index[0]], table.voice_coils[index[1]]
    numbers = found.numbers()
    shown = {name: float(np.broadcast_to(numbers[name], table.shape)[index]) for name in NUMBERS if name in numbers}
    tightest = min(asked, key=lambda limit: limit.margin[index])
    return Candidate(
        field_coil=Choice(wire=of_field[0].name, n_l=of_field[1]) if of_field else None,
        voice_coil=Choice(wire=of_voice[0].name, n_l=of_voice[1]),
        numbers=shown,
        why=f"nearest limit: {tightest.sentence(index)}",
    )


def _solved_in_full(
    table: Table, brief: Brief, best: list[tuple[int, int]], progress: Progress
) -> tuple[list[Candidate], list[tuple[Candidate, tuple[str, ...]]]]:
    """The best builds, each with its own winding in its own field: those that keep all limits, and those that miss."""
    kept: list[Candidate] = []
    missed = []
    for index in best:
        progress(3 + len(kept), STEPS, f"solving build {len(kept) + 1} in full")
        each, by = _in_full(table, brief, index)
        if by:
            missed.append((each, by))
        else:
            kept.append(each)
        if len(kept) == SHOWN:
            break
    progress(STEPS, STEPS, "done")
    return kept, missed


def _in_full(table: Table, brief: Brief, index: tuple[int, int]) -> tuple[Candidate, tuple[str, ...]]:
    """The cell solved with its own winding in its own field, and the limits that it then misses."""
    row, column = index
    alone = Table(table.design, (table.field_coils[row],), (table.voice_coils[column],))
    design = alone.one((0, 0))
    found = chain(alone.all_at_once, brief, field_of(design, brief))
    asked = limits(alone, brief, found)
    return _candidate(alone, found, asked, (0, 0)), _missed(asked, (0, 0))


def _missed(asked: tuple[Limit, ...], index: tuple[int, int]) -> tuple[str, ...]:
    return tuple(limit.sentence(index) for limit in asked if limit.margin[index] < 0)


def _explained(ranked: list[Candidate]) -> tuple[Candidate, ...]:
    """Say of each candidate what it gives and takes beside the first."""
    first = ranked[0]

    def compared(each: Candidate) -> str:
        quieter = f"{first.L_1W - each.L_1W:.1f} dB quieter"
        if each.field_coil is None:
            return quieter
        watts = each.numbers["excitation.P_f"] - first.numbers["excitation.P_f"]
        heat = "as warm" if abs(watts) < 0.05 else f"{abs(watts):.1f} W {'more' if watts > 0 else 'less'} heat"
        return f"{quieter}, {heat}"

    return tuple(
        replace(each, why=f"{compared(each) if k else 'loudest'}; {each.why}") for k, each in enumerate(ranked)
    )


def _nothing(table: Table, brief: Brief, found: Chain, asked: tuple[Limit, ...], sieves: tuple[Sieve, ...]) -> Ranking:
    """Nothing keeps all limits: the build that has its place and whose misses add up to the least."""
    missing = np.sum([np.clip(-limit.margin, 0.0, 1e9) for limit in asked], axis=0)
    nearest_first = (
        divmod(int(flat), table.shape[1]) for flat in np.argsort(missing, axis=None, kind="stable")[:LOOKED_AT]
    )
    index = next(
        (
            cell
            for cell in nearest_first
            if _field_coil_has_place(table, brief, cell[0]) and _voice_coil_has_place(table, brief, cell)
        ),
        None,
    )
    if index is None:
        return Ranking(tried=int(missing.size), sieves=sieves, candidates=())
    nearest, missed = _candidate(table, found, asked, index), _missed(asked, index)
    return Ranking(tried=int(missing.size), sieves=sieves, candidates=(), nearest=nearest, missed=missed)

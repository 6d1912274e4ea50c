"""What a fault in the field coil's winding would do: to the meter, to the supply, to the field."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import log10

import numpy as np
import numpy.typing as npt

from handwound.motor.solved import Solved
from handwound.parts.coil import Coil, FieldCoil
from handwound.parts.faults import WindingFault
from handwound.parts.prediction import Winding
from handwound.physics.winding import Ladder, in_sections
from handwound.physics.winding_faults import net_winding, with_shorts
from handwound.physics.wire import resistivity
from handwound.quantities import Num
from handwound.stages import excite, rungs, wire_of

F_METER = 100.0
"""Frequency at which an inductance meter reads a large coil. [Hz] Common practice, no source."""
NOTHING = 1e-6
"""Share of the force factor that is told as no less: half of the layers against the other half. [1]"""
SEVERAL = 3
"""Layers that a scrape through the winding may join."""
SHARE = 0.3
"""Layers reversed in a coil of which one piece is wound the other way round. [1] This project's own case."""


@dataclass(frozen=True)
class Case:
    """One fault: the coil layer by layer, the way of each layer, and whether those out of circuit are shorted."""

    name: str
    kind: str
    layers: Ladder
    sense: npt.NDArray[np.float64]

    @property
    def N_l(self) -> npt.NDArray[np.float64]:
        """Turns of each layer."""
        return self.layers.N_l.astype(float)


def winding_faults(build: Solved) -> tuple[WindingFault, ...]:
    """The field coil as planned, then each fault that it has room for; nothing without a field coil."""
    coil = build.design.field_coil
    if coil is None:
        return ()
    found = (_with(build, coil, case) for case in _cases(coil, float(build.brief.T_room)))
    return tuple(fault for fault in found if fault)


def _cases(coil: FieldCoil, T_room: float) -> Iterator[Case]:
    n_l, layers = int(coil.n_l), rungs(coil, T_room)

    def case(name: str, kind: str, count: int, way: int, first: int | None = None) -> Case:
        sense = np.ones(n_l)
        start = (n_l - count) // 2 if first is None else first
        sense[start : start + count] = way
        return Case(name, kind, layers, sense)

    yield case("as planned", "none", 0, 1)
    yield case("last layer left out", "left out", 1, 0, n_l - 1)
    for count in sorted({1, round(SHARE * n_l)}):
        if 0 < count < n_l:
            yield case(f"{_layers(count)} reversed", "reversed", count, -1)
    if coil.n_sec > 1:
        in_one = n_l // coil.n_sec
        yield case("one section reversed", "reversed", in_one, -1, n_l - in_one)
    for count in (1, SEVERAL):
        if count < n_l:
            yield case(f"{_layers(count)} shorted", "shorted", count, 0)
    spliced = rungs(replace(coil, n_splice=coil.n_splice + 1), T_room)
    yield Case("one splice more", "spliced", spliced, np.ones(n_l))


def _layers(count: int) -> str:
    return "one layer" if count == 1 else f"{count} layers"


def _with(build: Solved, coil: FieldCoil, case: Case) -> WindingFault | None:
    """The coil with a fault on its supply; None where nothing would be left of a section of it."""
    sound, fed, supply, rect = build.done.field_winding, build.done.excitation, build.brief.supply, build.coil
    assert sound
    assert fed
    assert supply
    left = joined(coil, case, case.N_l)
    if left is None:
        return None
    R_20, N_net, k_I = left
    R_T = resistivity(R_20, wire_of(coil).alpha_20, build.brief.T_room)
    wound: Winding = replace(sound, N=N_net, R_20=R_20, R_T=R_T, k_I=k_I)
    now = excite(coil, wound, R_T, supply)
    before, after = (float(build.field.Bl(rect.rectangle, rect.N, abs(float(NI)))) for NI in (fed.NI, now.NI))
    return WindingFault(
        name=case.name, kind=case.kind, N_net=N_net, R_T=R_T, I_f=now.I_f, NI=now.NI,
        NI_V=N_net * fed.V_f / R_T, NI_I=N_net * fed.I_f, P_f=now.P_f, dL=20 * log10(max(after / before, NOTHING)),
        L_f=build.field.L_f(N_net, now.NI), L_ac=_meter(build, coil, case, float(N_net)),
    )  # fmt: skip


def joined(coil: Coil, case: Case, each: npt.NDArray[np.float64]) -> tuple[Num, Num, Num] | None:
    """Ohms at 20 °C, what ``each`` layer gives (turns, or force) and the fullest share, at the terminals.

    None where nothing is left of a section.
    """
    R_l, split = np.diff(case.layers.R_20, prepend=0.0), (coil.n_sec, -1)
    of_sections, R_k = net_winding(each.reshape(split), R_l.reshape(split), case.sense.reshape(split))
    return in_sections(R_k, of_sections, coil.connection) if np.all(np.asarray(R_k) > 0) else None


def _meter(build: Solved, coil: FieldCoil, case: Case, N_net: float) -> float | None:
    """The inductance that a meter reads; sections in parallel close each other, which is not followed here. [H]"""
    if coil.connection == "parallel" and coil.n_sec > 1:
        return None
    eddies, R_l = build.blocked.eddies, np.diff(case.layers.R_T, prepend=0.0)
    shorted = (case.sense == 0) & (case.kind == "shorted")
    Z = with_shorts(eddies.Z(F_METER)[:, 1, 1], eddies.coils[1].N, N_net, case.N_l[shorted], R_l[shorted])
    return float(Z[0].imag / (2 * np.pi * F_METER))

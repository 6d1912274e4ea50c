"""What everything that moves weighs, how that is known, and what it costs; the copper once more by its ohms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from handwound.masses import LATE, glue_mass
from handwound.parts.design import Design
from handwound.parts.prediction import Moving
from handwound.parts.reading import Reading
from handwound.parts.sound_study import Budget, Copper, Mass
from handwound.physics.bench import copper_mass
from handwound.physics.wire import resistivity
from handwound.quantities import Num
from handwound.sound.build import Build
from handwound.stages import wire_of

GRAM = 1e-3
"""[kg]"""
SHEET, WEIGHED, SHARE = "size and sheet", "weighed", "moving share of a ring"
NOTHING = 1e-9
"""What weighs less is not there. [kg]"""


def budget(build: Build, readings: Sequence[Reading]) -> Budget:
    """All of it, the heaviest first."""
    moving, design = build.found.moving, build.design
    Mmd, Mms = float(moving.Mmd), float(moving.Mms)
    late = glue_mass(design, build.found.voice_winding, LATE)
    parts = [(name, float(m), known) for name, m, known in _parts(design, moving, late) if abs(float(m)) > NOTHING]
    found = [Mass(name=name, m=m, m_share=m / Mmd, known=known, dL=lighter(m, Mms)) for name, m, known in parts]
    masses = tuple(sorted(found, key=lambda each: -float(each.m)))
    copper = tuple(_copper(build, readings))
    return Budget(
        masses=masses, Mmd=Mmd, m_air=float(moving.m_air), Mms=Mms, dL_gram=lighter(-GRAM, Mms), copper=copper
    )


def lighter(m: float, Mms: float) -> float:
    r"""What the level above the resonance gains where so much less moves: 20 lg of the masses. [dB]"""
    return float(20 * np.log10(Mms / (Mms - m)))


def _parts(design: Design, moving: Moving, late: Num) -> Iterator[tuple[str, Num, str]]:
    yield "wire of the voice coil", moving.m_vc, "its length and size"
    yield "former", moving.m_f, SHEET
    yield "diaphragm", moving.m_d, SHEET if design.diaphragm.m_d is None else WEIGHED
    yield "ribs", moving.m_rib, SHEET
    yield "cap", moving.m_cap, SHEET if design.cap is None or design.cap.m_cap is None else WEIGHED
    yield "glue", moving.m_g, "its lines"
    for bit in design.bits:
        yield bit.name, bit.m, "the list of small things"
    yield "surround", moving.m_s, SHARE
    spider = design.spider
    yield "spider", moving.m_sp, SHARE if spider is None or spider.m_sp is None else WEIGHED
    if design.m_weighed is not None:
        own = (moving.m_vc, moving.m_f, moving.m_d, moving.m_rib, moving.m_cap, moving.m_g, moving.m_bits)
        yield "weighed together, beside the sum", design.m_weighed + late - sum(own), WEIGHED


def _copper(build: Build, readings: Sequence[Reading]) -> Iterator[Copper]:
    """By the ohms of the plan, then by each that was read on the finished coil."""
    wound, wire = build.found.voice_winding, wire_of(build.design.voice_coil)
    warm = resistivity(wire.rho_20, wire.alpha_20, build.brief.T_room) / wire.rho_20
    read = [float(each.value) / (1.0 if each.quantity == "R_20" else warm) for each in _of_coil(readings)]
    for k, R_20 in enumerate([float(wound.R_20), *map(float, read)]):
        m_cu = copper_mass(wound.l_w, R_20, wire.rho_20, wire.rho_m)
        yield Copper(m_w=wound.m_w, R_20=R_20, m_cu=m_cu, is_read=k > 0)


def _of_coil(readings: Sequence[Reading]) -> Iterator[Reading]:
    """The ohms of the whole voice coil; those after one layer are said to be of that layer."""
    for each in readings:
        place = each.where.replace(" ", "_").lower()
        if each.quantity in ("Re", "R_T", "R_20") and place.startswith("voice_coil") and "layer" not in place:
            yield each

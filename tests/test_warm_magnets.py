"""What a motor loses while its magnets are warm, and how warm they get."""

from __future__ import annotations

from dataclasses import replace
from math import log10
from pathlib import Path

import numpy as np
import pytest

from handwound import Job, iron_field, predict, stages, warmth
from handwound.iron_field import Field
from handwound.materials import magnets
from handwound.parts.design import Design
from handwound.parts.prediction import Prediction
from tests.files import usual
from tests.test_magnet_motor import with_field_coil

V = 6.0
"""Volts on the field coil: enough to warm the magnet well."""


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    job = Job.start(tmp_path_factory.mktemp("magnet") / "job", "repair-pair")
    job.choose(job.search().candidates[0])
    return job


def field_at(design: Design, T: float, NI: float = 0.0) -> Field:
    """The field with all magnets at one temperature, solved anew."""
    if design.field_coil is None:
        return iron_field.find(design, 0.0, 0.0, 0.0, T)
    wound = stages.winding(design.field_coil, 20.0)
    return iron_field.find(design, float(wound.D_w), float(wound.N), NI, T)


def Bl(field: Field, design: Design, made: Prediction, NI: float = 0.0) -> float:
    place = stages.coil_place(design.iron, design.voice_coil, made.voice_winding.D_w)
    return float(field.Bl(place, made.voice_winding.N, NI))


@pytest.mark.parametrize("like", usual.ALONE)
def test_the_slope_is_the_change_of_the_field(like: str, tmp_path: Path) -> None:
    """Second method: the field solved at both temperatures, whose change the slope meets within 5 %."""
    design = usual.read(usual.write(tmp_path, like))
    cold, warm = field_at(design, 20.0), field_at(design, 70.0)
    low, high = (float(z) for z in design.iron.plate_levels())
    gap = (13.1e-3, 13.5e-3, low - 3e-3, high + 3e-3)
    lost = 1 - float(warm.Bl(gap, 100.0, 0.0)) / float(cold.Bl(gap, 100.0, 0.0))
    shares = {ring.name: 1 - magnets.warmed(ring.grade, 70.0) for ring in design.iron.rings if ring.magnetised}
    assert set(cold.by_magnet) == set(shares)
    assert sum(cold.by_magnet[name] * share for name, share in shares.items()) == pytest.approx(lost, rel=0.05)
    # limit: at most all flux goes with the magnets; full iron passes on less
    assert 0.5 < sum(cold.by_magnet.values()) < 1.001


def test_a_field_coil_that_warms_its_magnet_loses_by_both(job: Job) -> None:
    """Second method: the field of the warm coil's ampere-turns, solved with the magnet at its end temperature.

    The slope is that at the cold current, where the iron is fuller and passes on a fifth less of the change.
    """
    design, brief = with_field_coil(job, "down", V)
    made = predict.predict(design, brief)
    assert made.heat and made.warming and made.warming.Bl is not None
    place = stages.coil_place(design.iron, design.voice_coil, made.voice_winding.D_w)
    settled = predict.settle(design, brief, predict.DOUBTS, made.field_winding, place)
    (magnet,) = (ring.name for ring in design.iron.rings if ring.magnetised)
    T, T_room, NI = float(np.mean(settled.T[settled.model.cells.of(magnet)])), float(brief.T_room), float(made.heat.NI)
    assert T > T_room + 20.0, "it is worth looking at"
    warm, cold = (Bl(field_at(design, each, NI), design, made, NI) for each in (T, T_room))
    assert 1 - float(made.heat.Bl) / cold == pytest.approx(1 - warm / cold, rel=0.2)
    # the same over time: as cold at first, and with music a little weaker in the end
    assert float(made.warming.Bl[0]) == pytest.approx(float(made.motor.Bl), rel=1e-6)
    assert float(made.warming.Bl[-1]) == pytest.approx(float(made.heat.Bl), rel=0.02)


def test_music_warms_the_magnet_and_costs_a_little_more(job: Job) -> None:
    """Second method: two solved fields."""
    loud = replace(job.brief, crest=6.0)
    made = predict.predict(job.design, loud)
    (state,) = made.curves.magnets
    assert made.rating and state.T_end is not None
    T_room, T = float(loud.T_room), float(state.T_end)
    assert T_room + 5.0 < T < float(made.rating.T_vc)
    place = stages.coil_place(job.design.iron, job.design.voice_coil, made.voice_winding.D_w)
    idle = predict.settle(job.design, loud, predict.DOUBTS, None, place)
    Z_b = predict.blocked(job.design, loud, predict.field_of(job.design, loud))
    played = predict.played_in(made, loud, Z_b)
    driven = predict.on_amplifier(job.design, loud, made.voice_winding, idle.model, played)
    R_hot = float(driven.R_T(warmth.playing(idle, driven)))
    field = Bl(field_at(job.design, T_room), job.design, made) / Bl(field_at(job.design, T), job.design, made)
    assert field > 1.005
    of_coil = 20 * log10(R_hot / float(made.voice_winding.R_T))
    assert float(made.rating.dL_hot) - of_coil == pytest.approx(20 * log10(field), rel=0.05)

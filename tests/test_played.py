"""The programme in drawn drivers, beside the impedance of each."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from handwound import Job, iron_field, predict, spread, stages
from handwound.played import NUMBERS, Around
from handwound.programme import mean_heat
from handwound.spread import some
from handwound.warmth import played_in
from tests.examples import started

COUNT = 40


@pytest.mark.parametrize("example", ["open-day", "repair-pair"])
def test_the_heat_of_drawn_drivers(example: str, tmp_path: Path) -> None:
    """Kind of truth: second method. The impedance of each driver over all that is heard, for 40 of them: nine of
    ten no more than one per cent off; without any answer it would be some per cent. Limit: the driver itself."""
    job = Job(started(tmp_path / example, example))
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    Z_b = predict.blocked(design, brief, field)
    done = predict.chain(design, brief, field)
    around = Around(done, brief, Z_b, played_in(done, brief, Z_b))
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    drawn = spread.draw(design, brief, iron_field.answers(field, design, place, float(brief.T_room)))
    loose = predict.chain(drawn.design, drawn.brief, field, drawn.doubts, drawn.k_Bl)
    found = mean_heat(around(loose, drawn.brief))
    alone = [mean_heat(played_in(some(loose, k), some(drawn.brief, k), Z_b)) for k in range(COUNT)]
    off = np.log(found[:COUNT] / np.array(alone))
    assert np.percentile(np.abs(off), 90) < 0.01 and abs(np.mean(off)) < 0.003
    as_nominal = np.log(mean_heat(around(done, drawn.brief))[:COUNT] / np.array(alone))
    assert np.percentile(np.abs(as_nominal), 90) > 0.02
    assert mean_heat(around(done, brief)) == pytest.approx(mean_heat(around.programme), rel=1e-12)
    assert set(NUMBERS) <= {key.rpartition(".")[2] for key in done.numbers()}

"""The driver at rest and its voice coil's limits: put back into a run in time, and beside closed forms."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from handwound import Job, predict, spread, stages, warmth
from handwound.errors import JobError
from handwound.parts.heat import DOUBTS
from handwound.parts.prediction import Chain, Prediction
from handwound.physics.heat.sources import Fixed, Together
from tests.examples import started

WITH_FIELD_COIL = pytest.mark.parametrize("built", ["open-day"], indirect=True)


class Built(NamedTuple):
    """An example with its build, all that was predicted, and its network at rest."""

    job: Job
    done: Chain
    found: Prediction
    idle: warmth.Settled


@pytest.fixture(scope="module", params=["open-day", "repair-pair"])
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Built:
    job = Job(started(tmp_path_factory.mktemp("warmth") / "job", request.param))
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    done = predict.chain(design, brief, field, Z_b=predict.blocked(design, brief, field))
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    return Built(job, done, job.predict(), warmth.settle(design, brief, DOUBTS, done.field_winding, place))


def hottest(built: Built, P: float, t: float) -> float:
    """The voice coil's hottest piece after some time of so many watts in it, in a motor that was warm."""
    idle = built.idle
    fed = [idle.fed] if idle.fed else []
    heat = Together([*fed, Fixed(idle.model.voice, P * idle.model.voice_share)])
    run = idle.model.network.run(np.array([0.0, t]), idle.T, heat)
    return float(run.T[list(idle.model.voice), -1].max())


def test_what_it_bears_for_good_ends_at_the_limit(built: Built) -> None:
    """Second method: the watts for good, put into a run of four days; half a kelvin."""
    rating = built.done.rating
    assert hottest(built, rating.P_cont, 4 * 86400) == pytest.approx(rating.T_lim, abs=0.5)


@pytest.mark.parametrize(("name", "t", "near"), [("P_short", 1.0, 0.05), ("P_long", 60.0, 0.10)])
def test_what_it_bears_for_a_while(built: Built, name: str, t: float, near: float) -> None:
    """Second method: a second and a minute in a run. The iron, which warms meanwhile, is left out of both figures."""
    rating = built.done.rating
    start = float(built.idle.T[list(built.idle.model.voice)].max())
    reached = hottest(built, getattr(rating, name), t)
    assert reached - start == pytest.approx(rating.T_lim - start, rel=near)


def test_the_limits_stand_in_order(built: Built) -> None:
    """Limit: longer is less; at the short limit a coil hardly gives off anything (closed form: C dT / t)."""
    rating, model = built.done.rating, built.idle.model
    assert rating.P_cont < rating.P_long < rating.P_short
    C_th = model.network.C_th[list(model.voice)]
    kept = np.min(C_th / model.voice_share * (rating.T_lim - built.idle.T[list(model.voice)]))
    assert kept < rating.P_short < 1.3 * kept


def test_the_weakest_part_sets_the_limit(built: Built) -> None:
    """Limit: the least of enamel, former and glue."""
    design = built.job.design
    coil = design.voice_coil
    assert warmth.bears(design) == min(coil.wire.T_max, coil.former.T_max, design.glue.T_max)
    tender = replace(design, voice_coil=replace(coil, former=replace(coil.former, T_max=45.0)))
    assert warmth.bears(tender) == 45.0


def test_still_air_is_never_known_better_than_a_tenth(built: Built) -> None:
    """Common practice, no source: two common correlations differ by 9 %. The rise over the room says so, drawn with
    all doubts of the case; and the voice coil's, which has doubts of its own."""
    if built.idle.fed:
        drawn = spread.draw(built.job.design, built.job.brief, {})
        wound = stages.winding(drawn.design.field_coil, drawn.brief.T_room)
        loose = warmth.settle(drawn.design, drawn.brief, drawn.doubts, wound)
        rise = loose.T_case - loose.T[-1]
        assert np.diff(np.percentile(rise, [5, 95])) / 2 >= 0.1 * np.median(rise)
    band = built.found.bands["rating.T_vc"]
    assert (band.high - band.low) / 2 >= 0.1 * (band.value - float(built.job.brief.T_room))


@WITH_FIELD_COIL
def test_the_worst_case_is_about_the_upper_end_of_the_band(built: Built) -> None:
    """Second method: the search's one poor case beside the 95 % of 10,000 draws, within 3 K."""
    job = built.job
    poor = warmth.settle(warmth.poorest(job.design), job.brief, warmth.POOREST, built.done.field_winding)
    assert poor.T_case == pytest.approx(built.found.bands["heat.T_case"].high, abs=3.0)


def test_draws_rest_where_plain_numbers_do(built: Built) -> None:
    """Second method: eight doubts at once, and each as plain numbers."""
    job, wound = built.job, built.done.field_winding
    factors = spread.draw(job.design, job.brief, {}, count=8).doubts
    many = warmth.settle(job.design, job.brief, factors, wound)
    for k in range(8):
        one = replace(DOUBTS, **{name: float(getattr(factors, name)[k]) for name, _ in DOUBTS.spread})
        alone = warmth.settle(job.design, job.brief, one, wound).T
        assert np.broadcast_to(many.T, (len(alone), 8))[:, k] == pytest.approx(alone, abs=5e-4)


@WITH_FIELD_COIL
@pytest.mark.parametrize(("V_max", "I_max"), [(60.0, 0.6), (1000.0, 0.6), (12.0, 0.4)])
def test_a_current_limit_feeds_what_it_says(built: Built, V_max: float, I_max: float) -> None:
    """Closed form: below the crossover I is the limit and the watts are R I², however many volts there are."""
    job, wound = built.job, built.done.field_winding
    supply = replace(job.brief.supply, V_max=V_max, I_max=I_max, spread=())
    found = warmth.settle(job.design, replace(job.brief, supply=supply), DOUBTS, wound)
    R = wound.R_20 * (1 + 0.00393 * (found.fed.T_mean(found.T) - 20))
    assert found.fed.current(found.T) == pytest.approx(I_max)
    assert found.q.sum() == pytest.approx(I_max**2 * R, rel=1e-6)


@WITH_FIELD_COIL
def test_a_supply_beyond_all_bounds_is_refused_in_words(built: Built) -> None:
    job, wound = built.job, built.done.field_winding
    supply = replace(job.brief.supply, V_max=1000.0, I_max=100.0, spread=())
    short = replace(wound, R_20=0.1, R_T=0.1)
    with pytest.raises(JobError, match="brief: must name a supply on which"):
        warmth.settle(job.design, replace(job.brief, supply=supply), DOUBTS, short)

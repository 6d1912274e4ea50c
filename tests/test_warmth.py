"""The driver at rest and its voice coil's limits: put back into a run in time, and beside closed forms."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from handwound import Job, predict, spread, stages, warmth
from handwound.errors import JobError
from handwound.materials import surfaces
from handwound.parts.heat import DOUBTS, PLACES, Box, Frame
from handwound.parts.prediction import Chain, Prediction
from handwound.physics.heat.sources import Fixed, Together
from tests.builds import sure
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


@pytest.mark.parametrize("bears", [105.0, 180.0, 250.0])
def test_the_watts_for_good_of_what_bears_much(built: Built, bears: float) -> None:
    """The definition, by the network itself: films grow with temperature, and a hot coil is still found to 0.3 K."""
    job, idle = built.job, built.idle
    design, coil = job.design, job.design.voice_coil
    tough = replace(coil, wire=replace(coil.wire, T_max=bears), former=replace(coil.former, T_max=bears))
    design = replace(design, voice_coil=tough, glue=replace(design.glue, T_max=bears))
    field = predict.field_of(job.design, job.brief)
    played = predict.played_in(built.done, job.brief, predict.blocked(job.design, job.brief, field))
    rating = warmth.rate(design, job.brief, built.done.voice_winding, idle, played, field)
    heat = idle.beside(Fixed(idle.model.voice, rating.P_cont * idle.model.voice_share))
    T = idle.model.network.steady(job.brief.T_room, heat, idle.T)
    assert T[list(idle.model.voice)].max() == pytest.approx(bears, abs=0.3)


@pytest.mark.parametrize(("P_max", "crest"), [(300.0, 3.0), (500.0, 6.0), (2000.0, 12.0), (1000.0, 3.0)])
def test_much_too_loud_music_comes_to_rest(built: Built, P_max: float, crest: float) -> None:
    """Balance and second method: hundreds of watts have a rest, where nothing lasts; the room gets what is made, and
    from there above, with nothing kept of the idle motor, the same is found. Draws rest about it."""
    job, idle = built.job, built.idle
    brief = replace(job.brief, crest=crest, amplifier=replace(job.brief.amplifier, P_max=P_max))
    field = predict.field_of(job.design, brief)
    Z_b = predict.blocked(job.design, brief, field)
    played = predict.played_in(built.done, brief, Z_b)
    driven = warmth.on_amplifier(job.design, brief, built.done.voice_winding, idle.model, played)
    T, network = warmth.playing(idle, driven), replace(idle.model.network, _kept={})
    made = idle.beside(driven)(T[:-1])[0].sum()
    assert network.given_off(T, network.conductances(T))[1] == pytest.approx(made, rel=1e-5)
    assert network.steady(T[-1], idle.beside(driven), T + 300.0) == pytest.approx(T, abs=1e-3)
    drawn = spread.draw(job.design, brief, {}, count=400)
    many = predict.chain(drawn.design, drawn.brief, field, drawn.doubts, Z_b=Z_b, played=played).rating
    assert np.all(np.isfinite(many.T_vc) & np.isfinite(many.dL_hot))
    assert np.median(many.T_vc) == pytest.approx(T[list(idle.model.voice)].max(), rel=0.02)


def test_music_without_end_is_refused_in_words(built: Built) -> None:
    """Limit: a source that grows without bounds as it warms has no rest."""
    driven = Fixed(built.idle.model.voice, 1e6 * built.idle.model.voice_share)
    with pytest.raises(JobError, match="brief: must name an amplifier and a programme"):
        warmth.playing(built.idle, driven)


def test_spreads_of_crest_and_level_are_drawn(built: Built) -> None:
    """Closed form: ±2 dB are a factor of 10^0.4 in the heat from end to end, and 10^0.1 in the voltage each way."""
    job = built.job
    brief = replace(job.brief, spread=(("crest", 2.0),))
    bands = predict.predict(job.design, brief).bands
    U, P = bands["rating.U_prog"], bands["rating.P_prog"]
    assert (U.high / U.value, U.value / U.low) == (pytest.approx(10**0.1, rel=0.02), pytest.approx(10**0.1, rel=0.02))
    assert P.high / P.low == pytest.approx(10**0.4, rel=0.05)


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
    """Common practice, no source: two common correlations differ by 9 %. The voice coil's rise says so."""
    band = built.found.bands["rating.T_vc"]
    assert (band.high - band.low) / 2 >= 0.1 * (band.value - float(built.job.brief.T_room))


@WITH_FIELD_COIL
@pytest.mark.parametrize("surface", ["painted", "bright steel"])
@pytest.mark.parametrize("framed", [False, True])
@pytest.mark.parametrize("box", [None, Box(V_box=0.02, t_box=0.016)])
@pytest.mark.parametrize("placed", PLACES)
def test_nor_is_the_outside_whatever_stands_around(
    built: Built, placed: str, box: Box | None, framed: bool, surface: str
) -> None:
    """Common practice, no source: a tenth of the rise at least, with every size, stuff and the room known exactly."""
    design, look = sure(built.job.design), surfaces.surface(surface)
    rings = tuple(replace(ring, surface=sure(look)) for ring in design.iron.rings)
    frame = Frame(on="top", metal="mild_steel", t_frame=1e-3, A_frame=0.03, surface=sure(look)) if framed else None
    design = replace(design, iron=replace(design.iron, rings=rings), frame=frame)
    drawn = spread.draw(design, replace(sure(built.job.brief), placed=placed, box=box), {}, count=1000)
    assert {each.part for each in drawn.inputs} == {"cooling"}
    loose = warmth.settle(drawn.design, drawn.brief, drawn.doubts, built.done.field_winding)
    rise = loose.T_case - loose.T[-1]
    assert np.ptp(np.percentile(rise, [5, 95])) / 2 >= 0.1 * np.median(rise)


def test_the_poorest_case_dulls_every_surface(built: Built) -> None:
    """Limit: rings and frame radiate less, each by its own doubt; what has none stays."""
    paint = surfaces.surface("painted")
    frame = Frame(on="top", metal="aluminium", t_frame=1e-3, A_frame=0.04, surface=paint)
    poor = warmth.poorest(replace(built.job.design, frame=frame))
    less = warmth.POOR * dict(paint.spread)["eps"]
    assert poor.frame.surface.eps == pytest.approx(paint.eps - less)
    for before, after in zip(built.job.design.iron.rings, poor.iron.rings, strict=True):
        assert after.surface is before.surface or after.surface.eps < before.surface.eps


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

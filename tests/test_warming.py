"""The driver from cold and at rest: what goes in comes out or stays, both ways lead to one end, limits are met."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import Job, predict
from handwound.parts.heat import DOUBTS
from handwound.physics.heat.sources import Fixed, Together
from handwound.stages import coil_place
from handwound.warming import Period, follow, from_cold, once
from handwound.warmth import on_amplifier, played_in, settle
from tests.examples import started

HOUR = 3600.0


@pytest.fixture(scope="module", params=["open-day", "repair-pair"])
def built(request, tmp_path_factory):
    """A job with its settled motor, its voice coil as driven by the radio, and the chain."""
    job = Job(started(tmp_path_factory.mktemp("job") / "job", request.param))
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    Z_b = predict.blocked(design, brief, field)
    found = predict.chain(design, brief, field, Z_b=Z_b)
    place = coil_place(design.iron, design.voice_coil, found.voice_winding.D_w)
    idle = settle(design, brief, DOUBTS, found.field_winding, place)
    played = played_in(found, brief, Z_b)
    driven = on_amplifier(design, brief, found.voice_winding, idle.model, played)
    return job, field, found, place, idle, played, driven


def test_what_goes_in_comes_out_or_stays(built) -> None:
    """Kind of truth: balance, to 0.1 %, on and off again: watts in, less those to the room, are in the pieces."""
    _, _, _, _, idle, _, driven = built
    periods = (*once(4.0), Period(np.linspace(0, 2 * HOUR, 30), False), *once(2.0))
    run, _ = follow(idle, driven, periods)
    stored = np.sum(idle.model.network.C_th[:, None] * (run.T[:-1] - run.T[:-1, :1]), axis=0)
    late = run.t > 60
    assert run.E_out[late] + stored[late] == pytest.approx(run.E_in[late], rel=1e-3)


def test_a_long_run_ends_where_the_state_of_rest_is(built) -> None:
    """Kind of truth: limit. Twenty hours are many time constants of the iron."""
    job, field, found, place, idle, played, driven = built
    fed = [idle.fed] if idle.fed else []
    rest = idle.model.network.steady(float(job.brief.T_room), Together([*fed, driven]), idle.T)
    end = from_cold(job.design, job.brief, field, found, place, played, once(20.0))
    assert end.T_vc[-1] == pytest.approx(np.max(rest[list(idle.model.voice)]), abs=0.05)
    assert end.T_case[-1] == pytest.approx(float(idle.model.network.outside(rest)[1]), abs=0.05)
    assert end.T_vc[-1] == pytest.approx(float(found.rating.T_vc), abs=0.05)


def test_cold_it_is_as_cold_as_the_room_and_never_cools_while_it_is_on(built) -> None:
    """Kind of truth: limits."""
    job, field, found, place, _, played, _ = built
    told = from_cold(job.design, job.brief, field, found, place, played)
    for T in (told.T_case, told.T_vc, told.T_f):
        if T is not None:
            assert T[0] == pytest.approx(float(job.brief.T_room), abs=0.01)
            assert np.all(np.diff(T) > -1e-3)


def test_the_watts_for_good_bring_the_first_piece_to_its_limit(built) -> None:
    """Kind of truth: the definition, by the network itself. Its hottest piece then has what the weakest part bears."""
    job, _, found, _, idle, _, _ = built
    model, fed = idle.model, [idle.fed] if idle.fed else []
    heat = Fixed(model.voice, model.voice_share * np.asarray(found.rating.P_cont))
    T = model.network.steady(float(job.brief.T_room), Together([*fed, heat]), idle.T)
    assert np.max(T[list(model.voice)]) == pytest.approx(float(found.rating.T_lim), abs=0.2)


def test_a_fixed_current_keeps_its_field_and_a_fixed_voltage_its_volts(built) -> None:
    """Kind of truth: closed form. The supply's limits, R rising with the coil's own temperature."""
    job, field, found, place, idle, played, _ = built
    if idle.fed is None:
        pytest.skip("no field coil")
    told = from_cold(job.design, job.brief, field, found, place, played)
    alpha = idle.fed.alpha_20
    R = float(found.field_winding.R_20) * (1 + alpha * (told.T_f - 20))
    assert told.I_f * R == pytest.approx(float(job.brief.supply.V_max), rel=1e-4)
    held = replace(job.brief, supply=replace(job.brief.supply, I_max=0.3))
    cold = predict.chain(job.design, held, field)
    steady = from_cold(job.design, held, field, cold, place, played)
    assert steady.I_f == pytest.approx(0.3, rel=1e-9)
    assert np.ptp(steady.Bl) < 1e-9 and steady.P_f[-1] > steady.P_f[0]

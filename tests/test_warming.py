"""The driver from cold and at rest: what goes in comes out or stays, both ways lead to one end, limits are met."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import simpson

from handwound import Job, predict
from handwound.parts.heat import DOUBTS
from handwound.physics.heat.network import Run
from handwound.physics.heat.sources import Fixed, Together
from handwound.stages import coil_place
from handwound.warming import follow, from_cold, instants, tell
from handwound.warmth import on_amplifier, played_in, playing, settle
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
    """Kind of truth: balance, to 0.1 %: watts in, less those to the room, are in the pieces."""
    _, _, _, _, idle, _, driven = built
    run = follow(idle, driven, instants(4.0))
    stored = np.sum(idle.model.network.C_th[:, None] * (run.T[:-1] - run.T[:-1, :1]), axis=0)
    late = run.t > 60
    assert run.E_out[late] + stored[late] == pytest.approx(run.E_in[late], rel=1e-3)


def often(lasts: float, count: int) -> np.ndarray:
    """Instants of a time, most of them at first."""
    return lasts * np.linspace(0, 1, count) ** 3


WORKING_DAY = [(often(8 * HOUR, 2001), True)]
DUTY = [(often(lasts, 601), is_on) for _ in range(6) for lasts, is_on in ((600.0, True), (1200.0, False))]


def through(idle, driven, periods) -> list[Run]:
    """From cold through times on and times off."""
    network, runs = idle.model.network, []
    T = network.at_room(float(idle.T[-1]))
    for t, is_on in periods:
        runs.append(network.run(t, T, idle.beside(driven) if is_on else Together([])))
        T = runs[-1].T[:, -1]
    return runs


@pytest.mark.parametrize("periods", [WORKING_DAY, DUTY], ids=["a working day", "10 min on, 20 off"])
def test_energy_from_the_temperatures_alone(built, periods) -> None:
    """Kind of truth: balance, to 0.1 %. Heat kept, by the capacities, and given off are what was made.

    Both flows are found at each instant from the temperatures and summed by Simpson's rule, apart from the run's own.
    """
    _, _, _, _, idle, _, driven = built
    network, on = idle.model.network, idle.beside(driven)
    runs = through(idle, driven, periods)
    made = given = 0.0
    for run, (t, is_on) in zip(runs, periods, strict=True):
        given += simpson([network.given_off(each, network.conductances(each))[1] for each in run.T.T], x=t)
        made += simpson([on(each[:-1])[0].sum() for each in run.T.T], x=t) if is_on else 0.0
    kept = network.C_th @ (runs[-1].T[:-1, -1] - runs[-1].T[-1, -1])
    assert kept + given == pytest.approx(made, rel=1e-3)
    E_in, E_out = (sum(float(getattr(run, name)[-1]) for run in runs) for name in ("E_in", "E_out"))
    assert (E_in, E_out) == (pytest.approx(made, rel=1e-3), pytest.approx(given, rel=1e-3))


def test_switched_off_it_cools_to_its_room(built) -> None:
    """Kind of truth: limit. Never below the room, and back there after a day."""
    job, _, _, _, idle, _, driven = built
    warm, off = through(idle, driven, [(often(2 * HOUR, 3), True), (often(24 * HOUR, 50), False)])
    room = float(job.brief.T_room)
    assert min(warm.T.min(), off.T.min()) >= room - 1e-3
    assert off.T[:, -1] == pytest.approx(room, abs=0.05)


def test_a_long_run_ends_where_the_state_of_rest_is(built) -> None:
    """Kind of truth: limit. Twenty hours are many time constants of the iron."""
    _, field, found, place, idle, _, driven = built
    rest = playing(idle, driven)
    run = follow(idle, driven, instants(20.0))
    end = tell(idle, field, found, place, run.t, run.T)
    assert end.T_vc[-1] == pytest.approx(np.max(rest[list(idle.model.voice)]), abs=0.05)
    assert end.T_case[-1] == pytest.approx(float(idle.model.network.outside(rest)[1]), abs=0.05)
    assert end.T_vc[-1] == pytest.approx(float(found.rating.T_vc), abs=0.05)


def test_cold_it_is_as_cold_as_the_room_and_never_cools_while_it_is_on(built) -> None:
    """Kind of truth: limits."""
    job, field, found, place, idle, _, driven = built
    told = from_cold(idle, driven, field, found, place)
    for T in (told.T_case, told.T_vc, told.T_f):
        if T is not None:
            assert T[0] == pytest.approx(float(job.brief.T_room), abs=0.01)
            assert np.all(np.diff(T) > -1e-3)


def test_the_watts_for_good_bring_the_first_piece_to_its_limit(built) -> None:
    """Kind of truth: the definition, by the network itself. Its hottest piece then has what the weakest part bears."""
    job, _, found, _, idle, _, _ = built
    model = idle.model
    heat = Fixed(model.voice, model.voice_share * np.asarray(found.rating.P_cont))
    T = model.network.steady(float(job.brief.T_room), idle.beside(heat), idle.T)
    assert np.max(T[list(model.voice)]) == pytest.approx(float(found.rating.T_lim), abs=0.2)


def test_a_fixed_current_keeps_its_field_and_a_fixed_voltage_its_volts(built) -> None:
    """Kind of truth: closed form. The supply's limits, R rising with the coil's own temperature."""
    job, field, found, place, idle, _, driven = built
    if idle.fed is None:
        pytest.skip("no field coil")
    told = from_cold(idle, driven, field, found, place)
    alpha = idle.fed.alpha_20
    R = float(found.field_winding.R_20) * (1 + alpha * (told.T_f - 20))
    assert told.I_f * R == pytest.approx(float(job.brief.supply.V_max), rel=1e-4)
    held = replace(job.brief, supply=replace(job.brief.supply, I_max=0.3))
    cold = predict.chain(job.design, held, field)
    steady = from_cold(settle(job.design, held, DOUBTS, cold.field_winding, place), driven, field, cold, place)
    assert steady.I_f == pytest.approx(0.3, rel=1e-9)
    assert np.ptp(steady.Bl) < 1e-9 and steady.P_f[-1] > steady.P_f[0]

"""The spine on the open-day job: stages that do not repeat themselves, arrays like numbers, balances, bands."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import handwound
from handwound import Job, iron_field, predict, spread, stages
from handwound.materials import steels
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.physics import excitation, winding
from handwound.physics.field import solve
from handwound.search.table import Table
from tests.examples import started


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """The open-day job with a build chosen by hand."""
    return Job(started(tmp_path_factory.mktemp("spine") / "job", "open-day"))


@pytest.fixture(scope="module")
def found(job: Job) -> Prediction:
    return job.predict()


def test_the_front_door_is_the_package_itself() -> None:
    assert handwound.Job is Job


def test_every_number_has_a_band_that_holds_it(found: Prediction) -> None:
    assert set(found.bands) == set(found.numbers())
    for name, (value, low, high, median) in found.bands.items():
        assert np.isfinite([value, low, high, median]).all(), name
        assert low <= value <= high, name
        assert low <= median <= high, name


class Count:
    """Counts the calls of a function that it stands in for."""

    def __init__(self, patch: pytest.MonkeyPatch, module: object, name: str) -> None:
        self.calls, function = 0, getattr(module, name)

        def counted(*args: object, **kwargs: object) -> object:
            self.calls += 1
            return function(*args, **kwargs)

        patch.setattr(module, name, counted)


def test_a_changed_input_computes_only_what_hangs_on_it(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    predict.chain(design, brief, field)
    turns, coupled = Count(monkeypatch, winding, "turns"), Count(monkeypatch, excitation, "supply_current")
    predict.chain(design, brief, field)
    assert (turns.calls, coupled.calls) == (0, 0)
    weaker = replace(brief, supply=replace(brief.supply, V_max=9.0))
    predict.chain(design, weaker, field)
    assert (turns.calls, coupled.calls) == (0, 2)  # cold and warm
    heavier = replace(design, bits=(*design.bits, replace(design.bits[0], name="putty", m=1e-3)))
    predict.chain(heavier, weaker, field)
    assert (turns.calls, coupled.calls) == (0, 2)


def test_the_field_comes_from_the_disk_the_second_time(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    iron_field.over.cache_clear()
    first = predict.field_of(job.design, job.brief)
    iron_field.over.cache_clear()
    swept = Count(monkeypatch, iron_field.field_physics, "sweep")
    again = predict.field_of(job.design, job.brief)
    assert swept.calls == 0
    assert again is not first
    assert np.array_equal(again.solution.A, first.solution.A)


def test_arrays_answer_like_numbers(job: Job) -> None:
    """All cells of a search's table at once, and each cell as one design: the same numbers."""
    wires = job.stock.wires[:3]
    table = Table(
        job.design, tuple((w, n) for w in wires for n in (4, 11)), tuple((w, n) for w in wires for n in (2, 4))
    )
    field = predict.field_of(job.design, job.brief)
    many = predict.chain(table.all_at_once, job.brief, field, voices=False).numbers()
    for index in np.ndindex(table.shape):
        one = predict.chain(table.one(index), job.brief, field, voices=False).numbers()
        for name, value in one.items():
            # what sees what is decided for the mean of a table's windings
            near = 2e-3 if name.startswith("heat") else 1e-9
            assert np.broadcast_to(many[name], table.shape)[index] == pytest.approx(value, rel=near), name


def test_at_a_fixed_voltage_turns_do_not_change_the_ampere_turns(job: Job) -> None:
    """Closed form: NI = V A / (rho pi D_m), so twice the layers change NI by the mean turn alone."""
    coil, brief = job.design.field_coil, job.brief
    few, many = (stages.winding(replace(coil, n_l=n), brief.T_room) for n in (9, 18))
    NI = [stages.excite(coil, wound, wound.R_T, brief.supply).NI for wound in (few, many)]
    assert many.N == 2 * few.N
    assert NI[1] / NI[0] == pytest.approx(few.D_m / many.D_m, rel=1e-12)


def test_a_warm_coil_on_a_fixed_voltage_loses_what_its_copper_gains(found: Prediction) -> None:
    """Closed form: I ~ 1/R, R ~ 1 + alpha (T - 20); common practice: current falls by the ratio of the resistances."""
    warmer = 1 + 0.00393 * (found.heat.T_f - 20)
    assert found.heat.I_f == pytest.approx(found.excitation.I_f / warmer, rel=1e-9)
    assert found.heat.P_f == pytest.approx(found.excitation.P_f / warmer, rel=1e-9)
    assert found.heat.L_1W < found.driver.L_1W


def test_flux_density_is_the_same_however_the_voice_coil_is_joined(job: Job) -> None:
    """The field does not know the joints: two layers in parallel feel the same B, half the Bl, a quarter of Re."""
    halves = replace(job.design, voice_coil=replace(job.design.voice_coil, n_sec=2, connection="parallel"))
    field = predict.field_of(job.design, job.brief)
    one, two = (predict.chain(each, job.brief, field) for each in (job.design, halves))
    assert two.motor.B_g == pytest.approx(one.motor.B_g, rel=1e-12)
    assert two.motor.Bl == pytest.approx(one.motor.Bl / 2, rel=1e-12)
    assert two.driver.Re == pytest.approx(one.driver.Re / 4, rel=1e-3)
    assert two.driver.L_1W == pytest.approx(one.driver.L_1W, abs=0.01)


def test_the_spool_counts_as_something_to_rub_on(job: Job) -> None:
    """A tube inside at 27.0 mm leaves (27.0 - 26.7) / 2 beside the wire, however wide the plate is bored."""
    tight = replace(job.design, field_coil=replace(job.design.field_coil, D_f=28.0e-3))
    found = predict.chain(tight, job.brief, predict.field_of(job.design, job.brief))
    assert found.clearance.c_o == pytest.approx(0.15e-3, abs=1e-9)


def test_two_halves_in_parallel_share_the_current_by_their_ohms(job: Job) -> None:
    """Ohm's law by hand: the inner and the outer half of the layers, each alone on the supply's voltage."""
    coil, supply = replace(job.design.field_coil, n_l=20), job.brief.supply
    halves = replace(coil, n_sec=2, connection="parallel")
    inner, whole, both = (stages.winding(each, 20.0) for each in (replace(coil, n_l=10), coil, halves))
    R = np.array([inner.R_T, whole.R_T - inner.R_T])
    I_f = 4.0 / R
    split = stages.excite(halves, both, both.R_T, replace(supply, V_max=4.0, I_max=10.0))
    assert split.I_f == pytest.approx(I_f.sum(), rel=1e-12)
    assert split.NI == pytest.approx((I_f * whole.N / 2).sum(), rel=1e-12)
    assert coil.wire is not None
    assert split.J == pytest.approx(I_f[0] / (np.pi * coil.wire.d_cu**2 / 4), rel=1e-12)


def test_mean_flux_density_times_wire_is_the_force_factor(found: Prediction) -> None:
    """Definition: Bl = B_g l_w."""
    assert found.motor.B_g * found.voice_winding.l_w == pytest.approx(found.motor.Bl, rel=1e-12)


def test_the_field_curve_passes_through_the_working_point(found: Prediction) -> None:
    """Bl at rest is on the curve over the stroke and on the curve over the ampere-turns."""
    curves = found.curves
    assert np.interp(0.0, curves.x, curves.Bl_x) == pytest.approx(found.motor.Bl, rel=1e-6)
    assert np.interp(found.excitation.NI, curves.NI, curves.Bl_NI) == pytest.approx(found.motor.Bl, rel=1e-6)


def test_the_coil_energy_is_near_half_the_inductance_times_current_squared(found: Prediction) -> None:
    """Balance: W = L I²/2 holds exactly for a straight B-H curve; with iron near its knee W is a little less."""
    linear = found.motor.L_f * found.excitation.I_f**2 / 2
    assert 0.85 * linear < found.motor.W_m < linear


def test_level_above_resonance_is_the_reference_level(found: Prediction) -> None:
    """Limit: in the piston range well above fs a large baffle gives the level of the reference efficiency."""
    L_p = np.interp(6 * found.driver.fs, found.response.f, found.response.L_p)
    assert L_p == pytest.approx(found.driver.L_2V83, abs=0.7)


def test_wire_alone_spreads_resistance_by_twice_its_diameter(job: Job) -> None:
    """Closed form: R ~ 1/d², so 1 % of diameter, alone, is 2 % of resistance."""
    coil = job.design.voice_coil
    assert coil.wire is not None
    wire = replace(coil.wire, spread=(("d_cu", 0.01 * coil.wire.d_cu),))
    alone = replace(coil, wire=wire, spread=(), former=replace(coil.former, spread=()))
    drawn = spread.Draw().part(alone)
    band = spread.bands_of(stages.winding(drawn, 20.0).R_T, stages.winding(alone, 20.0).R_T)[0]
    assert (band.high - band.low) / 2 / band.value == pytest.approx(0.02, rel=0.06)


def test_a_reel_used_twice_is_drawn_once(job: Job) -> None:
    wire = job.stock.wires[0]
    source = spread.Draw()
    assert source.part(wire) is source.part(replace(wire))


def test_sizes_that_lie_in_each_other_never_cross(job: Job) -> None:
    surround = replace(job.design.surround, spread=(("d_in", 8e-3), ("d_out", 8e-3)))
    drawn = spread.Draw().part(surround)
    assert np.all(np.asarray(drawn.d_out) > np.asarray(drawn.d_in))


def test_a_wide_spread_stays_positive_and_as_wide_as_said() -> None:
    """Closed form: half the 5-95 % band of the log-normal drawn for 10 ± 8 is 8."""
    draws = spread.Draw(count=200_000).number(10.0, 8.0, spread.Input("Sheet", "foam", "E"))
    low, high = np.percentile(draws, [5, 95])
    assert np.min(draws) > 0
    assert (high - low) / 2 == pytest.approx(8.0, rel=0.02)


def test_the_bands_hold_their_turns(found: Prediction) -> None:
    """The maker counts turns; the bands are for the turns of the sheet."""
    for coil in ("field_winding", "voice_winding"):
        assert found.bands[f"{coil}.N"].low == found.bands[f"{coil}.N"].high


def test_first_order_answers_are_those_of_full_solutions(job: Job, found: Prediction) -> None:
    """Second method: each uncertain size of the iron changed by half its band and the field solved anew."""
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    coil, D_w = design.voice_coil, found.voice_winding.D_w
    place = tuple(float(each) for each in stages.coil_place(design.iron, coil, D_w))
    answers = iron_field.answers(field, design, place)
    rings = {ring.name: ring for ring in design.iron.rings}
    for name, quantity in (("top", "d_in"), ("pole", "d_out"), ("shell", "joint")):
        half = dict(rings[name].spread)[quantity]
        changed = replace(design, iron=iron_field.changed_iron(design.iron, name, quantity, half))
        wound = field.problem.winding
        solved = solve(iron_field.problem(changed, 2 * wound.r_out, wound.N), field.solution.NI)
        truth = abs(float(solved.Bl(*place, 1.0))) / abs(float(field.solution.Bl(*place, 1.0))) - 1
        assert answers[name, quantity].slope == pytest.approx(truth, rel=0.1, abs=4e-4), (name, quantity)


@pytest.mark.parametrize("name", ["k_B", "k_H"])
def test_the_answer_to_the_steel_is_that_of_full_solutions(job: Job, found: Prediction, name: str) -> None:
    """Second method: the curve at both ends of its band, solved anew: half the difference, and the bend."""
    design = job.design
    field = predict.field_of(design, job.brief)
    place = stages.coil_place(design.iron, design.voice_coil, found.voice_winding.D_w)
    half = {"k_B": steels.k_B_spread, "k_H": steels.k_H_spread}[name]("mild_steel")
    ends = [
        iron_field.problem(design, 2 * field.problem.winding.r_out, field.problem.winding.N, "mild_steel", **{name: k})
        for k in (np.exp(np.arcsinh(half)), np.exp(-np.arcsinh(half)))
    ]
    more, less = (abs(float(solve(each, field.solution.NI).Bl(*place, 1.0))) for each in ends)
    now = abs(float(field.solution.Bl(*place, 1.0)))
    answer = iron_field.answers(field, design, place)["mild_steel", name]
    assert answer.slope == pytest.approx((more - less) / 2 / now, rel=0.03)
    assert answer.bend == pytest.approx((more + less) / 2 / now - 1, rel=0.1, abs=1e-4)


def test_far_beyond_the_solved_currents_the_force_still_rises(job: Job, found: Prediction) -> None:
    """Second method: solved at three times the ampere-turns. The straight line from the last node is an upper bound."""
    field = predict.field_of(job.design, job.brief)
    place = stages.coil_place(job.design.iron, job.design.voice_coil, found.voice_winding.D_w)
    NI = np.array([1.0, 1.9, 3.0]) * field.solution.NI
    read = np.asarray(field.Bl(place, 1.0, NI))
    solved = [abs(float(solve(field.problem, each).Bl(*place, 1.0))) for each in NI]
    assert read[:2] == pytest.approx(solved[:2], rel=3e-3)
    assert solved[2] < read[2] < 1.15 * solved[2]


def test_a_supply_of_unknown_volts_gives_wide_bands_and_no_nonsense(job: Job) -> None:
    loose = replace(job.brief, supply=replace(job.brief.supply, spread=(("V_max", 8.0),)))
    bands = predict.predict(job.design, loose).bands
    assert all(np.isfinite(band).all() for band in bands.values())
    assert bands["motor.Bl"].low > 0


def test_ladders_end_in_the_winding(found: Prediction) -> None:
    for ladder, whole in ((found.field_ladder, found.field_winding), (found.voice_ladder, found.voice_winding)):
        assert ladder[-1].N == whole.N
        assert ladder[-1].R_T == pytest.approx(whole.R_T, rel=1e-12)
        assert ladder[-1].D_w == pytest.approx(whole.D_w, rel=1e-12)
        assert all(low < rung.R_T < high for rung in ladder for _, low, high, _ in [rung.R_T_band])


def test_reels_lose_what_the_coils_take(job: Job, found: Prediction) -> None:
    lengths = {wire.name: wire.l_reel for wire in job.stock.wires}
    for reel in found.reels:
        assert reel.l_reel is not None
        assert reel.l_w + reel.l_reel == pytest.approx(lengths[reel.name])


def test_a_coil_without_a_wire_is_refused_in_words(job: Job) -> None:
    design: Design = replace(job.design, field_coil=replace(job.design.field_coil, wire=None))
    brief: Brief = job.brief
    with pytest.raises(handwound.errors.JobError, match="must have a wire"):
        predict.predict(design, brief)

"""From draws to bands and to the inputs behind them, against closed forms and limits."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace

import numpy as np
import pytest
from scipy import stats

from handwound import Job, iron_field, predict, spread, stages
from handwound.materials.advice import advice, advised
from handwound.parts import coil, design, heat, iron, mounting, moving, sheet, source, wire
from handwound.parts.prediction import Weight
from tests.builds import sure
from tests.examples import started

# Numbers of the brief that somebody chose: no measuring makes them surer. Of what is predicted only the air beside the
# voice coil hangs on one, on its stroke x_pk.
WISHES = {"Z_rated", "D_outline", "L_want", "f_low", "T_touch", "c_min", "x_pk", "f_tone"}
# Sizes and times that only the sheet needs, to cut, to drill and to wait: no prediction hangs on them.
BENCH = {"width", "length", "d_screw", "D_screw", "D_vent", "t_set", "t_cure"}


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """The open-day job with a build chosen by hand."""
    return Job(started(tmp_path_factory.mktemp("spread") / "job", "open-day"))


def drawn_weights(job: Job, seed: int) -> dict[str, tuple[Weight, ...]]:
    """The weights of the job's build, from draws of their own."""
    field = predict.field_of(job.design, job.brief)
    D_w = stages.winding(job.design.voice_coil, job.brief.T_room).D_w
    place = stages.coil_place(job.design.iron, job.design.voice_coil, D_w)
    drawn = spread.draw(job.design, job.brief, iron_field.answers(field, job.design, place), seed=seed)
    return spread.weights(predict.chain(drawn.design, drawn.brief, field, drawn.doubts, drawn.k_Bl), drawn.inputs)


def shares(result: object, z: object) -> np.ndarray:
    return spread.shares_of(np.asarray(z), np.atleast_2d(np.asarray(result)))[0]


@pytest.fixture
def z() -> np.ndarray:
    """Three independent inputs, as the draws scale them."""
    return np.random.default_rng(3).standard_normal((3, 10_000)) / spread.Z_90


def test_the_shares_of_a_sum_are_the_squares_of_its_terms(z) -> None:
    """Kind of truth: closed form. 3 a + 4 b: 9 and 16 of 25; the third input is not in it."""
    assert shares(3 * z[0] + 4 * z[1], z) == pytest.approx([0.36, 0.64, 0.0], abs=0.01)


def test_a_parabola_is_its_inputs_own(z) -> None:
    """Kind of truth: closed form. 2 a + a² of a normal a: all of it comes from a."""
    assert shares(2 * z[0] + z[0] ** 2, z) == pytest.approx([1.0, 0.0, 0.0], abs=1e-9)


def test_what_inputs_only_bring_together_is_nobodys_share(z) -> None:
    """Kind of truth: closed form. a b has no part that a or b makes alone; a + a b (both of variance 1) has half."""
    a, b, _ = z * spread.Z_90
    assert shares(a * b, z) == pytest.approx([0.0, 0.0, 0.0], abs=0.01)
    assert shares(a + a * b, z) == pytest.approx([0.5, 0.0, 0.0], abs=0.03)


def test_a_wide_input_keeps_nearly_all_of_its_share(z) -> None:
    """Kind of truth: closed form. Of exp(s a) a line holds s², a parabola s⁴/2 of exp(s²) - 1."""
    s = 0.5
    held = (s**2 + s**4 / 2) / np.expm1(s**2)
    assert shares(np.exp(s * z[0] * spread.Z_90), z)[0] == pytest.approx(held, abs=0.01)


def test_a_general_library_finds_the_same_shares(z) -> None:
    """Kind of truth: general-purpose library: the first-order indices of scipy, by the method of Saltelli."""

    def bent(x: np.ndarray) -> np.ndarray:
        return np.asarray((1 + 0.3 * x[0]) / (1 + 0.2 * x[1]) ** 2 + 0.2 * x[2] ** 2)

    known = [stats.norm(0, 1 / spread.Z_90)] * 3
    peer = stats.sobol_indices(func=bent, n=2**13, dists=known, rng=np.random.default_rng(4)).first_order
    assert shares(bent(z), z) == pytest.approx(peer, abs=0.02)


def test_the_ends_of_a_band_are_as_sure_as_said() -> None:
    """Kind of truth: closed form. sqrt(0.05 * 0.95 / n) / (0.1031 * 3.290) of the width, over 60 seeds to a fifth."""
    lows = [spread.bands_of(spread.Draw(seed=k).deviates(spread.Input("", "", "")), 0.0)[0].low for k in range(60)]
    assert np.std(lows) / 2 == pytest.approx(np.sqrt(0.05 * 0.95 / spread.DRAWS) / (0.1031 * 3.290), rel=0.2)


def test_the_median_of_a_bent_result_is_not_that_of_its_nominal() -> None:
    """Kind of truth: closed form. The median of u² is the square of the median of |u|: (0.6745 / 1.6449)²."""
    u = spread.Draw().deviates(spread.Input("", "", ""))
    band = spread.bands_of(u**2, 0.0)[0]
    assert band.value == 0.0
    assert band.median == pytest.approx((0.6745 / spread.Z_90) ** 2, rel=0.04)


def test_an_input_alone_has_the_whole_share(job: Job) -> None:
    """Kind of truth: limit. Nothing of the coils uncertain but one wire: it is behind all that spreads in them."""
    design = sure(job.design)
    wire = design.voice_coil.wire
    assert wire is not None
    one = replace(wire, spread=(("d_cu", 0.01 * wire.d_cu),))
    found = predict.predict(replace(design, voice_coil=replace(design.voice_coil, wire=one)), sure(job.brief))
    for name in ("voice_winding.R_20", "voice_winding.m_w", "moving.Mms", "driver.Re", "driver.fs"):
        (weight,) = found.weights[name]
        assert (weight.part, weight.quantity) == (wire.name, "d_cu")
        assert weight.S_i == pytest.approx(1.0, abs=1e-6), name
    assert "moving.m_d" not in found.weights and "field_winding.R_20" not in found.weights


def test_the_shares_of_a_resistance_are_those_worked_out_by_hand(job: Job) -> None:
    """Kind of truth: closed form. R ~ rho D_m / d_cu²: variances add, that of the diameter four times."""
    coil = job.design.voice_coil
    assert coil.wire is not None
    rho, d_cu, d_o = (dict(coil.wire.spread)[name] / getattr(coil.wire, name) for name in ("rho_20", "d_cu", "d_o"))
    D_m = stages.winding(coil, 20.0).D_m
    bits = {"d_cu": 4 * d_cu**2, "rho_20": rho**2}
    rest = (dict(coil.spread)["D_f"] / D_m) ** 2 + (coil.n_l * d_o * coil.wire.d_o / D_m) ** 2
    found = {weight.quantity: weight.S_i for weight in job.predict().weights["voice_winding.R_20"]}
    for name, bit in bits.items():
        assert found[name] == pytest.approx(bit / (sum(bits.values()) + rest), abs=0.02), name


def test_other_draws_find_the_same_inputs_in_the_same_order(job: Job) -> None:
    """Kind of truth: second method: the same by draws from other seeds."""
    one, other = drawn_weights(job, 2), drawn_weights(job, 3)
    assert set(one) == set(other)
    for name, heavy in one.items():
        again = {(each.part, each.quantity): each.S_i for each in other[name]}
        for each in heavy:
            assert again.get((each.part, each.quantity), spread.LEAST_SHARE) == pytest.approx(each.S_i, abs=0.03), name
        if len(heavy) > 1 and heavy[0].S_i - heavy[1].S_i > 0.06:
            assert heavy[0] == replace(other[name][0], S_i=heavy[0].S_i), name


def test_shares_are_sorted_and_add_up_to_no_more_than_all(job: Job) -> None:
    """Kind of truth: limit. The deviates are independent: the sum is one less what they bring together."""
    found = job.predict()
    assert {"driver.L_1W", "driver.fs", "motor.Bl", "heat.T_case", "clearance.c_o"} <= set(found.weights)
    for name, heavy in found.weights.items():
        each = [weight.S_i for weight in heavy]
        assert each == sorted(each, reverse=True)
        assert min(each, default=1.0) >= spread.LEAST_SHARE
        assert sum(each) <= 1.0, name
        band = found.bands[name]
        assert band.low < band.high, name


def test_a_reel_for_both_coils_is_one_input(job: Job) -> None:
    """Kind of truth: closed form. The ratio of the coils' ohms is that of their lengths: the bare wire drops out."""
    whole = job.design
    wire = whole.field_coil.wire
    assert wire is not None
    both = replace(whole, voice_coil=replace(whole.voice_coil, wire=wire))
    drawn = spread.draw(both, job.brief, {})
    field, voice = (stages.winding(each, 20.0).R_20 for each in drawn.design.coils.values())
    inputs = list(drawn.inputs)
    bare = [k for k, each in enumerate(inputs) if (each.part, each.quantity) == (wire.name, "d_cu")]
    z = np.array(list(drawn.inputs.values()))
    assert len(bare) == 1
    assert shares(field, z)[bare[0]] > 0.1
    assert shares(field / voice, z)[bare[0]] < 1e-3


def test_a_former_that_nobody_read_has_the_wall_of_its_paper(job: Job) -> None:
    """Kind of truth: closed form. Half of outside less inside is the wall in each draw; read, both are inputs."""
    coil = job.design.voice_coil
    drawn = spread.draw(job.design, job.brief, {})
    loose, kind = drawn.design.voice_coil, spread.Input("VoiceCoil", "voice coil", "D_f")
    assert (loose.D_f - loose.D_fi) / 2 == pytest.approx(loose.t_f, rel=1e-9)
    wide = np.percentile((loose.D_f - loose.D_fi) / 2, [5, 95])
    assert np.ptp(wide) / 2 == pytest.approx(dict(coil.spread)["t_f"], rel=0.03)
    wide = np.percentile(loose.D_f, [5, 95])
    assert np.ptp(wide) / 2 == pytest.approx(dict(coil.spread)["D_f"], rel=0.03)
    read = replace(job.design, voice_coil=replace(coil, oval=0.0))
    assert kind not in drawn.inputs and kind in spread.draw(read, job.brief, {}).inputs


def test_every_number_that_can_be_uncertain_has_its_advice() -> None:
    kinds = [
        kind
        for module in (wire, coil, iron, moving, mounting, sheet, source, heat, design)
        for kind in vars(module).values()
        if is_dataclass(kind) and isinstance(kind, type) and kind.__module__ == module.__name__
    ]
    numbers = {item.name for kind in kinds for item in fields(kind) if "Num" in str(item.type)}
    assert advised() == (numbers - WISHES - BENCH) | {"k_B", "k_H"}  # the steels' own


def test_advice_is_short_and_to_the_point() -> None:
    for quantity in advised():
        assert len(advice(quantity).short) <= 32
        assert advice(quantity).better and not advice(quantity).better.endswith(".")


def test_portions_of_the_draws_joined_are_all_of_them(job) -> None:
    """Second method: the same draws through the stages at once; a state of rest is found to a hundredth of a kelvin."""
    field = predict.field_of(job.design, job.brief)
    drawn = spread.draw(job.design, job.brief, {}, 2 * spread.BATCH + 7)
    assert [np.size(each.k_Bl) for each in drawn.batches()] == [spread.BATCH, spread.BATCH, 7]
    at_once = predict.chain(drawn.design, drawn.brief, field, drawn.doubts, drawn.k_Bl)
    made = [predict.chain(each.design, each.brief, field, each.doubts, each.k_Bl) for each in drawn.batches()]
    together = spread.joined(made).numbers()
    assert together.keys() == at_once.numbers().keys()
    for name, whole in at_once.numbers().items():
        near = 2e-4 if name.startswith("heat") else 1e-12
        assert np.broadcast_to(together[name], np.shape(whole)) == pytest.approx(whole, rel=near), name

"""The study of heat on both examples: every answer beside one found in another way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwound import Job
from handwound.heat import duty, study
from handwound.heat.driven import Driven
from handwound.heat.limits import largest
from handwound.parts.design import Brief, Design
from handwound.parts.heat_study import HeatStudy
from handwound.physics.heat.network import Layers, Links, Network, NoRestError
from handwound.physics.heat.sources import Supplied, Together
from handwound.sheet import heat as sheet
from handwound.warming import RUNAWAY, bounds, reached
from tests.examples import edit, started

DAY = 8 * 3600.0
NO_LAYERS = Layers(*(np.zeros(0, int),) * 2, *(np.zeros(0),) * 5)
Studied = tuple[Driven, HeatStudy]


def studied(folder: Path) -> Studied:
    """An example, named as its folder, and all that there is to say about its heat."""
    job = Job(folder if folder.exists() else started(folder, folder.name))
    return Driven.of(job.design, job.brief), job.heat()


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("heat")


@pytest.fixture(scope="module")
def wound(jobs: Path) -> Studied:
    """The open-day driver: a pot with a field coil."""
    return studied(jobs / "open-day")


@pytest.fixture(scope="module")
def repaired(jobs: Path) -> Studied:
    """The repair-pair driver: a ring magnet and no field coil."""
    return studied(jobs / "repair-pair")


def on(supply: dict[str, float], build: Driven, **wish: object) -> tuple[Design, Brief]:
    """The same build on another supply."""
    assert build.brief.supply
    return build.design, replace(build.brief, supply=replace(build.brief.supply, **supply), **wish)  # type: ignore[arg-type]


def test_it_ends_where_nothing_warms_any_more(wound: Studied) -> None:
    """Balance: in the end the room gets what both coils take in. Limit: a day comes as near as a tenth of a kelvin."""
    build, found = wound
    T = build.end()
    network = build.idle.model.network
    made, given = np.sum(build.heat(T[:-1])[0]), network.given_off(T, network.conductances(T))[1]
    assert given == pytest.approx(made, rel=1e-5)
    cold = found.from_cold
    assert cold.states[-1].T_hot == pytest.approx(cold.end.T_hot, abs=0.1)
    assert cold.t_near
    assert 3600 < cold.t_near < DAY
    for before, after in zip(cold.states, cold.states[1:], strict=False):
        assert before.T_case <= after.T_case + 1e-3
        assert before.I_f >= after.I_f - 1e-6


def test_warm_faces_cool_better(wound: Studied) -> None:
    """Second method: the slope of the heat given to the room by differences, all nodes warmed together."""
    build, _ = wound
    T, network = build.end(), build.idle.model.network

    def lost(dT: float) -> float:
        warm = np.append(T[:-1] + dT, T[-1])
        return float(network.given_off(warm, network.conductances(warm))[1])

    to_room = network.ends[1] == network.n
    slope = np.sum(network.slopes(T, network.conductances(T))[to_room])
    assert slope == pytest.approx((lost(0.5) - lost(-0.5)), rel=4e-3)
    assert slope > 1.1 * np.sum(network.conductances(T)[to_room])


def test_it_says_what_the_prediction_says(wound: Studied, jobs: Path) -> None:
    """Second way: the prediction follows the same driver by itself."""
    warming, end = Job(jobs / "open-day").predict().warming, wound[1].from_cold.states[-1]
    assert warming
    for name in ("T_case", "T_vc", "T_f", "T_hot", "I_f", "P_f", "Bl"):
        assert getattr(end, name) == pytest.approx(float(getattr(warming, name)[-1]), rel=1e-3)


def test_steady_voltage_and_steady_current(wound: Studied) -> None:
    """Ohm's law: on a steady voltage current and watts fall by the ratio of the resistances, at a steady current the
    watts rise by it. Resistance follows the mean temperature of copper, 1/254.5 K at 20 °C (IEC 60028, from memory)."""
    build, found = wound
    wire = build.design.field_coil.wire  # type: ignore[union-attr]
    assert wire
    ways = {each.name: each for each in found.feedings}
    for name in ("constant voltage", "constant current"):
        way = ways[name]
        assert way.end
        k = 1 + float(wire.alpha_20) * (way.end.T_f - 20)
        steady = name == "constant current"
        assert way.end.I_f / way.cold.I_f == pytest.approx(1.0 if steady else 1 / k, rel=1e-4)
        assert way.end.P_f / way.cold.P_f == pytest.approx(k if steady else 1 / k, rel=1e-4)
    as_is, voltage, current = (ways[name].end for name in ("this supply", "constant voltage", "constant current"))
    assert as_is.T_hot == pytest.approx(voltage.T_hot, abs=0.01)  # type: ignore[union-attr]
    assert current.T_hot > voltage.T_hot  # type: ignore[union-attr]


def test_a_supply_goes_from_its_current_to_its_voltage(wound: Studied) -> None:
    """Ohm's law: it crosses over when the coil has V/I ohms; where that is too warm ever to be, it never does."""
    build, _ = wound
    cold = build.done.excitation
    assert cold
    for share, crosses in ((0.9, True), (0.7, False)):
        I = share * float(cold.I_f)
        warm = study(*on({"I_max": I}, build), DAY)
        first = warm.feedings[0]
        assert first.cold.I_f == pytest.approx(I)
        assert first.limit == ("current", "voltage" if crosses else "current")
        if crosses:
            assert first.t_cross
            run = Driven.of(*on({"I_max": I}, build)).run(DAY, np.array([first.t_cross]))[1]
            k = int(np.searchsorted(run.t_w, first.t_cross))
            assert float(run.P_f[k] / I**2) == pytest.approx(12.0 / I, rel=5e-3)  # type: ignore[index]
            assert "after" in sheet.tables(warm)[2].note


def test_a_single_lump_runs_away_where_its_closed_form_says() -> None:
    """Closed form: a lump of copper at a steady current, its heat led away by G: a rest only where alpha R I² < G."""
    G, R, alpha = 0.2, 16.0, 1 / 254.5
    ends = np.array([0]), np.array([1])
    network = Network(np.array([400.0]), Links(*ends, np.array([G])), NO_LAYERS, {})
    fold = (G / (alpha * R)) ** 0.5
    for share in (0.5, 0.8, 0.9, 1.01, 1.5):
        fed = Supplied(nodes=(0,), share=np.ones(1), R_20=R, alpha_20=alpha, V_max=np.inf, I_max=share * fold)
        if share < 1:
            T = float(network.steady(20.0, fed, np.full(2, 400.0))[0])
            P = R * (share * fold) ** 2
            assert T - 20 == pytest.approx(P / (G - alpha * P), rel=1e-3)
        else:
            with pytest.raises(NoRestError):
                network.steady(20.0, fed, np.full(2, 400.0))


def test_a_steady_current_runs_away(wound: Studied) -> None:
    """Second method: followed in time, a little less than the largest current stays below 400 °C, a little more does
    not."""
    build, found = wound
    assert found.constant
    I = float(found.constant.I_rest)
    for share, stays in ((0.98, True), (1.02, False)):
        fed = build.fed(replace(build.idle.fed, V_max=np.inf, I_max=share * I))  # type: ignore[type-var]
        run = fed.run(10 * DAY, np.empty(0))[1]
        assert run.T_hot is not None
        assert bool(run.T_hot[-1] < RUNAWAY) is stays
    gone = study(*on({"V_max": 100.0, "I_max": 1.1 * I}, build), DAY)
    assert [each.name for each in gone.feedings if each.end is None] == ["this supply", "constant current"]
    assert "runs away" in str(sheet.tables(gone)[2].rows)


def test_the_largest_steady_current_just_keeps_the_limits(wound: Studied) -> None:
    """Second way: fed with it from cold, the driver's outside ends at the limit of the brief, and on the volts."""
    build, found = wound
    assert found.constant
    assert found.constant.I_keep
    I = float(found.constant.I_keep)
    fed = build.fed(replace(build.idle.fed, V_max=np.inf, I_max=I))  # type: ignore[type-var]
    run = fed.run(3 * DAY, np.empty(0))[1]
    held = replace(build.idle.fed, V_max=float(found.constant.V_keep or 0.0), I_max=np.inf)  # type: ignore[type-var]
    by_volts = build.fed(held).run(3 * DAY, np.empty(0))[1]
    assert float(by_volts.T_case[-1]) == pytest.approx(float(build.brief.T_touch), abs=0.3)  # type: ignore[arg-type]
    assert found.constant.first == "your touch limit"
    assert float(run.T_case[-1]) == pytest.approx(float(build.brief.T_touch), abs=0.3)  # type: ignore[arg-type]


@pytest.mark.parametrize(("t_on", "t_rest"), [(600.0, 1200.0), (7200.0, 3600.0)])
def test_a_duty_is_what_many_rounds_come_to(wound: Studied, t_on: float, t_rest: float) -> None:
    """Second method: the driver followed from cold through many rounds, one after the other."""
    build, found = wound
    each = next(each for each in found.duties if each.t_on == t_on)
    network, t, T = build.idle.model.network, np.linspace(0.0, 1.0, 25), build.cold()
    for _ in range(int(10 * 3600 / (t_on + t_rest)) + 1):
        on = network.run(t_on * t, T, build.heat).T
        off = network.run(t_rest * t, on[:, -1], Together([])).T
        T = off[:, -1]
    told = build.told(np.append(t_on * t, t_on + t_rest * t), np.hstack([on, off]))
    assert told.T_f is not None
    assert each.hottest.T_f == pytest.approx(float(np.max(told.T_f)), abs=0.2)
    assert each.hottest.T_case == pytest.approx(float(np.max(told.T_case)), abs=0.2)
    assert each.again.T_case == pytest.approx(float(told.T_case[0]), abs=0.2)


def test_a_quick_duty_is_the_mean_of_its_heat(wound: Studied) -> None:
    """Limit: on and off in a few seconds, iron and winding feel half the heat."""
    build, _ = wound
    found = duty.duty(build, 4.0, 4.0)

    def half(T: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        q, slope = build.heat(T)
        return q / 2, slope / 2

    T = build.idle.model.network.steady(build.brief.T_room, half, build.idle.T)
    state = build.state(T)
    assert found.hottest.T_case == pytest.approx(state.T_case, abs=0.2)
    assert found.hottest.T_f == pytest.approx(float(state.T_f), abs=0.4)  # type: ignore[arg-type]


def test_the_longest_time_on_just_keeps_the_limits(wound: Studied) -> None:
    """Second way: that duty keeps the limit, one a tenth longer does not; left on, it is passed when the run says."""
    build, _ = wound
    cool = replace(build.brief, T_touch=42.0)
    found = study(build.design, cool, DAY)
    assert found.t_keep
    tight = build.changed(brief=cool)
    assert duty.duty(tight, found.t_keep, found.t_keep).over == ()
    assert duty.duty(tight, 1.1 * found.t_keep, 1.1 * found.t_keep).over == ("your touch limit",)
    touch = next(each for each in found.limits if each.name == "your touch limit")
    assert touch.t_lim
    run = tight.run(DAY, np.array([touch.t_lim]))[1]
    assert float(np.interp(touch.t_lim, run.t_w, run.T_case)) == pytest.approx(42.0, abs=0.05)
    assert "Not for good" in sheet.tables(found)[1].note
    assert "too near" not in sheet.tables(wound[1])[1].note
    near = study(build.design, replace(build.brief, T_touch=1.05 * found.from_cold.end.T_case), DAY)
    assert "too near to be sure: your touch limit" in sheet.tables(near)[1].note
    assert any("over: your touch limit" in cell for row in sheet.tables(found)[3].rows for cell in row)


def test_when_a_limit_is_reached() -> None:
    """Closed form: 1 - exp(-t/tau) is at 63.2 % after tau."""
    t = np.linspace(0.0, 4000.0, 4001)
    T = 20 + 50 * (1 - np.exp(-t / 1000))
    assert reached(t, T, 20 + 50 * (1 - np.exp(-1))) == pytest.approx(1000.0, abs=0.1)
    assert reached(t, T, 70.0) is None
    assert reached(t, T, 10.0) == 0.0


def test_the_largest_value() -> None:
    """Closed form: x² is at most 2 up to its root."""
    root = largest(lambda x: x * x <= 2, 0.1, 100.0, near=1e-6)
    assert root == pytest.approx(2**0.5, rel=1e-5)
    assert root is not None
    assert root <= 2**0.5
    assert largest(lambda x: x > 5, 0.1, 3.0) is None
    assert largest(lambda x: x < 5, 0.1, 3.0) == 3.0


@pytest.mark.parametrize(
    ("name", "file", "pattern", "written"),
    [
        ("its steel bright and bare", "design.toml", r'surface = "painted".*', 'surface = "bright steel"'),
        ("placed on its back", "brief.toml", r"\Z", 'placed = "on its back"\n'),
        ("in a closed box of 10 l", "brief.toml", r"\Z", 'V_box = "10 l"\nt_box = "12 mm"\n'),
        ("field winding soaked in varnish", "design.toml", r"\[field_coil\]", '[field_coil]\nfill = "varnish"'),
    ],
)
def test_a_change_does_what_its_files_would(
    wound: Studied, tmp_path: Path, name: str, file: str, pattern: str, written: str
) -> None:
    """Second way: the same change written into the files of the job. The study keeps the music's share of heat, which a
    box changes a little."""
    folder = started(tmp_path / "job", "open-day")
    edit(folder / file, pattern, written)
    end = Job(folder).heat().from_cold.end
    told = next(each for each in wound[1].helps if each.name == name)
    for quantity in ("T_case", "T_hot", "T_vc", "Bl"):
        assert getattr(told.end, quantity) == pytest.approx(getattr(end, quantity), rel=4e-3)
    assert told.dT_place == pytest.approx(end.T_case - wound[1].from_cold.end.T_case, abs=0.3)


def test_what_cools_stands_before_what_warms(wound: Studied) -> None:
    """Sense, no source: paint and more area cool, a box and bare bright steel do not."""
    change = {each.name: float(each.dT_place) for each in wound[1].helps}
    assert list(change.values()) == sorted(change.values())
    frame = next(name for name in change if "frame" in name)
    assert change[frame] < 0 < change["in a closed box of 10 l"]
    assert change["its steel bright and bare"] > 5
    assert "all of the motor painted" not in change  # it is
    assert wound[1].place == "your touch limit"


def test_two_sections_in_parallel(wound: Studied) -> None:
    """Closed form: two equal halves in parallel have a quarter of the ohms on half the turns: at the same volts twice
    the ampere-turns and four times the watts. The halves differ a little: the outer has the longer turns."""
    build, _ = wound
    coil = build.design.field_coil
    assert coil
    design = replace(build.design, field_coil=replace(coil, n_sec=2, n_l=20))
    plenty = on({"I_max": 20.0}, build)[1]
    ways = {each.name: each for each in study(design, plenty, DAY).feedings}
    series, parallel = ways["this supply"], ways["its 2 sections in parallel"]
    assert parallel.cold.NI / series.cold.NI == pytest.approx(2, rel=0.05)
    assert parallel.cold.P_f / series.cold.P_f == pytest.approx(4, rel=0.05)


def test_magnets_alone(repaired: Studied) -> None:
    """Sense: nothing is fed, so nothing is said of feeding; the voice coil's part is told."""
    build, found = repaired
    assert (found.feedings, found.duties, found.constant, found.t_keep, found.V_max) == ((), (), None, None, None)
    assert {each.place for each in bounds(build.design, build.brief)} == {"T_vc"}
    assert found.from_cold.end.T_f is None
    assert found.place == "glue of the voice coil"
    titles = [table.title for table in sheet.tables(found)]
    assert titles == ["From cold, left on", "How long it may run", "Voice coil with music", "What the voice coil bears",
                      "What would help"]  # fmt: skip
    assert [each.topic for each in sheet.cautions(found)] == ["Voice coil"]


def test_cautions(wound: Studied) -> None:
    """Kind of truth: the limits are those of ISO 13732-1 and of extra-low voltage, both from memory."""
    build, found = wound
    topics = {each.topic: each for each in sheet.cautions(found)}
    assert set(topics) == {"Burns", "Heat run", "Switch-off"}
    assert not topics["Burns"].stop
    hot = {each.topic: each for each in sheet.cautions(study(*on({"V_max": 72.0, "I_max": 1.0}, build), DAY))}
    assert hot["Burns"].stop
    assert "licensed" in hot["High voltage"].text

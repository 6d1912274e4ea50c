"""The search, against trying every build one by one, and what it says when nothing fits."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwound import Job, predict, stages
from handwound.errors import SearchError
from handwound.job import example_folder
from handwound.parts.design import Brief, Stock
from handwound.parts.ranking import Ranking
from handwound.search.limits import limits
from handwound.search.rank import VOICE_LAYERS, search
from handwound.search.table import Table


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    place = tmp_path_factory.mktemp("search")
    shutil.copytree(example_folder("open-day"), place / "job")
    return Job(place / "job")


@pytest.fixture(scope="module")
def ranking(job: Job) -> Ranking:
    return job.search()


def test_the_example_has_builds_to_choose_from(ranking: Ranking) -> None:
    assert len(ranking.candidates) >= 3
    loudness = [each.numbers["heat.L_1W"] for each in ranking.candidates]
    assert loudness == sorted(loudness, reverse=True)


def test_sieves_pass_on_what_they_keep(ranking: Ranking) -> None:
    assert ranking.sieves[0].came == ranking.tried
    for before, after in zip(ranking.sieves[:-1], ranking.sieves[1:], strict=True):
        assert after.came == before.passed <= before.came


def test_the_best_is_the_best_of_its_neighbours_tried_alone(job: Job, ranking: Ranking) -> None:
    """Second method: for the wires of the best, layers about its own through the spine one design at a time."""
    design, brief, stock = job.design, job.brief, job.stock
    best = ranking.candidates[0]
    wires = {wire.name: wire for wire in stock.wires}
    loudest = -np.inf
    for field_n_l in range(best.field_coil.n_l - 2, best.field_coil.n_l + 3):
        for voice_n_l in VOICE_LAYERS:
            choice = ((wires[best.field_coil.wire], field_n_l),), ((wires[best.voice_coil.wire], voice_n_l),)
            table = Table(design, *choice)
            alone = table.one((0, 0))
            wound = stages.winding(alone.field_coil, brief.T_room)
            if wound.D_w > 0.0531 - 0.001 or wound.l_w > float(wires[best.field_coil.wire].l_reel or np.inf):
                continue
            found = predict.chain(table.all_at_once, brief, predict.field_of(alone, brief))
            if all(limit.margin[0, 0] >= 0 for limit in limits(table, brief, found)):
                loudest = max(loudest, float(np.squeeze(found.heat.L_1W)))
    assert loudest == pytest.approx(best.numbers["heat.L_1W"], abs=0.02)


def test_chosen_builds_keep_every_limit_when_predicted_in_full(job: Job, ranking: Ranking) -> None:
    brief = job.brief
    for each in ranking.candidates[:2]:
        job.choose(each)
        numbers = job.predict().numbers()
        assert numbers["heat.L_1W"] >= brief.L_want
        assert job.predict().bands["heat.T_case"].high <= brief.T_touch + 1.5  # wire and supply are in the band too
        assert numbers["driver.Z_min"] >= 0.8 * brief.Z_rated
        assert min(numbers["clearance.c_i"], numbers["clearance.c_o"]) >= brief.c_min
        assert numbers["heat.L_1W"] == pytest.approx(each.numbers["heat.L_1W"], rel=1e-12)
        assert job.check() == ()


@pytest.mark.parametrize(
    ("change", "bound", "words"),
    [
        ({"L_want": 99.0}, "loudness", "wanted at least 99 dB"),
        ({"T_touch": 30.0}, "heat", "wanted at most 30 °C"),
        ({"f_low": 20.0}, "lowest note", "wanted at least -10 dB"),
        ({"c_min": 2e-3}, "clearance inside", "wanted at least 2 mm"),
    ],
)
def test_when_nothing_fits_the_limit_that_bound_and_the_nearest_miss_are_told(
    job: Job, change: dict[str, float], bound: str, words: str
) -> None:
    brief: Brief = replace(job.brief, **change)  # type: ignore[arg-type]
    ranking = search(job.design, brief, job.stock)
    assert ranking.candidates == ()
    assert ranking.nearest is not None
    emptied = next(sieve.name for sieve in ranking.sieves if sieve.passed == 0)
    assert emptied == bound
    assert any(words in sentence for sentence in ranking.missed)


def test_a_miss_by_a_hair_shows_the_hair(job: Job) -> None:
    """A limit missed in the fourth figure must not read as one number twice."""
    wanted = job.search().candidates[0].numbers["heat.L_1W"] + 2e-4
    ranking = search(job.design, replace(job.brief, L_want=wanted), job.stock)
    found, asked = ranking.missed[0].removeprefix("level at 1 m for 1 W, warm: ").split(", wanted at least ")
    assert found != asked


def test_a_supply_that_holds_its_current_is_a_supply(job: Job) -> None:
    """At constant current the coil may sit at the limit; the watts then rise with the turns."""
    steady = replace(job.brief, supply=replace(job.brief.supply, V_max=30.0, I_max=0.6))
    ranking = search(job.design, steady, job.stock)
    assert any(each.numbers["excitation.I_f"] == pytest.approx(0.6) for each in ranking.candidates)


def test_what_is_listed_passes_a_check(tmp_path: Path) -> None:
    """An open spool whose flanges and voice coil leave less room than the window alone would."""
    open_spool = Job.start(tmp_path / "tight")
    text = (tmp_path / "tight" / "design.toml").read_text(encoding="utf8")
    (tmp_path / "tight" / "design.toml").write_text(text.replace('x_0 = "0.0', 'x_0 = "-2.0'), encoding="utf8")
    job = Job(open_spool.folder)
    for each in job.search().candidates[:3]:
        job.choose(each)
        assert job.check() == ()


def test_an_empty_reel_is_not_offered(job: Job, ranking: Ranking) -> None:
    best = ranking.candidates[0]
    wires = tuple(replace(w, l_reel=1.0) if w.name == best.voice_coil.wire else w for w in job.stock.wires)
    without = search(job.design, job.brief, replace(job.stock, wires=wires))
    assert best.voice_coil.wire not in {each.voice_coil.wire for each in without.candidates}


def test_no_wire_at_all_is_said(job: Job) -> None:
    with pytest.raises(SearchError, match="must hold a wire"):
        search(job.design, job.brief, Stock())


def test_progress_begins_at_nothing_and_ends_complete(job: Job) -> None:
    seen: list[tuple[int, int]] = []
    search(job.design, job.brief, job.stock, lambda done, of, words: seen.append((done, of)))
    assert seen[0][0] == 0
    assert seen[-1][0] == seen[-1][1]
    assert seen == sorted(seen)

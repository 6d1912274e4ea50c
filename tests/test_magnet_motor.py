"""Motors whose field comes from magnets: the repair-pair job through the whole spine, and one with a field coil too."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from handwound import Job, iron_field, predict, stages
from handwound.errors import FileError
from handwound.faces import records, words
from handwound.faces.pdf.gather import Print
from handwound.faces.pdf.write import write_pdf
from handwound.job import example_folder
from handwound.parts.coil import FieldCoil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.parts.ranking import Ranking
from handwound.parts.source import Supply
from handwound.physics.field import solve
from handwound.sheet.build.operations import operations
from handwound.sheet.cautions import cautions
from handwound.sheet.summary import summary
from tests.examples import MM, repair_pair


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """The repair-pair job with its first build chosen."""
    place = tmp_path_factory.mktemp("magnet")
    job = Job.start(place / "job", "repair-pair")
    job.choose(job.search().candidates[0])
    return job


@pytest.fixture(scope="module")
def found(job: Job) -> Prediction:
    return job.predict()


@pytest.fixture(scope="module")
def ranking(job: Job) -> Ranking:
    return job.search()


def test_the_force_is_that_of_the_motor_laid_out_by_hand(found: Prediction) -> None:
    """Second way: sizes and levels from the drawing."""
    problem, NI, middle = repair_pair()
    field = solve(problem, NI)
    coil = (10.37 * MM, float(found.voice_winding.D_w) / 2, middle - 4.95 * MM, middle + 4.95 * MM)
    # outwards under the cone is inwards here: the flux comes down through the plate and back up the magnet
    assert found.motor.Bl == pytest.approx(abs(float(field.Bl(*coil, 98))), rel=1e-4)


def test_only_what_a_field_coil_has_is_missing(job: Job, found: Prediction) -> None:
    numbers = found.numbers()
    assert set(found.bands) == set(numbers)
    assert {key.partition(".")[0] for key in numbers} == {
        "voice_winding", "motor", "moving", "driver", "mounted", "stiff", "rating", "clearance"
    }  # fmt: skip
    assert not {"motor.L_f", "motor.W_m"} & set(numbers)
    assert found.field_ladder == () and found.L_1W == found.driver.L_1W
    assert [reel.name for reel in found.reels] == ["unknown reel"]
    record = records.prediction(job.design, job.brief, found)
    assert record["limit"] is None and record["curves"]["NI"]["values"] == [0.0]


def test_the_search_takes_the_reel_that_is_long_enough(job: Job, ranking: Ranking) -> None:
    """By hand: 88 turns of 66 mm are 5.8 m, more than the 5.0 m of 0.16 that are left; 2 x 49 of the other reel."""
    assert [each.field_coil for each in ranking.candidates] == [None] * len(ranking.candidates)
    assert ranking.candidates[0].voice_coil.wire == "unknown reel"
    assert "heat" not in {sieve.name for sieve in ranking.sieves}
    assert "wire" in {sieve.name for sieve in ranking.sieves if sieve.passed < sieve.came}
    text = words.ranking(ranking)
    assert "field coil" not in text and "cold" not in text
    nothing = replace(job.brief, L_want=99.0)
    from handwound.search.rank import search

    missed = words.ranking(search(job.design, nothing, job.stock))
    assert "for the voice" in missed and "for the field" not in missed
    assert "level at 1 m for 1 W: " in missed


def test_a_ferrite_weakens_as_it_warms(job: Job, found: Prediction) -> None:
    """Limit: 20 K cost the ferrite 4 % of its remanence; a full pole passes on less of that, never more."""
    warm = predict.predict(job.design, replace(job.brief, T_room=41.0))
    assert 0.96 * found.motor.Bl < warm.motor.Bl < 0.99 * found.motor.Bl


def test_the_spread_of_the_magnet_is_that_of_full_solutions(job: Job, found: Prediction) -> None:
    """Second method: half a band of remanence to either side, solved anew; the step is large, the slope bends."""
    design, brief = job.design, job.brief
    field = predict.field_of(design, brief)
    place = stages.coil_place(design.iron, design.voice_coil, found.voice_winding.D_w)
    answer = iron_field.answers(field, design, place, float(brief.T_room))["speaker ferrite", "B_rem"].slope
    half = dict(next(ring for ring in design.iron.rings if ring.magnetised).spread)["B_rem"]
    ends = []
    for step in (half, -half):
        iron = iron_field.changed_iron(design.iron, "magnet", "B_rem", step)
        changed = iron_field.problem(replace(design, iron=iron), 0.0, 0.0, T=float(brief.T_room))
        ends.append(abs(float(solve(changed, 0.0).Bl(*(float(each) for each in place), 98))))
    assert answer == pytest.approx((ends[0] - ends[1]) / 2 / found.motor.Bl, rel=0.1)


def with_field_coil(job: Job, way: str, V: float) -> tuple[Design, Brief]:
    """The same motor with a field coil round its pole, inside the magnet, on a supply of so many volts."""
    wire = next(wire for wire in job.stock.wires if wire.name == "reel 0.25")
    coil = FieldCoil(wire=wire, n_l=12, D_f=23e-3, h_w=7e-3, k_p=0.95, z_w=6e-3, t_f=0.5e-3, t_fl=0.5e-3)
    rings = tuple(replace(ring, magnetised=way) if ring.magnetised else ring for ring in job.design.iron.rings)
    design = replace(job.design, field_coil=coil, iron=replace(job.design.iron, rings=rings))
    return design, replace(job.brief, supply=Supply(name="bench", V_max=V, I_max=3.0), T_touch=70.0)


def test_a_field_coil_without_current_changes_nothing(job: Job, found: Prediction) -> None:
    """Limit: no volts, no ampere-turns; the field is the magnet's."""
    made = predict.predict(*with_field_coil(job, "down", 1e-6))
    assert made.motor.Bl == pytest.approx(found.motor.Bl, rel=1e-3)
    assert made.heat is not None
    assert made.heat.T_case == pytest.approx(job.brief.T_room, abs=1e-3)


def test_a_field_coil_helps_a_magnet_or_works_against_it(job: Job, found: Prediction) -> None:
    """Second method: both solved directly. Current goes up through its middle, so a ring magnet helps when down."""
    numbers = {}
    for way in ("down", "up"):
        design, brief = with_field_coil(job, way, 6.0)
        made = predict.predict(design, brief)
        assert made.excitation and made.motor.L_f is not None and made.motor.W_m is not None
        field = predict.field_of(design, brief)
        place = stages.coil_place(design.iron, design.voice_coil, made.voice_winding.D_w)
        alone = solve(field.problem, float(made.excitation.NI))
        assert made.motor.Bl == pytest.approx(abs(float(alone.Bl(*(float(each) for each in place), 98))), rel=1e-4)
        # the coil's own energy is what the supply gave beyond heat: half of L I² where the iron is not full
        assert made.motor.L_f > 0 and made.motor.W_m > 0
        against = [each for each in cautions(design, brief, made) if each.topic == "Polarity"]
        assert bool(against) is (way == "up") and all(each.stop for each in against)
        assert made.curves.Bl_NI[0] == pytest.approx(found.motor.Bl, rel=1e-3)
        numbers[way] = float(made.motor.Bl)
    assert numbers["up"] < found.motor.Bl < numbers["down"]


def test_a_magnet_that_is_helped_must_bear_the_coil_switched_off(job: Job, found: Prediction) -> None:
    """Limit: the worst is that of the same motor without a coil, on another grid; a coil against it is worse."""
    alone = found.curves.magnets[0]
    helped, hindered = (predict.predict(*with_field_coil(job, way, 6.0)).curves.magnets[0] for way in ("down", "up"))
    assert abs(helped.H_m) < abs(alone.H_m) < abs(hindered.H_m)
    assert helped.dH == pytest.approx(alone.dH, rel=0.05)
    assert hindered.dH < 0.95 * alone.dH


def test_what_the_coil_gives_to_the_field_is_the_work_of_its_linkage(job: Job) -> None:
    """Balance: the energy that comes in through the coil is the integral of the current over its linkage."""
    design, brief = with_field_coil(job, "down", 6.0)
    field = predict.field_of(design, brief)
    NI = np.linspace(0.0, field.solution.NI, 9)
    coil = field.problem.winding
    assert coil is not None
    linked = np.array([float(solve(field.problem, each).linkage(*coil.rectangle, 1.0)) for each in NI])
    work = float(np.sum((NI[1:] + NI[:-1]) / 2 * np.diff(linked)))
    assert field.W_m(NI[-1]) == pytest.approx(work, rel=0.01)


def test_the_sheet_speaks_of_magnets_and_of_no_supply(job: Job, found: Prediction, tmp_path: Path) -> None:
    import datetime

    titles = [each.title for each in operations(job.design, job.brief, found)]
    assert titles[:4] == ["Stock check", "Iron", "Glue the motor together", "Mandrel and former"]
    write_pdf(tmp_path / "sheet.pdf", job.design, job.brief, found, Print(datetime.date(2026, 5, 4)))
    pages = [page.extract_text() for page in PdfReader(tmp_path / "sheet.pdf").pages]
    text = re.sub(r"\s+", " ", " ".join(pages))
    for word in ("pacemakers", "Wedges, never fingers", "filings", "goggles", "compass", "Centring ring", "north pole"):
        assert word in text, word
    of_coils = r"[Ff]ield coil|diode|ampere-turns|from the supply|[Ff]ield on|(?<!straight), cold|motor warm"
    assert not re.findall(of_coils, text)
    assert len(pages) <= 25


def test_a_field_coil_is_in_its_place_before_glue_closes_the_motor(job: Job) -> None:
    design, brief = with_field_coil(job, "down", 6.0)
    made = predict.predict(design, brief)
    titles = [each.title for each in operations(design, brief, made)]
    assert titles[2:6] == ["Spool of the field coil", "Wind the field coil", "Glue the motor together", "First current"]
    assert "Warm magnet" in {each.topic for each in cautions(design, brief, made)}
    assert "It is helped by" in summary(design, brief, made)


def test_the_terminal_speaks_of_no_supply(job: Job, found: Prediction) -> None:
    text = words.opening(job) + words.prediction(job, found)
    assert not re.findall(r"[Ff]ield coil|supply for|diode|hotter|Hot motor|Switch-off", text)
    assert "ring 72 for the field" in re.sub(r"\s+", " ", text)


def spoiled(place: Path, file: str, pattern: str, new: str, like: str = "repair-pair") -> list[str]:
    """What a check says about an example with one thing changed."""
    shutil.copytree(example_folder(like), place)
    text, count = re.subn(pattern, new, (place / file).read_text(encoding="utf8"), count=1)
    assert count == 1
    (place / file).write_text(text, encoding="utf8")
    return [str(fault).partition(f"{place}/")[2] for fault in Job(place).check()]


@pytest.mark.parametrize(
    ("like", "file", "pattern", "new", "said"),
    [
        (
            "open-day", "brief.toml", r'supply = "bench 12 V"', "",
            "brief.toml:1: supply: must be given where design.toml has a [field_coil]; found no supply. Say what feeds "
            "the field coil.",
        ),
        (
            "repair-pair", "brief.toml", r'Z_rated', 'T_touch = "60 °C"\nZ_rated',
            "brief.toml:8: T_touch: must be left out where design.toml has no [field_coil]; found T_touch. Magnets "
            "need no supply and make no heat.",
        ),
        (
            "open-day", "design.toml", r"\[field_coil\](?s:.*?)(?=\[voice_coil\])", "",
            "design.toml:1: field_coil: must be a table [field_coil] where no ring is a magnet; found neither. Add "
            "one, or put a [[magnet]] of stock.toml into the iron.",
        ),
    ],
)  # fmt: skip
def test_a_supply_and_a_field_coil_go_together(
    tmp_path: Path, like: str, file: str, pattern: str, new: str, said: str
) -> None:
    """Kind of truth: each sentence was written out and judged by reading."""
    found = spoiled(tmp_path / "job", file, pattern, new, like)
    assert said in found, found
    assert len([each for each in found if "supply" in each or "field_coil" in each]) == 1


def test_an_unsound_job_is_not_predicted(tmp_path: Path) -> None:
    spoiled(tmp_path / "job", "brief.toml", "Z_rated", 'T_touch = "60 °C"\nZ_rated')
    with pytest.raises(FileError, match="must be left out"):
        Job(tmp_path / "job").search()

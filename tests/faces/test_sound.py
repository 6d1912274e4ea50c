"""`handwound sound` on usual motors and on both examples: words, JSON, options, and what silly ones are told."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from handwound import Job
from handwound.faces import words
from handwound.quantities import show
from tests.examples import edit, started
from tests.faces.test_heat import titles
from tests.faces.test_motor import bare, run, usual_motor

ALWAYS = [
    "What it weighs",
    "The voice coil by its ohms",
    "What holds it",
    "Stiffness over the stroke",
    "Hung in another way",
    "Where it bends",
    "Other diaphragms",
    "What is heard, third by third",
    "What the amplifier sees, and how it moves",
    "After a step",
    "Sound all round",
    "Where it can stand",
    "Boards to saw",
    "Holes in its back",
    "How far it may move",
    "Loudest steady tone",
    "The amplifier",
    "One tone",
    "Take care",
]
OF_A_BACK = "Holes in its back"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sound")


@pytest.fixture(scope="module")
def open_day(bench: Path) -> Path:
    return started(bench / "open-day", "open-day")


@pytest.fixture(scope="module")
def vented(bench: Path) -> Path:
    """The repair-pair driver with a back of its own in a box with a port, its finished coil read."""
    folder = started(bench / "repair-pair", "repair-pair")
    brief, design = folder / "brief.toml", folder / "design.toml"
    with brief.open("a", encoding="utf8") as file:
        file.write('\nV_box = "5 l"\nt_box = "12 mm"\nd_port = "30 mm"\nl_port = "60 mm"\nR_series = "2 Ω"\n')
    with design.open("a", encoding="utf8") as file:
        file.write('\n[back]\nV_back = "0.3 l"\nn_vent = 6\nd_vent = "12 mm"\nt_vent = "1 mm"\n')
    with (folder / "readings.csv").open("a", encoding="utf8") as file:
        file.write("2026-03-01T10:00,voice_coil,R_T,5.6 Ω,the finished coil\n")
    return folder


def heads(text: str) -> list[str]:
    """The titles, as far as they stand in ``ALWAYS``."""
    return [known for title in titles(text) for known in ALWAYS if title.startswith(known)]


@pytest.mark.parametrize("name", ["ring magnet"])
def test_usual_motors_tell_their_sound(name: str, bench: Path) -> None:
    """Kind of truth: judged by reading; no number is missing, no line too wide."""
    done = run("sound", str(usual_motor(bench, name)))
    assert done.exit_code == 0, done.output
    assert not re.search(r"\b(nan|inf|None)\b|0\. ", done.output)
    assert max(map(len, done.output.splitlines())) <= words.WIDTH
    assert [title for title in ALWAYS if title not in (*heads(done.output), OF_A_BACK)] == []


def test_words_and_record_say_the_same(open_day: Path) -> None:
    """Second way: the study itself; what is printed stands in the record."""
    found = Job(open_day).sound()
    done, record = run("sound", str(open_day)), json.loads(run("sound", str(open_day), "--json").stdout)
    assert done.exit_code == 0, done.output
    bands = record.pop("bands")
    assert list(bare(record)) == []
    assert bands["stiff.f_stiff"]["low"] < bands["stiff.f_stiff"]["high"]
    assert heads(done.output) == [title for title in ALWAYS if title != OF_A_BACK]
    assert record["budget"]["Mms"]["value"] == pytest.approx(float(found.budget.Mms))
    assert record["tones"][0]["tone"]["L_tone"]["unit"] == "dB"
    for mass in found.budget.masses:
        assert show("m", float(mass.m)) in done.output
    for card in found.cards:
        line = next(each for each in done.output.splitlines() if each.strip().startswith(card.name + "  "))
        assert show("fs", float(card.fs), 2) in done.output
        assert line
    assert "Take care\n  Loud tones" in done.output


def test_a_back_a_box_and_a_reading(vented: Path) -> None:
    """Kind of truth: judged by reading; taped holes, a port, a spider, a coil that was read."""
    done = run("sound", str(vented))
    assert done.exit_code == 0, done.output
    assert heads(done.output) == ALWAYS
    text = " ".join(done.output.split())
    assert "as read on the coil" in text
    assert "less copper in the planned length" in text
    assert "The spider makes it" in text
    assert "In its port of 30 mm the air goes up to" in text


def test_options(open_day: Path) -> None:
    """Sense: what is asked for comes first, and through more ohms a volt makes less."""
    done = run("sound", str(open_day), "--tone", "440 Hz", "--through", "24 Ω")
    assert done.exit_code == 0, done.output
    told = done.output.split("One tone: 440 Hz")[1].splitlines()
    assert told[2].split()[:2] == ["24", "Ω"]
    by_one_volt = [float(line.split()[2]) for line in told[2:6] if "Ω" in line]
    assert by_one_volt[0] == min(by_one_volt)


SILLY = {
    ("--tone", "loud"): '--tone: must be a number with a unit, such as "450 Hz"; found "loud".',
    ("--tone", "1 Hz"): '--tone: must be between 10 Hz and 20000 Hz; found "1 Hz".',
    ("--through", "8"): "--through: must be a number with a unit",
    ("--through", "8 V"): "--through: must be in one of",
    ("--through", "-1 Ω"): "--through: must be between 0 Ω",
}


@pytest.mark.parametrize("options", SILLY, ids=" ".join)
def test_what_cannot_be_is_told(options: tuple[str, ...], open_day: Path) -> None:
    """Kind of truth: each sentence was judged by reading."""
    done = run("sound", str(open_day), *options)
    assert done.exit_code == 2
    assert SILLY[options] in done.stderr
    record = run("sound", str(open_day), *options, "--json")
    assert SILLY[options] in json.loads(record.stdout)["error"]


def test_a_job_without_wires_is_told(tmp_path: Path) -> None:
    job = Job.start(tmp_path / "new")
    done = run("sound", str(job.folder))
    assert done.exit_code == 2
    assert "must have a wire and a number of layers" in done.stderr


def test_a_loud_port_is_said(vented: Path, tmp_path: Path) -> None:
    """Common practice, no source: beyond 17 m/s a port blows; a thin one does."""
    folder = tmp_path / "thin"
    shutil.copytree(vented, folder)
    edit(folder / "brief.toml", 'd_port = "30 mm"', 'd_port = "12 mm"')
    edit(folder / "brief.toml", 'l_port = "60 mm"', 'l_port = "10 mm"')
    text = " ".join(run("sound", str(folder)).output.split())
    assert "it blows (common practice). A port" in text

"""`handwound heat` on every usual motor and on both examples: words, JSON, options, and what silly ones are told."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from handwound import Job
from handwound.faces import words
from handwound.quantities import show
from tests.examples import edit, started
from tests.faces.test_motor import bare, run, usual_motor
from tests.files import usual

FED = [
    "From cold, left on",
    "How long it may run",
    "How it is fed, cold and in the end",
    "On and off, again and again",
    "Voice coil with music",
    "What the voice coil bears",
    "What would help",
    "Take care",
]
OF_A_FIELD_COIL = FED[2:4]


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("heat")


@pytest.fixture(scope="module")
def open_day(bench: Path) -> Path:
    return started(bench / "open-day", "open-day")


def titles(text: str) -> list[str]:
    """The lines that begin at the left."""
    return [line for line in text.splitlines() if line and not line.startswith(" ")]


@pytest.mark.parametrize("name", usual.MOTORS)
def test_every_usual_motor_tells_its_heat(name: str, bench: Path) -> None:
    """Kind of truth: judged by reading; no number is missing, no line too wide."""
    done = run("heat", str(usual_motor(bench, name)))
    assert done.exit_code == 0, done.output
    assert not re.search(r"\b(nan|inf|None)\b|0\. ", done.output)
    assert max(map(len, done.output.splitlines())) <= words.WIDTH
    alone = name in usual.ALONE
    assert titles(done.output) == [title for title in FED if not (alone and title in OF_A_FIELD_COIL)]
    assert ("diode" in done.output) is not alone


def test_words_and_record_say_the_same(open_day: Path) -> None:
    found = Job(open_day).heat()
    done, record = run("heat", str(open_day)), json.loads(run("heat", str(open_day), "--json").stdout)
    assert done.exit_code == 0
    assert list(bare(record)) == []
    end = found.from_cold.end
    assert record["from_cold"]["end"]["T_hot"]["value"] == pytest.approx(end.T_hot)
    assert record["duties"][0]["t_on"]["unit"] == "s"
    last = next(line for line in done.output.splitlines() if line.split()[:1] == ["end"])
    for name in ("I_f", "NI", "P_f", "Bl"):
        assert show(name, float(getattr(end, name))) in last
    assert f"{end.T_case:.0f} °C" in last
    assert re.search(r"10 min +20 min .* hold", done.output)


def test_options(open_day: Path) -> None:
    """Sense: a duty that is asked for is the only one told; a shorter run ends earlier; its level is told."""
    asked = run("heat", str(open_day), "--on", "45 s", "--off", "3 min", "--hours", "90 min", "--level", "-20 dB")
    assert asked.exit_code == 0, asked.output
    assert re.search(r"45 s +3 min", asked.output)
    assert "10 min  20 min" not in asked.output
    told = asked.output.split("How long")[0].splitlines()
    k = next(k for k, line in enumerate(told) if line.split()[:1] == ["end"])
    assert told[k - 1].split()[:2] == ["1.5", "h"]
    assert re.search(r"^  -20 dB", asked.output, re.M)


SILLY = {
    ("--on", "10 min"): "--on and --off: must be given together; found one of them.",
    ("--on", "ten", "--off", "20 min"): '--on: must be a number with a unit, such as "17 min"; found "ten".',
    ("--on", "10 min", "--off", "5 V"): '--off: must be in one of s, ms, min, h; found "5 V", in V.',
    ("--on", "0 s", "--off", "5 min"): "--on: must be between",
    ("--hours", "8"): '--hours: must be a number with a unit, such as "4.1 h"; found "8" without one.',
    ("--hours", "-1 h"): "--hours: must be between 0.0167 h and 1000 h",
    ("--level", "3 dB"): '--level: must be between -60 dB and 0 dB; found "3 dB".',
    ("--wav", "no-such.wav"): "no-such.wav: must be a file that can be read",
}


@pytest.mark.parametrize("options", SILLY, ids=" ".join)
def test_what_cannot_be_is_told(options: tuple[str, ...], open_day: Path) -> None:
    """Kind of truth: each sentence was judged by reading."""
    done = run("heat", str(open_day), *options)
    assert done.exit_code == 2
    assert SILLY[options] in done.stderr
    record = run("heat", str(open_day), *options, "--json")
    assert record.exit_code == 2
    assert SILLY[options] in json.loads(record.stdout)["error"]


def test_a_job_without_wires_is_told(tmp_path: Path) -> None:
    job = Job.start(tmp_path / "new")
    done = run("heat", str(job.folder))
    assert done.exit_code == 2
    assert "must have a wire and a number of layers" in done.stderr


def test_what_runs_away_is_said(tmp_path: Path) -> None:
    """Kind of truth: judged by reading; a current without a rest is said, and stops stand before what hurts."""
    folder = started(tmp_path / "much", "open-day")
    edit(folder / "stock.toml", r'V_max = "12\S* .*"', 'V_max = "100 V"')
    done = run("heat", str(folder))
    assert done.exit_code == 0, done.output
    assert "runs away" in done.output
    assert "Not for good" in done.output
    assert "STOP  Runs away" in done.output
    assert "licensed practice" in " ".join(done.output.split())

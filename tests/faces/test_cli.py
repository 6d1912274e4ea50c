"""The command line as a maker uses it: help, the whole way, JSON, and mistakes without a traceback."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from handwound import Job
from handwound.faces.cli import cli
from handwound.quantities import quantities


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder to work in, with a cache of its own and the demo already run in it."""
    place = tmp_path_factory.mktemp("bench")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDWOUND_CACHE", str(place / "cache"))
        done = run("demo", str(place / "open-day"))
        assert done.exit_code == 0, done.output
        (place / "demo.txt").write_text(done.output, encoding="utf8")
        yield place


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words, catch_exceptions=False)


def test_the_demo_says_what_it_chose_and_where_the_files_are(bench: Path) -> None:
    text = (bench / "demo.txt").read_text(encoding="utf8")
    for words in ("open-day", "keep every limit", "is driven by", "at 1 m for 1 W", "build-sheet.pdf", "stock.toml"):
        assert words in text, words
    assert (bench / "open-day" / "build-sheet.pdf").read_bytes().startswith(b"%PDF")


def test_the_demo_can_be_run_again_in_its_own_folder(bench: Path) -> None:
    assert run("demo", str(bench / "open-day")).exit_code == 0


@pytest.mark.parametrize("name", [None, *sorted(cli.commands)])
def test_every_command_explains_itself(name: str | None) -> None:
    done = run(*([name] if name else []), "--help")
    assert done.exit_code == 0
    assert "Usage:" in done.output
    assert len(done.output.split()) > 20


def test_json_numbers_are_those_of_three_lines_of_python(bench: Path) -> None:
    done = run("predict", str(bench / "open-day"), "--json")
    record = json.loads(done.stdout)["numbers"]
    found = Job(bench / "open-day").predict()
    assert set(record) == set(found.bands)
    for name, (value, low, high) in found.bands.items():
        row = record[name]
        assert (row["value"], row["low"], row["high"]) == (value, low, high)
        assert row["unit"] == quantities()[name.partition(".")[2]].unit


def test_json_of_a_search_lists_what_python_finds(bench: Path) -> None:
    record = json.loads(run("search", str(bench / "open-day"), "--json").stdout)
    found = Job(bench / "open-day").search()
    assert record["tried"] == found.tried
    assert [each["why"] for each in record["candidates"]] == [each.why for each in found.candidates]


def test_predict_prints_both_ladders_and_the_cautions(bench: Path) -> None:
    text = run("predict", str(bench / "open-day")).output
    for words in ("Field coil:", "Voice coil:", "stop and read", "Take care", "Switch-off", "Iron", "stay"):
        assert words in text, words


def test_the_second_build_can_be_chosen(bench: Path) -> None:
    folder = bench / "second"
    assert run("start", str(folder)).exit_code == 0
    done = run("search", str(folder), "--choose", "2")
    assert done.exit_code == 0
    second = Job(folder).search().candidates[1]
    assert Job(folder).design.field_coil.n_l == second.field_coil.n_l


def test_the_sheet_goes_where_it_is_told(bench: Path) -> None:
    place = bench / "elsewhere.pdf"
    words = ("sheet", str(bench / "open-day"), "-o", str(place), "--paper", "us-letter", "--date", "2026-05-04")
    assert run(*words).exit_code == 0
    first = place.read_bytes()
    assert run(*words).exit_code == 0
    assert place.read_bytes() == first


def test_check_passes_the_example(bench: Path) -> None:
    done = run("check", str(bench / "open-day"))
    assert (done.exit_code, done.output) == (0, f"{bench / 'open-day'}: all files can be used.\n")


def broken(bench: Path, name: str, file: str, old: str, new: str) -> Path:
    folder = bench / name
    run("start", str(folder))
    text = (folder / file).read_text(encoding="utf8")
    assert old in text
    (folder / file).write_text(text.replace(old, new), encoding="utf8")
    return folder


def test_a_makers_mistakes_are_told_all_at_once(bench: Path) -> None:
    folder = broken(bench, "mistakes", "brief.toml", 'Z_rated = "8 Ω"', 'Z_rated = "8,0 Ω"\nloudnes = "84 dB"')
    done = run("check", str(folder))
    assert done.exit_code == 2
    assert "decimal point" in done.stderr
    assert "loudnes" in done.stderr
    assert "Traceback" not in done.output


def test_faults_come_as_json_when_asked(bench: Path) -> None:
    folder = broken(bench, "json-faults", "brief.toml", 'Z_rated = "8 Ω"', 'Z_rated = "8"')
    done = run("check", str(folder), "--json")
    assert done.exit_code == 2
    fault = json.loads(done.stdout)["faults"][0]
    assert fault["where"].startswith(str(folder / "brief.toml")) or "brief.toml:" in fault["where"]
    assert set(fault) == {"where", "must", "found", "do"}


@pytest.mark.parametrize("command", ["check", "search", "predict", "sheet"])
def test_a_folder_that_is_not_there_is_said(command: str, tmp_path: Path) -> None:
    done = run(command, str(tmp_path / "nowhere"))
    assert done.exit_code == 2
    assert "handwound start" in done.stderr


@pytest.mark.parametrize("command", ["predict", "sheet"])
def test_a_build_not_chosen_yet_is_said(command: str, bench: Path) -> None:
    folder = bench / f"unchosen-{command}"
    run("start", str(folder))
    done = run(command, str(folder))
    assert done.exit_code == 2
    assert "--choose 1" in done.stderr


def test_a_wish_that_cannot_be_met_says_the_nearest_miss(bench: Path) -> None:
    folder = broken(bench, "loud", "brief.toml", 'L_want = "84 dB"', 'L_want = "110 dB"')
    done = run("search", str(folder))
    assert done.exit_code == 2
    assert "Nearest miss" in done.stdout
    assert "wanted at least 110 dB" in done.stdout


def test_a_choice_beyond_the_list_is_said(bench: Path) -> None:
    done = run("search", str(bench / "open-day"), "--choose", "99")
    assert done.exit_code == 2
    assert "must be 1 to" in done.stderr


def test_start_never_touches_files_that_are_there(bench: Path) -> None:
    before = (bench / "open-day" / "stock.toml").read_bytes()
    done = run("start", str(bench / "open-day"))
    assert done.exit_code == 2
    assert (bench / "open-day" / "stock.toml").read_bytes() == before


def test_start_like_an_unknown_example_is_said(tmp_path: Path) -> None:
    done = run("start", str(tmp_path / "new"), "--like", "no-such-job")
    assert done.exit_code == 2
    assert "example no-such-job" in done.stderr


def test_a_place_that_cannot_be_written_is_said(bench: Path) -> None:
    done = run("sheet", str(bench / "open-day"), "-o", str(bench / "no-such-folder" / "sheet.pdf"))
    assert done.exit_code == 2
    assert "no-such-folder" in done.stderr


def test_the_module_is_the_command() -> None:
    done = subprocess.run([sys.executable, "-m", "handwound", "--version"], capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "0.1.0" in done.stdout


def test_help_imports_nothing_heavy() -> None:
    """What makes a command line slow is what it imports; timing itself is measured in benchmarks."""
    heavy = "{'numpy', 'scipy', 'pydantic', 'matplotlib', 'typst'}"
    code = f"import sys, handwound.faces.cli; print(*{heavy} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""

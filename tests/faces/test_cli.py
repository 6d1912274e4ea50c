"""The command line as a maker uses it: help, the whole way, JSON, and mistakes without a traceback."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from handwound import Job
from handwound.faces.cli import cli
from handwound.quantities import quantities


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder to work in, with the demo already run in it."""
    place = tmp_path_factory.mktemp("bench")
    done = run("demo", str(place / "open-day"))
    assert done.exit_code == 0, done.output
    (place / "demo.txt").write_text(done.output, encoding="utf8")
    return place


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words, catch_exceptions=False)


def test_the_demo_says_what_it_chose_and_where_the_files_are(bench: Path) -> None:
    text = (bench / "demo.txt").read_text(encoding="utf8")
    for words in ("open-day", "keep every limit", "is driven by", "at 1 m for 1 W", "build-sheet.pdf", "stock.toml"):
        assert words in text, words
    assert (bench / "open-day" / "build-sheet.pdf").read_bytes().startswith(b"%PDF")


def test_the_demo_can_be_run_again_in_its_own_folder(bench: Path) -> None:
    assert run("demo", str(bench / "open-day")).exit_code == 0


@pytest.mark.parametrize("file", ["stock.toml", "brief.toml", "design.toml", "readings.csv"])
def test_the_demo_leaves_a_choice_of_somebodys_own_alone(file: str, bench: Path, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shutil.copytree(bench / "open-day", folder)
    mine = "2025-03-14,bench,m,20 g,\n" if file == "readings.csv" else ""
    text = (folder / file).read_text(encoding="utf8")
    changed = text.replace("84 dB", "83 dB").replace("25.6 ±", "25.65 ±").replace("620 ±", "610 ±") + mine
    assert changed != text
    (folder / file).write_text(changed, encoding="utf8")
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    done = run("demo", str(folder))
    assert done.exit_code == 2
    assert done.stderr.startswith(f"{folder}: must be a new folder, or the example open-day as it was made; found ")
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_the_demo_of_another_example(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A motor with a magnet, in a folder of its own name; the second time it is the same job."""
    monkeypatch.chdir(bench)
    for _ in range(2):
        done = run("demo", "--like", "repair-pair")
        assert done.exit_code == 0
        assert "with a magnet" in done.output and "field coil" not in done.output
    assert (bench / "repair-pair" / "build-sheet.pdf").stat().st_size > 10_000


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
    for name, band in found.bands.items():
        row = record[name]
        assert (row["value"], row["low"], row["high"], row["median"]) == band
        assert row["unit"] == quantities()[name.partition(".")[2]].unit


def test_json_and_words_say_where_a_doubt_comes_from(bench: Path) -> None:
    record = json.loads(run("predict", str(bench / "open-day"), "--json").stdout)["weights"]
    found = Job(bench / "open-day").predict().weights
    assert set(record) == set(found)
    for name, heavy in found.items():
        told = [(row["part"], row["quantity"], row["S_i"]["value"]) for row in record[name]]
        assert told == [(each.part, each.quantity, each.S_i) for each in heavy]
        assert all(row["better"] for row in record[name])
    text = run("predict", str(bench / "open-day")).stdout
    heaviest = found["driver.fs"][0]
    assert "What the doubt comes from" in text and f"resonance  {heaviest.part}, " in re.sub(r"  +", "  ", text)


def test_json_curves_carry_their_units(bench: Path) -> None:
    record = json.loads(run("predict", str(bench / "open-day"), "--json").stdout)
    found = Job(bench / "open-day").predict()
    units = {name: curve["unit"] for name, curve in (record["curves"] | record["response"]).items()}
    assert units == {
        "x": "m", "Bl_x": "T·m", "NI": "A", "Bl_NI": "T·m", "f": "Hz", "Z": "Ω", "L_p": "dB", "L_lo": "dB",
        "L_hi": "dB", "phase": "rad", "t_group": "s", "x_f": "m",
    }  # fmt: skip
    assert record["curves"]["Bl_x"]["values"] == found.curves.Bl_x.tolist()
    assert record["response"]["Z"]["values"] == found.response.Z.tolist()


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


@pytest.mark.skipif(os.name == "nt", reason="devices are files only under unix")
def test_a_sheet_can_go_into_a_device(bench: Path) -> None:
    before = os.stat(os.devnull)
    assert run("sheet", str(bench / "open-day"), "-o", os.devnull).exit_code == 0
    assert os.stat(os.devnull)[:3] == before[:3]


def test_an_error_of_the_system_names_the_users_path(bench: Path) -> None:
    place = bench / "no-such-folder" / "sheet.pdf"
    done = run("sheet", str(bench / "open-day"), "-o", str(place))
    assert done.stderr == (f"{place}: must be a place that can be read and written; found No such file or directory.\n")


def test_an_error_of_the_system_is_json_when_asked(bench: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    done = run("demo", str(tmp_path / "file" / "below"), "--json")
    assert done.exit_code == 2
    (fault,) = json.loads(done.stdout)["faults"]
    assert (fault["where"], fault["found"]) == (str(tmp_path / "file" / "below"), "Not a directory")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
@pytest.mark.parametrize("words", [[], ["--json"]])
def test_an_output_that_is_full_is_said(words: list[str], bench: Path) -> None:
    command = [sys.executable, "-m", "handwound", "check", str(bench / "open-day"), *words]
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    said = "the output: must be a place that can be read and written; found No space left on device.\n"
    assert done.stderr.startswith(said)
    assert "Traceback" not in done.stderr


def test_the_demo_tells_every_fault_of_a_job_at_once(bench: Path) -> None:
    folder = broken(bench, "faulty-demo", "brief.toml", 'x_pk = "2 mm"', 'x_pk = "2"')
    text = (folder / "design.toml").read_text(encoding="utf8")
    (folder / "design.toml").write_text(text.replace('on = "shell"', 'on = "shel"'), encoding="utf8")
    done = run("demo", str(folder))
    assert (done.exit_code, done.stderr.count(": must be ")) == (2, 2)


@pytest.mark.parametrize("name", ["", "  "])
@pytest.mark.parametrize("command", ["start", "demo"])
def test_a_folder_without_a_name_is_refused(command: str, name: str, tmp_path: Path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    done = run(command, name)
    assert (done.exit_code, done.stderr) == (2, f'folder: must be the name of a new folder; found "{name}".\n')
    assert list(tmp_path.iterdir()) == []


def test_a_faulty_stock_does_not_hide_what_else_is_wrong(bench: Path) -> None:
    """A sentence for each slip, and none about names that only the stock could tell."""
    folder = broken(bench, "hidden", "stock.toml", 'form = "pipe"', 'form = "tube"')
    for file, old, new in (
        ("brief.toml", 'x_pk = "2 mm"', 'x_pk = "2"'),
        ("brief.toml", 'supply = "bench 12 V"', 'supply = "bench"'),
        ("design.toml", 'h_c = "15.0 ± 0.5 mm"', 'h_cc = "15 mm"'),
        ("design.toml", 'on = "shell"', 'on = "shel"'),
        ("design.toml", 'former = "kraft strip"', 'former = "kraft"'),
    ):
        text = (folder / file).read_text(encoding="utf8")
        assert old in text
        (folder / file).write_text(text.replace(old, new), encoding="utf8")
    done = run("check", str(folder), "--json")
    told = [fault["where"].split(": ", 1) for fault in json.loads(done.stdout)["faults"]]
    assert [(Path(where.rpartition(":")[0]), what) for where, what in told] == [
        (folder / "stock.toml", 'steel "pipe 60": form'),
        (folder / "brief.toml", "x_pk"),
        (folder / "design.toml", 'ring "top": on'),
        (folder / "design.toml", "diaphragm: h_cc"),
    ]


@pytest.mark.parametrize("columns", [72, 80, 100, 300])
def test_text_keeps_to_the_width_of_the_terminal(columns: int, bench: Path, monkeypatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    wide = []
    for words in (("predict",), ("search",)):
        lines = run(*words, str(bench / "open-day")).stdout.splitlines()
        wide.append(max(map(len, lines)))
        numbers = [line for line in lines if line.strip().startswith(("layer", "19 ", "20 "))]
        assert words == ("search",) or len(numbers) >= 3
    assert max(wide) <= min(columns, 100)
    assert max(wide) > 0.8 * min(columns, 100)


@pytest.mark.skipif(os.name == "nt", reason="a terminal made by the test is one of unix")
@pytest.mark.parametrize(("term", "escapes"), [("xterm", True), ("dumb", False)])
def test_a_plain_terminal_gets_no_escape_codes(term: str, escapes: bool, bench: Path) -> None:
    master, slave = os.openpty()
    command = [sys.executable, "-m", "handwound", "search", str(bench / "open-day")]
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=slave, env={**os.environ, "TERM": term}, check=False)
    os.close(slave)
    try:
        shown = os.read(master, 10_000)
    except OSError:  # nothing was written and nobody is left to write
        shown = b""
    os.close(master)
    assert done.returncode == 0
    assert (b"\x1b" in shown) is escapes
    assert escapes or shown == b""
    assert b"\x1b" not in done.stdout


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

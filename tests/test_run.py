"""run.py, run for real on a small project of the same shape: one library in the lock, one package, no network.

Kind of truth: each test states what a reader of README.md is promised, and looks at it from outside.
"""

from __future__ import annotations

import ast
import hashlib
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
import run

from tests.rules import house

BACKEND = """
import pathlib, zipfile

def build_editable(folder, config_settings=None, metadata_directory=None):
    with zipfile.ZipFile(pathlib.Path(folder) / "handwound-1-py3-none-any.whl", "w") as wheel:
        wheel.writestr("handwound.pth", str(pathlib.Path.cwd() / "src"))
        info = "handwound-1.dist-info/"
        wheel.writestr(info + "METADATA", "Metadata-Version: 2.1\\nName: handwound\\nVersion: 1\\n")
        wheel.writestr(info + "WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr(info + "entry_points.txt", "[console_scripts]\\nhandwound = handwound:main\\n")
        wheel.writestr(info + "RECORD", "")
    return "handwound-1-py3-none-any.whl"
"""
STRANGE = {"PYTHONPATH", "PYTHONHOME"}  # with these the child would find our own handwound, installed or not
PACKAGE = """
import os, sys, tiny

def main():
    print("words", sys.argv[1:], "library", tiny.SIZE, "threads", os.environ["OPENBLAS_NUM_THREADS"], os.getcwd())
    return 7
"""


class Project:
    """A folder with run.py, a lock of one library (a file on this disk), and a package that uses it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "src/handwound").mkdir(parents=True)
        shutil.copy(house.ROOT / "run.py", folder)
        (folder / "backend.py").write_text(BACKEND, encoding="utf8")
        (folder / "src/handwound/__init__.py").write_text(PACKAGE, encoding="utf8")
        (folder / "pyproject.toml").write_text(
            '[build-system]\nrequires = []\nbuild-backend = "backend"\nbackend-path = ["."]\n', encoding="utf8"
        )
        self.lock(5)

    def lock(self, size: int, fingerprint: str = "") -> None:
        """Lock the library in the state in which it says ``size``."""
        wheel = self.folder / "tiny-1-py3-none-any.whl"
        with zipfile.ZipFile(wheel, "w") as file:
            file.writestr("tiny.py", f"SIZE = {size}\n")
            file.writestr("tiny-1.dist-info/METADATA", "Metadata-Version: 2.1\nName: tiny\nVersion: 1\n")
            file.writestr("tiny-1.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
            file.writestr("tiny-1.dist-info/RECORD", "")
        fingerprint = fingerprint or hashlib.sha256(wheel.read_bytes()).hexdigest()
        for name in ("lock.txt", "lock-test.txt"):
            line = f"tiny @ {wheel.as_uri()} --hash=sha256:{fingerprint}\n"
            (self.folder / name).write_text(line, encoding="utf8")

    def run(self, *words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
        """Give ``python run.py WORDS`` as a reader would; no index is asked, whatever this machine is set up for."""
        env = {
            name: text for name, text in os.environ.items() if name not in STRANGE and not name.endswith("_NUM_THREADS")
        }
        env |= {"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull}
        command = [sys.executable, str(self.folder / "run.py"), *words]
        return subprocess.run(command, cwd=cwd or self.folder, env=env, capture_output=True, text=True, encoding="utf8")


@pytest.fixture(scope="module")
def project(tmp_path_factory) -> Project:
    """A project that was set up once, in a folder whose name is a trap for careless code."""
    project = Project(tmp_path_factory.mktemp("a maker's förder"))
    first = project.run("demo")
    assert (first.returncode, first.stderr) == (7, "")
    assert "Setting up" in first.stdout and "words ['demo'] library 5 threads 1" in first.stdout
    return project


def test_later_runs_start_at_once_and_where_the_reader_stands(project, tmp_path) -> None:
    done = project.run("search", "open-day", cwd=tmp_path)
    assert done.stdout.split("threads")[0] == "words ['search', 'open-day'] library 5 "
    assert str(tmp_path) in done.stdout
    assert done.returncode == 7


def test_a_new_pyproject_installs_the_package_again_and_nothing_else(project) -> None:
    with (project.folder / "pyproject.toml").open("a", encoding="utf8") as file:
        file.write("# changed\n")
    done = project.run("demo")
    assert "installing handwound" in done.stdout and "fetching" not in done.stdout
    assert done.returncode == 7


def test_new_locks_make_everything_again(project) -> None:
    project.lock(6)
    assert "library 6" in project.run("demo").stdout


def test_a_half_made_folder_is_made_again(project) -> None:
    (project.folder / ".venv/set-up.json").unlink()
    next((project.folder / ".venv").rglob("tiny.py")).unlink()
    done = project.run("demo")
    assert "Setting up" in done.stdout and "library" in done.stdout


def test_a_folder_that_was_moved_is_made_again(project, tmp_path) -> None:
    moved = shutil.copytree(project.folder, tmp_path / "elsewhere", symlinks=True)
    project = Project.__new__(Project)
    project.folder = moved
    done = project.run("demo")
    assert "Setting up" in done.stdout and done.returncode == 7


def test_a_library_that_is_not_what_was_locked_is_refused(tmp_path) -> None:
    project = Project(tmp_path)
    project.lock(5, fingerprint="0" * 64)
    done = project.run("demo")
    assert done.returncode == 1
    assert "Setting up did not finish: fetching the libraries" in done.stderr and "words" not in done.stdout
    project.lock(5)
    assert project.run("demo").returncode == 7


def test_without_words_it_says_what_it_can_do_and_sets_up_nothing(tmp_path) -> None:
    project = Project(tmp_path)
    done = project.run()
    assert done.returncode == 0
    assert "run.py demo" in done.stdout and "run.py test" in done.stdout
    assert not (tmp_path / ".venv").exists()


def test_old_pythons_are_told() -> None:
    with pytest.raises(run.SetUpError, match=r"needs Python 3\.11 or newer"):
        run.refuse((3, 10))
    run.refuse((3, 11))


def test_an_old_grammar_is_enough_to_read_it() -> None:
    """Kind of truth: the language's own grammar, as old as today's parser still knows it."""
    assert ast.parse((house.ROOT / "run.py").read_text(encoding="utf8"), feature_version=(3, 7)).body


def test_an_old_python_says_clear_words() -> None:
    """Kind of truth: an old interpreter itself, where this machine has one."""
    for version in ("3.7", "3.8", "3.9", "3.10"):
        old = shutil.which(f"python{version}")
        if old and subprocess.run([old, "-c", ""], capture_output=True).returncode == 0:
            answer = subprocess.run([old, str(house.ROOT / "run.py"), "demo"], capture_output=True, text=True)
            assert answer.returncode == 1
            assert "handwound needs Python 3.11 or newer" in answer.stderr
            return
    pytest.skip("no old Python here")


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_a_python_without_its_folder_maker_is_told(missing, monkeypatch) -> None:
    real = run.importlib.util.find_spec
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda name: None if name == missing else real(name))
    with pytest.raises(run.SetUpError, match=rf"its module {missing} is missing[\s\S]*python3-venv"):
        run.refuse(sys.version_info[:2])


def test_every_check_is_run_and_any_failure_counts(monkeypatch, capsys) -> None:
    asked, answers = [], {"ruff check": 0, "ruff format --check": 3, "mypy": 0, "pytest -k wire": 0}

    def call(command, cwd=None):
        asked.append(" ".join(map(str, command[2:])))
        return answers[asked[-1]]

    monkeypatch.setattr(run, "call", call)
    assert run.test(["-k", "wire"]) == 3
    assert asked == list(answers)
    assert "ruff check ok, ruff format FAILED, mypy ok, pytest ok" in capsys.readouterr().out


def test_a_program_ended_by_a_signal_fails(tmp_path) -> None:
    if os.name == "nt":
        pytest.skip("signals of this kind are not a thing of Windows")
    script = tmp_path / "stop.py"
    script.write_text("import os, signal\nos.kill(os.getpid(), signal.SIGTERM)\n", encoding="utf8")
    assert run.call([sys.executable, script]) == 128 + 15


def test_stamps_that_cannot_be_read_count_as_none(monkeypatch, tmp_path) -> None:
    monkeypatch.setattr(run, "STAMPS", tmp_path / "set-up.json")
    for text in ("", "{", "[1]"):
        run.STAMPS.write_text(text, encoding="utf8")
        assert run.read_stamps() == {}
    run.STAMPS.write_text(json.dumps({"libraries": "x"}), encoding="utf8")
    assert run.read_stamps() == {"libraries": "x"}

"""The wheel holds all that the program reads at run time; nothing that the source tree has is forgotten in it."""

from __future__ import annotations

import subprocess
import sys
import zipfile

import pytest

from tests.rules import house


@pytest.fixture(scope="module")
def names(tmp_path_factory) -> set[str]:
    """What the wheel holds. Built by the locked hatchling, without a network. Kind of truth: the build tool itself."""
    folder = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=house.ROOT, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    return set(zipfile.ZipFile(wheel).namelist())


def test_every_file_of_the_package_is_in_the_wheel(names) -> None:
    package = {path.relative_to(house.SRC.parent).as_posix() for path in house.files() if house.SRC in path.parents}
    assert "handwound/quantities.csv" in package
    assert package - names == set()


def test_the_examples_are_in_the_wheel(names) -> None:
    folder = house.ROOT / "examples"
    files = {path.relative_to(folder.parent).as_posix() for path in house.files() if folder in path.parents}
    assert {f"handwound/{name}" for name in files} - names == set()


def test_the_licence_and_the_command_are_in_the_wheel(names) -> None:
    assert [name for name in names if name.endswith("licenses/LICENSE")]
    assert [name for name in names if name.endswith("entry_points.txt")]

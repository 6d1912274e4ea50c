"""Imports point down: the sentences of the house about who may import whom, executed."""

from __future__ import annotations

import sys
import tomllib

import pytest

from tests.rules import house

FLOORS = (
    {"errors", "language"},
    {"quantities"},
    {"parts", "physics", "kept"},
    {"materials", "programme"},
    {"files"},
    {"iron_field", "spread", "thermal", "masses", "suspension"},
    {"cone", "mounting"},
    {"stiff"},
    {"stages"},
    {"sounding"},
    {"warmth", "rub"},
    {"warming", "played", "heard"},
    {"predict"},
    {"motor", "heat", "sound", "search", "sheet", "reconcile"},
    {"job"},
    {"faces"},
    {"__main__"},
)
LEVEL = {name: level for level, floor in enumerate(FLOORS) for name in floor}
FRAMEWORKS = {
    "click": "handwound.faces.cli",
    "typst": "handwound.faces.pdf",
    "tomlkit": "handwound.files",
    "pydantic": "handwound.files",
}
SOURCES = [(house.dotted(path), path) for path in house.sources() if path != house.SRC / "__init__.py"]


def floor(name: str) -> str | None:
    """On which floor an imported name stands: ``handwound.parts.wire.Wire`` -> ``parts``; None for other packages."""
    parts = name.split(".")
    if parts[0] != "handwound" or parts[1:] == ["__version__"]:
        return None
    # The package itself hands out the front door: whoever imports something else from it imports the job.
    return parts[1] if len(parts) > 1 and parts[1] in LEVEL else "job"


def trespass(module: str, name: str) -> str | None:
    """Why a module may not import a name, or None where it may."""
    own, used = module.split(".")[1], floor(name)
    package = name.split(".")[0]
    if used is None:
        home = FRAMEWORKS.get(package)
        return f"{module}: only {home} imports {package}" if home and not module.startswith(home) else None
    if own == used:
        return None
    if LEVEL[used] >= LEVEL[own]:
        return f"{module} imports {name}: {used} is not below {own}"
    if own == "faces" and used == "physics":
        return f"{module} imports {name}: faces compute nothing"
    return None


def test_every_module_stands_on_a_floor() -> None:
    tops = {module.split(".")[1] for module, _ in SOURCES}
    assert tops <= set(LEVEL), "a new name at the top of the package needs its floor in FLOORS"


@pytest.mark.parametrize(("module", "path"), SOURCES, ids=[module for module, _ in SOURCES])
def test_imports_point_down(module, path) -> None:
    text = path.read_text(encoding="utf8")
    names = house.imported(text, module, package=path.name == "__init__.py")
    assert [why for name in names if (why := trespass(module, name))] == []
    assert "import_module(" not in text and "__import__(" not in text, "an import that this test could not see"


def test_only_declared_libraries_are_imported() -> None:
    project = tomllib.loads((house.ROOT / "pyproject.toml").read_text(encoding="utf8"))["project"]
    declared = {dependency.split(">")[0].split("=")[0] for dependency in project["dependencies"]}
    for module, path in SOURCES:
        names = house.imported(path.read_text(encoding="utf8"), module, package=path.name == "__init__.py")
        tops = {name.split(".")[0] for name in names} - set(sys.stdlib_module_names) - {"handwound"}
        assert tops <= declared, module


@pytest.mark.parametrize(
    ("module", "line", "allowed"),
    [
        ("handwound.physics.heat", "from handwound.parts.wire import Wire", False),
        ("handwound.physics.heat", "from handwound.physics.field import bh", True),
        ("handwound.physics.heat", "from handwound import quantities", True),
        ("handwound.physics.heat", "from handwound import parts", False),
        ("handwound.physics.heat", "from ..parts import wire", False),
        ("handwound.physics.field.bh", "from .. import heat", True),
        ("handwound.physics.field.bh", "from ... import parts", False),
        ("handwound.physics.heat", "import handwound.materials", False),
        ("handwound.search.rank", "from handwound.sheet import rows", False),
        ("handwound.search.rank", "def f():\n    from handwound import job", False),
        ("handwound.files.stock", "from handwound.predict import field_of", False),
        ("handwound.files.stock", "from handwound import Job", False),
        ("handwound.faces.cli", "from handwound.physics import heat", False),
        ("handwound.faces.cli", "from handwound import __version__, Job", True),
        ("handwound.faces.cli", "import click", True),
        ("handwound.job", "import click", False),
        ("handwound.sheet.rows", "from typst import compile", False),
        ("handwound.faces.pdf.print", "import typst", True),
    ],
)
def test_the_rule_itself(module, line, allowed) -> None:
    refused = [why for name in house.imported(line, module) if (why := trespass(module, name))]
    assert (refused == []) is allowed

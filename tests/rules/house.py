"""How the rule tests look at the project: its files, its modules, its imports, its docstrings. No rule stands here."""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "handwound"
SKIPPED = {"__pycache__", "node_modules", "dist", "build"}
SECTION = re.compile(r"^(\w[\w ]*)\n-{3,}\n", re.M)
ITEM = re.compile(r"^(\w+(?:, \w+)*) : (.+)$")
UNIT = re.compile(r"\[([^\[\]]+)\]\Z")


@dataclasses.dataclass(frozen=True)
class Item:
    """One line of Parameters or Returns: the name, the type as written, and the unit that ends its words."""

    name: str
    type: str
    unit: str | None


def files() -> Iterator[Path]:
    """Every file of the project, without what tools leave behind in hidden folders."""
    for path in sorted(ROOT.rglob("*")):
        parts = path.relative_to(ROOT).parts
        hidden = any(part.startswith(".") and part != ".ci" for part in parts[:-1])
        if path.is_file() and not hidden and not SKIPPED.intersection(parts):
            yield path


def sources() -> list[Path]:
    """Every module of the package."""
    return sorted(SRC.rglob("*.py"))


def short(path: Path) -> str:
    """The path as the reader of a failed test wants it."""
    return path.relative_to(ROOT).as_posix()


def modules(package: str) -> list[ModuleType]:
    """Every module below a package, imported."""
    top = importlib.import_module(package)
    return [top, *(importlib.import_module(m.name) for m in pkgutil.walk_packages(top.__path__, package + "."))]


def functions(package: str) -> list[Callable[..., object]]:
    """Every public function that a module below the package defines."""
    return [
        function
        for module in modules(package)
        for name, function in vars(module).items()
        if inspect.isroutine(function) and function.__module__ == module.__name__ and not name.startswith("_")
    ]


def imported(text: str, module: str, package: bool = False) -> Iterator[str]:
    """The dotted name of everything a module imports, relative imports resolved; ``package`` for an __init__."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = module.split(".")
                up = up[: len(up) - node.level + package]
                base = ".".join([*up, *([node.module] if node.module else [])])
            yield from (f"{base}.{alias.name}" for alias in node.names)


def dotted(path: Path) -> str:
    """The module's dotted name."""
    parts = path.relative_to(SRC.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def sections(doc: str) -> dict[str, str]:
    """A docstring's underlined sections in their order; what stands before the first one is called "summary"."""
    pieces = SECTION.split(inspect.cleandoc(doc))
    return {"summary": pieces[0], **dict(zip(pieces[1::2], pieces[2::2], strict=True))}


def items(section: str) -> list[Item]:
    """The items of Parameters or Returns."""
    found: list[Item] = []
    for block in re.split(r"\n(?=\S)", section.strip("\n")):
        head, _, body = block.partition("\n")
        match = ITEM.match(head)
        if match:
            unit = UNIT.search(body.strip())
            found += [Item(name, match[2], unit[1] if unit else None) for name in match[1].split(", ")]
    return found

"""Bring the catalogues of the languages up to date with what the sheet says:  python -m tools.words [new language ...]

Every message given to ``say`` is found by reading the sources. What was translated stays; what is no longer said is
kept as obsolete; a message that cannot be found by reading is a fault.
"""

from __future__ import annotations

import ast
import csv
import importlib
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from pathlib import Path
from typing import Any, get_args, get_type_hints

import polib

from handwound.language import ENGLISH, FOLDER
from handwound.parts.prediction import STAGES, Chain
from handwound.quantities import quantities
from handwound.sheet.numbers import without_cold

SOURCE = FOLDER.parent
SAID = "handwound.sheet.said"
COLUMNS = {
    "short": ("materials/advice.csv", "short"),
    "better": ("materials/advice.csv", "better"),
    "metal": ("materials/metals.csv", "name"),
    "kind": ("materials/adhesives.csv", "kind"),
}
"""Attributes that hold a cell of a table: its file and column, all of which may be said."""
QUANTITY = "words"
"""The attribute that holds the words of a quantity."""
UNITS = "Units"
"""In the first column of the row that holds no words."""
WIDE = 110


@dataclass(frozen=True)
class Speaker:
    """A function that says one of its arguments: in which place it stands, by which name; a constant's words one by
    one; and whether once more without "cold"."""

    place: int
    name: str
    each: bool = False
    is_worded: bool = False


SPEAKERS = {
    (SAID, "say"): Speaker(0, "message"),
    (SAID, "named"): Speaker(1, "among", each=True),
    ("handwound.sheet.numbers", "worded"): Speaker(1, "message", is_worded=True),
}
"""The functions by which all is said, by module and name; others that hand a message on are found by reading."""


@dataclass
class Found:
    """All messages, each with the files that say it, and what could not be found by reading."""

    messages: dict[str, list[str]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


class UnreadError(Exception):
    """A message that only running would tell."""


def found(source: Path = SOURCE) -> Found:
    """Every message of the sources."""
    modules = [Module(path, source) for path in sorted(source.rglob("*.py"))]
    speakers = _handing_on(modules)
    result = Found()
    for module in modules:
        for call, speaker in module.calls(speakers):
            try:
                told = list(module.told(call, speaker))
            except UnreadError as error:
                result.faults.append(f"{module.file}:{call.lineno}: {error}")
                continue
            for message in told:
                files = result.messages.setdefault(message, [])
                if module.file not in files:
                    files.append(module.file)
    return result


def _handing_on(modules: Iterable[Module]) -> dict[tuple[str, str], Speaker]:
    """The speakers, with every function that hands one of its own arguments on to one."""
    speakers, before = dict(SPEAKERS), -1
    while len(speakers) > before:
        before = len(speakers)
        for module in modules:
            for call, speaker in module.calls(speakers):
                said, inside = module.argument(call, speaker), module.function(call)
                if inside and isinstance(said, ast.Name) and (inside.name, said.id) not in module.speaking:
                    names = [each.arg for each in (*inside.args.posonlyargs, *inside.args.args)]
                    if said.id in names and not module.assigned(said.id, inside):
                        speakers.setdefault((module.name, inside.name), Speaker(names.index(said.id), said.id))
    return speakers


class Module:
    """One source file, read."""

    def __init__(self, path: Path, source: Path) -> None:
        self.file = path.relative_to(source).as_posix()
        parts = path.relative_to(source.parent).with_suffix("").parts
        self.name = ".".join(part for part in parts if part != "__init__")
        self.tree = ast.parse(path.read_text(encoding="utf8"))
        self.above = {child: node for node in ast.walk(self.tree) for child in ast.iter_child_nodes(node)}
        calls = [node for node in ast.walk(self.tree) if isinstance(node, ast.Call)]
        self.order = sorted(calls, key=lambda call: (call.lineno, call.col_offset))
        self.origin = dict(self._origins())
        self.speaking = {(name, speaker.name) for (module, name), speaker in SPEAKERS.items() if module == self.name}

    def _origins(self) -> Iterator[tuple[str, tuple[str, str]]]:
        """Where each name comes from: module and name there."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.ImportFrom) and node.module:
                for alias in node.names:
                    yield alias.asname or alias.name, (node.module, alias.name)
        for node in self.tree.body:
            if isinstance(node, ast.FunctionDef):
                yield node.name, (self.name, node.name)

    def calls(self, speakers: Mapping[tuple[str, str], Speaker]) -> Iterator[tuple[ast.Call, Speaker]]:
        """Every call of a speaker, but those by which a speaker of the table hands on what it was given."""
        for node in self.order:
            if isinstance(node.func, ast.Name):
                speaker = speakers.get(self.origin.get(node.func.id, ("", "")))
                inside = self.function(node)
                if speaker and not (inside and any(inside.name == name for name, _ in self.speaking)):
                    said = self.argument(node, speaker)
                    own = speakers.get((self.name, inside.name)) if inside else None
                    if not (own and isinstance(said, ast.Name) and said.id == own.name):
                        yield node, speaker

    def argument(self, call: ast.Call, speaker: Speaker) -> ast.expr:
        """The expression that is said."""
        if len(call.args) > speaker.place:
            return call.args[speaker.place]
        return next(each.value for each in call.keywords if each.arg == speaker.name)

    def told(self, call: ast.Call, speaker: Speaker) -> Iterator[str]:
        """The messages that a call may say."""
        for value in self._values(self.argument(call, speaker), call):
            for message in value if speaker.each else (value,):
                if not isinstance(message, str):
                    raise UnreadError(f"{ast.unparse(call)} says what is no text")
                yield message
                if speaker.is_worded:
                    yield without_cold(message)

    def function(self, node: ast.AST) -> ast.FunctionDef | None:
        """The function in which it stands."""
        above = self.above.get(node)
        while above and not isinstance(above, ast.FunctionDef):
            above = self.above.get(above)
        return above if isinstance(above, ast.FunctionDef) else None

    def assigned(self, name: str, inside: ast.FunctionDef) -> list[ast.expr]:
        """What a local name is set to."""
        return [
            node.value
            for node in ast.walk(inside)
            if isinstance(node, ast.Assign)
            and any(isinstance(target, ast.Name) and target.id == name for target in node.targets)
        ]

    def _values(self, said: ast.expr, where: ast.AST) -> Iterator[Any]:
        """All values that an expression may have."""
        if isinstance(said, ast.Constant):
            yield said.value
        elif isinstance(said, ast.IfExp):
            yield from self._values(said.body, where)
            yield from self._values(said.orelse, where)
        elif isinstance(said, ast.Attribute) and said.attr in COLUMNS:
            yield from column(*COLUMNS[said.attr])
        elif isinstance(said, ast.Attribute) and said.attr == QUANTITY:
            yield from predicted()
        elif isinstance(said, ast.Subscript):
            yield from self._chosen(said, where)
        elif isinstance(said, ast.Name):
            yield from self._named(said, where)
        else:
            raise UnreadError(f"{ast.unparse(said)} is not found by reading; write the message or a constant there")

    def _chosen(self, said: ast.Subscript, where: ast.AST) -> Iterator[Any]:
        """The one that is asked for, or all where that is not known."""
        for value in self._values(said.value, where):
            if isinstance(said.slice, ast.Constant):
                yield value[said.slice.value]
            else:
                yield from value.values() if isinstance(value, dict) else value

    def _named(self, said: ast.Name, where: ast.AST) -> Iterator[Any]:
        """A local name by what it is set to, any other as the constant that it is."""
        inside = self.function(where)
        local = self.assigned(said.id, inside) if inside else []
        for each in local:
            yield from self._values(each, where)
        looped = self._looped(said.id, inside) if inside else []
        yield from looped
        if local or looped:
            return
        module = importlib.import_module(self.name)
        if not said.id.isupper() or not hasattr(module, said.id):
            raise UnreadError(f"{said.id} is not found by reading; write the message or a constant there")
        yield getattr(module, said.id)

    def _looped(self, name: str, inside: ast.FunctionDef) -> list[Any]:
        """The keys or values of a constant over the items of which a name goes."""
        loops = [node for node in ast.walk(inside) if isinstance(node, ast.For | ast.comprehension)]
        found: list[Any] = []
        for loop in loops:
            names = [each.id for each in ast.walk(loop.target) if isinstance(each, ast.Name)]
            if name in names and len(names) == 2:
                for node in ast.walk(loop.iter):
                    if isinstance(node, ast.Attribute) and node.attr == "items":
                        pairs = [value.items() for value in self._values(node.value, inside)]
                        found += [pair[names.index(name)] for each in pairs for pair in each]
        return found


def predicted() -> list[str]:
    """The words of every number that a prediction may hold, in the order of its stages."""
    stages = get_type_hints(Chain)
    names = [
        each.name
        for stage in STAGES
        for kind in (stages[stage], *get_args(stages[stage]))
        if is_dataclass(kind)
        for each in fields(kind)
    ]
    return [quantities()[name].words for name in dict.fromkeys(names) if name in quantities()]


def column(file: str, name: str) -> list[str]:
    """All words of a column of a table."""
    with (SOURCE / file).open(encoding="utf8", newline="") as lines:
        rows = csv.DictReader(lines)
        first = rows.fieldnames[0] if rows.fieldnames else ""
        return [row[name] for row in rows if row[first] != UNITS]


def refreshed(old: polib.POFile, messages: Mapping[str, Iterable[str]]) -> polib.POFile:
    """The catalogue with the messages of today in their order, old translations kept, what is no longer said behind."""
    known = {entry.msgid: entry for entry in old}
    new = polib.POFile(wrapwidth=WIDE)
    new.header, new.metadata = old.header, old.metadata
    for message, files in sorted(messages.items(), key=lambda each: next(iter(each[1]))):
        before = known.pop(message, polib.POEntry(msgid=message))
        new.append(polib.POEntry(
            msgid=message, msgstr=before.msgstr, occurrences=[(file, "") for file in files], flags=before.flags,
            tcomment=before.tcomment,
        ))  # fmt: skip
    for entry in known.values():
        if entry.msgstr:
            new.append(polib.POEntry(msgid=entry.msgid, msgstr=entry.msgstr, obsolete=True))
    return new


def begun(code: str) -> polib.POFile:
    """A catalogue without a translation."""
    new = polib.POFile(wrapwidth=WIDE)
    new.metadata = {
        "Project-Id-Version": "handwound", "Language": code, "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=utf-8", "Content-Transfer-Encoding": "8bit", "X-Decimal-Point": ".",
    }  # fmt: skip
    return new


def main(begin: Iterable[str]) -> int:
    """Refresh every catalogue, begin those that are asked for; say what is still to be done."""
    now = found()
    for fault in now.faults:
        print(f"not found: {fault}")
    for code in sorted({*(path.stem for path in FOLDER.glob("*.po")), *begin} - {ENGLISH}):
        path = FOLDER / f"{code}.po"
        new = refreshed(polib.pofile(str(path)) if path.exists() else begun(code), now.messages)
        path.write_text(str(new), encoding="utf8")
        print(f"{path.name}: {len(new.translated_entries())} of {len(now.messages)} messages are translated")
    return 1 if now.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

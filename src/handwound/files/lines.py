"""On which line of a TOML text each key stands. tomllib reads the values but forgets the lines."""

from __future__ import annotations

import re

Path = tuple[str | int, ...]
BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
BARE = re.compile(r"[A-Za-z0-9_-]+")
PLAIN_VALUE = re.compile(r"[^,\]}#\r\n]*")
STRINGS = [
    re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}', re.S),
    re.compile(r"'''.*?'{3,5}", re.S),
    re.compile(r'"((?:[^"\\\n]|\\.)*)"'),
    re.compile(r"'([^'\n]*)'"),
]


def index(text: str) -> dict[Path, int]:
    """The line of every key, table and list item of a text that tomllib has already read without complaint."""
    return _Scanner(text).run()


class _Scanner:
    """Walks the text once. It trusts that the text is TOML and only keeps count of keys and lines."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.lines: dict[Path, int] = {}
        self.last: dict[Path, int] = {}
        """Index of the newest table of each [[list of tables]]."""
        self._counted, self._line = 0, 1

    def run(self) -> dict[Path, int]:
        table: Path = ()
        self._blank()
        while self.at < len(self.text):
            if self.text.startswith("[", self.at):
                table = self._header()
            else:
                self._pair(table)
            self._blank()
        return self.lines

    def _header(self) -> Path:
        """``[a.b]`` or ``[[a.b]]``: the path of the table that it opens."""
        line, double = self._here(), self.text.startswith("[[", self.at)
        self.at += 2 if double else 1
        path: Path = ()
        keys = self._keys()
        for number, key in enumerate(keys):
            path += (key,)
            self.lines.setdefault(path, line)
            if double and number == len(keys) - 1:
                self.last[path] = self.last.get(path, -1) + 1
            if path in self.last:
                path += (self.last[path],)
                self.lines.setdefault(path, line)
        self.lines[path] = line  # its own heading, even where [a.b] stood before [a]
        self.at = self.text.index("]", self.at) + (2 if double else 1)
        return path

    def _pair(self, table: Path) -> None:
        """``a.b = value``"""
        line, path = self._here(), table
        for key in self._keys():
            path += (key,)
            self.lines.setdefault(path, line)
        self.at = self.text.index("=", self.at) + 1
        self._blank()
        self._value(path)

    def _keys(self) -> list[str]:
        """The parts of a dotted key; quoted parts without their quotes (an escape in a key is left as written)."""
        keys: list[str] = []
        while True:
            self._blank()
            found = self._string() or self._match(BARE)
            keys.append(found.group(found.lastindex or 0) if found else "")
            self._blank()
            if not self.text.startswith(".", self.at):
                return keys
            self.at += 1

    def _value(self, path: Path) -> None:
        if self.text.startswith("[", self.at):
            self._items(path)
        elif self.text.startswith("{", self.at):
            self._inline(path)
        elif not self._string():
            self._match(PLAIN_VALUE)

    def _items(self, path: Path) -> None:
        """``[value, value]``"""
        self.at += 1
        self._blank()
        number = 0
        while not self.text.startswith("]", self.at):
            self.lines[(*path, number)] = self._here()
            self._value((*path, number))
            self._comma()
            number += 1
        self.at += 1

    def _inline(self, path: Path) -> None:
        """``{a = value, b = value}``"""
        self.at += 1
        self._blank()
        while not self.text.startswith("}", self.at):
            self._pair(path)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        self._blank()
        if self.text.startswith(",", self.at):
            self.at += 1
            self._blank()

    def _string(self) -> re.Match[str] | None:
        return next((found for kind in STRINGS if (found := self._match(kind))), None)

    def _blank(self) -> None:
        self._match(BLANK)

    def _match(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        found = pattern.match(self.text, self.at)
        if found:
            self.at = found.end()
        return found

    def _here(self) -> int:
        self._line += self.text.count("\n", self._counted, self.at)
        self._counted = self.at
        return self._line

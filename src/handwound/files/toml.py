"""A TOML file as a document that knows its lines: what cannot be read, and where each fault stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from handwound.errors import Fault, FileError
from handwound.files.lines import Path as Key
from handwound.files.lines import index

SHORT_LIST, LONG_LIST = 10, 16
"""So many names are told in full where one of them was meant, and where nobody knows which."""
LONGEST = 500
"""Signs of one part of a sentence; what is longer is cut."""
DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d)")
NO_QUOTES = re.compile(r"(?P<key>[\w.-]+)\s*=\s*(?P<value>[^\s\"'#\[{][^\"'#]*?)\s*(?:#.*)?")
PLACE = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)")


def read_text(path: Path) -> str:
    """The whole text of a file, line ends as they are, or one fault that says why not."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise FileError([Fault(str(path), "a file", "none of that name")]) from None
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        found = f"the byte {error.object[error.start]:#04x}, which is not"
        do = "Save the file as UTF-8 in your editor."
        raise FileError([Fault(f"{path}:{line}", "a text in UTF-8", found, do)]) from None
    except OSError as error:
        raise FileError([Fault(str(path), "a file that can be read", str(error.strerror or error))]) from None


def parse(path: Path, text: str) -> dict[str, Any]:
    """The values of a TOML text, or one fault with its line and column."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileError([_not_toml(path, text, str(error))]) from None
    except (ValueError, RecursionError) as error:  # a whole number of thousands of digits; lists in lists in lists
        raise FileError([Fault(str(path), "TOML that can be read", f"this: {error}")]) from None


def meant(word: object, known: Iterable[str], listed: str = "There are") -> str:
    """``Did you mean "reel 0.50"?`` and the whole list where it is short, or nothing is near."""
    names, text = list(known), word if isinstance(word, str) else ""
    close = get_close_matches(text, names, 1, cutoff=0.5) or _same_but_for_case(text, names)
    hints = [f'Did you mean "{close[0]}"?'] if close else []
    if not names:
        hints.append(f"{listed}: none.")
    elif len(names) <= (SHORT_LIST if close else LONG_LIST):
        hints.append(f"{listed}: {', '.join(names)}.")
    return " ".join(hints)


class Document:
    """One TOML file: its values, and the faults that are found in it until all are told at once."""

    def __init__(self, path: Path) -> None:
        self.path = path
        text = read_text(path)
        self.data = parse(path, text)
        try:
            self._lines = index(text)
        except RecursionError:
            raise FileError([Fault(str(path), "TOML that can be read", "too many brackets within brackets")]) from None
        self._faults: list[tuple[int, Fault]] = []

    def line(self, key: Key) -> int:
        """The line of a key, else of the table that should hold it."""
        return next((self._lines[key[:n]] for n in range(len(key), 0, -1) if key[:n] in self._lines), 1)

    def fault(self, key: Key, must: str, found: str, do: str = "") -> None:
        """Note a fault of the value at ``key``."""
        line = self.line(key)
        where = ": ".join([f"{self.path}:{line}", *self._labels(key)])
        said = (line, Fault(one_line(where), must, one_line(found), one_line(do)))
        if said not in self._faults:
            self._faults.append(said)

    @property
    def sound(self) -> bool:
        """Whether no fault was found so far."""
        return not self._faults

    @property
    def faults(self) -> list[Fault]:
        """All faults so far, in the order of the lines."""
        return [fault for _, fault in sorted(self._faults, key=lambda each: each[0])]

    def done(self) -> None:
        """Raise all faults at once."""
        if self._faults:
            raise FileError(self.faults)

    def _labels(self, key: Key) -> list[str]:
        """``("wire", 0, "d_cu")`` -> ``wire "reel 0.50"``, ``d_cu``: an item of a list speaks for all that holds it."""
        labels: list[str] = []
        value: Any = self.data
        for part in key:
            value = _step(value, part)
            if isinstance(part, int) and labels:
                name = value.get("name") if isinstance(value, dict) else None
                labels = [f'{labels[-1]} "{name}"' if isinstance(name, str) and name else f"{labels[-1]} {part + 1}"]
            else:
                labels.append(str(part))
        return labels


def _step(value: Any, part: str | int) -> Any:
    try:
        return value[part]
    except (KeyError, IndexError, TypeError):
        return None


def _same_but_for_case(word: str, names: list[str]) -> list[str]:
    return [name for name in names if name.casefold() == word.casefold()]


def one_line(text: str) -> str:
    """A sentence stays on its line and of readable length, whatever stands in the file that it speaks of."""
    plain = "".join(sign if sign.isprintable() else " " for sign in text)
    return plain if len(plain) <= LONGEST else f"{plain[: LONGEST - 3]}..."


def _not_toml(path: Path, text: str, said: str) -> Fault:
    place = PLACE.fullmatch(said)
    what, number, column = (place["what"], place["line"], place["column"]) if place else (said, None, None)
    lines = text.split("\n") if number else text.rstrip().split("\n")
    line = lines[int(number) - 1 if number else -1].strip()
    where = f"{path}:{number}: column {column}" if number else f"{path}:{len(lines)}"
    bare = NO_QUOTES.fullmatch(line)
    do = 'A line reads: key = "value".'
    if "overwrite" in what or "twice" in what:
        do = "It stands in the file already."
    elif bare:
        do = f'Write: {bare["key"]} = "{DECIMAL_COMMA.sub(".", bare["value"])}".'
    return Fault(where, "TOML", one_line(f"`{line}` ({what[:1].lower()}{what[1:]})"), one_line(do))

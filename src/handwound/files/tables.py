"""From the tables of a document to rows, every fault noted on its line."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any, Protocol, TypeVar

from pydantic import ValidationError

from handwound.files.lines import Path as Key
from handwound.files.row import Row
from handwound.files.toml import Document, meant
from handwound.quantities import Measured, MisreadError, as_typed, quantities, read, show


class Named(Protocol):
    """Whatever lies on the shelf has a name."""

    @property
    def name(self) -> str: ...


R = TypeVar("R", bound=Row)
P = TypeVar("P")
N = TypeVar("N", bound=Named)


def known_only(document: Document, key: Key, known: Iterable[str]) -> None:
    """Note every key of a table that is none of its own."""
    table = _at(document.data, key)
    names = list(known)
    for name in table if isinstance(table, dict) else ():
        if name not in names:
            _unknown(document, (*key, name), names, "tables")


def row(document: Document, key: Key, model: type[R], beside: Collection[str] = ()) -> R | None:
    """The table at ``key``; None where it, or anything in it, is at fault. Keys ``beside`` are read elsewhere."""
    table = _at(document.data, key)
    if not isinstance(table, dict):
        document.fault(key, f"a table {_heading(key)}", as_typed(table))
        return None
    return sound(document, key, table, model, beside)


def sound(
    document: Document, key: Key, table: Mapping[str, Any], model: type[R], beside: Collection[str] = ()
) -> R | None:
    """The row that a table makes; None where anything in it is at fault, which is then noted at ``key``."""
    try:
        return model.model_validate({name: value for name, value in table.items() if name not in beside})
    except ValidationError as error:
        known = [field.alias or name for name, field in model.model_fields.items()]
        for each in error.errors(include_url=False):
            _note(document, key, [*known, *beside], each)
        return None


def rows(document: Document, key: Key, model: type[R]) -> list[tuple[Key, R]]:
    """The sound tables of the list at ``key``."""
    return [((*key, n), each) for n in places(document, key) if (each := row(document, (*key, n), model))]


def places(document: Document, key: Key) -> list[int]:
    """The numbers of the tables in the list at ``key``; a list that is written otherwise is a fault."""
    name = ".".join(str(part) for part in key)
    tables = _at(document.data, key)
    if tables is None:
        return []
    if not isinstance(tables, list):
        found = f"[{name}]" if isinstance(tables, dict) else as_typed(tables)
        document.fault(key, f"a list of tables, each under its own [[{name}]]", found, "Write double brackets.")
        return []
    return list(range(len(tables)))


def once(document: Document, *keys: Key) -> None:
    """Note every name that is used twice in the lists at ``keys``: a name must find one thing."""
    first: dict[str, int] = {}
    for here in ((*key, n, "name") for key in keys for n in places(document, key)):
        name = _at(document.data, here)
        if isinstance(name, str) and name in first:
            second(document, here, name, first[name])
        elif isinstance(name, str):
            first[name] = document.line(here)


def second(document: Document, key: Key, name: str, line: int) -> None:
    """Note a name that stands already in another line."""
    found = f'"{name}" a second time, as in line {line}'
    document.fault(key, "a name of its own", found, "Give one of them another name.")


def shelf(parts: tuple[N, ...] | None) -> dict[str, N] | None:
    """Things of the stock by their names; None where the stock could not be read."""
    return None if parts is None else {part.name: part for part in parts}


def find(
    document: Document, key: Key, word: str, known: Mapping[str, P] | None, must: str, listed: str = "On the shelf"
) -> P | None:
    """The thing of this name, or a fault that says which names there are; silent where nobody knows the names."""
    if known is None:
        return None
    if word not in known:
        document.fault(key, must, f'"{word}"', meant(word, known, listed))
    return known.get(word)


def spreads_apart(document: Document, key: Key, inner: str, less: Measured, outer: str, more: Measured) -> None:
    """Note two sizes in the right order whose spreads reach each other: within them the part would not exist."""
    most, least = less.value + less.spread, more.value - more.spread
    if less.value < more.value and most >= least:
        found = f"{inner} up to {show(inner, most, 4)} and {outer} down to {show(outer, least, 4)}"
        do = "Measure better, or give a smaller spread."
        document.fault((*key, inner), f"less than {outer} to the ends of both spreads", found, do)


def _note(document: Document, key: Key, known: list[str], error: Any) -> None:
    """One complaint of the structure, in the maker's words."""
    here = (*key, str(error["loc"][0]))
    reason = error.get("ctx", {}).get("error")
    if isinstance(reason, MisreadError):
        document.fault(here, reason.must, reason.found, reason.do)
    elif error["type"] == "extra_forbidden":
        _unknown(document, here, known)
    elif here[-1] in quantities():
        try:
            read(str(here[-1]), None)
        except MisreadError as lacking:
            document.fault(here, lacking.must, lacking.found, lacking.do)
    else:
        document.fault(here, "given", "nothing")


def _unknown(document: Document, key: Key, known: list[str], kind: str = "keys") -> None:
    of = _heading(key[:-1]) if len(key) > 1 else document.path.name
    document.fault(key, f"one of the {kind} of {of}", f'"{key[-1]}"', meant(key[-1], known, f"Its {kind}"))


def _heading(key: Key) -> str:
    name = ".".join(part for part in key if isinstance(part, str))
    return f"[[{name}]]" if isinstance(key[-1], int) else f"[{name}]"


def _at(data: Any, key: Key) -> Any:
    for part in key:
        if isinstance(data, dict):
            data = data.get(part)
        elif isinstance(data, list) and isinstance(part, int) and part < len(data):
            data = data[part]
        else:
            return None
    return data

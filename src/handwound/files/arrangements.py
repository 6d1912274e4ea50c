"""The short way to write an iron: the name of a usual motor, and for each of its rings the piece that it comes from."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from handwound.files.lines import Path as Key
from handwound.files.toml import Document, meant
from handwound.quantities import as_typed

Keys = dict[str, Any]
"""A ring's keys and values, as a file writes them."""
OF_ROLES = ("like", "against", "of")
"""What the table says of a role beside the keys of its ring."""


class Arrangement(NamedTuple):
    """One usual motor: the ring at its voice coil, and the keys of each of its rings."""

    plate: str
    rings: dict[str, Keys]
    more: dict[str, Keys]

    @property
    def roles(self) -> dict[str, Keys]:
        """All rings that it may have, from the bottom up."""
        return self.rings | self.more


@cache
def arrangements() -> dict[str, Arrangement]:
    """All usual motors, by name."""
    text = Path(__file__).with_name("arrangements.toml").read_text(encoding="utf8")
    return {
        name: Arrangement(each["plate"], each["rings"], each.get("more", {}))
        for name, each in tomllib.loads(text).items()
    }


def chosen(document: Document) -> Arrangement | None:
    """The arrangement that design.toml names; None where it names none, or none that is known."""
    iron = document.data.get("iron")
    name = iron.get("arrangement") if isinstance(iron, dict) else None
    return arrangements().get(name) if isinstance(name, str) else None


def known_arrangement(document: Document, name: str) -> None:
    """Note an arrangement that is none of the table."""
    if name not in arrangements():
        do = meant(name, arrangements(), "Arrangements")
        document.fault(("iron", "arrangement"), "a usual motor, or left out for a free list of rings", f'"{name}"', do)


def expanded(document: Document) -> dict[str, Keys]:
    """The rings that the arrangement makes, by their roles: its own keys, and over them what the file gives."""
    arrangement = chosen(document)
    found: dict[str, Keys] = {}
    for role, own in arrangement.roles.items() if arrangement else ():
        given: object = document.data["iron"].get(role)
        if arrangement and given is None and role in arrangement.more:
            continue
        if "like" in own and (given is None or isinstance(given, dict)):
            given = {"from": found.get(own["like"], {}).get("from")} | (given or {})
            if given["from"] is None:  # the piece that both come from is missed already
                continue
        found[role] = _keys(document, role, _own(own, found), {"from": given} if isinstance(given, str) else given)
    return {role: keys for role, keys in found.items() if keys}


def _own(own: Keys, found: dict[str, Keys]) -> Keys:
    """The keys of a role's ring; a magnet that stands against another turns its like pole to it."""
    keys = {name: value for name, value in own.items() if name not in OF_ROLES}
    if "against" in own:
        keys["magnetised"] = "up" if found.get(own["against"], {}).get("magnetised") == "down" else "down"
    return keys


def _keys(document: Document, role: str, own: Keys, given: object) -> Keys:
    key: Key = ("iron", role)
    if not isinstance(given, dict):
        found = "nothing" if given is None else as_typed(given)
        document.fault(key, 'the name of a piece, or a table of the keys of a ring, such as { from = "plate" }', found)
        return {}
    if "name" in given:
        document.fault((*key, "name"), "left out", as_typed(given["name"]), f'The ring is called "{role}" here.')
    if {"on", "under", "z"} & given.keys():  # it stands elsewhere, and so has another joint
        own = {name: value for name, value in own.items() if name not in ("on", "under", "joint")}
    return own | given | {"name": role}

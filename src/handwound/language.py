"""The language of what is printed: a message is looked up in the catalogue of the language that is spoken.

Messages are written in English in the code, and are their own keys. A catalogue is a ``.po`` file, the form that
translators know; a message that it lacks stays English.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).with_name("languages")
ENGLISH = "en"


@dataclass(frozen=True)
class Language:
    """A catalogue, and the sign between the whole and the parts of a number."""

    code: str = ENGLISH
    point: str = "."
    messages: Mapping[str, str] = field(default_factory=dict)


_spoken: ContextVar[Language] = ContextVar("spoken", default=Language())  # noqa: B039  it cannot be changed


def languages() -> tuple[str, ...]:
    """The codes of all languages there are, English first."""
    return ENGLISH, *sorted(path.stem for path in FOLDER.glob("*.po"))


def spoken() -> Language:
    """The language that is spoken here and now."""
    return _spoken.get()


@contextmanager
def speaking(language: str | Language) -> Iterator[None]:
    """Whatever is said inside is said in this language: a code of ``languages()``, or a language made elsewhere."""
    token = _spoken.set(language if isinstance(language, Language) else _read(language))
    try:
        yield
    finally:
        _spoken.reset(token)


def translated(message: str) -> str:
    """The message in the language that is spoken."""
    return spoken().messages.get(message, message)


def pointed(number: str) -> str:
    """A number with the decimal sign of the language that is spoken."""
    return number.replace(".", spoken().point)


@cache
def _read(code: str) -> Language:
    if code == ENGLISH:
        return Language()
    import polib  # no English sheet needs it

    catalogue = polib.pofile(str(FOLDER / f"{code}.po"))
    messages = {entry.msgid: entry.msgstr for entry in catalogue if entry.translated()}
    return Language(code, catalogue.metadata["X-Decimal-Point"], messages)

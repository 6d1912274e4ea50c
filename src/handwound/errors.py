"""Every error that a user's file, wish or reading can cause. Faces catch the root; faults of ours stay built-in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class HandwoundError(Exception):
    """The root of all errors a user can cause and can mend."""


@dataclass(frozen=True)
class Fault:
    """One thing wrong in a file: where it stands, what it must be, what was found, what to do."""

    where: str
    must: str
    found: str
    do: str = ""

    def __str__(self) -> str:
        sentence = f"{self.where}: must be {self.must}; found {self.found}."
        return f"{sentence} {self.do}" if self.do else sentence


class FileError(HandwoundError):
    """A file says something that cannot be used; holds all its faults at once."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class FieldError(HandwoundError):
    """The magnetic field of this motor could not be found."""


class SearchError(HandwoundError):
    """The search cannot begin: the job lacks something it needs."""


class JobError(HandwoundError):
    """The job cannot take this step yet; the sentence says what comes first."""

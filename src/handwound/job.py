"""A job is a folder a person can read and edit: the library's front door."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from handwound.errors import Fault, FileError, JobError
from handwound.files.brief import check_brief, read_brief
from handwound.files.design import check_design, check_together, read_design, without_choice, write_choice
from handwound.files.readings import append_reading, read_readings
from handwound.files.stock import read_stock
from handwound.files.toml import meant
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.reading import Reading
from handwound.quantities import as_typed

if TYPE_CHECKING:
    from handwound.parts.heat_study import HeatStudy
    from handwound.parts.prediction import Prediction
    from handwound.parts.ranking import Candidate, Choice, Ranking
    from handwound.parts.sound_study import SoundStudy
    from handwound.parts.study import MotorStudy

FILES = ("stock.toml", "brief.toml", "design.toml", "readings.csv")


class Job:
    """A folder with ``stock.toml``, ``brief.toml``, ``design.toml`` and ``readings.csv``.

    The files are the truth: they are read when first asked for, and results are computed from them. Open the job anew
    to read changed files.

    >>> job = Job("open-day")  # doctest: +SKIP
    >>> job.choose(job.search().candidates[0])  # doctest: +SKIP
    >>> job.predict().bands["driver.L_1W"]  # doctest: +SKIP
    """

    def __init__(self, folder: str | Path) -> None:
        self.folder = Path(folder)
        if not self.folder.is_dir():
            make = f"Make one with: handwound start {folder}"
            raise FileError([Fault(str(folder), "a job's folder", "none of that name", make)])

    @classmethod
    def start(cls, folder: str | Path, like: str = "open-day") -> Job:
        """A new folder with the files of an example job, ready to be changed. Never touches a file that is there."""
        if not str(folder).strip():
            raise FileError([Fault("folder", "the name of a new folder", as_typed(str(folder)))])
        place, example = Path(folder), example_folder(like)
        there = [name for name in FILES if (place / name).exists()]
        if there:
            found = f"{', '.join(there)} in it"
            raise FileError([Fault(str(folder), "a new or empty folder", found, "Choose another name.")])
        place.mkdir(parents=True, exist_ok=True)
        for name in FILES:
            shutil.copyfile(example / name, place / name)
        return cls(place)

    @classmethod
    def example(cls, folder: str | Path, like: str = "open-day") -> Job:
        """The example job in this folder, made where there is none, to be chosen anew.

        Refused where coils are chosen in a job that is no longer the example: that choice is somebody's own.
        """
        if not (Path(folder) / "stock.toml").exists():
            return cls.start(folder, like)
        job = cls(folder)
        job._faultless()
        chosen = any(coil.wire for coil in job.design.coils.values())
        if chosen and not job._is_still(example_folder(like)):
            raise JobError(
                f"{folder}: must be a new folder, or the example {like} as it was made; found a job of its own with "
                "its coils chosen, which stays as it is. Name another folder, or look at this job: "
                f"handwound predict {folder}"
            )
        return job

    def _is_still(self, example: Path) -> bool:
        """Whether nothing but the choice of the coils was changed since the files were copied."""
        here, there = self.folder / "design.toml", example / "design.toml"
        others = [(self.folder / name, example / name) for name in FILES if name != here.name]
        same = all(mine.exists() and mine.read_bytes() == copied.read_bytes() for mine, copied in others)
        return same and without_choice(here) == without_choice(there)

    @cached_property
    def stock(self) -> Stock:
        """What is on the shelf."""
        return read_stock(self.folder / "stock.toml")

    @cached_property
    def brief(self) -> Brief:
        """The wish and its limits."""
        return read_brief(self.folder / "brief.toml", self.stock)

    @cached_property
    def design(self) -> Design:
        """The build; its coils may still lack their wires."""
        return read_design(self.folder / "design.toml", self.stock)

    @property
    def readings(self) -> tuple[Reading, ...]:
        """The bench log."""
        return read_readings(self.folder / "readings.csv")

    def log(self, reading: Reading) -> None:
        """Add a reading to the end of the bench log."""
        append_reading(self.folder / "readings.csv", reading)

    def check(self) -> tuple[Fault, ...]:
        """Every fault of every file, in the order of the files.

        While the stock is at fault nothing is said about names that might stand in it.
        """
        brief, design = self.folder / "brief.toml", self.folder / "design.toml"
        faults = _told(lambda: self.stock)
        if faults:
            faults += _told(lambda: check_brief(brief)) + _told(lambda: check_design(design))
        else:
            faults += _told(lambda: self.brief) + _told(lambda: self.design)
        faults += _told(lambda: self.readings)
        return tuple(faults or check_together(self.design, design, self.brief, brief))

    def search(self, progress: Callable[[int, int, str], None] = lambda done, of, words: None) -> Ranking:
        """Builds from the wires of the stock that keep every limit of the brief, the loudest first."""
        from handwound.search.rank import search

        self._faultless()
        return search(self.design, self.brief, self.stock, progress)

    def choose(self, candidate: Candidate) -> None:
        """Write a candidate of the search into ``design.toml``; all else in the file stays as it was."""
        field, voice = candidate.field_coil, candidate.voice_coil
        write_choice(self.folder / "design.toml", _keys(field) if field else None, _keys(voice))
        self.__dict__.pop("design", None)

    def predict(self) -> Prediction:
        """Everything the chosen build will do, each number with its 5-95 % band."""
        from handwound.predict import predict

        self._chosen()
        return predict(self.design, self.brief)

    def motor(self) -> MotorStudy:
        """Everything about the motor of the chosen build: what it gives, what each part is worth, pulls, hum."""
        from handwound.motor import study

        self._chosen()
        return study(self.design, self.brief)

    def heat(
        self, t_run: float = 8 * 3600.0, on_off: tuple[float, float] | None = None, wav: str | Path | None = None,
        level: float | None = None,
    ) -> HeatStudy:  # fmt: skip
        """Everything about the heat of the chosen build: from cold, on other supplies, in a duty, with music.

        It is followed for ``t_run`` seconds; ``on_off`` is a duty in seconds, ``wav`` a sound file to be played,
        ``level`` that of its peaks in decibels in place of the brief's.
        """
        from handwound.files.wav import read_wav
        from handwound.heat import study

        self._chosen()
        brief = self.brief if level is None else replace(self.brief, level=level)
        return study(self.design, brief, t_run, on_off, read_wav(wav) if wav else None)

    def sound(self, f_tone: float | None = None, R_source: float | None = None) -> SoundStudy:
        """Everything about the sound of the chosen build: what moves, where it bends, what is heard, where to put it.

        ``f_tone`` is a note that shall be loud through the resistance ``R_source``; without them those of the brief.
        """
        from handwound.sound import study

        self._chosen()
        return study(self.design, self.brief, self.readings, f_tone, R_source)

    def _chosen(self) -> None:
        """All files sound, and every coil with a wire."""
        self._faultless()
        lacking = [name for name, coil in self.design.coils.items() if coil.wire is None]
        if lacking:
            raise JobError(
                f"{self.folder / 'design.toml'}: {' and '.join(lacking)}: must have a wire and a number of layers; "
                f"found none. Let handwound choose: handwound search {self.folder} --choose 1"
            )

    def _faultless(self) -> None:
        faults = self.check()
        if faults:
            raise FileError(faults)


def _keys(choice: Choice) -> dict[str, str | int]:
    """The choice as it is written down."""
    return {"wire": choice.wire, "n_l": choice.n_l}


def _told(read: Callable[[], object]) -> list[Fault]:
    """The faults that reading a file raises."""
    try:
        read()
    except FileError as error:
        return list(error.faults)
    return []


def example_folder(name: str) -> Path:
    """Where an example job lies: beside the package when installed, beside its source when not."""
    here = Path(__file__).resolve().parent
    shelf = (here.parents[1] / "examples", here / "examples")
    known = {place.parent.name: place.parent for each in shelf for place in sorted(each.glob("*/stock.toml"))}
    if name not in known:
        listed = meant(name, known, "Examples")
        raise JobError(f"example {name}: must be one of the example jobs; found none of that name. {listed}")
    return known[name]

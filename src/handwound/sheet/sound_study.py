"""The driver's sound in full as tables of words: one table a question, each with what to make of it."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.parts.sound_study import SoundStudy
from handwound.sheet import sound_bending, sound_heard, sound_moving, sound_places
from handwound.sheet.cautions import HEARING, Caution
from handwound.sheet.motor import Table


def before_picture(found: SoundStudy) -> tuple[Table, ...]:
    """What moves, what holds it, where it bends, what is heard."""
    return tuple(_before(found))


def _before(found: SoundStudy) -> Iterator[Table]:
    yield from sound_moving.masses(found.budget)
    yield from sound_moving.suspension(found.suspension)
    yield from sound_bending.tables(found)
    yield from sound_heard.tables(found)


def after_picture(found: SoundStudy) -> tuple[Table, ...]:
    """Where to put it, how far and how loud, the amplifier, one tone."""
    return tuple(sound_places.tables(found))


def cautions(found: SoundStudy) -> tuple[Caution, ...]:
    """What may hurt: only what applies."""
    return tuple(_cautions(found))


def _cautions(found: SoundStudy) -> Iterator[Caution]:
    most = float(found.sound.loudest.L_max.max())
    if most > HEARING:
        yield Caution(
            "Loud tones",
            f"A steady tone reaches {most:.0f} dB at 1 m, far more at an ear that is held close. Above "
            f"{HEARING:.0f} dB protect your ears, and begin every sweep quietly.",
        )
    full = found.full
    if full.P_cont is not None and full.P_vc > full.P_cont:
        yield Caution(
            "Hot coil",
            "The amplifier can put more into the coil than it bears for good: full volts only for moments; stop at any "
            "smell.",
        )

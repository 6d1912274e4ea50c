"""All questions about a driver's sound in one go."""

from __future__ import annotations

from collections.abc import Sequence

from handwound.parts.design import Brief, Design
from handwound.parts.reading import Reading
from handwound.parts.sound_study import SoundStudy
from handwound.sound.bending import bends, cards
from handwound.sound.build import Build
from handwound.sound.masses import budget
from handwound.sound.places import lodged, taped
from handwound.sound.suspension import held
from handwound.sound.thirds import step, thirds
from handwound.sound.tones import full, tones


def study(
    design: Design, brief: Brief, readings: Sequence[Reading] = (), f_tone: float | None = None,
    R: float | None = None,
) -> SoundStudy:  # fmt: skip
    """Everything about the sound of a design whose coils are chosen; ``f_tone`` is a note that shall be loud through
    the resistance ``R``, ``readings`` are those of the bench."""
    return tell(Build.of(design, brief), readings, f_tone, R)


def tell(
    build: Build, readings: Sequence[Reading] = (), f_tone: float | None = None, R: float | None = None
) -> SoundStudy:
    """The same of a build whose prediction is there."""
    sound = build.found.sound
    assert sound is not None, "a prediction tells of the sound"
    return SoundStudy(
        form=build.design.diaphragm.form,
        sound=sound,
        bands=build.found.bands,
        budget=budget(build, readings),
        suspension=held(build),
        bends=bends(build),
        cards=cards(build),
        thirds=thirds(build),
        step=step(build),
        lodged=lodged(build),
        taped=taped(build),
        full=full(build, sound.load),
        tones=tones(build, f_tone, R),
    )

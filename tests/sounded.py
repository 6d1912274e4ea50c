"""The examples with all that is told of their sound."""

from __future__ import annotations

from pathlib import Path

from handwound import Job
from handwound.parts.sound_study import SoundStudy
from handwound.sound.build import Build
from handwound.sound.study import tell
from tests.examples import started

Studied = tuple[Build, SoundStudy]


def studied(folder: Path) -> Studied:
    """An example, named as its folder, and all that there is to say about its sound."""
    job = Job(started(folder, folder.name))
    build = Build.of(job.design, job.brief)
    return build, tell(build)

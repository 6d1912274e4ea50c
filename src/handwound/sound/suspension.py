"""What holds the moving parts: over the stroke, against rocking, and hung in another way in the same width."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np
from scipy.interpolate import CubicSpline

from handwound import suspension
from handwound.heard.travel import PLACES
from handwound.parts.moving import Surround
from handwound.parts.sound_study import Hung, Suspension
from handwound.physics.suspension import stroke_75
from handwound.sound.build import Build, Other

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

STROKES = np.array([-2.0, -1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0])
"""Displacements that are told, in wanted strokes."""


def held(build: Build) -> Suspension:
    """All of it."""
    design, moving, x_pk = build.design, build.found.moving, float(build.brief.x_pk)
    surround, spider = design.surround, design.spider
    K_s = float(suspension.surround_stiffness(surround))
    K_sp = float(suspension.spider_stiffness(spider)) if spider else None
    told = build.found.sound
    assert told is not None, "a prediction tells of the sound"
    bare = replace(told.held, **suspension.rocking(replace(design, spider=None), moving, x_pk)._asdict())
    x = STROKES * x_pk
    K_x, F_x = over_stroke(told.held.x, told.held.K_x, x)
    others = (("as it is", surround), *_shapes(surround))
    return Suspension(
        x_pk=x_pk, K_s=K_s, K_sp=K_sp, k_dyn=suspension.gives(design), x=x, K_x=K_x, F_x=F_x, held=told.held,
        bare=bare if spider else None,
        others=tuple(hung(name, build.changed(replace(design, surround=each)), x_pk) for name, each in others),
    )  # fmt: skip


def over_stroke(x: Array, K_x: Array, at: Array) -> tuple[Array, Array]:
    """Stiffness at displacements, and the force that holds it there; nan where it has snapped."""
    known = np.isfinite(K_x)
    K = CubicSpline(x[known], K_x[known], extrapolate=False)(at)
    return K, K * at


def hung(name: str, other: Other, x_pk: float) -> Hung:
    """One way to hang it."""
    x = np.linspace(-3, 3, PLACES) * x_pk
    x_75 = stroke_75(x, suspension.stiffness_over_stroke(other.design, x))[-1]
    return Hung(name=name, Kms=other.moving.Kms, x_75=x_75 if isfinite(x_75) else None, fs=other.driver.fs)


def _shapes(surround: Surround) -> Iterator[tuple[str, Surround]]:
    """Other shapes of its sheet in the same width, as much stiffer than their sizes say as this one is."""
    sheet, wide = surround.sheet, (surround.d_out - surround.d_in) / 2
    thin = replace(sheet, t=sheet.t / 2, rho_A=sheet.rho_A / 2)
    if surround.form != "roll":
        yield "a half roll of its sheet", _instead(surround, replace(surround, form="roll", h_r=wide / 2, n_pleat=0))
    if surround.form != "flat":
        yield "a flat ring of its sheet", _instead(surround, replace(surround, form="flat", h_r=0.0, n_pleat=0))
    yield "half as thick", _instead(surround, replace(surround, sheet=thin))
    if surround.form != "roll":
        roll = replace(surround, form="roll", h_r=wide / 2, n_pleat=0, sheet=thin)
        yield "a half roll, half as thick", _instead(surround, roll)


def _instead(before: Surround, after: Surround) -> Surround:
    if before.K_s is None:
        return after
    of_shape = [
        suspension.surround_stiffness(replace(each, K_s=None, sheet=replace(each.sheet, E=before.sheet.E or 1.0)))
        for each in (before, after)
    ]
    return replace(after, K_s=before.K_s * of_shape[1] / of_shape[0])

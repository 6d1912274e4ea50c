"""Where the diaphragm bends: its own notes, and what another sheet, form, rib or cap on the same coil would do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import degrees, radians, tan
from typing import TYPE_CHECKING

import numpy as np

from handwound.cone import ON_FORMER, SIMPSON, Whole, neck, whole
from handwound.parts.design import Design
from handwound.parts.moving import Cap, Diaphragm, Ribs
from handwound.parts.sound import Bend
from handwound.parts.sound_study import Card
from handwound.physics.shell.linear import frequencies
from handwound.quantities import show
from handwound.sound.build import Build, weighed_alike

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

ACROSS, NOTES = (0, 2, 3, 4), 24
"""Lines of rest across it; so many notes are looked through for the first in which the diaphragm itself bends."""
OWN = 0.4
"""Share of the motion that the diaphragm has in a note that is its own: else the surround swings."""
ANGLES, ALIKE = (15.0, 25.0, 35.0, 45.0), 3.0
"""Cones that are told, and how near to one of them a cone counts as that. [°]"""
SEAM = 8e-3
"""Overlap of a cone's seam: common practice, no source. [m]"""
N_RIB, H_RIB, TO_RIM = 6, 5e-3, 0.9
"""Ribs that anybody can glue on [m], and how far out they go, in rims."""
OVER_NECK, HIGH = 1.2, 0.2
"""A cap's diameter over that of the neck, its height over its diameter."""


def bends(build: Build) -> tuple[Bend, ...]:
    """The first note by itself, in no air, for each number of lines of rest that cross the diaphragm; what the surround
    plays alone is no bending of the diaphragm."""
    of, low = whole(build.design, build.found.moving), 2 * float(build.found.driver.fs)
    found = []
    for n in ACROSS:
        f, shapes = frequencies(of.shell, n, of.held, NOTES, of.m_ring, of.coil, of.K_ring.real)
        moved = np.sum(shapes[:, :, : 2 if n == 0 else 3] ** 2, axis=2)
        first = next((k for k in range(NOTES) if f[k] > low and own(of, moved[k]) > OWN), None)
        found += [] if first is None else [Bend(n_across=n, f_bend=float(f[first]))]
    return tuple(found)


def own(of: Whole, moved: Array) -> float:
    """Share of the kinetic energy that former, diaphragm and cap have, of the squares of the nodes' motions."""
    shell, rim = of.shell, of.pieces["surround"]
    r, z = shell.r[shell.elements], shell.z[shell.elements]
    dA = r[:, 1] * np.hypot(r[:, 2] - r[:, 0], z[:, 2] - z[:, 0])
    energy = shell.rho_A * dA * (moved[shell.elements] @ SIMPSON)
    return float(1 - energy[rim].sum() / energy.sum())


def cards(build: Build) -> tuple[Card, ...]:
    """This diaphragm, then others of the same sheet."""
    found = []
    for name, design in (("as it is", build.design), *_others(build.design)):
        other = build.changed(design)
        Mmd, driver = float(other.moving.Mmd), other.driver
        found.append(Card(name=name, Mmd=Mmd, fs=driver.fs, L_1W=driver.L_1W, f_stiff=build.stiff_to(other)))
    return tuple(found)


def _others(design: Design) -> Iterator[tuple[str, Design]]:
    part = design.diaphragm
    if part.form != "disc":
        flat = replace(part, form="disc", h_c=0.0, w_seam=0.0, ribs=None)
        yield "a flat card", _with(design, flat)
    yield from _cones(design)
    thick = replace(part.sheet, t=2 * part.sheet.t, rho_A=2 * part.sheet.rho_A)
    yield "twice as thick", _with(design, replace(part, sheet=thick))
    if part.ribs:
        yield "without its ribs", _with(design, replace(part, ribs=None))
    else:
        inner = max(float(part.d_in), 2 * neck(design), float(design.cap.d_out) if design.cap else 0.0)
        ribs = Ribs(sheet=part.sheet, n_rib=N_RIB, h_rib=H_RIB, d_in=inner, d_out=TO_RIM * part.d_out)
        if inner < float(ribs.d_out):
            yield f"with {N_RIB} ribs of {show('h_rib', H_RIB)}", _with(design, replace(part, ribs=ribs))
    if design.cap:
        yield "without its cap", replace(design, cap=None)
    else:
        yield "with a domed cap", replace(design, cap=_cap(design))


def _cones(design: Design) -> Iterator[tuple[str, Design]]:
    part = design.diaphragm
    closed = float(part.d_in) < float(design.voice_coil.D_f) - ON_FORMER  # a cone needs a cap where that needs none
    d_in = 2 * neck(design) if closed else float(part.d_in)
    wide = (float(part.d_out) - d_in) / 2
    now = degrees(part.alpha_c) if part.form == "cone" else -ALIKE
    for angle in ANGLES:
        if abs(angle - now) >= ALIKE:
            seam = float(part.w_seam) or SEAM
            cone = replace(part, form="cone", d_in=d_in, h_c=wide * tan(radians(angle)), w_seam=seam, ribs=None)
            cap = design.cap or (_cap(design) if closed else None)
            yield f"a cone of {angle:.0f}°", replace(_with(design, cone), cap=cap)


def _with(design: Design, diaphragm: Diaphragm) -> Design:
    return replace(design, diaphragm=weighed_alike(design.diaphragm, diaphragm))


def _cap(design: Design) -> Cap:
    """A dome of the diaphragm's sheet over the neck."""
    d_out = min(OVER_NECK * 2 * neck(design), float(design.diaphragm.d_out))
    return Cap(form="dome", sheet=design.diaphragm.sheet, d_out=d_out, h_c=HIGH * d_out)

"""What would help: one change at a time that leads the heat away in another way, and where everything then ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import log10

from handwound.heat.driven import Driven
from handwound.materials import fillers, surfaces
from handwound.parts.design import Brief, Design
from handwound.parts.heat import PLACES, Box, Frame
from handwound.parts.heat_study import Help, State
from handwound.physics.programme import compression
from handwound.quantities import show
from handwound.warming import Bound

PAINT, BRIGHT = "painted", "bright steel"
FRAME = ("aluminium", 2e-3, 0.04)
"""A frame that anybody can saw from sheet: metal, thickness, both faces together. [m], [m²]"""
BOX = (0.010, 0.012)
"""A usual small box: the air in it, its wall. [m³], [m]"""
LESS = 0.9
"""A supply turned down to this share of both its limits."""
SMALL = 0.05
"""What moves the place nearest to its limit by less is not worth a line. [K]"""


def helps(build: Driven, end: State, place: Bound) -> tuple[Help, ...]:
    """Every change that the build has room for, what cools most first."""
    found = []
    for name, other in _changes(build):
        state = other.state(other.end())
        dT = getattr(state, place.place) - getattr(end, place.place)
        if abs(dT) >= SMALL:
            found.append(Help(name=name, end=state, dT_place=dT, dL=_louder(build, other)))
    return tuple(sorted(found, key=lambda each: each.dT_place))


def _louder(build: Driven, other: Driven) -> float:
    """What the level for the same volts gains: by the field, and by what the voice coil no longer loses."""
    before, after = build.end(), other.end()
    Bl, Bl_now = build.state(before).Bl, other.state(after).Bl
    field = 20 * log10(float(Bl_now) / float(Bl)) if Bl and Bl_now else 0.0
    return field - float(compression(other.music.R_T(after), build.music.R_T(before)))


def _changes(build: Driven) -> Iterator[tuple[str, Driven]]:
    design, brief = build.design, build.brief
    for name, changed in (*_surfaces(design), *_windings(design), *_frames(design)):
        yield name, build.changed(design=changed)
    for name, wish in _places(brief):
        yield name, build.changed(brief=wish)
    if brief.supply:
        supply = replace(brief.supply, V_max=LESS * brief.supply.V_max, I_max=LESS * brief.supply.I_max)
        yield f"supply turned down to {100 * LESS:.0f} %", build.changed(brief=replace(brief, supply=supply))


def _surfaces(design: Design) -> Iterator[tuple[str, Design]]:
    """All of the motor painted, or its steel bright."""
    rings = design.iron.rings
    for word, name in ((PAINT, "all of the motor painted"), (BRIGHT, "its steel bright and bare")):
        surface = surfaces.surface(word)
        changed = tuple(
            ring if ring.magnetised and word == BRIGHT else replace(ring, surface=surface) for ring in rings
        )
        if changed != rings:
            yield name, replace(design, iron=replace(design.iron, rings=changed))


def _windings(design: Design) -> Iterator[tuple[str, Design]]:
    """Varnish or wax where there is air between the wires."""
    coil = design.field_coil
    if coil is None or (coil.filler and coil.filler.name != "air"):
        return
    for kind in ("varnish", "wax"):
        filled = replace(coil, filler=fillers.filler(kind))
        yield f"field winding soaked in {kind}", replace(design, field_coil=filled)


def _frames(design: Design) -> Iterator[tuple[str, Design]]:
    """A frame of sheet on the plate, where there is none."""
    if design.frame is None:
        metal, t, A = FRAME
        paint = surfaces.surface(PAINT)
        frame = Frame(on=design.iron.plate[0], metal=metal, t_frame=t, A_frame=A, surface=paint)
        size = f"{show('A_frame', A)} of {show('t_frame', t)} {metal}"
        yield f"a painted frame at {frame.on}, {size}", replace(design, frame=frame)


def _places(brief: Brief) -> Iterator[tuple[str, Brief]]:
    for placed in PLACES:
        if placed != brief.placed:
            yield f"placed {placed}", replace(brief, placed=placed)
    if brief.box:
        yield "out of its box", replace(brief, box=None)
    else:
        V_box, t_box = BOX
        yield f"in a closed box of {show('V_box', V_box)}", replace(brief, box=Box(V_box=V_box, t_box=t_box))

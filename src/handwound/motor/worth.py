"""What each part, each joint and each millimetre of a motor is worth, in decibels of the level at a given current."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import groupby
from math import log10

from handwound import iron_field
from handwound.errors import FieldError
from handwound.files.ring import joints
from handwound.motor.build import Build
from handwound.parts.iron import Iron, Ring
from handwound.parts.study import Worth
from handwound.physics.field import Problem, solve
from handwound.physics.field.costs import costs
from handwound.physics.field.sensitivity import FOR_DIFFERENCES
from handwound.quantities import show

STEP, STEP_GAP, STEP_NI = 1e-3, 1e-4, 0.1
"""A millimetre of a size, a tenth of one beside the gap, a tenth of the ampere-turns."""
EDGE = 1e-6
SIZES = {"d_in": "hole of {name} {step} wider", "d_out": "{name} {step} wider", "t": "{name} {step} {more}"}
Named = Iterator[tuple[str, Problem]]


def worths(build: Build) -> tuple[Worth, ...]:
    """The changes that matter, those that cost most first."""
    field, coil = build.field, build.coil
    place = (coil.r_in, coil.r_out, coil.z_lo, coil.z_hi)
    solution = solve(field.problem, field.solution.NI, fineness=FOR_DIFFERENCES)
    changed = [*_missing(build), *_joints(build), *_sizes(build)]
    found = [Worth(name=cost.name, dL=cost.dL) for cost in costs(solution, place, changed, coil.N)]
    return tuple(sorted((*found, *_of_coil(build), *_of_current(build)), key=lambda each: float(each.dL)))


def legs(build: Build) -> float | None:
    """Level of a yoke of flat bars when its legs are taken in the other way; None where there are no legs. [dB]"""
    if not any(ring.n_legs for ring in build.design.iron.rings):
        return None
    coil, field = build.coil, build.field
    place = (coil.r_in, coil.r_out, coil.z_lo, coil.z_hi)
    other = iron_field.with_spread_legs(field.problem, build.design.iron)
    both = (solve(each, field.solution.NI, fineness=FOR_DIFFERENCES) for each in (field.problem, other))
    as_ring, spread = (float(each.Bl(*place, coil.N)) for each in both)
    return 20 * log10(abs(spread / as_ring))


def _missing(build: Build) -> Named:
    """Each ring left out, those of one pile together; the plate stays, without it there is no motor."""
    iron = build.design.iron
    for pile, rings in groupby(iron.rings, key=lambda ring: pile_of(ring.name)):
        names = {ring.name for ring in rings}
        if names & set(iron.plate):
            continue
        left = tuple(ring for ring in build.field.problem.rings if ring.name not in names)
        if left:
            yield f"without {pile}", replace(build.field.problem, rings=left)


def pile_of(name: str) -> str:
    """The name of a pile that a ring belongs to: "top 2" is of "top"."""
    base, _, number = name.rpartition(" ")
    return base if base and number.isdigit() else name


def _joints(build: Build) -> Named:
    """Each joint without air and with two coats of paint, and all of them so."""
    iron, painted = build.design.iron, joints()["painted"].value
    jointed = [ring for ring in iron.rings if (ring.on or ring.under) and ring.joint > 0]
    groups = [(f"joint of {ring.name} and {ring.on or ring.under}", {ring.name}) for ring in jointed]
    if len(jointed) > 1:
        groups.append(("all joints", {ring.name for ring in jointed}))
    for words, names in groups:
        for joint, how in ((0.0, "without any air"), (painted, "painted")):
            yield from _changed(build, f"{words} {how}", lambda r, j=joint: {"joint": j}, names)  # type: ignore[misc]


def _sizes(build: Build) -> Named:
    """Each size a little larger; smaller where there is no room."""
    d_i, d_o = build.design.iron.room(2 * build.coil.r_in, *map(float, build.design.iron.plate_levels()))
    beside = [float(d) for d in (d_i, d_o) if d is not None]
    for ring in build.design.iron.rings:
        for size, words in SIZES.items():
            value = float(getattr(ring, size))
            if not value:
                continue
            step = STEP_GAP if size != "t" and any(abs(value - d) < EDGE for d in beside) else STEP
            more = "longer" if 2 * ring.t > ring.d_out - ring.d_in else "thicker"
            name = words.format(name=ring.name, step=show("t", step), more=more)
            yield from _changed(build, name, lambda r, s=size, d=step: {s: getattr(r, s) + d}, {ring.name})  # type: ignore[misc]


def _changed(build: Build, name: str, change: Callable[[Ring], dict[str, float]], names: set[str]) -> Named:
    """The motor with some rings changed, where that has room."""
    iron = build.design.iron
    rings = tuple(replace(ring, **change(ring)) if ring.name in names else ring for ring in iron.rings)  # type: ignore[arg-type]
    try:
        yield name, build.problem(replace(build.design, iron=_iron(iron, rings)))
    except FieldError:
        return


def _iron(iron: Iron, rings: tuple[Ring, ...]) -> Iron:
    return replace(iron, rings=rings)


def _of_coil(build: Build) -> Iterator[Worth]:
    """The voice coil a millimetre further out and further in."""
    coil = build.coil
    place = (coil.r_in, coil.r_out, coil.z_lo, coil.z_hi)
    inward, rest, outward = abs(build.field.solution.Bl(*place, coil.N, [-STEP, 0.0, STEP])).tolist()
    for words, Bl in (("out", outward), ("in", inward)):
        yield Worth(name=f"voice coil set {show('x', STEP)} further {words}", dL=20 * log10(Bl / rest))


def _of_current(build: Build) -> Iterator[Worth]:
    """More ampere-turns, as far as they bring more."""
    if build.done.excitation is None:
        return
    coil, NI = build.coil, float(build.done.excitation.NI)
    place = (coil.r_in, coil.r_out, coil.z_lo, coil.z_hi)
    Bl, more = (float(build.field.Bl(place, coil.N, k * NI)) for k in (1.0, 1 + STEP_NI))
    yield Worth(name="a tenth more ampere-turns", dL=20 * log10(more / Bl))

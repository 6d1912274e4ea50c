"""What each part, each joint and each millimetre of a motor is worth, in decibels of the level at a given current."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import groupby
from math import log10, sqrt
from typing import Any

from handwound import iron_field
from handwound.errors import FieldError
from handwound.materials.joints import joints
from handwound.motor.solved import Solved
from handwound.parts.iron import Iron, Ring
from handwound.parts.study import Worth
from handwound.physics.field import Problem, solve
from handwound.physics.field.costs import costs
from handwound.physics.field.sensitivity import FOR_DIFFERENCES
from handwound.quantities import show

STEP, STEP_GAP, STEP_NI = 1e-3, 1e-4, 0.1
"""A millimetre of a size, a tenth of one beside the gap, a tenth of the ampere-turns."""
EDGE = 1e-6
SIZES = {"d_in": "hole of {name} {step} {way}", "d_out": "{name} {step} {way}", "t": "{name} {step} {way}"}
WAYS = {"width": ("wider", "narrower"), "length": ("longer", "shorter"), "thickness": ("thicker", "thinner")}
"""What a size is called when it is larger, and when it is smaller."""
Pile = tuple[str, tuple[Ring, ...]]
Change = Callable[[Ring], dict[str, Any]]
Named = Iterator[tuple[str, Problem]]


def worths(build: Solved) -> tuple[Worth, ...]:
    """The changes that matter, those that cost most first."""
    field, coil = build.field, build.coil
    solution = solve(field.problem, field.solution.NI, fineness=FOR_DIFFERENCES)
    changed = [*_missing(build), *_joints(build), *_sizes(build)]
    found = [Worth(name=cost.name, dL=cost.dL) for cost in costs(solution, coil.rectangle, changed, coil.N)]
    return tuple(sorted((*found, *_of_coil(build), *_of_current(build)), key=lambda each: float(each.dL)))


def legs(build: Solved) -> float | None:
    """Level of a yoke of flat bars when its legs are taken in the other way; None where there are no legs. [dB]"""
    if not any(ring.n_legs for ring in build.design.iron.rings):
        return None
    coil, field = build.coil, build.field
    other = iron_field.with_spread_legs(field.problem, build.design.iron)
    both = (solve(each, field.solution.NI, fineness=FOR_DIFFERENCES) for each in (field.problem, other))
    as_ring, spread = (float(each.Bl(*coil.rectangle, coil.N)) for each in both)
    return 20 * log10(abs(spread / as_ring))


def piles(iron: Iron) -> list[Pile]:
    """The rings, those of a stack of like pieces ("top 1", "top 2") together under their common name."""
    stacks = groupby(iron.rings, key=lambda ring: _stack(ring.name))
    return [(name, tuple(rings)) for name, rings in stacks]


def _stack(name: str) -> str:
    base, _, number = name.rpartition(" ")
    return base if base and number.isdigit() else name


def _missing(build: Solved) -> Named:
    """Each ring left out, those of one pile together; the plate stays, without it there is no motor."""
    iron = build.design.iron
    for pile, rings in piles(iron):
        names = {ring.name for ring in rings}
        left = tuple(ring for ring in build.field.problem.rings if ring.name not in names)
        if left and not names & set(iron.plate):
            yield f"without {pile}", replace(build.field.problem, rings=left)


def _joints(build: Solved) -> Named:
    """Each joint without air and with two coats of paint, and all of them so."""
    painted = joints()["painted"].value
    groups = list(_jointed(build.design.iron))
    if len(groups) > 1:
        groups.append(("all joints", set().union(*(names for _, names in groups))))
    for words, names in groups:
        for joint, how in ((0.0, "without any air"), (painted, "painted")):
            yield from _changed(build, f"{words} {how}", names, lambda _, joint=joint: {"joint": joint})  # type: ignore[misc]


def _jointed(iron: Iron) -> Iterator[tuple[str, set[str]]]:
    """Words for each joint that has air, and the rings that it lies below; those within a stack together."""
    for pile, rings in piles(iron):
        open_ = [ring for ring in rings if (ring.on or ring.under) and ring.joint > 0]
        inner = {ring.name for ring in open_ if _stack(ring.on or ring.under or "") == pile}
        for ring in open_:
            if ring.name not in inner:
                yield f"joint of {pile} and {_stack(ring.on or ring.under or '')}", {ring.name}
        if inner:
            yield f"joints within {pile}", inner


def _sizes(build: Solved) -> Named:
    """Each size a little larger, or smaller where it has no room; the legs of a yoke thicker, or one more of them."""
    beside = set(_beside(build))
    for pile, rings in piles(build.design.iron):
        if rings[0].n_legs:
            yield from _legs(build, rings[0])
        for size, words in SIZES.items():
            if not float(getattr(rings[0], size)) or (rings[0].n_legs and size != "t"):
                continue
            step = STEP_GAP if any((ring.name, size) in beside for ring in rings) else STEP
            names = {ring.name for ring in (rings[:1] if size == "t" else rings)}
            for way, by in zip(WAYS[_kind(rings[0], size)], (step, -step), strict=True):
                name = words.format(name=pile, step=show("t", step), way=way)
                found = list(_changed(build, name, names, partial(_larger, size=size, step=by)))
                if found:
                    yield from found
                    break


def _kind(ring: Ring, size: str) -> str:
    """What one calls a size: its width across; along the axis the length of a bar or pipe, the thickness of a plate."""
    if size != "t":
        return "width"
    return "length" if 2 * ring.t > ring.d_out - ring.d_in else "thickness"


def _beside(build: Solved) -> Iterator[tuple[str, str]]:
    """The rings that the voice coil moves beside, and the size of each that faces it."""
    iron = build.design.iron
    low, high = (float(level) for level in iron.plate_levels())
    magnetic = [ring.name for ring in build.field.problem.rings if ring.curve or ring.magnet]
    room = iron.room(2 * build.coil.r_in, low, high, magnetic)
    for ring in (ring for ring in iron.rings if ring.name in magnetic):
        z_lo, z_hi = (float(level) for level in iron.levels()[ring.name])
        if z_hi <= low or z_lo >= high:
            continue
        for d, size, faced in zip(ring.reach(low - z_lo, high - z_lo), ("d_in", "d_out"), room[::-1], strict=True):
            if faced is not None and abs(float(d) - float(faced)) < EDGE:
                yield ring.name, size


def _larger(ring: Ring, size: str, step: float) -> dict[str, Any]:
    """A size larger by a step; a sloped side as a whole."""
    high = getattr(ring, f"{size}_hi", None)
    return {size: getattr(ring, size) + step} | ({} if high is None else {f"{size}_hi": high + step})


def _legs(build: Solved, ring: Ring) -> Named:
    """Legs of thicker bar, and one leg more: more iron in the ring that stands for them, under the same rim."""
    thicker = 1 + STEP / float(ring.t_leg or STEP)
    changes = (
        (f"bars of {ring.name} {show('t', STEP)} thicker", thicker),
        (f"one bar more in {ring.name}", 1 + 1 / ring.n_legs),
    )
    for name, share in changes:
        area = share * (float(ring.d_out) ** 2 - float(ring.d_in) ** 2)
        if area < float(ring.d_out) ** 2:
            d_in = sqrt(float(ring.d_out) ** 2 - area)
            yield from _changed(build, name, {ring.name}, lambda _, d_in=d_in: {"d_in": d_in})  # type: ignore[misc]


def _changed(build: Solved, name: str, names: set[str], change: Change) -> Named:
    """The motor with some rings changed, where that has room."""
    iron = build.design.iron
    rings = tuple(replace(ring, **change(ring)) if ring.name in names else ring for ring in iron.rings)
    try:
        yield name, build.problem(replace(build.design, iron=replace(iron, rings=rings)))
    except FieldError:
        return


def _of_coil(build: Solved) -> Iterator[Worth]:
    """The voice coil a millimetre further out and further in."""
    coil = build.coil
    inward, rest, outward = abs(build.field.solution.Bl(*coil.rectangle, coil.N, [-STEP, 0.0, STEP])).tolist()
    for words, Bl in (("out", outward), ("in", inward)):
        yield Worth(name=f"voice coil set {show('x', STEP)} further {words}", dL=20 * log10(Bl / rest))


def _of_current(build: Solved) -> Iterator[Worth]:
    """More ampere-turns, as far as they bring more."""
    if build.done.excitation is None:
        return
    coil, NI = build.coil, float(build.done.excitation.NI)
    Bl, more = (float(build.field.Bl(coil.rectangle, coil.N, k * NI)) for k in (1.0, 1 + STEP_NI))
    yield Worth(name="a tenth more ampere-turns", dL=20 * log10(more / Bl))

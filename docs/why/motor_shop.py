"""The motors of motor.md: the two examples as they stand, and the iron that is tried in their place."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import log10
from pathlib import Path
from typing import Any

from handwound import iron_field
from handwound.iron_field import Field
from handwound.job import Job
from handwound.materials import magnets
from handwound.materials.joints import joints
from handwound.motor.solved import Solved
from handwound.parts.design import Brief, Design
from handwound.parts.iron import Iron, Ring
from handwound.parts.wire import Wire
from handwound.physics.field import Problem
from handwound.predict import chain, feed
from handwound.stages import coil_place

MILD = "mild_steel"
CLEAN, AS_BOUGHT, PAINTED = (float(joints()[word].value) for word in ("clean", "as bought", "painted"))
MORE_WIRE = "".join(f'\n[[wire]]\nname = "{size}"\nsize = "{size}"\ngrade = 1\n' for size in ("0.40", "0.56"))


@lru_cache(maxsize=2)
def example(name: str) -> tuple[Design, Brief, dict[str, Wire]]:
    """An example's design and brief, and all wires by name."""
    with tempfile.TemporaryDirectory() as place:
        job = Job.start(Path(place) / name, name)
        with (job.folder / "stock.toml").open("a", encoding="utf8") as stock:
            stock.write(MORE_WIRE)
        return job.design, job.brief, {wire.name: wire for wire in job.stock.wires}


@lru_cache(maxsize=1)
def pot() -> Solved:
    """The open-day motor: 21 layers of 0.50 around the pole, 2 layers of 0.18 in the gap."""
    design, brief, wires = example("open-day")
    assert design.field_coil
    field_coil = replace(design.field_coil, wire=wires["reel 0.50"], n_l=21)
    voice_coil = replace(design.voice_coil, wire=wires["reel 0.18"], n_l=2)
    return taken(replace(design, field_coil=field_coil, voice_coil=voice_coil), brief)


@lru_cache(maxsize=1)
def ring_magnet() -> Solved:
    """The repair-pair motor: a ferrite ring between two plates, 2 layers of 0.17."""
    design, brief, wires = example("repair-pair")
    return taken(replace(design, voice_coil=replace(design.voice_coil, wire=wires["unknown reel"], n_l=2)), brief)


def taken(design: Design, brief: Brief) -> Solved:
    """A design as far as the page asks: its field at the working point and a little below."""
    D_w = N = NI = 0.0
    if design.field_coil:
        fed = feed(design.field_coil, brief)
        D_w, N, NI = float(fed.wound.D_w), float(fed.wound.N), float(fed.cold.NI)
    asked = iron_field.problem(design, D_w, N, T=float(brief.T_room))
    field = iron_field.over(asked, (0.8 * NI, NI), 1) if NI else iron_field.over(asked, (0.0,), 0)
    done = chain(design, brief, field)
    place = coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    return Solved(design, brief, field, done, iron_field.coil_of(place, done.voice_winding.N))


def fields(problem: Problem, NI: Sequence[float]) -> Field:
    """The field at each of some ampere-turns, the last one the working point."""
    return iron_field.over(problem, tuple(NI), len(NI) - 1)


def Bl(build: Solved, problem: Problem, NI: float | None = None) -> float:
    """What a motor gives the voice coil of a build, at the same ampere-turns or others. [T·m]"""
    asked = build.field.solution.NI if NI is None else NI
    return abs(float(fields(problem, (asked,)).solution.Bl(*build.coil.rectangle, build.coil.N)))


def at_rest(build: Solved) -> float:
    """Bl of the build's own voice coil. [T·m]"""
    return abs(float(build.field.solution.Bl(*build.coil.rectangle, build.coil.N)))


def cost(build: Solved, problem: Problem) -> float:
    """Level of a changed motor against the build's own at the same currents. [dB]"""
    return 20 * log10(Bl(build, problem) / at_rest(build))


def with_iron(build: Solved, *rings: Ring, plate: Sequence[str] = ("top",)) -> Design:
    """The build's design around another iron."""
    return replace(build.design, iron=Iron(name="tried", plate=tuple(plate), rings=rings))


def changed(build: Solved, **changes: dict[str, Any]) -> Design:
    """The build's design with numbers of some rings changed."""
    rings = [replace(ring, **changes.get(ring.name, {})) for ring in build.design.iron.rings]
    return replace(build.design, iron=replace(build.design.iron, rings=tuple(rings)))


def without(build: Solved, *names: str) -> Design:
    """The build's design with some rings taken out; the others stay where they are."""
    levels = build.design.iron.levels()
    left = [ring for ring in build.design.iron.rings if ring.name not in names]
    held = [replace(r, on=None, under=None, joint=0.0, z=levels[r.name][0]) if r.on in names else r for r in left]
    return replace(build.design, iron=replace(build.design.iron, rings=tuple(held)))


def ring(name: str, d_out: float, t: float, on: str | None = None, **more: Any) -> Ring:
    """A ring of mild steel on a clean joint, unless told otherwise. Sizes in metres."""
    return Ring(**{"name": name, "grade": MILD, "d_in": 0.0, "d_out": d_out, "t": t, "on": on,
                   "joint": CLEAN if on else 0.0, **more})  # fmt: skip


def spool(d_flange: float) -> Solved:
    """The pot's plates, pole and field coil as an open spool: the voice coil round the top flange, as far from it."""
    build = pot()
    voice, pole, top = build.design.voice_coil, 25e-3, 6e-3
    wider = d_flange - pole
    design = with_iron(
        build, ring("back", 68e-3, 6e-3), ring("pole", pole, 46e-3, "back"), ring("top", d_flange, top, "pole")
    )
    coil = replace(voice, D_fi=voice.D_fi + wider, D_f=voice.D_f + wider)
    return taken(replace(design, voice_coil=coil), build.brief)


def magnet(name: str, grade: str, d_out: float, t: float, on: str | None = None, **more: Any) -> Ring:
    """A magnet with its north pole in front, on a clean joint. Sizes in metres."""
    return ring(name, d_out, t, on, **{"grade": grade, "magnetised": "up", "B_rem": magnets.grade(grade).B_rem, **more})


def cup(count: int, d_out: float, t: float, grade: str = "N42") -> Solved:
    """The pot's plates, its pipe sawn off, and in place of the field coil a pile of discs with a slice of bar on it."""
    build, on, discs, plate = pot(), "back", [], 6e-3
    for k in range(1, count + 1):
        discs.append(magnet(f"disc {k}", grade, d_out, t, on))
        on = f"disc {k}"
    wall = count * (t + CLEAN) - CLEAN
    shell = ring("shell", 60.3e-3, wall, "back", d_in=53.1e-3)
    top = ring("top", 68e-3, plate, "shell", d_in=28e-3)
    pole = ring("pole", 25e-3, plate, on)
    design = with_iron(build, ring("back", 68e-3, plate), shell, top, *discs, pole, plate=["pole"])
    return taken(replace(design, field_coil=None), build.brief)


def with_bucking(*more: Ring, t: float = 15e-3, grade: str = "Y30BH") -> Solved:
    """The ring magnet motor with a second ring behind its back plate, turned round, and further rings."""
    build = ring_magnet()
    second = magnet("bucking", grade, 72e-3, t, d_in=32e-3, under="back", joint=CLEAN, magnetised="down")
    return taken(with_iron(build, *build.design.iron.rings, second, *more), build.brief)


def sliced(name: str, count: int, joint: float) -> Design:
    """The pot with one part cut into slices, a joint between each two; the last one keeps the part's name."""
    build, rings = pot(), []
    for whole in build.design.iron.rings:
        cuts = count if whole.name == name else 1
        under, gap = whole.on, whole.joint
        for k in range(1, cuts + 1):
            called = whole.name if k == cuts else f"{whole.name} {k}"
            rings.append(replace(whole, name=called, t=whole.t / cuts, on=under, joint=gap))
            under, gap = called, joint
    return with_iron(build, *rings, plate=[each.name for each in rings if each.name.startswith("top")])


def tip(*parts: tuple[float, float, float]) -> Design:
    """The pot with its pole made of parts: diameters at their lower and upper faces, and heights."""
    build, on = pot(), "back"
    rings = [each for each in build.design.iron.rings if each.name != "pole"]
    for k, (d_out, d_out_hi, t) in enumerate(parts, 1):
        rings.append(ring(f"pole {k}", d_out, t, on, d_out_hi=d_out_hi, joint=0.0 if k > 1 else CLEAN))
        on = f"pole {k}"
    return with_iron(build, *rings)


def capped() -> Solved:
    """The pot with a thimble of copper over the end of its pole: a cap, and a sleeve that reaches under the plate."""
    build, wall, t = pot(), 0.2e-3, 0.3e-3
    cap = ring("cap", 25e-3 + 2 * wall, t, "pole", grade="copper")
    sleeve = ring("sleeve", 25e-3 + 2 * wall, 20e-3, d_in=25e-3, grade="copper", under="cap", joint=0.0)
    return taken(with_iron(build, *build.design.iron.rings, cap, sleeve), build.brief)

"""The examples with a build chosen by hand, and their motors laid out from their drawings."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from typing import NamedTuple

from handwound import predict
from handwound.iron_field import Field
from handwound.job import Job, example_folder
from handwound.materials import steels
from handwound.motor.solved import Solved
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.physics.field import Magnet, Problem, Ring, Winding
from handwound.sounding import Blocked

MM = 1e-3
Laid = tuple[Problem, float, float]
"""A motor, its ampere-turns, and the middle of its plate. [A], [m]"""
CHOSEN = {
    "open-day": {"field_coil": ("reel 0.50", 21), "voice_coil": ("reel 0.18", 2)},
    "repair-pair": {"voice_coil": ("unknown reel", 2)},
}
"""Wire and layers of each coil of an example that keep every limit of its brief."""
EXAMPLES = (*CHOSEN, "rescue")
"""All examples; the last is built already, as the first is chosen: its own files say what was wound."""


def edit(path: Path, pattern: str, replacement: str) -> None:
    """Change one place of a file, which must be there."""
    text, count = re.subn(pattern, replacement, path.read_text(encoding="utf8"), count=1)
    assert count == 1, f"{pattern} is not in {path.name}"
    path.write_text(text, encoding="utf8")


def choose(design: Path, chosen: dict[str, tuple[str, int]]) -> None:
    """Write wires and layers into a design, as a search would."""
    for coil, (wire, n_l) in chosen.items():
        edit(design, rf"(?m)^\[{coil}\]\n", f'[{coil}]\nwire = "{wire}"\nn_l = {n_l}\n')


def started(folder: Path, like: str) -> Path:
    """An example with its build chosen."""
    shutil.copytree(example_folder(like), folder)
    choose(folder / "design.toml", CHOSEN.get(like, {}))
    return folder


class Built(NamedTuple):
    """An example through all stages, with its field and its voice coil held still."""

    design: Design
    brief: Brief
    field: Field
    Z_b: Blocked
    done: Chain


def built(folder: Path, like: str) -> Built:
    """An example with its build chosen, and what it does."""
    job = Job(started(folder, like))
    field = predict.field_of(job.design, job.brief)
    Z_b = predict.blocked(job.design, job.brief, field)
    return Built(job.design, job.brief, field, Z_b, predict.chain(job.design, job.brief, field, Z_b=Z_b))


def repair_pair(magnet: float = 15.0, pole: float = 20.0, glue: float = 0.05, top: float = 5.0) -> Laid:
    """The repair-pair motor from its drawing, in millimetres.

    Its ferrite is 1 K warmer than 20 °C at -0.2 %/K (from memory).
    """
    steel, plate = steels.curve("mild_steel"), 5.05 + magnet + glue
    rings = (
        Ring("back", 0, 35 * MM, 0, 5 * MM, steel),
        Ring("magnet", 16 * MM, 36 * MM, 5.05 * MM, (5.05 + magnet) * MM, magnet=Magnet(0.37 * 0.998, 1.07, "up")),
        Ring("top", 11.3 * MM, 35 * MM, plate * MM, (plate + top) * MM, steel),
        Ring("pole", 0, pole / 2 * MM, 5.03 * MM, 25.13 * MM, steel),
    )
    gap = (pole / 2 * MM, 11.3 * MM, (plate - 5) * MM, (plate + top + 5) * MM)
    return Problem(rings, None, (gap,)), 0.0, (plate + top / 2) * MM


def pot(
    build: Solved, shell: float = 46.0, top: float = 6.0, bore: float = 28.0, pole: float = 52.0,
    joints: tuple[float, float, float] = (0.03, 0.03, 0.03), without: str = "", more: float = 1.0,
) -> Laid:  # fmt: skip
    """The open-day motor from its drawing, in millimetres."""
    on_back, on_shell, pole_on_back = joints
    steel, plate = steels.curve("mild_steel"), 6.0 + on_back + shell + on_shell
    rings = [
        Ring("back", 0, 34 * MM, 0, 6 * MM, steel),
        Ring("shell", (30.15 - 3.6) * MM, 30.15 * MM, (6 + on_back) * MM, (6 + on_back + shell) * MM, steel),
        Ring("top", bore / 2 * MM, 34 * MM, plate * MM, (plate + top) * MM, steel),
        Ring("pole", 0, 12.5 * MM, (6 + pole_on_back) * MM, (6 + pole_on_back + pole) * MM, steel),
    ]
    field = build.done.field_winding
    assert field and build.done.excitation
    winding = Winding(14.5 * MM, float(field.D_w) / 2, 7.5 * MM, 50.7 * MM, float(field.N))
    gap = (12.5 * MM, bore / 2 * MM, (plate - 6) * MM, (plate + top + 6) * MM)
    kept = tuple(ring for ring in rings if ring.name != without)
    return Problem(kept, winding, (gap,)), more * float(build.done.excitation.NI), (plate + top / 2) * MM

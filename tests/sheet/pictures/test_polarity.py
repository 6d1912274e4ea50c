"""Which end is plus: held against the cross product, and against solved fields of every usual motor."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import iron_field
from handwound.files.arrangements import arrangements
from handwound.physics.field import solve
from handwound.sheet.drawing.polarity import Polarity, polarity
from tests.files import usual
from tests.sheet import demo

MM = 1e-3


def design_of(folder, name: str):
    read = usual.read(usual.write(folder, name))
    field = read.field_coil and replace(read.field_coil, wire=demo.wire("reel", 0.5 * MM, 0.55 * MM), n_l=4)
    return replace(read, field_coil=field)


def outward(design, way: Polarity) -> bool:
    """Kind of truth: second method, the solved field beside the plate with the current the way that it is drawn."""
    D_w = float(design.field_coil.D_f) + 4 * MM if design.field_coil else 0.0
    asked = iron_field.problem(design, D_w, 100.0 if design.field_coil else 0.0)
    # a positive current runs against the clock seen from the front, where z points
    NI = 0.0 if way.field is None else 300.0 * (1 if way.field == "F" else -1)
    solved = solve(asked, abs(NI))
    voice = design.voice_coil
    z_lo, z_hi = (float(z) for z in design.iron.plate_levels())
    Bl = float(solved.Bl(voice.D_f / 2, voice.D_f / 2 + 0.4 * MM, z_lo, z_hi, 1.0)[()])
    return bool((Bl > 0) == (NI >= 0))


@pytest.mark.parametrize("name", arrangements())
def test_flux_crosses_the_gap_as_it_is_drawn(name, tmp_path) -> None:
    design = design_of(tmp_path, name)
    _, _, made = demo.job()
    way = polarity(design, replace(made, excitation=made.excitation if design.field_coil else None))
    assert way.outward == outward(design, way)


@pytest.mark.parametrize("turned", ["up", "down"])
@pytest.mark.parametrize("name", ["ring magnet", "cup magnet"])
def test_a_magnet_turned_round_changes_the_ends(name, turned, tmp_path) -> None:
    design = design_of(tmp_path, name)
    other = {"up": "down", "down": "up"}
    rings = tuple(
        replace(r, magnetised=r.magnetised if turned == "up" else other[r.magnetised]) if r.magnetised else r
        for r in design.iron.rings
    )
    design = replace(design, iron=replace(design.iron, rings=rings))
    made = replace(demo.job()[2], excitation=None)
    way = polarity(design, made)
    assert way.outward == outward(design, way)
    assert way.field is None


@pytest.mark.parametrize("is_outward", [True, False])
def test_plus_drives_the_cone_out(is_outward) -> None:
    """Kind of truth: closed form, F = I l x B round one turn; z points to the cone, and to who looks from the front.

    Clockwise for him is the way of falling angle.
    """
    way = Polarity(is_outward, None, "S" if is_outward else "F")
    angle = np.linspace(0, 2 * np.pi, 73)[:-1]
    along = np.stack([np.sin(angle), -np.cos(angle), 0 * angle], axis=1)  # from S to F: clockwise
    radial = np.stack([np.cos(angle), np.sin(angle), 0 * angle], axis=1)
    current = 1.0 if way.voice == "S" else -1.0
    force = np.cross(current * along, radial * (1 if is_outward else -1)).sum(axis=0)
    assert force[2] > 0 and np.allclose(force[:2], 0)


def test_the_designs_ends_follow_that_rule() -> None:
    design, _, made = demo.job()
    way = polarity(design, made)
    assert way.field == "S" and way.voice == ("S" if way.outward else "F")

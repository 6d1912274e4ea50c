"""Do nine builds of ten fall into their bands? Builds are drawn, each is solved in full, and counted.

Kind of truth: second method. The bands take the iron to first and second order around one field; here every build has
its own iron, its own steel and a field of its own. Both stand on the search's grid, so its error is in both.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import Job, iron_field, predict, spread, stages
from handwound.iron_field import Field
from handwound.materials import steels
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.physics import air
from handwound.physics import field as solver
from handwound.played import Around
from handwound.sounding import Blocked
from handwound.spread import Draw, some
from handwound.stiff import piston_to, stiff_law
from handwound.warmth import played_in
from tests.examples import built, started

BUILDS, SEED = 300, 5
SHELLS = 60
"""Builds whose diaphragm is followed as a shell: that is slower."""
STEEL = "mild_steel"
NEAR = (0.75, 0.85, 1.0)
"""Ampere-turns that are solved for each build, over those it draws cold: warm, it draws some tenths less."""
RESULTS = {
    "open-day": (
        "field_winding.R_T", "excitation.I_f", "excitation.NI", "motor.Bl", "motor.L_f", "motor.W_m", "driver.Re",
        "driver.fs", "driver.Qts", "driver.L_1W", "driver.L_2V83", "moving.Mms", "heat.T_case", "heat.I_f", "heat.L_1W",
        "heat.T_hot", "rating.P_prog", "rating.T_vc", "rating.P_cont", "clearance.c_i", "clearance.c_o", "mounted.f_c",
        "mounted.f_10", "mounted.f_3",
    ),
    "repair-pair": (
        "motor.Bl", "driver.Re", "driver.fs", "driver.Qts", "driver.L_1W", "moving.Mms", "rating.P_prog", "rating.T_vc",
        "rating.P_cont", "driver.L_2V83", "clearance.c_i", "clearance.c_o", "mounted.f_c", "mounted.f_10",
        "mounted.f_3",
    ),
}  # fmt: skip
"""What a builder asks first, and the field's own."""


def solved(design: Design, brief: Brief, shares: tuple[float, ...], k_B: float = 1.0, k_H: float = 1.0) -> Field:
    """The field on the grid of the search, at shares of the ampere-turns that the cold coil draws."""
    T, wound, NI = float(brief.T_room), (0.0, 0.0), [0.0]
    if design.field_coil:
        fed = predict.feed(design.field_coil, brief)
        wound, NI = (float(fed.wound.D_w), float(fed.wound.N)), [share * float(fed.cold.NI) for share in shares]
    asked = iron_field.problem(design, *wound, STEEL, k_B, k_H, T)
    at = shares.index(1.0) if design.field_coil else 0
    return Field(asked, tuple(solver.sweep(asked, NI, 2, solver.SEARCH)), at)


def batch(design: Design, made: Design, u: np.ndarray | None, k: int) -> Design:
    """The build with magnets of one batch, all as strong as it is."""
    if u is None:
        return made
    halves = {ring.name: (ring.B_rem, dict(ring.spread).get("B_rem", 0.0)) for ring in design.iron.rings}
    rings = tuple(
        replace(ring, B_rem=halves[ring.name][0] + halves[ring.name][1] * u[k]) if ring.magnetised else ring
        for ring in made.iron.rings
    )
    return replace(made, iron=replace(made.iron, rings=rings))


def truths(design: Design, brief: Brief, answers: spread.Answers, Z_b: Blocked) -> list[Chain]:
    """Every build by itself: its own field and programme, and the stages with plain numbers; one inductance for all."""
    drawn = spread.draw(design, brief, answers, BUILDS, SEED)
    half = {"k_B": steels.k_B_spread(STEEL), "k_H": steels.k_H_spread(STEEL)}
    factors = {name: np.exp(np.arcsinh(half[name]) * drawn.inputs[spread.Input("Steel", STEEL, name)]) for name in half}
    magnet = next((u for source, u in drawn.inputs.items() if source.kind == "Magnet"), None)
    found = []
    for k in range(BUILDS):
        made, wish = batch(design, some(drawn.design, k), magnet, k), some(drawn.brief, k)
        field = solved(made, wish, NEAR, *(float(factor[k]) for factor in factors.values()))
        found.append(predict.chain(made, wish, field, some(drawn.doubts, k), Z_b=Z_b))
    return found


@pytest.mark.parametrize("example", RESULTS)
def test_nine_builds_of_ten_fall_into_their_bands(example: str, tmp_path) -> None:
    """Of 300 builds 87 to 93 % is what luck allows most results (1.7 % one sigma); none may be further off than 3."""
    job = Job(started(tmp_path / example, example))
    design, brief = job.design, job.brief
    if design.field_coil:
        design = replace(design, field_coil=replace(design.field_coil, n_l=20))  # one less: the thickest wire has room
    field = solved(design, brief, iron_field.AROUND)
    Z_b = predict.blocked(design, brief, field)
    done = predict.chain(design, brief, field, Z_b=Z_b)
    around = Around(done, brief, Z_b, played_in(done, brief, Z_b))
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    answers = iron_field.answers(field, design, place, float(brief.T_room))
    drawn = spread.draw(design, brief, answers)
    loose = predict.chain(drawn.design, drawn.brief, field, drawn.doubts, drawn.k_Bl, Z_b, around)
    bands = spread.bands(done, loose)
    builds = [each.numbers() for each in truths(design, brief, answers, Z_b)]
    held = {}
    for name in RESULTS[example]:
        values = np.array([float(each[name]) for each in builds])
        held[name] = float(np.mean((values >= bands[name].low) & (values <= bands[name].high)))
    table = "\n".join(f"{name:20} {share:.1%}" for name, share in held.items())
    assert sum(0.87 <= share <= 0.93 for share in held.values()) >= 10, table
    assert all(abs(share - 0.9) <= 3 * np.sqrt(0.9 * 0.1 / BUILDS) for share in held.values()), table


@pytest.mark.parametrize("example", RESULTS)
def test_nine_diaphragms_of_ten_bend_within_their_band(example: str, tmp_path) -> None:
    """Each build its own shell: its sheet, and all else of it that the band leaves out. Of 60 at least 78 %, three
    sigma; and the band is no wider than twice what it is about."""
    design, brief, _, _, done = built(tmp_path / example, example)
    T_room, fs = float(brief.T_room), float(done.driver.fs)
    bends = stiff_law(design, done.moving, fs, T_room)
    drawn = Draw(SHELLS, SEED).part(design)
    many = Draw(spread.DRAWS).part(design)
    told = bends.of(many, stages.move(many, stages.winding(many.voice_coil, T_room), T_room)).f_stiff
    low, high = np.percentile(told, spread.PERCENT[:2])
    rho_0, c_0 = float(air.density(T_room)), float(air.speed(T_room))
    found = []
    for k in range(SHELLS):
        made = some(drawn, k)
        moving = stages.move(made, stages.winding(made.voice_coil, T_room), T_room)
        found.append(piston_to(made, moving, fs, rho_0, c_0))
    assert np.mean((low <= np.array(found)) & (np.array(found) <= high)) > 0.78
    assert high - low < 2 * np.ptp(np.percentile(found, spread.PERCENT[:2]))

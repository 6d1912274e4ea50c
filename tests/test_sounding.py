"""What the terminals see and the listener hears of a whole driver, against the lumped one and against brute force."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import iron_field, predict, spread, stages
from handwound.mounting import Lodging, tuned
from handwound.parts.heat import DOUBTS, Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.physics import air, circuit
from handwound.sounding import BASS, LOW, Heard, beside_reference, heard, mount, peaking, respond
from handwound.spread import some
from tests.closed import in_a_wall
from tests.examples import Built

T = 20.0
FINE = np.geomspace(10.0, 1000.0, 4001)
BOX = Box(V_box=8e-3, t_box=15e-3)
BACK = Back(V_back=0.4e-3, n_vent=4, d_vent=12e-3, t_vent=3e-3)
LODGINGS = {
    "wall": Lodging(),
    "board": Lodging(baffle=Baffle(W_baffle=0.5, H_baffle=0.7)),
    "closed": Lodging(box=BOX),
    "ported": Lodging(box=BOX, port=Port(n_port=2, d_port=35e-3, l_port=90e-3, Q_leak=7.0)),
    "own back": Lodging(back=BACK),
    "own back in a box": Lodging(box=BOX, back=BACK),
    "own back on a board": Lodging(baffle=Baffle(W_baffle=0.5, H_baffle=0.7), back=BACK),
}


DRAWN: dict[str, dict[str, object]] = {
    "closed": {"baffle": None, "box": replace(BOX, V_box=6e-3, spread=(("V_box", 2e-3),))},
    "ported": {
        "baffle": None,
        "box": replace(BOX, spread=(("V_box", 1e-3),)),
        "port": Port(n_port=1, d_port=35e-3, l_port=90e-3, Q_leak=7.0, spread=(("l_port", 10e-3), ("Q_leak", 3.0))),
    },
}
"""What a brief builds it into, with doubts of its own."""


def drawn_of(example: Built, draws: int) -> spread.Drawn:
    """Builds of it, as they fall."""
    design, brief, field, _, done = example
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    return spread.draw(design, brief, iron_field.answers(field, design, place, float(brief.T_room)), draws, 3)


@pytest.mark.parametrize("R", [0.0, 4.7])
def test_in_a_wall_it_is_the_lumped_driver(example, R) -> None:
    """Kind of truth: second method. Masses, spring and the air of both sides as one closed formula; what is in series
    divides the voltage."""
    done, T_room = example.done, float(example.brief.T_room)
    rho_0, c_0 = air.density(T_room), air.speed(T_room)
    at = Heard(done, Lodging(), R)
    got = respond(at, T_room, example.Z_b, at)
    moving, still = done.moving, example.Z_b.at(got.f)
    lumped = moving.Mmd, moving.Rms, moving.Kms, moving.a, moving.Sd, rho_0, c_0, 1.0
    Z, L_p = in_a_wall(got.f, 2.83, done.driver.Re, done.motor.Bl, *lumped, still)
    assert pytest.approx(np.abs(Z), rel=1e-9) == got.Z
    assert pytest.approx(L_p + 20 * np.log10(np.abs(Z / (Z + R))), abs=1e-6) == got.L_p
    assert got.f[-1] == pytest.approx(1.6137 * c_0 / (2 * np.pi * moving.a))
    assert pytest.approx(got.L_p) == got.L_lo and pytest.approx(got.L_p) == got.L_hi  # no draws but itself


@pytest.mark.parametrize("where", LODGINGS)
def test_its_levels_are_its_own_motion(example, where) -> None:
    """Kind of truth: definitions, each by the shortest way, the delay as the slope of the phase; and a limit: whatever
    it is built into, what moves only takes power."""
    _, brief, _, Z_b, done = example
    at, T_room = Heard(done, LODGINGS[where], 0.0), float(brief.T_room)
    got = respond(at, T_room, Z_b, at)
    Z, v, p = (np.asarray(each) for each in heard(got.f, at, T_room, Z_b.at(got.f)))
    assert pytest.approx(np.sqrt(2) * np.abs(v) / (2 * np.pi * got.f)) == got.x_f
    assert pytest.approx(20 * np.log10(np.abs(p) / 20e-6)) == got.L_p
    slope = -np.gradient(np.unwrap(np.angle(p)), 2 * np.pi * got.f)
    inner = slice(5, -5)
    assert np.median(np.abs(got.t_group[inner] - slope[inner])) < 2e-5
    assert np.all(np.real(Z - done.driver.Re - Z_b.at(got.f)) > 0)


@pytest.mark.parametrize("where", LODGINGS)
def test_the_lowest_note_by_looking_everywhere(example, where) -> None:
    """Kind of truth: second method. 4001 frequencies, the first within 10 and 3 dB, the highest place;
    where the level still climbs at the end of the bass, the last of the coarser steps counts."""
    lodging = LODGINGS[where]
    got = mount(example.done, lodging, 1.0, T)
    L_p, Z = (np.asarray(each) for each in beside_reference(FINE, example.done, lodging, 1.0, T))
    assert got.f_10 == pytest.approx(FINE[np.argmax(L_p >= -10)], rel=3e-3)
    assert got.f_3 == pytest.approx(FINE[np.argmax(L_p >= -3)], rel=3e-3)
    tuning = float(tuned(lodging.box, lodging.port, air.speed(T))) if lodging.box and lodging.port else 0.0
    assert got.f_c == pytest.approx(FINE[np.argmax(np.where(tuning < FINE, Z, 0.0))], rel=6e-3)
    bass = L_p[got.f_c * BASS >= FINE]
    assert got.dL_peak == pytest.approx(bass.max(), abs=0.5 if np.argmax(bass) == len(bass) - 1 else 0.05)


def test_the_top_of_a_parabola() -> None:
    """Kind of truth: closed form. Over lg f a parabola has its top where it has it; a peak at an end stays there."""
    tops = np.array([43.0, 78.5, 333.3])
    assert peaking(-(np.log(LOW[:, None] / tops) ** 2)) == pytest.approx(tops, rel=1e-9)
    assert peaking(LOW[:, None])[0] == pytest.approx(LOW[-1], rel=0.06)
    assert np.all(np.isfinite(peaking(np.ones((len(LOW), 1)))))


@pytest.mark.parametrize("where", LODGINGS)
def test_builds_at_once_are_builds_one_by_one(example, where) -> None:
    """Kind of truth: second method. 20 builds; a piston's air is that of the middle of them all."""
    drawn, lodging = drawn_of(example, 20), LODGINGS[where]
    loose = predict.chain(drawn.design, drawn.brief, example.field, drawn.doubts, drawn.k_Bl)
    at_once = mount(loose, lodging, 0.5, T)
    for k in range(20):
        alone = mount(some(loose, k), lodging, 0.5, T)
        for name in ("f_c", "f_10", "f_3"):
            assert getattr(at_once, name)[k] == pytest.approx(getattr(alone, name), rel=0.01), name
        assert at_once.dL_peak[k] == pytest.approx(alone.dL_peak, abs=0.1)


@pytest.mark.parametrize("where", DRAWN)
def test_the_band_of_the_level_holds_nine_of_ten(example, where) -> None:
    """Kind of truth: second method and counting. Of 200 builds, each in its own box, on its own board and through its
    own resistor, solved by itself as plain numbers."""
    loose_around: dict[str, object] = {"R_series": 4.0, "spread": (("R_series", 2.0),), **DRAWN[where]}
    brief = replace(example.brief, **loose_around)  # type: ignore[arg-type]
    one = example._replace(brief=brief)
    drawn = drawn_of(one, 200)
    loose = predict.chain(drawn.design, drawn.brief, example.field, drawn.doubts, drawn.k_Bl)
    done, T_room = example.done, float(brief.T_room)
    at, spread_out = Heard.of(done, example.design, brief), Heard.of(loose, drawn.design, drawn.brief)
    got = respond(at, T_room, example.Z_b, spread_out)
    assert np.all((got.L_lo <= got.L_p) & (got.L_p <= got.L_hi))
    places = [int(np.searchsorted(got.f, each)) for each in (60.0, 120.0, 300.0, 600.0)]
    f = got.f[places]
    alone = []
    for k in range(200):
        made, wish = some(drawn.design, k), some(drawn.brief, k)
        p = heard(f, Heard.of(some(loose, k), made, wish), T_room, example.Z_b.at(f))[2]
        alone.append(circuit.sound_level(p))
    lo, hi = np.percentile(np.array(alone), [5, 95], axis=0)
    L_p = got.L_p[places]
    assert got.L_lo[places] == pytest.approx(np.minimum(lo, L_p), abs=0.02)
    assert got.L_hi[places] == pytest.approx(np.maximum(hi, L_p), abs=0.02)
    sure = respond(at, T_room, example.Z_b, Heard.of(loose, example.design, brief))
    wider = (got.L_hi - got.L_lo)[places] / (sure.L_hi - sure.L_lo)[places]
    assert wider.max() > 1.15  # what it is built into and what is in series count


def test_what_a_prediction_tells_is_where_the_brief_builds_it_in(example) -> None:
    """Kind of truth: balance. The chain's own lodging is the brief's; a resistor in series lets it boom more."""
    design, brief, field, Z_b, done = example
    boxed = replace(brief, box=BOX)
    inside = predict.chain(design, boxed, field, DOUBTS, Z_b=Z_b)
    through = predict.chain(design, replace(boxed, R_series=5.0), field, DOUBTS, Z_b=Z_b)
    assert done.mounted and inside.mounted and through.mounted
    assert done.mounted.f_c == pytest.approx(done.driver.fs, rel=0.005)
    assert inside.mounted.f_c > 1.1 * done.mounted.f_c
    assert through.mounted.dL_peak > inside.mounted.dL_peak + 0.5
    assert through.mounted.f_c == pytest.approx(inside.mounted.f_c, rel=1e-6)

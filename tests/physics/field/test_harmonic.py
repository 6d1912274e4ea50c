"""Alternating current: grids, positions, what closes the other coils, compact models, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.physics.field import Fineness, Problem, Ring, Solution, Winding, skin, solve
from handwound.physics.field.harmonic import Harmonic, closed, displaced, harmonic, reluctance
from handwound.physics.inductance import r_l_steps, semi_inductance
from tests.physics.field import motors

MM = 1e-3
F = np.geomspace(20, 20e3, 20)
OMEGA = 2 * np.pi * F
POT = replace(motors.pot(), rings=tuple(replace(ring, sigma=6e6) for ring in motors.pot().rings))
VOICE = Winding(*motors.COIL, 80)


@cache
def field(fine: bool = False) -> Solution:
    finest = Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
    return solve(POT, 800.0, fineness=finest) if fine else solve(POT, 800.0)


@cache
def found() -> Harmonic:
    """Voice coil and field coil."""
    return harmonic(field(), [VOICE, POT.winding])


def by_itself(harmonic: Harmonic, coil: int = 0) -> np.ndarray:
    return harmonic.Z(F)[:, coil, coil]


def off(Z: np.ndarray, wanted: np.ndarray) -> float:
    """Largest error of R and of L."""
    return max(np.abs(Z.real / wanted.real - 1).max(), np.abs(Z.imag / wanted.imag - 1).max())


def test_the_error_is_what_was_asked_for() -> None:
    """Kind of truth: refinement, of the steady field's grid too. By default 0.5 % of R and L from 20 Hz to 20 kHz."""
    refined = harmonic(field(fine=True), [VOICE, POT.winding], error=0.001)
    assert refined.elements > 1.5 * found().elements
    for coil in (0, 1):
        assert off(by_itself(found(), coil), by_itself(refined, coil)) < 0.005


def test_coils_at_several_positions_are_as_each_alone() -> None:
    """One call for a stroke; each position agrees with a grid of its own, and slowly with the steady field."""
    x = np.array([-3, 0, 3]) * MM
    together = harmonic(field(), displaced(VOICE, x))
    alone = [harmonic(field(), [coil]) for coil in displaced(VOICE, x)]
    for k, one in enumerate(alone):
        assert off(by_itself(together, k), by_itself(one)) < 0.005
    assert np.diag(together.L_slow()) == pytest.approx(reluctance(field(), VOICE, x)[0], rel=0.002)


def test_the_same_answer_again() -> None:
    assert np.array_equal(harmonic(field(), [VOICE]).Z(F), harmonic(field(), [VOICE]).Z(F))


def test_a_sloped_side_that_is_hardly_sloped() -> None:
    """Bent grid lines give what straight ones give, and slope or not the load is the same."""
    pole = next(ring for ring in POT.rings if ring.name == "pole")
    bent = replace(POT, rings=tuple(replace(r, r_out_hi=r.r_out - 1e-7) if r is pole else r for r in POT.rings))
    assert off(by_itself(harmonic(solve(bent, 800.0), [VOICE])), by_itself(harmonic(field(), [VOICE]))) < 0.003
    L, slope = reluctance(solve(bent, 800.0), VOICE, [-2 * MM, 2 * MM])
    wanted = reluctance(field(), VOICE, [-2 * MM, 2 * MM])
    assert L == pytest.approx(wanted[0], rel=1e-3)
    assert slope == pytest.approx(wanted[1], rel=3e-3)


# --- what closes the other coils


def test_a_shorted_field_coil_is_a_shorting_ring() -> None:
    """Limit: without resistance the field coil lets none of its flux change; the voice coil's L falls, more than any
    supply can make it fall; and an endless impedance is no connection."""
    Z = found().Z(F)
    opened, shorted = closed(Z, [np.inf]), closed(Z, [0.0])
    assert np.array_equal(opened, Z[:, 0, 0])
    assert shorted == pytest.approx(Z[:, 0, 0] - Z[:, 0, 1] ** 2 / Z[:, 1, 1], rel=1e-12)
    current = np.linalg.solve(Z, np.stack([shorted, np.zeros(len(F))], axis=1)[:, :, None])[:, :, 0]
    assert current[:, 0] == pytest.approx(np.ones(len(F)), rel=1e-9)
    supply = closed(Z, [16 + 2j * OMEGA * 1e-3])
    assert np.all(shorted.imag < supply.imag) and np.all(supply.imag < opened.imag)
    assert closed(Z, [1e12]) == pytest.approx(opened, rel=1e-6)


def test_three_coils_two_of_them_closed_each_its_own_way() -> None:
    """Balance: the currents that the eliminated coils carry satisfy their own meshes."""
    bucking = Winding(11.6 * MM, 22 * MM, 6.1 * MM, 6.9 * MM, 20)
    Z = harmonic(field(), [VOICE, replace(POT.winding, z_lo=7.5 * MM), bucking]).Z([100.0])[0]
    Z_c = np.array([16.0 + 3j, 0.4])
    mesh = Z + np.diag(np.append(0.0, Z_c))
    current = np.linalg.solve(mesh, [1.0, 0.0, 0.0])
    assert closed(Z[None], Z_c)[0] == pytest.approx(1 / current[0], rel=1e-10)


def test_a_copper_cap_lowers_the_inductance_where_the_steel_does_not() -> None:
    """Limit: copper does nothing to what is slow, and at 20 kHz nearly all the heat goes into it."""
    cap = Ring("cap", 10 * MM, 10.3 * MM, 20 * MM, 32 * MM, sigma=58e6)
    coil = replace(VOICE, r_in=10.6 * MM)
    capped = harmonic(solve(replace(POT, rings=(*POT.rings, cap)), 800.0), [coil])
    bare = harmonic(field(), [coil])
    share = capped.Z(F)[:, 0, 0].imag / bare.Z(F)[:, 0, 0].imag
    assert capped.L_slow() == pytest.approx(bare.L_slow(), rel=2e-3)
    assert share[0] > 0.95 and share[-1] < 0.75
    heat = capped.heat([20e3], [1.0])[0]
    assert heat.sum() == pytest.approx(capped.Z(20e3)[0, 0, 0].real / 2, rel=1e-9)
    assert capped.rings[-1] == "cap" and heat[-1] > 0.6 * heat.sum()


def test_steel_that_answers_less_has_less_inductance() -> None:
    """Limit: at k_mu -> 0 the steel is a conductor with the permeability of vacuum."""
    L = [harmonic(field(), [VOICE], k_mu=k).L_slow()[0, 0] for k in (1.0, 0.5, 1e-6)]
    assert L[0] > L[1] > L[2]
    air = solve(Problem((), VOICE), 1.0).L_static()
    assert L[2] == pytest.approx(air, rel=1e-3)


# --- compact models


def test_steps_follow_the_pot() -> None:
    """Kind of truth: the computed impedance; the errors said are the errors made. Positive parts, slow ones first."""
    Z = by_itself(found())
    model = r_l_steps(F, Z, error=0.005)
    share = np.abs(model.Z(F) / Z - 1)
    assert model.worst == pytest.approx(share.max()) and model.rms == pytest.approx(np.sqrt(np.mean(share**2)))
    assert model.rms <= 0.005 and len(model.L) <= 6
    assert model.L_0 > 0 and min(model.L) > 0 and min(model.R) > 0
    between = np.geomspace(20, 20e3, 77)
    assert np.abs(model.Z(between) / found().Z(between)[:, 0, 0] - 1).max() < 2 * model.worst


def test_two_steps_are_found_again() -> None:
    """Kind of truth: closed form, the two steps that made the numbers."""
    s = 1j * OMEGA
    Z = s * 0.1e-3 + s * 0.4e-3 * 0.3 / (0.3 + s * 0.4e-3) + s * 0.2e-3 * 9 / (9 + s * 0.2e-3)
    model = r_l_steps(F, Z, error=1e-6)
    assert (model.L_0, *model.L) == pytest.approx((0.1e-3, 0.4e-3, 0.2e-3), rel=1e-4)
    assert model.R == pytest.approx((0.3, 9), rel=1e-4)


def test_one_power_of_the_frequency() -> None:
    """Kind of truth: closed form. n 0.7, K 0.02: |Z| 1.8187 and 9.1150 at 0.1 and 1 kHz, 63 degrees, and
    L 2.579 and 1.2926 mH; 12 ohm at 1 kHz and 60 at 10 kHz make n 0.69897."""
    f = np.array([100.0, 1000.0, 5000.0])
    Z = 0.02 * (2j * np.pi * f) ** 0.7
    model = semi_inductance(f, Z)
    assert (model.n_L, model.K) == pytest.approx((0.7, 0.02), rel=1e-9)
    assert model.worst < 1e-9
    assert np.abs(model.Z(f))[:2] == pytest.approx([1.8187, 9.1150], rel=1e-4)
    assert np.angle(model.Z(f), deg=True) == pytest.approx([63.0] * 3)
    assert (model.Z(f).imag / (2 * np.pi * f))[:2] == pytest.approx([2.579e-3, 1.2926e-3], rel=2e-4)
    two = np.array([1e3, np.sqrt(10) * 1e3, 1e4])
    assert semi_inductance(two, 12 * (1j * two / 1e3) ** np.log10(5)).n_L == pytest.approx(0.69897, rel=1e-5)


# --- refusals


def test_everything_wrong_is_said_at_once() -> None:
    through = Winding(9 * MM, 11 * MM, 24 * MM, 34 * MM, 80)
    inside_out = Winding(11 * MM, 10 * MM, 24 * MM, 34 * MM, 80)
    with pytest.raises(FieldError) as said:
        harmonic(field(), [VOICE, through, inside_out], f_lo=0.0, error=2.0, k_mu=1.5)
    lines = str(said.value).splitlines()
    assert len(lines) == 5
    assert lines[0].startswith("alternating field: must have 0 < f_lo < f_hi") and "error" in lines[1]
    assert "k_mu from 0 to 1; found 1.5" in lines[2]
    assert lines[3].startswith("coil 2: pole: must not lie") and lines[4].startswith("coil 3: ")
    with pytest.raises(FieldError, match="found none"):
        harmonic(field(), [])


def test_what_cannot_be_resolved_is_refused(monkeypatch) -> None:
    monkeypatch.setattr(skin, "MOST_ELEMENTS", 500)
    with pytest.raises(FieldError, match=r"with \d+ elements. Ask for a lower highest frequency or a larger error"):
        harmonic(field(), [VOICE], error=1e-4)


@pytest.mark.parametrize(
    ("f", "Z_b", "words"),
    [
        ([1.0, 2.0], [1j, 2j], "3 frequencies or more"),
        ([1.0, 2.0, 2.0], [1j, 2j, 3j], "different frequencies"),
        ([1.0, 2.0, 3.0], [1j, -2j, 3j], "L > 0 at every frequency"),
        ([0.0, 2.0, 3.0], [1j, 2j, np.nan], "different frequencies above 0 Hz.\nblocked impedance: must have R >= 0"),
    ],
)
def test_a_compact_model_says_what_it_cannot_take(f, Z_b, words) -> None:
    for fit in (r_l_steps, semi_inductance):
        with pytest.raises(FieldError) as said:
            fit(f, Z_b)
        assert words in str(said.value)


def test_as_many_closings_as_coils() -> None:
    with pytest.raises(FieldError, match="must each have what closes them, 1; found 2"):
        closed(found().Z(F), [0.0, np.inf])


def test_without_a_conductor_it_is_the_coil_alone() -> None:
    """Limit: no R at any frequency, and the L of a steady field."""
    air = harmonic(solve(Problem((), VOICE), 1.0), [VOICE])
    assert air.Z(F)[:, 0, 0].imag / OMEGA == pytest.approx(np.full(len(F), air.L_slow()[0, 0]))
    assert np.abs(air.Z(F).real).max() < 1e-12 and air.heat(F, [1.0]).shape == (len(F), 0)
    assert air.L_slow()[0, 0] == pytest.approx(solve(Problem((), VOICE), 1.0).L_static(), rel=1e-3)

"""The study of the sound on both examples: every answer beside one found in another way."""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians, tan
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.special import j1

from handwound import Job
from handwound.heard import told
from handwound.parts.heat import Box
from handwound.parts.mounting import Back
from handwound.parts.reading import Reading
from handwound.physics.shell.large import large_stroke
from handwound.predict import chain, field_of
from handwound.sheet import sound_bending, sound_heard, sound_moving
from handwound.sound import bending, masses, suspension, thirds
from handwound.stiff import piston_to
from handwound.suspension import surround_shell
from tests.examples import edit, started
from tests.sounded import Studied


def test_the_parts_make_the_whole(wound: Studied, repaired: Studied) -> None:
    """Balance: parts, air and shares add up."""
    for _, found in (wound, repaired):
        budget = found.budget
        assert sum(float(each.m) for each in budget.masses) == pytest.approx(float(budget.Mmd), rel=1e-9)
        assert sum(float(each.m_share) for each in budget.masses) == pytest.approx(1.0, rel=1e-9)
        assert budget.Mmd + budget.m_air == pytest.approx(float(budget.Mms), rel=1e-9)


def test_what_a_part_is_worth(wound: Studied) -> None:
    """Second way: the efficiency of the driver without its small things, by its resonance, volume and quality."""
    build, found = wound
    lost = sum(float(bit.m) for bit in build.design.bits)
    bare = chain(replace(build.design, bits=()), build.brief, field_of(build.design, build.brief))
    gained = float(bare.driver.L_1W) - float(build.found.driver.L_1W)
    assert masses.lighter(lost, float(found.budget.Mms)) == pytest.approx(gained, abs=1e-6)
    each = {mass.name: float(mass.dL) for mass in found.budget.masses if mass.known == "the list of small things"}
    assert 0 < max(each.values()) < gained


def test_what_was_weighed_together_stands_above_the_sum(wound: Studied) -> None:
    """Balance: a line of its own holds what the scales say beside the sum."""
    build, _ = wound
    design = replace(build.design, m_weighed=float(build.found.moving.Mmd))
    other = build.changed(design)
    heavier = replace(build, design=design, found=replace(build.found, moving=other.moving))
    budget = masses.budget(heavier, ())
    beside = {mass.name: float(mass.m) for mass in budget.masses}["weighed together, beside the sum"]
    assert beside == pytest.approx(float(other.moving.Mmd - build.found.moving.Mmd), rel=1e-9)
    assert sum(float(mass.m) for mass in budget.masses) == pytest.approx(float(other.moving.Mmd), rel=1e-9)


def reading(quantity: str, value: float, where: str) -> Reading:
    return Reading(time="2026-03-01T10:00", where=where, quantity=quantity, value=value)


def test_copper_by_its_ohms(wound: Studied) -> None:
    """Common practice, no source: grams of copper are 0.153 times metres squared over ohms. Ohm's law: ohms read 10 %
    higher are of 10 % less copper in the same length."""
    build, _ = wound
    coil = build.found.voice_winding
    log = [reading("R_T", 1.1 * float(coil.R_T), "voice_coil"), reading("R_T", 3.0, "voice_coil layer 1"),
           reading("Mms", 5e-3, "voice_coil")]  # fmt: skip
    plan, read = masses.budget(build, log).copper
    assert 1e3 * float(plan.m_cu) == pytest.approx(0.153 * float(coil.l_w) ** 2 / float(coil.R_20), rel=5e-3)
    assert not plan.is_read
    assert read.is_read
    assert read.m_cu == pytest.approx(float(plan.m_cu) / 1.1, rel=1e-6)
    table = list(sound_moving.masses(masses.budget(build, log)))[1]
    assert "9 % less copper" in table.note
    assert "lighter than planned it is the wire" in table.note


def test_force_over_the_stroke(wound: Studied) -> None:
    """Second way: the shell tells the force itself, here of a ring as stiff as this one."""
    build, found = wound
    of, shell = found.suspension, surround_shell(build.design.surround)
    F, K = large_stroke(shell, [len(shell.r) - 1], [0], np.append(of.x, 0.0))
    at = of.x != 0
    as_stiff = float(of.K_s) / K[-1]
    assert of.F_x == pytest.approx(F[:-1] * as_stiff, rel=2e-3, abs=1e-6)
    assert of.K_x[at] == pytest.approx((F[:-1] * as_stiff)[at] / of.x[at], rel=2e-3)
    assert of.K_x[~at] == pytest.approx(float(of.K_s))


def test_other_shapes(wound: Studied) -> None:
    """Similarity, thin rings: stretch grows with the thickness and the stroke squared, bending with the thickness
    cubed, so that half the thickness is a third stiffer at half the stroke. Common practice, no source: a roll is
    softer and stays so for longer."""
    ways = {each.name: each for each in wound[1].suspension.others}
    own, thin, roll = (ways[name] for name in ("as it is", "half as thick", "a half roll of its sheet"))
    assert own.x_75
    assert thin.x_75 == pytest.approx(own.x_75 / 2, rel=0.05)
    assert roll.Kms < own.Kms
    assert roll.x_75 is None or roll.x_75 > 2 * own.x_75
    assert roll.fs < own.fs


def test_what_was_measured_counts_for_other_shapes_too(wound: Studied) -> None:
    """Balance: a ring measured twice as stiff as its sheet says is a roll twice as stiff as its sheet says."""
    build, found = wound
    firm = replace(build.design.surround, K_s=2 * float(found.suspension.K_s))
    measured = replace(build, design=replace(build.design, surround=firm))
    for plain, doubled in zip(found.suspension.others[1:], suspension.held(measured).others[1:], strict=True):
        assert doubled.Kms == pytest.approx(2 * float(plain.Kms), rel=1e-6)


def test_the_spider(repaired: Studied) -> None:
    """Balance: surround and spider are all that holds. Sense: without a spider it rocks lower and leans more."""
    of = repaired[1].suspension
    assert of.K_sp
    assert of.bare
    assert of.K_s + of.K_sp == pytest.approx(float(repaired[0].found.moving.Kms), rel=1e-9)
    assert of.bare.K_rock < of.held.K_rock
    assert of.bare.f_rock < of.held.f_rock
    assert of.bare.tilt > of.held.tilt


def test_notes_follow_the_modulus(wound: Studied) -> None:
    """Similarity: four times the modulus in every sheet and every glue, and each note by itself is an octave higher."""
    build, found = wound
    design = build.design

    def firm(stuff: Any) -> Any:
        return replace(stuff, E=4 * stuff.E)

    firmer = build.changed(
        replace(
            design,
            diaphragm=replace(design.diaphragm, sheet=firm(design.diaphragm.sheet)),
            surround=replace(design.surround, sheet=firm(design.surround.sheet)),
            voice_coil=replace(design.voice_coil, former=firm(design.voice_coil.former)),
            bonds=tuple(replace(each, glue=firm(each.glue)) for each in design.bonds),
        )
    )
    told_of = replace(build.found, moving=firmer.moving, driver=firmer.driver)
    high = bending.bends(replace(build, design=firmer.design, found=told_of))
    assert [each.n_across for each in high] == [each.n_across for each in found.bends]
    for low, up in zip(found.bends, high, strict=True):
        assert up.f_bend == pytest.approx(2 * low.f_bend, rel=0.02)


def test_another_cone_by_its_file(wound: Studied, tmp_path: Path) -> None:
    """Second way: the depth written into the file, and the whole chain from there."""
    build, found = wound
    card = next(each for each in found.cards if each.name == "a cone of 35°")
    folder = started(tmp_path / "steep", "open-day")
    h_c = 1e3 * (0.096 - 0.0255) / 2 * tan(radians(35))
    edit(folder / "design.toml", r'h_c = "15.0.*"', f'h_c = "{h_c:.4f} mm"')
    design = Job(folder).design
    steep = chain(design, build.brief, field_of(design, build.brief))
    f_stiff = piston_to(design, steep.moving, float(steep.driver.fs), build.rho_0, build.c_0)
    assert card.f_stiff == pytest.approx(f_stiff, rel=1e-3)
    assert card.L_1W == pytest.approx(float(steep.driver.L_1W), abs=1e-3)
    assert card.Mmd == pytest.approx(float(steep.moving.Mmd), rel=1e-6)


def test_a_steeper_cone_is_a_piston_further_up(wound: Studied, repaired: Studied) -> None:
    """Common practice, no source: a flat card bends first, each steeper cone later, and weighs more."""
    for build, found in (wound, repaired):
        cards = {each.name: each for each in found.cards}
        rising = [
            cards[name] for name in ("a flat card", "a cone of 15°", "as it is", "a cone of 35°", "a cone of 45°")
        ]
        assert sorted(rising, key=lambda each: each.f_stiff) == rising
        assert sorted(rising, key=lambda each: each.Mmd) == rising
        assert found.sound.f_flat is not None
        assert cards["a flat card"].f_stiff == pytest.approx(found.sound.f_flat, rel=0.1)
        assert cards["as it is"].f_stiff == pytest.approx(float(build.found.stiff.f_stiff), rel=1e-6)  # type: ignore[union-attr]


def test_the_sentence(wound: Studied) -> None:
    """Kind of truth: judged by reading."""
    words = sound_bending.sentence(wound[1].cards, "cone")
    assert words.startswith("A flat card of this sheet moves as a whole up to about ")
    assert "; this cone up to about " in words
    assert "; a 35° cone up to about " in words
    alone = [each for each in wound[1].cards if each.name != "a flat card"]
    assert sound_bending.sentence(alone, "card").startswith("This card moves as a whole up to about ")


def test_a_card_that_was_weighed_keeps_beside_its_sheet(wound: Studied) -> None:
    """Balance: 10 % more on the balance than its sheet says is 10 % more flat, too."""
    build, found = wound
    part = build.design.diaphragm
    heavy = replace(build.design, diaphragm=replace(part, m_d=1.1 * float(build.found.moving.m_d)))
    other = build.changed(heavy)
    own = replace(build, design=heavy, found=replace(build.found, moving=other.moving, driver=other.driver))
    flat = next(each for each in bending.cards(own) if each.name == "a flat card")
    plain = next(each for each in found.cards if each.name == "a flat card")
    sheet_alone = float(part.sheet.rho_A) * pi / 4 * (float(part.d_out) ** 2 - float(part.d_in) ** 2)
    assert flat.Mmd - plain.Mmd == pytest.approx(0.1 * sheet_alone, rel=1e-6)


# ---- what is heard


def test_thirds_are_means(wound: Studied) -> None:
    """Second way: the mean power over ten times as many frequencies of one third; every frequency is in one third."""
    build, found = wound
    f_mid = 10 ** (np.arange(13, 44) / 10)
    inside = (told.BREAKUP >= f_mid[:, None] / thirds.HALF) & (told.BREAKUP < f_mid[:, None] * thirds.HALF)
    assert np.all(inside.sum(axis=0) == 1)
    for f in (500.0, 800.0, 2000.0):
        k = int(np.argmin(np.abs(found.thirds.f - f)))
        fine = np.geomspace(f_mid[k] / thirds.HALF, f_mid[k] * thirds.HALF, 120)
        L = told.breakup(build.design, build.brief, build.found, build.Z_b, fine).L_off
        power = np.mean(10 ** (L / 10), axis=0)
        assert found.thirds.L_p[k] == pytest.approx(10 * np.log10(power[0]), abs=0.4)
        off = 10 * np.log10(power[[2, 4, 6]] / power[0])
        assert found.thirds.dL_off[k] == pytest.approx(off, abs=0.2)


def test_thirds_say_what_the_prediction_says(wound: Studied) -> None:
    """Second way: the response of the prediction at the same notes."""
    build, found = wound
    response, row = build.found.response, found.thirds
    low = row.f < 0.8 * response.f_piston
    f = 10 ** (np.round(10 * np.log10(row.f[low])) / 10)
    for mine, theirs in ((row.L_stiff, response.L_p), (row.L_lo, response.L_lo), (row.L_hi, response.L_hi)):
        middle = np.interp(np.log(f), np.log(response.f), theirs)
        assert mine[low][2:] == pytest.approx(middle[2:], abs=0.2)  # a mean of a curved row is not its middle
    for mine, theirs, near in ((row.Z, response.Z, 0.03), (row.x_f, response.x_f, 0.01)):
        assert mine[low] == pytest.approx(np.interp(np.log(f), np.log(response.f), theirs), rel=near)
    assert np.all(np.isnan(row.L_lo[row.f > 2 * response.f_piston]))


def test_a_box_changes_the_low_notes(wound: Studied) -> None:
    """Limits: in a closed box of as much air as the suspension is worth, notes below both resonances lose 6 dB. Far
    above, the air that swings in the box stays a mass (Beranek's 0.65, from memory), where that of the open rear has
    become sound."""
    build, found = wound
    as_stiff = Box(V_box=float(build.found.driver.Vas), t_box=0.012)
    boxed = thirds.thirds(replace(build, brief=replace(build.brief, box=as_stiff)))
    moving = build.found.moving
    heavier = 1 + 0.65 * build.rho_0 * pi * float(moving.a) ** 3 / float(moving.Mmd)
    for name in ("L_p", "L_stiff"):
        lost = getattr(found.thirds, name) - getattr(boxed, name)
        assert lost[0] == pytest.approx(20 * np.log10(2), abs=1.0)
        assert lost[found.thirds.f > 3000] == pytest.approx(20 * np.log10(heavier), abs=0.1)


def test_a_back_shifts_both_levels(wound: Studied) -> None:
    """Limit: what bends is told beside what does not; a back with all its holes taped is for both the same."""
    build, found = wound
    shut = replace(build.design, back=Back(V_back=0.2e-3, n_vent=4, n_taped=4, d_vent=12e-3, t_vent=1e-3))
    backed = thirds.thirds(replace(build, design=shut))
    low = found.thirds.f < 200
    assert np.all(found.thirds.L_stiff[low] - backed.L_stiff[low] > 10)
    apart = found.thirds.L_p - found.thirds.L_stiff
    assert (backed.L_p - backed.L_stiff)[low] == pytest.approx(apart[low], abs=0.5)


def test_a_piston_to_the_side(wound: Studied) -> None:
    """Closed form: far from a stiff disc in a wall, 2 J1(x)/x with x = k a sin θ; the surround is not stiff, but low
    notes do not see that."""
    build, found = wound
    for f in (250.0, 315.0, 400.0):
        k = int(np.argmin(np.abs(found.thirds.f - f)))
        x = 2 * pi * f / build.c_0 * float(build.found.moving.a) * np.sin(found.thirds.theta)
        assert found.thirds.dL_off[k] == pytest.approx(20 * np.log10(2 * j1(x) / x), abs=0.1)


@pytest.mark.parametrize("Q", [0.4, 1.0, 2.0])
def test_a_step(Q: float) -> None:
    """Closed form: a second-order high pass, exp(-w t / 2Q) (cos w_d t - sin(w_d t) w / (2 Q w_d))."""
    w, t = 2 * pi * 80.0, np.linspace(0.0, 0.1, 200_001)
    w_d = np.sqrt(complex(w**2 - (w / (2 * Q)) ** 2))
    s = np.real(np.exp(-w * t / (2 * Q)) * (np.cos(w_d * t) - np.sin(w_d * t) * w / (2 * Q * w_d)))
    found = thirds.told_of(t, 0.3 * s)
    assert found.p_pk == pytest.approx(0.3, rel=1e-6)
    beyond = t[np.abs(s) > 0.1]
    assert found.t_fall == pytest.approx(beyond[-1], abs=1e-6)
    if Q < 0.5:
        assert found.f_swing is None
    elif Q > 1:
        assert found.f_swing == pytest.approx(w_d.real / (2 * pi), rel=1e-3)


def test_the_picture(wound: Studied) -> None:
    """Closed form: 2 J1(x)/x of a stiff disc, read off the picture where a ray of 45° meets its letter; low notes are
    round."""
    theta, f = np.radians(np.arange(0.0, 91.0, 5.0)), np.geomspace(20.0, 20e3, 400)
    x = 2 * pi * f[:, None] / 343.2 * 0.05 * np.maximum(np.sin(theta), 1e-9)
    breakup = wound[1].sound.breakup
    disc = replace(breakup, f=f, theta=theta, L_off=20 * np.log10(np.abs(2 * j1(x) / x)))
    lines = sound_heard.polar(disc).splitlines()
    seen = [(k - sound_heard.OUTER, at) for k, line in enumerate(lines) for at, sign in enumerate(line) if sign == "d"]
    up, along = np.array(seen, float).transpose()
    off = np.degrees(np.arctan2(np.abs(up), along / sound_heard.WIDE))
    far = np.hypot(up, along / sound_heard.WIDE)[np.abs(off - 45) < 5]
    x = 2 * pi * 4000 / 343.2 * 0.05 * np.sin(pi / 4)
    wanted = sound_heard.OUTER * (1 - 20 * np.log10(2 * j1(x) / x) / sound_heard.DEEPEST)
    assert far.mean() == pytest.approx(wanted, abs=0.5)
    assert sound_heard.beside_axis(breakup, 250.0) == pytest.approx(np.zeros(len(breakup.theta)), abs=0.15)

"""Surround and spider of a design as springs, for one build and for many."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from handwound import suspension
from handwound.parts.design import Design
from handwound.parts.moving import Spider, Surround
from handwound.parts.rub import DEGREE, ROCK, ROCK_SPIDER
from handwound.parts.sheet import Sheet
from handwound.physics import rocking as rocking_physics
from handwound.physics import suspension as physics
from handwound.physics.moving import G_N, ring_stiffness
from handwound.physics.shell.linear import axial_share, axial_stiffness
from handwound.spread import Draw
from tests.builds import sure
from tests.files import bench

STUFF = {"nu": 0.3, "k_th": 0.05, "c_p": 1500.0, "T_max": 80.0}
FOAM = Sheet(
    name="foam", t=1e-3, rho_A=0.15, E=0.5e6, eta_s=0.2, k_dyn=1.25, **STUFF,
    spread=(("t", 0.1e-3), ("E", 0.3e6), ("rho_A", 0.05)),
)  # fmt: skip
PAPER = Sheet(
    name="paper", t=0.1e-3, rho_A=0.08, E=3e9, eta_s=0.03, **STUFF,
    spread=(("t", 0.01e-3), ("E", 1e9), ("rho_A", 0.005)),
)  # fmt: skip
CLOTH = Sheet(name="cloth", t=0.25e-3, rho_A=0.12, E=0.0, eta_s=0.2, k_dyn=1.1, **(STUFF | {"nu": 0.0}))
CUT = (("d_in", 0.5e-3), ("d_out", 0.5e-3), ("h_r", 0.25e-3))
RIM: dict[str, Any] = {"d_in": 0.096, "d_out": 0.114, "spread": CUT}
SHAPES: dict[str, Surround | Spider] = {
    "roll of foam": Surround(sheet=FOAM, form="roll", h_r=4.5e-3, **RIM),
    "pleats of foam": Surround(sheet=FOAM, form="pleats", n_pleat=2, h_r=3e-3, **RIM),
    "roll of paper": Surround(sheet=PAPER, form="roll", h_r=4.5e-3, **RIM),
    "pleats of paper": Surround(sheet=PAPER, form="pleats", n_pleat=2, h_r=3e-3, **RIM),
    "spider of paper": Spider(sheet=PAPER, form="pleats", d_in=0.027, d_out=0.060, n_pleat=5, h_r=2e-3, spread=CUT),
}
ARMS = Spider(sheet=PAPER, form="arms", n_arm=3, l_arm=0.020, w_arm=0.004, z_sp=8e-3)


def stiffness(part: Surround | Spider):
    return (suspension.surround_stiffness if isinstance(part, Surround) else suspension.spider_stiffness)(part)


def share(part: Surround | Spider):
    return (suspension.surround_share if isinstance(part, Surround) else suspension.spider_share)(part)


def flat(sheet: Sheet = FOAM, **more: Any) -> Surround:
    return Surround(sheet=sheet, d_in=0.096, d_out=0.114, **more)


@pytest.fixture
def design(tmp_path) -> Design:
    """The bench's driver with a cone 15 mm deep and a flat ring of foam 1 mm thick."""
    bench.write(tmp_path)
    plain = sure(bench.read(tmp_path)[2])
    cone = replace(plain.diaphragm, form="cone", d_in=0.0255, d_out=0.096, h_c=0.015, w_seam=8e-3)
    return replace(plain, diaphragm=cone, surround=flat(), spider=None)


def moving(K: float) -> Any:
    """Masses of a small driver. [kg]"""
    parts = {"m_vc": 1.9e-3, "m_f": 0.5e-3, "m_d": 1.3e-3, "m_rib": 0.0, "m_cap": 0.2e-3}
    parts |= {"m_s": 0.3e-3, "m_sp": 0.1e-3, "m_g": 0.8e-3, "m_bits": 1.0e-3}
    return SimpleNamespace(**parts, Mmd=sum(parts.values()), Mms=sum(parts.values()) + 0.7e-3, Kms=K)


@pytest.mark.parametrize("name", SHAPES)
def test_draws_follow_the_shells_that_they_are(name) -> None:
    """Kind of truth: second method. 40 of the draws, each as its own shell, over all of their band: 2 % at worst."""
    part = Draw(2000).part(SHAPES[name])
    assert part.sheet is not None
    many = np.broadcast_to(stiffness(part), 2000), np.broadcast_to(share(part), 2000)
    for k in range(0, 2000, 50):
        sheet = replace(part.sheet, **{name: getattr(part.sheet, name)[k] for name in ("t", "E", "rho_A")})
        one = replace(part, sheet=sheet, **{name: getattr(part, name)[k] for name, _ in CUT})
        assert many[0][k] == pytest.approx(stiffness(one), rel=0.02)
        assert many[1][k] == pytest.approx(share(one), rel=0.02)


@pytest.mark.parametrize("name", SHAPES)
def test_numbers_are_those_of_the_shell(name) -> None:
    """Kind of truth: second method. And exactly as stiff as the sheet, exactly as heavy."""
    part = SHAPES[name]
    shell = suspension.surround_shell(part) if isinstance(part, Surround) else suspension.spider_shell(part)
    ends = [len(shell.r) - 1], [0]
    assert stiffness(part) == pytest.approx(axial_stiffness(shell, *ends))
    assert share(part) == pytest.approx(axial_share(shell, *ends))
    assert part.sheet is not None
    double = replace(part, sheet=replace(part.sheet, E=2 * part.sheet.E, rho_A=3 * part.sheet.rho_A))
    assert stiffness(double) == pytest.approx(2 * stiffness(part))
    assert share(double) == pytest.approx(3 * share(part))


def test_a_flat_ring_is_a_plate() -> None:
    """Kind of truth: closed form. And its shell at rest is the same ring."""
    wanted = float(ring_stiffness(0.5e6, 0.3, 1e-3, 0.096, 0.114))
    assert suspension.surround_stiffness(flat()) == wanted
    shell = suspension.surround_shell(flat())
    assert axial_stiffness(shell, [len(shell.r) - 1], [0]) == pytest.approx(wanted, rel=1e-3)


def test_what_was_measured_stands() -> None:
    assert suspension.surround_stiffness(replace(SHAPES["roll of foam"], K_s=321.0)) == 321.0
    spider = Spider(K_sp=500.0, m_sp=0.3e-3)
    assert (suspension.spider_stiffness(spider), suspension.spider_share(spider)) == (500.0, 0.3e-3)
    assert suspension.spider_share(replace(ARMS, m_sp=0.3e-3)) == 0.3e-3


def test_arms_are_cut_from_their_sheet() -> None:
    """Kind of truth: closed form. n E w t³/l³ of paper, by hand: 3 x 3e9 x 0.004 x 1e-12/8e-6 = 4.5 N/m."""
    assert suspension.spider_stiffness(ARMS) == pytest.approx(4.5)
    assert suspension.spider_share(ARMS) == pytest.approx(3 * 0.020 * 0.004 * 0.08 * 13 / 35)


def test_a_flat_ring_stiffens_by_its_thickness_alone(design) -> None:
    """Kind of truth: closed form. A strip between level edges: K = K(0) (1 + 18/25 (x/t)²), by least energy.

    It bends as x (1 - 3s² + 2s³), is stretched by 3x²/5b², and holds 12 D/b³: the width b falls out. A plate under
    pressure has 0.488 in place of 0.72 (Timoshenko, from memory).
    """
    thin = replace(design, surround=flat(replace(FOAM, t=0.2e-3)))
    x = np.array([0.0, 0.02, 0.04]) * 1e-3
    K = suspension.stiffness_over_stroke(thin, x)
    assert K[1:] / K[0] - 1 == pytest.approx(18 / 25 * (x[1:] / 0.2e-3) ** 2, rel=0.02)
    x = np.linspace(-0.5, 0.5, 41) * 1e-3
    ends = physics.stroke_75(x, suspension.stiffness_over_stroke(thin, x))
    assert ends[2] / 0.2e-3 == pytest.approx((25 / 18 / 3) ** 0.5, rel=0.02)


def test_at_the_end_of_the_stroke_a_sine_is_held_back_by_a_fifteenth_of_its_third(design) -> None:
    """Kind of truth: closed form. The cube of a sine is 3/4 of it and 1/4 of its third: (1/3)/4 over 1 + (1/3) 3/4."""
    x = np.linspace(-3e-3, 3e-3, 61)
    end = physics.stroke_75(x, suspension.stiffness_over_stroke(design, x))[2]
    swing = end * np.sin(2 * np.pi * np.arange(32) / 32)
    force = np.abs(np.fft.rfft(swing * suspension.stiffness_over_stroke(design, swing)))
    assert force[3] / force[1] == pytest.approx(1 / 15, rel=0.1)
    assert max(force[[0, 2, 4]]) < 1e-6 * force[1]


def test_measured_parts_keep_what_they_are_at_rest(design) -> None:
    """A measured ring stiffens as its shape does, whatever its sheet; a spider without a shape not at all."""
    x = np.linspace(-2e-3, 2e-3, 5)
    plain = suspension.stiffness_over_stroke(design, x)
    measured = replace(design, surround=replace(design.surround, K_s=2 * plain[2]))
    assert suspension.stiffness_over_stroke(measured, x) == pytest.approx(2 * plain)
    of_cloth = replace(design, surround=flat(CLOTH, K_s=700.0))
    assert suspension.stiffness_over_stroke(of_cloth, x)[2] == pytest.approx(700.0)
    held = replace(design, spider=Spider(K_sp=500.0, m_sp=0.3e-3))
    assert suspension.stiffness_over_stroke(held, x) == pytest.approx(plain + 500.0)
    of_arms = suspension.stiffness_over_stroke(replace(design, spider=ARMS), x) - plain
    wanted = 4.5 * physics.arms_stiffening(x, 0.1e-3, 0.004, design.voice_coil.D_f / 2)
    assert of_arms == pytest.approx(wanted, rel=1e-6)
    pleated = SHAPES["spider of paper"]
    own, read = (
        suspension.stiffness_over_stroke(replace(design, spider=each), x) - plain
        for each in (pleated, replace(pleated, K_sp=500.0))
    )
    assert read == pytest.approx(500.0 * own / own[2])
    assert np.ptp(own) > 0.03 * own[2]


def test_a_roll_lets_it_go_further(design) -> None:
    """Kind of truth: common practice, no source: rolls are made for strokes, and both ways are not alike."""
    x = np.linspace(-6e-3, 6e-3, 49)
    ends = [
        physics.stroke_75(x, suspension.stiffness_over_stroke(replace(design, surround=each), x))
        for each in (flat(), SHAPES["roll of foam"])
    ]
    assert ends[1][2] > 4 * ends[0][2]
    assert ends[0][0] == pytest.approx(ends[0][1]) and abs(ends[1][0] - ends[1][1]) > 0.1e-3


def test_a_bare_ring_tilts_as_springs_round_its_edge_and_a_little_more(design) -> None:
    """Kind of truth: limit, K r²/2, which a shell exceeds by what it twists."""
    K = float(suspension.surround_stiffness(design.surround))
    over = suspension.rocking(design, moving(K), 3e-3).K_rock / rocking_physics.tilt_of_springs(K, 0.048)
    assert 1.05 < over < 1.4


def test_a_measured_ring_rocks_as_its_stiffness_says(design) -> None:
    """Kind of truth: symmetry. Four times as stiff: half as far, twice as high."""
    K = float(suspension.surround_stiffness(design.surround))
    one = suspension.rocking(design, moving(K), 3e-3)
    stiff = replace(design, surround=replace(design.surround, K_s=4 * K))
    four = suspension.rocking(stiff, moving(4 * K), 3e-3)
    assert four.K_rock == pytest.approx(4 * one.K_rock)
    assert four.f_rock == pytest.approx(2 * one.f_rock)
    assert (four.tilt, four.sag) == pytest.approx((one.tilt / 4, one.sag / 4))
    assert four.m_off == pytest.approx(one.m_off)  # it is shaken four times as hard


@pytest.mark.parametrize("spider", [Spider(K_sp=300.0, m_sp=0.1e-3, z_sp=8e-3), SHAPES["spider of paper"], ARMS])
def test_a_spider_holds_the_coil(design, spider) -> None:
    """Kind of truth: common practice, no source: without a spider it rocks, and a level axis makes it hang."""
    K = float(suspension.surround_stiffness(design.surround))
    bare = suspension.rocking(design, moving(K), 3e-3)
    held = suspension.rocking(
        replace(design, spider=replace(spider, z_sp=8e-3)), moving(K + suspension.spider_stiffness(spider)), 3e-3
    )
    assert held.K_rock > 2 * bare.K_rock and held.f_rock > bare.f_rock
    assert held.tilt < bare.tilt


def test_how_it_sinks_and_what_rocks_it(design) -> None:
    """Kind of truth: balance. At rest foam is softer by its k_dyn; a mass on the rim pulls with its acceleration."""
    K = float(suspension.surround_stiffness(design.surround))
    all_that = moving(K)
    found = suspension.rocking(design, all_that, 3e-3)
    assert found.sag * K / 1.25 == pytest.approx(all_that.Mmd * G_N)
    shaken = found.m_off * 0.048 * 3e-3 * K / all_that.Mms
    assert shaken / found.K_rock == pytest.approx(ROCK)
    told = replace(design, centring=replace(design.centring, rock=0.6 * DEGREE))
    assert suspension.rocking(told, all_that, 3e-3).m_off == pytest.approx(2 * found.m_off)
    held = replace(design, spider=Spider(K_sp=500.0, m_sp=0.1e-3))
    with_spider = suspension.rocking(held, moving(K + 500), 3e-3)
    assert with_spider.sag * (K / 1.25 + 500) == pytest.approx(all_that.Mmd * G_N)
    assert with_spider.m_off * 0.048 * 3e-3 * (K + 500) / all_that.Mms / with_spider.K_rock == pytest.approx(
        ROCK_SPIDER
    )


def test_the_spiders_of_cloth_are_as_stiff_sideways_as_is_said() -> None:
    """Kind of truth: second method. Shells of 4 to 6 waves of thin cloth, sideways over along the axis."""
    over = []
    for n, h_r, d_out in ((4, 2.5e-3, 0.060), (5, 2e-3, 0.070), (6, 2e-3, 0.070)):
        spider = Spider(sheet=replace(PAPER, t=0.3e-3), form="pleats", d_in=0.027, d_out=d_out, n_pleat=n, h_r=h_r)
        K = float(suspension.spider_stiffness(spider))
        over.append(suspension._spider_against(spider, K, 0.0129).K_y / K)
    assert 1 < min(over) / suspension.SIDEWAYS < 1.5
    assert max(over) < 85

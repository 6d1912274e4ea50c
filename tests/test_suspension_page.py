"""The numbers that the page on moving parts shows are those of the program."""

from __future__ import annotations

import re
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from handwound import suspension
from handwound.parts.moving import Diaphragm, Spider, Surround
from handwound.parts.rub import DEGREE, Centring
from handwound.parts.sheet import Sheet
from handwound.physics import suspension as physics
from handwound.physics.moving import G_N
from tests.rules import house

PAGE = (house.ROOT / "docs/why/moving.md").read_text(encoding="utf8")
RINGS = re.findall(r"^\| (.+), (foam|paper) ([\d.]+) mm \| (\d+) N/m \| ([\d.]+) mm \| ([\d.]+) g \|$", PAGE, re.M)
ROCKS = re.findall(r"^\| (no spider|3 arms.*) \| ([\d.]+) N·m \| (\d+) Hz \| ([\d.]+)° \|$", PAGE, re.M)
SHAPES: dict[str, dict[str, Any]] = {
    "flat": {},
    "half roll": {"form": "roll", "h_r": 4.5e-3},
    "2 waves of 3 mm": {"form": "pleats", "h_r": 3e-3, "n_pleat": 2},
}
USUAL = {"nu": 0.3, "eta_s": 0.1, "k_th": 0.05, "c_p": 1500.0, "T_max": 80.0}
X = np.linspace(-10e-3, 10e-3, 81)


def sheet(kind: str, t: float) -> Sheet:
    E, density = {"foam": (0.4e6, 150.0), "paper": (3e9, 750.0), "card": (3e9, 800.0)}[kind]
    return Sheet(name=kind, t=t, E=E, rho_A=density * t, k_dyn=1.25 if kind == "foam" else 1.0, **USUAL)


def driver(surround: Surround, spider: Spider | None = None) -> Any:
    """What of a design the suspension asks for: a former of 25.9 mm and a cone of 96 mm, 15 mm deep."""
    cone = Diaphragm(form="cone", sheet=sheet("card", 0.2e-3), d_in=0.0255, d_out=0.096, h_c=0.015)
    coil = SimpleNamespace(D_f=0.0259, l_f=0.025, h_w=0.0125)
    build = {"voice_coil": coil, "diaphragm": cone, "cap": None, "centring": Centring()}
    return SimpleNamespace(surround=surround, spider=spider, **build)


def ring(shape: str, kind: str, t: float) -> Surround:
    return Surround(sheet=sheet(kind, t), d_in=0.096, d_out=0.114, **SHAPES[shape])


def test_the_page_has_its_tables() -> None:
    assert (len(RINGS), len(ROCKS)) == (7, 3)


@pytest.mark.parametrize(("shape", "kind", "t", "K", "x_75", "m_s"), RINGS)
def test_a_ring_of_the_page(shape, kind, t, K, x_75, m_s) -> None:
    """Kind of truth: none, an alarm. What they rest on is checked among the truths."""
    part = ring(shape, kind, float(t) * 1e-3)
    assert suspension.surround_stiffness(part) == pytest.approx(float(K), abs=0.6)
    assert suspension.surround_share(part) * 1e3 == pytest.approx(float(m_s), abs=0.006)
    ends = physics.stroke_75(X, suspension.stiffness_over_stroke(driver(part), X))
    assert ends[2] * 1e3 == pytest.approx(float(x_75), abs=0.006)


@pytest.mark.parametrize(("name", "K_rock", "f_rock", "tilt"), ROCKS)
def test_a_spider_of_the_page(name, K_rock, f_rock, tilt) -> None:
    """Kind of truth: none, an alarm."""
    arms = {"sheet": sheet("card", 0.2e-3), "form": "arms", "n_arm": 3, "l_arm": 0.020, "w_arm": 0.004}
    spider = None if name == "no spider" else Spider(**arms, z_sp=8e-3 if "behind" in name else 0.0)
    design = driver(ring("flat", "foam", 2e-3), spider)
    K = suspension.surround_stiffness(design.surround) + (suspension.spider_stiffness(spider) if spider else 0.0)
    masses = {"m_vc": 1.9e-3, "m_f": 0.5e-3, "m_d": 1.3e-3, "m_rib": 0.0, "m_cap": 0.0, "m_s": 0.3e-3}
    masses |= {"m_sp": 0.1e-3, "m_g": 0.8e-3, "m_bits": 1.2e-3}
    moving: Any = SimpleNamespace(**masses, Mmd=6.0e-3, Mms=6.7e-3, Kms=K)
    found = suspension.rocking(design, moving, 3e-3)
    assert found.K_rock == pytest.approx(float(K_rock), abs=0.06)
    assert found.f_rock == pytest.approx(float(f_rock), abs=0.6)
    assert found.tilt / DEGREE == pytest.approx(float(tilt), abs=0.0006)
    if spider is None:
        assert f"{3e-3 * K / moving.Mms / G_N:.0f} times gravity" in PAGE
        assert f"Its resonance is {(K / moving.Mms) ** 0.5 / (2 * np.pi):.0f} Hz" in PAGE
        assert found.m_off == pytest.approx(1e-3 / 3, rel=0.05)
    elif "neck" in name:
        sideways = physics.arms_sideways(3e9, 0.2e-3, 3, 0.020, 0.004)
        assert f"{suspension.spider_stiffness(spider):.0f} N/m" in PAGE and f"{sideways / 1e3:.0f} N/mm" in PAGE

"""The mass budget of a design, against sheets and glue weighed by hand, for one build and for many."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import numpy as np
import pytest

from handwound import masses, spread
from handwound.parts.design import Design
from handwound.parts.moving import Bond, Cap, Ribs, Spider
from handwound.parts.prediction import Winding
from handwound.parts.sheet import Adhesive
from handwound.stages import winding
from tests.files import bench

GLUE = Adhesive(name="glue", kind="slow epoxy", T_max=60.0, rho_m=1200.0, E=2e9, spread=(("rho_m", 60.0),))
PLACES = ("neck", "rim", "cap", "seam", "spider", "coil")


def bond(at: str) -> Bond:
    """A line of glue 3 ± 1 mm wide and 0.1 ± 0.05 mm thick; over the coil as wide as that is high."""
    halves = (("t_bond", 0.05e-3),) + (() if at == "coil" else (("w_bond", 1e-3),))
    return Bond(name=at, at=at, glue=GLUE, w_bond=None if at == "coil" else 3e-3, t_bond=0.1e-3, spread=halves)


@pytest.fixture
def design(tmp_path) -> Design:
    """The bench's driver with a cone of 40 over 90 mm, ribs, a domed cap, a spider, and glue everywhere."""
    bench.write(tmp_path)
    plain = bench.read(tmp_path)[2]
    card = plain.diaphragm.sheet
    ribs = Ribs(sheet=card, n_rib=6, h_rib=3e-3, d_in=0.030, d_out=0.080, spread=(("h_rib", 0.3e-3),))
    cone = replace(plain.diaphragm, form="cone", d_in=0.026, h_c=0.024, w_seam=6e-3, ribs=ribs, spread=(("h_c", 1e-3),))
    return replace(
        plain,
        diaphragm=cone,
        cap=Cap(form="dome", sheet=card, d_out=0.038, h_c=6e-3),
        spider=Spider(K_sp=500.0, m_sp=0.3e-3),
        bonds=tuple(bond(at) for at in PLACES),
    )


@pytest.fixture
def wound(design) -> Winding:
    return winding(design.voice_coil, 20.0)


def test_the_sheets_weigh_their_areas(design, wound) -> None:
    """Kind of truth: plane geometry. Slant of a cone 32 wide and 24 high: 40 mm; a cap has the area pi (a² + h²)."""
    made = masses.budget(design, wound)
    assert made.m_d == pytest.approx((pi * 0.058 + 0.006) * 0.040 * 0.160)
    assert made.m_rib == pytest.approx(6 * 3e-3 * 0.040 * 25 / 32 * 0.160)
    assert made.m_cap == pytest.approx(pi * (0.019**2 + 0.006**2) * 0.160)
    assert made.m_f == pytest.approx(pi * 25.75e-3 * 25e-3 * 0.160)
    assert made.m_bits == pytest.approx(0.6e-3)


def test_every_line_of_glue_is_as_long_as_the_edge_that_it_lies_on(design, wound) -> None:
    """Kind of truth: plane geometry, on a former of 25.9 mm; the seam is as long as the slant."""
    lengths = {"neck": pi * 25.9e-3, "rim": pi * 0.090, "cap": pi * 0.038, "seam": 0.040, "spider": pi * 25.9e-3}
    each = {at: masses.glue_mass(replace(design, bonds=(bond(at),)), wound) for at in PLACES}
    for at, length in lengths.items():
        assert each[at] == pytest.approx(length * 3e-3 * 0.1e-3 * 1200), at
    assert each["coil"] == pytest.approx(pi * float(wound.D_w) * 12e-3 * 0.1e-3 * 1200)
    assert masses.budget(design, wound).m_g == pytest.approx(sum(each.values()))


def test_what_was_weighed_counts_before_the_sheet(design, wound) -> None:
    flat = replace(design.diaphragm, form="disc", h_c=0.0, ribs=None)
    assert masses.diaphragm_mass(flat) == pytest.approx(pi / 4 * (0.090**2 - 0.026**2) * 0.160)
    assert masses.diaphragm_mass(replace(flat, m_d=1.1e-3)) == 1.1e-3
    assert masses.cap_mass(replace(design.cap, form="disc")) == pytest.approx(pi * 0.019**2 * 0.160)
    assert masses.cap_mass(replace(design.cap, m_cap=0.2e-3)) == 0.2e-3
    bare = masses.budget(replace(design, diaphragm=flat, cap=None, bonds=(), bits=()), wound)
    assert (bare.m_cap, bare.m_rib, bare.m_g, bare.m_bits) == (0.0, 0.0, 0.0, 0.0)


def test_a_dome_for_a_diaphragm(design) -> None:
    """Kind of truth: closed form. The area of a dome is pi (a² + h²); ribs on it lie along chords of its circle."""
    dome = replace(design.diaphragm, form="dome", d_in=0.0, w_seam=0.0, h_c=0.015)
    assert masses.diaphragm_mass(dome) == pytest.approx(pi * (0.045**2 + 0.015**2) * 0.160)
    fall = (0.075**2 - 0.015**2) ** 0.5 - (0.075**2 - 0.040**2) ** 0.5  # the ball has a radius of 75 mm
    assert masses.rib_mass(dome) == pytest.approx(6 * 3e-3 * hypot(0.025, fall) * 0.160)


def test_many_builds_weigh_what_each_does(design, wound) -> None:
    """Kind of truth: second method. Drawn builds all at once, and one after the other with plain numbers."""
    loose = spread.Draw(5).part(design)
    at_once = masses.budget(loose, winding(loose.voice_coil, 20.0))
    for k in range(5):
        one = spread.some(loose, k)
        alone = masses.budget(one, winding(one.voice_coil, 20.0))
        for name, mass in at_once._asdict().items():
            assert np.broadcast_to(mass, 5)[k] == pytest.approx(getattr(alone, name), rel=1e-12), name
    assert np.ptp(at_once.m_g) > 0
    assert np.ptp(at_once.m_rib) > 0


def test_candidates_that_differ_in_their_wire(design, wound) -> None:
    """Kind of truth: closed form. Only the glue over the winding answers the wire's diameter, in step with it."""
    wider = np.array([1.0, 1.1, 1.2])
    many = masses.budget(design, replace(wound, D_w=wound.D_w * wider))
    alone = masses.glue_mass(replace(design, bonds=(bond("coil"),)), wound)
    assert many.m_g - many.m_g[0] == pytest.approx(alone * (wider - 1))
    assert many[:3] == masses.budget(design, wound)[:3]

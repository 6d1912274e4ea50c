"""The cone laid flat: against the closed form of a frustum, and rolled up again point by point."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.parts.moving import Diaphragm, Ribs
from handwound.sheet.template.cone import Sector, developed, diaphragm, sector
from handwound.sheet.template.dome import meridian
from handwound.sheet.template.outline import Line, Template
from handwound.sheet.template.shape import area, legs, piece_area, points
from tests.sheet.demo import CARD, MM

wide = st.floats(2.0, 900.0)
deep = st.floats(0.5, 900.0)


def cone(d_in: float, d_out: float, h_c: float, w_seam: float = 0.0) -> list[Template]:
    return list(diaphragm(Diaphragm(form="cone", sheet=CARD, d_in=d_in, d_out=d_out, h_c=h_c, w_seam=w_seam)))


def rolled(flat: Sector, at: np.ndarray, d_in: float, d_out: float, h_c: float) -> np.ndarray:
    """Points of the sector bent round the cone: the way from the apex and the angle round it are kept as they are."""
    rho, phi = np.hypot(*at.T), np.arctan2(at[:, 1], at[:, 0])
    dr = (d_out - d_in) / 2
    slant = math.hypot(dr, h_c)
    r, z, turn = rho * dr / slant, rho * h_c / slant, phi * slant / dr
    return np.column_stack([r * np.cos(turn), r * np.sin(turn), z])


@given(wide, st.floats(0.0, 0.95), deep)
def test_area_of_the_sector_is_that_of_the_frustum(d_out, share, h_c) -> None:
    # closed form: the lateral area of a frustum is pi (R1 + R2) L
    d_in = share * d_out
    made = sector(developed(d_in, d_out, h_c), 0.0, "card")
    slant = math.hypot((d_out - d_in) / 2, h_c)
    assert piece_area(made) == pytest.approx(math.pi * (d_in + d_out) / 2 * slant, rel=1e-9)


@given(wide, st.floats(0.05, 0.9), deep)
def test_rolled_up_the_rims_are_circles_and_the_ends_meet(d_out, share, h_c) -> None:
    d_in = share * d_out
    flat = developed(d_in, d_out, h_c)
    made = sector(flat, 0.0, "card")
    at = np.array(points(made.lines[0], 1e-5))
    turned = at @ np.array([[0.0, -1.0], [1.0, 0.0]])  # its middle along x, so that no angle jumps within it
    bent = rolled(flat, turned, d_in, d_out, h_c)
    r, z = np.hypot(bent[:, 0], bent[:, 1]), bent[:, 2] - bent[:, 2].min()
    on_rim, on_neck = np.isclose(np.hypot(*at.T), flat.r_out), np.isclose(np.hypot(*at.T), flat.r_in)
    assert r[on_rim] == pytest.approx(d_out / 2, rel=1e-6) and r[on_neck] == pytest.approx(d_in / 2, rel=1e-6)
    assert z[on_rim] == pytest.approx(h_c, rel=1e-6) and z[on_neck] == pytest.approx(0.0, abs=1e-6 * h_c)
    start, end = bent[0], bent[on_rim.nonzero()[0].max()]
    assert np.linalg.norm(start - end) < 1e-5 * d_out  # corners at both ends of the outer edge become one point
    assert 2 * math.pi * d_out / 2 == pytest.approx(flat.r_out * flat.angle)  # balance: the rim keeps its length


@given(wide, st.floats(0.0, 0.9), deep, st.floats(0.1, 50.0))
def test_the_lap_adds_its_strip_and_never_crosses_the_outline(d_out, share, h_c, w_seam) -> None:
    made = cone(share * d_out * MM, d_out * MM, h_c * MM, w_seam * MM)
    bare = cone(share * d_out * MM, d_out * MM, h_c * MM)
    more = sum(piece_area(each) for each in made) - piece_area(bare[0])
    side = (d_out * (1 - share) / 2) ** 2 + h_c**2
    assert 0 < more <= w_seam * math.sqrt(side) * MM**2 * 1.2 + 1e-12
    assert not crossings(points(made[0].lines[0], 2e-4))


def crossings(at: list[tuple[float, float]]) -> int:
    """How often a closed polygon crosses itself: the common test by the sides of each other's ends."""
    p = np.array(at)
    q = np.roll(p, -1, axis=0)

    def side(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> np.ndarray:
        return (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])

    a, b, c, d = p[:, None], q[:, None], p[None], q[None]
    eps = 1e-15
    across = (side(a, b, c) * side(a, b, d) < -(eps**2)) & (side(c, d, a) * side(c, d, b) < -(eps**2))
    return int(across.sum()) // 2


def test_the_crossing_test_sees_a_crossing() -> None:
    assert crossings([(0, 0), (1, 1), (1, 0), (0, 1)]) == 1
    assert crossings([(0, 0), (1, 0), (1, 1), (0, 1)]) == 0


def test_a_worked_cone() -> None:
    # closed form: 3-4-5; a rim of 80, a neck of 20 and a depth of 40 mm make a side of 50, radii of 50/3 and 200/3 mm,
    # and a sector of 360 · 3/5 = 216 degrees
    flat = developed(20 * MM, 80 * MM, 40 * MM)
    assert flat.r_in == pytest.approx(50 / 3 * MM) and flat.r_out == pytest.approx(200 / 3 * MM)
    assert math.degrees(flat.angle) == pytest.approx(216.0) and flat.side == pytest.approx(50 * MM)
    notes = " ".join(sector(flat, 6 * MM, "card").notes)
    assert all(text in notes for text in ("66.67 mm", "16.67 mm", "216 °", "50 mm", "126.8 mm", "31.7 mm", "6 mm"))


def test_a_shallow_cone_gets_a_strip_for_its_seam() -> None:
    shallow, deep = cone(20 * MM, 100 * MM, 3 * MM, 8 * MM), cone(20 * MM, 100 * MM, 40 * MM, 8 * MM)
    assert [each.key for each in shallow] == ["cone", "seam-strip"] and [each.key for each in deep] == ["cone"]
    # the lap of the deep one: 8 mm along its side (closed form of the strip; its ends follow the rims)
    more = piece_area(deep[0]) - piece_area(cone(20 * MM, 100 * MM, 40 * MM)[0])
    assert more == pytest.approx(8 * math.hypot(40, 40) * MM**2, rel=0.02)


def test_a_disc_and_a_cone_without_depth() -> None:
    disc = list(diaphragm(Diaphragm(form="disc", sheet=CARD, d_in=0.0, d_out=90 * MM)))
    assert piece_area(disc[0]) == pytest.approx(math.pi / 4 * 0.09**2)
    assert cone(0.0, 90 * MM, 0.0)[0].lines == disc[0].lines


@given(st.floats(5.0, 300.0), st.floats(0.01, 1.0))
def test_a_dome_keeps_its_way_over_the_top(d_out, share) -> None:
    # second method: the same way added up along the sphere, numerically
    h = share * d_out / 2
    R = ((d_out / 2) ** 2 + h**2) / (2 * h)
    x = np.linspace(0.0, 2 * math.atan(2 * h / d_out), 4001)
    way = np.hypot(np.diff(R * np.sin(x)), np.diff(R * np.cos(x))).sum()
    assert meridian(d_out, h) == pytest.approx(way, rel=1e-6)
    if share == 1.0:  # closed form: half a sphere
        assert meridian(d_out, h) == pytest.approx(math.pi * d_out / 4)


def test_the_gauge_of_a_dome_is_its_profile() -> None:
    _, gauge = diaphragm(Diaphragm(form="dome", sheet=CARD, d_in=0.0, d_out=80 * MM, h_c=20 * MM))
    R = (40**2 + 20**2) / (2 * 20) * MM  # closed form: the radius of a segment of a sphere
    arc = [leg for leg in legs(gauge.lines[0]) if leg[2]]
    assert len(arc) == 1
    profile = np.array(points(Line(((*arc[0][0], arc[0][2]), (*arc[0][1], 0.0)), closed=False)))
    assert profile[:, 1].max() == pytest.approx(20 * MM, abs=1e-6)
    assert np.hypot(profile[:, 0], profile[:, 1] - (20 * MM - R)) == pytest.approx(R)


@pytest.mark.parametrize("form", ["cone", "disc", "dome"])
def test_ribs_are_as_long_as_what_they_stand_on(form) -> None:
    ribs = Ribs(sheet=CARD, n_rib=6, h_rib=4 * MM, d_in=30 * MM, d_out=90 * MM)
    h_c = 0.0 if form == "disc" else 20 * MM
    part = Diaphragm(form=form, sheet=CARD, d_in=20 * MM if form == "cone" else 0.0, d_out=100 * MM, h_c=h_c, ribs=ribs)
    (rib,) = (each for each in diaphragm(part) if each.key == "rib")
    assert rib.count == 6 and "6 strips" in rib.notes[0]
    if form == "dome":  # closed form: a strip along a circle, between two radii
        R = (50**2 + 20**2) / 40
        turn = math.asin(45 / R) - math.asin(15 / R)
        expected = turn / 2 * ((R + 4) ** 2 - R**2) * MM**2
    else:
        slope = 20 / 40 if form == "cone" else 0.0
        expected = 30 * math.hypot(1, slope) * 4 * MM**2
    assert area(rib.lines[0]) == pytest.approx(expected)

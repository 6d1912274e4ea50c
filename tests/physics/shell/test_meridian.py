"""Lines of revolution: where their nodes lie, how they are joined."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.shell.linear import mass
from handwound.physics.shell.meridian import Array, Shell, arc, dome, join, line, node_at, piece, wave


def area(r: Array, z: Array) -> float:
    """Area of a shell by what it weighs at 1 kg/m²."""
    return float(mass(piece(r, z, 1e-6, 1e9, 0.3, 1.0), 0).toarray()[1::3, 1::3].sum())


def paper(r: Array, z: Array) -> Shell:
    return piece(r, z, 0.0002, 3e9, 0.3, 0.14)


@pytest.mark.parametrize(("height", "n"), [(0.002, 6), (0.005, 10), (-0.005, 10), (0.008, 16)])
def test_an_arc_is_round_and_as_high_as_told(height, n) -> None:
    """Kind of truth: closed form. All nodes as far from the centre; the top over the middle of the chord."""
    r, z = arc(0.050, 0.001, 0.060, 0.001, height, n)
    R = (0.005**2 + height**2) / (2 * height)
    assert np.hypot(r - 0.055, z - 0.001 - (height - R)) == pytest.approx(abs(R))
    assert (r[n], z[n]) == pytest.approx((0.055, 0.001 + height))
    assert (r[0], z[0], r[-1], z[-1]) == (0.050, 0.001, 0.060, 0.001)


def test_an_arc_of_no_height_is_its_chord() -> None:
    """Kind of truth: limit."""
    ends = 0.02, 0.0, 0.05, 0.01
    assert np.allclose(arc(*ends, 1e-9, 4), line(*ends, 4), rtol=0, atol=1e-8)
    assert np.array_equal(arc(*ends, 0.0, 4), line(*ends, 4))


def test_an_arc_bulges_to_the_left_of_its_way() -> None:
    """Kind of truth: limit. From the former up, that is towards the axis; outwards, that is up."""
    assert arc(0.02, 0.0, 0.02, 0.01, 0.001, 2)[0][2] == pytest.approx(0.019)


def test_areas() -> None:
    """Kind of truth: closed form. Frustum, cap of a sphere, half a torus: 2 pi R h, Pappus' pi a · 2 pi R."""
    assert area(*line(0.0125, 0.0, 0.048, 0.025, 4)) == pytest.approx(np.pi * 0.0605 * np.hypot(0.0355, 0.025))
    assert area(*dome(0.03, 0.01, 0.0, 12)) == pytest.approx(np.pi * (0.03**2 + 0.01**2), rel=1e-4)
    assert area(*arc(0.05, 0.0, 0.06, 0.0, 0.005, 20)) == pytest.approx(2 * np.pi**2 * 0.055 * 0.005, rel=1e-4)


def test_pleats_begin_and_end_level() -> None:
    """Kind of truth: closed form. As many crests as waves, each as deep as told."""
    r, z = wave(0.02, 0.04, 0.003, 0.002, 4, 400)
    crests = (z[1:-1] > z[:-2]) & (z[1:-1] > z[2:])
    assert crests.sum() == 4
    assert z[1:-1][crests] == pytest.approx(0.005)
    assert z[[0, -1]] == pytest.approx(0.003)
    assert abs(z[1] - z[0]) < 0.02 * (r[1] - r[0])


def test_a_hollow_dome_is_a_dome_upside_down() -> None:
    """Kind of truth: symmetry."""
    (r, z), (r_hollow, z_hollow) = dome(0.03, 0.01, 0.0, 4), dome(0.03, -0.01, 0.0, 4)
    assert r_hollow == pytest.approx(r)
    assert z_hollow == pytest.approx(-z)


def test_what_touches_is_one_node() -> None:
    """Kind of truth: plane geometry. Cone, cap and former meet in one node of the neck; the sheets keep their own."""
    cone, cap = paper(*line(0.0125, 0.0, 0.048, 0.025, 4)), paper(*dome(0.0125, 0.004, 0.0, 3))
    former = piece(*line(0.0125, -0.008, 0.0125, 0.0, 2), 0.00015, 4e9, 0.3, 0.12)
    whole = join(former, cone, cap)
    assert len(whole.r) == 5 + 9 + 7 - 2
    assert np.sum(np.hypot(whole.r - 0.0125, whole.z) < 1e-9) == 1
    assert list(whole.t) == [0.00015] * 2 + [0.0002] * 7
    neck = node_at(whole, 0.0125, 0.0)
    assert [neck in element for element in whole.elements] == [False, True, True, *[False] * 5, True]


def test_no_node_is_there() -> None:
    with pytest.raises(ValueError, match="no node of the shell is at r = 20 mm"):
        node_at(paper(*line(0.03, 0.0, 0.05, 0.0, 2)), 0.02, 0.0)

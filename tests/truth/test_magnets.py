"""Magnets in air against magpylib, a general library of closed forms for magnets by other people; mu_rec is 1 there."""

from __future__ import annotations

import magpylib
import numpy as np
import pytest
from scipy.optimize import brentq

from handwound.physics.field import FULL, Fineness, Magnet, Problem, Ring, solve
from handwound.physics.field.bh import Array

MM = 1e-3
FINE = Fineness(edge=0.01, zone=0.01, largest=0.1, growth=1.5, outside=1.4)
# Twenty points (r, z) in the bore, in the magnet, beside it, above and below; none within 1 mm of an edge.
PLACES = [
    (0, -12), (3, -7), (6, -3), (9, 0), (12, 2.5), (15, 5.5), (20, 8), (4, 14), (7, 9.5), (11, -6.5),
    (18, -9), (2, 4), (6.5, 3), (10.5, 7), (16, -1), (22, 2), (0, 0), (1, 20), (17, 13), (25, 0),
]  # fmt: skip
R, Z = (np.array(column, float) * MM for column in zip(*PLACES, strict=True))


def of_segments(r_in: float, r_out: float, h: float, J: float, n: int = 24) -> Array:
    """B_r and B_z of a ring magnetised outwards, by magpylib from n segments that are each magnetised one way.

    Around the circle the mean of such a ring's magnetisation is along the radius and sin(pi/n) / (pi/n) of J. The field
    is linear in it, so the mean of its field around the circle over that share is the radial ring's, for every n.
    """
    middle = 2 * np.pi * np.arange(n) / n
    ring = [
        magpylib.magnet.CylinderSegment(
            dimension=(r_in, r_out, h, np.degrees(a) - 180 / n, np.degrees(a) + 180 / n),
            polarization=(J * np.cos(a), J * np.sin(a), 0),
        )
        for a in middle
    ]
    found = np.zeros((len(R), 2))
    around = (np.arange(8) + 0.5) / 8 * 2 * np.pi / n
    for a in around:
        B = np.asarray(magpylib.getB(ring, np.stack([R * np.cos(a), R * np.sin(a), Z], 1), sumup=True))
        found += np.stack([B[:, 0] * np.cos(a) + B[:, 1] * np.sin(a), B[:, 2]], 1)
    return found / len(around) / np.sinc(1 / n)


def axial(r_in: float, r_out: float, h: float, J: float) -> Array:
    """B_r and B_z of a disc or ring magnetised upwards, by magpylib."""
    whole = magpylib.magnet.CylinderSegment(dimension=(r_in, r_out, h, 0, 360), polarization=(0, 0, J))
    return np.asarray(magpylib.getB(whole, np.stack([R, 0 * R, Z], 1)))[:, [0, 2]]


CASES = {"disc": (0, 8, "up"), "ring": (5, 13, "up"), "ring magnetised across": (8, 14, "out")}


@pytest.mark.parametrize(("r_in", "r_out", "way"), CASES.values(), ids=CASES.keys())
def test_the_field_of_a_magnet_at_twenty_points(r_in, r_out, way) -> None:
    """Kind of truth: second method (magpylib). Of the greatest |B| among them: usual grid 2e-3, refined 1e-4."""
    r_in, r_out, h, J = r_in * MM, r_out * MM, 10 * MM, 0.6
    other = (axial if way == "up" else of_segments)(r_in, r_out, h, J)
    problem = Problem((Ring("magnet", r_in, r_out, -h / 2, h / 2, magnet=Magnet(J, 1.0, way)),))
    for fineness, order, enough in ((FULL, 3, 2e-3), (FINE, 5, 1e-4)):
        found = solve(problem, 0, order=order, fineness=fineness)
        B = np.array([np.ravel(found.B(r, z)) for r, z in zip(R, Z, strict=True)])
        assert np.abs(B - other).max() < enough * np.hypot(*other.T).max()


def test_on_the_axis_of_a_ring_the_field_turns_over() -> None:
    """Kind of truth: second method (magpylib). In the bore B_z points against the magnet, far away along it.

    The place where it is zero is found to 1e-4 of the ring's radius.
    """
    r_in, r_out, h = 5 * MM, 13 * MM, 10 * MM
    whole = magpylib.magnet.CylinderSegment(dimension=(r_in, r_out, h, 0, 360), polarization=(0, 0, 0.4))
    problem = Problem((Ring("magnet", r_in, r_out, -h / 2, h / 2, magnet=Magnet(0.4, 1.0, "up")),))
    found = solve(problem, 0, fineness=FINE)
    middle, far = found.B(0, [0, 15 * MM])[1].ravel()
    assert middle < 0 < far
    turn = brentq(lambda z: found.B(0, z)[1].item(), 0, 15 * MM)
    assert turn == pytest.approx(brentq(lambda z: magpylib.getB(whole, (0, 0, z))[2], 0, 15 * MM), abs=1e-4 * r_out)


def test_two_discs_attract_each_other() -> None:
    """Kind of truth: second method (magpylib) for the pull; ours is the change of co-energy with the distance.

    A 20 x 10 mm disc of 1.2 T and a 14 x 6 mm disc of 1.0 T, 4 mm apart: 17.30 N, to 2e-4.
    """
    one = magpylib.magnet.Cylinder(dimension=(20 * MM, 10 * MM), polarization=(0, 0, 1.2), position=(0, 0, 5 * MM))
    two = magpylib.magnet.Cylinder(dimension=(14 * MM, 6 * MM), polarization=(0, 0, 1.0), position=(0, 0, 17 * MM))
    pull = -float(magpylib.getFT(one, two, meshing=20000)[0][2])

    def coenergy(apart: float) -> float:
        lower = Ring("lower", 0, 10 * MM, 0, 10 * MM, magnet=Magnet(1.2, 1.0, "up"))
        upper = Ring("upper", 0, 7 * MM, 10 * MM + apart, 16 * MM + apart, magnet=Magnet(1.0, 1.0, "up"))
        return solve(Problem((lower, upper)), 0, fineness=FINE).coenergy()

    step = 0.05 * MM
    assert (coenergy(4 * MM - step) - coenergy(4 * MM + step)) / (2 * step) == pytest.approx(pull, rel=2e-4)

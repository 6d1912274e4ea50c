"""Check values of a piston in an open board, from outside the project."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest
from numpy.polynomial.legendre import leggauss
from scipy.special import ellipe, j1, struve

from handwound.physics.open_baffle import open_baffle, round_board

RHO_0, C_0 = 1.204, 343.2
B = 0.3
HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}


def note(kb: float | np.ndarray, b: float = B) -> np.ndarray:
    return np.atleast_1d(kb) * C_0 / (2 * np.pi * b)


def test_a_slow_disc_without_a_board() -> None:
    """Kind of truth: closed form. 8/3 rho a³ for both sides together (Lamb, Hydrodynamics, § 102, from memory).

    The sound of a dipole of that force: p = j k cos(theta) F/(4 pi r), whose power makes the resistance
    16 (ka)^4/(27 pi²) rho c S, and over the axis in an endless wall jka 4/(3 pi) cos(theta).
    """
    f, theta, ka = note(0.01), np.radians([0, 35, 60, 90, 150]), 0.01
    Z_air, D_open = round_board(f, B, B, RHO_0, C_0, theta)
    assert Z_air[0].imag / (2 * np.pi * f[0]) == pytest.approx(8 / 3 * RHO_0 * B**3, rel=1e-4)
    assert Z_air[0].real == pytest.approx(16 * ka**4 / (27 * np.pi**2) * RHO_0 * C_0 * np.pi * B**2, rel=1e-4)
    assert D_open[0] == pytest.approx(1j * ka * 4 / (3 * np.pi) * np.cos(theta), rel=1e-4, abs=1e-9)


@pytest.mark.parametrize("size", [0.02, 0.3, 0.7, 1.0])
def test_the_way_round_the_edge(size) -> None:
    """Kind of truth: closed form. By reciprocity the piston is heard as it would hear a slow even wind on the disc.

    That has the potential 2/pi sqrt(b² - r²) on it (Lamb, § 108, from memory); k times its mean over the piston.
    """
    way = 4 / (3 * np.pi) * (1 - (1 - size**2) ** 1.5) / size**2
    D_open = round_board(note(0.01), size * B, B, RHO_0, C_0, [0.0])[1]
    assert D_open[0, 0] == pytest.approx(0.01j * way, rel=1e-4)


@pytest.mark.parametrize("size", [0.05, 0.1])
def test_a_slow_small_piston_in_a_wide_board(size) -> None:
    """Kind of truth: closed form. In an endless wall 16/3 rho a³ for both sides; the board's end takes 2 rho a^4/b off.

    Beyond the edge the wall would have the potential a² v/2r. To lift it there lifts the middle by 2/pi times the
    integral of it times b dr/(r sqrt(r² - b²)) (the flat plate's own weight, from memory), which is a² v/(pi b).
    """
    a, f = size * B, note(0.01)
    mass = round_board(f, a, B, RHO_0, C_0, [0.0])[0][0].imag / (2 * np.pi * f[0])
    assert mass == pytest.approx(16 / 3 * RHO_0 * a**3 - 2 * RHO_0 * a**4 / B, rel=1e-3)


@pytest.mark.parametrize("size", [0.1, 0.5, 1.0])
def test_power_sent_is_power_arriving(size) -> None:
    """Kind of truth: balance. Velocity squared times the resistance is the intensity over both far half spheres."""
    f, a = note(np.array([0.2, 1.0, 3.0, 8.0, 15.0, 23.0])), size * B
    cosine, weight = leggauss(60)
    theta = np.arccos((1 + cosine) / 2)
    Z_air, D_open = round_board(f, a, B, RHO_0, C_0, theta)
    p = RHO_0 * f[:, None] * np.pi * a**2 * np.abs(D_open)
    assert 2 * np.pi * (p**2 @ weight) / (RHO_0 * C_0) == pytest.approx(Z_air.real, rel=1e-6)


def test_a_board_much_larger_than_the_wave() -> None:
    """Kind of truth: limit. All swings round the endless wall's values as the edge comes in and out of step.

    Over two whole swings (kb from 24 - 4 pi) its mean is the wall's: 2 rho c S (R1 + j X1), and 1 on the axis.
    """
    a, f = 0.35 * B, note(np.linspace(24 - 4 * np.pi, 24, 401))
    x = 4 * np.pi * f * a / C_0
    Z_wall = 2 * RHO_0 * C_0 * np.pi * a**2 * (1 - 2 * j1(x) / x + 2j * struve(1, x) / x)
    Z_air, D_open = round_board(f, a, B, RHO_0, C_0, [0.0])
    assert np.mean(D_open) == pytest.approx(1.0, abs=0.03)
    assert np.mean(Z_air / Z_wall) == pytest.approx(1.0, abs=0.03)


@pytest.mark.parametrize("sides", [1.0, 2.0, 200.0])
def test_the_slow_way_round_a_long_board(sides) -> None:
    """Kind of truth: closed form, limit. A small piston is heard by k times the wind's potential in the board's middle.

    That is B/E(1 - B²/A²) on an elliptic plate (Lamb, § 114, from memory), so H/2 on a long strip. A rectangle lies
    between the ellipse within it and that of the same sides' ratio round it, sqrt 2 as large.
    """
    H = 0.2
    f = np.array([1e-3])
    D_open = open_baffle(f, 0.002, sides * H, H, RHO_0, C_0, [0.0])[1]
    way = abs(D_open[0, 0]) / (2 * np.pi * f[0] / C_0)
    within = H / 2 / ellipe(1 - 1 / sides**2)
    assert within < way < np.sqrt(2) * within
    if sides > 100:
        assert way == pytest.approx(H / 2, rel=0.01)


def test_a_small_wave_does_not_know_of_the_board() -> None:
    """Kind of truth: limit. Beyond kb = 24 in all directions it is the endless wall, reached without a step."""
    a, theta = 0.08, np.radians([0, 40, 70])
    f = np.geomspace(1000, 8000, 1500)
    Z_air, D_open = open_baffle(f, a, 0.5, 0.6, RHO_0, C_0, theta)
    x, y = 4 * np.pi * f * a / C_0, 2 * np.pi * f[:, None] * a / C_0 * np.maximum(np.sin(theta), 1e-9)
    far = f > 24 * C_0 / (2 * np.pi * 0.25)
    wall = 2 * RHO_0 * C_0 * np.pi * a**2 * (1 - 2 * j1(x) / x + 2j * struve(1, x) / x)
    assert Z_air[far] == pytest.approx(wall[far], rel=1e-9)
    assert D_open[far] == pytest.approx((2 * j1(y) / y)[far], abs=1e-9)
    assert np.abs(np.diff(D_open, axis=0)).max() < 0.02


@pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")
@pytest.mark.parametrize(("kb", "size"), [(1, 0.5), (3, 0.3), (6, 0.3), (10, 0.5), (14, 0.4)])
def test_against_finite_elements(kb, size) -> None:
    """Kind of truth: second method (NGSolve). Helmholtz's equation before the board, p = 0 beside it, an open end.

    The force on the piston and the pressure on the axis (that of the board, summed) to 1e-3.
    """
    force, axis = finite_elements(kb, size)
    Z_air, D_open = round_board(note(kb), size * B, B, RHO_0, C_0, [0.0])
    assert force * RHO_0 * C_0 * B**2 == pytest.approx(Z_air[0], rel=1e-3)
    assert axis == pytest.approx(D_open[0, 0], rel=1e-3)


def finite_elements(k: float, a: float) -> tuple[complex, complex]:
    """Both sides' force over rho c v and the pressure on the axis, for a board of radius 1; e^{+jwt}."""
    import ngsolve as ng
    from netgen.occ import Glue, OCCGeometry, WorkPlane

    near, far = 1.5, 1.5 + max(2 * np.pi / k, 0.5)  # beyond 1.5 radii the coordinate turns complex: nothing comes back
    air = WorkPlane().LineTo(a, 0).LineTo(1, 0).LineTo(near, 0).Rotate(90).Arc(near, 90).LineTo(0, 0).Face()
    end = WorkPlane().LineTo(far, 0).Rotate(90).Arc(far, 90).LineTo(0, 0).Face() - air
    air.faces.name, end.faces.name = "air", "end"
    for edge in [*air.edges, *end.edges]:
        x, y = edge.center.x, edge.center.y
        if abs(y) < 1e-9 or (np.hypot(x, y) > near and x > 1e-9):
            edge.name = "piston" if x < a else "board" if x < 1 else "free"
    for vertex in air.vertices:
        if abs(vertex.p.y) < 1e-9 and 1e-9 < vertex.p.x < 1.1:
            vertex.maxh = 1e-3
    mesh = ng.Mesh(OCCGeometry(Glue([air, end]), dim=2).GenerateMesh(maxh=min(2 / k, 0.25), grading=0.3)).Curve(4)
    space = ng.H1(mesh, order=4, complex=True, dirichlet="free")
    p, q = space.TnT()
    s, turn = ng.sqrt(ng.x**2 + ng.y**2), mesh.MaterialCF({"end": 1 + 1j}, default=1.0)
    way = mesh.MaterialCF({"end": near + (1 + 1j) * (s - near)}, default=s) / s
    out, round_ = ng.CF((ng.x, ng.y)) / s, ng.CF((-ng.y, ng.x)) / s
    along, across = (out * ng.grad(p)) * (out * ng.grad(q)), (round_ * ng.grad(p)) * (round_ * ng.grad(q))
    left = ng.BilinearForm((way**2 / turn * along + turn * across - turn * way**2 * k**2 * p * q) * ng.x * ng.dx)
    right = ng.LinearForm(-1j * k * q * ng.x * ng.ds("piston"))
    found = ng.GridFunction(space)
    found.vec.data = left.Assemble().mat.Inverse(space.FreeDofs()) * right.Assemble().vec
    force = 4 * np.pi * ng.Integrate(found * ng.x * ng.ds("piston"), mesh)
    axis = 2 / a**2 * ng.Integrate(found * ng.x * ng.ds("piston|board"), mesh)
    return complex(np.conj(force)), complex(np.conj(axis))

"""Large strokes of suspensions as solids of revolution, by an independent finite element library."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest

from handwound.physics.shell.large import large_stroke
from handwound.physics.shell.meridian import Shell, arc, line, piece

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}
pytestmark = pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")

if HAS_WHEEL:
    import netgen.occ as occ
    import ngsolve as ng

R_IN, R_OUT, X, STEPS = 0.050, 0.060, 1e-3, 6
"""Edges of the ring, how far its inner one is moved, and in how many steps. [m]"""


def half_roll(t: float) -> occ.Face:
    middle, R = (R_IN + R_OUT) / 2, (R_OUT - R_IN) / 2
    whole = occ.Circle(occ.Pnt(middle, 0), R + t / 2).Face() - occ.Circle(occ.Pnt(middle, 0), R - t / 2).Face()
    return whole * occ.MoveTo(middle - 2 * R, 0).Rectangle(4 * R, 2 * R).Face()


def flat(t: float) -> occ.Face:
    return occ.MoveTo(R_IN, -t / 2).Rectangle(R_OUT - R_IN, t).Face()


def energy(u: ng.CF, E: float, nu: float) -> ng.CF:
    """Energy per area of r-z of a material that is linear in Biot's strain, U - 1: as the shell's is in its stretch.

    In r-z the trace of U is sqrt((F_11 + F_22)² + (F_21 - F_12)²), and that of U² the sum of all F_ij².
    """
    slope, around = ng.Grad(u), u[0] / ng.x
    a, b, c, d = 1 + slope[0, 0], slope[0, 1], slope[1, 0], 1 + slope[1, 1]
    mu, lam = E / 2 / (1 + nu), E * nu / (1 + nu) / (1 - 2 * nu)
    trace = ng.sqrt((a + d) ** 2 + (c - b) ** 2)
    squares = a * a + b * b + c * c + d * d - 2 * trace + 2 + around**2
    return (mu * squares + lam / 2 * (trace - 2 + around) ** 2) * 2 * np.pi * ng.x


def forces(face: occ.Face, t: float, E: float, nu: float, way: int) -> np.ndarray:
    """Force on the inner edge at each step of its way: cubic elements as large as the sheet is thick, by Newton."""
    for edge in face.edges:
        if abs(edge.center.y) < 1e-9:
            edge.name = "moved" if edge.center.x < (R_IN + R_OUT) / 2 else "held"
    mesh = ng.Mesh(occ.OCCGeometry(face, dim=2).GenerateMesh(maxh=t))
    mesh.Curve(3)
    space = ng.VectorH1(mesh, order=3, dirichlet="held|moved")
    form = ng.BilinearForm(space, symmetric=True)
    form += ng.Variation(energy(space.TrialFunction(), E, nu).Compile() * ng.dx)
    now, edge = ng.GridFunction(space), ng.GridFunction(space)
    edge.Set(ng.CF((0, 1)), definedon=mesh.Boundaries("moved"))
    rest, step = now.vec.CreateVector(), now.vec.CreateVector()
    found = []
    for _ in range(STEPS):
        form.AssembleLinearization(now.vec)
        rest.data = form.mat * edge.vec
        step.data = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky") * rest
        now.vec.data += way * X * (edge.vec - step)
        while np.abs(step.FV().NumPy()).max() > 1e-11:
            form.Apply(now.vec, rest)
            form.AssembleLinearization(now.vec)
            step.data = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky") * rest
            now.vec.data -= step
        form.Apply(now.vec, rest)
        found.append(ng.InnerProduct(rest, edge.vec))
    return np.array(found)


def ours(nodes: tuple, t: float, E: float, nu: float, way: int) -> np.ndarray:
    shell: Shell = piece(*nodes, t, E, nu, 1.0)
    return large_stroke(shell, [len(shell.r) - 1], [0], way * X * np.arange(1, STEPS + 1))[0]


@pytest.mark.parametrize(("t", "apart"), [(0.00025, 0.01), (0.0005, 0.015), (0.001, 0.025)])
@pytest.mark.parametrize("way", [1, -1])
def test_a_half_roll(t, apart, way) -> None:
    """Kind of truth: second method (NGSolve). 6 mm either way of a roll 5 mm high; the thinner, the nearer.

    What is left is the sheet's own bend round the roll, R/t 5 to 20, and its edges, held over their thickness.
    """
    E, nu = 1e6, 0.3
    F = ours(arc(R_IN, 0, R_OUT, 0, 0.005, 30), t, E, nu, way)
    assert F == pytest.approx(forces(half_roll(t), t, E, nu, way), rel=apart)


@pytest.mark.parametrize(("t", "apart"), [(0.0005, 0.01), (0.001, 0.015), (0.002, 0.03)])
def test_a_flat_ring(t, apart) -> None:
    """Kind of truth: second method (NGSolve). 4 mm across 10 mm, where it is stretched by 8 %; it thins from there."""
    E, nu = 0.4e6, 0.3
    F = ours(line(R_IN, 0, R_OUT, 0, 30), t, E, nu, 1)
    assert F[:4] == pytest.approx(forces(flat(t), t, E, nu, 1)[:4], rel=apart)

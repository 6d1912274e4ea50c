"""Large strokes of suspensions as solids of revolution, by an independent finite element library."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest

from handwound.physics import suspension
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


def stored(length: float, w: float, t: float, r: float, x: float, turns: list[float]) -> np.ndarray:
    """Energy of an arm whose end is lifted by x and turned with a former of radius r, at each of some angles.

    It lies along the tangent, is clamped at its other end, and is as stiff as 1 in Green's strain, without Poisson's.
    """
    box = occ.Box(occ.Pnt(0, -w / 2, -t / 2), occ.Pnt(length, w / 2, t / 2))
    box.faces.Min(occ.X).name, box.faces.Max(occ.X).name = "moved", "held"
    space = ng.VectorH1(ng.Mesh(occ.OCCGeometry(box).GenerateMesh(maxh=length / 8)), order=3, dirichlet="moved|held")
    stretch = ng.Id(3) + ng.Grad(space.TrialFunction())
    green = (stretch.trans * stretch - ng.Id(3)) / 2
    form = ng.BilinearForm(space, symmetric=True)
    form += ng.Variation((ng.InnerProduct(green, green) / 2).Compile() * ng.dx)
    now, end = ng.GridFunction(space), ng.GridFunction(space)
    rest, step, shift = (now.vec.CreateVector() for _ in range(3))
    free = np.array(list(space.FreeDofs()), bool)
    found = []
    for turn in turns:
        for part in np.linspace(0.125, 1, 8) if not found else [1.0]:
            c, s = np.cos(turn * part**2), np.sin(turn * part**2)
            X, Y = ng.x, ng.y + r
            turned = ng.CF((c * X + s * Y - X, c * Y - s * X - Y, x * part))
            end.Set(turned, definedon=space.mesh.Boundaries("moved"))
            shift.FV().NumPy()[:] = np.where(free, 0, end.vec.FV().NumPy() - now.vec.FV().NumPy())
            form.AssembleLinearization(now.vec)
            rest.data = form.mat * shift
            step.data = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky") * rest
            now.vec.data += shift - step
            while np.abs(step.FV().NumPy()).max() > 1e-10 * length:
                form.Apply(now.vec, rest)
                form.AssembleLinearization(now.vec)
                step.data = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky") * rest
                now.vec.data -= step
        found.append(form.Energy(now.vec))
    return np.array(found)


@pytest.mark.parametrize(
    ("w", "x", "least_share"), [(2.0, 1.0, 0.9), (2.0, 2.0, 0.9), (4.0, 1.0, 0.9), (4.0, 2.0, 0.8)]
)
def test_an_arm_that_turns_its_former(w, x, least_share) -> None:
    """Kind of truth: second method (NGSolve, a solid in three dimensions). Energy at the turn that asks for least.

    Of an arm 20 by 0.4 on a former of radius 13: the former is free, so it turns to where that energy is least. What
    the stroke adds is right to a tenth where that is less than half; beyond, the arm also twists, and it is less.
    """
    length, t, r = 20.0, 0.4, 13.0
    in_line = 3 * x**2 / (5 * length * r)
    turns = np.array([0.7, 1.0, 1.3])
    parabola = np.polyfit(turns, stored(length, w, t, r, x, list(turns * in_line)), 2)
    least = np.polyval(parabola, -parabola[1] / (2 * parabola[0]))
    at_rest = suspension.arms_stiffness(1.0, t, 1, length, w) * x**2 / 2
    added = (float(suspension.arms_stiffening(x, t, w, r)) - 1) / 2  # grows as x²: half of it in the energy
    assert least_share < (least / at_rest - 1) / added < 1.02

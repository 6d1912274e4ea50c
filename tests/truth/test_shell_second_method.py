"""A cone as a thin shell against the same cone as a solid, by an independent finite element library."""

from __future__ import annotations

import platform
import sys
from typing import Any

import numpy as np
import pytest
from scipy.sparse import csc_array
from scipy.sparse.linalg import eigsh

from handwound.physics.shell import linear
from handwound.physics.shell.meridian import line, piece

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}
pytestmark = pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")

if HAS_WHEEL:
    import ngsolve as ng
    from ngsolve.meshes import MakeStructured2DMesh

E, NU, RHO_M = 3e9, 0.3, 700.0
R_IN, R_OUT, SLOPE = 0.0125, 0.048, np.radians(35.0)


def strains(n: int, u: Any, v: Any, w: Any) -> tuple[Any, ...]:
    """Of a solid that moves with (u cos nθ, v sin nθ, w cos nθ): three stretches, then three shears."""
    r, (u_r, u_z), (v_r, v_z), (w_r, w_z) = ng.x, *((ng.grad(each)[0], ng.grad(each)[1]) for each in (u, v, w))
    return u_r, (u + n * v) / r, w_z, u_z + w_r, v_r - (v + n * u) / r, v_z - n * w / r


def notes_of_solid(t: float, n: int, count: int) -> np.ndarray:
    """Lowest notes of the cone as a solid, its neck held: 40 bricks of fourth order along the slope, one through it."""

    def place(s: float, y: float) -> tuple[float, float]:
        off = (y - 0.5) * t
        r = R_IN + (R_OUT - R_IN) * s
        return r - off * np.sin(SLOPE), (r - R_IN) * np.tan(SLOPE) + off * np.cos(SLOPE)

    mesh = MakeStructured2DMesh(quads=True, nx=40, ny=1, mapping=place)
    one = ng.H1(mesh, order=4, dirichlet="left")
    space = ng.FESpace([one, one, one])
    (u, v, w), (du, dv, dw) = space.TnT()
    mu, lam = E / (2 * (1 + NU)), E * NU / ((1 + NU) * (1 - 2 * NU))
    a, b = strains(n, u, v, w), strains(n, du, dv, dw)
    work = lam * sum(a[:3]) * sum(b[:3]) + sum((2 * mu if i < 3 else mu) * a[i] * b[i] for i in range(6))
    free = np.flatnonzero(list(space.FreeDofs()))
    if n == 0:  # without its turning about the axis, which is another family of notes
        free = free[(free < one.ndof) | (free >= 2 * one.ndof)]
    found = []
    for density in (work, RHO_M * (u * du + v * dv + w * dw)):
        form = ng.BilinearForm(space)
        form += density * ng.x * ng.dx
        form.Assemble()
        i, j, value = form.mat.COO()
        whole = csc_array((np.array(value), (np.array(i), np.array(j))), shape=(space.ndof, space.ndof))
        found.append(whole[free][:, free])
    squares = eigsh(found[0], count, found[1], sigma=-1.0, return_eigenvectors=False)
    return np.sqrt(np.sort(squares)) / (2 * np.pi)


@pytest.mark.parametrize("n_dia", [0, 1, 2, 3])
def test_notes_of_a_paper_cone(n_dia) -> None:
    """Kind of truth: second method (NGSolve, solid). 35°, 0.2 mm, 25 to 96 mm across: six notes within 0.1 %."""
    t = 0.0002
    cone = piece(*line(R_IN, 0.0, R_OUT, (R_OUT - R_IN) * np.tan(SLOPE), 30), t, E, NU, RHO_M * t)
    found, _ = linear.frequencies(cone, n_dia, [0], 6)
    assert found == pytest.approx(notes_of_solid(t, n_dia, 6), rel=1e-3)


@pytest.mark.parametrize("n_dia", [0, 1, 2])
def test_notes_of_a_thick_cone(n_dia) -> None:
    """Kind of truth: second method (NGSolve, solid). 4 mm thick, a third of the neck's radius: four within 2 %."""
    t = 0.004
    cone = piece(*line(R_IN, 0.0, R_OUT, (R_OUT - R_IN) * np.tan(SLOPE), 30), t, E, NU, RHO_M * t)
    found, _ = linear.frequencies(cone, n_dia, [0], 4)
    assert found == pytest.approx(notes_of_solid(t, n_dia, 4), rel=0.02)

"""Time to 0.5 % of the voice coil's R and L from 20 Hz to 20 kHz: handwound beside NGSolve, in one run.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.harmonic [a motor's name ...]

Both sides start from bare dimensions: steady field, then 20 frequencies about it, each with the cheapest of its
settings that keeps the error. NGSolve has two threads; its matrices are assembled once and added up for each frequency.
Where its mesher finds no room for any of the layers, there is no number (nan). handwound has one thread and finds its
grid while it runs: its settings are the error asked for and the steady field's grid. The numbers of
docs/why/alternating.md are made by benchmarks/alternating.py.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import product
from typing import NamedTuple

import ngsolve as ng
import numpy as np
from netgen.meshing import BoundaryLayerParameters, NgException

from benchmarks import field as bench
from handwound.physics.field import FULL, SEARCH, Fineness, Winding, solve
from handwound.physics.field.bh import MU_0, Array
from handwound.physics.field.harmonic import harmonic

F = np.geomspace(20, 20e3, 20)
SOME = np.array([0, 12, 19])
STEEL, NEODYMIUM = 6e6, 6e5  # S/m; ferrite insulates
ENOUGH = 0.005
LAYERS, CORNERS = ((0.001, 0.003, 0.008), (0.002, 0.006), (0.001, 0.004)), ((0.01, 0.05), (0.03, 0.1))
REFINED = ((0.001, 0.003, 0.008), 0.005, 0.02, 0.05)


class SkinSizes(NamedTuple):
    """What the peer's mesher is told, in shares of the motor's size: layers of flat quadrangles in the rings along all
    of their sides, the size at corners near the coil and at the others, and within steel."""

    layers: tuple[float, ...]
    corner: float
    far_corner: float
    steel: float = 0.1


def alternating(case: bench.Case) -> bench.Case:
    """The same motor with conductivities, the voice coil at rest as its zone."""
    rings = tuple(
        replace(ring, sigma=STEEL if ring.curve else NEODYMIUM if ring.magnet.B_rem > 1 else 0.0)
        for ring in case.problem.rings
    )
    return replace(case, problem=replace(case.problem, rings=rings, zones=(case.coil,)))


def ours(case: bench.Case, fineness: Fineness = FULL, error: float = ENOUGH) -> Array:
    """Z of the voice coil at the 20 frequencies by handwound, the field coil open. [Ω]"""
    coil = Winding(*case.coil, case.N)
    return harmonic(solve(case.problem, case.NI, fineness=fineness), [coil], F[0], F[-1], error).Z(F)[:, 0, 0]


def peer(case: bench.Case, order: int, skin: SkinSizes, f: Array = F) -> Array:
    """The same by NGSolve."""
    sizes = bench.MeshSizes(skin.corner, skin.far_corner, 0.05, skin.steel)
    whole = bench.outline(case, sizes)
    for edge in whole.edges:
        if edge.name not in ("axis", "far"):
            edge.name = "side"
    conductors = "|".join(f"ring{k}" for k, ring in enumerate(case.problem.rings) if ring.sigma)
    layers = BoundaryLayerParameters(boundary="side", thickness=list(skin.layers), domain=conductors)
    shape = bench.occ.OCCGeometry(whole, dim=2)
    mesh = ng.Mesh(shape.GenerateMesh(maxh=sizes.outside, grading=sizes.grading, boundary_layers=[layers]))
    field = None
    for degree, enough in ((1, 1e-4), (order, 1e-9)):
        field = bench._newton(case, mesh, degree, enough, field)
    fes = ng.H1(mesh, order=order, dirichlet="axis", complex=True)
    K, M = _matrices(case, fes, field)
    load = _load(case, fes)
    both, A, out = K.mat.CreateMatrix(), ng.GridFunction(fes), []
    for each in f:
        both.AsVector().data = K.mat.AsVector() + 2j * np.pi * each * M.mat.AsVector()
        A.vec.data = both.Inverse(fes.FreeDofs(), inverse="sparsecholesky") * load.vec
        psi = 2 * np.pi * case.problem.size**3 * ng.InnerProduct(load.vec, A.vec, conjugate=False)
        out.append(2j * np.pi * each * psi)
    return np.array(out)


def _matrices(case: bench.Case, fes: ng.FESpace, field: ng.GridFunction) -> tuple[ng.BilinearForm, ng.BilinearForm]:
    """Stiffness about the steady field, and conductance."""
    problem, size, r = case.problem, case.problem.size, ng.x
    u, v = fes.TnT()

    def curl(A: ng.CoefficientFunction) -> ng.CoefficientFunction:
        return ng.CF((-ng.grad(A)[1], ng.grad(A)[0] + A / r)) / size

    B, both = curl(field), ng.InnerProduct(curl(u), curl(v)) * r
    B_abs = ng.sqrt(ng.InnerProduct(B, B) + 1e-20)
    along = ng.InnerProduct(B, curl(u)) * ng.InnerProduct(B, curl(v)) / B_abs**2 * r
    rho = ng.sqrt(r**2 + (ng.y - problem.z_middle / size) ** 2)
    K, M = ng.BilinearForm(fes, symmetric=True), ng.BilinearForm(fes, symmetric=True)
    M += 1e-30 * u * v * ng.dx("air|winding")  # nothing, but it gives both matrices the same places
    K += both / MU_0 * ng.dx("air|winding") + u * v / (MU_0 * size**2 * rho) * r * ng.ds("far")
    for k, ring in enumerate(problem.rings):
        here = ng.dx(f"ring{k}")
        if ring.curve:
            H_of = bench.spline(ring.curve)
            nu, dH = H_of(B_abs) / B_abs, H_of.Differentiate()(B_abs)
            K += (nu * both + (dH - nu) * along) * here
        else:
            K += both / (MU_0 * ring.magnet.mu_rec) * here
        M += max(ring.sigma, 1e-30) * u * v * r * here
    return K.Assemble(), M.Assemble()


def _load(case: bench.Case, fes: ng.FESpace) -> ng.LinearForm:
    """One ampere in the voice coil."""
    r_in, r_out, z_lo, z_hi = (side / case.problem.size for side in case.coil)
    inside = ng.IfPos((ng.x - r_in) * (r_out - ng.x), 1, 0) * ng.IfPos((ng.y - z_lo) * (z_hi - ng.y), 1, 0)
    a, b, c, d = case.coil
    return ng.LinearForm(case.N / ((b - a) * (d - c)) * inside * fes.TestFunction() * ng.x * ng.dx("air")).Assemble()


def apart(Z: Array, reference: Array) -> float:
    """The largest relative error of R or L."""
    return float(max(np.abs(Z.real / reference.real - 1).max(), np.abs(Z.imag / reference.imag - 1).max()))


def seconds(run: Callable[[], object], runs: int) -> float:
    """Best time of some runs."""
    best = np.inf
    for _ in range(runs):
        began = time.perf_counter()
        run()
        best = min(best, time.perf_counter() - began)
    return best


def main(names: list[str]) -> None:
    """Print the table."""
    ng.SetNumThreads(bench.THREADS)
    print(f"20 frequencies from bare dimensions, to {ENOUGH:.1%} of R and L")
    print(f"{'motor':14}{'handwound':>10}{'error':>8}{'NGSolve':>10}{'error':>8}{'ratio':>7}   both refined")
    for case in (alternating(each) for each in bench.MOTORS if not names or each.name in names):
        reference = ours(case, bench.FINEST, ENOUGH / 10)
        tried = []
        with ng.TaskManager():
            for order, layers, corners in product((3, 4), LAYERS, CORNERS):
                run = partial(peer, case, order, SkinSizes(layers, *corners))
                began = time.perf_counter()
                try:
                    error = apart(run(f=F[SOME]), reference[SOME])
                except NgException:  # its mesher finds no room for these layers in this motor
                    continue
                tried.append((time.perf_counter() - began, error, run))
            good = sorted((row for row in tried if row[1] < ENOUGH), key=lambda row: row[0])[:3]
            other, error = min(((seconds(run, 2), error) for _, error, run in good), default=(np.nan, np.nan))
            second = apart(peer(case, 4, SkinSizes(*REFINED), F[SOME]), reference[SOME]) if good else np.nan
        tried = []
        for fineness, asked in product((SEARCH, FULL), (0.02, 0.01, ENOUGH, ENOUGH / 2)):
            run = partial(ours, case, fineness, asked)
            began = time.perf_counter()
            error = apart(run(), reference)
            tried.append((time.perf_counter() - began, error, run))
        _, own_error, run = min(row for row in tried if row[1] < ENOUGH)
        own = seconds(run, 3)
        row = f"{case.name:14}{own:>8.2f} s{own_error:>8.2%}{other:>8.2f} s{error:>8.2%}{other / own:>7.1f}"
        print(f"{row}{second:>15.1e}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

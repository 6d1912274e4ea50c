"""Time to a given accuracy of Bl over the stroke: handwound's field solver beside NGSolve, in one run.

    OPENBLAS_NUM_THREADS=1 python benchmarks/field.py [a motor's name ...]

Both sides start from bare dimensions each time: grid or mesh, assembly, Newton, and Bl at 13 positions from -3 to 3 mm.
Both may choose the cheapest of their settings for each motor and accuracy. NGSolve, a general finite element library
with an excellent mesher, uses two threads; handwound uses one. Both sides have the very same curve of the steel.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from itertools import product

import netgen.occ as occ
import ngsolve as ng
import numpy as np

from handwound.materials import steels
from handwound.physics.field import FULL, SEARCH, Curve, Fineness, Magnet, Problem, Ring, Winding, solve, sweep
from handwound.physics.field.bh import MU_0, Array
from handwound.physics.field.problem import DIRECTIONS

MM = 1e-3
STROKE = np.linspace(-3, 3, 13) * MM
FINEST = Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
THREADS = 2


@dataclass(frozen=True)
class Case:
    """A motor, its voice coil (r_in, r_out, z_lo, z_hi) and turns, and its ampere-turns."""

    name: str
    problem: Problem
    coil: tuple[float, float, float, float]
    N: float
    NI: float


def case(name: str, rings: dict[str, tuple], driven_by: tuple | Magnet, coil: tuple, NI: float = 0.0) -> Case:
    """A case from millimetres, driven by a winding at NI or by the ring "magnet"; the voice coil's whole way is a zone.

    A ring's fifth number is its outer radius at its upper face, where its side is sloped.
    """
    curve, solids, wound = steels.curve("aisi1008"), [], not isinstance(driven_by, Magnet)
    for part, place in rings.items():
        r_in, r_out, z_lo, z_hi, *upper = (MM * v for v in place)
        stuff = {"magnet": driven_by} if part == "magnet" else {"curve": curve}
        solids.append(Ring(part, r_in, r_out, z_lo, z_hi, **stuff, r_out_hi=upper[0] if upper else None))
    r_in, r_out, z_lo, z_hi = (MM * v for v in coil)
    way = (r_in, r_out, z_lo - 3 * MM, z_hi + 3 * MM)
    winding = Winding(*(MM * v for v in driven_by), 800) if wound else None
    return Case(name, Problem(tuple(solids), winding, (way,)), (r_in, r_out, z_lo, z_hi), 80, NI)


POT = case(
    "pot",
    {"back": (0, 28, 0, 6), "wall": (24, 28, 6, 26), "top": (11.5, 28, 26, 32), "pole": (0, 10, 6, 32)},
    (11, 23, 7, 25), (10.5, 11, 24, 34), 800,
)  # fmt: skip
SPOOL = case(
    "open spool",
    {"bolt": (0, 6, -4, 28), "lower": (6, 25, 0, 4), "upper": (6, 25, 22, 26)},
    (7, 24, 4.5, 21.5), (25.3, 25.9, 19, 29), 1500,
)  # fmt: skip
STRAP = case(
    "strap yoke",
    {"back": (0, 25.2, 0, 6), "wall": (24, 25.2, 6, 26), "top": (11.5, 25.2, 26, 32), "pole": (0, 10, 6, 32)},
    (11, 23, 7, 25), (10.5, 11, 24, 34), 1200,
)  # fmt: skip
RING_MAGNET = case(
    "ring magnet",
    {"back": (0, 36, 0, 5), "pole": (0, 10, 5, 25), "top": (11.3, 36, 20, 25), "magnet": (16, 36, 5, 20)},
    Magnet(0.39, 1.07, "up"), (10.4, 10.9, 17.5, 27.5),
)  # fmt: skip
CUP_MAGNET = case(
    "cup magnet",
    {"bottom": (0, 17, 0, 4), "wall": (13.2, 17, 4, 19), "cap": (0, 12, 14, 19), "magnet": (0, 12, 4, 14)},
    Magnet(1.3, 1.05, "up"), (12.35, 12.85, 11.5, 21.5),
)  # fmt: skip
TAPERED = case(
    "tapered pole",
    {
        "back": (0, 28, 0, 6), "wall": (24, 28, 6, 26), "top": (11.5, 28, 26, 32),
        "shank": (0, 14, 6, 24, 10), "tip": (0, 10, 24, 32),
    },
    (15, 23, 7, 25), (10.5, 11, 24, 34), 1200,
)  # fmt: skip
MOTORS = (POT, SPOOL, STRAP, RING_MAGNET, CUP_MAGNET, TAPERED)


def ours(case: Case, order: int, fineness: Fineness) -> Array:
    """Bl over the stroke by handwound."""
    return solve(case.problem, case.NI, order=order, fineness=fineness).Bl(*case.coil, case.N, STROKE)


@dataclass(frozen=True)
class MeshSizes:
    """Lengths for the peer's mesher, as shares of the motor's size, at the places that matter."""

    corner: float
    far_corner: float
    gap: float
    steel: float
    outside: float = 3.0
    grading: float = 0.5
    box: float = 8.0


def peer(case: Case, order: int, sizes: MeshSizes) -> Array:
    """Bl over the stroke by NGSolve: unstructured triangles, fine at steel corners near the voice coil."""
    mesh = _mesh(case, sizes)
    field = None
    for degree, enough in ((1, 1e-4), (order, 1e-9)):
        field = _newton(case, mesh, degree, enough, field)
    r_in, r_out, z_lo, z_hi = case.coil
    gauss, weight = np.polynomial.legendre.leggauss(12)
    r = r_in + (r_out - r_in) * (gauss + 1) / 2
    levels = np.concatenate([z_lo + STROKE, z_hi + STROKE])
    rr, zz = np.meshgrid(r / case.problem.size, levels / case.problem.size)
    A = np.asarray(field(mesh(rr.ravel(), zz.ravel()))).reshape(rr.shape)
    across = A @ (weight * r) / 2
    low, high = across[: len(STROKE)], across[len(STROKE) :]
    return 2 * np.pi * case.N * (low - high) / (z_hi - z_lo)


def _mesh(case: Case, sizes: MeshSizes) -> ng.Mesh:
    """Triangles in shares of the motor's size, since the mesher's tolerances are absolute."""
    whole = occ.OCCGeometry(outline(case, sizes), dim=2)
    return ng.Mesh(whole.GenerateMesh(maxh=sizes.outside, grading=sizes.grading))


def outline(case: Case, sizes: MeshSizes) -> occ.TopoDS_Shape:
    """Faces of the motor and of the air around it, with the wanted sizes at their corners."""
    problem, size = case.problem, case.problem.size

    def face(lower: Iterable[float], upper: Iterable[float], levels: Iterable[float], name: str, h: float) -> occ.Face:
        (a, b), (c, d), (z_lo, z_hi) = ([v / size for v in pair] for pair in (lower, upper, levels))
        made = occ.WorkPlane().MoveTo(a, z_lo).LineTo(b, z_lo).LineTo(d, z_hi).LineTo(c, z_hi).Close().Face()
        made.faces.name, made.faces.maxh = name, h
        return made

    middle, rho = problem.z_middle / size, sizes.box
    half = occ.WorkPlane().MoveTo(0, middle - 2 * rho).Rectangle(2 * rho, 4 * rho).Face()
    world = occ.WorkPlane().MoveTo(0, middle).Circle(rho).Face() * half
    world.faces.name, world.faces.maxh = "air", sizes.outside
    world.edges.name = "far"
    way = problem.zones[0]
    zone = face(way[:2], way[:2], way[2:], "air", sizes.gap)
    parts = [
        face(ring.lower, ring.upper, (ring.z_lo, ring.z_hi), f"ring{k}", sizes.steel)
        for k, ring in enumerate(problem.rings)
    ]
    if problem.winding:
        w = problem.winding.rectangle
        parts.append(face(w[:2], w[:2], w[2:], "winding", 2 * sizes.steel))
    whole = occ.Glue([world - occ.Glue([*parts, zone]), *parts, zone - occ.Glue(parts)])
    for edge in whole.edges:
        if abs(edge.center.x) < 1e-9:
            edge.name = "axis"
    r_in, r_out, z_lo, z_hi = (v / size for v in problem.zones[0])
    near = 0.06
    for vertex in whole.vertices:
        beside = r_in - near < vertex.p[0] < r_out + near and z_lo - near < vertex.p[1] < z_hi + near
        if vertex.p[0] > 1e-9 and abs(vertex.p[1] - middle) < 2:
            vertex.maxh = sizes.corner if beside else sizes.far_corner
    return whole


def spline(curve: Curve) -> ng.BSpline:
    """The very curve as a cubic spline: double knots inside, triple where vacuum begins."""
    b, h = np.array(curve.B), np.array(curve.H)
    step, slope = np.diff(b), curve.H_dH(b)[1]
    before = curve.H_dH(b * (1 - 1e-9))[1]
    last = 20.0
    knots = [0.0] * 4 + list(np.repeat(b[1:-1], 2)) + [b[-1]] * 3 + [last] * 4
    values = [0.0]
    for k, s in enumerate(step):
        values += [h[k] + slope[k] * s / 3, h[k + 1] - before[k + 1] * s / 3]
    values += [h[-1] + (last - b[-1]) * share / MU_0 for share in (0, 1 / 3, 2 / 3, 1)]
    return ng.BSpline(4, knots, [float(v) for v in values])


def _newton(case: Case, mesh: ng.Mesh, order: int, enough: float, start: ng.GridFunction | None) -> ng.GridFunction:
    """Damped Newton for the energy of the field; inner unknowns are condensed, the Cholesky factor is sparse."""
    mesh.Curve(order)
    fes = ng.H1(mesh, order=order, dirichlet="axis")
    form = ng.BilinearForm(fes, symmetric=True, condense=order > 1)
    linear = ng.BilinearForm(fes, symmetric=True)
    _energies(case, fes, order, form, linear)
    gfu = ng.GridFunction(fes)
    if start is None:
        linear.AssembleLinearization(gfu.vec)
        residual = gfu.vec.CreateVector()
        linear.Apply(gfu.vec, residual)
        gfu.vec.data -= linear.mat.Inverse(fes.FreeDofs(), inverse="sparsecholesky") * residual
    else:
        gfu.Set(start)
        gfu.vec.data = ng.Projector(fes.FreeDofs(), True) * gfu.vec
    return _iterate(form, fes, gfu, enough)


def _energies(case: Case, fes: ng.FESpace, order: int, form: ng.BilinearForm, linear: ng.BilinearForm) -> None:
    """The energy of the field less the work of its sources, with the steel's curve and with mu_r = 1000 for it."""
    problem, size, u, r = case.problem, case.problem.size, fes.TrialFunction(), ng.x
    more = 1 if order == 1 else 0  # the cheapest rule of degree 1 has points on the axis, where A / r is not a number
    B = ng.CF((-ng.grad(u)[1], ng.grad(u)[0] + u / r)) / size
    B2 = ng.InnerProduct(B, B)
    groups: dict[Curve, list[str]] = {}
    for k, ring in enumerate(problem.rings):
        if ring.curve:
            groups.setdefault(ring.curve, []).append(f"ring{k}")
    for curve, names in groups.items():
        steel = ng.dx("|".join(names), bonus_intorder=more)
        form += ng.Variation(spline(curve).Integrate()(ng.sqrt(1e-16 + B2)) * r * steel)
        linear += ng.Variation(0.5 / (1000 * MU_0) * B2 * r * steel)
    rho = ng.sqrt(r**2 + (ng.y - problem.z_middle / size) ** 2)
    for each in (form, linear):
        each += ng.Variation(0.5 / MU_0 * B2 * r * ng.dx("air|winding", bonus_intorder=more))
        each += ng.Variation(0.5 / (MU_0 * size**2 * rho) * u * u * r * ng.ds("far"))
        for k, ring in enumerate(problem.rings):
            if ring.magnet:
                nu, J = 1 / (MU_0 * ring.magnet.mu_rec), ring.magnet.B_rem * ng.CF(DIRECTIONS[ring.magnet.direction])
                own = nu * (0.5 * B2 - ng.InnerProduct(J, B))
                each += ng.Variation(own * r * ng.dx(f"ring{k}", bonus_intorder=more))
        if problem.winding:
            w = problem.winding
            load = case.NI / ((w.r_out - w.r_in) * (w.z_hi - w.z_lo))
            each += ng.Variation(-load * u * r * ng.dx("winding"))


def _iterate(form: ng.BilinearForm, fes: ng.FESpace, gfu: ng.GridFunction, enough: float) -> ng.GridFunction:
    residual, step, old = (gfu.vec.CreateVector() for _ in range(3))
    for _ in range(40):
        form.Apply(gfu.vec, residual)
        form.AssembleLinearization(gfu.vec)
        inverse = form.mat.Inverse(fes.FreeDofs(form.condense), inverse="sparsecholesky")
        if form.condense:
            residual.data += form.harmonic_extension_trans * residual
            step.data = inverse * residual
            step.data += form.harmonic_extension * step
            step.data += form.inner_solve * residual
        else:
            step.data = inverse * residual
        fall = abs(ng.InnerProduct(step, residual))
        old.data = gfu.vec
        energy, length = form.Energy(gfu.vec), 1.0
        gfu.vec.data = old - step
        while form.Energy(gfu.vec) > energy + 1e-12 * abs(energy) and length > 0.02:
            length /= 2
            gfu.vec.data = old - length * step
        if fall < enough * abs(energy) and length == 1:  # the error left is the square of the one just mended
            return gfu
    raise RuntimeError("NGSolve's Newton did not settle")


def our_settings() -> list[Callable[[Case], Array]]:
    """Handwound's settings among which the cheapest is looked for."""
    shares = product((0.03, 0.06, 0.12), (0.01, 0.02, 0.04), (0.25,), (2.0, 4.0), (2.0, 3.0))
    return [partial(ours, order=order, fineness=Fineness(*f)) for f in shares for order in (2, 3, 4)]


def peer_settings() -> list[Callable[[Case], Array]]:
    """NGSolve's settings among which the cheapest is looked for: those that came near it in a wider trial on the pot
    (216, with finer sizes, degree 2 and slower grading)."""
    shares = product((0.005, 0.02, 0.05), (0.05, 0.1), (0.1,), (0.15, 0.3), (3.0,), (0.8,), (5.0, 8.0))
    return [partial(peer, order=order, sizes=MeshSizes(*s)) for s in shares for order in (3, 4)]


def cheapest(case: Case, settings: list[Callable[[Case], Array]], reference: Array, limits: tuple) -> list[float]:
    """Least time to each accuracy: every setting once, then the ten most promising again five times each."""
    tried = []
    for run in settings:
        begin = time.perf_counter()
        error = float(np.abs(run(case) / reference - 1).max())
        tried.append((time.perf_counter() - begin, error, run))
    out = []
    for limit in limits:
        good = sorted((row for row in tried if row[1] < limit), key=lambda row: row[0])[:10]
        out.append(min(timed(run, case) for _, _, run in good))
    return out


def timed(run: Callable[[Case], Array], case: Case) -> float:
    """Best time of five runs."""
    best = np.inf
    for _ in range(5):
        begin = time.perf_counter()
        run(case)
        best = min(best, time.perf_counter() - begin)
    return best


def curves(case: Case) -> None:
    """A field curve of 12 currents beside three solves from nothing at the least, a middle and the largest of them."""
    currents = list(np.linspace(1, 12, 12) / 6 * case.NI)
    for word, fineness in (("SEARCH", SEARCH), ("FULL", FULL)):
        whole = timed(lambda each, f=fineness: sweep(each.problem, currents, fineness=f), case)
        alone = [
            timed(lambda each, k=k, f=fineness: solve(each.problem, k, fineness=f), case)
            for k in (currents[0], currents[5], currents[11])
        ]
        print(
            f"{case.name:12} 12 currents, {word}: {whole * 1e3:.0f} ms; three cold solves {sum(alone) * 1e3:.0f} ms, "
            f"ratio {whole / sum(alone):.2f}"
        )


def main(names: list[str]) -> None:
    """Print the table."""
    limits = (5e-3, 1e-3)
    ng.SetNumThreads(THREADS)
    chosen = [each for each in MOTORS if not names or each.name in names]
    print("time to an accuracy of Bl from -3 to 3 mm; grid or mesh, assembly and Newton included")
    print(f"{'motor':14}{'accuracy':>10}{'handwound':>12}{'NGSolve':>12}{'ratio':>8}")
    for case in chosen:
        reference = ours(case, 4, FINEST)
        own = cheapest(case, our_settings(), reference, limits)
        with ng.TaskManager():
            other = cheapest(case, peer_settings(), reference, limits)
            second = peer(case, 4, MeshSizes(0.003, 0.01, 0.03, 0.1, 1.0, 0.3))
        for limit, a, b in zip(limits, own, other, strict=True):
            print(f"{case.name:14}{limit:>10.1%}{a * 1e3:>9.0f} ms{b * 1e3:>9.0f} ms{b / a:>8.1f}", flush=True)
        for word, fineness in (("SEARCH", SEARCH), ("FULL", FULL)):
            run = partial(ours, order=3, fineness=fineness)
            error = np.abs(run(case) / reference - 1).max()
            print(f"{'':14}handwound's {word}: {timed(run, case) * 1e3:.0f} ms, {error:.2%}")
        apart = np.abs(second / reference - 1).max()
        at_rest = f"Bl(0) {reference[6]:.5f} and {second[6]:.5f} T·m"
        print(f"{'':14}both refined: {at_rest}, at most {apart:.1e} apart over the stroke", flush=True)
    for case in chosen:
        if case.problem.winding:
            curves(case)


if __name__ == "__main__":
    main(sys.argv[1:])

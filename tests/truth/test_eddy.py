"""Alternating current in iron and metal, against closed forms, printed values, balances and another library."""

from __future__ import annotations

import platform
import sys
from dataclasses import replace
from functools import cache
from math import pi

import numpy as np
import pytest
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from scipy.special import ellipe, ellipk, jv

from handwound.physics.field import Problem, Ring, Solution, Winding, solve
from handwound.physics.field.axis import Axis
from handwound.physics.field.harmonic import SHARE_OF_ERROR, Harmonic, harmonic, reluctance
from handwound.physics.field.skin import Eddies
from tests.physics.field import motors
from tests.physics.field.motors import linear
from tests.truth import published

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}

MM = 1e-3
MU_0 = 4e-7 * pi
SIGMA = 6e6
AUDIO = np.geomspace(50, 20e3, 14)


def conducting(problem: Problem, sigma: float = SIGMA) -> Problem:
    return replace(problem, rings=tuple(replace(ring, sigma=sigma) for ring in problem.rings))


VOICE = Winding(*motors.COIL, 80)
POT = conducting(motors.pot())


@cache
def pot_field() -> Solution:
    return solve(POT, 800.0)


@cache
def pot_harmonic() -> Harmonic:
    """Voice coil and field coil of the pot at 800 ampere-turns."""
    return harmonic(pot_field(), [VOICE, POT.winding])


# --- a round rod

ROD = 4 * MM
HEIGHT = 20 * MM
AROUND = Winding(5 * MM, 7 * MM, 0.0, HEIGHT, 300)


@cache
def rod_field(NI: float) -> Solution:
    """A rod and a coil between plates, in a yoke; all but the rod is nearly infinitely permeable and insulates.

    So the field is the same at every level, H is nothing outside the coil, and the rod is as good as endless.
    """
    free = linear(1e8)
    rings = (
        Ring("rod", 0.0, ROD, 0.0, HEIGHT, motors.pot().rings[0].curve, sigma=SIGMA),
        Ring("below", 0.0, 12 * MM, -5 * MM, 0.0, free),
        Ring("above", 0.0, 12 * MM, HEIGHT, HEIGHT + 5 * MM, free),
        Ring("yoke", 9 * MM, 12 * MM, 0.0, HEIGHT, free),
    )
    return solve(Problem(rings, AROUND), NI)


def rod_impedance(f: np.ndarray, mu: float) -> np.ndarray:
    """Impedance of the coil round an endless rod: the flux of the rod is 2 pi a mu H J1(ka) / (k J0(ka)),
    k^2 = -j omega sigma mu; H is N I / h inside and falls evenly across the coil."""
    k = np.sqrt(-2j * pi * f * SIGMA * mu)
    in_rod = 2 * pi * ROD * mu * jv(1, k * ROD) / (k * jv(0, k * ROD)) * AROUND.N**2 / HEIGHT
    return 2j * pi * f * (in_rod + outside_of(ROD))


def outside_of(radius: float) -> float:
    """Inductance of the coil by the flux between a radius and its outside: the integral over its own section of
    2 pi r mu_0 H (c - r)^2 / (c - b)^2 is pi (2 b (c - b) / 3 + (c - b)^2 / 6)."""
    b, wide = AROUND.r_in, AROUND.r_out - AROUND.r_in
    area = pi * (b**2 - radius**2 + 2 * b * wide / 3 + wide**2 / 6)
    return MU_0 * AROUND.N**2 * area / HEIGHT


@pytest.mark.parametrize("NI", [6.0, 60.0, 600.0])
def test_a_round_rod(NI) -> None:
    """Kind of truth: closed form (Bessel functions; textbook matter, from memory) at three bias points, 1e-3.

    300, 3000 and 30000 A/m: the steel's differential permeability is then 1839, 61 and 5 times that of vacuum.
    """
    curve = rod_field(NI).problem.rings[0].curve
    B = float(curve.B_of(NI / HEIGHT))
    assert rod_field(NI).B([ROD / 2], [HEIGHT / 2])[1][0, 0] == pytest.approx(B, rel=1e-4)
    mu = float(curve.mu_differential(B)) * MU_0
    found = harmonic(rod_field(NI), [AROUND], 50.0, 20e3, error=0.001).Z(AUDIO)[:, 0, 0]
    wanted = rod_impedance(AUDIO, mu)
    assert found.real == pytest.approx(wanted.real, rel=1e-3)
    assert found.imag == pytest.approx(wanted.imag, rel=1e-3)


# --- copper


def test_a_thin_tube_is_one_step() -> None:
    """Kind of truth: closed form of one loop with L and R, tau = mu_0 sigma a t / 2 (from memory), to t / a.

    Copper of 10 µm between the same plates: Z = j omega L_in / (1 + j omega tau) + j omega L_out.
    """
    a, t = 4 * MM, 0.01 * MM
    tube = Ring("tube", a - t / 2, a + t / 2, 0.0, HEIGHT, sigma=58e6)
    around = [ring for ring in rod_field(60.0).problem.rings if ring.name != "rod"]
    s = 2j * pi * np.geomspace(1e3, 1e6, 7)
    field = solve(Problem((tube, *around), AROUND), 0.0)
    found = harmonic(field, [AROUND], 1e3, 1e6, error=0.001).Z(s.imag / (2 * pi))[:, 0, 0]
    tau = MU_0 * 58e6 * a * t / 2
    wanted = s * MU_0 * AROUND.N**2 * pi * a**2 / HEIGHT / (1 + s * tau) + s * outside_of(a)
    assert found.real == pytest.approx(wanted.real, rel=t / a)
    assert found.imag == pytest.approx(wanted.imag, rel=t / a)


def mutual(a: float, b: float, d: float) -> float:
    """Mutual inductance of two coaxial loops, Maxwell: mu_0 sqrt(ab) [(2/k - k) K - (2/k) E]. [H]"""
    m = 4 * a * b / ((a + b) ** 2 + d**2)
    k = np.sqrt(m)
    return float(MU_0 * np.sqrt(a * b) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m)))


def test_a_copper_loop_near_a_coil_slowly() -> None:
    """Kind of truth: closed form. R = omega^2 M^2 / R_loop (Maxwell's M), while the loop's own inductance is nothing.

    Loop and coil of 0.2 mm section, 20 and 15 mm in radius, 5 mm apart: M to 1e-4 of that of filaments.
    """
    loop = Ring("loop", 19.9 * MM, 20.1 * MM, 4.9 * MM, 5.1 * MM, sigma=58e6)
    coil = Winding(14.9 * MM, 15.1 * MM, -0.1 * MM, 0.1 * MM, 1)
    found = harmonic(solve(Problem((loop,), coil), 0.0), [coil], 1.0, 100.0, error=0.001)
    R_loop = 2 * pi * 20 * MM / (58e6 * (0.2 * MM) ** 2)
    wanted = (2 * pi * mutual(20 * MM, 15 * MM, 5 * MM)) ** 2 / R_loop
    assert found.Z(1.0)[0, 0, 0].real == pytest.approx(wanted, rel=1e-3)
    assert found.heat(1.0, [2.0])[0] == pytest.approx([wanted * 2**2 / 2], rel=1e-3)


# --- balances and limits


@pytest.mark.parametrize("f", [100.0, 1e3, 2e4])
def test_resistance_is_the_heat_in_the_steel(f) -> None:
    """Kind of truth: balance. Re Z |I|^2 / 2 against the integral of sigma |E|^2 / 2 over the steel, E = -j omega A.

    A is solved here directly in complex numbers and integrated with its own points; the project composes its answer
    from real solutions.
    """
    coils = [VOICE, POT.winding]
    shifts = 2 * pi * np.array([20, np.sqrt(20 * 20e3), 20e3])
    eddies = Eddies.fitted(pot_field(), coils, shifts, SHARE_OF_ERROR * 0.005)  # the grid that is chosen by default
    system, w = eddies.system, 2 * pi * f
    each, shape = system.nodes, eddies.K.shape
    rows, columns = (np.broadcast_to(nodes, shape).ravel() for nodes in (each[:, :, None], each[:, None]))
    K = eddies.K.astype(complex)
    K[eddies.conducting] += 1j * w * eddies.M
    free = np.flatnonzero(np.arange(system.count) % system.r.count)
    matrix = csc_matrix((K.ravel(), (rows, columns)), (system.count, system.count))[free][:, free]
    A, load = np.zeros(system.count, complex), eddies.load(VOICE)
    A[free] = splu(matrix).solve(load[free].astype(complex))
    Z = 2j * pi * w * load @ A
    heat = sum(heat_of(system.r, system.z, A, ring, w) for ring in POT.rings)
    assert Z.real / 2 == pytest.approx(heat, rel=1e-6)
    composed = pot_harmonic()
    assert composed.Z(f)[0, 0, 0] == pytest.approx(Z, rel=2e-5)
    assert composed.heat(f, [1.0, 0.0]).sum() == pytest.approx(heat, rel=2e-5)


def heat_of(r: Axis, z: Axis, A: np.ndarray, ring: Ring, w: float) -> float:
    """Heat in a ring by six points a side in each element."""
    gauss, weight = np.polynomial.legendre.leggauss(6)

    def points(axis: Axis, lo: float, hi: float) -> tuple[np.ndarray, np.ndarray]:
        inside = axis.lines[(axis.lines > lo - 1e-9) & (axis.lines < hi + 1e-9)]
        half = np.diff(inside)[:, None] / 2
        return (inside[:-1, None] + half * (gauss + 1)).ravel(), (half * weight).ravel()

    at_r, of_r = points(r, ring.r_in, ring.r_out)
    at_z, of_z = points(z, ring.z_lo, ring.z_hi)
    field = (z.values(at_z) @ A.reshape(z.count, -1)) @ r.values(at_r).T
    return float(pi * ring.sigma * w**2 * (of_z @ np.abs(field) ** 2 @ (of_r * at_r)))


def test_mutual_inductance_is_the_same_both_ways() -> None:
    """Kind of truth: balance (reciprocity), 1e-10: two solves with two loads."""
    eddies = Eddies(pot_field().system, pot_field().state)
    voice, field = eddies.load(VOICE), eddies.load(POT.winding)
    step = eddies.step(2 * pi * 1e3)
    assert step.solve(voice) @ field == pytest.approx(step.solve(field) @ voice, rel=1e-10)


def test_slowly_it_is_the_differential_inductance() -> None:
    """Kind of truth: limit. On one grid to 1e-6 of what the steady field says; on the grid chosen to the error said."""
    field, coil = pot_field(), POT.winding
    L = field.L_differential()
    assert reluctance(field, coil, 0.0)[0] == pytest.approx(L, rel=1e-6)
    chosen, w = pot_harmonic(), 2 * pi * 1e-6
    assert chosen.L_slow()[1, 1] == pytest.approx(L, rel=0.005)
    assert chosen.Z(w / (2 * pi))[0, 1, 1].imag / w == pytest.approx(chosen.L_slow()[1, 1], rel=1e-6)


def test_fast_it_is_the_inductance_beside_perfect_conductors() -> None:
    """Kind of truth: limit. Current in an ever thinner skin lets no flux in, as mu_r -> 0 lets no steady field in.

    L falls to it as 1 / sqrt(f): twice the value at 4 f less that at f.
    """
    solid = Ring("copper", 0.0, 10 * MM, 0.0, 30 * MM, sigma=58e6)
    coil = Winding(10.5 * MM, 11 * MM, 10 * MM, 20 * MM, 80)
    f = np.array([2.5e5, 1e6])
    found = harmonic(solve(Problem((solid,), coil), 0.0), [coil], 1e5, 1e6)
    near, nearer = found.Z(f)[:, 0, 0].imag / (2 * pi * f)
    shut = replace(solid, curve=linear(1e-7), sigma=0.0)
    wanted = solve(Problem((shut,), coil, (coil.rectangle,)), 1.0).L_differential()
    assert 2 * nearer - near == pytest.approx(wanted, rel=2e-3)
    assert nearer > wanted * 1.01


def test_a_passive_motor_takes_power_and_its_inductance_falls() -> None:
    """Kind of truth: balance. R rises and L falls with frequency for every combination of currents."""
    f = np.geomspace(1, 40e3, 60)
    Z = pot_harmonic().Z(f)
    L = Z.imag / (2 * pi * f)[:, None, None]
    assert np.linalg.eigvalsh(np.diff(Z.real, axis=0)).min() > 0
    assert np.linalg.eigvalsh(np.diff(L, axis=0)).max() < 0


# --- a printed moving coil


def test_a_printed_moving_coil() -> None:
    """Kind of truth: printed example. L at eleven positions, force factor, and force at 3 A; some lengths are scaled
    from its figure. L to 2 %, 1/2 dL/dx = 0.1904 N/A^2 to 2 %, Bl to 2 %, the forces -9.65653 and 13.07415 N to 1.5 %.
    """
    rings, coil = published.moving_coil()
    field = solve(Problem(rings, None, ((coil.r_in, coil.r_out, 0.0, 20 * MM),)), 0.0)
    x = np.array([-4, -2.5, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2.5, 4]) * MM
    printed = np.array([3.32, 3.90, 4.29, 4.48, 4.67, 4.86, 5.05, 5.24, 5.43, 5.81, 6.38]) * MM
    L, slope = reluctance(field, coil, x)
    assert L == pytest.approx(printed, rel=0.02)
    assert slope[5] / 2 == pytest.approx(0.1904, rel=0.02)
    Bl = abs(float(field.Bl(*coil.rectangle, coil.N)))
    assert Bl == pytest.approx(3.7884, rel=0.02)
    for I, F in ((-3, -9.65653), (-1, -3.60274), (1, 3.97415), (3, 13.07415)):
        assert Bl * I + slope[5] / 2 * I**2 == pytest.approx(F, rel=0.015)
    step = 0.1 * MM
    L_lo, L_hi = reluctance(field, coil, [-step, step])[0]
    assert slope[5] == pytest.approx((L_hi - L_lo) / (2 * step), rel=1e-4)


# --- another library


@pytest.mark.slow
@pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")
def test_a_pot_by_another_library() -> None:
    """Kind of truth: second method (NGSolve: triangles, its own Newton, complex numbers), 5e-4 when both are refined.

    Its mesh resolves the skin by an edge length of 0.3 mm and degree 5, so the steel has a tenth of the conductivity.
    """
    from benchmarks import field as bench

    problem = replace(conducting(motors.pot(), 6e5), zones=(VOICE.rectangle,))
    fine = bench.Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
    f = np.array([50.0, 500.0, 5000.0])
    found = harmonic(solve(problem, 800.0, fineness=fine), [VOICE], 20, 6e3, error=0.0005).Z(f)[:, 0, 0]
    wanted = by_triangles(problem, 800.0, VOICE, f)
    assert found.real == pytest.approx(wanted.real, rel=5e-4)
    assert found.imag == pytest.approx(wanted.imag, rel=5e-4)


def by_triangles(problem: Problem, NI: float, coil: Winding, f: np.ndarray) -> np.ndarray:
    """Impedance of a coil that is the problem's zone; lengths in shares of the motor's size."""
    import ngsolve as ng

    from benchmarks import field as bench

    case = bench.Case("", problem, coil.rectangle, coil.N, NI)
    size, order, field = problem.size, 5, None
    mesh = bench._mesh(case, bench.MeshSizes(0.003, 0.01, 0.02, 0.02, 1.0, 0.3))
    for degree, enough in ((1, 1e-4), (order, 1e-10)):
        field = bench._newton(case, mesh, degree, enough, field)
    fes = ng.H1(mesh, order=order, dirichlet="axis", complex=True)
    u, v, r = fes.TrialFunction(), fes.TestFunction(), ng.x

    def curl(A: ng.CoefficientFunction) -> ng.CoefficientFunction:
        return ng.CF((-ng.grad(A)[1], ng.grad(A)[0] + A / r)) / size

    B = curl(field)
    B_abs = ng.sqrt(ng.InnerProduct(B, B) + 1e-20)
    H_of = bench.spline(problem.rings[0].curve)
    nu, dH = H_of(B_abs) / B_abs, H_of.Differentiate()(B_abs)
    along_u, along_v = ng.InnerProduct(B, curl(u)) / B_abs, ng.InnerProduct(B, curl(v)) / B_abs
    steel = ng.dx("|".join(f"ring{k}" for k in range(len(problem.rings))))
    stiff = (nu * ng.InnerProduct(curl(u), curl(v)) + (dH - nu) * along_u * along_v) * r * steel
    air = ng.InnerProduct(curl(u), curl(v)) / MU_0 * r * ng.dx("air|winding")
    rho = ng.sqrt(r**2 + (ng.y - problem.z_middle / size) ** 2)
    far = u * v / (MU_0 * size**2 * rho) * r * ng.ds("far")
    r_in, r_out, z_lo, z_hi = (side / size for side in coil.rectangle)
    inside = ng.IfPos((r - r_in) * (r_out - r), 1, 0) * ng.IfPos((ng.y - z_lo) * (z_hi - ng.y), 1, 0)
    density = coil.N / ((coil.r_out - coil.r_in) * (coil.z_hi - coil.z_lo))
    load = ng.LinearForm(density * inside * v * r * ng.dx("air")).Assemble()
    out = []
    for each in f:
        whole = ng.BilinearForm(
            stiff + air + far + 2j * pi * each * problem.rings[0].sigma * u * v * r * steel, symmetric=True
        )
        A = ng.GridFunction(fes)
        A.vec.data = whole.Assemble().mat.Inverse(fes.FreeDofs(), inverse="sparsecholesky") * load.vec
        psi = 2 * pi * size**3 * ng.Integrate(density * inside * A * r * ng.dx("air"), mesh)
        out.append(2j * pi * each * psi)
    return np.array(out)

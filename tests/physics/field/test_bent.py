"""Sloped sides: the grid that follows them, the equations on it, and all that is read from it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import FULL, SEARCH, Fineness, Magnet, Problem, Ring, Solution, Winding, sensitivity, solve
from handwound.physics.field.grid import Grid
from tests.physics.field.motors import COIL, MM, changed, pot

CURVE = steels.curve("mild_steel")
STROKE = np.linspace(-3, 3, 7) * MM
FINE = replace(FULL, edge=0.015, zone=0.004)
ACROSS = (9 * MM, 14 * MM, 21 * MM, 31 * MM)  # a coil right through sloped steel


def ring(name: str, r_in: float, r_out: float, z_lo: float, z_hi: float, *upper: float, **stuff) -> Ring:
    """A ring in millimetres; ``upper`` are its radii at the upper face."""
    in_hi, out_hi = (MM * upper[0], MM * upper[1]) if upper else (None, None)
    stuff = stuff or {"curve": CURVE}
    return Ring(name, MM * r_in, MM * r_out, MM * z_lo, MM * z_hi, **stuff, r_in_hi=in_hi, r_out_hi=out_hi)


def tapered() -> Problem:
    """The pot with a pole from 20 down to 16 mm and a plate undercut from 23 to 25 mm."""
    by_name = {"pole": {"r_out_hi": 8 * MM}, "top": {"r_in_hi": 12.5 * MM}}
    return replace(pot(), rings=tuple(replace(each, **by_name.get(each.name, {})) for each in pot().rings))


def all_slopes() -> Problem:
    """A countersunk and bored back, a waisted pole of two pieces with a conical bore, an undercut plate."""
    rings = (
        ring("back", 3.5, 28, 0, 3, 1.5, 28), ring("back above", 1.5, 28, 3, 6), ring("wall", 24, 28, 6, 26),
        ring("plate", 13, 28, 26, 32, 11.3, 28), ring("shank", 1.5, 12, 6, 22, 1.5, 11),
        ring("tip", 1.5, 11, 22, 33, 4, 9.5),
    )  # fmt: skip
    winding = Winding(14 * MM, 23 * MM, 7 * MM, 25 * MM, 800)
    return Problem(rings, winding, ((10.8 * MM, 11 * MM, 23 * MM, 38 * MM),))


@pytest.fixture(scope="module")
def found() -> Solution:
    return solve(tapered(), 1200.0)


def random_motor(rng: np.random.Generator) -> Problem:
    """A pot whose sides slope at random: waisted, conical and bored poles, hollow plates, countersunk backs."""
    u = rng.uniform
    p, g, t, b, h = u(6, 20), u(0.5, 2), u(3, 10), u(3, 10), u(10, 40)
    j, w, s = rng.choice([0, 0, 0.02, 0.1]), u(8, 20), u(3, 8)
    wall, low = p + g + w, b + j + h
    top = low + t
    rings = [
        ring("wall", wall, wall + s, b + j, low, wall + rng.choice([0, u(-0.3, 0.9)]) * s, wall + s),
        ring("plate", p + g + u(0, 3), wall + s, low + j, top, p + g + rng.choice([0, u(0, 3)]), wall + s),
    ]
    if rng.random() < 0.5:
        bore, deep = u(1, 4), u(0.3, 0.8) * b
        rings.append(ring("sink", bore + u(0.5, 2), wall + s, 0, deep, bore, wall + s))
        rings.append(ring("back", bore, wall + s, deep, b))
    else:
        rings.append(ring("back", 0, wall + s, 0, b))
    neck, waist = b + j + u(0.2, 0.6) * h, p * u(0.6, 0.99)
    match rng.integers(4):
        case 0:
            rings.append(ring("pole", 0, p, b + j, top + u(-2, 3), 0, waist))
        case 1:
            rings += [ring("pole", 0, p, b + j, neck), ring("neck", 0, p, neck, low - 1, 0, waist)]
            rings.append(ring("head", 0, waist, low - 1, top + u(-1, 5), 0, p * u(0.7, 1)))
        case 2:
            rings.append(ring("pole", u(1, 3), waist, b + j, top, u(1, 3), p))
        case _:
            rings += [ring("pole", 0, waist, b + j, low - 2, 0, p * u(0.6, 1))]
            rings.append(ring("tip", 0, p, low - 2 + j, top + u(0, 4), 0, p * u(0.5, 1)))
    winding = Winding((p + g + 2) * MM, (wall - 0.3 * s - 0.5) * MM, (b + 1) * MM, (low - 1) * MM, 500)
    zone = ((p + 0.15 * g) * MM, (p + 0.85 * g) * MM, (low - 4) * MM, (top + 4) * MM)
    return Problem(tuple(rings), winding, (zone,))


# --- the grid


def test_the_grid_never_folds_and_holds_every_side() -> None:
    """300 motors at random: neighbouring lines keep apart at every level, none lies flat, all sides have their line."""
    rng = np.random.default_rng(3)
    for _ in range(300):
        problem = random_motor(rng)
        grid = Grid(problem, SEARCH)
        bend = grid.bend
        assert bend is not None
        assert (np.diff(bend) / np.diff(grid.r)).min() > 0.01
        assert np.abs(np.diff(bend, axis=0) / np.diff(grid.z)[:, None]).max() < 12
        for solid, (in_r, in_z) in zip(problem.rings, grid.spans(problem), strict=False):
            corners = bend[[in_z.start, in_z.stop]][:, [in_r.start, in_r.stop]]
            assert corners == pytest.approx(np.array([solid.lower, solid.upper]), abs=2e-6 * problem.size)


def test_sides_that_carry_on_share_a_line() -> None:
    """The bore of the back and of the pole is one line, so are the back's and the wall's outside."""
    grid = Grid(all_slopes(), SEARCH)
    inner, outer = grid.columns.numbers[1::2][:6], grid.columns.numbers[2::2][:6]
    assert len({*inner[[0, 1, 4, 5]]}) == 1
    assert len({*outer[[0, 1, 2, 3]]}) == 1
    assert outer[4] == outer[5]
    assert len(grid.columns.table[0]) == 10  # the axis, bore, pole, zone's two, plate's hole, winding's two, wall's two


def test_a_straight_motor_is_left_as_it_was() -> None:
    grid = Grid(pot(), FULL)
    assert grid.columns is None and grid.bend is None
    as_sloped = replace(pot(), rings=tuple(replace(each, r_out_hi=each.r_out) for each in pot().rings))
    assert np.array_equal(solve(as_sloped, 900.0, fineness=SEARCH).A, solve(pot(), 900.0, fineness=SEARCH).A)


@pytest.mark.parametrize(
    ("rings", "words"),
    [
        ([ring("pole", 0, 10, 0, 9, 0, 8), ring("plate", 10, 20, 0, 9)], "pole and plate: must not run together"),
        ([ring("pole", 0, 10, 0, 9, 3, 8)], "the axis and pole: must not run together to a point"),
        ([ring("pole", 0, 10, 0, 9, 8, 8)], "pole: must have 0 <= r_in < r_out at the upper face"),
        ([ring("pole", 0, 10, 0, 9, 0, 12), ring("plate", 11, 20, 3, 9)], "pole: must not lie in the same place as"),
        ([ring("pole", 0, 9, 0, 9, 0, 12), ring("plate", 11, 20, 0, 9, 9.9, 20)], "must not lie in the same place"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(rings, words) -> None:
    with pytest.raises(FieldError, match=words):
        Grid(Problem(tuple(rings)), SEARCH)


# --- the equations


def test_an_even_field_is_even_on_a_bent_grid() -> None:
    """Kind of truth: closed form. A = B r / 2 is B along the axis everywhere; the weights fill the box's volume."""
    solution = solve(all_slopes(), 0.0, fineness=SEARCH)
    system = solution.system
    curl, weight = system.curl_at(np.arange(len(system.owner)))
    B = np.einsum("eqi,ei->eq", curl, (system.node_radii / 2).ravel()[system.nodes])
    half = weight.shape[1]
    assert B[:, :half] == pytest.approx(0, abs=1e-10)
    assert B[:, half:] == pytest.approx(1, abs=1e-10)
    assert weight.sum() == pytest.approx(solution.grid.half_width**3, rel=1e-12)
    tip = weight[system.owner == 5].sum() * 2 * np.pi / MM**3
    assert tip == pytest.approx(np.pi * 11 / 3 * (11**2 + 11 * 9.5 + 9.5**2 - 1.5**2 - 1.5 * 4 - 4**2), rel=1e-12)


def test_a_taper_of_nothing_is_no_taper() -> None:
    """Kind of truth: limit. A picometre of taper takes the bent way and gives the straight motor's numbers."""
    by = 1e-12
    almost = replace(pot(), rings=tuple(replace(each, r_out_hi=each.r_out + by) for each in pot().rings[-1:]))
    almost = replace(almost, rings=(*pot().rings[:-1], *almost.rings))
    straight, bent = solve(pot(), 1200.0), solve(almost, 1200.0)
    assert straight.bend is None and bent.bend is not None
    for read in (
        lambda s: s.Bl(*COIL, 80, STROKE), lambda s: s.linkage(*COIL, 80, STROKE), Solution.energy, Solution.L_static,
        lambda s: np.array([each.B_axial for each in s.ring_B()]), lambda s: s.L_differential(),
    ):  # fmt: skip
        assert read(bent) == pytest.approx(read(straight), rel=1e-9)


def test_a_needless_slope_changes_nothing() -> None:
    """Kind of truth: second method. Cuts through solid steel lean or stand, and the motor stays the same."""
    poles = {0: [(10, 10)], 1: [(4, 4), (4, 10)], 2: [(3, 6), (6, 3)]}
    Bl = []
    for way in poles:
        pole = [ring("pole", 0, 10, 6, 32)]
        if way == 1:
            pole = [ring("core", 0, 4, 6, 32), ring("shell", 4, 10, 6, 32)]
        if way == 2:
            pole = [ring("core", 0, 3, 6, 32, 0, 7), ring("shell", 3, 10, 6, 32, 7, 10)]
        problem = replace(pot(), rings=(*pot().rings[:3], *pole))
        Bl.append(solve(problem, 1200.0, fineness=FINE).Bl(*COIL, 80, STROKE))
    assert Bl[1] == pytest.approx(Bl[0], rel=1e-5)
    assert Bl[2] == pytest.approx(Bl[0], rel=1e-4)


def test_higher_degree_converges() -> None:
    """Kind of truth: convergence in p on one bent grid: each degree at least halves the error of Bl."""
    exact = float(solve(tapered(), 1200.0, order=5, fineness=FINE).Bl(*COIL, 80))
    Bl = [float(solve(tapered(), 1200.0, order=p, fineness=SEARCH).Bl(*COIL, 80)) for p in (1, 2, 3, 4)]
    errors = np.abs(np.array(Bl) / exact - 1)
    assert np.all(errors[:-1] > 2 * errors[1:])
    assert errors[-1] < 5e-4


def test_the_defaults_keep_their_promise() -> None:
    """Kind of truth: convergence. SEARCH 0.5 %, FULL 0.05 % of Bl over the stroke, as with straight sides."""
    finest = replace(FULL, edge=0.006, zone=0.003, largest=0.15)
    exact = solve(tapered(), 1200.0, order=4, fineness=finest).Bl(*COIL, 80, STROKE)
    for fineness, promise in ((SEARCH, 5e-3), (FULL, 5e-4)):
        assert solve(tapered(), 1200.0, fineness=fineness).Bl(*COIL, 80, STROKE) == pytest.approx(exact, rel=promise)


def stairs(steps: int) -> Problem:
    """The tapered pot with stairs in place of its two slopes, each step with the volume of its slice."""

    def cut(name: str, solid: Ring, outside: bool) -> list[Ring]:
        ends = (solid.r_out, solid.upper[1]) if outside else (solid.r_in, solid.upper[0])
        r, z = np.linspace(*ends, steps + 1), np.linspace(solid.z_lo, solid.z_hi, steps + 1)
        r = np.sqrt((r[1:] ** 2 + r[1:] * r[:-1] + r[:-1] ** 2) / 3)
        radii = [(0.0, each) if outside else (each, solid.r_out) for each in r.tolist()]
        return [Ring(f"{name} {k}", *radii[k], z[k], z[k + 1], CURVE) for k in range(steps)]

    back, wall, top, pole = tapered().rings
    return replace(pot(), rings=(back, wall, *cut("top", top, False), *cut("pole", pole, True)))


def test_stairs_approach_the_slope() -> None:
    """Kind of truth: convergence. Half as high steps, about half the difference; twice the finer less the coarser."""
    slope = float(solve(tapered(), 1200.0, fineness=FINE).Bl(*COIL, 80))
    coarse, fine = (float(solve(stairs(n), 1200.0, fineness=FINE).Bl(*COIL, 80)) / slope - 1 for n in (8, 16))
    assert 1.7 < coarse / fine < 2.5
    assert abs(2 * fine - coarse) < 1e-3


def test_a_conical_magnet_is_its_two_halves() -> None:
    """Kind of truth: second method. A magnet cut along a sloped face, and a cone's volume as B_rem's weight."""
    up = {"magnet": Magnet(1.2, 1.05, "up")}
    whole = Problem((ring("disc", 0, 10, 0, 10, **up),))
    halves = Problem((ring("in", 0, 3, 0, 10, 0, 7, **up), ring("out", 3, 10, 0, 10, 7, 10, **up)))
    one, two = (solve(problem, 0, fineness=FINE).B([0, 5 * MM], [12 * MM, 20 * MM])[1] for problem in (whole, halves))
    assert two == pytest.approx(one, rel=3e-4)


# --- what is read


def test_force_factor_is_minus_the_slope_of_linkage(found) -> None:
    """Kind of truth: balance, where the coil lies in bent elements; by differences over 1 µm."""
    step, x = 1e-6, np.array([-2.7, -1.3, 0.4, 1.2]) * MM
    for solution in (found, solve(all_slopes(), 1200.0)):
        for coil in (COIL, ACROSS):
            psi = solution.linkage(*coil, 80, np.stack([x - step, x + step]))
            assert solution.Bl(*coil, 80, x) == pytest.approx((psi[0] - psi[1]) / (2 * step), rel=1e-5)


def test_force_factor_is_the_mean_radial_flux_density(found) -> None:
    """Kind of truth: second method. 2 pi N <r B_r> by Gauss's rule on the points' B, in leaning elements of the gap."""
    r_in, r_out, z_lo, z_hi = place = (8.6 * MM, 10.4 * MM, 27 * MM, 31 * MM)
    gauss, weight = np.polynomial.legendre.leggauss(60)
    r, z = (r_in + r_out) / 2 + (r_out - r_in) / 2 * gauss, (z_lo + z_hi) / 2 + (z_hi - z_lo) / 2 * gauss
    mean = weight @ (found.B(r, z)[0] * r) @ weight / 4
    assert found.Bl(*place, 80) == pytest.approx(2 * np.pi * 80 * mean, rel=2e-4)


def test_flux_density_is_the_slope_of_A(found) -> None:
    """Kind of truth: balance, by differences over 10 nm at places inside leaning elements."""
    r, z, step = np.array([3, 8.3, 9.1, 11.7, 20]) * MM, np.array([8.1, 15.2, 28.3, 31.1]) * MM, 1e-8
    B_r, B_z = found.B(r, z)
    most = np.hypot(B_r, B_z).max()
    up, down = found.A_at(r, z + step), found.A_at(r, z - step)
    assert (down - up) / (2 * step) == pytest.approx(B_r, abs=1e-6 * most)
    out, inwards = (r + step) * found.A_at(r + step, z), (r - step) * found.A_at(r - step, z)
    assert (out - inwards) / (2 * step * r) == pytest.approx(B_z, abs=1e-6 * most)
    assert found.B([0.0, 1e-7], [15 * MM])[1][0, 0] == pytest.approx(found.B([1e-7], [15 * MM])[1][0, 0], rel=1e-6)


def test_rings_tell_how_full_they_are(found) -> None:
    """Kind of truth: balance. The cone's fullest section carries what flux() says there."""
    levels = np.linspace(6, 32, 800) * MM
    radius = (10 - 2 * (levels / MM - 6) / 26) * MM
    flux = np.array([found.flux([r], [z])[0, 0] for r, z in zip(radius, levels, strict=True)])
    pole = {each.name: each for each in found.ring_B()}["pole"]
    assert pole.B_axial == pytest.approx(float((np.abs(flux) / (np.pi * radius**2)).max()), rel=1e-3)
    cone = np.pi * 18 * MM * np.hypot(2, 26) * MM
    assert pole.B_radial >= abs(flux[-1] - flux[0]) / cone * (1 - 1e-6)


def test_flux_lines_are_levels_of_the_flux(found) -> None:
    lines, most = found.flux_lines(12), np.abs(found.flux(found.r.places, found.z.places)).max()
    assert len(lines) >= 10
    for line in lines:
        assert np.ptp([found.flux([r], [z])[0, 0] for r, z in line[:: max(1, len(line) // 7)]]) < 0.02 * most


def test_a_solution_can_be_stored_and_restored(found) -> None:
    again = Solution.from_arrays(tapered(), found.to_arrays())
    assert np.array_equal(again.Bl(*COIL, 80, STROKE), found.Bl(*COIL, 80, STROKE))
    assert again.ring_B() == found.ring_B()
    with pytest.raises(FieldError, match="must belong to this motor"):
        Solution.from_arrays(changed(tapered(), "pole", r_out_hi=0.01), found.to_arrays())
    with pytest.raises(FieldError, match="must belong to this motor"):
        Solution.from_arrays(tapered(), solve(pot(), 1200.0).to_arrays())


def test_a_start_from_straight_or_bent_leads_to_the_same_field(found) -> None:
    straight = solve(pot(), 1200.0)
    assert solve(tapered(), 1200.0, straight).Bl(*COIL, 80) == pytest.approx(float(found.Bl(*COIL, 80)), rel=1e-7)
    assert solve(pot(), 1200.0, found).Bl(*COIL, 80) == pytest.approx(float(straight.Bl(*COIL, 80)), rel=1e-7)


# --- answers to small changes


def higher(problem: Problem, by: float) -> Problem:
    """Plate and pole grow together at the top."""
    ends = [each.z_hi + by * MM if each.z_hi > 31 * MM else each.z_hi for each in problem.rings]
    return replace(problem, rings=tuple(replace(each, z_hi=z) for each, z in zip(problem.rings, ends, strict=True)))


CHANGES = {
    "tip of the pole": changed(tapered(), "pole", r_out_hi=0.02),
    "undercut": changed(tapered(), "top", r_in_hi=0.1),
    "straight wall": changed(tapered(), "wall", r_in=0.1),
    "height": higher(tapered(), 0.1),
}


@pytest.fixture(scope="module")
def response(found):
    return sensitivity(found, COIL, tuple(CHANGES.values()), 80)


@pytest.mark.parametrize("name", CHANGES)
def test_first_order_against_fresh_solves(found, response, name) -> None:
    """Kind of truth: second method. Both motors anew on fine grids of their own."""
    k = list(CHANGES).index(name)
    assert response.by[k] == "first order"
    assert response.Bl_0 == pytest.approx(float(found.Bl(*COIL, 80)), rel=1e-12)
    assert response.psi_0 == pytest.approx(float(found.linkage(*COIL, 80)), rel=1e-12)
    real = [float(solve(p, 1200.0, fineness=FINE).Bl(*COIL, 80)) for p in (tapered(), CHANGES[name])]
    assert response.Bl[k] == pytest.approx(real[1] - real[0], rel=0.05, abs=2e-5 * real[0])


def test_a_straight_motor_answers_to_a_taper() -> None:
    """Kind of truth: second method. The tip of a straight pole 0.05 mm thinner, and one that needs a solve."""
    thinner = replace(pot(), rings=(*pot().rings[:3], replace(pot().rings[3], r_out_hi=9.95 * MM)))
    parted = changed(thinner, "top", z_hi=0.2)
    answer = sensitivity(solve(pot(), 1200.0), COIL, (thinner, parted), 80)
    assert answer.by == ("first order", "solved")
    real = [float(solve(p, 1200.0, fineness=FINE).Bl(*COIL, 80)) for p in (pot(), thinner, parted)]
    assert answer.Bl[0] == pytest.approx(real[1] - real[0], rel=0.04)
    assert answer.Bl[1] == pytest.approx(real[2] - real[0], rel=0.04)


def test_a_fineness_of_its_own_is_kept() -> None:
    uneven = Fineness(edge=0.05, zone=0.02, growth=3.0, outside=2.5)
    assert solve(tapered(), 300.0, fineness=uneven).fits(tapered(), 3, uneven)

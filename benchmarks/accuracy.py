"""How wrong the computed field is, and what it costs: the numbers that docs/why/field.md gives, made again.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.accuracy

Random motors come from a fixed seed. Times are those of this machine; everything else is the same everywhere. The
comparison with another program is in benchmarks/field.py.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from handwound import Job, iron_field
from handwound.errors import FieldError
from handwound.materials import steels
from handwound.physics.field import FULL, SEARCH, Curve, Fineness, Problem, Ring, Winding, sensitivity, solve, sweep
from handwound.predict import field_of
from handwound.stages import coil_place, winding
from tests.physics.field.motors import COIL, MM, SPOOL_COIL, changed, pot, spool

SEED = 7
STROKE = np.linspace(-3, 3, 13) * MM
FINEST = Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
Rectangle = tuple[float, float, float, float]


def random_motor(random: np.random.Generator) -> tuple[Problem, Rectangle]:
    """A pot or an open spool of any size that a bench may see, and a voice coil in its gap."""
    steel = steels.curve(str(random.choice(steels.names())))
    pole, gap, plate = random.uniform(5, 20), random.uniform(0.8, 2.5), random.uniform(3, 10)
    wide, high = random.uniform(4, 25), random.uniform(8, 40)
    joint = float(random.choice([0.0, 0.03, 0.1]))
    inside = pole + gap
    outside = inside + wide
    wall = random.uniform(0.1, 0.3) * wide
    top = plate + joint + high + joint
    places = {
        "back": (0, outside + wall, 0, plate),
        "pole": (0, pole, plate + joint, top + plate),
        "top": (inside, outside + wall, top, top + plate),
    }
    if random.random() < 0.7:
        places["wall"] = (outside, outside + wall, plate + joint, plate + joint + high)
    middle, half = top + plate / 2, plate * random.uniform(0.3, 0.9)
    coil = (pole + 0.3 * gap, pole + 0.7 * gap, middle - half, middle + half)
    rings = tuple(Ring(name, *(MM * v for v in place), steel) for name, place in places.items())
    winding = Winding(MM * (pole + 0.5), MM * (outside - 0.2), MM * (plate + joint + 0.5), MM * (top - 0.5), 800)
    zone = (coil[0], coil[1], coil[2] - 3, coil[3] + 3)
    r_in, r_out, z_lo, z_hi = (MM * v for v in coil)
    return Problem(rings, winding, (tuple(MM * v for v in zone),)), (r_in, r_out, z_lo, z_hi)


def settled(count: int = 500) -> None:
    """How many random motors Newton cannot solve."""
    random, failed = np.random.default_rng(SEED), 0
    for _ in range(count):
        problem, _ = random_motor(random)
        try:
            solve(problem, float(np.exp(random.uniform(0, np.log(30000)))), fineness=SEARCH)
        except FieldError:
            failed += 1
    print(f"{count} random motors, 1 to 30000 ampere-turns: {failed} did not settle")


def grid_errors(count: int = 12) -> None:
    """Errors of the two usual grids against a far finer one, of all random motors."""
    random, errors = np.random.default_rng(SEED), {"FULL": [], "SEARCH": []}
    for _ in range(count):
        problem, coil = random_motor(random)
        NI = float(random.uniform(300, 3000))
        reference = solve(problem, NI, order=4, fineness=FINEST).Bl(*coil, 80, STROKE)
        for name, fineness in (("FULL", FULL), ("SEARCH", SEARCH)):
            found = solve(problem, NI, fineness=fineness).Bl(*coil, 80, STROKE)
            errors[name].append(float(np.abs(found / reference - 1).max()))
    for name, each in errors.items():
        print(f"grid {name}: {np.median(each):.3%} the middle of {count} motors, {max(each):.3%} the worst")


def box() -> None:
    """What a box of 25 sizes changes."""
    for name, problem, coil, NI in (("pot", pot(), COIL, 800), ("spool", spool(), SPOOL_COIL, 1500)):
        near, far = (solve(problem, NI, fineness=f).Bl(*coil, 80) for f in (FULL, replace(FULL, box=25.0)))
        print(f"box of 25 sizes, {name}: {float(far / near) - 1:+.5%}")


def straight(curve: Curve, pieces: int = 20) -> Curve:
    """The same table joined by straight lines: many points on each of them."""
    at = np.arange(len(curve.B))
    fine = np.linspace(0, at[-1], at[-1] * pieces + 1)
    return Curve(np.interp(fine, at, curve.B), np.interp(fine, at, curve.H))


def table_lines() -> None:
    """What straight lines through the table of a steel do instead of cubics."""
    for NI in (800, 1600):
        one = pot()
        other = replace(one, rings=tuple(replace(ring, curve=straight(ring.curve)) for ring in one.rings))
        before, after = (float(solve(each, NI).Bl(*COIL, 80)) for each in (one, other))
        print(f"straight lines through the table, pot, {NI} A: {after / before - 1:+.3%}")


def doubts() -> None:
    """What one does not know of a motor: its steel and its joints."""
    for NI in (800, 1600):
        plain = float(solve(pot(), NI).Bl(*COIL, 80))
        known = [float(solve(pot(steel=name), NI).Bl(*COIL, 80)) for name in steels.names()[1:]]
        scaled = []
        for k_B in (1 - steels.k_B_spread("mild_steel"), 1 + steels.k_B_spread("mild_steel")):
            rings = tuple(replace(ring, curve=ring.curve.scaled(k_B)) for ring in pot().rings)
            scaled.append(float(solve(replace(pot(), rings=rings), NI).Bl(*COIL, 80)) / plain - 1)
        jointed = [float(solve(pot(joint), NI).Bl(*COIL, 80)) / plain - 1 for joint in (0.05, 0.1)]
        print(
            f"pot, {NI} A: Bl {plain:.2f} T·m, six known steels {min(known):.2f} to {max(known):.2f}, "
            f"k_B {scaled[0]:+.1%} {scaled[1]:+.1%}, joints of 0.05 and 0.1 mm {jointed[0]:+.1%} {jointed[1]:+.1%}"
        )


def seconds(run: Callable[[], object], runs: int = 5) -> float:
    """Best time of some runs."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        run()
        times.append(time.perf_counter() - began)
    return min(times)


def costs() -> None:
    """Time of what is done with a field once it is solved."""
    found = solve(pot(), 800)
    steps = 0.001 * np.arange(1, 11)
    sizes = [changed(pot(), "top", r_in=float(step)) for step in steps]
    other = [replace(pot(), rings=tuple(replace(r, curve=r.curve.scaled(1 + s)) for r in pot().rings)) for s in steps]
    apart = [pot(float(step)) for step in steps]
    for name, motors in (("moved edges", sizes), ("another steel", other), ("edges that part", apart)):
        alone, all_ten = (seconds(lambda m=m: sensitivity(found, COIL, m), 3) for m in (motors[:1], motors))
        by = sensitivity(found, COIL, motors[:1]).by[0]
        each = (all_ten - alone) / 9 * 1e3
        print(f"sensitivity, {name} ({by}): {each:.0f} ms a change, {alone * 1e3:.0f} ms the first")
    r_in, z_lo = np.meshgrid(np.linspace(10.1, 10.8, 250) * MM, np.linspace(22, 28, 400) * MM)
    for words, apart_by in (("a search's, with edges in common", 0.0), ("no two with a common edge", 1e-9)):
        odd = apart_by * np.arange(r_in.size).reshape(r_in.shape)
        coils = (r_in + odd, r_in + odd + 0.5 * MM, z_lo + odd, z_lo + odd + 8 * MM, 80.0)
        took = seconds(lambda c=coils: found.Bl(*c, np.linspace(-3, 3, 7) * MM), 3)
        print(f"{r_in.size} voice coils at 7 positions from one field, {words}: {took:.2f} s")
    print(f"pot, 800 A: L_static {found.L_static():.3f} H, L_differential {found.L_differential():.3f} H")


def sweeps() -> None:
    """Time of ten currents, each begun from the one before."""
    currents = list(np.linspace(200, 2000, 10))
    for name, problem in (("pot", pot()), ("spool", spool())):
        search, full = (seconds(lambda p=problem, f=f: sweep(p, currents, fineness=f), 3) for f in (SEARCH, FULL))
        print(f"ten currents in a row, {name}: SEARCH {search:.2f} s, FULL {full:.2f} s")


def example() -> None:
    """What the unknown steel of the example is worth."""
    with tempfile.TemporaryDirectory() as folder:
        job = Job.start(f"{folder}/open-day")
        job.choose(job.search().candidates[0])
        design, brief = job.design, job.brief
    field = field_of(design, brief)
    place = coil_place(design.iron, design.voice_coil, winding(design.voice_coil, brief.T_room).D_w)
    found = iron_field.answers(field, design, place)
    fullest = {state.name: state.B_s for state in field.iron_states()}
    print(f"the example, full to {max(fullest.values()):.2f} T ({max(fullest, key=fullest.__getitem__)}):", end="")
    print("".join(f" {key[1]} {value.slope:+.1%} of Bl" for key, value in found.items() if key[1] in ("k_B", "k_H")))


if __name__ == "__main__":
    for part in (settled, grid_errors, box, table_lines, doubts, costs, sweeps, example):
        part()

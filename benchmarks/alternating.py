"""The numbers of docs/why/alternating.md: a pot with voice coil and field coil under alternating current.

OPENBLAS_NUM_THREADS=1 python -m benchmarks.alternating
"""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np

from benchmarks.field import FULL, POT, SPOOL, Fineness
from handwound.physics.field import Problem, Ring, Solution, Winding, solve
from handwound.physics.field.bh import Array
from handwound.physics.field.harmonic import Harmonic, closed, displaced, harmonic, reluctance
from handwound.physics.inductance import r_l_steps, semi_inductance

MM = 1e-3
FINEST = Fineness(edge=0.006, zone=0.002, largest=0.12, growth=1.7, outside=1.5)
SIGMA, COPPER, ALUMINIUM = 6e6, 58e6, 35e6
F = np.geomspace(20, 20e3, 20)
SHOWN = np.array([20.0, 200.0, 1e3, 5e3, 20e3])
R_FIELD = 12.0  # ohm, of the field coil


def conducting(problem: Problem, *more: Ring) -> Problem:
    """The motor with steel that conducts, and rings more."""
    return replace(problem, rings=(*(replace(ring, sigma=SIGMA) for ring in problem.rings), *more))


def row(words: str, Z: Array) -> None:
    """R and L at the frequencies shown."""
    L = Z.imag / (2 * np.pi * SHOWN) * 1e3
    print(f"| {words} | " + " | ".join(f"{a:.3g} Ω, {b:.3g} mH" for a, b in zip(Z.real, L, strict=True)) + " |")


def ring(name: str, place: tuple[float, float, float, float], sigma: float) -> Ring:
    r_in, r_out, z_lo, z_hi = (MM * side for side in place)
    return Ring(name, r_in, r_out, z_lo, z_hi, sigma=sigma)


def what_shorts() -> Harmonic:
    """The field coil open, shorted, on supplies; rings; less permeable steel; other ampere-turns."""
    problem, coil = conducting(POT.problem), Winding(*POT.coil, POT.N)
    print("| 80 turns in the pot | " + " | ".join(f"{f:g} Hz" for f in SHOWN) + " |")
    field = solve(problem, 800.0)
    both = harmonic(field, [coil, problem.winding])
    Z = both.Z(SHOWN)
    w = 2 * np.pi * SHOWN
    choke = 1 / (1j * w * 1000e-6) + 1j * w * 1.0
    for words, Z_c in (
        ("open (a current source)", np.inf), ("across a stiff supply, 12 Ω", R_FIELD),
        ("12 Ω and a choke of 1 H behind 1000 µF", R_FIELD + choke), ("without any resistance", 0.0),
    ):  # fmt: skip
        row(words, closed(Z, [Z_c]))
    for words, place, sigma in (
        ("copper cap on the pole, 0.3 mm", (10, 10.3, 20, 32), COPPER),
        ("aluminium ring on the pole below the plate, 0.4 x 8 mm", (10, 10.4, 16, 24), ALUMINIUM),
    ):
        row(words, harmonic(solve(conducting(problem, ring(words, place, sigma)), 800.0), [coil]).Z(SHOWN)[:, 0, 0])
    for NI in (0.0, 400.0, 1600.0):
        row(f"open, {NI:g} ampere-turns", harmonic(solve(problem, NI), [coil]).Z(SHOWN)[:, 0, 0])
    for k_mu in (0.5, 0.25):
        row(f"open, steel answering {k_mu:g} of its slope", harmonic(field, [coil], k_mu=k_mu).Z(SHOWN)[:, 0, 0])
    return both


def over_the_stroke(field: Solution, coil: Winding) -> None:
    """L at several displacements, slowly and at 1 kHz, and the pull of the coil's own field."""
    x = np.array([-4, -2, 0, 2, 4]) * MM
    L, slope = reluctance(field, coil, x)
    Z = np.diagonal(harmonic(field, displaced(coil, x), error=0.005).Z(1000.0)[0])
    print("x mm, L slow mH, L at 1 kHz mH, 1/2 dL/dx N/A², Bl T·m")
    for line in zip(x / MM, L * 1e3, Z.imag / (2 * np.pi), slope / 2, field.Bl(*POT.coil, POT.N, x), strict=True):
        print("  ".join(f"{v:.4g}" for v in line))


def models(both: Harmonic) -> None:
    """What compact models make of it."""
    Z = both.Z(F)[:, 0, 0]
    for error in (0.05, 0.01, 0.001):
        model = r_l_steps(F, Z, error)
        print(f"{len(model.L)} steps: rms {model.rms:.2%}, worst {model.worst:.2%}")
    for low, high in ((20, 20e3), (200, 2e3), (1e3, 20e3)):
        f = np.geomspace(low, high, 20)
        semi = semi_inductance(f, both.Z(f)[:, 0, 0])
        print(f"{low:g} to {high:g} Hz: {semi.Z_1k:.3g} Ω at 1 kHz, n {semi.n_L:.3f}, rms {semi.rms:.1%}, "
              f"worst {semi.worst:.1%}")  # fmt: skip


def cost() -> None:
    """Processor time of 20 frequencies; the largest errors of R and L beside a grid and a steady field both refined."""
    for case in (POT, SPOOL):
        problem, coil = conducting(case.problem), Winding(*case.coil, case.N)
        field = solve(problem, case.NI, fineness=FULL)
        refined = harmonic(solve(problem, case.NI, fineness=FINEST), [coil], error=0.0005).Z(F)[:, 0, 0]
        for error in (0.02, 0.005, 0.002):
            begun = time.process_time()
            found = harmonic(field, [coil], error=error)
            Z = found.Z(F)[:, 0, 0]
            spent = time.process_time() - begun
            R, L = (np.abs(a / b - 1).max() for a, b in ((Z.real, refined.real), (Z.imag, refined.imag)))
            print(f"{case.name}: asked {error:.1%}, {found.elements} elements, {spent:.2f} s, R {R:.2%}, L {L:.2%}")


if __name__ == "__main__":
    everything = what_shorts()
    models(everything)
    over_the_stroke(solve(conducting(POT.problem), 800.0), Winding(*POT.coil, POT.N))
    cost()

"""How long it takes to hear a driver, with its diaphragm bending and stiff, beside plainer ways, in one run.

The shell: all nodes at once at every frequency, with the same air. What is heard: Rayleigh's integral added up patch by
patch. The stroke: von Karman's equations of a flat ring by a general solver (scipy).

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.sound

The field is kept already; nothing else is, as each run asks for a driver a little heavier than the last.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from typing import NamedTuple, TypeVar

import numpy as np
import numpy.typing as npt

from benchmarks.heat import EXAMPLES, best, built
from handwound import predict, suspension
from handwound.cone import Whole, whole
from handwound.heard import limits, places, told
from handwound.heard.told import BREAKUP, THETA
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.parts.sound import Travel
from handwound.physics import air
from handwound.physics.shell import linear
from handwound.physics.shell.large import large_stroke
from handwound.sounding import Blocked, Heard, respond
from handwound.stiff import stiff_law
from tests.truth.test_suspension_strokes import karman

Array = npt.NDArray[np.float64]
T = TypeVar("T")
ASKED = {"bending, 400 frequencies": 1.5, "piston range": 0.05}
"""Most that is wished for. [s]"""
SOME = 20
"""The plainer ways are tried at every twentieth frequency only, and their times multiplied."""
FAR, AROUND, WITHIN = 2000.0, 180, 4
"""How far off the patches are added up [m]; how many there are round the axis, and along each element."""
STROKES, THIN = 21, 5.0
"""Strokes up to the ring's thickness, which is a fifth of the example's: von Karman's equations are of thin sheet."""


class Built(NamedTuple):
    """An example with all that its sound hangs on."""

    design: Design
    brief: Brief
    done: Chain
    Z_b: Blocked

    def heavier(self, step: int) -> Built:
        """The same by less than anyone can weigh, so that nothing is kept."""
        moving = replace(self.done.moving, Mmd=self.done.moving.Mmd * (1 + 1e-9 * step))
        return self._replace(done=replace(self.done, moving=moving))


def once(run: Callable[[], T]) -> tuple[float, T]:
    """The time of the one run that a plainer way is given, and what it gave."""
    began = time.perf_counter()
    found = run()
    return time.perf_counter() - began, found


def solved(folder: str, example: str) -> Built:
    """An example with the best build of its search, through its stages."""
    job = built(folder, example)
    field = predict.field_of(job.design, job.brief)
    Z_b = predict.blocked(job.design, job.brief, field)
    return Built(job.design, job.brief, predict.chain(job.design, job.brief, field, Z_b=Z_b), Z_b)


def all_nodes(shell: Whole, f: Array, rho_0: float, c_0: float) -> tuple[Array, Array]:
    """Force and velocities with every node by itself: mass, springs and air of both sides in one full matrix."""
    K, M = (linear.stiffness(shell.shell, 0, lossy=True).toarray(), linear.mass(shell.shell, 0).toarray())
    n, one = len(shell.shell.r), 3 * shell.coil + 1
    M[one, one] += shell.m_ring
    K[one, one] += shell.K_ring
    axis = np.flatnonzero(shell.shell.r == 0)
    still = [3 * shell.coil, 3 * shell.coil + 2, *(3 * shell.held[0] + np.arange(3)), *(3 * axis), *(3 * axis + 2)]
    free = np.setdiff1d(np.arange(3 * n), [*still, one])
    seen = np.concatenate([3 * np.arange(n), 3 * np.arange(n) + 1])  # along r of all, then along z
    Z_m, v = np.empty(len(f), complex), np.zeros((len(f), 3 * n), complex)
    v[:, one] = 1
    for k, each in enumerate(f):
        Z = 2j * np.pi * each * M + K / (2j * np.pi * each)
        Z[np.ix_(seen, seen)] += 2 * shell.skin.load(each, rho_0, c_0)[0]
        v[k, free] = -np.linalg.solve(Z[np.ix_(free, free)], Z[free, one])
        Z_m[k] = Z[one] @ v[k]
    return Z_m, v[:, seen]


def patches(shell: Whole, f: Array, v: Array, rho_0: float, c_0: float) -> Array:
    """Rayleigh's integral over small patches of the flattened skin, heard from afar."""
    n, skin = len(shell.shell.r), np.concatenate([shell.pieces[name] for name in ("diaphragm", "surround")])
    if "cap" in shell.pieces:
        skin = np.concatenate([shell.pieces["cap"], skin])
    nodes = shell.shell.elements[skin]
    s = (np.arange(WITHIN) + 0.5) / WITHIN * 2 - 1
    shapes = np.stack([s * (s - 1) / 2, 1 - s**2, s * (s + 1) / 2])
    slopes = np.stack([s - 0.5, -2 * s, s + 0.5]) * 2 / WITHIN
    r, dr = (shell.shell.r[nodes] @ each for each in (shapes, slopes))
    dz = shell.shell.z[nodes] @ slopes
    flow = (v[:, n + nodes] @ shapes * dr - v[:, nodes] @ shapes * dz).reshape(len(f), -1) * r.ravel()
    phi = (np.arange(AROUND) + 0.5) / AROUND * 2 * np.pi
    p = np.empty((len(f), len(THETA)), complex)
    for j, theta in enumerate(THETA):
        way = np.sqrt(FAR**2 + r.ravel()[:, None] ** 2 - 2 * FAR * r.ravel()[:, None] * np.sin(theta) * np.cos(phi))
        for k, each in enumerate(f):
            near = np.exp(-2j * np.pi * each / c_0 * (way - FAR)).mean(axis=1) * 2 * np.pi
            p[k, j] = 1j * rho_0 * each * np.sum(flow[k] * near)
    return p


def beside(made: Built) -> list[tuple[str, float, float, float, str]]:
    """What it takes here and by a plainer way, and how far apart they are."""
    rho_0, c_0 = float(air.density(made.brief.T_room)), float(air.speed(made.brief.T_room))
    shell = whole(made.design, made.done.moving)
    few = BREAKUP[::SOME]
    own, answer = best(lambda: shell.driven.answer(BREAKUP, rho_0, c_0))
    other, (Z_m, v) = once(lambda: all_nodes(shell, few, rho_0, c_0))
    apart = np.abs(20 * np.log10(np.abs(Z_m / answer.Z_m[::SOME]))).max()
    rows = [("all nodes at once", own, other * SOME, float(apart), "dB")]
    moving = answer.v.reshape(len(BREAKUP), -1)
    own, p = best(lambda: shell.skin.pressure(BREAKUP, THETA, moving, rho_0, c_0))
    other, added = once(lambda: patches(shell, few, v, rho_0, c_0))
    loud = np.abs(p[::SOME]) > 0.1 * np.abs(p[::SOME, :1])
    apart = np.abs(20 * np.log10(np.abs(added / p[::SOME])))[loud].max()
    rows.append(("patch by patch", own, other * SOME, float(apart), "dB"))
    ring = suspension.surround_shell(made.design.surround)
    laid = ring._replace(t=ring.t / THIN)
    x = np.linspace(0, 1, STROKES + 1)[1:] * float(laid.t[0])
    sizes = float(laid.r[0]), float(laid.r[-1]), float(laid.t[0]), float(laid.E[0])
    own, (F, _) = best(lambda: large_stroke(laid, [len(laid.r) - 1], [0], x))
    other, thin = once(lambda: np.array([karman(*sizes, float(each)) for each in x]))
    apart = np.abs(F / thin - 1).max() * 100
    return [*rows, ("von Karman's ring", own, other, float(apart), "%")]


def steps(made: Built) -> dict[str, float]:
    """Seconds for each thing that a prediction tells of the sound."""
    fresh = count(1)
    brief, design, Z_b = made.brief, made.design, made.Z_b
    T_room, fs = float(brief.T_room), float(made.done.driver.fs)
    way = Travel(x_82=None, x_75=1e-3, x_stop=None, x_rub=None, x_lim=1e-3, by="suspension")

    def heard(done: Chain) -> Heard:
        return Heard.of(done, design, brief)

    def after(run: Callable[[Chain], object]) -> float:
        return best(lambda: run(made.heavier(next(fresh)).done))[0]

    return {
        "bending, 400 frequencies": after(lambda done: told.breakup(design, brief, done, Z_b)),
        "piston range": after(lambda done: respond(heard(done), T_room, Z_b, heard(done))),
        "where it bends": after(lambda done: stiff_law(design, done.moving, fs, T_room)),
        "loudest tones": after(lambda done: limits.loudest_tones(design, brief, done, Z_b, way, 2e3)),
        "load": after(lambda done: limits.load(design, brief, done, Z_b)),
        "places": after(lambda done: places.places(design, brief, done)),
    }


def main() -> None:
    """Both examples, step by step and beside the plainer ways."""
    for example in EXAMPLES:
        with tempfile.TemporaryDirectory() as folder:
            made = solved(folder, example)
            print(f"{example}: s", flush=True)
            for name, took in steps(made).items():
                asked = f"of {ASKED[name]:g} s asked for" if name in ASKED else ""
                print(f"  {name:<26}{took:8.3f}  {asked}", flush=True)
            print(f"{example}: s beside a plainer way, ratio, how far apart")
            for name, own, other, apart, unit in beside(made):
                print(f"  {name:<26}{own:8.3f}{other:10.3f}{other / own:9.1f}{apart:9.3f} {unit}", flush=True)


if __name__ == "__main__":
    main()

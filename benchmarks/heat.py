"""How long it takes to follow a driver for a day and to know how sure a build is, beside a plainer way, in one run.

The day: the same network through a general integrator. The draws: the same builds one at a time.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.heat

The field and its answers are kept already. Each time is the best of some runs.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt
from scipy.integrate import solve_ivp

from handwound import Job, iron_field, predict, spread, stages, warming
from handwound.parts.heat import DOUBTS
from handwound.physics.heat.network import ATOL, RTOL
from handwound.physics.heat.sources import Played
from handwound.played import Around
from handwound.warmth import Settled, on_amplifier, settle

Array = npt.NDArray[np.float64]

T = TypeVar("T")
RUNS = 5
EXAMPLES = ("open-day", "repair-pair")


def best(run: Callable[[], T]) -> tuple[float, T]:
    """The best time of some runs, and what the last one gave."""
    least = float("inf")
    for _ in range(RUNS):
        began = time.perf_counter()
        found = run()
        least = min(least, time.perf_counter() - began)
    return least, found


def steps(job: Job) -> list[float]:
    """Seconds for the draws, the stages of all of them, the bands, the weights, and the whole prediction."""
    design, brief = job.design, job.brief
    predict.predict(design, brief)
    field = predict.field_of(design, brief)
    Z_b = predict.blocked(design, brief, field)
    done = predict.chain(design, brief, field, Z_b=Z_b)
    around = Around(done, brief, Z_b, predict.played_in(done, brief, Z_b))
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    answers = iron_field.answers(field, design, place, float(brief.T_room))
    drawing, drawn = best(lambda: spread.draw(design, brief, answers))
    running, loose = best(lambda: predict.through(drawn, field, Z_b, around))
    banding, _ = best(lambda: spread.bands(done, loose))
    weighing, _ = best(lambda: spread.weights(loose, drawn.inputs))
    whole, _ = best(lambda: predict.predict(design, brief))
    return [drawing, running, banding, weighing, whole]


def alone(job: Job) -> float:
    """Seconds for as many builds as are drawn, were each to go through the stages by itself."""
    field = predict.field_of(job.design, job.brief)
    few = [1e-3 * k for k in range(RUNS)]  # each a little warmer, so that none is kept
    began = time.perf_counter()
    for step in few:
        predict.chain(job.design, replace(job.brief, T_room=job.brief.T_room + step), field)
    return (time.perf_counter() - began) / len(few) * spread.DRAWS


def by_differences(settled: Settled, driven: Played, t: Array) -> Array:
    """The same network through a general integrator (scipy's BDF) that finds its Jacobian by differences."""
    network, room = settled.model.network, settled.T[-1:]
    heat = settled.beside(driven)

    def change(_: float, y: Array) -> Array:
        T = np.append(y, room)
        return (heat(y)[0] - network.given_off(T, network.conductances(T))[0]) / network.C_th

    cold = np.full(network.n, room[0])
    return solve_ivp(change, (t[0], t[-1]), cold, method="BDF", t_eval=t, rtol=RTOL, atol=ATOL).y


def runs() -> None:
    """A working day from cold, both coils fed."""
    print(f"{warming.HOURS:.0f} h from cold, ms; the widest difference, K")
    print(f"{'example':<14}{'nodes':>8}{'run':>8}{'told':>8}{'by differences':>18}{'ratio':>8}{'apart':>8}")
    for example in EXAMPLES:
        with tempfile.TemporaryDirectory() as folder:
            job = built(folder, example)
            design, brief = job.design, job.brief
            field = predict.field_of(design, brief)
            Z_b = predict.blocked(design, brief, field)
            done = predict.chain(design, brief, field, Z_b=Z_b)
            played = predict.played_in(done, brief, Z_b)
            place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
            settled = settle(design, brief, DOUBTS, done.field_winding, place)
            driven = on_amplifier(design, brief, done.voice_winding, settled.model, played)
            own, run = best(lambda s=settled, d=driven: warming.follow(s, d, warming.instants()))
            told, _ = best(lambda a=(settled, driven, field, done, place): warming.from_cold(*a))
            other, T = best(lambda s=settled, d=driven, t=run.t: by_differences(s, d, t))
            apart = np.abs(run.T[:-1] - T).max()
            times = f"{own * 1e3:8.1f}{told * 1e3:8.1f}{other * 1e3:18.1f}{other / own:8.1f}"
            print(f"{example:<14}{len(T):8}{times}{apart:8.3f}", flush=True)


def built(folder: str, example: str) -> Job:
    """An example with the best build of its search."""
    job = Job.start(f"{folder}/{example}", example)
    job.choose(job.search().candidates[0])
    return job


def draws() -> None:
    """All draws with all results, step by step."""
    print(f"{spread.DRAWS} draws, seconds")
    print(f"{'example':<14}{'draws':>8}{'stages':>8}{'bands':>8}{'weights':>8}{'whole':>8}{'one at a time':>16}")
    for example in EXAMPLES:
        with tempfile.TemporaryDirectory() as folder:
            job = built(folder, example)
            row = "".join(f"{each:8.3f}" for each in steps(job))
            print(f"{example:<14}{row}{alone(job):16.0f}", flush=True)


if __name__ == "__main__":
    runs()
    draws()

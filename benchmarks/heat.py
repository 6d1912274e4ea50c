"""How long it takes to know how sure a build is, beside the same builds one at a time, in one run.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.heat

The field and its answers are kept already. Each time is the best of some runs.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from handwound import Job, iron_field, predict, spread, stages

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
    played = predict.played_in(done, brief, Z_b)
    place = stages.coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    answers = iron_field.answers(field, design, place, float(brief.T_room))
    drawing, drawn = best(lambda: spread.draw(design, brief, answers))
    running, loose = best(
        lambda: predict.chain(drawn.design, drawn.brief, field, drawn.doubts, drawn.k_Bl, Z_b, played)
    )
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


def draws() -> None:
    """All draws with all results, step by step."""
    print(f"{spread.DRAWS} draws, seconds")
    print(f"{'example':<14}{'draws':>8}{'stages':>8}{'bands':>8}{'weights':>8}{'whole':>8}{'one at a time':>16}")
    for example in EXAMPLES:
        with tempfile.TemporaryDirectory() as folder:
            job = Job.start(f"{folder}/{example}", example)
            job.choose(job.search().candidates[0])
            row = "".join(f"{each:8.3f}" for each in steps(job))
            print(f"{example:<14}{row}{alone(job):16.0f}", flush=True)


if __name__ == "__main__":
    draws()

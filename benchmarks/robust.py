"""Whether the field holds for whatever can be built: random motors of every arrangement, each solved four times.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.robust [how many]

Two processes. Each motor is solved on the FULL grid, twice on the SEARCH grid, and on that again in a fresh process,
where the others come before it in another order: the last three must be the same to ten digits. A refusal must be a
sentence; any other error, a warning of numpy's or a number that is not one counts as a fault. SEARCH beside FULL shows
whether "converged" is also right.
"""

from __future__ import annotations

import sys
import time
import warnings
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import NamedTuple

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field import FULL, SEARCH, Fineness, solve
from handwound.physics.field.bh import Array
from tests.physics.field.motors import MM, Built, random_built

SEED = 2000
STROKE = np.array([-1.0, 0.0, 1.0]) * MM
DIGITS = 1e-10


class Outcome(NamedTuple):
    """What became of one motor: its answers, or the sentence that refused it, or the fault."""

    arrangement: str
    answers: Array | None
    refused: str
    fault: str
    seconds: float


def motor(k: int) -> Built:
    """The k-th random motor, the same in every process."""
    return random_built(np.random.default_rng([SEED, k]))


def outcome(k: int, fineness: Fineness = FULL) -> Outcome:
    """Solve one motor and read from it what a design asks: Bl, linkage, energy, inductance, how full each part is."""
    one, began = motor(k), time.perf_counter()
    answers, refused, fault = None, "", ""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            found = solve(one.problem, one.NI, fineness=fineness)
            psi, B_s = found.linkage(*one.coil, 80, STROKE), [ring.B_s for ring in found.ring_B()]
            L = [found.L_static(), found.L_differential()] if one.problem.winding else []
            answers = np.array([*found.Bl(*one.coil, 80, STROKE), *psi, found.energy(), *L, *B_s])
        if not np.isfinite(answers).all():
            fault = "a number that is not one"
    except FieldError as error:
        refused = str(error)
    except Exception as error:  # whatever else comes is what this program looks for
        fault = f"{type(error).__name__}: {error}"
    return Outcome(one.arrangement, answers, refused, fault, time.perf_counter() - began)


def same(one: Outcome, other: Outcome) -> bool:
    """Whether two outcomes are the same to ten digits of each answer."""
    if one.answers is None or other.answers is None:
        return (one.refused, one.fault) == (other.refused, other.fault)
    return len(one.answers) == len(other.answers) and np.allclose(one.answers, other.answers, rtol=DIGITS, atol=0)


def here(k: int) -> tuple[Outcome, Outcome, Outcome]:
    """FULL, SEARCH, and SEARCH again in the same process."""
    return outcome(k), outcome(k, SEARCH), outcome(k, SEARCH)


def there(k: int) -> Outcome:
    """SEARCH, for the fresh process."""
    return outcome(k, SEARCH)


def apart(full: Outcome, search: Outcome) -> float:
    """How far SEARCH is from FULL, of the greatest Bl over the stroke."""
    assert full.answers is not None and search.answers is not None
    Bl, other = full.answers[: len(STROKE)], search.answers[: len(STROKE)]
    return float(np.abs(other - Bl).max() / np.abs(Bl).max())


def settled(first: list[tuple[Outcome, Outcome, Outcome]]) -> None:
    """Print what became of each arrangement, and every refusal and fault."""
    rows: dict[str, list[int]] = defaultdict(list)
    for k, (full, *_) in enumerate(first):
        rows[full.arrangement].append(k)
    print(f"{'arrangement':14}{'motors':>7}{'converged':>10}{'refused':>8}{'faults':>7}{'median':>8}{'longest':>8}")
    for name, ks in [*rows.items(), ("all", list(range(len(first))))]:
        faults = sum(any(one.fault for one in first[k]) for k in ks)
        refused = sum(bool(first[k][0].refused) for k in ks)
        seconds = [first[k][0].seconds for k in ks]
        print(
            f"{name:14}{len(ks):>7}{len(ks) - refused - faults:>10}{refused:>8}{faults:>7}"
            f"{np.median(seconds) * 1e3:>5.0f} ms{max(seconds):>6.2f} s"
        )
    for k, each in enumerate(first):
        for words in dict.fromkeys(one.refused or one.fault for one in each if one.refused or one.fault):
            print(f"motor {k}, {each[0].arrangement}: {words}")


def main(count: int) -> None:
    """Solve them all and print what became of them."""
    began, context = time.perf_counter(), get_context("spawn")
    with ProcessPoolExecutor(2, context) as pool:
        first = list(pool.map(here, range(count), chunksize=10))
    with ProcessPoolExecutor(2, context) as fresh:
        again = list(fresh.map(there, range(count - 1, -1, -1), chunksize=10))[::-1]
    settled(first)
    unlike = [
        k
        for k, ((_, search, twice), once) in enumerate(zip(first, again, strict=True))
        if not (same(search, twice) and same(search, once))
    ]
    print(f"not the same to ten digits on repeat, here or in a fresh process: {unlike or 'none'}")
    both = {
        k: apart(full, search)
        for k, (full, search, _) in enumerate(first)
        if full.answers is not None and search.answers is not None
    }
    worst = sorted(both, key=both.__getitem__)[:-4:-1]
    middle, high = np.quantile(list(both.values()), [0.5, 0.99])
    print(f"SEARCH from FULL, of Bl: middle {middle:.2%}, 99 of 100 under {high:.1%}", end="; worst ")
    print(", ".join(f"{both[k]:.1%} (motor {k}, {first[k][0].arrangement})" for k in worst))
    print(f"in all {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)

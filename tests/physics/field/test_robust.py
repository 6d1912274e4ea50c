"""Sixty of the random motors that ``benchmarks/robust.py`` solves by the thousand."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest

from benchmarks.robust import motor, outcome, same
from handwound.physics.field import FULL, SEARCH
from tests.physics.field.motors import ARRANGEMENTS

COUNT = 60


@pytest.mark.parametrize("k", range(COUNT))
def test_a_random_motor_settles_or_is_refused_in_words(k) -> None:
    """Kind of truth: limit. No number that is not one, no error but ours, no warning from below."""
    found = outcome(k, SEARCH if k % 2 else FULL)
    assert found.fault == ""
    assert (found.answers is None) == bool(found.refused)


def test_the_sixty_are_of_every_arrangement() -> None:
    assert {motor(k).arrangement for k in range(COUNT)} == set(ARRANGEMENTS)


def test_the_same_answers_again_here_and_in_a_fresh_process() -> None:
    """Kind of truth: balance. To ten digits, the others solved before it in another order."""
    some = range(0, COUNT, 10)
    here = [outcome(k, SEARCH) for k in some]
    with ProcessPoolExecutor(1, get_context("spawn")) as fresh:
        there = list(fresh.map(outcome, reversed(some), [SEARCH] * len(some)))[::-1]
    for one, other, k in zip(here, there, some, strict=True):
        assert same(one, other)
        assert same(one, outcome(k, SEARCH))
    assert not same(here[0], here[1])

"""Where labels go: beside what they name, in order, never on each other."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.sheet.drawing.dimension import Label, spread

THINGS = st.lists(st.tuples(st.floats(-50, 150), st.floats(1, 12)), min_size=1, max_size=12)


@given(THINGS, st.floats(-20, 20), st.floats(0, 100))
def test_nothing_overlaps_and_the_order_stays(things, low, room) -> None:
    wanted, sizes = sorted(w for w, _ in things), [s for _, s in things]
    high = low + max(room, sum(sizes))
    placed = spread(wanted, sizes, low, high)
    for (one, size), (two, after) in pairwise(zip(placed, sizes, strict=True)):
        assert two - one >= (size + after) / 2 - 1e-6
    assert placed[0] - sizes[0] / 2 >= low - 1e-6
    assert placed[-1] + sizes[-1] / 2 <= high + 1e-6


def test_two_that_want_one_place_share_it() -> None:
    """Closed form: the mean of where they stand is the place they want."""
    assert spread([10, 10], [4, 4], 0) == pytest.approx([8, 12])
    assert spread([10, 10, 10], [2, 4, 2], 0) == pytest.approx([7, 10, 13])


def test_what_has_room_stays_where_it_wants() -> None:
    assert spread([5, 20, 40], [4, 4, 4], 0, 100) == pytest.approx([5, 20, 40])


def test_too_much_for_the_room_runs_over_the_far_end() -> None:
    assert spread([1, 1, 1], [4, 4, 4], 0, 6) == pytest.approx([2, 6, 10])


@given(st.text("abcdef ", max_size=60), st.text("abcdef 0123456789", max_size=200))
def test_a_label_keeps_all_its_letters(name, words) -> None:
    runs = [run for line in Label(name, words, 0, 0, 0).lines(40) for run in line]
    for wanted, kind in ((name, True), (words, False)):
        written = "".join(text for _, text, is_name in runs if is_name is kind)
        assert "".join(written.split()) == "".join(wanted.split())

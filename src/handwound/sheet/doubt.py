"""Where the bands come from: for the numbers that matter the inputs that make them wide, and what to measure again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handwound.materials import steels
from handwound.materials.advice import advice
from handwound.parts.prediction import Prediction, Weight
from handwound.sheet.motor import Table
from handwound.sheet.numbers import KEY, told, worded
from handwound.sheet.said import show

HEAVIEST = 3
"""So many inputs are told for each result."""
BRIEF = "brief"
"""Whose numbers are told by their words alone."""
TIED = "\xa0"
"""Between a number and its sign no line may end."""
MOST = 10
"""So many things to measure again are enough for one evening."""


def tables(found: Prediction) -> tuple[Table, ...]:
    """What the doubt comes from, and what helps; none where nothing is uncertain."""
    there = {key: words for key, words in KEY.items() if key in told(found)}
    heavy = {worded(found, words): found.weights.get(key, ())[:HEAVIEST] for key, words in there.items()}
    rows = [(words, "; ".join(map(_share, each))) for words, each in heavy.items() if each]
    if not rows:
        return ()
    note = (
        "Each share is what the doubt of this number alone brings to the result's variance, the square of its width. "
        "The rest is many small doubts, and what several only bring together."
    )
    return (
        Table("What the doubt comes from", (("", "heaviest first"), *rows), note, right=()),
        Table("To know it better", (("most worth first", "what to do"), *_helps(heavy.values())), right=()),
    )


def _helps(told: Iterable[Sequence[Weight]]) -> list[tuple[str, str]]:
    """Each input once, by the largest share that it has anywhere."""
    heaviest = sorted((each for weights in told for each in weights), key=lambda each: -each.S_i)
    return list({_called(each): advice(each.quantity).better for each in heaviest}.items())[:MOST]


def _share(weight: Weight) -> str:
    share = show("S_i", weight.S_i, 2).replace(" ", TIED)
    return f"{_called(weight)} {share}"


def _called(weight: Weight) -> str:
    """Which number of which part; those of the brief need no part, steels are called as one says them."""
    words, part = advice(weight.quantity).short, weight.part
    if part == BRIEF:
        return words
    return f"{part.replace('_', ' ') if part in steels.names() else part}, {words}"

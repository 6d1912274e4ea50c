"""Where the bands come from: for the numbers that matter the inputs that make them wide, and what to measure again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from handwound.materials import steels
from handwound.materials.advice import advice
from handwound.parts.moving import BONDS
from handwound.parts.prediction import Prediction, Weight
from handwound.sheet.motor import Table
from handwound.sheet.numbers import KEY, told, worded
from handwound.sheet.said import Said, joined, named, say, show

HEAVIEST = 3
"""So many inputs are told for each result."""
BRIEF = "brief"
"""Whose numbers are told by their words alone."""
PARTS = (
    *BONDS, "field coil", "voice coil", "diaphragm", "ribs", "surround", "box", "port", "back", "baffle", "flange",
    "cooling", "mild steel",
)  # fmt: skip
"""Parts that are not called as their maker named them."""
TIED = "\xa0"
"""Between a number and its sign no line may end."""
MOST = 10
"""So many things to measure again are enough for one evening."""


def tables(found: Prediction) -> tuple[Table, ...]:
    """What the doubt comes from, and what helps; none where nothing is uncertain."""
    there = [key for key in KEY if key in told(found)]
    heavy = {worded(found, KEY[key]): found.weights.get(key, ())[:HEAVIEST] for key in there}
    rows = [(words, joined("; ", map(_share, each))) for words, each in heavy.items() if each]
    if not rows:
        return ()
    note = say(
        "Each share is what the doubt of this number alone brings to the result's variance, the square of its width. "
        "The rest is many small doubts, and what several only bring together."
    )
    return (
        Table(say("What the doubt comes from"), (("", say("heaviest first")), *rows), note, right=()),
        Table(
            say("To know it better"),
            ((say("most worth first"), say("what to do")), *_helps(heavy.values())),
            right=(),
        ),
    )


def _helps(told: Iterable[Sequence[Weight]]) -> list[tuple[Said, Said]]:
    """Each input once, by the largest share that it has anywhere."""
    heaviest = sorted((each for weights in told for each in weights), key=lambda each: -each.S_i)
    return list({_called(each): say(advice(each.quantity).better) for each in heaviest}.items())[:MOST]


def _share(weight: Weight) -> Said:
    share = show("S_i", weight.S_i, 2)
    tied = Said(share.replace(" ", TIED), share.figures)
    return say("{input} {share}", input=_called(weight), share=tied)


def _called(weight: Weight) -> Said:
    """Which number of which part; those of the brief need no part, steels are called as one says them."""
    words, part = say(advice(weight.quantity).short), weight.part
    if part == BRIEF:
        return words
    called = part.replace("_", " ") if part in steels.names() else part
    return say("{part}, {quantity}", part=named(called, PARTS), quantity=words)

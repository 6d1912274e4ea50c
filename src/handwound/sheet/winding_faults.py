"""Faults of the field coil's winding in words: what each would do, and what tells them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwound.parts.faults import WindingFault
from handwound.quantities import Num, show
from handwound.sheet.digits import decibels

Row = tuple[str, ...]
HEAD = ("", "cold", "current", "ampere-turns", "heat", "level", "L at 100 Hz")
TELL = {
    "reversed": (
        "Every ohm right, the field weak, too little inductance",
        "layers against the others: with the supply off swap the ends of one piece at its junction, and measure again",
    ),
    "shorted": (
        "Ohms low, current high, hardly any inductance",
        "layers shorted: look for the hot spot, and wind again; not the cause of a weak field on a held voltage",
    ),
    "left out": ("Ohms low, inductance nearly right", "turns are missing: count, and go by the ladder"),
    "spliced": (
        "Ohms right, a bump in the coil",
        "a splice: harmless while its sleeve is whole and its solder stays cold",
    ),
}
"""Common practice, no source; the inductances are computed."""


def rows(found: Sequence[WindingFault]) -> tuple[Row, ...]:
    """A line for the sound coil and for each fault, under a head."""
    return HEAD, *(_row(each) for each in found)


def ways_to_tell(found: Sequence[WindingFault]) -> tuple[Row, ...]:
    """What the meters say of each kind of fault that is among these."""
    kinds = dict.fromkeys(each.kind for each in found)
    return tuple(TELL[kind] for kind in kinds if kind in TELL)


def note(found: Sequence[WindingFault]) -> str:
    """What to make of it."""
    return " ".join(_sentences(found))


def _sentences(found: Sequence[WindingFault]) -> Iterator[str]:
    yield "Cold, one fault at a time, about the middle of the coil. A meter cannot see which way a layer goes round."
    shorts = [each for each in found if each.kind == "shorted"]
    if shorts:
        most = shorts[-1]
        yield (
            f"With {most.name} the ampere-turns are {_amperes(most.NI_V)} at the sound coil's voltage and "
            f"{_amperes(most.NI_I)} at its current: on a held voltage a short costs watts and no field."
        )
    yield "All layers are taken to share all flux; where hardly any inductance is left, what is left is leakage."
    yield "A shorted coil gets hotter than planned: fit a fuse, and never leave it alone."


def _row(each: WindingFault) -> Row:
    return (
        each.name,
        show("R_T", float(each.R_T)),
        show("I_f", float(each.I_f)),
        _amperes(each.NI),
        show("P_f", float(each.P_f)),
        "" if each.kind == "sound" else decibels(float(each.dL)),
        "" if each.L_ac is None else show("L_ac", float(each.L_ac)),
    )


def _amperes(NI: Num) -> str:
    return show("NI", float(NI), 4)

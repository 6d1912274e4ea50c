"""Faults of the field coil's winding in words: what each would do, and what tells them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwound.parts.faults import VoiceFault, WindingFault
from handwound.quantities import Num
from handwound.sheet.digits import decibels
from handwound.sheet.said import show

Row = tuple[str, ...]
VOICE_HEAD = ("", "Re, cold", "Bl", "level, same voltage", "peak of Z", "L at 1 kHz")
VOICE_NOTE = (
    "The level is that between the resonance and where the inductance counts. Shorted turns are a brake: the peak of "
    "the impedance is low, as with a coil that rubs, but a slow sweep is clean; a single one can hardly be told. Do "
    "not connect a coil whose ohms are below 80 % of what the amplifier is rated for."
)
HEAD = ("", "cold", "current", "ampere-turns", "heat", "level", "L at 100 Hz")
TELL = {
    "reversed": (
        "Every ohm right, the field weak, too little inductance",
        "layers against the others: with the supply off swap the ends of one piece at its junction, and measure again",
    ),
    "shorted": (
        "Ohms low, current high, much less inductance than the ohms explain",
        "layers shorted: look for the hot spot, and wind again; not the cause of a weak field on a held voltage",
    ),
    "left out": ("Ohms low, inductance nearly right", "turns are missing: count, and go by the ladder"),
    "spliced": (
        "Ohms right, a bump in the coil",
        "a splice: harmless while its sleeve is whole",
    ),
}
"""Common practice, no source; the inductances are computed."""
HARDLY = 0.01
"""Of the sound coil's inductance no meter tells less apart from nothing. [1] Common practice, no source."""


def rows(found: Sequence[WindingFault]) -> tuple[Row, ...]:
    """A line for the coil as planned and for each fault, under a head."""
    sound = next((each.L_ac for each in found if each.kind == "none"), None)
    return HEAD, *(_row(each, sound) for each in found)


def voice_rows(found: Sequence[VoiceFault]) -> tuple[Row, ...]:
    """The same of the voice coil."""
    sound = next((each.L_vc for each in found if each.kind == "none"), None)
    return VOICE_HEAD, *(
        (
            each.name,
            show("Re", float(each.Re)),
            show("Bl", float(each.Bl), 2),
            "" if each.kind == "none" else decibels(each.dL),
            show("Z_max", float(each.Z_max)),
            _henries("L_vc", each.L_vc, sound, 2),
        )
        for each in found
    )


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
            f"With {most.name} the ampere-turns are {_amperes(most.NI_V)} at the voltage of the coil as planned and "
            f"{_amperes(most.NI_I)} at its current: on a held voltage a short costs watts and no field."
        )
    yield "All layers are taken to share all flux; where hardly any inductance is left, what is left is leakage."
    yield "A shorted coil gets hotter than planned: fit a fuse, and never leave it alone."


def _row(each: WindingFault, sound: Num | None) -> Row:
    return (
        each.name,
        show("R_T", float(each.R_T)),
        show("I_f", float(each.I_f)),
        _amperes(each.NI),
        show("P_f", float(each.P_f)),
        "" if each.kind == "none" else decibels(each.dL),
        _henries("L_ac", each.L_ac, sound, 3),
    )


def _henries(name: str, L: Num | None, sound: Num | None, figures: int) -> str:
    """An inductance; nothing where it is not known, in words where hardly any is left of that of the sound coil."""
    if L is None:
        return ""
    return "hardly any" if sound is not None and L < HARDLY * sound else show(name, float(L), figures)


def _amperes(NI: Num) -> str:
    return show("NI", float(NI), 4)

"""What the cautions say where it is long or said in several ways. Common practice, no source."""

from __future__ import annotations

from handwound.parts.sheet import Adhesive
from handwound.sheet.said import Said, say

AWAY = "Keep it well away from pacemakers and implants."
SHARP = "Cut edges and washers are sharp: deburr, wear goggles when drilling, clamp small parts."
FILINGS = "Keep filings and swarf from the open gap: they do not come out and scratch. Tape it."
SNATCHES = "The live motor snatches steel, pinches fingers."
NO_MAINS = "Nothing here goes to the mains. Local codes come first."
ISOLATED = "Nothing here goes to the mains: use a ready-made isolated supply. Local codes come first."
RUNS_AWAY = "it has no rest on this supply. Never join them: fewer volts and amperes, or more turns of wire."
COOLER = "fewer volts or amperes, thinner wire on a fixed voltage, or a rest in time."
WILL_BE_HOTTER = "You asked for {T_touch} at most: it will be hotter."
MAY_BE_HOTTER = "You asked for {T_touch} at most: it may be hotter."
TOO_WARM = "That is too warm: play more quietly than {amplifier} can."
MAYBE_TOO_WARM = "That may be too warm: play more quietly than {amplifier} can."
JUMPS = (
    "Never off: it jumps to steel from a hand's breadth and crushes what is between. Wedges, never fingers; two "
    "hands, steel off the bench."
)
JUMPS_WITH = (
    "Never off: it jumps to steel from a hand's breadth and crushes what is between, with up to {F_hold} when closed. "
    "Wedges, never fingers; two hands, steel off the bench."
)
KICKS = {
    "hundreds": "The field holds {W_m}. A broken circuit makes hundreds of volts of it: before first power a diode for "
    "{I_diode} and {V_reverse} across the coil, its ring to plus; turn the supply down, never pull a live clip.",
    "thousands": "The field holds {W_m}. A broken circuit makes thousands of volts of it: before first power a diode "
    "for {I_diode} and {V_reverse} across the coil, its ring to plus; turn the supply down, never pull a live clip.",
}
BESIDE = {"clearance.c_i": "inside {c}", "clearance.c_o": "outside {c}"}
OPEN = (
    "Common practice: more Bl, less moving mass or a suspension that damps helps; a resistor in the leads does not, a "
    "closed box makes it worse."
)
BOXED = (
    "Common practice: more Bl, less moving mass or a suspension that damps helps; a resistor in the leads does not, a "
    "larger box helps, too."
)
PORTED = (
    "Common practice: more Bl, less moving mass or a suspension that damps helps; a resistor in the leads does not, a "
    "longer port or a larger box helps, too."
)
LOUD = (
    "All of {amplifier}, {watts} in this coil, makes {level} at 1 m: above {limit} protect your ears, and never hold "
    "one close to a loud tone."
)
LOUD_TONE = (
    "All of {amplifier}, {watts} in this coil, makes {level} at 1 m, a steady tone up to {tone}: above {limit} protect "
    "your ears, and never hold one close to a loud tone."
)
FUMES = "Solder and burnt enamel give bad fumes: scrape the wire, air the room. A mask against dust of card and foam."
VAPOURS = {
    "heat-cured": "never cure it in an oven for food; gloves, and air the room",
    "bonding": "the coil is hot and its enamel gives fumes while it bonds: air the room, do not touch",
    "cyanoacrylate": "its vapour stings eyes and lungs and it bonds skin at once: air the room, wear goggles",
    "epoxy": "skin may become allergic to it: gloves, and air the room while it cures",
    "contact": "its solvent is harmful and catches fire: air the room, no flame",
    "": "read its label",
}
"""What glues do, by words of their kind; of any other the label tells."""


def harm(glue: Adhesive) -> Said:
    """What a glue does to who works with it, by a word of its kind."""
    kind = next(kind for kind in VAPOURS if kind in glue.kind.lower())  # the last of them is in every kind
    return say(VAPOURS[kind])

"""A coil in several sections: where each ends in the winding, how they are joined, what the meter reads of each."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import Coil, FieldCoil
from handwound.parts.prediction import Band, Layer
from handwound.sheet.digits import with_band
from handwound.sheet.said import Said, counted, joined, say

JOINED = {
    "series": "Join in series: the end of each section to the start of the next.",
    "parallel": "Join in parallel: all starts together, all ends together.",
}


@dataclass(frozen=True)
class SectionEnd:
    """The end of one section: its number, the layer and the turn at which it comes, and the section's own ohms."""

    number: int
    n_layer: int
    N: int
    R_T: Band
    full: bool


def section_ends(coil: Coil, layers: tuple[Layer, ...]) -> tuple[SectionEnd, ...]:
    """The ends of equal sections, by turns; none for a coil in one piece.

    Within a layer all turns are equally long. A section has the relative band of the ladder at its end: what spreads
    is the wire, which is the same in all.
    """
    if coil.n_sec == 1:
        return ()
    found, R_before = [], 0.0
    for number in range(1, coil.n_sec + 1):
        N = round(number * layers[-1].N / coil.n_sec)
        layer = next(each for each in layers if each.N >= N)
        R = layer.R_T - (layer.R_T - _R_under(layers, layer)) * (layer.N - N) / layer.N_l
        own = Band(*((R - R_before) * value / layer.R_T for value in layer.R_T_band))
        found.append(SectionEnd(number, layer.n_layer, N, own, layer.N == N))
        R_before = R
    return tuple(found)


def section_words(coil: Coil, layers: tuple[Layer, ...]) -> str:
    """What to do at each end, what each section reads alone, and how they are joined; nothing for a coil in one."""
    ends = section_ends(coil, layers)
    if not ends:
        return ""
    return joined(" ", (
        say(
            "At the end of each section bring the wire out, mark it with the section's number, start and end and an "
            "arrow the way it turns; all sections turn the same way. While winding twist each end to the next start: "
            "the ladder reads on."
        ),
        say("Sections end: {ends}.", ends=joined("; ", (_place(coil, end, layers[end.n_layer - 1]) for end in ends))),
        say(JOINED[coil.connection]),
        say("All arrows must point the same way round."),
    ))  # fmt: skip


def forward(coil: Coil, n_layer: int) -> bool:
    """Whether a layer travels to the front, the cone.

    The field coil begins at the back. The voice coil's last layer ends at the front, where both its leads are.
    """
    return (n_layer % 2 == 1) is (isinstance(coil, FieldCoil) or int(coil.n_l) % 2 == 1)


def _R_under(layers: tuple[Layer, ...], layer: Layer) -> float:
    return layers[layer.n_layer - 2].R_T if layer.n_layer > 1 else 0.0


def _place(coil: Coil, end: SectionEnd, layer: Layer) -> Said:
    """Where one ends, at which end of the coil its leads are then, and its own ohms."""
    places = {
        "number": counted("n_sec", end.number), "layer": counted("n_layer", end.n_layer), "N": counted("N", end.N),
        "ohms": with_band("R_T", end.R_T),
    }  # fmt: skip
    if not end.full:
        return say(
            "{number} in layer {layer} at turn {N}, its lead drawn to the nearer end under tape, {ohms} alone",
            **places,
        )
    if forward(coil, layer.n_layer):
        return say("{number} after layer {layer}, turn {N}, at the front, {ohms} alone", **places)
    return say("{number} after layer {layer}, turn {N}, at the back, {ohms} alone", **places)

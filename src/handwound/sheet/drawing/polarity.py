"""Which end of each coil is plus, so that plus drives the cone out: from the way the flux crosses the gap."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Literal

from handwound.materials import magnets
from handwound.parts.design import Design
from handwound.parts.iron import Ring
from handwound.parts.prediction import Prediction

End = Literal["S", "F"]
MU_0 = 4e-7 * pi
"""Permeability of nothing [H/m]: CODATA, rounded."""
NEAR = 1e-3
"""A magnet's face has iron or a magnet before it where that is no further. [m]"""
OPEN = 0.05
"""What a magnet with a face in free air does to the gap, as a share of what it would do between two of iron."""


@dataclass(frozen=True)
class Polarity:
    """Both coils turn clockwise seen from the front. ``outward`` tells whether flux crosses the gap outwards.

    ``field`` and ``voice`` are the plus ends: S where the wire starts, F where it finishes. With magnets the field
    coil's is the one that helps or opposes them as was reckoned.
    """

    outward: bool
    field: End | None
    voice: End


def polarity(design: Design, prediction: Prediction) -> Polarity:
    """The plus ends of a design, by F = I l x B: a clockwise current in a flux that runs outwards drives forwards."""
    coil = design.field_coil
    z_lo, z_hi = (float(z) for z in design.iron.plate_levels())
    middle, push = (z_lo + z_hi) / 2, sum(_magnet(design, ring) for ring in design.iron.rings if ring.magnetised)
    field: End | None = None
    if coil:
        # a current against the clock makes a north pole in front; clockwise, from S to F, a south pole
        field = "F" if design.has_magnets else "S"
        NI = float(prediction.excitation.NI) if prediction.excitation else 1.0
        ahead = 1 if middle > float(coil.z_w + coil.h_w / 2) else -1
        push += NI * ahead * (1 if field == "F" else -1)
    outward = push > 0
    return Polarity(outward, field, "S" if outward else "F")


def _magnet(design: Design, ring: Ring) -> float:
    """Ampere-turns with which a magnet drives flux outwards across the gap; negative inwards. [A]"""
    levels, z = design.iron.levels()[ring.name], design.iron.plate_levels()
    r_gap = float(design.voice_coil.D_f) / 2
    grade = magnets.grade(ring.grade)
    B_rem = grade.B_rem if ring.B_rem is None else float(ring.B_rem)
    H, low, high = B_rem / (MU_0 * grade.mu_rec), float(levels[0]), float(levels[1])
    if ring.magnetised in ("out", "in"):
        beside = min(high, float(z[1])) > max(low, float(z[0]))
        way = 1 if (ring.magnetised == "out") == beside else -1
        return way * H * float(ring.d_out - ring.d_in) / 2
    within = float(ring.d_in) / 2 < r_gap  # its flux comes back outside of it, or through its hole
    in_front = float(z[0] + z[1]) > low + high
    way = 1 if (ring.magnetised == "up") == (within == in_front) else -1
    closed = _faces(design, ring, low, high)
    return way * H * (high - low) * (1.0 if closed else OPEN)


def _faces(design: Design, ring: Ring, low: float, high: float) -> bool:
    """Whether there is a ring before both of its faces."""
    before = {True: False, False: False}
    for other, (z_lo, z_hi) in zip(design.iron.rings, design.iron.levels().values(), strict=True):
        across = min(float(ring.d_out), float(other.d_out)) - max(float(ring.d_in), float(other.d_in))
        if other.name != ring.name and across > 0:
            before[True] |= abs(float(z_lo) - high) < NEAR
            before[False] |= abs(float(z_hi) - low) < NEAR
    return all(before.values())

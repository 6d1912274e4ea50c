"""Where the leads of the field coil come out, and what must be drilled for them. Common practice, no source."""

from __future__ import annotations

from typing import Literal

from handwound.parts.coil import FieldCoil
from handwound.parts.design import Design
from handwound.parts.iron import Ring
from handwound.parts.prediction import Prediction

Side = Literal["back", "front"]
Lead = tuple[str, Side, int]
"""Its mark, the cheek that it leaves at, and the hour on the clock, seen from the front."""
S_HOUR, F_HOUR = 6, 7
D_LEAD = 4e-3
"""The hole that lets one lead through in its sleeve. [m]"""


def field_leads(coil: FieldCoil) -> tuple[Lead, Lead]:
    """Start and end of the winding: an odd last layer ends at the front, and its end is not led back over the coil."""
    return ("S", "back", S_HOUR), ("F", "front" if int(coil.n_l) % 2 else "back", F_HOUR)


def wound_on_iron(coil: FieldCoil) -> bool:
    """Whether it has no tube of its own."""
    return not float(coil.t_f)


def lead_holes(design: Design, prediction: Prediction) -> tuple[tuple[Lead, Ring, float | None], ...]:
    """Each lead with the ring to drill for it and the circle of that hole, None in a shell's wall. [m]

    Nothing where the coil lies open, or where nothing but magnets stands there: a magnet is never drilled.
    """
    coil, wound = design.field_coil, prediction.field_winding
    if coil is None or wound is None:
        return ()
    z_lo, z_hi = float(coil.z_w - coil.t_fl), float(coil.z_w + coil.h_w + coil.t_fl)
    shell = _shell(design, float(wound.D_w), z_lo, z_hi)
    if shell is None:
        return ()
    circles = {"S": float(coil.D_f) + D_LEAD, "F": float(wound.D_w) - D_LEAD}
    found: list[tuple[Lead, Ring, float | None]] = []
    for lead in field_leads(coil):
        mark, side, _ = lead
        plate = _plate(design, circles[mark], z_lo if side == "back" else z_hi, side)
        if plate:
            found.append((lead, plate, circles[mark]))
        elif not shell.magnetised:
            found.append((lead, shell, None))
    return tuple(found)


def _shell(design: Design, D_w: float, z_lo: float, z_hi: float) -> Ring | None:
    """The nearest ring that goes all round the winding; bars leave room between them."""
    levels = design.iron.levels()
    round_it = [
        ring
        for ring in design.iron.rings
        if not ring.n_legs
        and float(ring.d_in) >= D_w
        and min(z_hi, float(levels[ring.name][1])) - max(z_lo, float(levels[ring.name][0])) > (z_hi - z_lo) / 2
    ]
    return min(round_it, key=lambda ring: float(ring.d_in), default=None)


def _plate(design: Design, circle: float, z: float, side: Side) -> Ring | None:
    """The nearest ring before that end of the coil which is there all round this hole, if it can be drilled."""
    levels, near = design.iron.levels(), list[tuple[float, Ring]]()
    for ring in design.iron.rings:
        low, high = (float(level) for level in levels[ring.name])
        away = z - high if side == "back" else low - z
        d_in, d_out = float(ring.d_in), float(ring.d_out)
        if away > -D_LEAD / 4 and d_in <= circle - D_LEAD and circle + D_LEAD <= d_out:
            near.append((away, ring))
    if not near:
        return None
    _, ring = min(near, key=lambda each: each[0])
    return None if ring.magnetised else ring

"""How far it may move: until the force factor falls, the suspension stiffens, the gap closes or something is hit."""

from __future__ import annotations

from math import isfinite

import numpy as np

from handwound import rub, suspension
from handwound.files import fits
from handwound.iron_field import Field
from handwound.parts.coil import Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.parts.sound import Held, Travel
from handwound.physics import stroke
from handwound.physics import suspension as suspension_physics
from handwound.quantities import Num
from handwound.spread import Drawn

FURTHEST = 0.03
"""No further stroke is looked at. [m]"""
PLACES = 41
"""Displacements at which force factor and stiffness are known."""
STEP, HALVINGS = 1e-3, 7
"""Strokes are tried in such steps, thinner than any plate [m]; so often the last one is halved."""
ENDS = {"x_82": "force factor", "x_75": "suspension", "x_rub": "gap", "x_stop": "stop"}


def held(design: Design, found: Chain, x_pk: float) -> Held:
    """The suspension over three times the wanted stroke, how it sinks and what tilts it."""
    x = np.linspace(-3, 3, PLACES) * x_pk
    rocks = suspension.rocking(design, found.moving, x_pk)
    return Held(x=x, K_x=suspension.stiffness_over_stroke(design, x), **rocks._asdict())


def travel(
    design: Design, brief: Brief, found: Chain, field: Field, place: Rectangle, held: Held, drawn: Drawn
) -> Travel:
    """Every end of the stroke, and the first of them."""
    reach = float(place[3] - place[2]) + float(np.ptp([float(z) for z in design.iron.plate_levels()]))
    x = np.linspace(-reach, reach, PLACES) / 2
    Bl = field.Bl_x(place, found.voice_winding.N, x)
    ends = {
        "x_82": _known(stroke.stroke(x, Bl * np.sign(Bl[len(x) // 2])).x_82),
        "x_75": _known(suspension_physics.stroke_75(held.x, held.K_x)[-1]),
        "x_rub": rub.free_stroke(design, brief, drawn, *_hottest(found)),
        "x_stop": free_of_stops(design),
    }
    x_lim, name = min((end, name) for name, end in ends.items() if end is not None)
    return Travel(
        x_82=ends["x_82"], x_75=ends["x_75"], x_rub=ends["x_rub"], x_stop=ends["x_stop"], x_lim=x_lim, by=ENDS[name]
    )


def free_of_stops(design: Design) -> float | None:
    """The stroke at which something is hit, by the very rules with which the files are checked; None for none."""

    def hits(x: float) -> bool:
        met = fits.voice_coil_fits(design.iron, design.voice_coil, design.field_coil, x)
        return any(True for _ in met) or any(True for _ in fits.diaphragm_clears(design, x))

    # step by step, for far beyond a plate the coil is free again
    hops = np.arange(STEP, FURTHEST + STEP / 2, STEP)
    high = next((float(hop) for hop in hops if hits(float(hop))), None)
    if high is None:
        return None
    low = high - STEP
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if hits(middle) else (middle, high)
    return low


def _hottest(found: Chain) -> tuple[Num | None, Num | None]:
    """Voice coil and iron, as for what is told of rubbing. [°C]"""
    return found.rating.T_lim if found.rating else None, found.heat.T_case if found.heat else None


def _known(end: float) -> float | None:
    return float(end) if isfinite(end) else None

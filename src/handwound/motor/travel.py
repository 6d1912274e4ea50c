"""The force factor over the coil's way, the gap along the coil, and where the flux goes."""

from __future__ import annotations

import numpy as np

from handwound.errors import FieldError
from handwound.motor.solved import Solved
from handwound.parts.study import Filled, Gap, Travel
from handwound.physics import stroke
from handwound.quantities import show

BEYOND = 1.2
"""How far Bl is followed, in heights of the winding and plate together: half of that is where the coil has left it."""

LEAST = 0.01
"""Share of the greatest force factor of the way below which a coil at rest is not driven, and all ratios are noise."""


def travel(build: Solved) -> Travel:
    """Bl over the stroke, the stroke at 82 %, and the rest positions of most and of most even force."""
    low, high = (float(level) for level in build.design.iron.plate_levels())
    x_pk = float(build.brief.x_pk)
    reach = max(BEYOND * (float(build.design.voice_coil.h_w) + high - low) / 2, 2 * x_pk)
    x = np.linspace(-reach, reach, 81)
    coil = build.coil
    Bl = build.field.Bl_x(coil.rectangle, coil.N, x)
    rest, most = abs(float(Bl[len(x) // 2])), float(np.abs(Bl).max())
    if rest <= LEAST * most:
        raise FieldError(
            f"voice coil: must stand in a field that drives it; found a force factor of {show('Bl', rest)} at rest and "
            f"{show('Bl', most)} elsewhere. Set it out or in by x_0, or make another ring the plate."
        )
    Bl = Bl * np.sign(Bl[len(x) // 2])
    found = stroke.stroke(x, Bl)
    x_most, x_even = stroke.best_rest(x, Bl, x_pk)
    return Travel(
        x=x, Bl_x=Bl, **found._asdict(), A_Bl=stroke.asymmetry(x, Bl, x_pk), x_most=x_most, x_even=x_even
    )  # fmt: skip


def gap(build: Solved) -> Gap:
    """The flux density that the winding stands in, and how much of the flux crosses the gap."""
    coil, solution = build.coil, build.field.solution
    z = np.linspace(coil.z_lo, coil.z_hi, 61)
    r = (coil.r_in + coil.r_out) / 2
    B_r = solution.B(r, z)[0][:, 0]
    low, high = (float(level) for level in build.design.iron.plate_levels())
    ends = solution.flux(r, [low, high])[:, 0]
    phi_g, phi = abs(float(ends[0] - ends[1])), solution.most_flux()
    return Gap(z=z - z[0], B_r=B_r * np.sign(B_r.sum()), phi_g=phi_g, phi=phi, leak=max(1 - phi_g / phi, 0.0))


def filled(build: Solved) -> tuple[Filled, ...]:
    """Every ring of steel: how much flux runs through it and how full of it that is."""
    return tuple(
        Filled(name=ring.name, phi=ring.phi, B_s=ring.B_s, word=ring.word) for ring in build.field.solution.ring_B()
    )

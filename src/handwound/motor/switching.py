"""The field coil switched on and off: how long that takes, what the diode bears, what the steel keeps."""

from __future__ import annotations

import numpy as np

from handwound.motor.solved import Solved
from handwound.parts.study import Switching
from handwound.physics.build_up import eddy_delay, rise_times, switch_off
from handwound.physics.field.remanence import H_C_MILD, remanence

SHARES = (0.63, 0.95)


def switching(build: Solved) -> Switching | None:
    """Everything about on and off; None without a field coil."""
    wound, fed, field = build.done.field_winding, build.done.excitation, build.field
    supply = build.brief.supply
    if wound is None or fed is None or supply is None or field.problem.winding is None:
        return None
    N = float(wound.N)
    coil = field.problem.winding
    linked = [float(each.linkage(*coil.rectangle, coil.N)) for each in field.solutions]
    begin = 0.0 if field.NI[0] > 0 else linked[0]
    I_f = np.append(0.0, field.NI[field.NI > 0]) / N
    psi = np.append(0.0, np.array(linked)[field.NI > 0] - begin)
    V_max, R_T, I = float(supply.V_max), float(wound.R_T), float(fed.I_f)
    (t_I63, t_I95), (t_psi63, t_psi95) = map(np.ravel, rise_times(I_f, psi, V_max, R_T, SHARES, I))
    below = I_f < I * (1 - 1e-9)
    off = switch_off(np.append(I_f[below], I), np.append(psi[below], np.interp(I, I_f, psi)), R_T, V_max)
    return Switching(
        t_I=(float(t_I63), float(t_I95)), t_psi=(float(t_psi63), float(t_psi95)), tau_e=_delay(build), **off._asdict(),
        V_max=V_max, H_c=H_C_MILD, Bl_left=_kept(build),
    )  # fmt: skip


def _kept(build: Solved) -> float | None:
    """The force factor that remanence keeps; None where magnets give most of it. [T·m]"""
    if any(ring.magnet for ring in build.field.problem.rings):
        return None
    return abs(float(remanence(build.field.solution, H_C_MILD).Bl(*build.coil.rectangle, build.coil.N)))


def _delay(build: Solved) -> float:
    """The longest that eddy currents in a solid pole through the field coil can hold its flux back. [s]"""
    found = {ring.name: ring for ring in build.field.solution.ring_B()}
    coil = build.field.problem.winding
    assert coil
    delays = [
        float(eddy_delay(float(ring.curve.mu_differential(found[ring.name].B_mean)), ring.sigma, ring.r_out))
        for ring in build.field.problem.rings
        if ring.curve and not ring.r_in and ring.r_out <= coil.r_in and ring.z_lo < coil.z_hi and ring.z_hi > coil.z_lo
    ]
    return max(delays, default=0.0)

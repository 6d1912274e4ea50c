"""Alternating current: the blocked voice coil's impedance, its inductance over the way, and the hum of the supply."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from handwound import iron_field
from handwound.motor.solved import Solved
from handwound.parts.study import Alternating, Hum, Tone
from handwound.physics import air, sound
from handwound.physics.field.harmonic import reluctance
from handwound.physics.hum import a_weighting, bucking_turns, hum, ripple_allowed, sawtooth, smoothing, total_level
from handwound.physics.inductance import r_l_steps, semi_inductance
from handwound.sounding import R_REF

F = np.array([20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000.0])
K_SOFT = 0.3
"""Share of the steel's answer that small currents may get: the low end of what is usual (from memory). [1]"""
L_QUIET = 20.0
"""Hum that is lost in a quiet room at night: 20 to 25 dB(A) (common practice). [dB]"""
DV_LIKELY = 0.1
"""Ripple from peak to peak where the supply says nothing: a thrifty bench supply (common practice, no source). [V]"""
HARMONICS = np.array([1, 2, 3])


def alternating(build: Solved) -> Alternating:
    """What the blocked voice coil does to alternating current, and the compact models that follow it."""
    found, shut = build.blocked.eddies.Z(F), build.blocked.at(F)
    soft = replace(build.blocked, eddies=iron_field.alternating(build.field, build.blocked.eddies.coils, k_mu=K_SOFT))
    x = np.linspace(-2, 2, 9) * float(build.brief.x_pk)
    L_x, dL_dx = reluctance(build.field.solution, build.coil, x)
    steps, power = r_l_steps(F, shut), semi_inductance(F[F >= 500], shut[F >= 500])
    return Alternating(
        f=F, Z_open=found[:, 0, 0], Z_closed=shut, x=x, L_x=L_x, dL_dx=float(dL_dx[len(x) // 2]),
        L_0=steps.L_0, L_step=steps.L, R_step=steps.R, e_steps=steps.worst,
        Z_1k=power.Z_1k, n_L=power.n_L, e_power=power.worst,
        L_soft=soft.at(F).imag / (2 * np.pi * F),
    )  # fmt: skip


def hum_of(build: Solved) -> Hum | None:
    """What the supply's ripple sounds like; None without a field coil, or without ripple, as on a battery."""
    supply, wound, fed = build.brief.supply, build.done.field_winding, build.done.excitation
    if wound is None or fed is None or supply is None:
        return None
    dV = DV_LIKELY if supply.dV is None else float(supply.dV)
    if not dV:
        return None
    f = 2 * float(supply.f_mains) * HARMONICS
    V = np.asarray(sawtooth(dV, HARMONICS))
    Z = build.blocked.eddies.Z(f)
    tones = _tones(build, f, V, Z)
    level = float(total_level(np.array([tone.L_hum for tone in tones]) + a_weighting(f)))
    N, left = bucking_turns(complex(Z[0, 0, 1]), complex(Z[0, 2, 1]))
    least = float(ripple_allowed(dV, level, L_QUIET))
    C_s = float(smoothing(float(fed.I_f), float(supply.f_mains), least))
    return Hum(
        dV=dV, known=supply.dV is not None, tones=tones, L_A=level, L_want=L_QUIET, dV_least=least, C_s=C_s,
        N_bucking=N, dL_bucking=left,
    )  # fmt: skip


def _tones(build: Solved, f: Any, V: Any, Z: Any) -> tuple[Tone, ...]:
    moved, driver, T = build.done.moving, build.done.driver, build.brief.T_room
    assert build.done.field_winding
    rho_0, c_0 = air.density(T), air.speed(T)
    Z_m = sound.mechanical_impedance(f, moved.Mmd, moved.Rms, moved.Kms, moved.a, moved.Sd, rho_0, c_0)
    found = hum(
        f, V, build.done.field_winding.R_T, driver.Re, 0.0, Z[:, 1, 1], Z[:, 0, 1], Z[:, 0, 0], build.done.motor.Bl,
        Z_m, moved.Sd, rho_0, R_REF,
    )  # fmt: skip
    columns = [f, V, *(np.abs(each) for each in found[:3]), found.L_hum]
    names = ("f", "V_ripple", "I_ripple", "U_hum", "I_hum", "L_hum")
    rows = zip(*(np.asarray(column).tolist() for column in columns), strict=True)
    return tuple(Tone(**dict(zip(names, row, strict=True))) for row in rows)

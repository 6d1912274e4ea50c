"""What is heard, and what the terminals see: the voice coil held still, the driver in its wall, its response."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from handwound import iron_field
from handwound.iron_field import Field
from handwound.kept import stage
from handwound.parts.coil import Rectangle
from handwound.parts.prediction import Driver, Moving, Response
from handwound.physics import air, sound
from handwound.physics import driver as driver_physics
from handwound.physics.field.harmonic import Harmonic, closed
from handwound.physics.level import level_1W, level_2V83
from handwound.quantities import Num

F_LOW = 20.0
"""Where the response begins: the lowest note commonly called audible. [Hz] (from memory)"""
HEARD = np.geomspace(F_LOW, 20e3, 600)
"""Frequencies over all that is heard, up to where hearing ends. [Hz] (from memory)"""
U_REF, R_REF = 2.83, 1.0
"""Voltage and distance of the level on the sheet: IEC 60268-5 (from memory). [V], [m]"""


@dataclass(frozen=True, eq=False)
class Blocked:
    """A voice coil that is held still: impedances with the coils around it, and the field coil's resistance."""

    eddies: Harmonic
    R_f: float | None

    def at(self, f: npt.NDArray[np.float64]) -> npt.NDArray[np.complex128]:
        """Its impedance without Re, the field coil closed by a supply that holds its voltage. [Ω]"""
        closing = [] if self.R_f is None else [self.R_f, np.inf]
        return np.asarray(closed(self.eddies.Z(f), closing), np.complex128)

    @cached_property
    def heard(self) -> npt.NDArray[np.complex128]:
        """The same over all that is heard, asked for again by each driver that differs a little. [Ω]"""
        return self.at(HEARD)


@stage
def block(field: Field, place: Rectangle, N: Num, R_f: Num | None) -> Blocked:
    """The voice coil held still, with the eddy currents in iron and metal around it."""
    eddies = iron_field.alternating(field, iron_field.coils(field, place, N))
    return Blocked(eddies, None if R_f is None else float(R_f))


@stage
def drive(
    Re: Num, Bl: Num, Mms: Num, Kms: Num, Rms: Num, Sd: Num, a: Num, T_room: Num, Z_b: Blocked | None = None
) -> Driver:
    """The driver as its terminals and the room see it; without ``Z_b`` its least impedance is that of no inductance."""
    rho_0, c_0 = air.density(T_room), air.speed(T_room)
    fs, Cms = driver_physics.resonance(Mms, Kms), driver_physics.compliance(Kms)
    R = Rms + np.real(sound.radiation(fs, a, Sd, rho_0, c_0))  # the air takes power too
    Qms, Qes = driver_physics.Q_ms(fs, Mms, R), driver_physics.Q_es(fs, Mms, Re, Bl)
    Vas = driver_physics.V_as(Cms, Sd, rho_0, c_0)
    eta_0 = driver_physics.reference_efficiency(fs, Vas, Qes, c_0)
    L_1W = level_1W(eta_0, rho_0, c_0)
    # without inductance the modulus falls away from fs on both sides: the least stands at an end
    f_piston = sound.piston_limit(a, c_0)
    f = np.geomspace(F_LOW, np.mean(f_piston), 100) if Z_b else (F_LOW, f_piston)
    held_still = Z_b.at(np.asarray(f)) if Z_b else np.zeros(2)
    least = [np.abs(driver_physics.impedance(at, Re, Bl, Mms, R, Kms) + Z) for at, Z in zip(f, held_still, strict=True)]
    return Driver(
        Re=Re,
        fs=fs,
        Cms=Cms,
        Qms=Qms,
        Qes=Qes,
        Qts=driver_physics.Q_ts(Qms, Qes),
        Vas=Vas,
        eta_0=eta_0,
        L_1W=L_1W,
        L_2V83=level_2V83(L_1W, Re),
        Z_max=driver_physics.Z_max(Re, Bl, R),
        Z_min=np.min(np.array(np.broadcast_arrays(*least)), axis=0)[()],
    )


@stage
def respond(driver: Driver, Bl: Num, moving: Moving, T_room: Num, Z_b: Blocked) -> Response:
    """Impedance and level on axis over the piston range."""
    rho_0, c_0 = air.density(T_room), air.speed(T_room)
    f_piston = float(sound.piston_limit(moving.a, c_0))
    near = float(driver.fs) * np.geomspace(0.7, 1.4, 121)
    f = np.unique(np.append(np.geomspace(F_LOW, f_piston, 300), near[(near > F_LOW) & (near < f_piston)]))
    Z, L_p = sound.response(
        f, U_REF, driver.Re, Bl, moving.Mmd, moving.Rms, moving.Kms, moving.a, moving.Sd, rho_0, c_0, R_REF, Z_b.at(f)
    )
    return Response(f=f, Z=np.abs(Z), L_p=np.asarray(L_p), f_piston=f_piston)

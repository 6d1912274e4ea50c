"""What is heard, and what the terminals see: the voice coil held still, the driver in its wall, its response."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from handwound import iron_field
from handwound.iron_field import Field
from handwound.kept import stage
from handwound.mounting import Around, Lodging, around, tuned
from handwound.parts.coil import Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain, Driver, Response
from handwound.parts.sound import Mounted
from handwound.physics import air, circuit, sound
from handwound.physics import driver as driver_physics
from handwound.physics.alignment import lowest
from handwound.physics.field.harmonic import Harmonic, closed
from handwound.physics.hum import Phasor
from handwound.physics.level import level_1W, level_2V83
from handwound.physics.shell.breakup import F_TOP
from handwound.quantities import Num
from handwound.spread import PERCENT

F_LOW = 20.0
"""Where the response begins: the lowest note commonly called audible. [Hz] (from memory)"""
HEARD = np.geomspace(F_LOW, F_TOP, 600)
"""Frequencies over all that is heard, up to where hearing ends. [Hz] (from memory)"""
LOW = np.geomspace(10.0, 1000.0, 96)
"""Frequencies at which low notes are looked for. [Hz]"""
LOWEST = 10.0
"""Fall of the level at the lowest note: effective frequency range of IEC 60268-5 (from memory). [dB]"""
UNHEARD = 1e6
"""Stands for a peak that does not count. [1/Ω²]"""
STEP, BASS = LOW[1] / LOW[0], 3.0
"""Each of them over the one before; how far above the resonance a boom is looked for, in resonances."""
SMALLEST = 1e-30
"""Stands in for no bend."""
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


def R_source(brief: Brief) -> Num:
    """All that is in series with the driver. [Ω]"""
    return brief.amplifier.R_out + brief.R_series


def moved(f: Num, found: Chain, lodging: Lodging, T_room: Num) -> tuple[Phasor, Around]:
    """What all that moves, rigid, puts against the coil, over its velocity; and the air around it. [kg/s]"""
    moving, omega = found.moving, 2 * np.pi * f
    beside = around(f, moving, lodging, T_room)
    return moving.Rms + 1j * (omega * moving.Mmd - moving.Kms / omega) + beside.Z_air, beside


def beside_reference(f: Num, found: Chain, lodging: Lodging, R: Num, T_room: Num) -> tuple[Num, Num]:
    """Level as it is built in beside a driver of which only the mass resists, and modulus of the impedance, without the
    coil's inductance, which is nothing to the low notes. [dB], [Ω]"""
    driver, moving = found.driver, found.moving
    Z_m, beside = moved(f, found, lodging, T_room)
    Z, v, _ = circuit.driven(1.0, R, driver.Re, 0.0, found.motor.Bl, Z_m)
    by_mass = found.motor.Bl / (2 * np.pi * f * moving.Mms * (driver.Re + R))
    return 20 * np.log10(np.abs(v * beside.k_out) / by_mass), np.abs(Z)


@stage
def mount(found: Chain, lodging: Lodging, R: Num, T_room: Num) -> Mounted:
    """The driver as it is built in; numbers or draws. One that never gets so loud below is told to do so at the last of
    ``LOW``."""
    f = LOW[:, None]
    L, Z = (np.asarray(each) for each in beside_reference(f, found, lodging, R, T_room))
    own = f > tuned(lodging.box, lodging.port, air.speed(T_room)) if lodging.box and lodging.port else True
    # about its top 1/|Z|² is a parabola
    peak = peaking(np.where(own, -1 / Z**2, -UNHEARD) * np.ones(L.shape))
    boom = np.max(L, axis=0, initial=-np.inf, where=f <= BASS * peak)
    lows = (np.nan_to_num(lowest(LOW, L, 0.0, fall), nan=LOW[-1]) for fall in (LOWEST, 3.0))
    found_at = [peak, *lows, boom]
    f_c, f_10, f_3, dL_peak = (each[0] if each.shape == (1,) else each for each in found_at)
    return Mounted(f_c=f_c, f_10=f_10, f_3=f_3, dL_peak=dL_peak)


def peaking(rows: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Frequency among ``LOW`` of the highest place of each column: the top of the parabola about it. [Hz]"""
    k, each = np.clip(np.argmax(rows, axis=0), 1, len(rows) - 2), np.arange(rows.shape[1])
    below, at, above = (rows[k + step, each] for step in (-1, 0, 1))
    bend = np.minimum(below - 2 * at + above, -SMALLEST)
    return np.asarray(LOW[k] * STEP ** np.clip((below - above) / (2 * bend), -1, 1))


class Heard(NamedTuple):
    """A driver, what it stands in, and what is in series with it; numbers or draws."""

    found: Chain
    lodging: Lodging
    R: Num

    @classmethod
    def of(cls, found: Chain, design: Design, brief: Brief) -> Heard:
        """As the brief says."""
        return cls(found, Lodging.of(brief, design.back), R_source(brief))


def respond(at: Heard, T_room: float, Z_b: Blocked, loose: Heard) -> Response:
    """Impedance, level on the axis and what moves over the piston range, as it is built in; the level's band from the
    draws ``loose``, with the inductance as planned."""
    f_piston, fs = float(sound.piston_limit(at.found.moving.a, air.speed(T_room))), float(at.found.driver.fs)
    near = fs * np.geomspace(0.7, 1.4, 121)
    f = np.unique(np.append(np.geomspace(F_LOW, f_piston, 300), near[(near > F_LOW) & (near < f_piston)]))
    still = Z_b.at(f)
    Z, v, p = heard(f, at, T_room, still)
    _, _, p_loose = heard(f[:, None], loose, T_room, still[:, None])
    L_lo, L_hi = np.percentile(circuit.sound_level(p_loose), PERCENT[:2], axis=1)
    L_p = np.asarray(circuit.sound_level(p))
    return Response(
        f=f, Z=np.abs(Z), L_p=L_p, L_lo=np.minimum(L_lo, L_p), L_hi=np.maximum(L_hi, L_p),
        phase=np.asarray(circuit.phase(p)), t_group=np.asarray(circuit.group_delay(f, p)),
        x_f=np.asarray(circuit.excursion(f, v)), f_piston=f_piston,
    )  # fmt: skip


def heard(
    f: npt.NDArray[np.float64], at: Heard, T_room: float, still: npt.NDArray[np.complex128]
) -> tuple[Phasor, Phasor, Phasor]:
    """Impedance, velocity and pressure on the axis at 1 m for 2.83 V of the amplifier, the coil held still having
    ``still`` beyond its Re. [Ω], [m/s], [Pa]"""
    rho_0, c_0, found = air.density(T_room), air.speed(T_room), at.found
    Z_m, beside = moved(f, found, at.lodging, T_room)
    Z, v, _ = circuit.driven(U_REF, at.R, found.driver.Re, still, found.motor.Bl, Z_m)
    p = circuit.pressure(f, v, found.moving.Sd, rho_0, R_REF, found.moving.a, 0.0, c_0) * beside.k_out
    return Z, v, p

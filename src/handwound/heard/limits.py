"""How loud it gets: the loudest steady tone at each frequency, whether the amplifier can bear it, one tone."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.cone import whole
from handwound.mounting import Lodging
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.parts.sound import Load, Loudest, Tone, Travel
from handwound.parts.source import LEAST_SHARE
from handwound.physics import air, circuit, loudest, tone
from handwound.physics.loudest import Loudest as Most
from handwound.physics.wire import resistivity
from handwound.sounding import F_LOW, HEARD, R_REF, Blocked, R_source, moved
from handwound.stages import wire_of

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]
    Phasors = npt.NDArray[np.complex128]

BY = {"excursion": "", "heat": "heat of the voice coil", "voltage": "volts of the amplifier",
      "current": "amperes of the amplifier"}  # fmt: skip
"""What each limit is called; that of excursion by what ends the stroke."""
STIFFER = 4.0
"""So many times the stiffness at hand can still be added. Common practice, no source."""


class Voice(NamedTuple):
    """A voice coil in its field, cold; and as hot as it bears, in the motor when it no longer warms."""

    Re: float
    Z_b: Phasors
    Bl: float
    Re_hot: float
    Bl_hot: float

    @classmethod
    def of(cls, f: Array, design: Design, found: Chain, Z_b: Blocked) -> Voice:
        """That of a design, at frequencies."""
        Re, Bl, alpha = float(found.driver.Re), float(found.motor.Bl), float(wire_of(design.voice_coil).alpha_20)
        cold = float(found.voice_winding.R_20)
        hot = float(resistivity(cold, alpha, float(found.rating.T_lim))) if found.rating else Re
        return cls(Re, Z_b.at(f), Bl, max(hot, Re), float(found.heat.Bl) if found.heat else Bl)

    def times(self, n: float) -> Voice:
        """So many times the turns of the same copper."""
        return Voice(self.Re * n**2, self.Z_b * n**2, self.Bl * n, self.Re_hot * n**2, self.Bl_hot * n)


class Moves(NamedTuple):
    """All that moves, as it bends and is built in: what it puts against the coil, and the pressure on the axis at 1 m,
    over the coil's velocity."""

    Z_m: Phasors
    p: Phasors

    @classmethod
    def of(cls, f: Array, design: Design, brief: Brief, found: Chain) -> Moves:
        """At frequencies. A box, a board or the frame's back is taken as if it met a stiff diaphragm."""
        T_room = float(brief.T_room)
        rho_0, c_0 = float(air.density(T_room)), float(air.speed(T_room))
        shell = whole(design, found.moving)
        answer = shell.driven.answer(f, rho_0, c_0)
        p = shell.skin.pressure(f, [0.0], answer.v.reshape(len(f), -1), rho_0, c_0, R_REF)[:, 0]
        here, beside = moved(f, found, Lodging.of(brief, design.back), T_room)
        wall, _ = moved(f, found, Lodging(), T_room)
        return cls(np.asarray(answer.Z_m + here - wall), np.asarray(p * beside.k_out))


class Driven(NamedTuple):
    """What one volt of the amplifier does at frequencies: excursion, heat, current, pressure."""

    x: Array
    P: Array
    I: Array
    p: Phasors


def pushed(f: Array, moves: Moves, Re: float, Z_b: Phasors, Bl: float, R: float) -> Driven:
    """One volt through a resistance."""
    _, v, I = (np.asarray(each) for each in circuit.driven(1.0, R, Re, Z_b, Bl, moves.Z_m))
    return Driven(np.asarray(circuit.excursion(f, v)), np.abs(I) ** 2 * Re, np.abs(I), moves.p * v)


def at_most(f: Array, moves: Moves, voice: Voice, R: float, brief: Brief, found: Chain, x_lim: float) -> Most:
    """How far a tone at each frequency can be turned up: where heat ends it the coil is hot, and less loud."""
    U_lim, I_lim = loudest.amplifier_limits(float(brief.amplifier.P_max), float(brief.amplifier.Z_least))
    P_cont = float(found.rating.P_cont) if found.rating else np.inf
    cold = pushed(f, moves, voice.Re, voice.Z_b, voice.Bl, R)
    hot = pushed(f, moves, voice.Re_hot, voice.Z_b, voice.Bl_hot, R)
    ends = (cold.x, hot.P, cold.I)
    most = loudest.loudest(1.0, *ends, circuit.sound_level(cold.p), x_lim, P_cont, U_lim, I_lim)
    heated = loudest.loudest(1.0, *ends, circuit.sound_level(hot.p), x_lim, P_cont, U_lim, I_lim)
    by_heat = np.asarray(most.n_limit) == loudest.LIMITS.index("heat")
    return most._replace(L_max=np.where(by_heat, heated.L_max, most.L_max))


def loudest_tones(design: Design, brief: Brief, found: Chain, Z_b: Blocked, travel: Travel, f_top: float) -> Loudest:
    """The loudest steady tone in the middle of each third-octave up to ``f_top``."""
    f_nom, f_mid = (np.asarray(each) for each in loudest.third_octaves(F_LOW, f_top))
    at = (Moves.of(f_mid, design, brief, found), Voice.of(f_mid, design, found, Z_b), float(R_source(brief)))
    most = at_most(f_mid, *at, brief, found, travel.x_lim)
    by = tuple(_by(int(k), travel) for k in np.atleast_1d(most.n_limit))
    return Loudest(f=f_nom, L_max=np.asarray(most.L_max), U_max=np.asarray(most.U_max), by=by)


def _by(k: int, travel: Travel) -> str:
    return BY[loudest.LIMITS[k]] or f"stroke: {travel.by}"


def load(design: Design, brief: Brief, found: Chain, Z_b: Blocked) -> Load:
    """What the amplifier meets over all that is heard, the diaphragm stiff, and the resistor that keeps it safe."""
    Z_m, _ = moved(HEARD, found, Lodging.of(brief, design.back), float(brief.T_room))
    Z, _, _ = circuit.driven(1.0, 0.0, found.driver.Re, Z_b.heard, found.motor.Bl, Z_m)
    met = np.abs(Z + brief.R_series)
    k = int(np.argmin(met))
    rated, least = float(brief.amplifier.Z_least), float(met[k])
    U_lim, _ = loudest.amplifier_limits(float(brief.amplifier.P_max), rated)
    lacks = LEAST_SHARE * rated - least
    R_add = None if lacks <= 0 else float(_next_up(lacks))
    lost = None if R_add is None else float(20 * np.log10(1 + R_add / (float(found.driver.Re) + R_source(brief))))
    return Load(
        Z_min=least, f_least=float(HEARD[k]), used=rated / least, U_max=float(U_lim), I_max=float(U_lim) / least,
        R_add=R_add, dL_add=lost,
    )  # fmt: skip


def _next_up(R: float) -> float:
    """The next resistor that one can buy, not less."""
    nearest = float(loudest.preferred(R))
    return nearest if nearest >= R else float(loudest.preferred(nearest * 1.2))


def one_tone(f_tone: float, R: float, design: Design, brief: Brief, found: Chain, Z_b: Blocked, travel: Travel) -> Tone:
    """One note through a resistance: how loud, what ends it, and how loud it gets after what makes it louder."""
    f = np.array([f_tone])
    moves, voice = Moves.of(f, design, brief, found), Voice.of(f, design, found, Z_b)

    def ended(moves: Moves, voice: Voice) -> tuple[float, float, int]:
        U_max, L_max, n_limit = at_most(f, moves, voice, R, brief, found, travel.x_lim)
        return float(np.ravel(U_max)[0]), float(np.ravel(L_max)[0]), int(np.ravel(n_limit)[0])

    U_tone, L_tone, n_limit = ended(moves, voice)
    k_N = float(np.ravel(tone.best_turns(R, voice.Re, voice.Z_b, voice.Bl, moves.Z_m)[0])[0])
    m_add, K_add, changed = _tuned(f, moves, voice, R, design, found)
    return Tone(
        f_tone=f_tone, R_source=R, U_tone=U_tone, L_tone=L_tone, by=_by(n_limit, travel),
        L_1V=float(np.ravel(circuit.sound_level(pushed(f, moves, voice.Re, voice.Z_b, voice.Bl, R).p))[0]),
        k_N=k_N if R else None, dL_turns=ended(moves, voice.times(k_N))[1] - L_tone if R else None,
        m_add=m_add, K_add=K_add, dL_tuned=ended(changed, voice)[1] - L_tone,
    )  # fmt: skip


def _tuned(
    f: Array, moves: Moves, voice: Voice, R: float, design: Design, found: Chain
) -> tuple[float | None, float | None, Moves]:
    """The mass or the stiffness that puts the resonance on a tone, and what then moves. More stiffness loses more, and
    one that nobody could build is left out."""
    m, K, _ = (float(np.ravel(each)[0]) for each in tone.best_mass(f, R, voice.Re, voice.Z_b, voice.Bl, moves.Z_m))
    if m > 0:
        return m, None, moves._replace(Z_m=moves.Z_m + 2j * np.pi * f * m)
    if not 0 < K <= STIFFER * float(found.moving.Kms):
        return None, None, moves
    lossy = K * (1 + 1j * float(design.surround.sheet.eta_s)) / (2j * np.pi * f)
    return None, K, moves._replace(Z_m=moves.Z_m + lossy)

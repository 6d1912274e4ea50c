"""How loud it gets: the loudest steady tone at each frequency, whether the amplifier can bear it, one tone."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.mounting import Lodging
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Chain
from handwound.parts.sound import Load, Loudest, Tone, Travel
from handwound.parts.source import LEAST_SHARE
from handwound.physics import air, circuit, loudest, tone
from handwound.sounding import F_LOW, HEARD, R_REF, Blocked, R_source, moved

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

BY = {"excursion": "", "heat": "heat of the voice coil", "voltage": "volts of the amplifier",
      "current": "amperes of the amplifier"}  # fmt: skip
"""What each limit is called; that of excursion by what ends the stroke."""


class Driven(NamedTuple):
    """What one volt of the amplifier does at frequencies: impedance, excursion, heat, current, pressure, and what all
    that moves puts against the coil."""

    Z: Array
    x: Array
    P: Array
    I: Array
    p: Array
    Z_m: Array


def driven(f: Array, design: Design, brief: Brief, found: Chain, Z_b: Blocked, R: float) -> Driven:
    """One volt through a resistance, the driver built in as the brief has it, its diaphragm stiff."""
    rho_0, c_0 = float(air.density(brief.T_room)), float(air.speed(brief.T_room))
    Z_m, beside = moved(f, found, Lodging.of(brief, design.back), float(brief.T_room))
    Z, v, I = circuit.driven(1.0, R, found.driver.Re, Z_b.at(f), found.motor.Bl, Z_m)
    p = circuit.pressure(f, v, found.moving.Sd, rho_0, R_REF, found.moving.a, 0.0, c_0) * beside.k_out
    x = circuit.excursion(f, v)
    return Driven(*(np.asarray(each) for each in (Z, x, np.abs(I) ** 2 * found.driver.Re, I, p, Z_m)))


def at_most(f: Array, did: Driven, brief: Brief, found: Chain, x_lim: float) -> loudest.Loudest:
    """How far a tone at each frequency can be turned up."""
    U_lim, I_lim = loudest.amplifier_limits(float(brief.amplifier.P_max), float(brief.amplifier.Z_least))
    P_cont = float(found.rating.P_cont) if found.rating else np.inf
    L_p = circuit.sound_level(did.p)
    return loudest.loudest(1.0, did.x, did.P, np.abs(did.I), L_p, x_lim, P_cont, U_lim, I_lim)


def loudest_tones(design: Design, brief: Brief, found: Chain, Z_b: Blocked, travel: Travel, f_top: float) -> Loudest:
    """The loudest steady tone in each third-octave up to ``f_top``."""
    f_nom, f_mid = loudest.third_octaves(F_LOW, f_top)
    did = driven(np.asarray(f_mid), design, brief, found, Z_b, float(R_source(brief)))
    most = at_most(np.asarray(f_mid), did, brief, found, travel.x_lim)
    by = tuple(_by(int(k), travel) for k in np.atleast_1d(most.n_limit))
    return Loudest(f=np.asarray(f_nom), L_max=np.asarray(most.L_max), U_max=np.asarray(most.U_max), by=by)


def _by(k: int, travel: Travel) -> str:
    return BY[loudest.LIMITS[k]] or f"stroke: {travel.by}"


def load(design: Design, brief: Brief, found: Chain, Z_b: Blocked) -> Load:
    """What the amplifier meets over all that is heard, and the resistor that keeps it safe."""
    did = driven(HEARD, design, brief, found, Z_b, 0.0)
    met = np.abs(did.Z + brief.R_series)
    k = int(np.argmin(met))
    rated, least = float(brief.amplifier.Z_least), float(met[k])
    U_lim, I_lim = loudest.amplifier_limits(float(brief.amplifier.P_max), rated)
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
    """One note through a resistance: how loud, what ends it, what would make it louder."""
    f = np.array([f_tone])
    did = driven(f, design, brief, found, Z_b, R)
    U_tone, L_tone, n_limit = (np.ravel(each)[0] for each in at_most(f, did, brief, found, travel.x_lim))
    at = (R, float(found.driver.Re), Z_b.at(f), float(found.motor.Bl), did.Z_m)
    k_N, more = (float(np.ravel(each)[0]) for each in tone.best_turns(*at))
    m_add, K_add, tuned = (float(np.ravel(each)[0]) for each in tone.best_mass(f, *at))
    return Tone(
        f_tone=f_tone, R_source=R, U_tone=float(U_tone), L_tone=float(L_tone), by=_by(int(n_limit), travel),
        L_1V=float(np.ravel(circuit.sound_level(did.p))[0]), k_N=k_N if R else None, dL_turns=more if R else None,
        m_add=m_add or None, K_add=K_add or None, dL_tuned=tuned,
    )  # fmt: skip

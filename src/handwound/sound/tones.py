"""The amplifier turned up, and one tone through resistances, with the turns that are loudest there."""

from __future__ import annotations

from handwound.heard.limits import one_tone
from handwound.parts.sound import Load, Tone
from handwound.parts.sound_study import Full, Through
from handwound.physics.loudest import full_heat
from handwound.sound.build import Build
from handwound.sounding import R_source
from handwound.stages import wire_of

OHMS = (0.0, 1.0, 3.0)
"""Resistances beside which a tone is told, in parts of Re."""
SAME = 0.05
"""Resistances nearer to each other than this share of Re are one."""


def full(build: Build, load: Load) -> Full:
    """All that the amplifier gives at the least impedance, no more than its amperes."""
    amplifier, rating = build.brief.amplifier, build.found.rating
    P_vc = full_heat(amplifier.P_max, amplifier.Z_least, load.Z_min, build.found.driver.Re)
    return Full(P_max=amplifier.P_max, P_vc=P_vc, P_cont=float(rating.P_cont) if rating else None)


def tones(build: Build, f_tone: float | None, R: float | None) -> tuple[Through, ...]:
    """The tone that was asked for, or that of the brief, through what was asked for or is in series; then beside it."""
    sound = build.found.sound
    assert sound is not None and sound.tone is not None, "a prediction tells of one tone"
    own = float(R_source(build.brief)) if R is None else R
    f, Re = sound.tone.f_tone if f_tone is None else f_tone, float(build.found.driver.Re)
    others = [k * Re for k in OHMS if abs(k * Re - own) > SAME * Re]
    of = (build.design, build.brief, build.found, build.Z_b, sound.travel)
    return tuple(_through(build, one_tone(f, each, *of)) for each in (own, *others))


def _through(build: Build, tone: Tone) -> Through:
    if tone.k_N is None:
        return Through(tone=tone, N_best=None, d_best=None)
    wire = wire_of(build.design.voice_coil)
    return Through(tone=tone, N_best=tone.k_N * build.found.voice_winding.N, d_best=wire.d_cu / tone.k_N**0.5)

"""The spine: from a design to everything it will do, in the order a driver works. Read ``chain`` top to bottom."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from handwound import iron_field, rub, spread
from handwound.errors import JobError
from handwound.heard.told import told
from handwound.iron_field import Field
from handwound.mounting import Lodging
from handwound.parts.coil import FieldCoil, Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS, Doubts
from handwound.parts.prediction import (
    STAGES,
    Chain,
    Excitation,
    Motor,
    Prediction,
    Winding,
)
from handwound.parts.programme import Programme
from handwound.parts.source import Supply
from handwound.physics.level import level_at
from handwound.played import Around
from handwound.quantities import Num
from handwound.sounding import Blocked, Heard, R_source, block, drive, mount, respond
from handwound.spread import Drawn, joined
from handwound.stages import clear, coil_place, excite, ladder, move, picture, reels, winding
from handwound.stiff import StiffLaw, stiff_law
from handwound.warming import from_cold
from handwound.warmth import in_the_end, on_amplifier, played_in, rate, settle, weakened

HEARD_DRAWS = 300
"""Draws from which the band of the level over the frequency is taken: its ends are known to 4 % of its width."""


class OnSupply(NamedTuple):
    """A field coil as it is wound, and on its supply while cold."""

    coil: FieldCoil
    supply: Supply
    wound: Winding
    cold: Excitation


def motor(field: Field, place: Rectangle, voice_wound: Winding, fed: OnSupply | None, k_Bl: Num) -> Motor:
    """What the field gives the voice coil at rest; numbers or arrays."""
    N, D_m = voice_wound.N, voice_wound.D_m
    Bl = field.Bl(place, N, fed.cold.NI if fed else 0.0) * k_Bl
    felt = Motor(B_g=Bl / (np.pi * N * D_m), Bl=Bl)
    if fed is None:
        return felt
    # at given ampere-turns linkage and energy go with the flux, near enough as Bl does
    return replace(felt, L_f=field.L_f(fed.wound.N, fed.cold.NI) * k_Bl, W_m=field.W_m(fed.cold.NI) * k_Bl)


def field_of(design: Design, brief: Brief) -> Field:
    """The field of the design: its magnets', and that of the ampere-turns which its cold coil draws from the supply.

    Magnets are as warm as the room; what warm ones lose is taken off later, to first order.
    """
    T_room = float(brief.T_room)
    if design.field_coil is None:
        return iron_field.find(design, 0.0, 0.0, 0.0, T_room)
    fed = feed(design.field_coil, brief)
    return iron_field.find(design, float(fed.wound.D_w), float(fed.wound.N), float(fed.cold.NI), T_room)


def feed(coil: FieldCoil, brief: Brief) -> OnSupply:
    """The field coil, wound and cold, on the supply of the brief."""
    if brief.supply is None:
        raise JobError("brief: must name a supply for the field coil; found none.")
    wound = winding(coil, brief.T_room)
    return OnSupply(coil, brief.supply, wound, excite(coil, wound, wound.R_T, brief.supply))


def blocked(design: Design, brief: Brief, field: Field) -> Blocked:
    """The voice coil at rest and held still, in the field of its motor."""
    wound = winding(design.voice_coil, brief.T_room)
    R_f = winding(design.field_coil, brief.T_room).R_T if design.field_coil else None
    return block(field, coil_place(design.iron, design.voice_coil, wound.D_w), wound.N, R_f)


def chain(
    design: Design, brief: Brief, field: Field, doubts: Doubts = DOUBTS, k_Bl: Num = 1.0,
    Z_b: Blocked | None = None, played: Programme | Around | None = None, voices: bool = True,
    bends: StiffLaw | None = None,
) -> Chain:  # fmt: skip
    """All stages but the pictures. Numbers or arrays; ``k_Bl`` is what the iron's own spread does to Bl.

    Without ``Z_b`` the voice coil has no inductance, its least impedance is then on the safe side, and nothing is said
    of the heat that it bears and of what it is built into. ``played`` is the programme of the brief in this voice coil,
    or tells it in draws; ``bends`` how far up its diaphragm is stiff. Without ``voices``, where each field coil meets
    every voice coil of a table, the motor is warmed alone.
    """
    coil, T_room = design.voice_coil, brief.T_room
    fed, voice_wound = feed(design.field_coil, brief) if design.field_coil else None, winding(coil, T_room)
    place = coil_place(design.iron, coil, voice_wound.D_w)
    felt = motor(field, place, voice_wound, fed, k_Bl)
    moved = move(design, voice_wound, T_room)
    driven = drive(voice_wound.R_T, felt.Bl, moved.Mms, moved.Kms, moved.Rms, moved.Sd, moved.a, T_room, Z_b)
    wound = (fed.coil, fed.wound.D_w + 2 * fed.wound.bulge) if fed else None
    done = Chain(
        voice_winding=voice_wound,
        motor=felt,
        moving=moved,
        driver=driven,
        clearance=clear(design.iron, coil, voice_wound.D_w + 2 * voice_wound.bulge, wound, brief.x_pk),
    )
    end = settle(design, brief, doubts, fed.wound if fed else None, place if voices else None)
    if Z_b:
        mounted = mount(done, Lodging.of(brief, design.back), R_source(brief), T_room)
        done = replace(done, mounted=mounted, stiff=bends.of(design, moved) if bends else None)
        programme = played(done, brief) if isinstance(played, Around) else played or played_in(done, brief, Z_b)
        done = replace(done, rating=rate(design, brief, voice_wound, end, programme, field))
    if fed is None:
        return done
    assert end.fed is not None
    warm = excite(fed.coil, fed.wound, end.fed.R_T(end.T), fed.supply)
    Bl_warm = field.Bl(place, voice_wound.N, warm.NI) * k_Bl * weakened(field, end.model, end.T)
    hot = end.heat(warm, Bl_warm, level_at(driven.L_1W, felt.Bl, Bl_warm))
    return replace(done, field_winding=fed.wound, excitation=fed.cold, heat=hot)


def through(drawn: Drawn, field: Field, Z_b: Blocked, played: Around, bends: StiffLaw | None = None) -> Chain:
    """All draws through all stages, in portions, as many at once as there are processors."""

    def stages(some: Drawn) -> Chain:
        return chain(some.design, some.brief, field, some.doubts, some.k_Bl, Z_b, played, bends=bends)

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return joined(list(pool.map(stages, drawn.batches())))


def predict(design: Design, brief: Brief) -> Prediction:
    """Everything the design will do, each number with its 5-95 % band."""
    field = field_of(design, brief)
    Z_b = blocked(design, brief, field)
    done = chain(design, brief, field, Z_b=Z_b)
    coil, T_room = design.voice_coil, brief.T_room
    place = coil_place(design.iron, coil, done.voice_winding.D_w)
    drawn = spread.draw(design, brief, iron_field.answers(field, design, place, float(T_room)))
    played = played_in(done, brief, Z_b)
    bends = stiff_law(design, done.moving, float(done.driver.fs), float(T_room))
    done = replace(done, stiff=bends.of(design, done.moving))
    loosely = through(drawn, field, Z_b, Around(done, brief, Z_b, played), bends)
    T_lim = done.rating.T_lim if done.rating else None
    loose, loose_T = drawn.design.coils, drawn.brief.T_room
    curves = picture(design.iron, field, place, done.voice_winding.N, brief.x_pk, T_room)
    end = settle(design, brief, DOUBTS, done.field_winding, place)
    driven = on_amplifier(design, brief, done.voice_winding, end.model, played)
    few, of = spread.some(drawn, slice(HEARD_DRAWS)), spread.some(loosely, slice(HEARD_DRAWS))
    ladders = {name: ladder(each, T_room, loose[name], loose_T) for name, each in design.coils.items()}
    return Prediction(
        **{name: getattr(done, name) for name in STAGES},
        curves=replace(curves, magnets=in_the_end(curves.magnets, end, driven)),
        response=respond(Heard.of(done, design, brief), float(T_room), Z_b, Heard.of(of, few.design, few.brief)),
        field_ladder=ladders.get("field_coil", ()),
        voice_ladder=ladders["voice_coil"],
        reels=reels(design, done),
        bands=spread.bands(done, loosely),
        weights=spread.weights(loosely, drawn.inputs),
        rub=rub.rub(design, brief, drawn, T_lim, done.heat.T_case if done.heat else None),
        warming=from_cold(end, driven, field, done, place),
        sound=told(design, brief, done, field, place, Z_b, drawn.batches()[0]),
    )

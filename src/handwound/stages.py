"""The single steps from a design to a driver, each a pure function of just the parts it depends on.

With plain numbers its answer is kept, so a changed input computes only what hangs on it; with arrays in place of
numbers it answers for all candidates or draws at once.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from handwound import masses, spread, suspension
from handwound.errors import FieldError, JobError
from handwound.iron_field import Field
from handwound.kept import stage
from handwound.materials import magnets
from handwound.parts.coil import Coil, FieldCoil, Rectangle, VoiceCoil
from handwound.parts.design import Design
from handwound.parts.iron import Iron
from handwound.parts.prediction import (
    Chain,
    Clearance,
    Excitation,
    Held,
    Layer,
    MagnetState,
    MotorCurves,
    Moving,
    Reel,
    Winding,
)
from handwound.parts.source import Supply
from handwound.parts.wire import Wire
from handwound.physics import air, as_wound, excitation
from handwound.physics import moving as moving_physics
from handwound.physics import winding as winding_physics
from handwound.physics import wire as wire_physics
from handwound.physics.field.forces import pull
from handwound.physics.field.working_point import K_KNEE, WorkingPoint, knee_margin, knee_temperature, working_points
from handwound.physics.layers import LAY, turns_per_layer
from handwound.quantities import Count, Num


@stage
def winding(coil: Coil, T_room: Num) -> Winding:
    """Turns, size, wire and resistance of a coil."""
    wire, k_lay = wire_of(coil), LAY[coil.lay]
    N, l_w, D_m = _wound(coil, wire, coil.n_l, coil.n_splice)
    ends = [(0, 0.0), *(_wound(coil, wire, coil.n_l * k // coil.n_sec)[:2] for k in range(1, coil.n_sec)), (N, l_w)]
    parts = [(N_2 - N_1, l_2 - l_1) for (N_1, l_1), (N_2, l_2) in pairwise(ends)]
    R_k = [wire_physics.resistance(wire.rho_20, l_k, wire.d_cu) for _, l_k in parts]
    each = np.array(np.broadcast_arrays(*R_k, *(N_k for N_k, _ in parts)), float)
    R_20, N_seen, k_I = winding_physics.in_sections(each[: coil.n_sec], each[coil.n_sec :], coil.connection)
    return Winding(
        N=N_seen,
        N_l=turns_per_layer(coil.h_w, wire.d_o, coil.k_p),
        D_m=D_m,
        D_w=winding_physics.outer_diameter(coil.D_f, wire.d_o, k_lay, coil.n_l, coil.n_tape, coil.t_tape),
        l_w=l_w,
        m_w=wire_physics.wire_mass(l_w, wire.d_cu, wire.d_o, wire.rho_m),
        R_20=R_20,
        R_T=wire_physics.resistivity(R_20, wire.alpha_20, T_room),
        k_I=k_I,
        bulge=as_wound.bulge(coil.n_l, wire.d_cu, wire.d_o, k_lay, coil.n_tape, coil.n_splice),
    )


def _wound(coil: Coil, wire: Wire, n_l: Count, n_splice: int = 0) -> tuple[Count, Num, Num]:
    """Turns, length of wire and mean diameter of the first layers of a coil."""
    turns_fit = (n_l, coil.h_w, wire.d_o, coil.k_p, LAY[coil.lay], coil.n_tape)
    return as_wound.wound(coil.D_f, *turns_fit, coil.t_tape, coil.N_counted, n_splice)


@stage
def excite(coil: FieldCoil, wound: Winding, R_T: Num, supply: Supply) -> Excitation:
    """Where the field coil and its supply meet, at the resistance that the coil has now."""
    I_f = excitation.supply_current(R_T, supply.V_max, supply.I_max)
    held = np.all(I_f >= supply.I_max)
    return Excitation(
        I_f=I_f,
        V_f=I_f * R_T,
        NI=wound.N * I_f,
        P_f=excitation.power(I_f, R_T),
        J=wire_physics.current_density(I_f * wound.k_I, wire_of(coil).d_cu),
        limit="current" if held else "voltage",
    )


@stage
def picture(iron: Iron, field: Field, place: Rectangle, N: Num, x_pk: Num, T: Num) -> MotorCurves:
    """Bl over the stroke and over the ampere-turns, how full the iron is, what is pulled, magnets, flux lines."""
    x = np.linspace(-1.5, 1.5, 41) * max(float(x_pk), 1e-3)
    Bl_x, NI = field.Bl_x(place, N, x), np.linspace(0.0, field.NI[-1], 57 if field.NI[-1] > 0 else 1)
    return MotorCurves(
        x=x,
        Bl_x=Bl_x * np.sign(Bl_x[len(x) // 2]),
        NI=NI,
        Bl_NI=np.asarray(field.Bl(place, N, NI)) * np.ones(NI.shape),
        iron=field.iron_states(),
        held=held(iron, field),
        magnets=magnet_states(iron, field, T),
        flux_lines=field.flux_lines(),
    )


def held(iron: Iron, field: Field) -> tuple[Held, ...]:
    """What holds each ring to the one that carries it, where they touch nothing without air between."""
    found = []
    for ring in iron.rings:
        carrier = ring.on or ring.under
        if carrier:
            try:
                upward = pull(field.solution, iron.carried(ring.name))
            except FieldError:  # no air: what is in one piece with the rest cannot be pulled off
                continue
            # what stands on its carrier is drawn down to it, what hangs under it up
            found.append(Held(name=ring.name, at=carrier, F_hold=-upward if ring.on else upward))
    return tuple(found)


def magnet_states(iron: Iron, field: Field, T: Num) -> tuple[MagnetState, ...]:
    """Where each magnet works, and how far its worst place is from losing strength for good.

    That is the worse of the working point and of no current: a field coil may aid the magnet, and is switched off.
    """
    grades = {ring.name: ring.grade for ring in iron.rings}
    off = {point.name: point.H_worst for point in working_points(field.solutions[0])}
    return tuple(
        _magnet_state(float(T), grades[point.name], point, min(point.H_worst, off[point.name]))
        for point in working_points(field.solution)
    )


def _magnet_state(T: float, grade: str, point: WorkingPoint, H_worst: float) -> MagnetState:
    known = magnets.grade(grade)
    knee = (H_worst, T, known.alpha_B, known.HcJ, known.alpha_H, K_KNEE)
    return MagnetState(
        name=point.name,
        grade=grade,
        T=T,
        B_m=point.B_mean,
        H_m=point.H_mean,
        dH=float(knee_margin(*knee, T)),
        T_knee=float(knee_temperature(*knee)),
        word="cold" if known.alpha_H > known.alpha_B else "hot",
    )


@stage
def move(design: Design, wound: Winding, T_room: Num) -> Moving:
    """Everything that moves, part by part, and what holds it."""
    surround, spider = design.surround, design.spider
    a = moving_physics.effective_radius(surround.d_in, surround.d_out)
    m_air = moving_physics.air_mass(air.density(T_room), a)
    parts = masses.budget(design, wound)
    m_s = suspension.surround_share(surround) + masses.lap_mass(design)
    K_sp, m_sp = (suspension.spider_stiffness(spider), suspension.spider_share(spider)) if spider else (0.0, 0.0)
    late = masses.glue_mass(design, wound, masses.LATE)
    glued = wound.m_w + sum(parts) if design.m_weighed is None else design.m_weighed + late
    Mmd = glued + m_s + m_sp
    K_s = suspension.surround_stiffness(surround)
    Kms, Mms = K_s + K_sp, Mmd + m_air
    eta = (surround.sheet.eta_s * K_s + suspension.spider_loss(design) * K_sp) / Kms
    return Moving(
        m_vc=wound.m_w,
        **parts._asdict(),
        m_s=m_s,
        m_sp=m_sp,
        m_air=m_air,
        Mmd=Mmd,
        Mms=Mms,
        Kms=Kms,
        Rms=moving_physics.loss_resistance(eta, Kms, Mms),
        Sd=moving_physics.effective_area(a),
        a=a,
    )


@stage
def clear(iron: Iron, coil: VoiceCoil, D_w: Num, wound: tuple[FieldCoil, Num] | None, x_pk: Num) -> Clearance:
    """Least air on both sides of the voice coil over its stroke, concentric and straight.

    ``wound`` is the field coil and its outer diameter.
    """
    _, _, z_lo, z_hi = coil_place(iron, coil, D_w)
    low, D_f = float(np.mean(z_lo) - np.mean(x_pk)), float(np.mean(coil.D_f))
    d_i, _ = iron.room(D_f, low, low + float(np.mean(coil.l_f) + 2 * np.mean(x_pk)))
    _, d_o = iron.room(D_f, low, float(np.mean(z_hi) + np.mean(x_pk)))
    if wound and low < np.mean(wound[0].z_w + wound[0].h_w + wound[0].t_fl):
        bore, D_w_field = wound[0].D_f - 2 * wound[0].t_f, wound[1]
        if np.mean(bore) > D_f:
            d_o = bore if d_o is None else np.minimum(d_o, bore)
        elif np.mean(D_w_field) < D_f:
            d_i = D_w_field if d_i is None else np.maximum(d_i, D_w_field)
    return Clearance(
        c_i=None if d_i is None else (coil.D_fi - d_i) / 2,
        c_o=None if d_o is None else (d_o - D_w) / 2,
    )


def coil_place(iron: Iron, coil: VoiceCoil, D_w: Num) -> tuple[Num, Num, Num, Num]:
    """The winding of the voice coil at rest as a rectangle r_in, r_out, z_lo, z_hi. [m]"""
    low, high = iron.plate_levels()
    middle = (low + high) / 2 + coil.x_0
    return coil.D_f / 2, D_w / 2, middle - coil.h_w / 2, middle + coil.h_w / 2


def rungs(coil: Coil, T_room: Num) -> winding_physics.Ladder:
    """The coil layer by layer."""
    wire = wire_of(coil)
    D_f, h_w, k_p, t_tape = (float(each) for each in (coil.D_f, coil.h_w, coil.k_p, coil.t_tape))
    d_o, d_cu, rho_20, alpha_20 = (float(each) for each in (wire.d_o, wire.d_cu, wire.rho_20, wire.alpha_20))
    turns_fit = (h_w, d_o, k_p, LAY[coil.lay], coil.n_tape)
    made = (coil.N_counted, coil.n_splice)
    return winding_physics.ladder(
        D_f, int(coil.n_l), *turns_fit, t_tape, d_cu, rho_20, alpha_20, float(T_room), *made
    )  # fmt: skip


def ladder(coil: Coil, T_room: Num, loose: Coil, loose_T: Num) -> tuple[Layer, ...]:
    """What the meter must read after each layer; ``loose`` and ``loose_T`` are drawn over their spreads."""
    found = rungs(coil, T_room)
    up_to = replace(loose, n_l=np.arange(1, len(found.N) + 1)[:, None], n_sec=1, n_splice=0)
    bands = spread.bands_of(winding(up_to, loose_T).R_T, found.R_T)
    columns = [column.tolist() for column in found]
    return tuple(
        Layer(n_layer=k + 1, R_T_band=band, **dict(zip(found._fields, rung, strict=True)))
        for k, (band, *rung) in enumerate(zip(bands, *columns, strict=True))
    )


def reels(design: Design, found: Chain) -> tuple[Reel, ...]:
    """What the coils take from each reel."""
    taken: dict[Wire, float] = {}
    for coil, wound in zip(
        design.coils.values(), filter(None, (found.field_winding, found.voice_winding)), strict=True
    ):
        taken[wire_of(coil)] = taken.get(wire_of(coil), 0.0) + float(wound.l_w)
    return tuple(
        Reel(name=wire.name, l_w=l_w, l_reel=None if wire.l_reel is None else float(wire.l_reel) - l_w)
        for wire, l_w in taken.items()
    )


def wire_of(coil: Coil) -> Wire:
    """The wire of a coil for which one is chosen."""
    if coil.wire is None:
        raise JobError("coil: must have a wire and a number of layers; found none. Search first: handwound search")
    return coil.wire

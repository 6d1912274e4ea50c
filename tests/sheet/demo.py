"""Drivers for the tests of the sheet. Their parts are plausible; their predictions are made up by short formulas here.

Nothing in this file is a result of the project: the sheet must show what it is given, whatever that is.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from handwound.parts import prediction as p
from handwound.parts import sound as so
from handwound.parts.coil import Coil, FieldCoil, VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.iron import Iron, Ring
from handwound.parts.moving import Bit, Diaphragm, Surround
from handwound.parts.sheet import Adhesive, Sheet
from handwound.parts.source import Amplifier, Supply
from handwound.parts.wire import Wire

MM = 1e-3
JOINT = 0.03 * MM
CARD = Sheet(
    name="card 160 g/m²", t=0.22 * MM, rho_A=0.16, E=3e9, nu=0.3, eta_s=0.05, k_th=0.12, c_p=1400.0, T_max=90.0
)
FOAM = Sheet(name="foam 2 mm", t=2 * MM, rho_A=0.06, E=2e5, nu=0.3, eta_s=0.2, k_th=0.05, c_p=1500.0, T_max=70.0)


def wire(name: str, d_cu: float, d_o: float) -> Wire:
    return Wire(name=name, d_cu=d_cu, d_o=d_o, metal="copper", rho_20=1.724e-8, alpha_20=0.00393, rho_m=8890.0)


def design(scale: float = 1.0, layers: int = 20, name: str = "pole, {}") -> Design:
    """A field-coil driver of about 130 mm, or one so many times larger."""
    s = scale * MM
    rings = (
        Ring(name="back plate", grade="mild steel", d_in=0.0, d_out=68 * s, t=6 * s),
        Ring(name=name.format("bar"), grade="mild steel", d_in=0.0, d_out=25 * s, t=52 * s, on="back plate"),
        Ring(name="pipe", grade="mild steel", d_in=53.1 * s, d_out=60.3 * s, t=46 * s, on="back plate", joint=JOINT),
        Ring(name="top plate", grade="mild steel", d_in=28 * s, d_out=68 * s, t=6 * s, on="pipe", joint=JOINT),
    )
    field = FieldCoil(
        wire=wire("reel 0.50", 0.50 * s * 20 / layers, 0.55 * s * 20 / layers), n_l=layers, D_f=28.5 * s, h_w=43.5 * s,
        k_p=0.96, z_w=7.3 * s, t_f=0.8 * s, t_fl=1.2 * s, n_tape=5, t_tape=0.06 * s,
    )  # fmt: skip
    voice = VoiceCoil(
        wire=wire("reel 0.18", 0.18 * s, 0.2125 * s), n_l=2, D_f=25.9 * s, h_w=11.9 * s, k_p=0.95, former=CARD,
        D_fi=25.6 * s, t_f=0.15 * s, l_f=24 * s,
    )  # fmt: skip
    return Design(
        iron=Iron(name="pot", plate=("top plate",), rings=rings),
        field_coil=field,
        voice_coil=voice,
        diaphragm=Diaphragm(form="cone", sheet=CARD, d_in=25.9 * s, d_out=102 * s, h_c=18 * s, w_seam=6 * s),
        surround=Surround(sheet=FOAM, d_in=100 * s, d_out=122 * s),
        bits=(Bit(name="lead-outs", m=0.4e-3),),
        glue=Adhesive(name="slow epoxy", kind="epoxy", T_max=80.0, rho_m=1150.0, E=2.5e9),
    )


def brief(scale: float = 1.0, name: str = "open-day") -> Brief:
    return Brief(
        name=name, iron="pot", supply=Supply(name="bench 12 V", V_max=12.0, I_max=2.0),
        amplifier=Amplifier(name="school amplifier", P_max=15.0, Z_least=4.0), Z_rated=8.0, D_outline=130 * MM * scale,
        L_want=84.0, f_low=90.0, T_touch=60.0, c_min=0.2 * MM, x_pk=2 * MM * scale, T_room=17.0,
    )  # fmt: skip


def around(value: float, share: float) -> p.Band:
    return p.Band(value, value * (1 - share), value * (1 + share), value)


def ladder(coil: Coil, T_room: float) -> tuple[p.Layer, ...]:
    wound, rungs, l_w, N = coil.wire, [], 0.0, 0
    assert wound is not None
    for k in range(coil.n_l):
        tape = (k // coil.n_tape) * coil.t_tape if coil.n_tape else 0.0
        D_l = coil.D_f + (2 * k + 1) * wound.d_o + 2 * tape
        N_l = int(coil.k_p * coil.h_w / wound.d_o)
        N, l_w = N + N_l, l_w + N_l * math.pi * D_l
        R_20 = 4 * wound.rho_20 * l_w / (math.pi * wound.d_cu**2)
        R_T = R_20 * (1 + wound.alpha_20 * (T_room - 20))
        rungs.append(
            p.Layer(
                n_layer=k + 1, N_l=N_l, N=N, D_l=D_l, D_w=D_l + wound.d_o, l_w=l_w, R_20=R_20, R_T=R_T,
                R_T_band=around(R_T, 0.04 + 0.02 / (k + 1)),
            )
        )  # fmt: skip
    return tuple(rungs)


def winding(coil: Coil, rungs: tuple[p.Layer, ...]) -> p.Winding:
    last = rungs[-1]
    assert coil.wire is not None
    m_w = last.l_w * math.pi * coil.wire.d_cu**2 / 4 * coil.wire.rho_m * 1.03
    D_m = (coil.D_f + last.D_w) / 2
    return p.Winding(N=last.N, N_l=last.N_l, D_m=D_m, D_w=last.D_w, l_w=last.l_w, m_w=m_w, R_20=last.R_20, R_T=last.R_T)


def flux_lines(scale: float) -> tuple[np.ndarray, ...]:
    """Loops around the field coil: a picture of lines, not of this motor's field."""
    mm, angle = scale * MM, np.linspace(0, 2 * np.pi, 90)
    loops = [(20 + k * np.cos(angle), 29 + 2.0 * k * np.sin(angle)) for k in np.linspace(3, 19.5, 14)]
    return tuple(np.column_stack([np.clip(r, 0.2, None), z]) * mm for r, z in loops)


def moving(m_w: float, a: float) -> p.Moving:
    return p.Moving(
        m_vc=m_w, m_f=0.31e-3, m_d=1.3e-3, m_rib=0.0, m_cap=0.0, m_g=0.0, m_s=0.2e-3, m_sp=0.0, m_bits=0.4e-3,
        m_air=0.5e-3, Mmd=7.2e-3, Mms=7.7e-3, Kms=2750.0, Rms=0.9, Sd=math.pi * a**2, a=a,
    )  # fmt: skip


def driver(Re: float, Bl: float, moves: p.Moving) -> tuple[p.Driver, p.Response]:
    """The textbook driver without inductance, and its curves."""
    Mms, Kms, Rms = float(moves.Mms), float(moves.Kms), float(moves.Rms)
    fs = math.sqrt(Kms / Mms) / (2 * math.pi)
    Qms, Qes = 2 * math.pi * fs * Mms / Rms, 2 * math.pi * fs * Mms * Re / Bl**2
    f = np.geomspace(20.0, 345 / (2 * math.pi * moves.a), 300)
    w = 2j * np.pi * f
    Zm = w * Mms + Rms + Kms / w
    Z = np.abs(Re + Bl**2 / Zm)
    L_p = 20 * np.log10(np.abs(1.18 * w * moves.Sd * 2.83 * Bl / (Re * Zm + Bl**2) / (2 * np.pi)) / 2e-5)
    made = p.Driver(
        Re=Re, fs=fs, Cms=1 / Kms, Qms=Qms, Qes=Qes, Qts=Qms * Qes / (Qms + Qes), Vas=9.4e-3, eta_0=0.0041,
        L_1W=88.2, L_2V83=89.4, Z_max=Re + Bl**2 / Rms, Z_min=float(Z.min()),
    )  # fmt: skip
    return made, p.Response(
        f=f, Z=Z, L_p=L_p, L_lo=L_p - 1, L_hi=L_p + 1, phase=np.angle(1 / Zm), t_group=0.1 / f,
        x_f=np.abs(2.83 * Bl / (Re * Zm + Bl**2) / w), f_piston=float(f[-1]),
    )  # fmt: skip


def sound(Re: float) -> so.Sound:
    """A diaphragm that bends from 2 kHz on, a suspension that stiffens, what it can be built into: all made up."""
    f, theta, x = np.geomspace(20.0, 20e3, 200), np.radians(np.arange(0.0, 91.0, 15.0)), np.linspace(-6e-3, 6e-3, 41)
    L_axis = 89 - 20 * np.log10(1 + (60 / f) ** 2 + (f / 6000) ** 2)
    f_nom = np.array([20.0, 50.0, 100.0, 200.0, 500.0, 1000.0])
    at_wall = so.Mounted(f_c=95.0, f_10=62.0, f_3=92.0, dL_peak=0.4)
    wall = so.Place(kind="endless wall", why="nothing goes round", found=at_wall)
    box = so.Place(
        kind="closed box", why="as even as can be", found=so.Mounted(f_c=121.0, f_10=75.0, f_3=118.0, dL_peak=0.0),
        V_box=12e-3,
    )  # fmt: skip
    return so.Sound(
        held=so.Held(x=x, K_x=2750 * (1 + (x / 3e-3) ** 2), sag=3e-5, K_rock=2.0, f_rock=110.0, tilt=8e-4, m_off=3e-4),
        breakup=so.Breakup(
            f=f, theta=theta, L_off=L_axis[:, None] - 20 * np.outer(np.clip(f / 8000, 0, 1), theta**2), Z=Re + f / 2000,
            f_bent=94.0, f_even=1200.0, f_ring=2500.0, f_deep=3600.0,
        ),
        travel=so.Travel(x_82=2.6e-3, x_75=1.73e-3, x_stop=None, x_rub=3.1e-3, x_lim=1.73e-3, by="suspension"),
        loudest=so.Loudest(
            f=f_nom, L_max=np.array([58.0, 74.0, 86.0, 91.0, 90.0, 90.0]),
            U_max=np.array([1.1, 1.2, 2.4, 3.5, 3.4, 3.6]),
            by=(*("stroke: suspension",) * 3, *("heat of the voice coil",) * 3),
        ),
        load=so.Load(Z_min=6.4, f_least=310.0, used=0.625, U_max=7.746, I_max=1.21, R_add=None, dL_add=None),
        f_flat=150.0,
        places=(wall, box),
        tone=so.Tone(
            f_tone=95.0, R_source=0.0, U_tone=2.3, L_tone=85.1, by="stroke: suspension", L_1V=77.9, k_N=None,
            dL_turns=None, m_add=4e-4, K_add=None, dL_tuned=0.02,
        ),
    )  # fmt: skip


def heat(of: Design, field: p.Winding, I_f: float, Bl: float) -> p.Heat:
    """At 70 °C inside: the copper's resistance by its coefficient, and a force that goes with the current."""
    assert of.field_coil.wire is not None
    R_warm = float(field.R_20) * (1 + float(of.field_coil.wire.alpha_20) * (70 - 20))
    warm = min(12.0 / R_warm, 2.0)
    return p.Heat(
        A_case=0.0196, T_case=54.0, T_f=70.0, T_hot=75.0, I_f=warm, NI=field.N * warm, P_f=warm**2 * R_warm,
        Bl=Bl * warm / I_f, L_1W=88.2 + 20 * math.log10(warm / I_f),
    )  # fmt: skip


def rating() -> p.Rating:
    """A voice coil whose glue bears 80 °C."""
    return p.Rating(
        T_lim=80.0, P_cont=1.2, P_long=2.5, P_short=30.0, tau_vc=9.0, U_prog=2.7, P_prog=0.5, T_vc=66.0, dL_hot=1.4
    )


def warming(warm: p.Heat, cold: p.Excitation, T_room: float) -> p.Warming:
    """Everything rises as one lump does: the voice coil in two steps of 10 s and half an hour, the rest in the last."""
    t_w = np.append(0.0, np.geomspace(1.0, 8 * 3600.0, 80))
    slow, fast = 1 - np.exp(-t_w / 1800.0), 1 - np.exp(-t_w / 10.0)
    I_f = float(cold.I_f) + (float(warm.I_f) - float(cold.I_f)) * slow
    T_f = T_room + (float(warm.T_f) - T_room) * slow
    return p.Warming(
        t_w=t_w, T_case=T_room + (float(warm.T_case) - T_room) * slow, T_vc=T_room + 30 * slow + 19 * fast, T_f=T_f,
        T_hot=T_f + 5 * slow, T_spool=T_f, I_f=I_f, NI=1600 * I_f, P_f=12.0 * I_f, Bl=6 * I_f,
    )  # fmt: skip


def curves(of: Design, scale: float, Bl: float, NI_cold: float) -> p.MotorCurves:
    x, NI = np.linspace(-3e-3, 3e-3, 41) * scale, np.linspace(0.4, 1.4, 6) * NI_cold
    states = ((1.08, "unsaturated"), (1.83, "saturated"), (1.51, "knee"), (0.97, "unsaturated"))
    return p.MotorCurves(
        x=x,
        Bl_x=Bl * (1 - 0.25 * (x / x[-1] - 0.1) ** 2),
        NI=NI,
        Bl_NI=Bl * np.tanh(1.3 * NI / NI[3]) / np.tanh(1.3),
        iron=tuple(
            p.IronState(name=ring.name, B_s=B, word=word)
            for ring, (B, word) in zip(of.iron.rings[-4:], states, strict=True)
        ),
        flux_lines=flux_lines(scale),
    )


def prediction(of: Design, wish: Brief, scale: float = 1.0) -> p.Prediction:
    fields, voices = ladder(of.field_coil, wish.T_room), ladder(of.voice_coil, wish.T_room)
    field, voice = winding(of.field_coil, fields), winding(of.voice_coil, voices)
    I_f, Bl = min(12.0 / float(field.R_T), 2.0), 4.2
    moves = moving(float(voice.m_w), 0.055 * scale)
    drives, response = driver(float(voice.R_T), Bl, moves)
    assert of.field_coil.wire is not None
    cold = p.Excitation(
        I_f=I_f, V_f=I_f * field.R_T, NI=field.N * I_f, P_f=I_f**2 * field.R_T,
        J=I_f / (math.pi * of.field_coil.wire.d_cu**2 / 4), limit="voltage",
    )  # fmt: skip
    warm = heat(of, field, I_f, Bl)
    made = p.Prediction(
        field_winding=field,
        voice_winding=voice,
        excitation=cold,
        heat=warm,
        rating=rating(),
        warming=warming(warm, cold, wish.T_room),
        motor=p.Motor(B_g=0.51, Bl=Bl, L_f=0.31, W_m=0.5 * 0.31 * I_f**2),
        moving=moves,
        driver=drives,
        clearance=p.Clearance(c_i=(of.voice_coil.D_fi - 25 * MM * scale) / 2, c_o=(28 * MM * scale - voice.D_w) / 2),
        curves=curves(of, scale, Bl, float(field.N) * I_f),
        response=response,
        field_ladder=fields,
        voice_ladder=voices,
        sound=sound(float(voice.R_T)),
        mounted=so.Mounted(f_c=95.0, f_10=62.0, f_3=92.0, dL_peak=0.4),
        stiff=so.Stiff(f_stiff=1800.0),
        reels=(
            p.Reel(name="reel 0.50", l_w=field.l_w, l_reel=120.0 - field.l_w),
            p.Reel(name="reel 0.18", l_w=voice.l_w, l_reel=None),
        ),
    )  # fmt: skip
    shares = {"L_1W": 0.012, "L_2V83": 0.012, "T_case": 0.15, "N": 0.02, "N_l": 0.02}
    bands = {key: around(float(v), shares.get(key.split(".")[1], 0.07)) for key, v in made.numbers().items()}
    return replace(made, bands=bands)


def job(scale: float = 1.0, layers: int = 20, name: str = "open-day") -> tuple[Design, Brief, p.Prediction]:
    """A design, its brief and a prediction to print."""
    of, wish = design(scale, layers), brief(scale, name)
    return of, wish, prediction(of, wish, scale)

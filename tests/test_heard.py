"""What a prediction tells of the sound, each against the same question asked by trying."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from handwound import predict, suspension
from handwound.files import fits
from handwound.heard import limits, places, told, travel
from handwound.mounting import Lodging
from handwound.parts.design import Brief
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.sound import Travel
from handwound.physics import air, alignment, loudest, sound
from handwound.sounding import Heard, R_source, beside_reference, heard, mount
from handwound.stages import coil_place
from tests import closed
from tests.examples import Built

BACK = Back(V_back=0.4e-3, n_vent=4, d_vent=12e-3, t_vent=3e-3)
BOX, PORT = Box(V_box=6e-3, t_box=15e-3), Port(n_port=1, d_port=40e-3, l_port=80e-3, Q_leak=7.0)
BUILT_IN: dict[str, dict[str, object]] = {
    "wall": {"box": None, "baffle": None, "port": None},
    "board": {"box": None, "port": None, "baffle": Baffle(W_baffle=0.4, H_baffle=0.6)},
    "box": {"box": BOX, "port": None, "baffle": None},
    "port": {"box": BOX, "port": PORT, "baffle": None},
}


def way_of(example: Built) -> Travel:
    """The ends of its stroke, were nothing to rub."""
    design, brief, field, _, done = example
    hung = travel.held(design, done, float(brief.x_pk))
    place = coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("handwound.rub.free_stroke", lambda *_: None)
        return travel.travel(design, brief, done, field, place, hung, None)  # type: ignore[arg-type]


def first(over: Callable[[float], bool], far: float = 0.03) -> float | None:
    """The first of 3000 strokes at which something is over, by walking outwards."""
    return next((float(x) for x in np.linspace(0, far, 3001)[1:] if over(float(x))), None)


def test_the_ends_of_the_stroke_by_walking_outwards(example) -> None:
    """Kind of truth: second method. In steps of 10 µm: where force factor and stiffness have left 82 and 75 %
    (IEC 62458, from memory), where the files' own rules find something hit."""
    design, brief, field, _, done = example
    way = way_of(example)
    place = coil_place(design.iron, design.voice_coil, done.voice_winding.D_w)
    x = np.linspace(-8e-3, 8e-3, 201)
    Bl = np.abs(field.Bl_x(place, done.voice_winding.N, x))
    at_rest = float(np.interp(0.0, x, Bl))
    fallen = first(lambda s: min(np.interp([s, -s], x, Bl)) < 0.82 * at_rest, 8e-3)
    assert fallen is not None and way.x_82 == pytest.approx(fallen, rel=0.03)
    x = np.linspace(-3, 3, 201) * float(brief.x_pk)
    K_x = suspension.stiffness_over_stroke(design, x)
    stiff = first(lambda s: max(np.interp([s, -s], x, K_x)) > np.interp(0.0, x, K_x) / 0.75, 3 * float(brief.x_pk))
    assert stiff is not None and way.x_75 == pytest.approx(stiff, rel=0.03)

    def hit(s: float) -> bool:
        met = list(fits.voice_coil_fits(design.iron, design.voice_coil, design.field_coil, s))
        return bool(met or list(fits.diaphragm_clears(design, s)))

    assert way.x_stop == pytest.approx(next(x for x in np.arange(0, 0.03, 5e-5) if hit(float(x))), abs=6e-5)
    ends = {way.x_82: "force factor", way.x_75: "suspension", way.x_stop: "stop"}
    assert way.x_lim == min(end for end in ends if end) and way.by == ends[way.x_lim]


class Coil(NamedTuple):
    """A voice coil at one note, cold; and as hot as it bears, in the motor as warm as it gets."""

    Re: float
    Z_b: complex
    Bl: float
    Re_hot: float
    Bl_hot: float

    def of_turns(self, n: float) -> Coil:
        """With n times the turns in the same copper: n² times the ohms, n times the force."""
        return Coil(self.Re * n**2, self.Z_b * n**2, self.Bl * n, self.Re_hot * n**2, self.Bl_hot * n)


def coil_of(f: float, example: Built) -> Coil:
    """Copper: 0.393 % a kelvin of its ohms at 20 °C (IEC 60028, from memory)."""
    done, Z_b = example.done, complex(example.Z_b.at(np.array([f]))[0])
    assert done.rating
    Re_hot = float(done.voice_winding.R_20) * (1 + 0.00393 * (float(done.rating.T_lim) - 20))
    Bl = float(done.motor.Bl)
    return Coil(float(done.driver.Re), Z_b, Bl, Re_hot, float(done.heat.Bl) if done.heat else Bl)


class Turned(NamedTuple):
    """Voltage of the source, level, and what ended it."""

    U: float
    L_p: float
    by: str


def turned_up(f: float, Z_m: complex, p: complex, coil: Coil, R: float, brief: Brief, P_cont: float, x_lim: float,
              ) -> Turned:  # fmt: skip
    """By hand: the voltage is turned up in steps of a hundredth of a dB; for heat with a hot coil, for all else with a
    cold one. ``Z_m`` and the pressure ``p`` are over the velocity."""
    U, amp = 10 ** np.arange(-3, 2.5, 0.0005), brief.amplifier
    cold, hot = (Re + R + coil.Z_b + Bl**2 / Z_m for Re, Bl in ((coil.Re, coil.Bl), (coil.Re_hot, coil.Bl_hot)))
    x = math.sqrt(2) * abs(coil.Bl / (cold * Z_m)) * U / (2 * math.pi * f)
    met = {
        "stroke: force factor": x > x_lim, "heat of the voice coil": (U / abs(hot)) ** 2 * coil.Re_hot > P_cont,
        "volts of the amplifier": math.sqrt(amp.P_max * amp.Z_least) < U,
        "amperes of the amplifier": math.sqrt(amp.P_max / amp.Z_least) < U / abs(cold),
    }  # fmt: skip
    by = min(met, key=lambda name: int(np.argmax(met[name])) if met[name].any() else len(U))
    end = float(U[np.argmax(met[by])])
    v = abs(coil.Bl_hot / (hot * Z_m) if "heat" in by else coil.Bl / (cold * Z_m)) * end
    return Turned(end, 20 * math.log10(abs(p) * v / 20e-6), by)


@pytest.mark.parametrize("P_max", [1.0, 200.0])
@pytest.mark.parametrize("where", BUILT_IN)
def test_the_loudest_tone_by_turning_it_up(example, where, P_max) -> None:
    """Kind of truth: second method, with a small amplifier and with one that has more than the coil bears: heat ends
    it hot, with more ohms and less force."""
    design, brief, _, Z_b, done = example
    amp = replace(example.brief.amplifier, P_max=P_max)
    brief = replace(brief, R_series=1.0, amplifier=amp, **BUILT_IN[where])  # type: ignore[arg-type]
    R, x_lim = 1.0 + float(amp.R_out), 1.5e-3
    way = Travel(x_82=x_lim, x_75=None, x_stop=None, x_rub=None, x_lim=x_lim, by="force factor")
    got = limits.loudest_tones(design, brief, done, Z_b, way, 1000.0)
    assert got.f[[0, -1]].tolist() == [20.0, 1000.0] and len(got.f) == len(got.by) == 18
    f = 1000.0 * 10 ** (np.round(10 * np.log10(got.f / 1000)) / 10)
    moves = limits.Moves.of(f, design, brief, done)
    for k in range(0, 18, 2):
        at = float(f[k]), complex(moves.Z_m[k]), complex(moves.p[k]), coil_of(float(f[k]), example)
        end = turned_up(*at, R, brief, float(done.rating.P_cont), x_lim)
        assert got.U_max[k] == pytest.approx(end.U, rel=0.003) and got.by[k] == end.by, got.f[k]
        assert got.L_max[k] == pytest.approx(end.L_p, abs=0.03)
    assert ("heat of the voice coil" in got.by) == (P_max > 100)


@pytest.mark.parametrize("where", BUILT_IN)
def test_a_stiff_diaphragm_moves_as_the_lumped_driver(example, where) -> None:
    """Kind of truth: limit. Its own card moves so up to 200 Hz, but for a paper rim that turns: 1 dB; one a thousand
    times as stiff up to 500 Hz, built into anything: 0.3 dB of the pressure, from four times the notes of its ring."""
    design, brief, _, _, done = example
    brief, T_room = replace(brief, **BUILT_IN[where]), float(example.brief.T_room)  # type: ignore[arg-type]
    f = np.geomspace(30.0, 200.0, 12)
    moves = limits.Moves.of(f, design, brief, done)
    at = Heard(done, Lodging.of(brief, design.back), 0.0)
    _, v, p = heard(f, at, T_room, np.zeros(len(f), complex))
    assert 20 * np.log10(np.abs(moves.p / (p / v))) == pytest.approx(np.zeros(len(f)), abs=1.0)


@pytest.mark.parametrize("where", BUILT_IN)
def test_what_the_amplifier_meets(example, where) -> None:
    """Kind of truth: second method. The least of 1500 frequencies; the next smaller resistor that one can buy would be
    too small. The 80 % are IEC 60268-5's, from memory."""
    design, brief, _, Z_b, done = example
    brief = replace(brief, R_series=0.0, **BUILT_IN[where])  # type: ignore[arg-type]
    f = np.geomspace(20.0, 20e3, 1500)
    Z = np.abs(heard(f, Heard.of(done, design, brief)._replace(R=0.0), float(brief.T_room), Z_b.at(f))[0])
    for least in (4.0, 8.0, 16.0):
        asked = replace(brief, amplifier=replace(brief.amplifier, Z_least=least))
        got = limits.load(design, asked, done, Z_b)
        assert got.Z_min == pytest.approx(Z.min(), rel=1e-3)
        assert np.interp(got.f_least, f, Z) == pytest.approx(Z.min(), rel=1e-3)
        assert got.I_max == pytest.approx(got.U_max / Z.min(), rel=1e-3)
        assert got.U_max == pytest.approx(math.sqrt(asked.amplifier.P_max * least))
        if Z.min() >= 0.8 * least:
            assert got.R_add is None and got.dL_add is None
        else:
            smaller = max(E for E in np.outer([0.1, 1, 10], loudest.E_24[::2]).ravel() if E < got.R_add * 0.99)
            assert Z.min() + got.R_add >= 0.8 * least > Z.min() + smaller
            assert got.dL_add == pytest.approx(20 * math.log10(1 + got.R_add / (done.driver.Re + R_source(brief))))


def level_of(f: float, R: float, coil: Coil, Z_m: complex, p: complex) -> float:
    """For one volt of the source, the coil cold."""
    v = coil.Bl / ((coil.Re + R + coil.Z_b + coil.Bl**2 / Z_m) * Z_m)
    return 20 * math.log10(abs(v * p) / 20e-6)


@pytest.mark.parametrize(("k_f", "R"), [(0.6, 8.0), (1.0, 24.0), (1.7, 0.0), (1.7, 24.0)])
def test_one_tone_by_trying(example, k_f, R) -> None:
    """Kind of truth: second method. A thousand numbers of turns, masses and springs; the loudest for a volt is the one
    told, and what it brings is found by turning both up to their ends."""
    design, brief, _, Z_b, done = example
    brief, f = replace(brief, **BUILT_IN["wall"]), k_f * float(done.driver.fs)  # type: ignore[arg-type]
    design, way = replace(design, back=None), way_of(example)
    got = limits.one_tone(f, R, design, brief, done, Z_b, way)
    moves, coil = limits.Moves.of(np.array([f]), design, brief, done), coil_of(f, example)
    Z_m, p, P_cont = complex(moves.Z_m[0]), complex(moves.p[0]), float(done.rating.P_cont)

    def most(Z_m: complex, coil: Coil) -> float:
        return turned_up(f, Z_m, p, coil, R, brief, P_cont, way.x_lim).L_p

    here, loudest_here = level_of(f, R, coil, Z_m, p), most(Z_m, coil)
    assert got.L_1V == pytest.approx(here, abs=1e-6)
    assert got.L_tone == pytest.approx(loudest_here, abs=0.03)
    if R:
        n = np.geomspace(0.1, 10, 1000)
        tried = [level_of(f, R, coil.of_turns(float(each)), Z_m, p) for each in n]
        assert got.k_N == pytest.approx(n[np.argmax(tried)], rel=0.02)
        assert got.dL_turns == pytest.approx(most(Z_m, coil.of_turns(got.k_N)) - loudest_here, abs=0.06)
    else:
        assert got.k_N is None and got.dL_turns is None
    omega, eta, K_most = 2j * math.pi * f, float(design.surround.sheet.eta_s), limits.STIFFER * float(done.moving.Kms)
    masses = np.linspace(0, 8 * float(done.moving.Mms), 801)
    springs = np.linspace(0, K_most, 801)
    heavier = [level_of(f, R, coil, Z_m + omega * m, p) for m in masses]
    stiffer = [level_of(f, R, coil, Z_m + K * (1 + 1j * eta) / omega, p) for K in springs]
    if got.m_add is not None:
        assert got.m_add == pytest.approx(masses[np.argmax(heavier)], rel=0.05, abs=0.02e-3)
        changed = Z_m + omega * got.m_add
    elif got.K_add is not None:
        assert max(stiffer) - level_of(f, R, coil, Z_m + got.K_add * (1 + 1j * eta) / omega, p) < 0.3
        changed = Z_m + got.K_add * (1 + 1j * eta) / omega
    else:  # nothing brings anything, or more springs than one could build
        assert max(heavier) < here + 0.05 and (max(stiffer) < here + 0.05 or np.argmax(stiffer) == len(springs) - 1)
        changed = Z_m
    assert got.dL_tuned == pytest.approx(most(changed, coil) - loudest_here, abs=0.06)


def test_every_place_gives_what_it_says(example) -> None:
    """Kind of truth: second method and order. Each again by all of 4001 frequencies; the smallest box and board for the
    lowest note just reach it, and one 3 % smaller does not; the even box is even, the boom is Qtc = 1's."""
    design, brief, _, _, done = example
    told_of = {place.kind + ": " + place.why: place for place in places.places(design, brief, done)}
    assert len(told_of) >= 4
    f, R, T_room, f_low = np.geomspace(10, 1000, 4001), R_source(brief), float(brief.T_room), float(brief.f_low)
    for name, place in told_of.items():
        box = Box(V_box=place.V_box, t_box=15e-3) if place.V_box else None
        board = Baffle(W_baffle=place.W_baffle, H_baffle=place.W_baffle) if place.W_baffle else None
        port = Port(n_port=1, d_port=place.d_port, l_port=place.l_port, Q_leak=7.0) if place.d_port else None
        if place.why == "as the brief has it":
            continue
        lodging = Lodging(box, port, board, design.back)
        L_p = np.asarray(beside_reference(f, done, lodging, R, T_room)[0])
        assert place.found.f_10 == pytest.approx(f[np.argmax(L_p >= -10)], rel=5e-3), name
        if "lowest note" in place.why:
            assert 0.97 * f_low < place.found.f_10 <= f_low or place.found.dL_peak > 2.9, name
            W_less = 0.97 * (place.W_baffle or 1.0)
            less = Lodging(
                box=box and replace(box, V_box=0.97 * box.V_box),
                baffle=board and Baffle(W_baffle=W_less, H_baffle=W_less),
                back=design.back,
            )
            small = mount(done, less, R, T_room)
            assert small.f_10 > f_low or (box and small.dL_peak > places.MOST_BOOM), name


def test_even_and_booming_boxes(example) -> None:
    """Kind of truth: closed form. fs √(1 + α) and Q as the box asks for, of the driver in the wall; the air in a box is
    lighter, 0.65 rho pi a³ (Beranek, from memory) for (8/3) rho a³, and the box loses a little."""
    design, brief, _, _, done = example
    found = places.places(replace(design, back=None), replace(brief, **BUILT_IN["wall"]), done)
    boxes = {"as even as can be": 2**-0.5, "small, a little boom": 1.0}
    seen = [place for place in found if place.kind == "closed box" and place.why in boxes]
    assert seen
    rho_0, a = float(air.density(brief.T_room)), float(done.moving.a)
    lighter = float(done.moving.Mms / (done.moving.Mmd + (8 / 3 + 0.65 * math.pi) * rho_0 * a**3))
    Qts = float(places.Q_on(done, brief))
    for place in seen:
        Qtc = boxes[place.why]
        f_c = float(done.driver.fs) * Qtc / Qts
        assert place.V_box == pytest.approx(float(done.driver.Vas) / ((Qtc / Qts) ** 2 - 1))
        assert place.found.f_c == pytest.approx(f_c * math.sqrt(lighter), rel=0.01)
        x = np.geomspace(10, 3 * f_c, 4000)
        L_p = closed.level(x, place.found.f_c, Qtc) + 20 * math.log10(lighter)
        assert place.found.dL_peak == pytest.approx(L_p.max(), abs=0.4)


def test_a_ported_box_only_where_the_motor_brakes(example) -> None:
    """Kind of truth: limit (Small 1973, from memory). None for a Qts above 0.4; with three times the force a flat one,
    at the tuning that its boards and tube have."""
    design, brief, _, _, done = example
    brief = replace(brief, **BUILT_IN["wall"])  # type: ignore[arg-type]
    assert float(places.Q_on(done, brief)) > 0.45
    assert not any(place.d_port for place in places.places(design, brief, done))
    Bl = float(done.motor.Bl) * math.sqrt(float(places.Q_on(done, brief)) / 0.33)
    driver = replace(done.driver, Qes=done.driver.Qes * (done.motor.Bl / Bl) ** 2)
    strong = replace(done, motor=replace(done.motor, Bl=Bl), driver=driver)
    ported = [place for place in places.places(replace(design, back=None), brief, strong) if place.d_port]
    assert len(ported) == 1
    (place,) = ported
    assert place.V_box and place.f_box and place.d_port and place.l_port
    c_0 = float(air.speed(brief.T_room))
    S = math.pi * place.d_port**2 / 4
    helmholtz = c_0 / (2 * math.pi) * math.sqrt(S / (place.V_box * (place.l_port + 1.463 * place.d_port / 2)))
    assert place.f_box == pytest.approx(helmholtz, rel=2e-3)
    aligned = alignment.vented_alignment(7.0, places.Q_on(strong, brief))
    assert place.f_box == pytest.approx(float(driver.fs * aligned.h), rel=0.01)
    assert place.found.dL_peak < 0.6  # as even as can be; the lighter air and the friction of the port are in it


def test_the_bending_diaphragm_begins_as_the_stiff_one(example) -> None:
    """Kind of truth: second method. In a wall, up to a fifth of where it bends: within 1.5 dB, for a paper rim turns
    and moves less than the coil; off the axis as a piston does, and its impedance is that of the stiff one."""
    design, brief, _, Z_b, done = example
    f = np.geomspace(30.0, 300.0, 20)
    got = told.breakup(design, brief, done, Z_b, f)
    Z, _, p = heard(f, Heard(done, Lodging(), R_source(brief)), float(brief.T_room), Z_b.at(f))
    stiff = 20 * np.log10(np.abs(p) / 20e-6)
    assert np.abs(got.L_off[:, 0] - stiff).max() < 1.5
    assert np.median(np.abs(got.Z / np.abs(Z) - 1)) < 0.03
    a, c_0 = float(done.moving.a), float(air.speed(brief.T_room))
    ka = 2 * np.pi * f[:, None] * a / c_0 * np.sin(got.theta)
    off = 20 * np.log10(np.asarray(sound.directivity(ka)))
    assert got.L_off - got.L_off[:, :1] == pytest.approx(off, abs=0.1)
    assert np.all(np.isfinite(told.breakup(design, brief, done, Z_b).L_off))


def test_where_the_bending_diaphragm_rings_and_leaves_the_stiff_one(open_day) -> None:
    """Kind of truth: second method. Four times the frequencies: the peak of its impedance, near that of mass and
    spring, and the first place at which its level is 3 dB from the stiff one's."""
    design, brief, _, Z_b, done = open_day
    got, f = told.breakup(design, brief, done, Z_b), np.geomspace(20.0, 3000.0, 1000)
    fine = told.breakup(design, brief, done, Z_b, f)
    assert got.f_bent == pytest.approx(f[np.argmax(np.where(f < 500, fine.Z, 0))], rel=0.02)
    fs = math.sqrt(done.moving.Kms / done.moving.Mms) / (2 * math.pi)
    assert got.f_bent == pytest.approx(fs, rel=0.03)
    p = heard(f, Heard(done, Lodging(), R_source(brief)), float(brief.T_room), Z_b.at(f))[2]
    apart = np.abs(fine.L_off[:, 0] - 20 * np.log10(np.abs(p) / 20e-6))
    assert got.f_even == pytest.approx(f[np.argmax(apart > 3)], rel=0.02)


def test_sound_is_told_for_the_prediction_itself(example) -> None:
    """Kind of truth: balance. What a prediction tells is what its parts give: first limit, tone at the resonance where
    none is asked for, and the places that begin with its own."""
    design, brief, *_ = example
    asked = replace(brief, box=BOX, port=PORT, baffle=None, f_tone=200.0)
    got = predict.predict(design, asked)
    assert got.sound and got.sound.tone and got.mounted
    ends = (got.sound.travel.x_82, got.sound.travel.x_75, got.sound.travel.x_stop, got.sound.travel.x_rub)
    assert got.sound.travel.x_lim == min(end for end in ends if end is not None)
    assert got.sound.tone.f_tone == 200.0
    at_200 = got.sound.loudest.f.tolist().index(200.0)
    assert got.sound.tone.L_tone == pytest.approx(got.sound.loudest.L_max[at_200], abs=0.1)
    assert got.sound.tone.by == got.sound.loudest.by[at_200]
    own = got.sound.places[0]
    assert own.why == "as the brief has it" and own.found.f_10 == pytest.approx(float(got.mounted.f_10))
    band = got.bands["mounted.f_10"]
    assert band.low < band.value < band.high

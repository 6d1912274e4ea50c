"""What a prediction tells of the sound, each against the same question asked by trying."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from handwound import cone, predict, suspension
from handwound.files import fits
from handwound.heard import limits, places, told, travel
from handwound.mounting import Lodging
from handwound.parts.design import Brief, Design
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.prediction import Chain
from handwound.parts.sound import Travel
from handwound.physics import air, alignment, loudest, sound
from handwound.sounding import Blocked, R_source, beside_reference, drive, heard, mount
from handwound.stages import coil_place, move
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


@pytest.mark.parametrize("where", BUILT_IN)
def test_the_loudest_tone_by_turning_it_up(example, where) -> None:
    """Kind of truth: second method. The voltage is turned up in steps of a tenth of a dB until the stroke, the heat,
    the volts or the amperes are at their end."""
    design, brief, _, Z_b, done = example
    brief = replace(brief, R_series=1.0, **BUILT_IN[where])  # type: ignore[arg-type]
    R, x_lim, amp = 1.0 + float(brief.amplifier.R_out), 1.5e-3, brief.amplifier
    way = Travel(x_82=x_lim, x_75=None, x_stop=None, x_rub=None, x_lim=x_lim, by="force factor")
    got = limits.loudest_tones(design, brief, done, Z_b, way, 1000.0)
    assert got.f[[0, -1]].tolist() == [20.0, 1000.0] and len(got.f) == len(got.by) == 18
    assert done.rating
    lodging, T_room = Lodging.of(brief, design.back), float(brief.T_room)
    for k in range(0, 18, 3):
        f = 1000.0 * 10 ** (np.round(10 * np.log10(got.f[k] / 1000)) / 10)
        Z, v, p = (complex(np.ravel(each)[0]) for each in heard(np.array([f]), done, lodging, R, T_room, Z_b))
        for U in 10 ** np.arange(-2, 2, 0.005):
            # the loop's impedance is that of the terminals and what is in series
            I, x = U / abs(Z + R), math.sqrt(2) * abs(v) * U / 2.83 / (2 * math.pi * f)
            met = {
                "stroke: force factor": x > x_lim, "heat of the voice coil": I**2 * done.driver.Re > done.rating.P_cont,
                "volts of the amplifier": math.sqrt(amp.P_max * amp.Z_least) < U,
                "amperes of the amplifier": math.sqrt(amp.P_max / amp.Z_least) < I,
            }  # fmt: skip
            if any(met.values()):
                break
        assert got.U_max[k] == pytest.approx(U, rel=0.012) and met[got.by[k]], got.f[k]
        assert got.L_max[k] == pytest.approx(20 * np.log10(abs(p) * U / 2.83 / 20e-6), abs=0.15)


@pytest.mark.parametrize("where", BUILT_IN)
def test_what_the_amplifier_meets(example, where) -> None:
    """Kind of truth: second method. The least of 1500 frequencies; the next smaller resistor that one can buy would be
    too small. The 80 % are IEC 60268-5's, from memory."""
    design, brief, _, Z_b, done = example
    brief = replace(brief, R_series=0.0, **BUILT_IN[where])  # type: ignore[arg-type]
    f = np.geomspace(20.0, 20e3, 1500)
    Z = np.abs(heard(f, done, Lodging.of(brief, design.back), 0.0, float(brief.T_room), Z_b)[0])
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


def level_of(f: float, R: float, done: Chain, Z_b: Blocked, brief: Brief, n: float = 1.0) -> float:
    """For one volt of the source, with n times the turns in the same copper."""
    wound = replace(done, driver=replace(done.driver, Re=done.driver.Re * n**2),
                    motor=replace(done.motor, Bl=done.motor.Bl * n))  # fmt: skip
    f_1 = np.array([f])
    p = heard(f_1, wound, Lodging.of(brief, None), R, float(brief.T_room), Z_b, Z_b.at(f_1) * n**2)[2]
    return float(20 * np.log10(np.abs(np.ravel(p)[0]) / 2.83 / 20e-6))


@pytest.mark.parametrize(("k_f", "R"), [(0.6, 8.0), (1.0, 24.0), (1.7, 0.0), (1.7, 24.0)])
def test_one_tone_by_trying(example, k_f, R) -> None:
    """Kind of truth: second method. A thousand numbers of turns, masses and springs; the loudest is the one told."""
    design, brief, _, Z_b, done = example
    brief, f = replace(brief, **BUILT_IN["wall"]), k_f * float(done.driver.fs)  # type: ignore[arg-type]
    got = limits.one_tone(f, R, replace(design, back=None), brief, done, Z_b, way_of(example))
    here = level_of(f, R, done, Z_b, brief)
    assert got.L_1V == pytest.approx(here, abs=1e-6)
    if R:
        n = np.geomspace(0.1, 10, 1000)
        tried = [level_of(f, R, done, Z_b, brief, float(each)) for each in n]
        assert got.k_N == pytest.approx(n[np.argmax(tried)], rel=0.02)
        assert got.dL_turns == pytest.approx(max(tried) - here, abs=0.01)
    else:
        assert got.k_N is None
    moving, K = done.moving, float(done.moving.Kms)
    masses = [replace(moving, Mmd=moving.Mmd + m) for m in np.linspace(0, 8 * moving.Mms, 800)]
    springs = [replace(moving, Kms=K * k) for k in np.linspace(1, 8, 800)]
    heavier, stiffer = ([level_of(f, R, replace(done, moving=each), Z_b, brief) for each in some]
                        for some in (masses, springs))  # fmt: skip
    best = max(*heavier, *stiffer)
    assert got.dL_tuned == pytest.approx(best - here, abs=0.05)
    if best - here > 0.05:
        if max(heavier) > max(stiffer):
            assert got.m_add == pytest.approx(8 * moving.Mms / 799 * np.argmax(heavier), rel=0.05)
        else:
            assert got.K_add == pytest.approx(K * 7 / 799 * np.argmax(stiffer), rel=0.05)


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
    """Kind of truth: closed form. fs √(1 + α) and Q as the box asks for, of the driver in the wall; one side's air is
    lighter, and the box loses a little."""
    design, brief, _, _, done = example
    found = places.places(replace(design, back=None), replace(brief, **BUILT_IN["wall"]), done)
    boxes = {"as even as can be": 2**-0.5, "small, a little boom": 1.0}
    seen = [place for place in found if place.kind == "closed box" and place.why in boxes]
    assert seen
    lighter = float(done.moving.Mms / (done.moving.Mms - done.moving.m_air / 2))
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
    Z, _, p = heard(f, done, Lodging(), R_source(brief), float(brief.T_room), Z_b)
    stiff = 20 * np.log10(np.abs(p) / 20e-6)
    assert np.abs(got.L_off[:, 0] - stiff).max() < 1.5
    assert np.median(np.abs(got.Z / np.abs(Z) - 1)) < 0.03
    a, c_0 = float(done.moving.a), float(air.speed(brief.T_room))
    ka = 2 * np.pi * f[:, None] * a / c_0 * np.sin(got.theta)
    off = 20 * np.log10(np.asarray(sound.directivity(ka)))
    assert got.L_off - got.L_off[:, :1] == pytest.approx(off, abs=0.1)
    assert np.all(np.isfinite(told.breakup(design, brief, done, Z_b).L_off))


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


def silly(design: Design, brief: Brief, seed: int) -> tuple[Design, Brief]:
    """A driver that nobody would build and nothing forbids: sizes and stuff over decades."""
    draw = np.random.default_rng(seed)

    def any_of(low: float, high: float) -> float:
        return float(np.exp(draw.uniform(np.log(low), np.log(high))))

    sheet = replace(design.diaphragm.sheet, t=any_of(0.05e-3, 2e-3), E=any_of(0.3e9, 8e9))
    sheet = replace(sheet, rho_A=sheet.t * any_of(100, 1500))
    rim = replace(design.surround.sheet, t=any_of(0.1e-3, 4e-3), E=any_of(5e4, 3e9), rho_A=any_of(0.01, 2.0))
    D_f, form = float(design.voice_coil.D_f), ("disc", "cone", "dome")[seed % 3]
    d_out, wide = D_f * any_of(1.3, 4), any_of(3e-3, 20e-3)
    h_c = {"disc": 0.0, "cone": d_out * any_of(0.02, 1), "dome": d_out * any_of(0.02, 0.45)}[form]
    part = replace(design.diaphragm, sheet=sheet, form=form, d_in=0.0 if seed % 2 else D_f, d_out=d_out, h_c=h_c)
    ring = replace(design.surround, sheet=rim, d_in=d_out, d_out=d_out + 2 * wide, h_r=wide * any_of(0.05, 0.5),
                   form=("roll", "flat", "pleats")[seed // 2 % 3], n_pleat=1 + seed % 5)  # fmt: skip
    back = replace(BACK, V_back=any_of(1e-6, 5e-3), n_taped=seed % 5) if seed % 4 == 1 else None
    box = replace(BOX, V_box=any_of(1e-4, 0.3))
    port = Port(n_port=1 + seed % 3, d_port=any_of(5e-3, 0.15), l_port=any_of(1e-3, 0.4), Q_leak=any_of(1, 100))
    put = ({"box": box}, {"box": box, "port": port}, {"baffle": Baffle(W_baffle=0.3, H_baffle=any_of(0.3, 3))}, {})
    others = replace(brief, box=None, baffle=None, port=None, R_series=any_of(0.1, 1e3))
    return replace(design, diaphragm=part, surround=ring, back=back, cap=None), replace(others, **put[seed % 4])


@pytest.mark.parametrize("seed", range(12))
def test_what_nobody_would_build_is_heard_too(open_day, seed) -> None:
    """Kind of truth: balance. No division by nought, nothing that is not a number: a driver of any size, anywhere."""
    _, _, _, Z_b, done = open_day
    design, brief = silly(open_day.design, open_day.brief, seed)
    R, T_room = float(R_source(brief)), float(brief.T_room)
    with np.errstate(all="raise", under="ignore"):
        moving = move(design, done.voice_winding, T_room)
        hung = moving.Mms, moving.Kms, moving.Rms, moving.Sd, moving.a
        driver = drive(done.driver.Re, done.motor.Bl, *hung, T_room, Z_b)
        odd = replace(done, moving=moving, driver=driver)
        lodging = Lodging.of(brief, design.back)
        way = Travel(x_82=None, x_75=1e-3, x_stop=None, x_rub=None, x_lim=1e-3, by="suspension")
        heard_of = told.breakup(design, brief, odd, Z_b, np.geomspace(20, 20e3, 40))
        numbers = [
            *vars(mount(odd, lodging, R, T_room)).values(), heard_of.L_off, heard_of.Z,
            cone.piston_to(design, moving, float(driver.fs), 1.2, 343.0),
            limits.loudest_tones(design, brief, odd, Z_b, way, 1000.0).L_max,
            limits.load(design, brief, odd, Z_b).Z_min,
            limits.one_tone(100.0, R, design, brief, odd, Z_b, way).L_tone,
            *(place.found.f_10 for place in places.places(design, brief, odd)),
        ]  # fmt: skip
    for each in numbers:
        assert np.all(np.isfinite(np.asarray(each, float))), each

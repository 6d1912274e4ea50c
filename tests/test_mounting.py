"""What the driver is built into, against boxes and boards with a closed form, and against each other at limits."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.mounting import Lodging, around
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.physics import air, alignment, sound, vents
from handwound.sounding import LOW, beside_reference, mount
from tests.closed import level, low_end
from tests.examples import Built

T = 20.0
RHO_0, C_0 = float(air.density(T)), float(air.speed(T))
FINE = np.geomspace(10.0, 1000.0, 20001)
BACK = Back(V_back=1e-3, n_vent=4, d_vent=20e-3, t_vent=3e-3)


def box(V_box: float) -> Box:
    return Box(V_box=V_box, t_box=15e-3)


def ported(V_box: float, f_box: float, Q_leak: float, d_port: float = 0.06) -> Lodging:
    """A box and the tube that tunes it so."""
    l_port = float(vents.port_length(V_box, f_box, 1, d_port, vents.FLANGED + vents.FREE, C_0))
    return Lodging(box=box(V_box), port=Port(n_port=1, d_port=d_port, l_port=l_port, Q_leak=Q_leak))


def in_front(example: Built) -> float:
    """Mass with the air of the front alone, (8/3) rho a³ in a wall without end (Rayleigh, from memory). [kg]"""
    return float(example.done.moving.Mmd + 8 / 3 * RHO_0 * example.done.moving.a**3)


def boxed(example: Built) -> float:
    """Mass with the air of the front and that of a box, 0.65 rho pi a³ (Beranek, Acoustics, from memory). [kg]"""
    return float(in_front(example) + 0.65 * RHO_0 * np.pi * example.done.moving.a**3)


def on_spring(M: float, K: float) -> float:
    """The resonance of a mass. [Hz]"""
    return float(np.sqrt(K / M) / (2 * np.pi))


@pytest.mark.parametrize("R", [0.0, 3.0])
@pytest.mark.parametrize("V_box", [2e-3, 8e-3, 50e-3])
def test_a_closed_box_is_a_second_order_high_pass(example, V_box, R) -> None:
    """Kind of truth: closed form. Spring of the driver and of the air in series with the mass; losses of motor,
    suspension, box and sound at the resonance. fs √(1 + Vas/V), with a box's air on its back."""
    done, moving = example.done, example.done.moving
    M = boxed(example)
    fs = on_spring(M, float(moving.Kms))
    K_air = RHO_0 * C_0**2 * moving.Sd**2 / V_box
    f_c = fs * np.sqrt(1 + done.driver.Vas / V_box)
    lost = moving.Rms + 0.03 * K_air / (2 * np.pi * f_c)
    lost += np.real(sound.radiation(f_c, moving.a, moving.Sd, RHO_0, C_0)) / 2
    Qtc = float(np.sqrt((moving.Kms + K_air) * M) / (lost + done.motor.Bl**2 / (done.driver.Re + R)))
    got = mount(done, Lodging(box=box(V_box)), R, T)
    x = 1j * FINE / f_c
    L_p = 20 * np.log10(np.abs(x**2 / (x**2 + x / Qtc + 1)) * moving.Mms / M)
    low = L_p[FINE <= 3 * f_c]
    assert got.f_c == pytest.approx(f_c, rel=0.006)
    assert got.f_10 == pytest.approx(FINE[np.argmax(L_p >= -10)], rel=0.005)
    assert got.f_3 == pytest.approx(FINE[np.argmax(L_p >= -3)], rel=0.005)
    assert got.dL_peak == pytest.approx(low.max(), abs=0.1)  # it may still climb at the last of the coarser steps
    f_3, dL_peak = low_end(f_c, Qtc)
    lighter = 20 * np.log10(moving.Mms / M)
    if dL_peak > 1:  # below, the highest place within three resonances is not the top of a bend
        assert got.dL_peak == pytest.approx(dL_peak + lighter, abs=0.05)
    assert 0 < lighter < 0.3 and got.f_3 < f_3  # a little lighter and louder than what it is compared to


@pytest.mark.parametrize(("V_box", "f_box", "Q_leak"), [(20e-3, 60.0, 7.0), (10e-3, 80.0, 10.0), (30e-3, 50.0, 5.0)])
def test_a_box_with_a_port_is_smalls_polynomial(example, V_box, f_box, Q_leak) -> None:
    """Kind of truth: published closed form (Small 1973, from memory). The port's own friction takes up to 0.6 dB."""
    done, moving = example.done, example.done.moving
    M = boxed(example)
    fs = on_spring(M, float(moving.Kms))
    Qts = float(np.sqrt(moving.Kms * M) / (moving.Rms + done.motor.Bl**2 / done.driver.Re))
    a_1, a_2, a_3 = alignment.vented_polynomial(f_box / fs, done.driver.Vas / V_box, Q_leak, Qts)
    f = np.geomspace(20.0, 300.0, 200)
    s = 1j * f / (fs * np.sqrt(f_box / fs))
    L_p = 20 * np.log10(np.abs(s**4 / (s**4 + a_1 * s**3 + a_2 * s**2 + a_3 * s + 1)) * moving.Mms / M)
    got, _ = beside_reference(f, done, ported(V_box, f_box, Q_leak), 0.0, T)
    assert np.abs(got - L_p).max() < 0.6
    assert np.abs(got - L_p)[(f < f_box / 2) | (f > 3 * f_box)].max() < 0.2


def test_the_lowest_notes_of_a_port_undo_the_diaphragms(example) -> None:
    """Kind of truth: limit. Far below its tuning what leaves by the port is as much as the diaphragm draws in, and the
    sound falls by 24 dB an octave."""
    f = np.array([4.0, 8.0])
    beside = around(f, example.done.moving, ported(20e-3, 60.0, 1e6), T)
    assert np.asarray(beside.k_port) == pytest.approx(1.0, abs=0.03)
    L_p, _ = beside_reference(f, example.done, ported(20e-3, 60.0, 1e6), 0.0, T)
    assert L_p[1] - L_p[0] == pytest.approx(24.1, abs=0.5)


def test_taped_vents_are_a_closed_box(example) -> None:
    """Kind of truth: closed form. The spring of the volume behind the frame alone, which carries no air of its own and
    loses nothing, and the air of the front."""
    done, moving, M = example.done, example.done.moving, in_front(example)
    got = mount(done, Lodging(back=replace(BACK, n_taped=4)), 0.0, T)
    f_c = on_spring(M, float(moving.Kms) + RHO_0 * C_0**2 * moving.Sd**2 / BACK.V_back)
    lost = moving.Rms + np.real(sound.radiation(f_c, moving.a, moving.Sd, RHO_0, C_0)) / 2
    f_3, dL_peak = low_end(f_c, float(2 * np.pi * f_c * M / (lost + done.motor.Bl**2 / done.driver.Re)))
    lighter = 20 * np.log10(moving.Mms / M)
    assert got.f_c == pytest.approx(f_c, rel=5e-3)
    assert got.dL_peak == pytest.approx(dL_peak + lighter, abs=0.05) and dL_peak > 2
    assert 0.9 * f_3 < got.f_3 < f_3  # the lighter driver is louder than what it is compared to


@pytest.mark.parametrize("around_it", [Lodging(box=box(8e-3)), ported(20e-3, 60.0, 7.0)])
def test_wide_vents_are_none(example, around_it) -> None:
    """Kind of truth: limit. A back that is nearly all hole changes nothing, whatever stands behind it."""
    gone = around_it._replace(back=Back(V_back=1e-6, n_vent=400, d_vent=20e-3, t_vent=1e-4))
    with_it, without = (mount(example.done, each, 0.0, T) for each in (gone, around_it))
    for name in ("f_c", "f_10", "f_3"):
        assert getattr(with_it, name) == pytest.approx(getattr(without, name), rel=5e-3), name


def test_wide_vents_into_a_wall_leave_the_air_to_their_holes(example) -> None:
    """Kind of truth: closed form. The air behind moves in the holes, and in such wide ones it weighs nothing: spring,
    mass and the air of the front; the sound goes out on both sides."""
    done, moving, M = example.done, example.done.moving, in_front(example)
    wide = Lodging(back=Back(V_back=1e-6, n_vent=400, d_vent=20e-3, t_vent=1e-4))
    got, f_c = mount(done, wide, 0.0, T), on_spring(M, float(moving.Kms))
    lost = moving.Rms + np.real(sound.radiation(f_c, moving.a, moving.Sd, RHO_0, C_0))
    Q = float(2 * np.pi * f_c * M / (lost + done.motor.Bl**2 / done.driver.Re))
    L_p = level(FINE, f_c, Q) + 20 * np.log10(moving.Mms / M)
    assert got.f_c == pytest.approx(f_c, rel=6e-3)
    assert got.f_10 == pytest.approx(FINE[np.argmax(L_p >= -10)], rel=6e-3)
    assert got.f_3 == pytest.approx(FINE[np.argmax(L_p >= -3)], rel=6e-3)


def test_a_wide_back_on_a_board_is_the_board(example) -> None:
    """Kind of truth: limit, as above; the notes whose waves are long beside the back."""
    board = Lodging(baffle=Baffle(W_baffle=0.5, H_baffle=0.6))
    gone = board._replace(back=Back(V_back=1e-6, n_vent=400, d_vent=20e-3, t_vent=1e-4))
    f = LOW[(LOW > 20) & (LOW < 200)]
    (with_it, _), (without, _) = (beside_reference(f, example.done, each, 0.0, T) for each in (gone, board))
    assert np.abs(with_it - without).max() < 0.5


def test_a_taped_back_sends_to_all_sides(example) -> None:
    """Kind of truth: balance. A closed driver on a small board sends its low notes all round, and to one half of space
    in a wall: four times the power for the same flow, twice the pressure, 6 dB."""
    shut, board = replace(BACK, n_taped=4), Baffle(W_baffle=0.3, H_baffle=0.3)
    f = np.array([10.0, 20.0, 40.0])
    wall, _ = beside_reference(f, example.done, Lodging(back=shut), 0.0, T)
    L_p, _ = beside_reference(f, example.done, Lodging(baffle=board, back=shut), 0.0, T)
    assert wall - L_p == pytest.approx(20 * np.log10(2), abs=0.1)


def test_the_low_limit_of_an_open_board(example) -> None:
    """Kind of truth: closed form. Both sides nearly undo each other, 18 dB an octave below the resonance. A disc alone
    is a dipole by its force on the air, (8/3) rho a³: k a 4/(3 pi) of the wall's; a board as wide as it has corners."""
    a, f = float(example.done.moving.a), np.array([10.0, 20.0])
    bare = Lodging(baffle=Baffle(W_baffle=2.0001 * a, H_baffle=2.0001 * a))
    k_out = np.abs(np.asarray(around(f, example.done.moving, bare, T).k_out))
    assert np.all((k_out > (alone := 2 * np.pi * f / C_0 * a * 4 / (3 * np.pi))) & (k_out < 1.4 * alone))
    L_p, _ = beside_reference(f, example.done, Lodging(baffle=Baffle(W_baffle=0.4, H_baffle=0.5)), 0.0, T)
    assert L_p[1] - L_p[0] == pytest.approx(18.06, abs=0.5)


def test_a_box_sends_what_its_diaphragm_and_port_do_and_takes_what_it_loses(example) -> None:
    """Kind of truth: balance. What the air takes from the diaphragm is warmth in the box, in the port, and sound; of a
    tight closed box without losses it is the sound of the front alone. That port and diaphragm push on each other
    through the room is left out."""
    f = np.geomspace(30.0, 800.0, 30)
    moving = example.done.moving
    front = np.real(sound.radiation(f, moving.a, moving.Sd, RHO_0, C_0)) / 2
    taken = np.real(np.asarray(around(f, moving, Lodging(back=replace(BACK, n_taped=4)), T).Z_air))
    assert taken == pytest.approx(front, rel=0.01)
    vented = around(f, moving, ported(20e-3, 60.0, 7.0), T)
    sent = front * np.abs(np.asarray(vented.k_out)) ** 2
    assert np.all(np.real(np.asarray(vented.Z_air)) > 0.97 * sent)
    assert np.real(np.asarray(vented.Z_air))[-5:] == pytest.approx(sent[-5:], rel=0.03)  # the port is shut there

"""Check values of boxes, ports and vents, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp
from scipy.linalg import eigvalsh
from scipy.optimize import brentq

from handwound.physics import alignment, box, driver, vents
from handwound.physics.circuit import driven
from handwound.physics.moving import air_mass
from handwound.physics.sound import radiation
from tests.closed import level, mass_on_a_spring, one_side

RHO_0, C_0, NU = 1.204, 343.2, 15.1e-6
SD, MMS, CMS, RMS, R_E, BL = 0.0214, 18.5e-3, 1.2e-3, 1.4, 6.0, 7.5
A = np.sqrt(SD / np.pi)
"""A driver made up for checks."""


def test_a_closed_box_is_designed() -> None:
    """Kind of truth: closed form (Small 1972, from memory), worked by hand: 3.0816, 19.471 litres, 80.811 Hz."""
    alpha, V_box, f_c = alignment.closed_box(40.0, 0.35, 0.060, 0.7071)
    assert [alpha, V_box * 1000, f_c] == pytest.approx([3.0816, 19.471, 80.811], rel=5e-5)
    assert np.isnan(alignment.closed_box(40.0, np.array([0.8, 0.3]), 0.060, 2**-0.5)[1]).tolist() == [True, False]


def reactance(f: float, Z_a) -> float:
    """Of the driver with nothing but Z_a behind it, without the air in front."""
    return float((1j * (2 * np.pi * f * MMS - 1 / (2 * np.pi * f * CMS)) + SD**2 * Z_a).imag)


def test_a_closed_box_lifts_the_resonance() -> None:
    """Kind of truth: closed form. fs √(1 + Vas/Vb): 33.7788 Hz becomes 84.0788 in 15 litres."""
    f_c = brentq(lambda f: reactance(f, box.closed(f, 0.015, RHO_0, C_0)), 40, 200, xtol=1e-12)
    Vas = driver.V_as(CMS, SD, RHO_0, C_0)
    assert f_c == pytest.approx(driver.resonance(MMS, 1 / CMS) * np.sqrt(1 + Vas / 0.015), rel=1e-9)
    assert f_c == pytest.approx(84.0788, abs=1e-4)


def test_a_box_without_end_is_none_and_one_front_is_half_the_air() -> None:
    """Kind of truth: limit. Both sides of a piston are the front and an open rear; an endless box holds nothing."""
    f = np.geomspace(20, 2000, 20)
    rear = SD**2 * box.open_rear(f, A, SD, RHO_0, C_0)
    assert rear == pytest.approx(one_side(f, A, SD, RHO_0, C_0), rel=1e-9)
    assert np.all(np.abs(SD**2 * box.closed(f, 1e9, RHO_0, C_0)) < 1e-6 * np.abs(rear))
    low = 2 * np.pi * 1.0 * air_mass(RHO_0, A) / 2 / SD**2
    assert box.open_rear(1.0, A, SD, RHO_0, C_0).imag == pytest.approx(low, rel=1e-4)


@pytest.mark.parametrize(
    ("Q_leak", "Qts", "alpha"),
    [(np.inf, 0.38268, 1.41421), (10, 0.39791, 1.16290), (7, 0.40481, 1.06132)],
)
def test_the_flattest_vented_boxes(Q_leak, Qts, alpha) -> None:
    """Kind of truth: closed form. Small's polynomial (from memory) equal to Butterworth's; worked by hand, 1e-4."""
    found = alignment.vented_alignment(Q_leak, Qts)
    assert [float(n) for n in found[:3]] == pytest.approx([1.0, alpha, 1.0], abs=1e-4) and found.kind == "B4"
    a = np.sqrt(4 + 2 * np.sqrt(2))
    assert alignment.vented_polynomial(1.0, alpha, Q_leak, Qts) == pytest.approx((a, 2 + 2**0.5, a), rel=2e-5)


@pytest.mark.parametrize(
    ("Q_leak", "Qts", "h", "alpha", "k_3"),
    [(np.inf, 0.25, 1.46059, 4.86667, 1.84943), (np.inf, 0.30, 1.23542, 3.02930, 1.46793),
     (7, 0.30, 1.31453, 2.84520, 1.57316)],
)  # fmt: skip
def test_quasi_flat_vented_boxes(Q_leak, Qts, h, alpha, k_3) -> None:
    """Kind of truth: closed form. a1² = 2 a2, a2² + 2 = 2 a1 a3 (Small 1973, from memory), solved by hand; 1e-5."""
    found = alignment.vented_alignment(Q_leak, Qts)
    assert [float(n) for n in found[:3]] == pytest.approx([h, alpha, k_3], abs=1e-5) and found.kind == "QB3"


def test_a_driver_with_a_weak_motor_has_no_flat_vented_box() -> None:
    """Kind of truth: limit. Above B4 there is none; many at once answer as each by itself."""
    found = alignment.vented_alignment(7.0, np.array([0.25, 0.3, 0.45, 0.9]))
    assert found.kind.tolist() == ["QB3", "QB3", "none", "none"]
    assert np.isnan(found.h).tolist() == [False, False, True, True]
    assert found.alpha[1] == pytest.approx(alignment.vented_alignment(7.0, 0.3).alpha, rel=1e-12)


@pytest.mark.parametrize(
    ("h", "alpha", "Q_leak", "Qms", "Qes"), [(1.3, 2.0, 7.0, 3.0, 0.4), (0.8, 0.7, np.inf, 5, 1.1)]
)
def test_the_network_is_the_fourth_order_polynomial(h, alpha, Q_leak, Qms, Qes) -> None:
    """Kind of truth: second method. Small's G(s) at 50 frequencies against the circuit of coil, mass, box, port, leak,
    without the resistance of the sound sent and with fixed masses of air; 1e-9."""
    fs, f = 40.0, np.geomspace(5, 500, 50)
    Kms = MMS * (2 * np.pi * fs) ** 2
    Rms, Bl = 2 * np.pi * fs * MMS / Qms, np.sqrt(2 * np.pi * fs * MMS * R_E / Qes)
    V_box, f_box = driver.V_as(1 / Kms, SD, RHO_0, C_0) / alpha, h * fs
    M_port = RHO_0 * C_0**2 / V_box / (2 * np.pi * f_box) ** 2
    R_leak = box.leak_resistance(V_box, f_box, Q_leak, RHO_0, C_0)
    Z_a, k_port, k_out = box.vented(f, V_box, 2j * np.pi * f * M_port, RHO_0, C_0, R_leak)
    omega = 2 * np.pi * f
    Z_m = Rms + 1j * (omega * MMS - Kms / omega) + SD**2 * Z_a
    _, v, _ = driven(1.0, 0.0, R_E, 0.0, Bl, Z_m)
    found = 1j * omega * MMS * R_E / Bl * v * k_out  # acceleration of all the flow over that far above resonance
    a = alignment.vented_polynomial(h, alpha, Q_leak, driver.Q_ts(Qms, Qes))
    s = 1j * f / (fs * np.sqrt(h))
    assert found == pytest.approx(s**4 / (s**4 + a[0] * s**3 + a[1] * s**2 + a[2] * s + 1), rel=1e-9)
    assert k_out == pytest.approx(1 - k_port - Z_a / R_leak, rel=1e-9)


def test_a_closed_leaky_box_is_one_without_ports() -> None:
    """Kind of truth: limit. A port of endless weight."""
    f = np.geomspace(5, 500, 20)
    Z_a, k_port, _ = box.vented(f, 0.02, np.full(20, 1e60j), RHO_0, C_0, 3e5, 0.02)
    assert Z_a == pytest.approx(box.closed(f, 0.02, RHO_0, C_0, 3e5, 0.02), rel=1e-12)
    assert np.max(np.abs(k_port)) < 1e-40


@pytest.mark.parametrize("Z_b", [0.0, 0.4 + 0.9j])
def test_power_is_heat_and_loss_and_sound(Z_b) -> None:
    """Kind of truth: balance. Watts from the amplifier = coil, suspension, air of the box, leak, port, sound of both
    openings taken alone; to 1e-9."""
    f, V_box, d, l = np.geomspace(15, 800, 40), 0.025, 0.060, 0.12
    Z_port, R_leak, eta = vents.ports(f, 1, d, l, RHO_0, C_0, NU), 2e5, 0.03
    Z_a, k_port, k_out = box.vented(f, V_box, Z_port, RHO_0, C_0, R_leak, eta)
    Z_m = mass_on_a_spring(f, 0.016, RMS, 1 / CMS) + radiation(f, A, SD, RHO_0, C_0) / 2 + SD**2 * Z_a
    _, v, I = driven(5.0, 0.7, R_E, Z_b, BL, Z_m)
    flow, p = SD * v, SD * v * Z_a
    sound_front = np.abs(v) ** 2 * (radiation(f, A, SD, RHO_0, C_0) / 2).real
    sound_port = np.abs(k_port * flow) ** 2 * vents.sending(f, RHO_0, C_0)
    friction = np.abs(k_port * flow) ** 2 * (Z_port.real - vents.sending(f, RHO_0, C_0))
    air = np.abs(k_out * flow) ** 2 * box.spring(f, V_box, RHO_0, C_0, eta).real
    leak = np.abs(p) ** 2 / R_leak
    heat = np.abs(I) ** 2 * (0.7 + R_E + np.real(Z_b)) + np.abs(v) ** 2 * RMS
    assert np.min([sound_front, sound_port, friction, air, leak], axis=1).min() > 0
    assert heat + leak + friction + air + sound_front + sound_port == pytest.approx((5.0 * np.conj(I)).real, rel=1e-9)


def test_all_vents_taped_is_a_closed_back() -> None:
    """Kind of truth: limit. With no air and nothing but openness in between, what lies beyond is all."""
    f = np.geomspace(20, 2000, 30)
    beyond = box.open_rear(f, A, SD, RHO_0, C_0)
    taped = vents.vent_holes(f, 8, 8, 0.012, 0.002, RHO_0, NU)
    Z_a, k_vent = box.frame_back(f, 0.0006, taped, beyond, RHO_0, C_0)
    assert Z_a == pytest.approx(box.closed(f, 0.0006, RHO_0, C_0), rel=1e-12) and np.max(np.abs(k_vent)) < 1e-60
    through, k_vent = box.frame_back(f, 1e-12, 0.0, beyond, RHO_0, C_0)
    assert through == pytest.approx(beyond, rel=1e-6) and k_vent == pytest.approx(np.ones(30), rel=1e-6)


@pytest.mark.parametrize("n_taped", [0, 4, 7])
def test_vents_make_two_resonances(n_taped) -> None:
    """Kind of truth: second method. Eigenvalues of two masses, the cone's and the holes' air, on two springs; 0.5 %."""
    V_back, k = 0.002, RHO_0 * C_0**2 * SD**2 / 0.002

    def holes(f: float) -> complex:
        return complex(vents.vent_holes(f, 8, n_taped, 0.030, 0.002, RHO_0, NU))

    M_holes = SD**2 * holes(200.0).imag / (2 * np.pi * 200)
    omega_2 = eigvalsh([[1 / CMS + k, -k], [-k, k]], np.diag([MMS, M_holes]))
    for f_n in np.sqrt(omega_2) / (2 * np.pi):
        found = brentq(
            lambda f: reactance(f, box.frame_back(f, V_back, holes(f), 0.0, RHO_0, C_0)[0]), 0.98 * f_n, 1.02 * f_n
        )
        assert found == pytest.approx(f_n, rel=0.005)


def test_length_of_a_port() -> None:
    """Kind of truth: closed form. 10 litres, 40 Hz, 50 mm, ends of 1.463 radii: 329.6 mm, worked by hand."""
    assert vents.port_length(0.010, 40.0, 1, 0.050, 1.463, C_0) * 1000 == pytest.approx(329.6, abs=0.05)
    assert vents.FLANGED + vents.FREE == pytest.approx(1.463, abs=1e-3)


def test_a_box_with_its_port_rings_at_its_tuning() -> None:
    """Kind of truth: balance. The length for 40 Hz put back into the network; friction's mass shifts it by 1 %."""
    l_port = vents.port_length(0.010, 40.0, 1, 0.050, vents.FLANGED + vents.FREE, C_0)

    def still(f: float) -> float:
        return float((1 / box.vented(f, 0.010, vents.ports(f, 1, 0.050, l_port, RHO_0, C_0, NU), RHO_0, C_0)[0]).imag)

    f_box = brentq(still, 20, 80)
    assert 39.5 < f_box < 40.0
    assert vents.tuning(0.010, 1, 0.050, l_port, vents.FLANGED + vents.FREE, C_0) == pytest.approx(40.0, rel=1e-12)
    loss = vents.ports(f_box, 1, 0.050, l_port, RHO_0, C_0, NU)
    assert loss.imag / loss.real > 50  # a port by itself is a good resonator


@pytest.mark.parametrize(("d", "f"), [(0.0004, 50.0), (0.003, 100.0), (0.012, 400.0)])
def test_the_flow_in_a_tube(d, f) -> None:
    """Kind of truth: second method. The equation of the flow across a tube, solved numerically:
    jωρ u = -dp/dz + ρν (u'' + u'/r), no slip at the wall."""
    omega, a = 2 * np.pi * f, d / 2

    def slope(y, u):  # y = r/a; u = velocity and its slope, real and imaginary, for a gradient of 1 Pa/m
        w, dw = u[0] + 1j * u[1], u[2] + 1j * u[3]
        bend = a**2 / (RHO_0 * NU) * (1j * omega * RHO_0 * w - 1) - dw / np.maximum(y, 1e-9)
        return np.array([u[2], u[3], bend.real, bend.imag])

    y = np.linspace(1e-6, 1, 400)
    ends = solve_bvp(
        slope, lambda m, w: np.array([m[2], m[3], w[0], w[1]]), y, np.zeros((4, 400)), tol=1e-6, max_nodes=20_000
    )
    u = ends.sol(y)
    flow = np.trapezoid(2 * np.pi * a**2 * y * (u[0] + 1j * u[1]), y)
    tube = vents.hole(f, d, 1.0, 0.0, RHO_0, NU) - vents.hole(f, d, 0.0, 0.0, RHO_0, NU)
    assert tube == pytest.approx(1 / flow, rel=2e-3)


def test_a_narrow_tube_is_poiseuilles() -> None:
    """Kind of truth: limit. Slow flow in a thin tube: 128 µ l / π d⁴, and 4/3 of the air's mass."""
    f, d, l = 1.0, 0.0002, 0.01
    Z = vents.hole(f, d, l, 0.0, RHO_0, NU) - vents.hole(f, d, 0.0, 0.0, RHO_0, NU)
    assert Z.real == pytest.approx(128 * RHO_0 * NU * l / (np.pi * d**4), rel=1e-4)
    assert Z.imag == pytest.approx(4 / 3 * 2 * np.pi * f * RHO_0 * l / (np.pi * d**2 / 4), rel=1e-3)


def test_a_wide_tube_is_a_mass_with_a_thin_skin() -> None:
    """Kind of truth: limit. Rubbing only within √(2ν/ω) of the wall: resistance l √(2ων) ρ / (a S)."""
    f, d, l = 200.0, 0.08, 0.5
    Z = vents.hole(f, d, l, 0.0, RHO_0, NU) - vents.hole(f, d, 0.0, 0.0, RHO_0, NU)
    S, omega = np.pi * d**2 / 4, 2 * np.pi * f
    assert Z.real == pytest.approx(l * RHO_0 * np.sqrt(2 * omega * NU) / (d / 2 * S), rel=0.01)
    assert Z.imag == pytest.approx(omega * RHO_0 * l / S * (1 + np.sqrt(2 * NU / omega) / (d / 2)), rel=1e-4)


def test_an_opening_sends_as_a_small_piston_does() -> None:
    """Kind of truth: limit. rho c R1(2ka)/S for a small piston."""
    a = 0.01
    one_side = radiation(50.0, a, np.pi * a**2, RHO_0, C_0).real / 2 / (np.pi * a**2) ** 2
    assert vents.sending(50.0, RHO_0, C_0) == pytest.approx(one_side, rel=1e-4)


def test_air_in_a_port() -> None:
    """Kind of truth: continuity, worked by hand. 0.1 m/s r.m.s. of 100 cm² through 10 cm²: 1.414 m/s at the peak."""
    d = np.sqrt(4 * 0.0010 / np.pi)
    assert vents.port_velocity(0.1, -1.0, 0.0100, 1, d) == pytest.approx(np.sqrt(2))
    assert vents.port_velocity(0.1, 1.0, 0.0100, 2, d) == pytest.approx(np.sqrt(2) / 2)
    assert vents.V_PORT_MOST / C_0 == pytest.approx(0.05, abs=0.001)
    assert vents.open_area(8, 2, 0.030, 0.0095) == pytest.approx(6 * 7.0686e-4 / 0.0095, rel=1e-4)


def test_boards_make_the_box() -> None:
    """Kind of truth: balance. Wood and room together are what stands outside; the room is what was asked for."""
    t = 0.015
    found = alignment.panels(0.020, t, 0.002)
    room = found.W_in * found.H_in * found.D_in
    faces = found.W_out * found.H_out + found.W_out * found.D_in + found.D_in * found.H_in
    assert room == pytest.approx(0.022, rel=1e-12)
    assert room + 2 * t * faces == pytest.approx(found.W_out * found.H_out * (found.D_in + 2 * t), rel=1e-12)
    assert found.H_in / found.W_in == pytest.approx(found.W_in / found.D_in, rel=1e-12)


@pytest.mark.parametrize(("W_least", "D_least"), [(0.30, 0.1), (0.1, 0.2), (0.30, 0.2)])
def test_boards_give_way_to_the_driver(W_least, D_least) -> None:
    """Kind of truth: second method, the root of the room over the height; limit: a wish that is met changes nothing."""
    found = alignment.panels(0.020, 0.015, 0.002, W_least=W_least, D_least=D_least)

    def room(H: float) -> float:
        return max(alignment.WIDE * H, W_least) * H * max(alignment.DEEP * H, D_least)

    assert found.H_in == pytest.approx(brentq(lambda H: room(H) - 0.022, 0.01, 2.0), rel=1e-9)
    assert found.W_in * found.H_in * found.D_in == pytest.approx(0.022, rel=1e-12)
    assert found.W_in >= W_least and found.D_in >= D_least
    free = alignment.panels(0.020, 0.015, 0.002)
    both = alignment.panels(0.020, 0.015, 0.002, W_least=0.2, D_least=0.1)
    assert np.array(both) == pytest.approx(np.array(free), rel=1e-12)


def test_too_little_room_for_a_driver() -> None:
    """Kind of truth: by hand. 130 x 130 x 80 mm are 1.352 l: a hair less cannot hold such a driver."""
    assert np.isnan(alignment.panels(1.35e-3, 0.015, 0.0, W_least=0.13, D_least=0.08).H_in)
    assert alignment.panels(1.353e-3, 0.015, 0.0, W_least=0.13, D_least=0.08).H_in == pytest.approx(0.1301, abs=1e-4)


@pytest.mark.parametrize(("dL", "Q"), [(3.0, 0.5), (10.0, 0.7), (10.0, 2.0)])
def test_the_low_end_of_a_curve(dL, Q) -> None:
    """Kind of truth: second method. The root of the closed form; and of columns each by itself."""
    f = np.geomspace(10, 2000, 300)
    exact = [brentq(lambda x, fs=fs: level(x, fs, Q) + dL, 5, 2000) for fs in (50.0, 90.0)]
    both = np.stack([level(f, fs, Q) for fs in (50.0, 90.0)], axis=1)
    assert alignment.lowest(f, both, 0.0, dL) == pytest.approx(exact, rel=1e-3)
    assert alignment.lowest(f, both[:, 0], 0.0, dL) == pytest.approx(exact[0], rel=1e-3)


def test_the_low_end_of_a_flat_and_of_a_silent_curve() -> None:
    """Kind of truth: limit."""
    f = np.array([20.0, 40.0, 80.0])
    assert alignment.lowest(f, np.zeros(3), 0.0, 3.0) == 20.0
    assert np.isnan(alignment.lowest(f, np.full(3, -20.0), 0.0, 3.0))

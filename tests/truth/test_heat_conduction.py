"""Hot spots, heating rates and the conductivity of windings, against closed forms and solutions on a grid."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from handwound.physics.heat.winding_heat import (
    K_ENAMEL,
    fill_factor,
    mixture_conductivity,
    touching_conductivity,
    winding_capacity,
    winding_conductivity,
)
from tests.physics.heat.closed_forms import (
    R_axial,
    R_radial,
    adiabatic_rate,
    lumped_rise,
    ring_hot_spot,
    ring_mean_rise,
    slab_hot_spot,
)
from tests.physics.heat.wires import grid_conductivity

NESTED = np.sqrt(3) / 2
K_CU, K_AIR, K_RESIN = 390.0, 0.027, 0.2


def test_the_hot_spot_of_a_slab() -> None:
    """Closed form, evaluated apart: 2 MW/m³, 6 mm between cool faces, 0.7 W/(m·K): 12.857 K."""
    assert slab_hot_spot(2e6, 0.006, 0.7) == pytest.approx(12.857, abs=5e-4)


def test_the_hot_spot_of_a_ring() -> None:
    """Closed form, evaluated apart: radii 10 and 16 mm, both cool: 12.935 K at 12.882 mm."""
    rise, r_hot = ring_hot_spot(2e6, 0.7, 0.010, 0.016)
    assert rise == pytest.approx(12.935, abs=5e-4)
    assert r_hot == pytest.approx(12.882e-3, abs=5e-7)


@pytest.mark.parametrize(("r_in", "r_out"), [(0.010, 0.016), (0.002, 0.030), (0.0145, 0.0265)])
def test_a_ring_by_a_solver(r_in: float, r_out: float) -> None:
    """Second method: the differential equation in cylindrical coordinates by a general library."""
    q_v, k_th = 2e6, 0.7

    def slope(r, y):
        return np.stack([y[1], -q_v / k_th - y[1] / r])

    r = np.geomspace(r_in, r_out, 60)
    found = solve_bvp(slope, lambda a, b: np.array([a[0], b[0]]), r, np.zeros((2, len(r))), tol=1e-8)
    fine = np.linspace(r_in, r_out, 4001)
    T = found.sol(fine)[0]
    rise, r_hot = ring_hot_spot(q_v, k_th, r_in, r_out)
    assert rise == pytest.approx(T.max(), rel=1e-5)
    assert r_hot == pytest.approx(fine[T.argmax()], abs=(r_out - r_in) / 2000)
    mean = quad(lambda x: found.sol(x)[0] * 2 * x, r_in, r_out)[0] / (r_out**2 - r_in**2)
    assert ring_mean_rise(q_v, k_th, r_in, r_out) == pytest.approx(mean, rel=1e-5)


def test_a_thin_ring_is_a_slab() -> None:
    """Limit: a millimetre at a radius of a metre; the mean of a parabola is two thirds of its top."""
    slab = slab_hot_spot(1e6, 0.001, 0.5)
    assert ring_hot_spot(1e6, 0.5, 1.0, 1.001)[0] == pytest.approx(slab, rel=1e-3)
    assert ring_mean_rise(1e6, 0.5, 1.0, 1.001) == pytest.approx(slab * 2 / 3, rel=1e-3)


def test_resistances_in_a_row_and_side_by_side() -> None:
    """Balance: rings in each other add along the radius; their inverses add along the axis; thin ones are slabs."""
    whole = R_radial(0.010, 0.020, 0.3, 0.04)
    assert R_radial(0.010, 0.013, 0.3, 0.04) + R_radial(0.013, 0.020, 0.3, 0.04) == pytest.approx(whole)
    inner, outer = R_axial(0.0, 0.013, 0.05, 50.0), R_axial(0.013, 0.020, 0.05, 50.0)
    assert 1 / inner + 1 / outer == pytest.approx(1 / R_axial(0.0, 0.020, 0.05, 50.0))
    assert R_radial(0.5, 0.501, 0.3, 0.04) == pytest.approx(0.001 / (0.3 * 2 * np.pi * 0.5005 * 0.04), rel=1e-5)


@pytest.mark.parametrize(("J", "rate"), [(5e6, 0.1252), (20e6, 2.0037)])
def test_copper_that_gives_off_nothing(J: float, rate: float) -> None:
    """Closed form, evaluated apart with 1/58 Ω·mm²/m, 8940 kg/m³, 385 J/(kg·K)."""
    assert adiabatic_rate(J, 1 / 58e6, 8940.0, 385.0) == pytest.approx(rate, rel=5e-4)


def test_one_lump() -> None:
    """Limit and closed form: at first the adiabatic slope, at last the end, 63.2 % at the time constant."""
    assert lumped_rise(1e-3, 500.0, 40.0) == pytest.approx(1e-3 / 500.0 * 40.0, rel=1e-5)
    assert lumped_rise(500.0, 500.0, 40.0) == pytest.approx(40.0 * (1 - np.exp(-1)))
    assert lumped_rise(1e5, 500.0, 40.0) == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("k_m", "f_i", "k"), [(0.2, 0.5, 0.5992), (0.2, 0.6, 0.7985), (0.026, 0.5, 0.0780), (0.026, 0.6, 0.1040)]
)
def test_rods_in_a_matrix(k_m: float, f_i: float, k: float) -> None:
    """Closed form (from memory), evaluated apart: copper of 390 W/(m·K)."""
    assert mixture_conductivity(K_CU, k_m, f_i) == pytest.approx(k, abs=5.1e-5)


@pytest.mark.parametrize("f_i", [0.1, 0.3, 0.5])
def test_rods_in_a_matrix_on_a_grid(f_i: float) -> None:
    """Second method: finite differences in a square cell. Rods far from each other do not notice the grid they form."""
    d = 2 * np.sqrt(f_i / np.pi)
    assert mixture_conductivity(10.0, 1.0, f_i) == pytest.approx(
        grid_conductivity(d, d, 1.0, 1.0, 10.0, 1.0, 1.0), rel=0.02
    )


def test_enamel_of_the_same_stuff_as_the_filling_is_filling() -> None:
    """Limit: the two steps, metal in enamel and wire in filling, are then the one step of bare metal in filling."""
    d_cu, d_o, k_p = 0.17e-3, 0.20e-3, 0.9
    f_cu, _, _ = fill_factor(d_cu, d_o, k_p, NESTED)
    two = winding_conductivity(d_cu, d_o, k_p, NESTED, K_CU, 0.2, 0.2)
    assert two == pytest.approx(mixture_conductivity(K_CU, 0.2, f_cu), rel=1e-9)


def test_a_winding_of_one_stuff_conducts_as_that() -> None:
    """Limit: nothing can be seen of wires whose metal, enamel and filling are the same."""
    assert winding_conductivity(0.5e-3, 0.55e-3, 0.92, 1.0, 0.3, 0.3, 0.3) == pytest.approx(0.3, rel=1e-9)


@pytest.mark.parametrize("k_p", [0.86, 0.92, 0.97])
@pytest.mark.parametrize("d_cu, d_o", [(0.50e-3, 0.55e-3), (0.17e-3, 0.20e-3)])
@pytest.mark.parametrize("k_fill", [K_AIR, K_RESIN])
def test_a_winding_on_a_grid(k_p: float, d_cu: float, d_o: float, k_fill: float) -> None:
    """Second method: finite differences in a cell of stacked wires that touch from layer to layer.

    The straight ways of the formula are a bound from below: no more than the grid, and less by a tenth at most.
    """
    grid = grid_conductivity(d_cu, d_o, d_o / k_p, d_o, K_CU, K_ENAMEL, k_fill)
    assert 0.90 < touching_conductivity(d_cu, d_o, k_p, K_CU, K_ENAMEL, k_fill) / grid < 1.0
    assert winding_conductivity(d_cu, d_o, k_p, 1.0, K_CU, K_ENAMEL, k_fill) == pytest.approx(grid, rel=0.1)


@pytest.mark.parametrize("k_p", [0.86, 0.92])
@pytest.mark.parametrize("k_fill", [K_AIR, K_RESIN])
def test_a_nested_winding_on_a_grid(k_p: float, k_fill: float) -> None:
    """Second method: finite differences in a cell of nested wires.

    With turns apart, wires either keep the pitch of the ideal lattice and do not touch, or sink until they touch two of
    the layer below. A hand winds between the two.
    """
    d_cu, d_o = 0.50e-3, 0.55e-3
    sunk = np.sqrt(1 - (1 / (2 * k_p)) ** 2)
    apart, touching = (
        grid_conductivity(d_cu, d_o, d_o / k_p, d_o * pitch, K_CU, K_ENAMEL, k_fill, nested=True)
        for pitch in (NESTED, sunk)
    )
    found = winding_conductivity(d_cu, d_o, k_p, NESTED, K_CU, K_ENAMEL, k_fill)
    assert 0.88 * apart < found < touching
    assert found > touching / 1.7


def test_straight_ways_by_a_general_library() -> None:
    """Second method: the integral by adaptive quadrature."""
    d_cu, d_o, k_p = 0.5, 0.55, 0.92

    def way(y: float) -> float:
        c_o, c_cu = d_o * np.sqrt(1 - y**2), np.sqrt(max(d_cu**2 - (y * d_o) ** 2, 0.0))
        return d_o / (c_cu / K_CU + (c_o - c_cu) / K_ENAMEL + (d_o - c_o) / K_AIR)

    whole = k_p * quad(way, 0, 1, points=[d_cu / d_o], limit=200)[0] + (1 - k_p) * K_AIR
    assert touching_conductivity(d_cu, d_o, k_p, K_CU, K_ENAMEL, K_AIR) == pytest.approx(whole, rel=1e-3)


def test_the_fullest_windings() -> None:
    """Closed form: bare wire stacked fills pi/4, nested pi/(2 sqrt 3) (plane geometry)."""
    assert fill_factor(1.0, 1.0, 1.0, 1.0) == pytest.approx((0.7854, 0.0, 0.2146), abs=5e-5)
    assert fill_factor(1.0, 1.0, 1.0, NESTED)[0] == pytest.approx(0.9069, abs=5e-5)


def test_what_a_winding_stores() -> None:
    """Balance: heat stored by the metres of wire, metal and enamel, in the room they take; in air and in epoxy."""
    d_cu, d_o, k_p = 0.5e-3, 0.55e-3, 0.92
    metal, wire, room = np.pi / 4 * d_cu**2, np.pi / 4 * d_o**2, d_o * d_o / k_p
    of_wire = metal * 8890 * 385 + (wire - metal) * 1300 * 1500
    assert winding_capacity(d_cu, d_o, k_p, 1.0, 8890 * 385.0) == pytest.approx(of_wire / room, rel=1e-9)
    more = (room - wire) * 1150 * 1100
    assert winding_capacity(d_cu, d_o, k_p, 1.0, 8890 * 385.0, 1150 * 1100.0) == pytest.approx((of_wire + more) / room)

"""Check values of moving parts and their suspension, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from handwound.physics import masses, moving

NU = 0.3


def bending(B: float) -> float:
    """k a²/D of a ring so thin that it does not shear."""
    E, t, d_out = 1e9, 1e-6, 0.1
    D = E * t**3 / (12 * (1 - NU**2))
    return float(moving.ring_stiffness(E, NU, t, B * d_out, d_out)) * (d_out / 2) ** 2 / D


@pytest.mark.parametrize(("B", "expected"), [(0.2, 95.148), (0.4, 250.934), (0.5, 459.48), (0.7, 2383.66)])
def test_bending_of_a_thin_ring(B, expected) -> None:
    """Kind of truth: closed form. Outer edge clamped, inner edge guided, after Roark (from memory)."""
    assert bending(B) == pytest.approx(expected, rel=1e-5)


def test_a_ring_without_a_hole_is_a_clamped_plate() -> None:
    """Kind of truth: limit. Load at the centre of a clamped plate: k a²/D = 16 pi = 50.265 (from memory)."""
    assert bending(1e-4) == pytest.approx(50.265, rel=1e-4)


@pytest.mark.parametrize("width_over_t", [2.0, 5.0, 20.0])
@pytest.mark.parametrize("B", [0.3, 0.8])
def test_bending_and_shear_of_a_thick_ring(B, width_over_t) -> None:
    """Kind of truth: second method. Mindlin's plate equations as a boundary value problem, solved by scipy."""
    E, r_o = 0.4e6, 0.06
    r_i = B * r_o
    t = (r_o - r_i) / width_over_t
    D, kappa_G_t = E * t**3 / (12 * (1 - NU**2)), 5 / 6 * E / (2 * (1 + NU)) * t

    def equations(r, y):  # y: deflection, slope, slope's derivative; the load is 1 N
        w, slope, bent = y
        Q = 1 / (2 * np.pi * r)
        return np.array([-slope + Q / kappa_G_t, bent, slope / r**2 - bent / r + Q / D])

    def edges(inner, outer):
        return np.array([inner[1], outer[0], outer[1]])

    r = np.linspace(r_i, r_o, 200)
    solved = solve_bvp(equations, edges, r, np.zeros((3, r.size)), tol=1e-8, max_nodes=100000)
    assert solved.success
    K_s = moving.ring_stiffness(E, NU, t, 2 * r_i, 2 * r_o)
    assert 1 / K_s == pytest.approx(abs(solved.y[0][0]), rel=1e-5)


@pytest.mark.parametrize("d_in", [0.04, 0.10, 0.118])
def test_moving_share_of_a_ring(d_in) -> None:
    """Kind of truth: second method. Kinetic energy of a straight displacement, integrated; a third when narrow."""
    d_out, rho_A = 0.12, 0.3
    r_i, r_o = d_in / 2, d_out / 2
    share = quad(lambda r: rho_A * ((r_o - r) / (r_o - r_i)) ** 2 * 2 * np.pi * r, r_i, r_o)[0]
    assert masses.moving_share(d_in, d_out, rho_A) == pytest.approx(share, rel=1e-10)
    if d_in > 0.11:
        assert share / masses.ring_mass(d_in, d_out, rho_A) == pytest.approx(1 / 3, rel=0.01)


def test_piston_of_a_surround() -> None:
    """Kind of truth: second method. Air moved by a straight displacement, integrated: w²/12a² more than to mid-ring."""
    r_i, r_o = 0.050, 0.060
    moved = np.pi * r_i**2 + quad(lambda r: (r_o - r) / (r_o - r_i) * 2 * np.pi * r, r_i, r_o)[0]
    a = moving.effective_radius(2 * r_i, 2 * r_o)
    assert a == pytest.approx(0.055)
    assert moved / moving.effective_area(a) - 1 == pytest.approx((r_o - r_i) ** 2 / (12 * a**2), rel=1e-9)


def test_surface_of_a_cone() -> None:
    """Kind of truth: second method. The surface of revolution, integrated along the axis."""
    d_in, d_out, h_c, rho_A = 0.026, 0.100, 0.020, 0.16
    slope = (d_out - d_in) / 2 / h_c
    surface = quad(lambda z: 2 * np.pi * (d_in / 2 + slope * z) * np.sqrt(1 + slope**2), 0, h_c)[0]
    assert masses.cone_mass(d_in, d_out, h_c, 0.0, rho_A) == pytest.approx(surface * rho_A, rel=1e-10)


def test_a_flat_cone_is_a_ring_and_a_straight_one_a_strip() -> None:
    """Kind of truth: limit. No depth, and no change of diameter."""
    assert masses.cone_mass(0.026, 0.100, 0.0, 0.0, 0.16) == pytest.approx(masses.ring_mass(0.026, 0.100, 0.16))
    assert masses.cone_mass(0.026, 0.026, 0.030, 0.0, 0.16) == pytest.approx(masses.strip_mass(0.026, 0.0, 0.030, 0.16))


def test_a_seam_doubles_the_sheet_where_it_lies() -> None:
    """Kind of truth: closed form. 6 mm along a slant of 50 mm (30-40-50) of 160 g/m² is 48 mg."""
    plain, seamed = (masses.cone_mass(0.02, 0.08, 0.04, w_seam, 0.16) for w_seam in (0.0, 0.006))
    assert seamed - plain == pytest.approx(48e-6)


def test_a_former_weighs_its_wall() -> None:
    """Kind of truth: closed form. A tube of density rho: pi/4 (D_o² - D_i²) l rho is the strip to its middle."""
    D_fi, t_f, l_f, rho_m = 0.0256, 0.4e-3, 0.030, 1200.0
    tube = np.pi / 4 * ((D_fi + 2 * t_f) ** 2 - D_fi**2) * l_f * rho_m
    assert masses.strip_mass(D_fi, t_f, l_f, rho_m * t_f) == pytest.approx(tube)


@pytest.mark.parametrize(("d_in", "h_c"), [(0.0, 0.008), (0.03, 0.008), (0.01, 0.045)])
def test_surface_of_a_dome(d_in, h_c) -> None:
    """Kind of truth: second method. The surface of revolution of a circle's arc, integrated along the radius."""
    d_out, rho_A = 0.090, 0.16
    R = (d_out**2 / 4 + h_c**2) / (2 * h_c)
    # r = R sin(angle): the slope at the rim of half a ball is no number
    ends = [np.arcsin(d_in / 2 / R), np.arccos(1 - h_c / R)]
    surface = quad(lambda angle: 2 * np.pi * R * np.sin(angle) * R, *ends)[0]
    assert masses.dome_mass(d_in, d_out, h_c, rho_A) == pytest.approx(surface * rho_A, rel=1e-10)


def test_a_flat_dome_is_a_disc_and_a_full_one_half_a_ball() -> None:
    """Kind of truth: limit. No height; and a height of half its width, of which the surface is 2 pi r²."""
    assert masses.dome_mass(0.02, 0.09, 0.0, 0.16) == pytest.approx(masses.ring_mass(0.02, 0.09, 0.16), rel=1e-12)
    assert masses.dome_mass(0.0, 0.09, 0.045, 0.16) == pytest.approx(2 * np.pi * 0.045**2 * 0.16, rel=1e-12)


def test_ribs_weigh_their_strips() -> None:
    """Kind of truth: closed form. Four strips 3 mm high over a slant of 50 mm (30-40-50) of 160 g/m² are 96 mg."""
    assert masses.rib_mass(4, 0.003, 0.02, 0.08, 0.04, 0.16) == pytest.approx(96e-6)


def test_a_thin_ring_of_glue_is_a_tube() -> None:
    """Kind of truth: second method. Glue over a winding as a tube: pi/4 (D_o² - D_i²) h rho, at its mean diameter."""
    D_i, t, h_w, rho_m = 0.026, 0.05e-3, 0.0125, 1200.0
    tube = np.pi / 4 * ((D_i + 2 * t) ** 2 - D_i**2) * h_w * rho_m
    assert masses.bond_mass(np.pi * (D_i + t), h_w, t, rho_m) == pytest.approx(tube, rel=1e-12)


def test_a_dip_is_a_weight_over_a_stiffness() -> None:
    """Kind of truth: closed form. 20 g and 0.5 mm with g = 9.80665 m/s²."""
    assert moving.stiffness_from_dip(0.5e-3, 0.020) == pytest.approx(392.266)


def test_loss_per_swing() -> None:
    """Kind of truth: balance. At resonance the resistance loses 2 pi eta_s times the stored energy in each swing."""
    eta_s, Kms, Mms, peak = 0.15, 900.0, 8e-3, 1e-3
    omega = np.sqrt(Kms / Mms)
    Rms = moving.loss_resistance(eta_s, Kms, Mms)
    lost = quad(lambda time: Rms * (omega * peak * np.cos(omega * time)) ** 2, 0, 2 * np.pi / omega)[0]
    assert lost == pytest.approx(2 * np.pi * eta_s * Kms * peak**2 / 2, rel=1e-9)

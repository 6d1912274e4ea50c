"""Large strokes of suspensions against closed forms, limits, balances and a second method."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import simpson, solve_bvp
from scipy.optimize import brentq

from handwound.physics.moving import ring_stiffness
from handwound.physics.shell.large import Large, large_load, large_stroke
from handwound.physics.shell.linear import axial_stiffness
from handwound.physics.shell.meridian import Shell, arc, line, piece, wave

NU = 0.3
FOAM = {"t": 0.002, "E": 0.4e6, "nu": NU, "rho_A": 0.3}


def ring(r_in: float, r_out: float, t: float, E: float, n: int = 30) -> Shell:
    return piece(*line(r_in, 0.0, r_out, 0.0, n), t, E, NU, 1.0)


def last(shell: Shell) -> list[int]:
    return [len(shell.r) - 1]


ROLL = piece(*arc(0.048, 0.0, 0.057, 0.0, 0.0045, 30), 0.0005, 3e6, NU, 0.5)
CLOTH = piece(*wave(0.013, 0.030, 0.0, 0.002, 5, 40), 0.0003, 0.1e9, NU, 0.1)
FLAT = piece(*line(0.050, 0.0, 0.060, 0.0, 30), **FOAM)
X = np.linspace(-0.004, 0.004, 21)


def test_a_clamped_plate_under_pressure() -> None:
    """Kind of truth: closed form, w_0 (1 + 0.488 (w_0/h)²) = p a⁴/64 D, after Timoshenko (from memory).

    His is an approximation that is 5 % off itself where w_0 = h; a tenth of that deflection is straight to 0.3 %.
    """
    a, h, E = 0.050, 0.00025, 3e9
    D = E * h**3 / (12 * (1 - NU**2))
    p = np.array([0.1, 1.0, 2.0, 3.5, 5.1, 6.9]) * 64 * D * h / a**4 / 4.6
    w = large_load(piece(*line(0.0, 0.0, a, 0.0, 24), h, E, NU, 0.2), [48], p)[:, 0]
    assert 0.95 < w[-1] / h < 1.0
    assert w * (1 + 0.488 * (w / h) ** 2) == pytest.approx(p * a**4 / (64 * D), rel=0.05)
    assert w[0] * (1 + 0.488 * (w[0] / h) ** 2) == pytest.approx(p[0] * a**4 / (64 * D), rel=0.003)


def karman(r_in: float, r_out: float, t: float, E: float, x: float) -> float:
    """Force on the guided inner edge of a clamped ring by the equations of von Karman, solved by scipy."""
    D, C = E * t**3 / (12 * (1 - NU**2)), E * t / (1 - NU**2)

    def slopes(r, y, p):
        _, turn, bend, u, S = y
        pull = (p[0] / (2 * np.pi * r) + S / r * turn) / D
        return np.array(
            [
                turn,
                bend,
                -bend / r + turn / r**2 + pull,
                S / (r * C) - turn**2 / 2 - NU * u / r,
                (NU * S + E * t * u) / r,
            ]
        )

    def ends(a, b, p):
        return np.array([a[0] - x, a[1], a[3], b[0], b[1], b[3]])

    r = np.linspace(r_in, r_out, 41)
    s = (r - r_in) / (r_out - r_in)
    guess = np.zeros((5, len(r)))
    guess[0] = x * (1 - 3 * s**2 + 2 * s**3)
    found = solve_bvp(slopes, ends, r, guess, p=[x * float(ring_stiffness(E, NU, t, 2 * r_in, 2 * r_out))], tol=1e-8)
    assert found.success
    return float(found.p[0])


@pytest.mark.parametrize("r_in", [100.0, 250.0])
@pytest.mark.parametrize("over_t", [0.2, 1.0, 3.0])
def test_a_thin_flat_ring_over_its_stroke(r_in, over_t) -> None:
    """Kind of truth: second method. Fifty times as wide as thick; slopes up to 0.1, for which von Karman's hold."""
    shell = ring(r_in, r_in + 50, 1.0, 1.0)
    F = large_stroke(shell, last(shell), [0], over_t)[0][0]
    assert F == pytest.approx(karman(r_in, r_in + 50, 1.0, 1.0, over_t), rel=0.006)


def pulled_beam(wide: float, t: float, E: float, x: float) -> float:
    """Force per length on a strip between two level edges, one of which is shifted, with the pull N it stretches by.

    D w'''' = N w'': w' = F/N (1 - cosh k(s - b/2)/cosh(kb/2)), k² = N/D; it is longer by half of ∫ w'² ds.
    """
    C, D = E * t / (1 - NU**2), E * t**3 / (12 * (1 - NU**2))

    def force(N: float) -> float:
        k = (N / D) ** 0.5
        return x * N / (wide - 2 / k * np.tanh(k * wide / 2))

    def longer(N: float) -> float:
        k = (N / D) ** 0.5
        c, s = np.cosh(k * wide / 2), np.sinh(k * wide)
        square = wide - 4 / k * np.tanh(k * wide / 2) + (wide / 2 + s / (2 * k)) / c**2
        return float((force(N) / N) ** 2 * square / 2 - N * wide / C)

    return force(float(brentq(longer, 1e-6 * D / wide**2, C * x**2 / wide**2)))


@pytest.mark.parametrize("over_t", [0.5, 2.0, 10.0])
def test_a_narrow_ring_is_a_strip_that_is_pulled(over_t) -> None:
    """Kind of truth: closed form, a beam that bends and stretches; at the last, stretch does nearly all."""
    r, wide, t, E = 50.0, 0.5, 0.0025, 1.0
    shell = ring(r, r + wide, t, E)
    F = large_stroke(shell, last(shell), [0], over_t * t)[0][0]
    assert F == pytest.approx(2 * np.pi * (r + wide / 2) * pulled_beam(wide, t, E, over_t * t), rel=0.005)


def test_far_beyond_its_thickness_only_stretch_is_left() -> None:
    """Kind of truth: limit. A taut strip: F = 2 pi r E' t x³/2b³, less its level ends, a share sqrt(12) t/x or so."""
    r, wide, t, x = 50.0, 0.5, 0.0005, 0.05
    shell = ring(r, r + wide, t, 1.0, 60)
    F = large_stroke(shell, last(shell), [0], np.linspace(x / 10, x, 10))[0][-1]
    assert F == pytest.approx(np.pi * (r + wide / 2) * t * x**3 / wide**3 / (1 - NU**2), rel=0.06)


def test_a_narrow_half_roll_is_an_arch() -> None:
    """Kind of truth: closed form. A thin half circle between level edges: k = 2 D/pi R³ per length (Castigliano).

    A flat strip across the same gap has 12 D/(2R)³, 2.36 times as much; so wide a circle hardly stretches around.
    """
    r, R, t = 500.0, 0.005, 0.00005
    shell = piece(*arc(r - R, 0.0, r + R, 0.0, R, 30), t, 1.0, NU, 1.0)
    K = large_stroke(shell, last(shell), [0], 0.0)[1][0]
    D = t**3 / (12 * (1 - NU**2))
    assert K == pytest.approx(2 * np.pi * r * 2 * D / (np.pi * R**3), rel=0.002)


@pytest.mark.parametrize("wide_over_t", [2.5, 5.0, 50.0])
def test_a_flat_ring_at_rest(wide_over_t) -> None:
    """Kind of truth: closed form. Bending and sliding of a thick plate between level edges."""
    shell = ring(0.050, 0.060, 0.010 / wide_over_t, 0.4e6)
    wanted = float(ring_stiffness(0.4e6, NU, 0.010 / wide_over_t, 0.100, 0.120))
    assert large_stroke(shell, last(shell), [0], 0.0)[1][0] == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize("shell", [FLAT, ROLL, CLOTH], ids=["flat", "roll", "pleats"])
def test_at_rest_it_is_the_shell_of_small_strokes(shell) -> None:
    """Kind of truth: second method. The other element of this project: displaced points in place of turned normals."""
    K = large_stroke(shell, last(shell), [0], 0.0)[1][0]
    assert K == pytest.approx(axial_stiffness(shell, last(shell), [0]), rel=1e-3)


@pytest.mark.parametrize("shell", [FLAT, ROLL, CLOTH], ids=["flat", "roll", "pleats"])
@pytest.mark.parametrize("end", [-0.004, 0.004])
def test_what_is_put_in_is_stored(shell, end) -> None:
    """Kind of truth: balance. The integral of the force is the energy of the bent shell; K is the slope of F."""
    x = np.linspace(0, end, 101)
    F, K = large_stroke(shell, last(shell), [0], x)
    (*_, bent) = Large(shell, last(shell), [0]).walk(x)
    stored = Large(shell, last(shell), [0]).energy(bent.q)
    assert simpson(F, x=x) == pytest.approx(stored, rel=1e-6)
    assert simpson(K, x=x) == pytest.approx(F[-1], rel=1e-6)


def test_what_is_even_and_what_is_not() -> None:
    """Kind of truth: symmetry. A flat ring does not know up from down; a half roll does."""
    flat, roll = (large_stroke(shell, last(shell), [0], X)[1] for shell in (FLAT, ROLL))
    assert flat == pytest.approx(flat[::-1], rel=1e-9)
    assert abs(roll[0] / roll[-1] - 1) > 0.02


def test_a_half_roll_goes_further_than_a_flat_ring() -> None:
    """Kind of truth: common practice, no source: that is what rolls are made for."""
    sheet = {"t": 0.0005, "E": 3e6, "nu": NU, "rho_A": 0.5}
    flat = piece(*line(0.048, 0.0, 0.057, 0.0, 30), **sheet)
    K_flat, K_roll = (large_stroke(shell, last(shell), [0], np.array([0, 0.003]))[1] for shell in (flat, ROLL))
    assert K_flat[1] / K_flat[0] > 10
    assert K_roll[1] / K_roll[0] < 1.3


def test_finer_elements_converge() -> None:
    """Kind of truth: convergence. Halved elements bring the stiffness 8 times nearer or more; 24 are right to 0.1 %."""
    K = []
    for n in (6, 12, 24, 96):
        shell = piece(*arc(0.048, 0.0, 0.057, 0.0, 0.0045, n), 0.0005, 3e6, NU, 0.5)
        K.append(large_stroke(shell, last(shell), [0], np.array([0.0015, 0.003]))[1][1])
    apart = np.abs(np.array(K[:3]) / K[3] - 1)
    assert apart[2] < 1e-3
    assert np.all(apart[:-1] > 8 * apart[1:])


def test_a_shallow_dome_goes_over_by_itself() -> None:
    """Kind of truth: common practice, no source. Pushed in, it resists less and less; on its other side it is stiff."""
    dome = piece(*arc(0.002, 0.0, 0.030, 0.0, 0.004, 30), 0.00002, 3e9, NU, 0.07)
    K = large_stroke(dome, last(dome), [0], np.linspace(0, -0.012, 25))[1]
    assert K[0] > K[1] > K[2] > K[3]
    assert K.min() < 0 < K[0] < K[-1]


def test_what_jumps_is_not_told_further() -> None:
    """A deep dome of film springs from one shape to the next: nan from there on, whatever comes after."""
    dome = piece(*arc(0.002, 0.0, 0.030, 0.0, 0.020, 30), 0.000005, 3e9, NU, 0.07)
    F, K = large_stroke(dome, last(dome), [0], np.linspace(0, -0.02, 41))
    known = np.isfinite(K)
    assert 2 < known.sum() < 41 and known[: known.sum()].all()
    assert np.array_equal(known, np.isfinite(F))

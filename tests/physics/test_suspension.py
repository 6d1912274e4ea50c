"""Arms, strips, strokes, tilts and rocking of suspensions whose answers are known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp
from scipy.linalg import eigh

from handwound.errors import FieldError
from handwound.physics import rocking, suspension
from handwound.physics.moving import G_N
from handwound.physics.shell.linear import axial_stiffness, rocking_stiffness
from handwound.physics.shell.meridian import line, piece

CARD = (3e9, 0.4e-3, 3, 0.025, 0.005)
"""E, t, n, l and w of three arms of card."""
X = np.linspace(-6e-3, 6e-3, 25)


def test_a_strip_of_foam() -> None:
    """Kind of truth: balance. 50 g on 20 x 2 mm are 12.26 kPa; 4 mm on 60 are 6.67 %; so 0.184 MPa."""
    E = suspension.strip_modulus(0.060, 0.020, 0.002, 0.004, 0.050)
    assert E * (0.004 / 0.060) == pytest.approx(12.258e3, rel=1e-4)
    assert pytest.approx(0.184e6, rel=1e-3) == E


@pytest.mark.parametrize(("k", "high"), [(0.4, 0.002), (0.8, 0.008), (1.6, 0.031)])
def test_a_strip_that_droops(k, high) -> None:
    """Kind of truth: second method. The line of a heavy strip of any slope, th'' = -k (1 - s) cos th, solved by scipy;
    k = q l³/EI. The modulus comes out too high by what the notes say: here the ends sink by 0.05, 0.1, 0.19 lengths."""
    length, t, rho_A = 0.100, 0.2e-3, 0.160

    def line_of(s, y):
        return np.array([y[1], -k * (1 - s) * np.cos(y[0]), np.sin(y[0])])

    s = np.linspace(0, 1, 101)
    found = solve_bvp(line_of, lambda a, b: np.array([a[0], b[1], a[2]]), s, np.zeros((3, 101)), tol=1e-8)
    E = 12 * rho_A * G_N * length**3 / t**3 / k
    got = suspension.droop_modulus(length, t, rho_A, abs(found.y[2, -1]) * length)
    assert found.success and got / E == pytest.approx(1 + high, abs=1e-3)


def test_arms_are_beams() -> None:
    """Kind of truth: second method. Each arm as a chain of 400 stiff links with springs between, solved as it stands.

    A beam's bend is the second difference of its shifts; both ends level, one of them moved by 1.
    """
    E, t, n, length, w = CARD
    N, EI = 400, E * w * t**3 / 12
    h = length / N
    bend = (np.eye(N + 3, k=0) - 2 * np.eye(N + 3, k=1) + np.eye(N + 3, k=2))[: N + 1] / h**2
    weight = np.ones(N + 1)
    weight[[0, -1]] = 0.5
    energy = EI * h * bend.T @ (weight[:, None] * bend)
    # places -h, 0, ..., l, l + h: level where the places on both sides of an end are alike
    tie = np.zeros((N + 3, N - 1))
    tie[2 : N + 1] = np.eye(N - 1)
    tie[0, 0], tie[N + 2, N - 2] = 1, 1
    moved = np.zeros(N + 3)
    moved[N + 1] = 1
    y = moved - tie @ np.linalg.solve(tie.T @ energy @ tie, tie.T @ energy @ moved)
    assert suspension.arms_stiffness(*CARD) == pytest.approx(n * y @ energy @ y, rel=1e-4)
    shape = y[1:-1]
    assert suspension.arms_share(n, length, w, 0.3) == pytest.approx(
        0.3 * w * n * h * (shape**2 @ np.r_[0.5, np.ones(N - 1), 0.5]), rel=1e-4
    )


def test_arms_that_turn_nothing_are_strips() -> None:
    """Kind of truth: limit. On a former of no width they stretch, as a strip between level edges: 18/25 (x/t)²."""
    assert suspension.arms_stiffening(0.3e-3, 0.2e-3, 4e-3, 1e-9) == pytest.approx(1 + 18 / 25 * 1.5**2)
    assert suspension.arms_stiffening(0.0, 0.2e-3, 4e-3, 0.013) == 1


@pytest.mark.parametrize("n", [3, 4, 7])
@pytest.mark.parametrize("way", [0.0, 0.3])
def test_arms_sideways_are_bars_and_beams(n, way) -> None:
    """Kind of truth: balance. Every arm by itself, pulled along and bent across, whichever way it is pushed."""
    E, t, _, length, w = CARD
    angles = np.arange(n) * 2 * np.pi / n - way
    along, across = E * w * t / length, E * t * w**3 / length**3
    each = along * np.cos(angles) ** 2 + across * np.sin(angles) ** 2
    assert suspension.arms_sideways(E, t, n, length, w) == pytest.approx(each.sum())


def test_springs_round_a_circle() -> None:
    """Kind of truth: balance, of a dozen of them; and limit, of a narrow shell, which is little more than springs."""
    place = 0.05 * np.cos(np.arange(12) * np.pi / 6)
    assert rocking.tilt_of_springs(900.0, 0.05) == pytest.approx((900 / 12 * place**2).sum())
    over = []
    for wide in (0.010, 0.001):
        shell = piece(*line(0.050, 0.0, 0.050 + wide, 0.0, 12), wide / 20, 1e6, 0.3, 1.0)
        K = axial_stiffness(shell, [24], [0])
        over.append(rocking_stiffness(shell, [24], [0])[1, 1] / rocking.tilt_of_springs(K, 0.050 + wide / 2) - 1)
    assert 0 < over[1] < over[0] < 0.15
    assert over[1] < 0.01


HUNG = np.array([900.0, 20e3]), np.array([20.0, -60.0]), np.array([1.5, 0.3]), np.array([0.015, -0.010])
"""K_y, K_yt, K_t and level of two suspensions."""


def test_suspensions_at_two_levels() -> None:
    """Kind of truth: balance. The energies of both, each shifted as a tilt shifts its level."""
    K = rocking.hung_together(*HUNG)
    for y, tilt in ((1e-3, 0.0), (0.0, 0.01), (1e-3, -0.02)):
        each = [
            K_y * (y + z * tilt) ** 2 + 2 * K_yt * (y + z * tilt) * tilt + K_t * tilt**2
            for K_y, K_yt, K_t, z in zip(*HUNG, strict=True)
        ]
        assert K.K_y * y**2 + 2 * K.K_yt * y * tilt + K.K_t * tilt**2 == pytest.approx(sum(each))


@pytest.mark.parametrize("level", [-0.05, 0.02])
def test_the_free_tilt_does_not_ask_from_where_levels_count(level) -> None:
    """Kind of truth: symmetry; and closed form, K_1 K_2/(K_1 + K_2) s² for two that only hold sideways."""
    here = rocking.tilt_stiffness(*rocking.hung_together(*HUNG))
    assert rocking.tilt_stiffness(*rocking.hung_together(*HUNG[:3], HUNG[3] + level)) == pytest.approx(here)
    pins = rocking.hung_together(HUNG[0], np.zeros(2), np.zeros(2), HUNG[3] + level)
    assert rocking.tilt_stiffness(*pins) == pytest.approx(900 * 20e3 / 20.9e3 * 0.025**2)


def test_the_note_of_rocking() -> None:
    """Kind of truth: general library. The lower root of scipy's eigenvalues; upright and centred it is sqrt(K/I)."""
    K, M, z, inertia = rocking.hung_together(*HUNG), 0.0065, -0.004, 3e-6
    stiff, heavy = np.array([[K.K_y, K.K_yt], [K.K_yt, K.K_t]]), np.array([[M, M * z], [M * z, inertia]])
    lowest = np.sqrt(eigh(stiff, heavy, eigvals_only=True)[0]) / (2 * np.pi)
    assert rocking.rocking_frequency(*K, M, z, inertia) == pytest.approx(lowest)
    assert rocking.rocking_frequency(1e9, 0.0, 1.5, M, 0.0, inertia) == pytest.approx(np.sqrt(1.5 / 3e-6) / (2 * np.pi))


def test_a_level_axis_leans() -> None:
    """Kind of truth: general library (linear equations); and balance: held at the centre of mass it does not lean."""
    K, M, z = rocking.hung_together(*HUNG), 0.0065, -0.004
    _, tilt = np.linalg.solve([[K.K_y, K.K_yt], [K.K_yt, K.K_t]], G_N * M * np.array([1, z]))
    assert rocking.lean(*K, M, z) == pytest.approx(abs(tilt))
    assert rocking.lean(*rocking.hung_together(*(np.array([each]) for each in (900.0, 0.0, 1.5, z))), M, z) < 1e-12


def test_a_mass_off_the_axis_tilts() -> None:
    """Kind of truth: balance. 1 g at 50 mm weighs 0.49 N·mm."""
    assert rocking.tilt_by_mass(1.5, 1e-3, 0.05) * 1.5 == pytest.approx(0.4903e-3, rel=1e-4)


def test_moments_of_inertia() -> None:
    """Kind of truth: closed form (handbook, from memory). A tube m (r²/2 + l²/3) about its end; a cone's side, about
    its tip, m (R²/4 + h²/2)."""
    ends = 0.03 * (1 + np.array([-1, 1]) / np.sqrt(3)) / 2
    tube = rocking.tilt_inertia(np.full(2, 0.5), 0.013, ends)
    assert tube == pytest.approx(0.013**2 / 2 + 0.03**2 / 3)
    share = (np.arange(10) + 0.5) / 10
    cone = rocking.tilt_inertia(share / share.sum(), 0.05 * share, 0.02 * share)
    assert cone == pytest.approx(0.05**2 / 4 + 0.02**2 / 2, rel=0.01)


def test_it_sinks_until_the_spring_bears_it() -> None:
    """Kind of truth: balance. Its stiffness at rest, times how far it sank, is its weight."""
    assert suspension.sag(1000.0, 0.0065, 1.25) * 1000.0 / 1.25 == pytest.approx(0.0065 * 9.80665)


def test_it_sinks_as_a_cubic_spring() -> None:
    """Kind of truth: general library (roots of a polynomial). K x (1 + (x/b)²) = g m, towards the back alone."""
    K_x = 900 * (1 + (X / 2e-3) ** 2)
    loads = np.array([0.01, 0.1, 0.5])
    roots = [np.roots([1 / 2e-3**2, 0, 1, -G_N * load / 900]) for load in loads]
    wanted = [float(each[np.abs(each.imag) < 1e-12].real[0]) for each in roots]
    assert suspension.dip_under(X, K_x, loads) == pytest.approx(wanted, rel=1e-4)
    assert suspension.dip_under(X, np.where(X > 0, 5 * K_x, K_x), loads) == pytest.approx(wanted, rel=1e-4)


def test_it_sinks_where_nothing_more_is_known() -> None:
    """Kind of truth: balance. Beyond what is known it holds as it did last."""
    K_x = np.where(X < -2e-3, np.nan, 900 * (1 + (X / 2e-3) ** 2))
    assert suspension.dip_under(X, K_x, 1.0) == pytest.approx(G_N / 1800)


def test_the_stroke_of_a_parabola() -> None:
    """Kind of truth: closed form. 1 + (x/b)² is 4/3 at b/sqrt(3)."""
    assert suspension.stroke_75(X, 900 * (1 + (X / 5e-3) ** 2)) == pytest.approx([5e-3 / np.sqrt(3)] * 3, rel=1e-6)


def test_the_stroke_of_a_slope_ends_on_one_side() -> None:
    """Kind of truth: closed form. 1 + x/b is 4/3 at b/3, and only softer below."""
    down, up, least = suspension.stroke_75(X, 900 * (1 + X / 0.012))
    assert np.isnan(down) and up == least == pytest.approx(4e-3)


def test_the_stroke_is_told_where_the_stiffness_is_known() -> None:
    K = 900 * (1 + (X / 5e-3) ** 2)
    K[X < -2e-3] = np.nan
    down, up, least = suspension.stroke_75(X, K)
    assert np.isnan(down) and up == least
    with pytest.raises(FieldError, match="above 0 at rest"):
        suspension.stroke_75(X, -K)
    with pytest.raises(FieldError, match="above 0 at rest"):
        suspension.stroke_75(X + 0.01, K)
    with pytest.raises(FieldError, match="stiffness: must be told at 4 or more rising"):
        suspension.stroke_75(X[::-1], K)


CALLS = [
    (suspension.strip_modulus, (0.060, 0.020, 0.002, 0.004, 0.050)),
    (suspension.droop_modulus, (0.100, 0.2e-3, 0.160, 9.8e-3)),
    (suspension.arms_stiffness, CARD),
    (suspension.arms_sideways, CARD),
    (suspension.arms_stiffening, (2e-3, 0.2e-3, 4e-3, 0.013)),
    (suspension.arms_share, (3, 0.025, 0.005, 0.3)),
    (suspension.sag, (1000.0, 0.0065, 1.25)),
    (rocking.tilt_of_springs, (1000.0, 0.05)),
    (rocking.tilt_stiffness, (5900.0, -36.5, 3.7)),
    (rocking.rocking_frequency, (5900.0, -36.5, 3.7, 0.0065, -0.004, 3e-6)),
    (rocking.lean, (5900.0, -36.5, 3.7, 0.0065, -0.004)),
    (rocking.tilt_by_mass, (1.5, 1e-3, 0.05, 900.0)),
]


@pytest.mark.parametrize(("function", "numbers"), CALLS, ids=[function.__name__ for function, _ in CALLS])
def test_arrays_answer_like_numbers(function, numbers) -> None:
    """Kind of truth: second method. All arguments as draws, one by one."""
    draws = np.array([0.9, 1.0, 1.1])[:, None] * np.array(numbers)
    assert function(*draws.T) == pytest.approx([float(function(*row)) for row in draws.tolist()], rel=1e-12)

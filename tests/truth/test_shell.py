"""Shells of revolution against closed forms of plates, rings, spheres and cones."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics import moving
from handwound.physics.shell import linear
from handwound.physics.shell.large import large_stroke
from handwound.physics.shell.meridian import Shell, arc, dome, join, line, piece, smeared, wave

E, NU, RHO_M = 3e9, 0.3, 700.0
A, THIN = 0.05, 5e-5

# Kind of truth: closed form. Exact roots of the frequency equation of a thin round plate, computed from its Bessel
# functions; the lowest of each edge as in the handbooks (from memory). Edge, nu, nodal diameters, which, lambda².
PLATES = [
    ("clamped", 0.3, 0, 0, 10.2158),
    ("clamped", 0.3, 0, 1, 39.7711),
    ("clamped", 0.3, 1, 0, 21.2604),
    ("clamped", 0.3, 1, 1, 60.8287),
    ("clamped", 0.3, 1, 2, 120.0792),
    ("clamped", 0.3, 2, 0, 34.8770),
    ("clamped", 0.3, 3, 0, 51.0300),
    ("clamped", 0.3, 3, 1, 111.0214),
    ("hinged", 0.3, 0, 0, 4.9351),
    ("hinged", 0.3, 0, 1, 29.7200),
    ("hinged", 0.3, 0, 2, 74.1561),
    ("hinged", 0.3, 1, 0, 13.8982),
    ("hinged", 0.3, 1, 2, 102.7733),
    ("hinged", 0.3, 2, 0, 25.6133),
    ("hinged", 0.3, 2, 1, 70.1170),
    ("hinged", 0.3, 3, 0, 39.9573),
    ("hinged", 0.3, 3, 1, 94.5490),
    ("free", 0.3, 0, 0, 9.0031),
    ("free", 0.3, 0, 1, 38.4432),
    ("free", 0.3, 1, 0, 20.4746),
    ("free", 0.3, 1, 1, 59.8116),
    ("free", 0.3, 2, 0, 5.3583),
    ("free", 0.3, 3, 0, 12.4390),
    ("free", 0.3, 3, 1, 53.0078),
    ("free", 0.3, 4, 0, 21.8352),
    ("free", 0.3, 4, 1, 73.5426),
    ("free", 0.33, 0, 0, 9.0689),
    ("free", 0.33, 0, 1, 38.5070),
    ("free", 0.33, 1, 0, 20.5131),
    ("free", 0.33, 1, 1, 59.8591),
    ("free", 0.33, 2, 0, 5.2620),
    ("free", 0.33, 2, 1, 35.2425),
    ("free", 0.33, 3, 0, 12.2439),
    ("free", 0.33, 3, 1, 52.9210),
    ("free", 0.33, 4, 0, 21.5272),
    ("free", 0.33, 4, 1, 73.3783),
]


def card(n: int, nu: float = NU, t: float = THIN) -> Shell:
    return piece(*line(0.0, 0.0, A, 0.0, n), t, E, nu, RHO_M * t)


def lambda2(f: float, nu: float = NU, t: float = THIN) -> float:
    return float(2 * np.pi * f * A**2 * np.sqrt(12 * (1 - nu**2) * RHO_M / (E * t**2)))


def flat(r_1: float, r_2: float, t: float, E: float = E, n: int = 20) -> Shell:
    return piece(*line(r_1, 0.0, r_2, 0.0, n), t, E, NU, RHO_M * t)


@pytest.mark.parametrize(("edge", "nu", "n_dia", "which", "expected"), PLATES)
def test_notes_of_a_round_plate(edge, nu, n_dia, which, expected) -> None:
    """Twice as good as wanted with 20 elements; a free rim is softer by t/a than in the thin plate, 1e-4 here."""
    rim = {"held": [40] if edge == "clamped" else [], "hinged": [40] if edge == "hinged" else []}
    f, _ = linear.frequencies(card(20, nu), n_dia, n_mode=6, **rim)
    notes = f[f > 1.0]  # without the ways in which nothing holds a free plate
    assert lambda2(notes[which], nu) == pytest.approx(expected, rel=2.5e-4)


@pytest.mark.parametrize(("n_dia", "which", "expected"), [(0, 1, 39.7711), (1, 1, 60.8287), (3, 1, 111.0214)])
def test_notes_converge_with_the_third_power_of_the_element_or_faster(n_dia, which, expected) -> None:
    """Kind of truth: limit. The error against a finest mesh falls 8 to 20 times when elements are halved."""
    notes = [linear.frequencies(card(n), n_dia, [2 * n], which + 1)[0][which] for n in (5, 10, 20, 80)]
    error = np.abs(np.array(notes[:3]) / notes[3] - 1)
    assert np.all(error[:-1] / error[1:] > 7.5)
    assert lambda2(notes[3]) == pytest.approx(expected, rel=1e-4)


def test_notes_of_a_card() -> None:
    """Kind of truth: closed form of the thin plate, in hertz. 0.25 mm of card, 100 mm across, clamped and free."""
    sheet = card(15, t=0.00025)
    assert linear.frequencies(sheet, 0, [30], 1)[0] == pytest.approx([101.86], rel=1e-3)
    assert linear.frequencies(sheet, 2, [], 1)[0] == pytest.approx([53.43], rel=1e-3)


@pytest.mark.parametrize("n_dia", [0, 1, 2, 3, 4])
def test_a_rigid_motion_costs_nothing_and_only_that(n_dia) -> None:
    """Kind of truth: limit. A free cone goes along the axis, sideways and tilts, with no diameter and one."""
    cone = piece(*line(0.0125, 0.0, 0.048, 0.025, 8), 0.0002, E, NU, 0.14)
    K = linear.stiffness(cone, n_dia).toarray()
    free = np.linalg.eigvalsh(K) < 1e-13 * np.abs(K).max()
    assert free.sum() == {0: 1, 1: 2}.get(n_dia, 0)
    if n_dia == 1:
        none, height = np.zeros(17), cone.z - 0.3
        shift = np.stack([none + 1, none - 1, none, none, none, none], axis=1)
        tilt = np.stack([height, -height, -cone.r, none + 1, none + 1, none], axis=1)
        for motion in (shift, tilt):
            assert np.abs(K @ motion.ravel()).max() < 1e-14 * np.abs(K).max()


@pytest.mark.parametrize("n_dia", [0, 1, 2])
@pytest.mark.parametrize("degree", [2, 3])
def test_notes_of_a_whole_sphere(n_dia, degree) -> None:
    """Kind of truth: closed form of the thin sphere without bending, Lamb 1882 (from memory).

    Its notes belong to degrees of spherical harmonics, so one with no nodal diameter is also one with some: bending,
    stretch and the axis at once are right for each number of diameters or these differ.
    """
    a, t, n = 0.1, 2e-5, 80
    r, z = arc(0.0, -a, 0.0, a, -a, n)
    r[[0, -1]] = 0.0
    ball = piece(r, z, t, E, NU, RHO_M * t)
    b, c = 1 + 3 * NU + degree * (degree + 1), (degree * (degree + 1) - 2) * (1 - NU**2)
    square = (b - np.sqrt(b**2 - 4 * c)) / 2
    expected = np.sqrt(square * E / (RHO_M * (1 - NU**2))) / (2 * np.pi * a)
    notes, _ = linear.frequencies(ball, n_dia, [], 12)
    assert np.abs(notes / expected - 1).min() < 1e-3


def test_a_sphere_breathes() -> None:
    """Kind of truth: closed form. ω² = 2 E / (1 - nu) rho a²: stretch of a sphere against its mass."""
    a, t, n = 0.1, 1e-3, 40
    r, z = arc(0.0, -a, 0.0, a, -a, n)
    r[[0, -1]] = 0.0
    ball = piece(r, z, t, E, NU, RHO_M * t)
    expected = np.sqrt(2 * E / ((1 - NU) * RHO_M)) / (2 * np.pi * a)
    notes, shapes = linear.frequencies(ball, 0, [], 40)
    outwards = np.abs(np.sum(shapes[:, :, 0] * r + shapes[:, :, 1] * z, axis=1))
    breathing = np.argmax(outwards / np.linalg.norm(shapes[:, :, :2], axis=(1, 2)))
    assert notes[breathing] == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("n_dia", [2, 3, 4])
def test_notes_of_a_narrow_hoop(n_dia) -> None:
    """Kind of truth: closed form. A hoop bending in its plane, ω² = E I n² (n² - 1)² / (rho A a⁴ (n² + 1)), Hoppe."""
    a, t, width = 0.05, 2e-4, 5e-4
    hoop = piece(*line(a, 0.0, a, width, 2), t, E, NU, RHO_M * t)
    square = E * t**2 / (12 * RHO_M * a**4) * n_dia**2 * (n_dia**2 - 1) ** 2 / (n_dia**2 + 1)
    notes, _ = linear.frequencies(hoop, n_dia, [], 2)
    assert np.abs(notes / (np.sqrt(square) / (2 * np.pi)) - 1).min() < 2e-3


@pytest.mark.parametrize("angle", [20.0, 35.0, 60.0])
def test_ring_note_of_a_cone(angle) -> None:
    """Kind of truth: limit. The thinner a cone with its rim held, the nearer its first note to the rim's alone."""
    slope, r_in, n = np.radians(angle), 0.0125, 100
    place = 1 - (1 - np.linspace(0, 1, n + 1)) ** 2  # short elements at the rim, where the motion is
    ends = r_in + (A - r_in) * place
    r = np.interp(np.arange(2 * n + 1) / 2, np.arange(n + 1), ends)
    f_ring = float(linear.ring_frequency(E, RHO_M, A, slope))
    above = []
    for t in (2e-4, 2e-5, 2e-6):
        cone = piece(r, (r - r_in) * np.tan(slope), t, E, NU, RHO_M * t)
        above.append(linear.frequencies(cone, 0, [0, 2 * n], 1)[0][0] / f_ring - 1)
    assert above == sorted(above, reverse=True)
    assert 0 < above[-1] < 0.06


def test_the_ring_note_of_a_pipe() -> None:
    """Kind of truth: closed form. Upright, the side is a hoop: sqrt(E / rho) / 2 pi a; and arrays as numbers."""
    hoop = np.sqrt(E / RHO_M) / (2 * np.pi * A)
    found = linear.ring_frequency(np.array([E, 4 * E]), RHO_M, A, np.pi / 2)
    assert found == pytest.approx([hoop, 2 * hoop], rel=1e-12)


@pytest.mark.parametrize(("B", "expected"), [(0.2, 95.148), (0.4, 250.934), (0.5, 459.48), (0.7, 2383.66)])
def test_stiffness_of_a_thin_ring(B, expected) -> None:
    """Kind of truth: closed form. Outer edge clamped, inner edge guided, after Roark (from memory)."""
    ring = flat(B * A, A, THIN)
    D = E * THIN**3 / (12 * (1 - NU**2))
    assert linear.axial_stiffness(ring, [40], [0]) * A**2 / D == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(("edge", "expected"), [("clamped", 50.265), ("hinged", 19.802)])
def test_stiffness_of_a_plate_loaded_in_the_middle(edge, expected) -> None:
    """Kind of truth: closed form. 16 pi and 16 pi (1 + nu) / (3 + nu), from memory; by the note of a heavy middle."""
    m, D = 10.0, E * THIN**3 / (12 * (1 - NU**2))
    rim = {"held": [40] if edge == "clamped" else [], "hinged": [40] if edge == "hinged" else []}
    f, _ = linear.frequencies(card(20), 0, n_mode=1, m_ring=m, at=0, **rim)
    assert m * (2 * np.pi * f[0]) ** 2 * A**2 / D == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("width_over_t", [2.0, 5.0, 20.0])
@pytest.mark.parametrize("B", [0.3, 0.8])
def test_stiffness_of_a_thick_ring(B, width_over_t) -> None:
    """Kind of truth: closed form of bending and shear, which a boundary value problem confirms elsewhere."""
    t = (A - B * A) / width_over_t
    expected = moving.ring_stiffness(0.4e6, NU, t, 2 * B * A, 2 * A)
    assert linear.axial_stiffness(flat(B * A, A, t, 0.4e6), [40], [0]) == pytest.approx(expected, rel=1e-4)


def test_a_long_pipe_stretches_as_a_bar() -> None:
    """Kind of truth: closed form. E A / l: the pull through a former, narrowing as it likes far from its held ends."""
    a, t, length = 0.0125, 1.5e-4, 0.2
    pipe = piece(*line(a, 0.0, a, length, 60), t, E, NU, RHO_M * t)
    assert linear.axial_stiffness(pipe, [120], [0]) == pytest.approx(E * 2 * np.pi * a * t / length, rel=5e-3)


def test_a_long_pipe_bends_as_a_beam() -> None:
    """Kind of truth: closed form. Timoshenko's beam held at one end, a tube with kappa = 1/2 (from memory)."""
    a, t, length = 0.01, 1e-3, 0.4
    K = linear.rocking_stiffness(piece(*line(a, 0.0, a, length, 80), t, E, NU, RHO_M * t), [160], [0])
    EI, GA = E * np.pi * a**3 * t, E / (2 * (1 + NU)) * 2 * np.pi * a * t / 2
    shift = length**3 / (3 * EI) + length / GA, length**2 / (2 * EI), length / EI
    beam = np.linalg.inv([[shift[0], -shift[1]], [-shift[1], shift[2]]])
    assert pytest.approx(beam, rel=0.01) == K


def test_tilt_of_a_narrow_ring() -> None:
    """Kind of truth: limit. A ring narrow against its radius tilts as a row of springs: K r²/2."""
    ring = flat(0.0595, 0.0600, THIN)
    K = linear.rocking_stiffness(ring, [40], [0])
    assert K[1, 1] / (linear.axial_stiffness(ring, [40], [0]) * 0.0595**2 / 2) == pytest.approx(1, rel=0.01)
    assert abs(K[0, 1]) < 1e-9 * np.sqrt(K[0, 0] * K[1, 1])


def test_sideways_stiffness_of_a_narrow_ring() -> None:
    """Kind of truth: limit. Pulled here, pushed there, sheared between: pi r t (E' + G) / w, E' = E / (1 - nu²)."""
    ring, w = flat(0.0595, 0.0600, THIN), 0.0005
    expected = np.pi * 0.05975 * THIN / w * (E / (1 - NU**2) + E / (2 * (1 + NU)))
    assert linear.rocking_stiffness(ring, [40], [0])[0, 0] == pytest.approx(expected, rel=0.01)


def test_a_heavy_ring_shifts_and_tilts() -> None:
    """Kind of truth: closed form. On a light surround ω² is K_y / m sideways and K_t / (m r²/2) in a tilt."""
    m, r = 0.05, 0.05
    surround = flat(r, 0.06, 1e-4)
    K = linear.rocking_stiffness(surround, [40], [0])
    found, _ = linear.frequencies(surround, 1, [40], 2, m_ring=m, at=0)
    square = np.array([K[1, 1] / (m * r**2 / 2), K[0, 0] / m])
    assert found == pytest.approx(np.sqrt(square) / (2 * np.pi), rel=5e-3)


def test_moving_share_of_a_narrow_ring() -> None:
    """Kind of truth: closed form. Both edges level, it bends as a cubic: 13/35 of a narrow thin ring's mass."""
    ring = flat(0.0595, 0.0600, 5e-6)
    mass = RHO_M * 5e-6 * np.pi * (0.0600**2 - 0.0595**2)
    assert linear.axial_share(ring, [40], [0]) / mass == pytest.approx(13 / 35, rel=0.01)


@pytest.mark.parametrize("form", ["dome", "roll", "pleats"])
def test_small_strokes_are_those_of_the_large_ones(form) -> None:
    """Kind of truth: second method. Elements that follow any stroke, at one ten-thousandth of the sheet's thickness."""
    made = {"dome": dome(0.03, 0.008, 0.0, 20), "roll": arc(0.05, 0.0, 0.06, 0.0, 0.005, 20)}
    r, z = made.get(form, wave(0.02, 0.04, 0.0, 0.002, 4, 40))
    sheet = piece(r, z, 0.0002, E, NU, 0.14)
    last = len(r) - 1
    moved = [2] if form == "dome" else [0]  # a point on the axis has no stiffness of its own there
    _, K = large_stroke(sheet, [last], moved, np.array([0.0, 2e-8]))
    assert linear.axial_stiffness(sheet, [last], moved) == pytest.approx(K[0], rel=1e-3)


@pytest.mark.parametrize("h_rib", [1e-4, 5e-4])
def test_ribs_bend_and_shear_as_beams(h_rib) -> None:
    """Kind of truth: closed form. A narrow ring that only ribs hold: n beams, w³/12EI + w/kappa G A, both ends level.

    The sheet below is too thin to do anything but carry them, so they bend about their own middle.
    """
    r, z = line(0.0595, 0.0, 0.0605, 0.0, 10)
    n_rib, t_rib, w = 12, 2e-4, 0.001
    ribs = smeared(r, E, t_rib, 0.14, n_rib, h_rib, 0.0, 1.0)
    ring = piece(r, z, 1e-10, E, NU, 1e-4, ribs=ribs)
    beam = w**3 / (E * t_rib * h_rib**3) + w * 2 * (1 + NU) / (5 / 6 * E * t_rib * h_rib)
    assert linear.axial_stiffness(ring, [20], [0]) == pytest.approx(n_rib / beam, rel=2e-3)


def test_ribs_weigh_what_they_are() -> None:
    """Kind of truth: closed form. Mass of n strips, height times length times mass per area."""
    r, z = line(0.02, 0.0, 0.05, 0.0, 10)
    ribbed = piece(r, z, 1e-4, E, NU, 0.07, ribs=smeared(r, E, 2e-4, 0.14, 6, 0.004, 0.0, 1.0))
    bare = piece(r, z, 1e-4, E, NU, 0.07)
    rises = [linear.mass(each, 0).toarray()[1::3, 1::3].sum() for each in (ribbed, bare)]
    assert rises[0] - rises[1] == pytest.approx(6 * 0.004 * 0.03 * 0.14, rel=1e-9)


def test_a_joint_changes_nothing() -> None:
    """Kind of truth: limit. A cone cut in two and joined is the cone."""
    cut = join(
        piece(*line(0.0125, 0.0, 0.030, 0.0123, 5), 0.0002, E, NU, 0.14),
        piece(*line(0.030, 0.0123, 0.0475, 0.0246, 5), 0.0002, E, NU, 0.14),
    )
    whole = piece(*line(0.0125, 0.0, 0.0475, 0.0246, 10), 0.0002, E, NU, 0.14)
    for n_dia in (0, 2):
        notes = [linear.frequencies(each, n_dia, [0], 3)[0] for each in (cut, whole)]
        assert notes[0] == pytest.approx(notes[1], rel=1e-9)

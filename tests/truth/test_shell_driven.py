"""A driven diaphragm that bends: against a direct solution, the balance of power, and what a stiff one must do."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse.linalg import splu

from handwound.physics import moving, sound
from handwound.physics.rayleigh import Radiator
from handwound.physics.shell import linear
from handwound.physics.shell.breakup import Driven
from handwound.physics.shell.meridian import Shell, dome, join, line, node_at, piece

RHO_0, C_0 = 1.204, 343.2
E, NU = 3e9, 0.3
R_NECK, R_RIM, R_FRAME, DEPTH, L_FORMER = 0.0125, 0.048, 0.056, 0.025, 0.008
F = np.geomspace(20.0, 20e3, 120)


def driver(eta: float = 0.03, eta_s: float = 0.2, E: float = E) -> tuple[Shell, int, int, Radiator]:
    """Former, cone, cap and foam ring; the driven node, the held one, and the skin."""
    former = piece(*line(R_NECK, -L_FORMER, R_NECK, 0.0, 8), 0.00015, E, NU, 0.12, eta)
    cap = piece(*dome(R_NECK, 0.004, 0.0, 12), 0.0002, E, NU, 0.16, eta)
    cone = piece(*line(R_NECK, 0.0, R_RIM, DEPTH, 44), 0.0002, E, NU, 0.14, eta)
    foam = piece(*line(R_RIM, DEPTH, R_FRAME, DEPTH, 10), 0.002, 0.4e6, NU, 0.3, eta_s)
    shell = join(former, cap, cone, foam)
    skin = Radiator(shell.r, shell.z, shell.elements[len(former.elements) :])
    return shell, node_at(shell, R_NECK, -L_FORMER), node_at(shell, R_FRAME, DEPTH), skin


def direct(shell: Shell, neck: int, held: int, m: float) -> tuple[np.ndarray, np.ndarray]:
    """Z_m and velocities with no air and a mass on the ring: all nodes at once, supports written out anew."""
    K, M = linear.stiffness(shell, 0, lossy=True), linear.mass(shell, 0)
    axis = np.flatnonzero(shell.r == 0)
    still = {3 * held, 3 * held + 1, 3 * held + 2, 3 * neck, 3 * neck + 2, *3 * axis, *(3 * axis + 2)}
    one = 3 * neck + 1
    free = np.array([k for k in range(3 * len(shell.r)) if k not in still and k != one])
    Z_m, v = np.empty(len(F), complex), np.zeros((len(F), 3 * len(shell.r)), complex)
    v[:, one] = 1
    for k, s in enumerate(2j * np.pi * F):
        Z = (s * M + K / s).tocsc()
        v[k, free] = -splu(Z[free][:, free]).solve(Z[free][:, [one]].toarray()[:, 0])
        Z_m[k] = (Z @ v[k])[one] + s * m
    return Z_m, v.reshape(len(F), -1, 3)[:, :, :2].transpose(0, 2, 1)


def test_the_notes_taken_along_are_enough() -> None:
    """Kind of truth: second method. All nodes at once: force to 0.3 %, sound to 0.15 dB but for holes in it."""
    shell, neck, held, skin = driver()
    found = Driven(shell, neck, [held], 0.002).answer(F, RHO_0, C_0)
    Z_m, v = direct(shell, neck, held, 0.002)
    assert found.Z_m == pytest.approx(Z_m, rel=3e-3)
    p, p_direct = (skin.pressure(F, [0.0], each.reshape(len(F), -1), RHO_0, C_0)[:, 0] for each in (found.v, v))
    loud = np.abs(p_direct) > 0.1 * np.median(np.abs(p_direct))
    assert loud.sum() > 100
    assert np.abs(20 * np.log10(np.abs(p / p_direct)))[loud].max() < 0.15


def test_power_goes_into_the_air() -> None:
    """Kind of truth: balance. Nothing in the sheets loses, so force times velocity is what passes both half spheres."""
    shell, neck, held, skin = driver(0.0, 0.0)
    f = np.geomspace(50.0, 15e3, 40)
    found = Driven(shell, neck, [held], 0.002, 500.0, skin).answer(f, RHO_0, C_0)
    heard = 2 * skin.power(f, found.v.reshape(len(f), -1), RHO_0, C_0)
    assert found.Z_m.real == pytest.approx(heard, rel=0.01)


def test_losses_warm_the_sheets() -> None:
    """Kind of truth: balance. With no air, what is put in is each sheet's loss factor times its strain energy, and ω.

    Strains from the displacements of all nodes; the turns between them are those that cost least.
    """
    shell, neck, held, _ = driver(0.03, 0.2)
    f = np.array([100.0, 900.0, 3000.0, 6000.0])
    found = Driven(shell, neck, [held]).answer(f, RHO_0, C_0)
    lost = linear.stiffness(shell._replace(E=shell.E * shell.eta), 0)
    for Z_m, v, omega in zip(found.Z_m, found.v, 2 * np.pi * f, strict=True):
        q = turned(shell, v / (1j * omega), [neck, held])
        assert Z_m.real == pytest.approx(omega * (q.conj() @ lost @ q).real, rel=0.01)


def turned(shell: Shell, u: np.ndarray, level: list[int]) -> np.ndarray:
    """All components of a motion whose displacements are known; turns in balance with them, none at level nodes."""
    K = linear.stiffness(shell, 0, lossy=True).tocsc()
    q = np.zeros(3 * len(shell.r), complex)
    q[0::3], q[1::3] = u
    turns = np.setdiff1d(np.flatnonzero(shell.r > 0), level) * 3 + 2
    q[turns] = splu(K[turns][:, turns]).solve(-(K[turns] @ q))
    return q


def test_slow_motion_is_stiffness() -> None:
    """Kind of truth: limit. Far below every note the force is that of surround and spider, each with its loss."""
    shell, neck, held, _ = driver(0.0, 0.2, E=1e14)
    K_ring, f = 500.0 * (1 + 0.1j), 0.01
    found = Driven(shell, neck, [held], 0.002, K_ring).answer(f, RHO_0, C_0).Z_m[0] * 2j * np.pi * f
    K_s = moving.ring_stiffness(0.4e6, NU, 0.002, 2 * R_RIM, 2 * R_FRAME)
    assert found == pytest.approx(K_s * (1 + 0.2j) + K_ring, rel=1e-3)


def test_a_paper_rim_gives() -> None:
    """Kind of truth: limit. A rim that may turn with the foam is softer than one held level, but not by half."""
    shell, neck, held, _ = driver(0.0, 0.0)
    found = Driven(shell, neck, [held]).answer(0.01, RHO_0, C_0).Z_m[0] * 2j * np.pi * 0.01
    assert found.real == pytest.approx(linear.axial_stiffness(shell, [held], [neck]), rel=1e-4)
    assert 0.5 < found.real / moving.ring_stiffness(0.4e6, NU, 0.002, 2 * R_RIM, 2 * R_FRAME) < 1


def test_a_stiff_light_disc_carries_its_air() -> None:
    """Kind of truth: closed form. 8/3 rho a³ of air on each side (from memory), and the piston's loads up to ka = 2."""
    a, f = 0.05, np.array([20.0, 500.0, 1000.0, 2000.0])
    disc = piece(*line(0.0, 0.0, a, 0.0, 20), 0.002, 1e13, NU, 1e-6)
    skin = Radiator(disc.r, disc.z, disc.elements)
    found = Driven(disc, 0, [], radiator=skin).answer(f, RHO_0, C_0).Z_m
    assert found[0].imag / (2 * np.pi * f[0]) == pytest.approx(2 * 8 / 3 * RHO_0 * a**3, rel=5e-3)
    ka_2 = 4 * np.pi * f * a / C_0
    resistance, reactance = sound.piston_resistance(ka_2), sound.piston_reactance(ka_2)
    piston = 2 * RHO_0 * C_0 * np.pi * a**2 * (resistance + 1j * reactance)
    assert found == pytest.approx(piston, rel=5e-3)


def test_a_stiff_cone_moves_as_one_mass() -> None:
    """Kind of truth: limit. Mass of all, spring of the ring and the piston's air on one side: a tenth of a per cent."""
    f = np.geomspace(20.0, 2000.0, 20)
    cone = piece(*line(R_NECK, 0.0, R_RIM, DEPTH, 30), 0.0002, 1e14, NU, 0.14)
    disc = piece(*line(0.0, 0.0, R_NECK, 0.0, 8), 0.0002, 1e14, NU, 0.14)
    shell = join(disc, cone)
    skin = Radiator(shell.r, shell.z, shell.elements)
    found = Driven(shell, node_at(shell, R_NECK, 0.0), [], 0.002, 800.0, skin).answer(f, RHO_0, C_0, sides=1)
    slant = np.hypot(R_RIM - R_NECK, DEPTH)
    m = 0.002 + 0.14 * np.pi * ((R_RIM + R_NECK) * slant + R_NECK**2)
    ka_2, s = 4 * np.pi * f * R_RIM / C_0, 2j * np.pi * f
    air = RHO_0 * C_0 * np.pi * R_RIM**2 * (sound.piston_resistance(ka_2) + 1j * sound.piston_reactance(ka_2))
    assert np.abs(found.Z_m - (s * m + 800.0 / s + air)).max() < 2e-3 * np.abs(s * m).max()
    assert np.abs(found.v[:, 1] - 1).max() < 1e-3


def test_a_driven_node_rests_where_a_note_swings() -> None:
    """Kind of truth: second method. Without losses the force is endless at the notes of the shell held there."""
    shell, neck, held, _ = driver(0.0, 0.0)
    notes, _ = linear.frequencies(shell, 0, [held, neck], 4)
    assert Driven(shell, neck, [held]).f_held[:4] == pytest.approx(notes, rel=1e-6)
    free, _ = linear.frequencies(shell, 0, [held], 3, 0.002, neck, 500.0)
    at_notes = Driven(shell, neck, [held], 0.002, 500.0).answer(free, RHO_0, C_0).Z_m
    beside = Driven(shell, neck, [held], 0.002, 500.0).answer(1.1 * free, RHO_0, C_0).Z_m
    assert np.all(np.abs(at_notes) < 1e-3 * np.abs(beside))

"""Rocking by springs and one moment of inertia against all that moves as one shell."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics import rocking
from handwound.physics.shell.linear import frequencies, rocking_stiffness
from handwound.physics.shell.meridian import Shell, arc, join, line, node_at, piece, wave

R_NECK, R_RIM, R_FRAME, H, BEHIND = 0.01295, 0.048, 0.057, 0.015, -0.0125
STIFF = {"t": 0.0005, "E": 3e12, "nu": 0.3}
"""So stiff that nothing in it bends."""
COIL = piece(*line(R_NECK, -0.025, R_NECK, BEHIND, 6), **STIFF, rho_A=1.9)
FORMER = piece(*line(R_NECK, BEHIND, R_NECK, 0.0, 6), **STIFF, rho_A=0.12)
CONE = piece(*line(R_NECK, 0.0, R_RIM, H, 16), **STIFF, rho_A=0.16)
SURROUNDS = {
    "flat": piece(*line(R_RIM, H, R_FRAME, H, 12), 0.002, 0.4e6, 0.3, 0.003),
    "roll": piece(*arc(R_RIM, H, R_FRAME, H, 0.0045, 16), 0.001, 0.4e6, 0.3, 0.003),
}
SPIDER = piece(*wave(R_NECK, 0.030, BEHIND, 0.002, 3, 24), 0.0003, 0.05e9, 0.3, 0.001)


def against(shell: Shell, z: float) -> tuple[float, float, float, float]:
    K = rocking_stiffness(shell, [len(shell.r) - 1], [0])
    return K[0, 0], K[0, 1], K[1, 1], z


def rings(*pieces: Shell) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Mass, radius and level of every element."""
    found = []
    for shell in pieces:
        r, z = shell.r[shell.elements], shell.z[shell.elements]
        long = np.hypot(r[:, 2] - r[:, 0], z[:, 2] - z[:, 0])
        found.append([2 * np.pi * r[:, 1] * long * shell.rho_A, r[:, 1], z[:, 1]])
    m, r, z = np.concatenate(found, axis=1)
    return m, r, z


@pytest.mark.parametrize("surround", SURROUNDS)
@pytest.mark.parametrize("held", [False, True])
def test_the_note_of_rocking_is_that_of_the_whole_shell(surround, held) -> None:
    """Kind of truth: second method. Coil, former, cone, surround and spider as one shell with one nodal diameter."""
    hung = [against(SURROUNDS[surround], H)] + ([against(SPIDER, BEHIND)] if held else [])
    K = rocking.hung_together(*np.array(hung).T)
    m, r, z = rings(COIL, FORMER, CONE)
    f_rock = rocking.rocking_frequency(*K, m.sum(), m @ z / m.sum(), rocking.tilt_inertia(m, r, z))
    whole = join(COIL, FORMER, CONE, SURROUNDS[surround], *([SPIDER] if held else []))
    edges = [node_at(whole, R_FRAME, H)] + ([node_at(whole, 0.030, BEHIND)] if held else [])
    assert f_rock == pytest.approx(frequencies(whole, 1, edges, 2)[0][0], rel=0.005)

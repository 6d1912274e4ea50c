"""How a radiating surface is asked: in other coordinates, for one set of velocities or many, within its range."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.rayleigh import Radiator

RHO_0, C_0 = 1.204, 343.2
RNG = np.random.default_rng(3)
F = np.array([50.0, 900.0, 12000.0])


def skin(basis: np.ndarray | None = None) -> Radiator:
    r = np.linspace(0.02, 0.09, 13)  # from an inner edge: a ring round a pole
    return Radiator(r, 0.4 * r, np.arange(0, 12, 2)[:, None] + np.arange(3), basis)


def test_other_coordinates_hold_the_same_power() -> None:
    """Kind of truth: closed form. Z becomes B^T Z B; velocities B q sound as q does, whichever way B came in."""
    B = RNG.normal(size=(26, 4))
    q = RNG.normal(size=(3, 4))
    Z = skin().load(F, RHO_0, C_0)
    for seen in (skin().on(B), skin(B), skin().on(np.eye(26)).on(B)):
        assert seen.load(F, RHO_0, C_0) == pytest.approx(B.T @ Z @ B, rel=1e-9)
        heard = seen.pressure(F, [0.0, 0.7], q, RHO_0, C_0)
        assert heard == pytest.approx(skin().pressure(F, [0.0, 0.7], q @ B.T, RHO_0, C_0), rel=1e-9)


def test_one_motion_for_all_frequencies() -> None:
    """Kind of truth: second method. The same velocities written out for each frequency."""
    v = RNG.normal(size=26) + 1j * RNG.normal(size=26)
    many = skin().pressure(F, [0.3], np.tile(v, (3, 1)), RHO_0, C_0, 2.0)
    assert skin().pressure(F, [0.3], v, RHO_0, C_0, 2.0) == pytest.approx(many, rel=1e-12)
    assert skin().pressure(F, 0.3, v, RHO_0, C_0, 1.0) == pytest.approx(2 * many, rel=1e-12)


def test_order_of_elements_and_nodes_does_not_matter() -> None:
    """Kind of truth: closed form. A sum over rings."""
    r, order = np.linspace(0.0, 0.09, 9), RNG.permutation(9)
    elements = np.arange(0, 8, 2)[:, None] + np.arange(3)
    place = np.argsort(order)
    mixed = Radiator(r[order], 0.4 * r[order], place[elements][::-1])
    w = np.cos(r)
    one = Radiator(r, 0.4 * r, elements).pressure(F, 0.5, np.concatenate([w, w]), RHO_0, C_0)
    assert mixed.pressure(F, 0.5, np.concatenate([w[order], w[order]]), RHO_0, C_0) == pytest.approx(one, rel=1e-12)


def test_sound_too_fine_is_refused() -> None:
    with pytest.raises(ValueError, match="90000 Hz is beyond"):
        skin().load([100.0, 90000.0], RHO_0, C_0)

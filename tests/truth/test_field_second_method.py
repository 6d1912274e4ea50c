"""The field, steady and alternating, against an independent finite element library with a mesher of triangles."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}
pytestmark = pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")

if HAS_WHEEL:
    from benchmarks import field as bench
    from benchmarks import harmonic as beside


@pytest.mark.parametrize("name", ["POT", "SPOOL", "STRAP", "RING_MAGNET", "CUP_MAGNET", "TAPERED"])
def test_force_factor_over_the_stroke(name) -> None:
    """Kind of truth: second method (NGSolve). 1e-4 over the stroke when both are refined; the defaults as promised."""
    case = getattr(bench, name)
    other = bench.peer(case, 4, bench.MeshSizes(0.003, 0.01, 0.03, 0.1, 1.0, 0.3))
    refined = bench.ours(case, 4, bench.FINEST)
    assert np.abs(refined / other - 1).max() < 1e-4
    assert np.abs(bench.ours(case, 3, bench.FULL) / other - 1).max() < 5e-4
    assert np.abs(bench.ours(case, 3, bench.SEARCH) / other - 1).max() < 5e-3


@pytest.mark.parametrize("name", ["POT", "CUP_MAGNET", "TAPERED"])
def test_alternating_current(name) -> None:
    """Kind of truth: second method (NGSolve, flat elements along every side). R and L to 1e-3 when both are refined.

    At 20 Hz, 1.5 and 20 kHz with the conductivity of steel, where its skin is down to 50 µm.
    """
    case = beside.alternating(getattr(bench, name))
    sizes = beside.SkinSizes((0.001, 0.003, 0.008), 0.005, 0.02, 0.05)
    other = beside.peer(case, 4, sizes, beside.F[beside.SOME])
    assert beside.apart(beside.ours(case, bench.FINEST, 5e-4)[beside.SOME], other) < 1e-3

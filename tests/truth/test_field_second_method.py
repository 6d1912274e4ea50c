"""The field against an independent finite element library: unstructured triangles, another mesher, other elements."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}
pytestmark = pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")

if HAS_WHEEL:
    from benchmarks import field as bench


@pytest.mark.parametrize("name", ["POT", "SPOOL", "STRAP", "RING_MAGNET", "CUP_MAGNET"])
def test_force_factor_over_the_stroke(name) -> None:
    """Kind of truth: second method (NGSolve). 1e-4 over the stroke when both are refined; the defaults as promised."""
    case = getattr(bench, name)
    other = bench.peer(case, 4, bench.MeshSizes(0.003, 0.01, 0.03, 0.1, 1.0, 0.3))
    refined = bench.ours(case, 4, bench.FINEST)
    assert np.abs(refined / other - 1).max() < 1e-4
    assert np.abs(bench.ours(case, 3, bench.FULL) / other - 1).max() < 5e-4
    assert np.abs(bench.ours(case, 3, bench.SEARCH) / other - 1).max() < 5e-3

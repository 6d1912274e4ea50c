"""A coil in its motor at rest, against an independent finite element library with a mesher of triangles."""

from __future__ import annotations

import platform
import sys

import numpy as np
import pytest

HAS_WHEEL = sys.platform == "darwin" or platform.machine() in {"x86_64", "AMD64"}
pytestmark = pytest.mark.skipif(not HAS_WHEEL, reason="NGSolve has no wheel for this machine; see pyproject.toml")

if HAS_WHEEL:
    from benchmarks import conduction as bench


@pytest.mark.parametrize("name", ["POT", "VARNISHED", "SPOOL", "STRAP"])
def test_how_warm_a_coil_gets(name: str) -> None:
    """Kind of truth: second method (NGSolve). Mean, hot spot and case within 3 % of the rise; finer, within 2.5 %.

    What is left then is heat that goes round corners through air.
    """
    case = getattr(bench, name)
    other = np.array(bench.peer(case))
    assert np.array(bench.ours(case)) == pytest.approx(other, rel=0.03)
    assert np.array(bench.ours(case, 4)) == pytest.approx(other, rel=0.025)


def test_a_winding_alone_between_cold_walls() -> None:
    """Kind of truth: second method (NGSolve). A varnished winding fills its pot: no air, no corner, 1 % and 0.2 %."""
    rings = {"core": (0.0, 10.0, 0.0, 40.0), "shell": (22.0, 25.0, 0.0, 40.0)}
    case = bench.case("between two tubes", rings, (10.0, 22.0, 0.0, 40.0), 0.0, (0.9, 0.9), [], 20.0)
    other = np.array(bench.peer(case))
    assert np.array(bench.ours(case)) == pytest.approx(other, rel=0.01)
    assert np.array(bench.ours(case, 4)) == pytest.approx(other, rel=2e-3)

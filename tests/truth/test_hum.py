"""How loud a hum is heard: weighting A against the printed table."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.hum import a_weighting
from tests.truth.published import columns


def test_weighting_a_is_that_of_the_printed_table() -> None:
    """Printed table (tests/truth/data/a_weighting.csv), at the exact frequencies of the third-octave bands."""
    table = columns("a_weighting")
    assert a_weighting(1000 * 10 ** (table["n"] / 10)) == pytest.approx(table["A"], abs=0.051)
    assert np.abs(a_weighting(1000.0)) < 1e-3

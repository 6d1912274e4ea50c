"""The numbers that the page on shells shows are those of the program."""

from __future__ import annotations

import re

import numpy as np
import pytest

from handwound.physics.shell.linear import frequencies, ring_frequency
from handwound.physics.shell.meridian import Shell, dome, join, line, node_at, piece
from tests.rules import house

ROW = re.compile(r"^\| (\d+)°.* \| (\d+) Hz \| (?:none|(\d+) Hz) \|$", re.M)
PAGE = (house.ROOT / "docs/why/shell.md").read_text(encoding="utf8")
TABLE = ROW.findall(PAGE)


def test_the_page_has_its_table() -> None:
    assert len(TABLE) == 6


def diaphragm(slope: float, foam: bool = False) -> tuple[Shell, int, int]:
    """The cone of the page with its cap, and a foam ring; its neck and its outermost node."""
    t, E, nu, rho_A, r_in, r_out = 0.0002, 3e9, 0.3, 0.14, 0.0125, 0.048
    h_c = (r_out - r_in) * np.tan(np.radians(slope))
    cone = piece(*line(r_in, 0.0, r_out, h_c, 30), t, E, nu, rho_A)
    ring = piece(*line(r_out, h_c, 0.056, h_c, 8), 0.002, 0.4e6, 0.3, 0.3)
    cap = piece(*dome(r_in, 0.004, 0.0, 12), t, E, nu, rho_A)
    whole = join(cone, cap, ring) if foam else join(cone, cap)
    return whole, node_at(whole, r_in, 0.0), node_at(whole, 0.056 if foam else r_out, h_c)


@pytest.mark.parametrize(("slope", "first", "ring"), TABLE)
def test_a_row_of_the_page(slope, first, ring) -> None:
    """Kind of truth: none, an alarm. The notes themselves are checked among the truths."""
    whole, neck, _ = diaphragm(float(slope))
    notes, _ = frequencies(whole, 0, [], 2, 0.002, neck)
    assert notes[1] == pytest.approx(float(first), abs=0.6)
    assert ring_frequency(3e9, 700.0, 0.048, np.radians(float(slope))) == pytest.approx(float(ring or 0), abs=0.6)


@pytest.mark.parametrize(("slope", "expected"), [(35.0, (106, 1102)), (0.0, (20, 182))])
def test_the_foam_ring_of_the_page(slope, expected) -> None:
    """Kind of truth: none, an alarm."""
    whole, neck, held = diaphragm(slope, foam=True)
    notes, _ = frequencies(whole, 0, [held], 2, 0.002, neck)
    assert notes == pytest.approx(expected, abs=0.6)
    assert all(str(note) in PAGE for note in expected)

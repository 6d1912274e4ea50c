"""Layers and whole windings: sums in closed form against sums turn by turn, and circles that must not overlap."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.physics.layers import (
    LAY,
    layer_diameter,
    packing_factor,
    turns_in_grooves,
    turns_in_layer,
    turns_per_layer,
)
from handwound.physics.winding import in_sections, ladder, mean_diameter, outer_diameter, turns, wire_length
from handwound.physics.wire import resistance

COILS = {
    "n_l": st.integers(1, 40),
    "h_w": st.floats(2e-3, 60e-3),
    "d_o": st.floats(0.05e-3, 1.5e-3),
    "k_p": st.floats(0.7, 1.0),
    "lay": st.sampled_from(sorted(LAY)),
    "n_tape": st.integers(0, 7),
}


@given(**COILS, t_tape=st.floats(0, 0.2e-3))
def test_the_sums_are_the_sums_layer_by_layer(n_l, h_w, d_o, k_p, lay, n_tape, t_tape) -> None:
    """Kind of truth: second method. Plain addition, one layer after the other."""
    k_lay, D_f = LAY[lay], 0.030
    N_l = turns_per_layer(h_w, d_o, k_p)
    layers = [
        (turns_in_layer(N_l, n, h_w, d_o, k_p, k_lay, n_tape), layer_diameter(D_f, d_o, k_lay, n, n_tape, t_tape))
        for n in range(1, n_l + 1)
    ]
    N = sum(count for count, _ in layers)
    assert turns(n_l, h_w, d_o, k_p, k_lay, n_tape) == N
    assert outer_diameter(D_f, d_o, k_lay, n_l, n_tape, t_tape) == layers[-1][1] + d_o
    if N:
        D_m = mean_diameter(D_f, n_l, h_w, d_o, k_p, k_lay, n_tape, t_tape)
        assert D_m == pytest.approx(sum(count * D for count, D in layers) / N, rel=1e-12)
        plan = ladder(D_f, n_l, h_w, d_o, k_p, k_lay, n_tape, t_tape, 0.9 * d_o, 1 / 58e6, 0.00393, 20.0)
        assert plan.N[-1] == N
        assert plan.l_w[-1] == pytest.approx(wire_length(N, D_m), rel=1e-12)
        assert plan.R_20[-1] == pytest.approx(resistance(1 / 58e6, wire_length(N, D_m), 0.9 * d_o), rel=1e-12)


@given(**COILS)
def test_no_two_turns_are_in_one_place(n_l, h_w, d_o, k_p, lay, n_tape) -> None:
    """Kind of truth: limit. In the section of the coil all circles lie inside the cheeks, and none overlaps another."""
    k_lay, t_tape, D_f, pitch = LAY[lay], 0.05e-3, 0.030, d_o / k_p
    N_l = turns_per_layer(h_w, d_o, k_p)
    rows = []
    for n in range(1, min(n_l, 6) + 1):
        N = turns_in_layer(N_l, n, h_w, d_o, k_p, k_lay, n_tape)
        beside = k_lay < 1 and ((n - 1) % (n_tape or n)) % 2
        z = d_o / 2 + pitch * (np.arange(N) + beside / 2)
        rows.append((z, layer_diameter(D_f, d_o, k_lay, n, n_tape, t_tape) / 2))
        assert rows[-1][1] >= D_f / 2 + d_o / 2
        assert np.all(z <= (h_w - d_o / 2) * (1 + 1e-6) + 1e-9)
    for (z_1, r_1), (z_2, r_2) in zip(rows, rows[1:], strict=False):
        if z_1.size and z_2.size:
            assert np.hypot(z_1[:, None] - z_2, r_1 - r_2).min() >= d_o * (1 - 1e-9)


@given(n=st.integers(1, 3000), d_o=st.floats(0.02e-3, 3e-3))
def test_a_layer_holds_what_fits_and_no_more(n, d_o) -> None:
    """Kind of truth: closed form. n diameters hold n turns, a hundredth of a wire less holds n - 1."""
    assert turns_per_layer(n * d_o, d_o, 1.0) == n
    assert turns_per_layer((n - 0.01) * d_o, d_o, 1.0) == n - 1


def test_a_packing_factor_gives_back_its_turns() -> None:
    """Kind of truth: balance. The factor found from the first layer predicts the first layer."""
    for counted in range(20, 81):
        assert turns_per_layer(0.044, 0.55e-3, packing_factor(counted, 0.55e-3, 0.044)) == counted


def test_a_wire_too_thick_for_its_window_has_no_turns() -> None:
    assert turns(4, 0.5e-3, 1e-3, 1.0, LAY["nested"], 0) == 0
    assert turns_in_grooves(0, 0.5e-3, 1e-3, 1.0, LAY["nested"]) == 0
    assert mean_diameter(0.03, 4, 0.5e-3, 1e-3, 1.0, LAY["nested"], 0, 0.0) == pytest.approx(0.031)


@pytest.mark.parametrize("lay", sorted(LAY))
@pytest.mark.parametrize("n_tape", [0, 3])
def test_arrays_answer_like_numbers(lay, n_tape) -> None:
    """Kind of truth: second method. A table of layers against wires, cell by cell."""
    n_l, d_o, k_lay = np.arange(1, 9)[:, None], np.array([0.2e-3, 0.35e-3, 1.1e-3]), LAY[lay]
    N = turns(n_l, 0.012, d_o, 0.95, k_lay, n_tape)
    D_m = mean_diameter(0.02, n_l, 0.012, d_o, 0.95, k_lay, n_tape, 0.1e-3)
    D_w = outer_diameter(0.02, d_o, k_lay, n_l, n_tape, 0.1e-3)
    assert N.dtype == np.int64
    for i, layers in enumerate(range(1, 9)):
        for j, d in enumerate(d_o.tolist()):
            assert N[i, j] == turns(layers, 0.012, d, 0.95, k_lay, n_tape)
            assert D_m[i, j] == pytest.approx(mean_diameter(0.02, layers, 0.012, d, 0.95, k_lay, n_tape, 0.1e-3))
            assert D_w[i, j] == pytest.approx(outer_diameter(0.02, d, k_lay, layers, n_tape, 0.1e-3))


def test_numbers_stay_plain_numbers() -> None:
    """What goes into a file or onto a page is an int where it counts."""
    assert type(turns_per_layer(0.01, 0.0004, 1.0)) is int
    assert type(turns(3, 0.01, 0.0004, 1.0, LAY["nested"], 2)) is int


@pytest.mark.parametrize("R", [[16.0], [8.0, 8.0], [39.1, 48.9, 58.7, 68.5]])
def test_sections_in_parallel_share_the_current(R) -> None:
    """Kind of truth: second method. Kirchhoff: each section on one voltage, currents and ampere-turns added up."""
    R, N, volts = np.array(R), np.full(len(R), 750), 12.0
    each = volts / R
    R_20, N_seen, k_I = in_sections(R, N, "parallel")
    assert volts / R_20 == pytest.approx(each.sum())
    assert volts / R_20 * N_seen == pytest.approx((N * each).sum())
    assert k_I == pytest.approx(each.max() / each.sum())
    assert tuple(map(float, in_sections(R, N, "series"))) == pytest.approx((R.sum(), N.sum(), 1.0))

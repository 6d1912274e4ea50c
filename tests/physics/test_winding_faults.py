"""Windings as they are made: counted layers, crossings, splices, layers the wrong way round, layers shorted."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.physics.as_wound import bulge, packing_from_layers, wound
from handwound.physics.driver import impedance
from handwound.physics.field.harmonic import closed
from handwound.physics.layers import LAY, tapes, turns_per_layer
from handwound.physics.winding import ladder, mean_diameter, outer_diameter, turns
from handwound.physics.winding_faults import net_winding, shorted_drag, with_shorts

D_F, H_W, D_O, D_CU = 0.029, 0.044, 0.55e-3, 0.50e-3
COPPER = (1 / 58e6, 0.00393)


@pytest.mark.parametrize(("counted", "t"), [([76, 72], 6.314), ([76, 71, 73], 2.920), ([70, 76, 71, 75, 73], 2.132)])
def test_the_band_of_the_mean_is_students(counted, t) -> None:
    """Kind of truth: printed table, from memory: t at 95 % for 1, 2 and 4 degrees of freedom."""
    k_p, dk_p = packing_from_layers(counted, D_O, H_W)
    s = (sum((each - np.mean(counted)) ** 2 for each in counted) / (len(counted) - 1)) ** 0.5
    scatter = t * s / len(counted) ** 0.5
    assert dk_p == pytest.approx((scatter**2 + 0.5**2) ** 0.5 * D_O / H_W, rel=2e-4)
    assert k_p == pytest.approx(np.mean(counted) * D_O / H_W, abs=0.5001 * D_O / H_W)


@given(st.lists(st.integers(20, 80), min_size=1, max_size=6))
def test_the_next_layers_have_whole_turns_next_to_the_mean(counted) -> None:
    """Kind of truth: balance. What was fitted plans layers of the mean, to half a turn, and never promises better."""
    k_p, dk_p = packing_from_layers(counted, D_O, H_W)
    assert abs(turns_per_layer(H_W, D_O, k_p) - np.mean(counted)) <= 0.5
    assert dk_p * H_W / D_O >= 0.5 - 1e-12
    if len(set(counted)) == 1:
        assert turns_per_layer(H_W, D_O, k_p) == counted[0]
        assert dk_p * H_W / D_O == pytest.approx(0.5)


@pytest.mark.parametrize("scatter", [0.5, 1.5, 4.0])
def test_the_band_holds_the_layers_to_come(scatter) -> None:
    """Kind of truth: simulation. Hands whose layers scatter by so many turns; the mean of a long coil lies in the band.

    Nine times in ten is promised; more where the half turn is the wider share. 600 hands: 2.5 % is two sigma.
    """
    random = np.random.default_rng(7)
    held = 0
    for _ in range(600):
        fit = random.uniform(70, 75)
        first, rest = (np.floor(random.normal(fit, scatter, n)).astype(int) for n in (4, 400))
        k_p, dk_p = packing_from_layers(first.tolist(), D_O, H_W)
        held += abs(k_p * H_W / D_O - rest.mean()) <= dk_p * H_W / D_O
    assert held / 600 > 0.9 - 0.025


COILS = {
    "n_l": st.integers(1, 12),
    "n_tape": st.integers(0, 4),
    "lay": st.sampled_from(sorted(LAY)),
    "counted": st.lists(st.integers(60, 79), max_size=14),
    "n_splice": st.integers(0, 3),
}


@given(**COILS)
def test_the_coil_as_wound_is_the_sum_of_its_layers(n_l, n_tape, lay, counted, n_splice) -> None:
    """Kind of truth: second method. Plain addition over the ladder, whose first layers are the counted ones."""
    shape = (n_l, H_W, D_O, 0.95, LAY[lay], n_tape)
    N, l_w, D_m = wound(D_F, *shape, 0.05e-3, counted, n_splice)
    plan = ladder(D_F, *shape, 0.05e-3, D_CU, *COPPER, 20.0, counted, n_splice)
    sure = n_l - 1 if n_splice else n_l  # a splice takes its turn from the coil's last layer
    assert plan.N_l[:sure][: len(counted)].tolist() == counted[:sure]
    assert N == plan.N[-1] == plan.N_l.sum()
    assert l_w == pytest.approx(np.pi * np.sum(plan.N_l * plan.D_l), rel=1e-12)
    assert D_m == pytest.approx(np.sum(plan.N_l * plan.D_l) / plan.N_l.sum(), rel=1e-12)
    if not counted:
        assert N == turns(*shape) - n_splice


def test_many_coils_at_once_are_as_one_by_one() -> None:
    """Kind of truth: second method. A column of layers against a row of wires, cell by cell."""
    n_l, d_o = np.arange(1, 7)[:, None], np.array([0.50e-3, 0.55e-3, 0.62e-3])
    N, l_w, D_m = wound(D_F, n_l, H_W, d_o, 0.9, LAY["nested"], 2, 0.1e-3, [60, 61, 59], 1)
    b = bulge(n_l, 0.9 * d_o, d_o, LAY["nested"], 2, 1)
    for i in range(6):
        for j, d in enumerate(d_o.tolist()):
            one = wound(D_F, i + 1, H_W, d, 0.9, LAY["nested"], 2, 0.1e-3, [60, 61, 59], 1)
            assert (N[i, j], l_w[i, j], D_m[i, j]) == pytest.approx(one, rel=1e-12)
            assert b[i, j] == pytest.approx(bulge(i + 1, 0.9 * d, d, LAY["nested"], 2, 1))


def test_nothing_counted_and_no_splice_is_the_plan() -> None:
    """Kind of truth: limit."""
    shape = (7, H_W, D_O, 0.95, LAY["nested"], 3)
    N, _, D_m = wound(D_F, *shape, 0.05e-3, [], 0)
    assert turns(*shape) == N
    assert mean_diameter(D_F, *shape, 0.05e-3) == D_m


@given(n_l=st.integers(1, 40), n_tape=st.integers(0, 7), t_tape=st.floats(0, 0.2e-3))
def test_over_its_crossings_a_nested_coil_is_as_thick_as_a_stacked_one(n_l, n_tape, t_tape) -> None:
    """Kind of truth: closed form. Wires that cross are two wires high, as turns on top of turns are."""
    nested, stacked = (outer_diameter(D_F, D_O, LAY[lay], n_l, n_tape, t_tape) for lay in ("nested", "stacked"))
    assert nested + 2 * bulge(n_l, D_CU, D_O, LAY["nested"], n_tape, 0) == pytest.approx(stacked, rel=1e-12)
    assert bulge(n_l, D_CU, D_O, LAY["stacked"], n_tape, 0) == 0


def test_tape_lies_between_layers_only() -> None:
    """Kind of truth: counting."""
    for n_l in range(1, 30):
        for n_tape in range(1, 8):
            assert tapes(n_l, n_tape) == sum(1 for n in range(1, n_l) if n % n_tape == 0)
        assert tapes(n_l, 0) == 0


def test_a_splice_stands_out_by_two_wires_and_its_sleeve() -> None:
    """Kind of truth: closed form. Without a sleeve and without enamel it is one bare wire more."""
    assert bulge(1, D_CU, D_CU, 1.0, 0, 1, t_sleeve=0.0) == pytest.approx(D_CU)
    two = [bulge(1, D_CU, D_O, 1.0, 0, 1, t_sleeve=t) for t in (0.2e-3, 0.5e-3)]
    assert two[1] - two[0] == pytest.approx(2 * 0.3e-3)


@given(st.lists(st.sampled_from([-1, 0, 1]), min_size=1, max_size=20))
def test_ampere_turns_superpose(sense) -> None:
    """Kind of truth: balance. The layers the right way minus those the wrong way; every ohm in circuit counts."""
    N_l, R_l, way = np.arange(60, 60 + len(sense)), np.linspace(0.5, 0.9, len(sense)), np.array(sense)
    N_net, R_20 = net_winding(N_l, R_l, way)
    right, wrong = (net_winding(N_l, R_l, way == each) for each in (1, -1))
    assert N_net == pytest.approx(right[0] - wrong[0])
    assert R_20 == pytest.approx(right[1] + wrong[1])
    draws = net_winding(N_l, np.array([[1.0], [1.1]]) * R_l, way)
    assert draws[1] == pytest.approx([R_20, 1.1 * R_20])


@given(f=st.floats(0.1, 1e4), n_short=st.integers(0, 4), L=st.floats(1e-6, 1e-3))
def test_shorted_layers_are_closed_windings_on_one_core(f, n_short, L) -> None:
    """Kind of truth: second method. Every winding a row of a matrix that is closed by its resistance and solved."""
    N_l, R_l, N = np.array([75.0, 76.0, 74.0, 73.0])[:n_short], np.linspace(0.7, 0.9, 4)[:n_short], 1500.0
    z = (0.3 + 1j) * 2 * np.pi * f * 1e-6 * L / 1e-6  # of one turn, with some loss in the iron
    N_net = N - N_l.sum()
    each = np.append(N_net, N_l)
    want = closed(z * np.outer(each, each)[None], R_l) if n_short else np.array([z * N_net**2])
    assert with_shorts(np.array([z * N**2]), N, N_net, N_l, R_l) == pytest.approx(want, rel=1e-9)


def test_a_short_at_very_low_and_at_very_high_frequency() -> None:
    """Kind of truth: limit. Slowly a shorted layer is a layer missing; fast, it keeps all flux out."""
    L, N, N_net, N_l, R_l = 0.5, 1500.0, 1425.0, np.array([75.0]), np.array([0.8])
    for f, share in ((1e-4, (N_net / N) ** 2), (1e7, 0.0)):
        Z = with_shorts(np.array([2j * np.pi * f * L]), N, N_net, N_l, R_l)
        assert Z[0].imag / (2 * np.pi * f * L) == pytest.approx(share, abs=1e-6)


@given(f=st.floats(10, 400), share=st.floats(0.01, 0.9))
def test_a_shorted_part_of_a_moving_coil_is_a_brake(f, share) -> None:
    """Kind of truth: second method. Two meshes and one mass, solved together; the short as one more resistance."""
    Bl, R, Mms, Kms, Rms = 4.5, 6.0, 8e-3, 3000.0, 1.2
    w = 2 * np.pi * f
    Bl_1, Bl_2, R_1, R_2 = (1 - share) * Bl, share * Bl, (1 - share) * R, share * R
    drag = 1j * w * Mms + Rms + Kms / (1j * w)
    meshes = np.array([[R_1, 0, Bl_1], [0, R_2, Bl_2], [Bl_1, Bl_2, -drag]])
    I_1 = np.linalg.solve(meshes, np.array([1.0, 0, 0]))[0]
    with_brake = impedance(f, R_1, Bl_1, Mms, Rms + shorted_drag(np.array([Bl_2]), np.array([R_2])), Kms)
    assert 1 / I_1 == pytest.approx(with_brake, rel=1e-9)

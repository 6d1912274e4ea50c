"""Bodies, their pieces and what each side sees: closed forms of area and resistance, sights that can be counted."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.physics.heat import bodies
from handwound.physics.heat.bodies import INNER, LOWER, OUTER, UPPER, Body, Coat, Sight
from tests.physics.heat.closed_forms import R_axial, R_radial, discs, rings

MM = 1e-3


def ring(name: str, r_in: float, r_out: float, z_lo: float, z_hi: float, **more) -> Body:
    """A steel ring from millimetres."""
    return Body(name, r_in * MM, r_out * MM, z_lo * MM, z_hi * MM, k_r=52.0, k_z=52.0, c_v=3.5e6, eps=0.9, **more)


POT = (
    ring("back", 0, 28, 0, 6),
    ring("wall", 24, 28, 6, 26),
    ring("top", 11.5, 28, 26, 32),
    ring("pole", 0, 10, 6, 32),
)


def free_of(every: tuple[Body, ...]) -> dict[tuple[str, int], float]:
    """Which sides of uncut bodies see the room, and the share of each."""
    return {(every[k].name, side): share for k, side, share in Sight.all(every)[1]}


def test_a_ring_alone_shows_the_room_all_but_its_bore() -> None:
    """Closed form: wall and both ends of a cylinder; a bore sees only itself."""
    alone = ring("it", 5, 20, 0, 30)
    free = Sight.all((alone,))[1]
    area = sum(float(alone.area(side)) * share for _, side, share in free)
    assert area == pytest.approx(2 * np.pi * 0.020 * 0.030 + 2 * np.pi * (0.020**2 - 0.005**2))
    assert {side for _, side, _ in free} == {OUTER, LOWER, UPPER}


def test_pieces_are_the_body() -> None:
    """Balance: volume and outer areas of the pieces add up to those of the body, with its coats."""
    coat = Coat(0.5 * MM, 0.12)
    whole = ring("it", 11, 23, 7, 55, coats=(coat, Coat(), coat, coat), pieces=(3, 4))
    pieces = list(whole.cut([whole]))
    assert len(pieces) == 12
    assert sum(float(piece.volume) for piece in pieces) == pytest.approx(float(whole.volume))
    for side in range(4):
        edge = whole.outline(side)
        outer = [float(piece.area(side)) for piece in pieces if abs(float(piece.outline(side) - edge)) < 1e-9]
        assert sum(outer) == pytest.approx(float(whole.area(side)))


def test_two_halves_are_the_resistance_of_the_whole() -> None:
    """Closed form: from face to face a ring is R_radial or R_axial, its coat in a row."""
    coat = Coat(0.5 * MM, 0.12)
    it = ring("it", 11, 23, 7, 55, coats=(coat, Coat(), Coat(), Coat()))
    bare = replace(it, coats=bodies.BARE)
    across = it.half(INNER) / (2 * np.pi * it.r_in * 0.048) + it.half(OUTER) / it.area(OUTER)
    of_coat = coat.t / coat.k_th / (2 * np.pi * it.r_in * 0.048)
    assert across == pytest.approx(R_radial(0.011, 0.023, 52.0, 0.048) + of_coat)
    along = bare.half(LOWER) / bare.area(LOWER) + bare.half(UPPER) / bare.area(UPPER)
    assert along == pytest.approx(R_axial(0.011, 0.023, 0.048, 52.0))


@pytest.mark.parametrize("count", [1, 2, 3, 7])
def test_the_mean_of_each_piece_of_a_heated_slab(count: int) -> None:
    """Closed form: a slab of 12 mm that makes heat, both faces cold: the parabola's mean over each piece.

    A thin ring of a metre's radius is a slab. Ways from piece to piece are those between their middles.
    """
    q_v, k_th, t = 1e5, 0.5, 12 * MM
    slab = Body("it", 1.0, 1.0 + t, 0.0, 0.02, k_th, k_th, 1.0, 0.9, pieces=(count, 1), heat=True)
    pieces = list(slab.cut([slab]))
    heat = [q_v * float(piece.volume) for piece in pieces]
    matrix = np.zeros((count, count))
    for k, piece in enumerate(pieces):
        for m in (k - 1, k + 1):
            side = INNER if m < k else OUTER
            R = piece.half(side) / piece.area(side)
            if 0 <= m < count:
                R += pieces[m].half(INNER + OUTER - side) / pieces[m].area(INNER + OUTER - side)
                matrix[k, m] -= 1 / R
            matrix[k, k] += 1 / R
    x = np.linspace(0, t, count + 1)
    whole = q_v / (2 * k_th) * (t * x**2 / 2 - x**3 / 3)
    assert np.linalg.solve(matrix, heat) == pytest.approx(np.diff(whole) / np.diff(x), rel=0.03)


def test_what_stands_in_a_closed_pot_sees_nothing_of_the_room() -> None:
    """Limit: a winding inside a shell with two lids gives its heat to them alone."""
    lids = (ring("back", 0, 28, 0, 6), ring("wall", 24, 28, 6, 26), ring("lid", 0, 28, 26, 32))
    free = free_of((*lids, ring("winding", 11, 20, 8, 24)))
    assert {name for name, _ in free} == {"back", "wall", "lid"}
    assert ("wall", INNER) not in free
    assert ("back", UPPER) not in free


def test_an_open_pot_shows_what_its_drawing_shows() -> None:
    """Counted by hand: back below, and the rim outside; wall outside; lid outside and on top; the pole's tip."""
    free = free_of(POT)
    assert {key for key, share in free.items() if share == pytest.approx(1.0)} == {
        ("back", LOWER), ("back", OUTER), ("wall", OUTER), ("top", OUTER), ("top", UPPER), ("pole", UPPER),
    }  # fmt: skip
    assert set(free) == {key for key, share in free.items() if share == pytest.approx(1.0)}


@pytest.mark.parametrize("d", [4.0, 10.0, 40.0])
def test_what_is_seen_and_what_is_free_make_a_whole(d: float) -> None:
    """Balance: two discs face to face; what of one does not see the other sees the room. Closed form of discs: 0.08."""
    low, high = ring("low", 0, 20, 0, 5), ring("high", 0, 12, 5 + d, 9 + d)
    seen, free = Sight.all((low, high))
    (sight,) = seen
    assert sight.share * (12 / 20) ** 2 + dict(((k, s), x) for k, s, x in free)[0, UPPER] == pytest.approx(1.0)
    assert sight.share == pytest.approx(discs(12, 12, d), abs=0.08)


@pytest.mark.parametrize("x", [0.02, 0.3, 0.99, 1.01, 3.0, 10.0])
def test_the_walls_of_a_groove(x: float) -> None:
    """Closed form: what two rings on one axis see of each other, from a table's formula for discs; radius 1 m, 10 mm
    wide, so what passes through the hole is little."""
    seen, _ = Sight.all((ring("low", 1000, 1010, 0, 5), ring("high", 1000, 1010, 5 + 10 * x, 20 + 10 * x)))
    (share,) = [each.share for each in seen if each.side == UPPER]
    assert share == pytest.approx(rings(1.0, 1.01, 0.01 * x), abs=0.01)


def test_a_groove_opens_without_a_jump() -> None:
    """Limit: from a closed joint to one twice as wide as deep its walls see ever less of each other, in small steps."""
    shares = []
    for d in np.linspace(-0.02, 20.0, 1001):
        seen, _ = Sight.all((ring("low", 100, 110, 0, 5), ring("high", 100, 110, 5 + d, 30)))
        shares += [each.share for each in seen if each.side == UPPER]
    assert len(shares) == 1001
    assert shares[0] == 1.0
    assert np.all(np.diff(shares) <= 0)
    assert np.abs(np.diff(shares)).max() < 2.1e-3


def test_legs_let_through_what_they_do_not_cover() -> None:
    """Balance: bars on a third of the round take a third of the winding's heat; two thirds see the room."""
    winding, legs = ring("winding", 10, 20, 0, 30), ring("legs", 24, 28, 0, 30, share=1 / 3)
    seen, free = Sight.all((winding, legs))
    ((i, j, side, share),) = seen
    assert (i, j, side, share) == (0, 1, OUTER, pytest.approx(1 / 3))
    assert dict(((k, s), x) for k, s, x in free)[0, OUTER] == pytest.approx(2 / 3)
    areas = seen[0].between(winding, legs)[:2]
    assert areas == (pytest.approx(float(winding.area(OUTER)) / 3), pytest.approx(2 * np.pi * 0.024 * 0.030 / 3))


@pytest.mark.parametrize("gap", [-0.1, -1e-4, 0.0, 0.1])
def test_sizes_that_were_drawn_still_face_each_other(gap: float) -> None:
    """Limit: a spool a tenth of a millimetre too high for its room, or too low, loses no face to the room."""
    spool, plate = ring("spool", 10, 20, 0, 30), ring("plate", 5, 28, 30 + gap, 36)
    seen, free = Sight.all((spool, plate))
    assert [(s.i, s.j, s.side) for s in seen] == [(0, 1, UPPER)]
    assert not [k for k, side, _ in free if k == 0 and side == UPPER]


def test_a_thin_sleeve_inside_a_coil_is_not_outside_of_it() -> None:
    """Limit: tolerance for overlap must not turn inside and outside about."""
    coil, sleeve = ring("coil", 10.4, 10.9, 0, 10), ring("sleeve", 10.0, 10.2, 0, 10)
    assert [(s.i, s.j, s.side) for s in Sight.all((coil, sleeve))[0]] == [(1, 0, OUTER)]


def test_nothing_breathes_through_the_gap_of_a_voice_coil() -> None:
    """Limit: below a gap of 1.5 mm a back plate sees no room; below a hole of 20 mm it does."""
    for bore, there in ((11.5, False), (20.0, True)):
        every = (*POT[:2], ring("top", bore, 28, 26, 32), POT[3])
        assert (("back", UPPER) in free_of(every)) == there


def test_edges_of_neighbours_cut() -> None:
    """Counted by hand: a back of 34 mm meets pole and shell: it is cut at their three edges."""
    every = (ring("back", 0, 34, 0, 6), ring("shell", 26, 30, 6.03, 52), ring("pole", 0, 12.5, 6.03, 58))
    edges = sorted({round(float(piece.r_out) / MM, 6) for piece in every[0].cut(every)})
    assert edges == [12.5, 26.0, 30.0, 34.0]

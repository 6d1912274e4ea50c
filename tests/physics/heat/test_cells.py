"""From bodies to a network: what was cut adds up, few pieces do, and random drivers come to rest."""

from __future__ import annotations

import warnings
from dataclasses import replace

import numpy as np
import pytest

from handwound.physics.heat import bodies
from handwound.physics.heat.bodies import Body, Coat
from handwound.physics.heat.cells import Cells, Cover, Fin, Placed
from handwound.physics.heat.sources import Fixed, Supplied, Together
from handwound.thermal import LIES, Thermal
from tests.physics.field.motors import Built, random_built
from tests.physics.heat.closed_forms import ring_hot_spot, ring_mean_rise
from tests.physics.heat.test_bodies import POT, ring

MM = 1e-3
STANDS = Placed(("vertical",) * 4)
MANY = 200


def wound(pieces: tuple[int, int], q_v: float) -> tuple[Thermal, np.ndarray, np.ndarray]:
    """A high winding of radii 10 and 16 mm between two tubes of nearly no resistance: its rise over them, its heat."""
    metal = {"k_r": 1e9, "k_z": 1e9, "c_v": 3e6, "eps": 0.9}
    tubes = (Body("core", 5 * MM, 10 * MM, 0.0, 0.5, **metal), Body("shell", 16 * MM, 30 * MM, 0.0, 0.5, **metal))
    winding = Body("winding", 10 * MM, 16 * MM, 0.0, 0.5, 0.7, 0.0007, 2e6, 0.8, pieces=pieces, heat=True)
    disc = Body("disc", 5 * MM, 30 * MM, -0.01, 0.0, **metal)  # it holds both tubes at one temperature
    cells = Cells.cut([*tubes, winding, disc], STANDS)
    nodes = cells.of("winding")
    share = cells.shares(nodes)
    heat = Fixed(tuple(nodes), q_v * float(winding.volume) * share)
    T = cells.network.steady(20.0, heat)
    return Thermal(cells, tuple(nodes), (), share, share, ()), T - T[cells.of("core")[0]], heat(T[:-1])[0]


def test_the_hot_spot_and_the_mean_of_a_ring() -> None:
    """Closed form: radii 10 and 16 mm, both faces cool. Three pieces: mean within 1 %, hot spot 3 %; twelve: 0.5 %."""
    q_v = 1e5
    hot, mean = ring_hot_spot(q_v, 0.7, 10 * MM, 16 * MM)[0], ring_mean_rise(q_v, 0.7, 10 * MM, 16 * MM)
    for count, near_mean, near_hot in ((3, 0.01, 0.03), (12, 0.005, 0.005)):
        model, rise, q = wound((count, 1), q_v)
        middle = [k for k in model.field if 0.2 < float(model.cells.pieces[k].z_lo) < 0.3]
        volumes = np.array([float(model.cells.pieces[k].volume) for k in middle])
        assert volumes @ rise[middle] / volumes.sum() == pytest.approx(mean, rel=near_mean)
        alone = model._replace(field=tuple(middle))
        assert alone.hot_spot(rise, q) == pytest.approx(hot, rel=near_hot)


def test_shares_and_capacities_add_up() -> None:
    """Balance: the shares of a winding are one, all heat capacities those of the bodies."""
    every = [*POT, ring("winding", 12, 23, 7.5, 24.5, pieces=(3, 4))]
    cells = Cells.cut(every, STANDS)
    assert cells.shares(cells.of("winding")).sum() == pytest.approx(1.0)
    assert cells.network.C_th.sum() == pytest.approx(sum(body.c_v * float(body.volume) for body in every))
    assert [piece.name for piece in cells.pieces].count("winding") == len(cells.of("winding")) == 12


def test_a_layer_of_air_and_a_joint() -> None:
    """Limit: a joint closed from 0.1 mm to nothing leads ever better, and jumps nowhere."""
    rises = []
    for joint in (0.1, 0.01, 0.001, 1e-4, 0.0):
        cells = Cells.cut([ring("hot", 0, 20, 0, 10), ring("cold", 0, 20, 10 + joint, 20 + joint)], STANDS)
        T = cells.network.steady(20.0, Fixed((cells.of("hot")[0],), np.array([10.0])))
        rises.append(T[cells.of("hot")[0]] - T[cells.of("cold")[0]])
    assert np.all(np.diff(rises) < 0)
    assert rises[-1] == pytest.approx(rises[-2], rel=0.05)


def covered(G: float, *bodies: Body) -> Cells:
    """Some bodies behind a cone of 50 mm radius, through which so much heat passes for a kelvin."""
    return Cells.cut(bodies, Placed(("vertical",) * 4, Cover(0.05, G, 0.1)))


def test_covered_faces_cool_less() -> None:
    """Limit: behind a cone that passes everything the front cools as if there were none; none, if it passes nothing."""
    heat, it = Fixed((0,), np.array([3.0])), ring("it", 0, 20, 0, 15)
    free = Cells.cut([it], STANDS).network.steady(20.0, heat)[0]
    shut = Cells.cut([it], Placed(("vertical", "vertical", "vertical", ""))).network.steady(20.0, heat)[0]
    rises = [covered(G, it).network.steady(20.0, heat)[0] for G in (1e6, 0.1, 0.01, 1e-9)]
    assert np.all(np.diff(rises) > 0)
    assert rises[0] == pytest.approx(free, abs=1e-3)
    assert rises[-1] == pytest.approx(shut, abs=1e-3)


def test_the_air_behind_a_cone_carries_what_the_front_gives() -> None:
    """Balance: at rest all that front and voice coil give to that air passes the cone, G (T_air - T_room)."""
    voice = ring("voice", 12, 12.5, 20, 26, covered=True)
    cells = covered(0.03, ring("it", 0, 20, 0, 15), voice)
    network = cells.network
    (k,) = cells.of("voice")
    T = network.steady(20.0, Together([Fixed((0,), np.array([4.0])), Fixed((k,), np.array([0.2]))]))
    air, G, (i, j) = len(cells.pieces), network.conductances(T), network.ends
    into = (j == air) & (i != air)
    assert (G * (T[i] - T[j]))[into].sum() == pytest.approx(0.03 * (T[air] - 20.0), rel=1e-4)
    assert {int(end) for end in j[i == k]} <= {0, air}
    assert 21 < T[air] < T[0]


def test_a_cone_looks_out_of_a_box() -> None:
    """Balance: with a box around, the cone still leads to the room, all other faces to the air of the box."""
    network = covered(0.03, ring("it", 0, 20, 0, 15)).network.behind(0.8, 50.0)
    T = network.steady(20.0, Fixed((0,), np.array([4.0])))
    assert 0.03 * (T[1] - 20.0) + 0.8 * (T[2] - 20.0) == pytest.approx(4.0, rel=1e-5)
    assert T[1] > T[2] > 20.5


def test_a_fin_is_more_area() -> None:
    """Balance: a fin as large as the body's own wall, of its size and surface, doubles what the wall gives off."""
    it = ring("it", 0, 20, 0, 15)
    alone = Cells.cut([it], Placed(("", "vertical", "", ""))).network
    wall = 2 * np.pi * 0.020 * 0.015
    finned = Cells.cut(
        [it], Placed(("", "vertical", "", "")), fins=[Fin("it", "vertical", wall, 15 * MM, 0.9, 2 * wall)]
    ).network
    one, two = (
        network.steady(20.0, Fixed((0,), np.array([P])))[0] for network, P in ((alone, 2.0), (finned, 4.0))
    )  # fmt: skip
    assert one == pytest.approx(two, rel=2e-3)
    assert finned.outside(finned.at_room(20.0))[0] == pytest.approx(3 * wall)


def warmed(built: Built, random: np.random.Generator) -> tuple[Cells, Together]:
    """A random motor as bodies, its field coil on a supply, its voice coil fed; in one of three positions."""
    rings = [
        Body(r.name, r.r_in, r.r_out, r.z_lo, r.z_hi, *[random.choice([5.0, 52.0, 390.0])] * 2, 3.5e6,
             random.uniform(0.05, 0.97), share=random.choice([1.0, 1.0, 0.3]))
        for r in built.problem.rings
    ]  # fmt: skip
    k_w, card = random.uniform(0.1, 2.0), Coat(random.choice([0.0, 0.5 * MM]), 0.12)
    made = {"c_v": 2.3e6, "eps": 0.8, "cuts": False, "heat": True}
    sources: list = []
    if built.problem.winding:
        coats = (card, Coat(), card, card)
        rings.append(Body("field", *built.problem.winding.rectangle, k_w, k_w / 2, **made, coats=coats, pieces=(3, 3)))
    rings.append(Body("voice", *built.coil, k_w, k_w / 2, **made, covered=True))
    lies, cover = list(LIES.values())[random.integers(3)], Cover(*random.uniform([0, 0.01, 0.02], [0.1, 0.1, 0.2]))
    cells = Cells.cut(rings, Placed(lies, cover), random.uniform(0.7, 1.3))
    for name, P in (("field", random.uniform(0.1, 30)), ("voice", random.uniform(0.01, 5))):
        if nodes := cells.of(name):
            # on a fixed voltage there always is a rest
            sources.append(Supplied(nodes=tuple(nodes), share=cells.shares(nodes), R_20=5.0, alpha_20=0.00393,
                                    V_max=np.sqrt(5.0 * P)))  # fmt: skip
    return cells, Together(sources)


def test_random_drivers_come_to_rest() -> None:
    """Balance: 200 motors of every arrangement; above their room, heat in and out equal to 1e-5, and no warning."""
    for k in range(MANY):
        random = np.random.default_rng([7, k])
        with np.errstate(all="raise"), warnings.catch_warnings():
            warnings.simplefilter("error")
            cells, heat = warmed(random_built(random), random)
            T = cells.network.steady(20.0, heat)
            made, lost = heat(T[:-1])[0].sum(), cells.network.given_off(T, cells.network.conductances(T))[1]
        assert np.isfinite(T).all(), k
        assert T.min() >= 20 - 1e-3, k
        assert lost == pytest.approx(made, rel=1e-5), k


def test_finer_pieces_hardly_move_a_winding(monkeypatch: pytest.MonkeyPatch) -> None:
    """Limit: twice as many pieces each way: the rise of a winding in its pot moves by less than 1 %."""
    winding = Body("w", 12 * MM, 23 * MM, 7.5 * MM, 24.5 * MM, 0.44, 0.19, 2.3e6, 0.8, pieces=(3, 3), cuts=False,
                   heat=True)  # fmt: skip
    rises = []
    for finer in (1, 2):
        monkeypatch.setattr(bodies, "LONGEST", 0.02 / finer)
        cells = Cells.cut([*POT, replace(winding, pieces=(3 * finer, 3 * finer))], STANDS)
        nodes = cells.of("w")
        share = cells.shares(nodes)
        T = cells.network.steady(20.0, Fixed(tuple(nodes), 5.0 * share))
        rises.append(share @ T[nodes] - 20)
    assert rises[1] == pytest.approx(rises[0], rel=0.01)

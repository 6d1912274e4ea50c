"""A network of heat at rest and in time, against closed forms, balances and a general library."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.linalg import expm
from scipy.optimize import brentq, root

from handwound.physics.heat import network as module
from handwound.physics.heat.bodies import Body
from handwound.physics.heat.cells import Cells, Placed
from handwound.physics.heat.convection import h_vertical
from handwound.physics.heat.network import Faces, Layers, Links, Network, NoRestError
from handwound.physics.heat.radiation import h_radiation
from handwound.physics.heat.sources import Fixed, Supplied, Together
from tests.physics.heat.closed_forms import adiabatic_rate, lumped_rise
from tests.physics.heat.test_bodies import POT, ring

MM = 1e-3
H = 10.0
NONE = np.zeros((0,))
NOWHERE = np.zeros(0, int)
STANDS = Placed(("vertical",) * 4)


@pytest.fixture
def one_film(monkeypatch: pytest.MonkeyPatch) -> None:
    """One constant film, and nothing radiated: a closed form can follow."""
    monkeypatch.setattr(module, "FILMS", {"vertical": lambda T_s, T_a, size: H + 0 * T_s})
    monkeypatch.setattr(module, "h_radiation", lambda T_s, T_a, eps: 0 * T_s)


def lump(C_th: float = 500.0, A: float = 0.02, size: float = 0.06, eps: float = 0.9) -> Network:
    """One body in a room."""
    face = Faces(np.array([0]), np.array([1]), *(np.array([v]) for v in (A, size, eps, 0.0, A)))
    links, layers = Links(NOWHERE, NOWHERE, NONE), Layers(NOWHERE, NOWHERE, *[NONE] * 5)
    return Network(np.array([C_th]), links, layers, {"vertical": face})


def coil(nodes: tuple[int, ...] = (0,), share: tuple[float, ...] = (1.0,), **more) -> Supplied:
    """A winding of 4 Ω of copper."""
    return Supplied(nodes=nodes, share=np.array(share), R_20=4.0, alpha_20=0.00393, **more)


def driver() -> Cells:
    """A pot with a winding, and a voice coil in its gap."""
    wound = Body("field", 12 * MM, 23 * MM, 7.5 * MM, 24.5 * MM, 0.44, 0.19, 2.3e6, 0.8, pieces=(3, 3), cuts=False,
                 heat=True)  # fmt: skip
    voice = Body("voice", 10.5 * MM, 11 * MM, 24 * MM, 34 * MM, 0.44, 0.19, 2.3e6, 0.8, cuts=False, heat=True)
    return Cells.cut([*POT, wound, voice], STANDS)


def of_field(cells: Cells, **more) -> Supplied:
    """Its field winding on a supply."""
    nodes = cells.of("field")
    return coil(tuple(nodes), tuple(cells.shares(nodes)), **more)


def test_a_lump_warms_by_the_exponential(one_film: None) -> None:
    """Closed form: Newton's law of cooling with a constant film, to 0.1 % of the rise, at all times of eight hours."""
    network, P = lump(), 8.0
    t = np.append(0.0, np.geomspace(1.0, 8 * 3600.0, 40))
    run = network.run(t, network.at_room(20.0), Fixed((0,), np.array([P])))
    rise = lumped_rise(t, 500.0 / (H * 0.02), P / (H * 0.02))
    assert run.T[0] - 20 == pytest.approx(rise, rel=1e-3, abs=1e-3)


def test_at_first_copper_gives_off_nothing() -> None:
    """Closed form: rho J² / (rho_m c_p) in the first second; 20 A/mm² in copper is 2.0 K/s (evaluated apart)."""
    A, length, rho, rho_m, c_p = 0.2e-6, 10.0, 1 / 58e6, 8940.0, 385.0
    network = lump(C_th=A * length * rho_m * c_p, A=1e-3)
    fed = Supplied(nodes=(0,), share=np.array([1.0]), R_20=rho * length / A, alpha_20=0.00393, V_max=1e9, I_max=4.0)
    run = network.run(np.array([0.0, 0.1, 0.2]), network.at_room(20.0), fed)
    assert np.diff(run.T[0]) / 0.1 == pytest.approx(adiabatic_rate(20e6, rho, rho_m, c_p), rel=0.02)
    assert np.diff(run.T[0]) / 0.1 == pytest.approx(2.0037, rel=0.02)


def test_a_lump_at_rest_by_a_general_library() -> None:
    """Second method: one unknown by Brent's bracketing, films of air and radiation as they are."""
    network, P = lump(), 8.0

    def left(T: float) -> float:
        h = float(h_vertical(T, 20.0, 0.06)) + h_radiation(T, 20.0, 0.9)
        return P - h * 0.02 * (T - 20.0)

    assert network.steady(20.0, Fixed((0,), np.array([P])))[0] == pytest.approx(brentq(left, 21, 300), abs=1e-3)


def test_a_whole_driver_at_rest_by_a_general_library() -> None:
    """Second method: Powell's hybrid method (scipy) on the balance of every node."""
    cells = driver()
    network, fed = cells.network, of_field(cells, V_max=6.0)

    def left(T: np.ndarray) -> np.ndarray:
        every = np.append(T, 20.0)
        out, _ = network.given_off(every, network.conductances(every))
        return out - fed(T)[0]

    found = root(left, np.full(network.n, 60.0), method="hybr", options={"xtol": 1e-10})
    assert found.success
    assert network.steady(20.0, fed)[:-1] == pytest.approx(found.x, abs=1e-3)


@pytest.mark.parametrize("start", [20.0, 45.0, 150.0, 400.0])
def test_rest_does_not_hang_on_where_one_starts(start: float) -> None:
    """Limit: one state of rest on a fixed voltage, from a cold driver and from a glowing one."""
    cells = driver()
    fed, room = of_field(cells, V_max=6.0, I_max=1.2), cells.network.at_room(20.0)
    first = cells.network.steady(20.0, fed)
    again = driver().network.steady(20.0, fed, room - 20.0 + start)
    assert again == pytest.approx(first, abs=5e-4)


def test_at_rest_the_room_gets_what_is_made() -> None:
    """Balance: of the whole and of every node, to 1e-6 of the heat; each conductance counted by itself."""
    cells = driver()
    network, fed = cells.network, of_field(cells, V_max=6.0)
    T = network.steady(20.0, fed)
    made, G = fed(T[:-1])[0], network.conductances(T)
    given = sum(g * (T[i] - T[j]) for i, j, g in zip(*network.ends, G, strict=True) if j == network.n)
    assert given == pytest.approx(made.sum(), rel=1e-5)
    assert network.given_off(T, G)[1] == pytest.approx(given, rel=1e-12)
    assert network.given_off(T, G)[0] == pytest.approx(made, abs=1e-4 * made.sum())


def test_what_leads_there_leads_back() -> None:
    """Reciprocity: the matrix is symmetric, and its rows add up to what leads to the room."""
    cells = driver()
    network = cells.network
    T = network.steady(20.0, of_field(cells, V_max=6.0))
    G = network.conductances(T)
    matrix = network.matrix(G)
    assert matrix == pytest.approx(matrix.T, rel=1e-12)
    to_room = np.bincount(network.ends[0], np.where(network.ends[1] == network.n, G, 0.0), network.n)
    assert matrix.sum(axis=1) == pytest.approx(to_room, abs=1e-9)
    assert np.linalg.eigvalsh(matrix).min() > 0


def test_draws_rest_where_each_alone_does() -> None:
    """Second method: ten networks of other sizes at once, and each as plain numbers."""
    wide = np.linspace(0.9, 1.1, 10)

    def of(more) -> tuple[Network, Supplied]:
        sized = Body("field", 12 * MM, 23 * MM, 7.5 * MM, 24.5 * MM, 0.44 * more, 0.19 * more, 2.3e6, 0.8,
                     pieces=(3, 3), cuts=False, heat=True)  # fmt: skip
        cells = Cells.cut([*POT, sized], STANDS, k_conv=more)
        nodes = cells.of("field")
        fed = Supplied(nodes=tuple(nodes), share=cells.shares(nodes), R_20=4.0 / more, alpha_20=0.00393, V_max=6.0)
        return cells.network, fed

    network, fed = of(wide)
    together = network.steady(20.0 + 0 * wide, fed)
    for k, each in enumerate(wide):
        alone, fed = of(each)
        assert together[:, k] == pytest.approx(alone.steady(20.0, fed), abs=5e-4)


@pytest.mark.parametrize("hours", [0.5, 8.0])
def test_energy_over_a_run(hours: float) -> None:
    """Balance, from the temperatures alone: heat kept, and heat given off summed by Simpson's rule, are what was made.

    To 0.1 % of the energy, with the heat made summed in the same way.
    """
    cells = driver()
    network, fed = cells.network, of_field(cells, V_max=6.0)
    # close together at first, where the winding alone is warm
    t = 3600 * hours * np.linspace(0, 1, 4001) ** 3
    run = network.run(t, network.at_room(20.0), fed)
    lost = np.array([network.given_off(T, network.conductances(T))[1] for T in run.T.T])
    made = np.array([fed(T[:-1])[0].sum() for T in run.T.T])
    kept = network.C_th @ (run.T[:-1, -1] - 20.0)
    given, put_in = simpson(lost, x=t), simpson(made, x=t)
    assert kept + given == pytest.approx(put_in, rel=1e-3)
    assert (run.E_in[-1], run.E_out[-1]) == (pytest.approx(put_in, rel=1e-3), pytest.approx(given, rel=1e-3))


def test_a_run_ends_at_rest() -> None:
    """Limit: after a day nothing changes any more."""
    cells = driver()
    fed = of_field(cells, V_max=6.0)
    run = cells.network.run(np.array([0.0, 86400.0]), cells.network.at_room(20.0), fed)
    assert run.T[:, -1] == pytest.approx(cells.network.steady(20.0, fed), abs=0.01)


def runs_away(I: float) -> bool:
    """Whether a fixed current has no rest in the lump."""
    try:
        lump().steady(20.0, coil(V_max=1e9, I_max=I))
    except NoRestError:
        return True
    return False


def test_where_a_fixed_current_runs_away(one_film: None) -> None:
    """Closed form: h A = alpha R I² is the end; below it the rise is R I² / (h A - alpha R I²)."""
    most = np.sqrt(H * 0.02 / (0.00393 * 4.0))
    assert runs_away(1.02 * most)
    assert runs_away(3 * most)
    for share in (0.3, 0.8, 0.95):
        I = share * most
        T = lump().steady(20.0, coil(V_max=1e9, I_max=I))
        assert T[0] - 20 == pytest.approx(4.0 * I**2 / (H * 0.02 - 0.00393 * 4.0 * I**2), rel=1e-4)


def test_a_run_that_runs_away_never_looks_settled(one_film: None) -> None:
    """Closed form: beyond the end the rise grows by the exponential of a negative cooling."""
    network, I = lump(), 1.2 * np.sqrt(H * 0.02 / (0.00393 * 4.0))
    run = network.run(np.array([0.0, 1000.0, 2000.0]), network.at_room(20.0), coil(V_max=1e9, I_max=I))
    more = 0.00393 * 4.0 * I**2 - H * 0.02
    assert run.T[0] - 20 == pytest.approx(4.0 * I**2 / more * np.expm1(run.t * more / 500.0), rel=1e-3, abs=1e-6)


@pytest.mark.parametrize("I_max", [0.5, 1.1, 1.3, 5.0])
def test_a_supply_between_its_limits(one_film: None, I_max: float) -> None:
    """Closed form: at a fixed voltage a quadratic in the resistance; the lower temperature of both limits holds."""
    V, G = 6.0, H * 0.02
    R = np.max(np.roots([G / 0.00393 / 4.0, -G / 0.00393, -(V**2)]).real)
    at_voltage = (R / 4.0 - 1) / 0.00393
    at_current = 4.0 * I_max**2 / (G - 0.00393 * 4.0 * I_max**2) if 0.00393 * 4.0 * I_max**2 < G else np.inf
    T = lump().steady(20.0, coil(V_max=V, I_max=I_max))
    assert T[0] - 20 == pytest.approx(min(at_voltage, at_current), rel=1e-4)


def test_no_heat_no_rise() -> None:
    """Limit: a driver that is off is as warm as its room."""
    cells = driver()
    assert cells.network.steady(17.0, Together([])) == pytest.approx(17.0, abs=1e-4)


def test_bare_metal_stays_warmer() -> None:
    """Common practice, no source: radiation is half the cooling of a painted lump, a tenth of it is left when bare."""
    bare, painted = (lump(eps=eps).steady(20.0, Fixed((0,), np.array([8.0])))[0] - 20 for eps in (0.1, 0.9))
    assert 1.4 < bare / painted < 1.8


def test_the_air_of_a_box_stands_between() -> None:
    """Closed form: in a row with the walls of the box, which give off the watts at P / G."""
    network, heat = lump(), Fixed((0,), np.array([8.0]))
    T = network.behind(0.8, 50.0).steady(20.0, heat)
    assert T[1] == pytest.approx(20 + 8.0 / 0.8, abs=1e-3)
    assert T[0] == pytest.approx(network.steady(T[1], heat)[0], abs=2e-3)


def test_the_area_that_a_hand_can_reach() -> None:
    """Closed form: wall and both ends of a bare cylinder; its face is as warm as itself but for the way out of it."""
    cells = Cells.cut([ring("it", 0, 20, 0, 30)], STANDS)
    T = cells.network.steady(20.0, Together([Fixed((k,), np.array([2.0])) for k in range(cells.network.n)]))
    A_case, T_case = cells.network.outside(T)
    assert A_case == pytest.approx(2 * np.pi * 0.020 * 0.030 + 2 * np.pi * 0.020**2)
    assert T.max() - 0.2 < T_case < T.max()


@pytest.mark.parametrize("t", [0.01, 1.0, 60.0, 1e6])
def test_a_few_nodes_by_themselves(t: float) -> None:
    """Second method: a general library's matrix exponential; closed forms at the ends, P t / C and G⁻¹ P."""
    cells = driver()
    nodes = cells.of("field")
    share = cells.shares(nodes)
    few = cells.network.few(nodes, cells.network.steady(20.0, of_field(cells, V_max=6.0)))
    rise = few.rise(share, t)
    at_rest = np.linalg.solve(few.G, share)
    assert rise == pytest.approx(at_rest - expm(-few.G / few.C_th[:, None] * t) @ at_rest, rel=1e-6)
    if t == 0.01:
        assert rise == pytest.approx(share / few.C_th * t, rel=1e-3)
    if t == 1e6:
        assert rise == pytest.approx(at_rest, rel=1e-9)
    assert few.tau_T == pytest.approx(few.C_th.sum() / few.G.sum())


def test_a_few_nodes_of_many_draws() -> None:
    """Second method: five networks at once, and each alone."""
    wide = np.linspace(0.9, 1.1, 5)
    found = []
    for more in (wide, *wide):
        cells = Cells.cut([*POT, ring("coil", 12, 23, 8, 24, pieces=(2, 1))], STANDS, k_conv=more)
        nodes = cells.of("coil")
        network = replace(cells.network, C_th=cells.network.C_th * more)
        found.append(network.few(nodes, network.at_room(20.0 + 0 * more)).rise(cells.shares(nodes), 30.0))
    assert found[0] == pytest.approx(np.stack(found[1:], axis=-1), rel=1e-9)

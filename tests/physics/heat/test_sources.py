"""Windings as sources of heat: Ohm's law, balances, slopes by differences."""

from __future__ import annotations

import numpy as np
import pytest

from handwound.physics.heat.sources import Fixed, Played, Supplied, Together

ALPHA = 0.00393
T = np.array([30.0, 75.0, 60.0, 20.0])
SHARE = np.array([0.6, 0.4])


def supplied(**more) -> Supplied:
    """A winding of 8 Ω whose wire lies in nodes 1 and 2."""
    return Supplied(nodes=(1, 2), share=SHARE, R_20=8.0, alpha_20=ALPHA, **more)


def test_the_pieces_are_in_series() -> None:
    """Ohm's law by hand: 4.8 Ω at 75 °C and 3.2 Ω at 60 °C in a row on 12 V; each piece makes I² R."""
    R = np.array([4.8 * (1 + ALPHA * 55), 3.2 * (1 + ALPHA * 40)])
    fed = supplied(V_max=12.0)
    I_f = 12.0 / R.sum()
    assert fed.current(T) == pytest.approx(I_f)
    assert fed(T)[0] == pytest.approx([0.0, *(I_f**2 * R), 0.0])
    assert fed.R_T(T) == pytest.approx(R.sum())


def test_the_mean_temperature_is_what_the_meter_finds() -> None:
    """Closed form: R = R_20 (1 + alpha (T - 20)) turned about."""
    fed = supplied(V_max=12.0)
    assert fed.T_mean(T) == pytest.approx(20 + (fed.R_T(T) / 8.0 - 1) / ALPHA)


def test_a_meter_and_a_coil_of_copper() -> None:
    """Common practice, no source: 2.70 Ω cold at 20 °C and 3.10 Ω hot is 38 K warmer; 1.28 V cold gives 0.47 to 0.48 A.

    On the fixed voltage the current falls by the ratio of the resistances.
    """
    fed = Supplied(nodes=(0,), share=np.ones(1), R_20=2.70, alpha_20=ALPHA, V_max=1.28)
    cold, hot = np.array([20.0]), np.array([20.0 + 38.0])
    assert fed.R_T(hot) == pytest.approx(3.10, abs=0.005)
    assert 0.47 <= fed.current(cold) <= 0.48
    assert fed.current(hot) / fed.current(cold) == pytest.approx(2.70 / 3.10, abs=1e-3)
    assert fed(hot)[0].sum() / fed(cold)[0].sum() == pytest.approx(2.70 / 3.10, abs=1e-3)


@pytest.mark.parametrize(("I_max", "I_f"), [(0.5, 0.5), (5.0, None)])
def test_the_lower_limit_counts(I_max: float, I_f: float | None) -> None:
    """Limit: below the crossover the current's limit, above it the voltage's."""
    fed = supplied(V_max=12.0, I_max=I_max)
    assert fed.current(T) == pytest.approx(I_f or 12.0 / fed.R_T(T))


def test_music_in_a_hot_coil() -> None:
    """Closed form: heat falls with (Re / R)^n, all of it in the winding."""
    played = Played(nodes=(1, 2), share=SHARE, R_20=8.0, alpha_20=ALPHA, P_cold=3.0, Re=8.2, n_hot=0.7)
    assert played(T)[0].sum() == pytest.approx(3.0 * (8.2 / played.R_T(T)) ** 0.7)
    assert played.P(T) == pytest.approx(played(T)[0].sum())


@pytest.mark.parametrize(
    "source",
    [supplied(V_max=12.0), supplied(V_max=1e3, I_max=1.0), Fixed((2,), np.array([3.0])),
     Played(nodes=(1, 2), share=SHARE, R_20=8.0, alpha_20=ALPHA, P_cold=3.0, Re=8.2, n_hot=0.7)],
    ids=["voltage", "current", "fixed", "music"],
)  # fmt: skip
def test_slopes(source) -> None:
    """Second method: the heat of the whole driver by central differences, all nodes warmed alike.

    A node's slope says what it adds when the whole winding warms: one piece alone also changes the others' current.
    """
    more = 1e-3
    by_hand = (source(T + more)[0].sum() - source(T - more)[0].sum()) / (2 * more)
    assert source(T)[1].sum() == pytest.approx(by_hand, rel=0.01, abs=1e-12)


def test_sources_add_and_take_draws() -> None:
    """Balance: each source alone, over an axis of draws."""
    many = T[:, None] + np.linspace(-5, 5, 7)
    fed = Supplied(nodes=(1, 2), share=SHARE[:, None], R_20=8.0, alpha_20=ALPHA, V_max=np.linspace(11, 13, 7))
    fixed = Fixed((0,), np.full((1, 7), 2.5))
    q, slope = Together([fed, fixed])(many)
    assert q == pytest.approx(fed(many)[0] + fixed(many)[0])
    assert slope == pytest.approx(fed(many)[1])
    for k in range(7):
        assert q[1:, k] == pytest.approx(supplied(V_max=np.linspace(11, 13, 7)[k])(many[:, k])[0][1:])

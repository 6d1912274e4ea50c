"""The alignments of closed and vented boxes, and drivers with published numbers, through the whole program."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.mounting import Lodging
from handwound.parts.heat import Box
from handwound.parts.mounting import Port
from handwound.parts.prediction import Chain
from handwound.physics import air, vents
from handwound.sounding import mount
from tests import closed
from tests.examples import built

T = 20.0
RHO_0, C_0 = float(air.density(T)), float(air.speed(T))
FS, VAS, SD, R_E = 40.0, 60e-3, 0.02, 6.0
TIGHT = 1e9


@pytest.fixture(scope="module")
def done(tmp_path_factory) -> Chain:
    """Any driver through its stages."""
    return built(tmp_path_factory.mktemp("job") / "open-day", "open-day").done


def driver(done: Chain, Qts: float) -> Chain:
    """One of 40 Hz and 60 l that only its motor brakes. Of its mass (8/3) rho a³ is the air of the front, 0.65 rho pi
    a³ that in the box (Rayleigh and Beranek, from memory), so that it is all of it there."""
    K = RHO_0 * C_0**2 * SD**2 / VAS
    M, a = K / (2 * np.pi * FS) ** 2, float(np.sqrt(SD / np.pi))
    carried = (8 / 3 + 0.65 * np.pi) * RHO_0 * a**3
    moving = replace(done.moving, Mmd=M - carried, Mms=M, m_air=carried, Kms=K, Rms=1e-9, Sd=SD, a=a)
    Bl = float(np.sqrt(np.sqrt(K * M) / Qts * R_E))
    known = replace(done.driver, Re=R_E, fs=FS, Vas=VAS, Qms=1e9, Qes=Qts, Qts=Qts)
    return replace(done, moving=moving, motor=replace(done.motor, Bl=Bl), driver=known)


@pytest.mark.parametrize(
    ("Qts", "Qtc", "k_3", "peak"),
    [(0.35, 0.5, 1.5538, 0.0), (0.35, 2**-0.5, 1.0, 0.0), (0.35, 1.0, 0.7862, 1.249), (0.35, 1.2, 0.7358, 2.412)],
)
def test_closed_boxes(done, Qts, Qtc, k_3, peak) -> None:
    """Kind of truth: closed form of a second-order high-pass, worked by hand. The box's own loss of 3 % is in it, and
    the sound that it sends, 4 pi² fs² f V / c³ (Small 1972, from memory): the quality factor of all is lower by up to
    4 %."""
    alpha, f_c = (Qtc / Qts) ** 2 - 1, FS * Qtc / Qts
    got = mount(driver(done, Qts), Lodging(box=Box(V_box=VAS / alpha, t_box=15e-3)), 0.0, T)
    assert got.f_c == pytest.approx(f_c, rel=0.01)
    lossy = 1 / (1 / Qtc + 0.03 * alpha / (1 + alpha) + 4 * np.pi**2 * f_c * FS**2 * VAS / C_0**3)
    f_3, boom = closed.low_end(f_c, lossy)
    assert got.f_3 == pytest.approx(f_3, rel=0.005)
    assert got.f_3 / f_c == pytest.approx(k_3, rel=0.04)
    x = np.geomspace(0.1, 3, 2000)
    assert got.dL_peak == pytest.approx(closed.level(x, 1.0, lossy).max(), abs=0.1)
    assert boom == pytest.approx(peak, abs=0.35)  # without those losses


def test_a_closed_box_of_a_designer(done) -> None:
    """Kind of truth: closed form, worked by hand. 40 Hz, 0.35, 60 l, as flat as can be: 19.471 l, 80.811 Hz."""
    got = mount(driver(done, 0.35), Lodging(box=Box(V_box=19.471e-3, t_box=15e-3)), 0.0, T)
    assert got.f_c == pytest.approx(80.811, rel=0.01)


@pytest.mark.parametrize(
    ("Qts", "h", "alpha", "Q_leak", "k_3"),
    [
        (0.38268, 1.0, 1.41421, TIGHT, 1.0), (0.39791, 1.0, 1.16290, 10.0, 1.0), (0.40481, 1.0, 1.06132, 7.0, 1.0),
        (0.25, 1.46059, 4.86667, TIGHT, 1.84943), (0.30, 1.23542, 3.02930, TIGHT, 1.46793),
        (0.30, 1.31453, 2.84520, 7.0, 1.57316),
    ],
)  # fmt: skip
def test_the_flattest_vented_boxes(done, Qts, h, alpha, Q_leak, k_3) -> None:
    """Kind of truth: closed form of Small's polynomial (1973, from memory), its roots worked by hand: box, port, leak
    and low limit of the flattest fourth order and of quasi-flat ones. A port so wide that its friction is nothing."""
    V_box = VAS / alpha
    l_port = float(vents.port_length(V_box, FS * h, 1, 0.2, vents.FLANGED + vents.FREE, C_0))
    port = Port(n_port=1, d_port=0.2, l_port=l_port, Q_leak=Q_leak)
    got = mount(driver(done, Qts), Lodging(box=Box(V_box=V_box, t_box=15e-3), port=port), 0.0, T)
    assert got.f_3 / FS == pytest.approx(k_3, rel=0.01)
    assert abs(got.dL_peak) < 0.15

"""What benches know of warm motors, without a source, beside the example's motor as it is computed."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from handwound import Job, predict, stages, warmth
from handwound.materials import surfaces
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS
from tests.examples import started


class Bench(NamedTuple):
    """The open-day motor on its supply, its field coil as wound."""

    design: Design
    brief: Brief
    wound: stages.Winding

    def settled(self, **painted: str) -> warmth.Settled:
        """At rest; all its iron with one surface where one is named."""
        design = self.design
        if painted:
            rings = tuple(replace(r, surface=surfaces.surface(painted["surface"])) for r in design.iron.rings)
            design = replace(design, iron=replace(design.iron, rings=rings))
        return warmth.settle(design, self.brief, DOUBTS, self.wound)


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Bench:
    job = Job(started(tmp_path_factory.mktemp("practice") / "job", "open-day"))
    return Bench(job.design, job.brief, predict.feed(job.design.field_coil, job.brief).wound)


def test_watts_over_the_outside(bench: Bench) -> None:
    """Common practice, no source: a painted motor gives off 9 to 13 W/(m²·K) of all it shows to the air."""
    found = bench.settled()
    A = 2 * np.pi * 34e-3 * 12e-3 + 2 * np.pi * 30.15e-3 * 46e-3 + np.pi * (34e-3**2 + 34e-3**2)
    rise = found.T_case - found.T[-1]
    assert 9 < found.q.sum() / A / rise < 13


def test_bare_metal_against_paint(bench: Bench) -> None:
    """Common practice, no source: radiation is half the cooling of paint, so bare metal rises by half again or more.

    On its fixed voltage a warmer coil takes fewer watts, so the rise is set over the watts.
    """
    per_watt = []
    for surface in ("painted", "bright steel"):
        found = bench.settled(surface=surface)
        per_watt.append((found.T_case - found.T[-1]) / found.q.sum())
    assert 1.35 < per_watt[1] / per_watt[0] < 2.0


def test_the_winding_is_hotter_than_the_outside(bench: Bench) -> None:
    """Common practice, no source: by 5 to 20 K in a coil of this size; the hot spot by less than half of that again."""
    found = bench.settled()
    T_f, T_hot = found.fed.T_mean(found.T), found.model.hot_spot(found.T, found.q)
    assert 5 < T_f - found.T_case < 20
    assert 0 < T_hot - T_f < 10


def test_an_hour_and_no_longer(bench: Bench) -> None:
    """Common practice, no source: a motor of a kilogram takes half an hour for 63 %, and is warm for good in two or
    three hours; a cold coil on a fixed voltage has then lost 10 to 20 % of its current."""
    found = bench.settled()
    t = np.array([0.0, 900.0, 1800.0, 2700.0, 3600.0, 3 * 3600.0])
    network = found.model.network
    run = network.run(t, network.at_room(20.0), found.beside())
    T_case = found.model.network.outside(run.T)[1]
    share = (T_case - T_case[0]) / (found.T_case - T_case[0])
    assert share[1] < 0.632 < share[4]
    assert share[5] > 0.95
    I_f = [found.fed.current(T[:-1]) for T in run.T.T]
    assert 0.80 < I_f[-1] / I_f[0] < 0.90


def test_a_meter_tells_the_mean(bench: Bench) -> None:
    """Common practice, no source: (234.5 + T_0) R / R_0 - 234.5 for copper, to half a kelvin of the mean here."""
    found = bench.settled()
    R_0, R = bench.wound.R_T, found.fed.R_T(found.T)
    assert (234.5 + 20.0) * R / R_0 - 234.5 == pytest.approx(float(found.fed.T_mean(found.T)), abs=0.5)


def test_it_gets_too_hot_to_hold_before_it_harms_enamel(bench: Bench) -> None:
    """Common practice, no source: hands let go at about 50 °C, where enamel (105 °C at least) is safe."""
    found = bench.settled()
    assert found.T_case > 48
    assert found.model.hot_spot(found.T, found.q) < 105

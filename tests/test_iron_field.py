"""From the parts to what the solver is asked: magnets and metals at their temperature, slopes, the legs of a yoke."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import Job, iron_field, predict, spread, stages
from handwound.parts.design import Brief
from handwound.parts.iron import Iron, Ring
from handwound.parts.source import Amplifier
from handwound.physics import field
from tests.files import bench, usual

GAP = (12.95e-3, 13.3e-3)
TIGHT = """
[[iron.ring]]
name = "thimble"
from = "tube"
t = "8 mm"
z = "50 mm"

[[iron.ring]]
name = "shorting"
from = "tube"
grade = "aluminium"
t = "3 mm"
z = "20 mm"

[field_coil]"""
TUBE = '\n[[metal]]\nname = "tube"\nform = "pipe"\nd_out = "25.2 mm"\nwall = "0.1 mm"\nlength = "40 mm"\n'


@pytest.fixture
def ferrite(tmp_path):
    return usual.read(usual.write(tmp_path, "ring magnet"))


@pytest.fixture
def yoke(tmp_path):
    return usual.read(usual.write(tmp_path, "strap yoke"))


def asked(design, T: float = 20.0) -> dict[str, field.Ring]:
    return {ring.name: ring for ring in iron_field.problem(design, 0.0, 0.0, T=T).rings}


def Bl(solved: field.Solution, design) -> float:
    low, high = (float(z) for z in design.iron.plate_levels())
    return float(solved.Bl(*GAP, low, high, 100, np.zeros(1))[0])


def test_a_magnet_is_on_the_recoil_line_of_its_grade(ferrite) -> None:
    """Kind of truth: closed form. Y30 and Y30BH have 0.385 T and lose 0.2 % a kelvin; turned round it points down."""
    magnet, turned = asked(ferrite)["magnet"].magnet, asked(ferrite)["bucking"].magnet
    assert magnet == field.Magnet(0.385, 1.07, "up")
    assert turned == field.Magnet(0.385, 1.07, "down")
    warm = asked(ferrite, 70.0)["magnet"].magnet
    assert warm is not None and warm.B_rem == pytest.approx(0.385 * 0.9)


def test_the_magnets_of_the_page_keep_their_strength(ferrite) -> None:
    """Kind of truth: limit. What the page tells people to build may stand in a winter's shed, at 0 °C."""
    found = iron_field.find(ferrite, 0.0, 0.0, 0.0)
    states = {state.name: state for state in stages.magnet_states(ferrite.iron, found, 20.0)}
    assert set(states) == {"magnet", "bucking"}
    assert max(state.T_knee for state in states.values()) < 0


def test_a_remanence_that_was_measured_counts(tmp_path) -> None:
    rings = asked(usual.read(usual.write(tmp_path, "cup magnet")))
    assert [rings[f"magnet {k}"].magnet.B_rem for k in (1, 2, 3)] == [pytest.approx(1.29)] * 3


def test_copper_conducts_and_is_not_magnetic(ferrite) -> None:
    """Kind of truth: closed form. 58 MS/m at 20 °C (IEC 60028), 39.3 % more resistive at 120 °C."""
    cap, warm = asked(ferrite)["cap"], asked(ferrite, 120.0)["cap"]
    assert cap.curve is None and cap.magnet is None
    assert cap.sigma == pytest.approx(58e6, rel=1e-3)
    assert cap.sigma / warm.sigma == pytest.approx(1.393)


def test_the_band_of_a_magnet_is_that_of_full_solutions(ferrite) -> None:
    """Kind of truth: second method: the field solved with the magnet at the end of its band, Y30 ± 0.015 T."""
    found = iron_field.find(ferrite, 0.0, 0.0, 0.0)
    low, high = (float(z) for z in ferrite.iron.plate_levels())
    answer = iron_field.answers(found, ferrite, (*GAP, low, high))["Y30", "B_rem"].slope
    iron = iron_field.changed_iron(ferrite.iron, "magnet", "B_rem", 0.015)
    stronger = field.solve(iron_field.problem(replace(ferrite, iron=iron), 0.0, 0.0), 0.0)
    change = Bl(stronger, ferrite) / Bl(found.solution, ferrite) - 1
    assert change > 0.005
    assert answer == pytest.approx(change, rel=0.1)


def test_a_slope_goes_to_the_solver(ferrite) -> None:
    tapered = iron_field.changed_iron(ferrite.iron, "pole", "d_out", -2e-3)
    pole = next(ring for ring in tapered.rings if ring.name == "pole")
    rings = tuple(replace(ring, d_out_hi=25e-3) if ring.name == "pole" else ring for ring in tapered.rings)
    found = asked(replace(ferrite, iron=replace(tapered, rings=rings)))["pole"]
    assert (found.r_out, found.r_out_hi, found.r_in_hi) == (pytest.approx(11.5e-3), pytest.approx(12.5e-3), None)
    assert pole.d_out_hi is None


def test_legs_taken_in_two_ways_hold_the_same_steel(yoke) -> None:
    """Kind of truth: closed form. Polarisation times area, at every field strength; full, both carry the same flux."""
    thin = iron_field.problem(yoke, 50e-3, 1000.0)
    thick = iron_field.with_spread_legs(thin, yoke.iron)
    legs = [next(ring for ring in each.rings if ring.name == "legs") for each in (thin, thick)]
    assert legs[1].r_out - legs[1].r_in == pytest.approx(5e-3)
    H = np.array([100.0, 1e3, 1e4, 1e5])
    held = [np.pi * (leg.r_out**2 - leg.r_in**2) * (leg.curve.B_of(H) - 4e-7 * np.pi * H) for leg in legs if leg.curve]
    assert held[1] == pytest.approx(held[0], rel=2e-3)
    for NI, apart in ((500.0, 0.10), (4000.0, 0.005)):
        one, other = (Bl(field.solve(each, NI, None, 2, field.SEARCH), yoke) for each in (thin, thick))
        assert one == pytest.approx(other, rel=apart)
    assert iron_field.with_spread_legs(thin, replace(yoke.iron, rings=yoke.iron.rings[:1])) == thin


def test_no_current_runs_round_the_axis_in_flat_bars(yoke) -> None:
    """Kind of truth: limit. Two bars are no closed ring: alternating flux meets them as if they were laminated."""
    rings = iron_field.problem(yoke, 50e-3, 1000.0).rings
    assert {ring.name for ring in rings if ring.sigma == 0} == {"legs"}


def test_sloped_iron_leaves_the_room_at_its_levels() -> None:
    """Kind of truth: closed form. A pole from 20 to 24 mm over 10 mm is 22 mm half way; its plate is straight."""
    pole = Ring(name="pole", grade="dc01", d_in=0.0, d_out=20e-3, d_out_hi=24e-3, t=10e-3)
    plate = Ring(name="plate", grade="dc01", d_in=28e-3, d_out=60e-3, t=5e-3)
    iron = Iron(name="x", plate=("plate",), rings=(pole, plate))
    assert iron.room(26e-3, 0.0, 5e-3) == (pytest.approx(22e-3), pytest.approx(28e-3))
    assert iron.room(26e-3, 5e-3, 10e-3) == (pytest.approx(24e-3), None)


def test_a_ring_may_be_called_as_its_steel_is(yoke) -> None:
    """Kind of truth: limit. The steel's doubt is drawn all the same: 90 % of the draws within 1 ± 0.1."""
    rings = tuple(
        replace(ring, **{name: "dc01" for name in ("name", "on") if getattr(ring, name) == "pole"})
        for ring in yoke.iron.rings
    )
    called = replace(yoke, iron=replace(yoke.iron, rings=rings))
    brief = Brief(
        name="x", iron="x", amplifier=Amplifier(name="a", P_max=15.0, Z_least=4.0), Z_rated=8.0, D_outline=0.1,
        L_want=84.0, f_low=100.0, c_min=0.0, x_pk=0.0,
    )  # fmt: skip
    low, high = np.percentile(spread.draw(called, brief, {("dc01", "k_B"): (0.1, 0.0)}).k_Bl, [5, 95])
    assert (low, high) == pytest.approx((0.9, 1.1), abs=0.01)


def test_rings_that_sit_tight_on_the_pole_leave_it_its_doubt(tmp_path) -> None:
    """Kind of truth: second method: the whole motor, and one with a thinner pole, solved; a still field passes metal.

    The pole of 25 ± 0.05 mm fills a thimble and a shorting ring of 25 mm: it can only be drawn thinner.
    """
    Bls = []
    for rings in ("\n[field_coil]", TIGHT):
        bench.write(tmp_path)
        stock = bench.STOCK.replace('d_out = "25 mm"', 'd_out = "25 ± 0.05 mm"') + TUBE
        (tmp_path / "stock.toml").write_text(stock, encoding="utf8")
        design = bench.DESIGN.replace("\n[field_coil]", rings)
        (tmp_path / "design.toml").write_text(design, encoding="utf8")
        (tmp_path / "readings.csv").write_text("time,where,quantity,value,note\n", encoding="utf8")
        job = Job(tmp_path)
        found = job.predict()
        Bls.append(found.bands["motor.Bl"])
    loose, tight = Bls
    assert tight.value == pytest.approx(loose.value, rel=1e-3)
    assert tight.high - tight.low == pytest.approx(loose.high - loose.low, rel=0.05)
    field_now = predict.field_of(job.design, job.brief)
    place = stages.coil_place(job.design.iron, job.design.voice_coil, found.voice_winding.D_w)
    iron = iron_field.changed_iron(job.design.iron, "pole", "d_out", -0.05e-3)
    thinner = iron_field.problem(replace(job.design, iron=iron), *iron_field.wound(field_now.problem))
    coil = tuple(float(each) for each in place)
    after = field.solve(thinner, field_now.solution.NI).Bl(*coil, 1)
    change = float(after / field_now.solution.Bl(*coil, 1)) - 1
    assert iron_field.answers(field_now, job.design, place)["pole", "d_out"].slope == pytest.approx(-change, rel=0.1)

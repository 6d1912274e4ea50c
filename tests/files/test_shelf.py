"""How large a sheet is, how long a glue needs, where screws and vents stand; and the driver that is built already."""

from __future__ import annotations

from math import pi, sin

import pytest

from handwound.job import Job, example_folder
from handwound.materials.tables import table
from tests.files import bench

RESCUE = "rescue"
LINES = {str(line["kind"]): line for line in table("adhesives")}
HEATED = ("heat-cured epoxy", "bonding enamel")
"""Common practice: an oven or a current cures these, no clock does."""
H, MIN, MM = 3600.0, 60.0, 1e-3


def test_a_sheet_says_how_large_it_is(tmp_path) -> None:
    """Kind of truth: ISO 216, the sides of A4."""
    new = 'material = "card 160"\nwidth = "210 mm"\nlength = "29.7 cm"\ncount = 5'
    bench.write(tmp_path, "stock.toml", 'material = "card 160"', new)
    card, foam = bench.read(tmp_path)[0].sheets
    assert (card.width, card.length, card.count) == (pytest.approx(210 * MM), pytest.approx(297 * MM), 5)
    assert (foam.width, foam.length, foam.count) == (None, None, 1)


@pytest.mark.parametrize("kind", LINES)
def test_a_glue_waits_to_the_patient_end(kind, tmp_path) -> None:
    """Kind of truth: the table, and that what holds a load holds by itself (common practice)."""
    bench.write(tmp_path, "stock.toml", 'kind = "slow epoxy"', f'kind = "{kind}"')
    (glue,) = bench.read(tmp_path)[0].adhesives
    assert (glue.t_set, glue.t_cure) == (LINES[kind]["t_set_high"], LINES[kind]["t_cure_high"])
    assert (glue.t_set is None) is (glue.t_cure is None) is (kind in HEATED)
    assert glue.t_set is None or 0 < glue.t_set <= glue.t_cure


def test_the_label_of_a_glue_counts_with_its_doubt(tmp_path) -> None:
    told = 'kind = "slow epoxy"\nt_set = "5 ± 1 h"\nt_cure = "16 h"'
    bench.write(tmp_path, "stock.toml", 'kind = "slow epoxy"', told)
    (glue,) = bench.read(tmp_path)[0].adhesives
    assert (glue.t_set, glue.t_cure) == (pytest.approx(6 * H), pytest.approx(16 * H))
    assert not {"t_set", "t_cure"} & dict(glue.spread).keys()


def test_white_glue_is_let_go_within_the_hour() -> None:
    """Kind of truth: common practice, no source: clamped for half an hour, loaded the next day."""
    line = LINES["white glue"]
    assert line["t_set_low"] <= 30 * MIN <= line["t_set_high"] <= H
    assert line["t_cure_low"] <= 24 * H <= line["t_cure_high"]


def test_screws_and_vents_stand_on_their_circles(tmp_path) -> None:
    """Kind of truth: closed form, the chord between neighbours on a circle."""
    vents = '[back]\nV_back = "0.1 l"\nn_vent = 6\nd_vent = "10 mm"\nt_vent = "1 mm"\nD_vent = "20.1 mm"\n'
    rim = '[flange]\nn_screw = 4\nd_screw = "4.5 mm"\nD_screw = "140 mm"\n'
    bench.write(tmp_path, "design.toml", "[moving]", f"{vents}{rim}[moving]")
    _, _, design = bench.read(tmp_path)
    assert design.back.D_vent == pytest.approx(20.1 * MM)
    assert design.back.D_vent * sin(pi / 6) > design.back.d_vent
    assert (design.flange.n_screw, design.flange.d_screw, design.flange.D_screw) == (4, 4.5 * MM, 140 * MM)


def test_a_driver_without_a_rim(tmp_path) -> None:
    bench.write(tmp_path)
    assert bench.read(tmp_path)[2].flange is None


def test_the_rescued_driver_is_built() -> None:
    job = Job(example_folder(RESCUE))
    assert job.check() == ()
    assert all(coil.wire for coil in job.design.coils.values())


def test_what_the_rescuer_read_tells_reversed_layers() -> None:
    """Kind of truth: closed form, the balance Bl = m g / I of what its file tells, and N - 2n turns that work.

    The field of a pot that is far from full goes with its ampere-turns; this one is a little full, so with fewer of
    them each is worth more, by some hundredths."""
    job = Job(example_folder(RESCUE))
    Bl, n_l = job.predict().bands["motor.Bl"], int(job.design.field_coil.n_l)
    read, reversed_6 = 0.020 * 9.81 / 0.091, (n_l - 12) / n_l
    assert read < 0.5 * Bl.low
    assert Bl.low * reversed_6 <= read <= Bl.high * reversed_6
    faults = {each.name: each for each in job.motor().winding_faults}
    assert 10 ** (faults["6 layers reversed"].dL / 20) == pytest.approx(reversed_6, rel=0.08)

"""A coil that is begun: what was counted and joined, from the file through the ladder to the search."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwound.files.fits import layers_within, wire_length, wound_diameter
from handwound.parts.coil import FieldCoil
from handwound.physics.winding import outer_diameter
from handwound.search.rank import _not_wound
from handwound.stages import ladder, rungs, winding
from tests.files import bench


def read(folder: Path, *changed: str) -> FieldCoil:
    """The field coil of the small sound job, with other lines in place of its packing."""
    bench.write(folder, "design.toml", "k_p = 0.97", "\n".join(changed))
    coil = bench.read(folder)[2].field_coil
    assert coil
    return coil


@pytest.mark.parametrize(
    ("counted", "rest"), [("[72, 70, 72]", 71), ("[70, 71]", 71), ("[69]", 69), ("[70, 70, 71]", 70)]
)
def test_counted_layers_stay_and_the_others_follow(counted: str, rest: int, tmp_path: Path) -> None:
    """Kind of truth: counting. The ladder begins with the counts and goes on with whole turns next to their mean."""
    coil = read(tmp_path, f"N_counted = {counted}")
    N_l = rungs(coil, 20.0).N_l.tolist()
    assert N_l[: len(coil.N_counted)] == list(coil.N_counted)
    assert set(N_l[len(coil.N_counted) :]) == {rest}
    assert winding(coil, 20.0).N == sum(N_l)


def test_one_count_is_the_first_of_several(tmp_path: Path) -> None:
    """Kind of truth: limit. ``N_1 = 70`` and ``N_counted = [70]`` are one coil, known to half a turn."""
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    short, long = read(tmp_path / "a", "N_1 = 70"), read(tmp_path / "b", "N_counted = [70]")
    assert rungs(short, 20.0).R_T == pytest.approx(rungs(long, 20.0).R_T)
    assert dict(short.spread)["k_p"] == dict(long.spread)["k_p"] == pytest.approx(0.5 * 0.55 / 42)


def test_the_meter_reads_what_the_winding_has(tmp_path: Path) -> None:
    """Kind of truth: balance. The last rung is the whole coil, with counted layers and splices and in any sections."""
    coil = replace(read(tmp_path, "N_counted = [72, 70, 72]", 'lay = "nested"'), n_splice=2)
    for each in (coil, replace(coil, n_sec=4)):
        wound, last = winding(each, 20.0), rungs(each, 20.0)
        assert (wound.N, wound.l_w, wound.R_20) == pytest.approx((last.N[-1], last.l_w[-1], last.R_20[-1]))
        assert wire_length(each) == pytest.approx(wound.l_w)
    one_less = winding(replace(coil, n_splice=1), 20.0)
    assert one_less.N - winding(coil, 20.0).N == 1
    bands = [layer.R_T_band for layer in ladder(coil, 20.0, replace(coil, h_w=np.full(9, coil.h_w)), 20.0)]
    assert all(band.low <= band.value <= band.high for band in bands)


def test_the_window_has_room_for_the_crossings(tmp_path: Path) -> None:
    """Kind of truth: closed form. Nested or stacked, a coil needs the room of the stacked one; a splice needs more."""
    coil = read(tmp_path, "k_p = 0.97", 'lay = "nested"')
    stacked, spliced = replace(coil, lay="stacked"), replace(coil, n_splice=1)
    assert coil.wire
    assert wound_diameter(coil) == pytest.approx(wound_diameter(stacked))
    assert wound_diameter(stacked) == pytest.approx(outer_diameter(coil.D_f, coil.wire.d_o, 1.0, coil.n_l, 0, 0.0))
    assert wound_diameter(spliced) - wound_diameter(coil) == pytest.approx(2 * (2 * 0.5 + 2 * 0.25 - 0.55) * 1e-3)
    assert layers_within(coil, wound_diameter(stacked) * 1.0001) == coil.n_l
    found = winding(coil, 20.0)
    assert found.D_w + 2 * found.bulge == pytest.approx(wound_diameter(coil))


def test_a_search_begins_with_an_empty_spool(tmp_path: Path) -> None:
    """Kind of truth: limit. Counts are of the wire that lies there; other wires are tried without them."""
    bench.write(tmp_path, "design.toml", "k_p = 0.97", "N_counted = [72, 70]")
    design = bench.read(tmp_path)[2]
    bare = _not_wound(design)
    assert design.field_coil
    assert bare.field_coil
    assert bare.field_coil.N_counted == bare.voice_coil.N_counted == ()
    assert bare.field_coil.k_p == design.field_coil.k_p

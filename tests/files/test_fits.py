"""What cannot stand in one place, by other ways of looking: points in rectangles, counting layers, adding up wire."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.files import fits
from handwound.files.iron_fits import Body, Misfit, clash, iron_fits, like_poles, ring_bodies
from handwound.files.stock import read_stock
from handwound.materials.tables import table
from handwound.parts.design import Design
from handwound.parts.iron import Iron, Ring
from tests.files import bench, usual

EDGES = st.tuples(st.integers(0, 8), st.integers(1, 6))


def body(name: str, across: tuple[int, int], along: tuple[int, int]) -> Body:
    return Body(name, across[0], across[0] + across[1], along[0], along[0] + along[1])


@given(EDGES, EDGES, EDGES, EDGES)
def test_two_bodies_clash_where_a_point_is_in_both(a, b, c, d) -> None:
    """Kind of truth: second method, every point of a fine grid."""
    one, other = body("one", a, b), body("other", c, d)
    points = [(k + 0.5, n + 0.5) for k in range(16) for n in range(16)]

    def holds(of: Body, point: tuple[float, float]) -> bool:
        return of.d_in < point[0] < of.d_out and of.z_lo < point[1] < of.z_hi

    shared = any(holds(one, point) and holds(other, point) for point in points)
    assert (clash(one, other) is not None) is shared


@given(EDGES, EDGES, EDGES, EDGES)
def test_moving_by_the_depth_ends_a_clash(a, b, c, d) -> None:
    """Kind of truth: limit. The depth told is the least that has to be taken away on the side told."""
    one, other = body("one", a, b), body("other", c, d)
    met = clash(one, other)
    if met is None:
        return
    change = {
        "inside": {"d_in": one.d_in + 2 * met.depth},
        "outside": {"d_out": one.d_out - 2 * met.depth},
        "below": {"z_lo": one.z_lo + met.depth},
        "above": {"z_hi": one.z_hi - met.depth},
    }[met.side]
    assert clash(one._replace(**change), other) is None


LEANING = st.tuples(st.integers(0, 8), st.integers(1, 6), st.integers(0, 8), st.integers(1, 6))


def leaning(name: str, across: tuple[int, int, int, int], along: tuple[int, int]) -> Body:
    straight = body(name, across[:2], along)
    return straight._replace(upper=(across[2], across[2] + across[3]))


@given(LEANING, EDGES, LEANING, EDGES)
def test_two_sloped_bodies_clash_where_a_point_is_in_both(a, b, c, d) -> None:
    """Kind of truth: second method: the two widths at a hundred levels."""
    one, other = leaning("one", a, b), leaning("other", c, d)
    shared = 0.0
    for k in range(101):
        low, high = max(one.z_lo, other.z_lo), min(one.z_hi, other.z_hi)
        (d_in, d_out), (its_in, its_out) = (each.across(low + k / 100 * (high - low)) for each in (one, other))
        shared = max(shared, min(d_out, its_out) - max(d_in, its_in)) if high > low else 0.0
    if not 0 < shared < 0.2:  # between two of the levels more may be shared
        assert (clash(one, other) is not None) is (shared > 0)


def ring(name: str, **sizes: Any) -> Ring:
    return Ring(**{"name": name, "grade": "mild_steel", "d_in": 0.0, "d_out": 40e-3, "t": 5e-3} | sizes)


def told_of(*rings: Ring) -> list[Misfit]:
    iron = Iron(name="x", plate=(rings[0].name,), rings=rings)
    return [*iron_fits(iron), *like_poles(iron)]


def test_a_pole_that_fits_only_below_is_told() -> None:
    """Kind of truth: closed form: a bore of 20 mm takes a pole of 19 mm, and not one that grows to 21 mm within it."""
    plate, pole = ring("plate", d_in=20e-3), ring("pole", d_out=19e-3)
    assert told_of(plate, pole) == []
    (told,) = told_of(plate, replace(pole, d_out_hi=21e-3))
    assert told.found == '0.5 mm of it in ring "plate"'
    assert told_of(replace(plate, d_in_hi=22e-3), replace(pole, d_out_hi=21e-3)) == []


def test_what_hangs_under_a_ring_is_carried_by_it() -> None:
    plate, collar = ring("plate", d_in=20e-3, z=10e-3), ring("collar", d_in=15e-3, d_out=18e-3, under="plate")
    (told,) = told_of(plate, collar)
    assert told.key == ("iron", "ring", 1, "under")
    assert "below ring" in told.found and told.found.endswith("which do not meet")
    assert told_of(plate, replace(collar, d_out=21e-3)) == []


@pytest.mark.parametrize(
    ("first", "second", "fine"), [("up", "up", True), ("up", "down", False), ("down", "up", False)]
)
def test_like_poles_do_not_lie_on_each_other(first, second, fine) -> None:
    lower = ring("lower", grade="N42", magnetised=first)
    for how in ("on", "under"):
        told = told_of(lower, ring("upper", grade="N42", magnetised=second, **{how: "lower"}))
        assert (told == []) is fine
    iron_between = (lower, ring("iron", on="lower"), ring("upper", grade="N42", magnetised=second, on="iron"))
    assert told_of(*iron_between) == []


def test_straps_keep_the_coil_from_their_thickness(tmp_path) -> None:
    """Kind of truth: closed form: inside two straps of 5 mm on a rim of 68 mm is room for 58 mm, not for 65."""
    design = usual.read(usual.write(tmp_path, "strap yoke"))
    assert design.field_coil is not None
    for D_f, fine in ((57.9e-3, True), (58.1e-3, False)):
        coil = replace(design.field_coil, D_f=D_f, t_f=1e-3)
        assert (list(fits.field_coil_fits(design.iron, coil)) == []) is fine


@pytest.mark.parametrize("n_l", range(1, 30))
def test_as_many_layers_fit_as_are_said_to_fit(n_l, tmp_path) -> None:
    """Kind of truth: closed form. (52 - 29) / (2 · 0.55) = 20.9 layers between tube and shell."""
    bench.write(tmp_path)
    _, _, design = bench.read(tmp_path)
    coil = replace(design.field_coil, n_l=n_l)
    assert fits.layers_within(coil, 52e-3) == min(n_l, 20)
    assert any("outside" in misfit.found for misfit in fits.field_coil_fits(design.iron, coil)) is (n_l > 20)


def test_both_coils_draw_on_one_reel(tmp_path) -> None:
    """Kind of truth: wire added up by hand: 20 layers of 74 turns, mean 40 mm, and one of 19 at 26.45 mm."""
    bench.write(tmp_path)
    _, _, design = bench.read(tmp_path)
    by_hand = 3.14159265 * (20 * 74 * 40.0e-3 + 19 * 26.45e-3)
    wire = design.field_coil.wire
    assert wire is not None
    for l_reel, enough in ((by_hand + 0.1, True), (by_hand - 0.1, False)):
        reel = replace(wire, l_reel=l_reel)
        both = replace(
            design,
            field_coil=replace(design.field_coil, wire=reel),
            voice_coil=replace(design.voice_coil, wire=reel, n_l=1, k_p=0.9),
        )
        misfits = list(fits.reels_suffice(both))
        assert (misfits == []) is enough
    assert misfits[0].key == ("voice_coil", "wire")
    assert misfits[0].found == "188 m needed for both coils, 187 m left"


@pytest.mark.parametrize(("x_pk", "fits_in"), [(41e-3, True), (43.5e-3, False)])
def test_the_stroke_ends_at_the_back_plate(x_pk, fits_in, tmp_path) -> None:
    """Kind of truth: closed form. The winding's lower end rests at 6 + 46 + 3 - 6 = 49 mm, the plate's face is at 6."""
    bench.write(tmp_path)
    _, brief, short = bench.read(tmp_path)
    design = replace(short, voice_coil=replace(short.voice_coil, l_f=70e-3))  # or the disc would meet the pole first
    assert (list(fits.misfits_together(design, replace(brief, x_pk=x_pk))) == []) is fits_in


@pytest.mark.parametrize(("x_pk", "clear"), [(15.9e-3, True), (16.1e-3, False)])
def test_the_diaphragm_does_not_strike_the_pole(x_pk, clear, tmp_path) -> None:
    """Kind of truth: closed form. The disc is glued on at 49 + 25 = 74 mm, pole and plate reach 58."""
    bench.write(tmp_path)
    _, _, design = bench.read(tmp_path)
    assert (list(fits.diaphragm_clears(design, x_pk)) == []) is clear


def test_what_touches_does_not_overlap(tmp_path) -> None:
    """A spool exactly as high as its window, on faces at levels that no binary number holds exactly."""
    bench.write(tmp_path, "design.toml", 'h_w = "42 mm"\nz_w = "8 mm"', 'h_w = "43 mm"\nz_w = "7.5 mm"')
    assert bench.together(tmp_path) == []


def open_spool(folder: Path, n_l: int) -> Design:
    """The small job without its shell: a field coil between two plates of 68 mm."""
    bench.write(folder)
    _, _, design = bench.read(folder)
    rings = {ring.name: ring for ring in design.iron.rings}
    iron = replace(design.iron, rings=(rings["back"], rings["pole"], replace(rings["top"], on=None, z=52e-3)))
    return replace(design, iron=iron, field_coil=replace(design.field_coil, n_l=n_l))


@pytest.mark.parametrize("n_l", [35, 36])
def test_an_open_spool_stays_within_its_flanges(n_l, tmp_path) -> None:
    """Kind of truth: closed form. (68 - 29) / (2 · 0.55) = 35.5 layers; where there is a shell, the shell bounds."""
    design = open_spool(tmp_path, n_l)
    told = list(fits.open_spool_fits(design.iron, design.field_coil))
    assert [misfit[1:] for misfit in told] == (
        [("within the flanges, 68 mm", "68.6 mm across", "35 layers of this wire would fit; n_l is 36.")]
        if n_l > 35
        else []
    )
    _, _, closed = bench.read(tmp_path)
    assert list(fits.open_spool_fits(closed.iron, design.field_coil)) == []


@pytest.mark.parametrize("n_l", [28, 29])
def test_the_field_coil_counts_against_the_outline(n_l, tmp_path) -> None:
    """Kind of truth: closed form. (60 - 29) / (2 · 0.55) = 28.2 layers."""
    design = open_spool(tmp_path, n_l)
    _, brief, _ = bench.read(tmp_path)
    told = {misfit.key: misfit for misfit in fits.outline(design, replace(brief, D_outline=60e-3))}
    assert (("field_coil",) in told) is (n_l > 28)
    assert {("iron", "ring", 0, "d_out"), ("surround", "d_out")} <= set(told)
    if n_l > 28:
        assert told[("field_coil",)].do == "28 layers of this wire would fit; n_l is 29."


def test_a_plate_may_be_a_stack(tmp_path) -> None:
    """Kind of truth: the levels added up by hand: 6 + 46 = 52 mm, then 6 mm, 0.1 mm of air and 6 mm."""
    upper = '[[iron.ring]]\nname = "upper"\nfrom = "plate"\nd_in = "28 mm"\non = "top"\njoint = "0.1 mm"\n\n'
    design = bench.DESIGN.replace('plate = "top"', 'plate = ["upper", "top"]').replace('t = "52 mm"', 't = "58 mm"')
    bench.write(tmp_path)
    stock = bench.STOCK.replace("count = 2", "count = 3")
    (tmp_path / "stock.toml").write_text(stock, encoding="utf8")
    (tmp_path / "design.toml").write_text(design.replace("[field_coil]", upper + "[field_coil]"), encoding="utf8")
    assert bench.together(tmp_path) == []
    _, _, read = bench.read(tmp_path)
    assert read.iron.plate == ("upper", "top")
    assert read.iron.plate_levels() == pytest.approx((52e-3, 64.1e-3))


@pytest.mark.parametrize("grade", ["", "grade = 1", "grade = 2"])
def test_every_size_on_a_label_can_be_used(grade, tmp_path) -> None:
    """Kind of truth: limit. However loosely a label tells a wire, its enamel is never thinner than nothing."""
    sizes = [str(line["size"]) for name in ("wires_iec", "wires_awg") for line in table(name)]
    assert len(sizes) > 70
    reels = "\n".join(f'[[wire]]\nname = "{size}"\nsize = "{size}"\n{grade}\n' for size in sizes)
    (tmp_path / "stock.toml").write_text(reels, encoding="utf8")
    assert len(read_stock(tmp_path / "stock.toml").wires) == len(sizes)


@pytest.mark.parametrize("form", ["cone", "dome"])
@pytest.mark.parametrize("l_f", [13e-3, 17e-3, 20e-3])
@pytest.mark.parametrize("h_c", [5e-3, 20e-3, 40e-3])
def test_a_diaphragm_clears_where_every_point_of_it_does(form, l_f, h_c, tmp_path) -> None:
    """Kind of truth: second method. Ten thousand points of the sheet against the upper face of every ring."""
    bench.write(tmp_path)
    plain = bench.read(tmp_path)[2]
    coil = replace(plain.voice_coil, l_f=l_f)
    sheet = replace(plain.diaphragm, form=form, d_in=25e-3, h_c=h_c)
    design = replace(plain, voice_coil=coil, diaphragm=sheet)
    low, high = design.iron.plate_levels()
    neck = float((low + high) / 2 - coil.h_w / 2 + l_f)
    d = np.linspace(25e-3, float(sheet.d_out), 10_001)
    z = neck + sheet.rise(d) - sheet.rise(coil.D_f)
    below = [np.max(top.z_hi - z[(d > top.d_in) & (d < top.d_out)], initial=0.0) for top in ring_bodies(design.iron)]
    (misfit,) = list(fits.diaphragm_clears(design, 0.0)) or [None]
    assert (misfit is not None) == (max(below) > 1e-8)
    if misfit:
        assert float(misfit.found.split()[1]) == pytest.approx(max(below) * 1e3, rel=5e-3, abs=0.01)


@pytest.mark.parametrize(("more", "fine"), [(1.02, True), (0.98, False)])
def test_what_was_weighed_together_holds_its_wire(more, fine, tmp_path) -> None:
    """Kind of truth: closed form. 54 turns of 0.22 mm in 12 mm, in two layers on 25.9 mm, of copper of 8960 kg/m³ and
    enamel of 1400 (both from memory); leads of 0.6 g and a card of 1 g come on top."""
    bench.write(tmp_path)
    _, _, design = bench.read(tmp_path)
    coil = design.voice_coil
    assert coil.wire is not None
    thin = replace(coil.wire, d_cu=0.2e-3, d_o=0.22e-3)
    length = 54 * np.pi * ((25.9e-3 + 0.22e-3) + (25.9e-3 + 3 * 0.22e-3))
    wire = length * np.pi / 4 * (0.2e-3**2 * 8960 + (0.22e-3**2 - 0.2e-3**2) * 1400)
    known = wire + 0.6e-3 + 1e-3
    built = replace(
        design,
        voice_coil=replace(coil, wire=thin, n_l=2, k_p=1.0),
        diaphragm=replace(design.diaphragm, m_d=1e-3),
        m_weighed=more * known,
    )
    assert (list(fits.weighed_fits(built)) == []) is fine
    assert list(fits.weighed_fits(replace(built, voice_coil=replace(coil, wire=None)))) == []

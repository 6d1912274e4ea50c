"""What stands in a file is what comes out as parts: units against an outside library, derived numbers by other ways."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from math import pi, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pint
import pytest

from handwound.errors import FileError, JobError
from handwound.files.brief import read_brief
from handwound.files.design import check_together, read_design
from handwound.files.readings import read_readings
from handwound.files.stock import read_stock
from handwound.job import example_folder
from handwound.parts.design import Stock
from handwound.parts.part import Part
from handwound.physics.layers import turns_per_layer
from handwound.physics.wire import mass_per_metre
from handwound.quantities import quantities
from tests.files import bench

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
OPEN_DAY = EXAMPLES / "open-day"
UNITS = pint.UnitRegistry()
PLACES = {"wire": "wires", "steel": "steels", "sheet": "sheets", "supply": "supplies", "amplifier": "amplifiers"}


def si(text: str) -> tuple[float, float]:
    """A text with ± and unit in coherent SI units, by pint; temperatures and levels stay as they are."""
    number, _, rest = text.partition("±")
    words = (rest or number).split()
    value, unit = float(number.split()[0]), words[1] if len(words) > 1 else "1"
    half = float(words[0]) if rest else 0.0
    if unit in ("°C", "dB", "1"):
        return value, half
    scale = float(UNITS.Quantity(1, UNITS.Unit(unit)).to_base_units().magnitude)
    return value * scale, half * scale


def raw_of(name: str) -> dict[str, Any]:
    return tomllib.loads((OPEN_DAY / name).read_text(encoding="utf8"))


def pairs(stock: Stock) -> Iterator[tuple[dict[str, Any], Part]]:
    """Each table of the example's files beside the part that it became."""
    raw = raw_of("stock.toml")
    for kind, name in PLACES.items():
        yield from zip(raw[kind], getattr(stock, name), strict=True)
    yield from zip(raw["bit"], stock.bits, strict=True)
    yield raw_of("brief.toml"), read_brief(OPEN_DAY / "brief.toml", stock)
    raw, design = raw_of("design.toml"), read_design(OPEN_DAY / "design.toml", stock)
    yield from zip(raw["iron"]["ring"], design.iron.rings, strict=True)
    for name in ("field_coil", "voice_coil", "diaphragm", "surround"):
        yield raw[name], getattr(design, name)


def test_every_number_of_the_example_is_what_pint_makes_of_it() -> None:
    """Kind of truth: a general library."""
    compared = 0
    for table, part in pairs(read_stock(OPEN_DAY / "stock.toml")):
        for key, text in table.items():
            written_with_unit = isinstance(text, str) and key in quantities() and " " in text
            if not written_with_unit or not hasattr(part, key) or not isinstance(getattr(part, key), float):
                continue
            value, half = si(text)
            assert getattr(part, key) == pytest.approx(value, rel=1e-12), (table, key)
            assert dict(part.spread).get(key, 0.0) == pytest.approx(half, rel=1e-12), (table, key)
            compared += 1
    assert compared > 40, "the example has some dozens of such numbers"


@pytest.mark.parametrize("folder", sorted(EXAMPLES.iterdir()), ids=lambda folder: folder.name)
def test_every_example_is_sound(folder) -> None:
    stock = read_stock(folder / "stock.toml")
    brief, design = read_brief(folder / "brief.toml", stock), read_design(folder / "design.toml", stock)
    assert check_together(design, folder / "design.toml", brief, folder / "brief.toml") == []
    assert read_readings(folder / "readings.csv") is not None


def test_a_misspelt_example_is_told_the_nearest() -> None:
    with pytest.raises(JobError) as told:
        example_folder("repairpair")
    assert str(told.value) == (
        "example repairpair: must be one of the example jobs; found none of that name. "
        'Did you mean "repair-pair"? Examples: open-day, repair-pair, rescue.'
    )


def stock_of(tmp_path: Path, text: str) -> Stock:
    (tmp_path / "stock.toml").write_text(text, encoding="utf8")
    return read_stock(tmp_path / "stock.toml")


def test_a_wire_by_its_resistance_and_its_wrap(tmp_path) -> None:
    """Kind of truth: closed form. 0.2 mm copper has 4/(58 pi 0.04) = 0.54881 Ω/m at 20 °C and 7.9 % more at 40 °C."""
    R = 10 / 58 * 4 / (pi * 0.2**2)
    for warm, reading in ((20, R), (40, R * (1 + 0.00393 * 20))):
        (wire,) = stock_of(
            tmp_path,
            '[[wire]]\nname = "?"\nn_wrap = 50\nw_wrap = "11.2 mm"\nl_test = "10 m"\n'
            f'R_test = "{reading} Ω"\nT_test = "{warm} °C"\n',
        ).wires
        assert wire.d_cu == pytest.approx(0.2e-3, rel=1e-5)
        assert wire.d_o == pytest.approx(0.224e-3, rel=1e-12)
        assert "rho_20" not in dict(wire.spread), "the ohms per metre were read: the metal's doubt is in them"


def test_the_doubt_of_a_measured_diameter(tmp_path) -> None:
    """Kind of truth: second method, random draws; four in a thousand is what so many draws leave open."""
    (wire,) = stock_of(
        tmp_path,
        '[[wire]]\nname = "?"\nd_o = "0.3 mm"\nl_test = "10 ± 0.1 m"\nR_test = "3.5 ± 0.07 Ω"\nT_test = "25 ± 5 °C"\n'
        'm_reel = "100 ± 3 g"\n',
    ).wires
    draw = np.random.default_rng(1).standard_normal((4, 200_000)) / 1.6448536269514722
    R, l_test, T, m = 3.5 + 0.07 * draw[0], 10 + 0.1 * draw[1], 25 + 5 * draw[2], 0.1 + 0.003 * draw[3]
    d_cu = np.sqrt(4 * wire.rho_20 * (1 + 0.00393 * (T - 20)) * l_test / (pi * R))
    length = m / (pi / 4 * d_cu**2 * wire.rho_m)
    for name, drawn, slack in (("d_cu", d_cu, 0.01), ("l_reel", length, 0.02)):
        low, high = np.percentile(drawn, [5, 95])
        relative = dict(wire.spread)[name] / getattr(wire, name)
        assert relative == pytest.approx((high - low) / 2 / np.median(drawn), rel=slack)


def test_a_label_without_a_grade_leaves_both_open(tmp_path) -> None:
    """Kind of truth: IEC 60317-0-1 (from memory): 0.500 mm has 0.524 at least in grade 1, 0.566 at most in grade 2."""
    (wire,) = stock_of(tmp_path, '[[wire]]\nname = "?"\nsize = "0.50"\n').wires
    half = dict(wire.spread)["d_o"]
    assert wire.d_cu == pytest.approx(0.5e-3)
    assert (wire.d_o - half, wire.d_o + half) == pytest.approx((0.524e-3, 0.566e-3))


def test_what_was_measured_counts_before_the_label(tmp_path) -> None:
    (wire,) = stock_of(tmp_path, '[[wire]]\nname = "?"\nsize = "0.50"\ngrade = 2\nd_cu = "0.48 mm"\n').wires
    assert wire.d_cu == pytest.approx(0.48e-3)
    assert wire.d_o == pytest.approx((0.545e-3 + 0.566e-3) / 2)
    assert wire.l_reel is None


def test_a_reel_weighs_what_its_wire_weighs(tmp_path) -> None:
    """Kind of truth: balance. And 0.2793 g/m is the copper alone of 0.200 mm, at 8890 kg/m³ (closed form)."""
    (wire,) = stock_of(tmp_path, '[[wire]]\nname = "?"\nsize = "0.20"\ngrade = 1\nm_reel = "279.3 g"\n').wires
    assert wire.l_reel is not None
    assert wire.l_reel * mass_per_metre(wire.d_cu, wire.d_o, wire.rho_m) == pytest.approx(0.2793)
    assert 930 < float(wire.l_reel) < 1000


STEEL = '[[steel]]\nname = "?"\nform = '


def test_a_washer_by_its_standard(tmp_path) -> None:
    """Kind of truth: printed example (ISO 7089 M8: 8.4, 16, 1.6 and at most 1.8; a public fastener table)."""
    (washer,) = stock_of(tmp_path, STEEL + '"washer"\nstandard = "ISO 7089"\nsize = "M8"\nd_in = "8.6 mm"\n').steels
    assert (washer.d_in, washer.d_out, washer.t) == pytest.approx((8.6e-3, 16e-3, 1.6e-3))
    assert dict(washer.spread) == {"t": pytest.approx(0.2e-3)}


def test_a_bolt_has_a_shank_and_a_head_of_equal_area(tmp_path) -> None:
    """Kind of truth: second method, the area from the corners; M8 has 13 across flats, 5.3 high (ISO 4017)."""
    (bolt,) = stock_of(tmp_path, STEEL + '"bolt"\nsize = "M8"\nlength = "60 mm"\n').steels
    assert (bolt.d_in, bolt.d_out, bolt.t) == pytest.approx((0.0, 8e-3, 60e-3))
    corners = 13e-3 / sqrt(3) * np.exp(1j * np.arange(6) * pi / 3)
    area = float(np.sum((corners.conj() * np.roll(corners, -1)).imag) / 2)
    assert bolt.head is not None
    assert pi / 4 * bolt.head[0] ** 2 == pytest.approx(area)
    assert bolt.head[1] == pytest.approx(5.3e-3)


def test_a_nut_is_a_ring_round_its_thread(tmp_path) -> None:
    """Kind of truth: printed example (ISO 4032 M8: 13 across flats, 6.8 high; a public fastener table), its area."""
    (nut,) = stock_of(tmp_path, STEEL + '"nut"\nsize = "M8"\n').steels
    assert (nut.d_in, nut.t) == pytest.approx((8e-3, 6.8e-3))
    assert pi / 4 * nut.d_out**2 == pytest.approx(13e-3**2 * sqrt(3) / 2)


def test_a_flat_bar_gives_straps_and_discs(tmp_path) -> None:
    (bar,) = stock_of(tmp_path, STEEL + '"flat bar"\nwidth = "30 ± 0.1 mm"\nt = "5 mm"\nlength = "500 mm"\n').steels
    assert (bar.d_in, bar.d_out, bar.t, bar.width, bar.length) == pytest.approx((0.0, 30e-3, 5e-3, 30e-3, 0.5))
    assert dict(bar.spread) == {"d_out": pytest.approx(1e-4), "width": pytest.approx(1e-4)}


def test_a_magnet_by_its_grade_or_by_what_was_measured(tmp_path) -> None:
    """Kind of truth: printed example. N42 has 1.28 to 1.32 T (two makers' grade tables, excerpts)."""
    sizes = 'd_out = "20 mm"\nt = "5 mm"\n'
    stock = stock_of(
        tmp_path,
        f'[[magnet]]\nname = "a"\ngrade = "N42"\n{sizes}count = 3\n'
        f'[[magnet]]\nname = "b"\nd_in = "8 mm"\nmagnetised = "radial"\nB_rem = "390 ± 10 mT"\n{sizes}',
    )
    by_grade, measured = stock.magnets
    half = dict(by_grade.spread)["B_rem"]
    assert (by_grade.B_rem - half, by_grade.B_rem + half) == pytest.approx((1.28, 1.32))
    assert (by_grade.d_in, by_grade.count, by_grade.magnetised) == (0.0, 3, "axial")
    assert (measured.B_rem, dict(measured.spread)["B_rem"]) == pytest.approx((0.39, 0.01))
    assert (measured.grade, measured.magnetised) == ("speaker ferrite", "radial")
    assert stock.pieces == stock.magnets


def test_metals_come_in_the_forms_of_steel(tmp_path) -> None:
    text = 'form = "pipe"\nd_out = "22 mm"\nwall = "1 mm"\nlength = "300 mm"\n'
    (tube, rod) = stock_of(
        tmp_path, f'[[metal]]\nname = "tube"\n{text}[[metal]]\nname = "tube 2"\ngrade = "brass"\n{text}'
    ).metals
    assert (tube.grade, rod.grade) == ("copper", "brass")
    assert (tube.d_in, tube.d_out, tube.t) == pytest.approx((20e-3, 22e-3, 0.3))


def test_pipe_and_plate(tmp_path) -> None:
    """Kind of truth: closed form, and counting squares on the plate."""
    pipe, plate = stock_of(
        tmp_path,
        STEEL + '"pipe"\nd_out = "60.3 ± 0.3 mm"\nwall = "3.6 ± 0.2 mm"\nlength = "46 mm"\n'
        '[[steel]]\nname = "strip"\nform = "plate"\nlength = "70 mm"\nwidth = "290 mm"\nt = "6 mm"\ncount = 2\n',
    ).steels
    assert (pipe.d_in, pipe.d_out, pipe.t) == pytest.approx((53.1e-3, 60.3e-3, 46e-3))
    assert dict(pipe.spread)["d_in"] == pytest.approx(0.5e-3)  # 3, 4, 5
    assert (plate.d_in, plate.d_out, plate.count) == (0.0, pytest.approx(70e-3), 8)


def test_a_ring_takes_from_its_piece_what_it_does_not_say(tmp_path) -> None:
    bench.write(tmp_path, "stock.toml", 'd_out = "60 mm"', 'd_out = "60 ± 0.1 mm"\ngrade = "dc01"')
    shell = bench.read(tmp_path)[2].iron.rings[1]
    assert shell.grade == "dc01"
    assert (shell.d_in, shell.d_out, shell.t) == pytest.approx((52e-3, 60e-3, 46e-3))
    assert dict(shell.spread) == {"d_in": pytest.approx(1e-4), "d_out": pytest.approx(1e-4)}


@pytest.mark.parametrize(
    ("word", "air", "half"),
    [('joint = "clean"', 0.03e-3, 0.02e-3), ("", 0.03e-3, 0.02e-3), ('joint = "0.1 ± 0.05 mm"', 0.1e-3, 0.05e-3)],
)
def test_a_joint_in_words_in_numbers_or_untold(word, air, half, tmp_path) -> None:
    """Kind of truth: common practice, no source: about 0.03 mm of air in a clean joint."""
    bench.write(tmp_path, "design.toml", 'on = "back"\njoint = "0 mm"\n\n[[iron.ring]]\nname = "top"',
                f'on = "back"\n{word}\n\n[[iron.ring]]\nname = "top"')  # fmt: skip
    shell = bench.read(tmp_path)[2].iron.rings[1]
    assert shell.joint == pytest.approx(air)
    assert dict(shell.spread) == {"joint": pytest.approx(half)}


@pytest.mark.parametrize("N_1", range(23, 77))
def test_the_turns_counted_are_the_turns_computed(N_1, tmp_path) -> None:
    """Kind of truth: a round trip; 42 mm of 0.55 mm wire hold 76 turns, and 23 are 0.3 of what fits."""
    bench.write(tmp_path, "design.toml", "k_p = 0.97", f"N_1 = {N_1}")
    coil = bench.read(tmp_path)[2].field_coil
    assert coil.wire is not None
    assert turns_per_layer(coil.h_w, coil.wire.d_o, coil.k_p) == N_1


@pytest.mark.parametrize("N_1", range(1, 60))
def test_a_layer_that_is_exactly_full_is_no_fault(N_1, tmp_path) -> None:
    """Kind of truth: a round trip, where binary numbers are just above or below the whole one."""
    height = f"{N_1 * 55 // 100}.{N_1 * 55 % 100:02d}"
    bench.write(tmp_path, "design.toml", 'h_w = "42 mm"\nz_w = "8 mm"\nk_p = 0.97',
                f'h_w = "{height} mm"\nz_w = "8 mm"\nN_1 = {N_1}')  # fmt: skip
    coil = bench.read(tmp_path)[2].field_coil
    assert coil.wire is not None
    assert turns_per_layer(coil.h_w, coil.wire.d_o, coil.k_p) == N_1


def test_a_bolt_gives_a_pole_and_its_head(tmp_path) -> None:
    """Kind of truth: printed example (ISO 4017 M20: head 12.5 high, 30 across flats: 31.5 as a circle)."""
    bench.write(tmp_path, "stock.toml", 'form = "bar"\nd_out = "25 mm"\nlength = "120 mm"',
                'form = "bolt"\nsize = "M20"\nlength = "60 mm"')  # fmt: skip
    text = (tmp_path / "design.toml").read_text(encoding="utf8")
    head = '[[iron.ring]]\nname = "head"\nfrom = "bar"\nhead = true\nz = "-12.5 mm"\n\n[[iron.ring]]\nname = "pole"'
    (tmp_path / "design.toml").write_text(text.replace('[[iron.ring]]\nname = "pole"', head), encoding="utf8")
    head_, pole = bench.read(tmp_path)[2].iron.rings[-2:]
    assert (pole.d_out, pole.t) == pytest.approx((20e-3, 52e-3))
    assert (head_.d_out, head_.t) == pytest.approx((31.5e-3, 12.5e-3), rel=1e-3)


@pytest.mark.parametrize(
    ("lengths", "fits"),
    [("52 mm,46 mm", True), ("60 mm,60 mm,60 mm", False), ("30 mm,60 mm,70 mm,40 mm", True), ("70 mm,60 mm", True)],
)
def test_bars_are_sawn_not_melted(lengths, fits, tmp_path) -> None:
    """Kind of truth: by hand. Two bars of 100 mm give no three pieces of 60, though 180 is less than 200."""
    bench.write(tmp_path, "stock.toml", 'length = "120 mm"', 'length = "100 mm"\ncount = 2')
    rings = [f'[[iron.ring]]\nname = "r{t}{n}"\nfrom = "bar"\nz = "{200 + 110 * n} mm"\nt = "{t}"\n'
             for n, t in enumerate(lengths.split(","))]  # fmt: skip
    text = (tmp_path / "design.toml").read_text(encoding="utf8")
    pole = text[text.index('[[iron.ring]]\nname = "pole"') : text.index("[field_coil]")]
    (tmp_path / "design.toml").write_text(text.replace(pole, "\n".join(rings) + "\n"), encoding="utf8")
    if fits:
        bench.read(tmp_path)
    else:
        with pytest.raises(FileError, match="long enough"):
            bench.read(tmp_path)


@pytest.mark.parametrize(
    ("table", "K_sp"),
    [('spider = "none"\n[iron]\n', None), ("[iron]\n", None),
     ('spider = {K_sp = "0.5 N/mm", m_sp = "0.3 ± 0.1 g"}\n[iron]\n', 500.0)],
)  # fmt: skip
def test_a_spider_or_none(table, K_sp, tmp_path) -> None:
    bench.write(tmp_path, "design.toml", "[iron]\n", table)
    spider = bench.read(tmp_path)[2].spider
    assert (spider and spider.K_sp) == K_sp
    assert spider is None or dict(spider.spread) == {"m_sp": pytest.approx(1e-4)}


def test_parts_can_key_a_cache(tmp_path) -> None:
    bench.write(tmp_path)
    assert hash(bench.read(tmp_path)) == hash(bench.read(tmp_path))

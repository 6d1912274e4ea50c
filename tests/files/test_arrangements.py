"""The short way to write an iron makes the rings that the long way makes, and each of them is a motor."""

from __future__ import annotations

import re
import tempfile
from dataclasses import replace
from itertools import product
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handwound import iron_field
from handwound.errors import FileError
from handwound.files import iron
from handwound.files.arrangements import arrangements
from handwound.materials import magnets, metals, steels
from handwound.parts.design import Design
from handwound.parts.iron import Ring
from handwound.physics import field
from tests.files.test_mangled import VALUES
from tests.files.usual import MOTORS, read, write


def long_way(design: Design, short: str) -> str:
    """The same iron ring by ring, from the parts: every number that a ring can have, as a file would write it."""
    coil = short[short.index("[field_coil]") :] if "[field_coil]" in short else ""
    plate = ", ".join(f'"{name}"' for name in design.iron.plate)
    lines = [f'[iron]\nname = "{design.iron.name}"\nplate = [{plate}]']
    for ring in design.iron.rings:
        lines += ["", "[[iron.ring]]", f'name = "{ring.name}"', f'from = "{ring.stock}"', *_keys(ring)]
    return "\n".join([*lines, "", coil])


def _keys(ring: Ring) -> list[str]:
    spread = dict(ring.spread)
    carried = [f'{how} = "{name}"' for how, name in (("on", ring.on), ("under", ring.under)) if name]
    if carried:
        carried.append(f'joint = "{float(ring.joint)!r} ± {spread.get("joint", 0.0)!r} m"')
    if ring.magnetised:
        return [*carried, f'magnetised = "{ring.magnetised}"']
    if ring.n_legs:
        return [*carried, f"n_legs = {ring.n_legs}", f't = "{ring.t!r} m"']
    if ring.name == "head":
        return [*carried, "head = true"]
    names = [name for name in ("d_in", "d_out", "t", "d_in_hi", "d_out_hi") if getattr(ring, name) is not None]
    sizes = [f'{name} = "{getattr(ring, name)!r} ± {spread.get(name, 0.0)!r} m"' for name in names]
    return [*carried, *sizes]


def plain(design: Design) -> list[Ring]:
    return [
        replace(ring, spread=tuple((name, round(half, 12)) for name, half in ring.spread)) for ring in design.iron.rings
    ]


@pytest.mark.parametrize("motor", MOTORS)
def test_the_short_way_makes_the_rings_of_the_long_way(motor, tmp_path) -> None:
    """Kind of truth: second method, the same rings written one by one."""
    short = read(write(tmp_path, motor))
    assert short.iron.arrangement == motor.removeprefix("tapered ")
    write(tmp_path, motor, long_way(short, MOTORS[motor]))
    long = read(tmp_path)
    assert plain(long) == plain(short)
    assert (long.iron.plate, long.iron.arrangement) == (short.iron.plate, "")


def test_the_page_shows_every_arrangement() -> None:
    assert set(MOTORS) == {*arrangements(), "tapered pot"}


@pytest.mark.parametrize("motor", MOTORS)
def test_every_arrangement_is_a_motor(motor, tmp_path) -> None:
    """Kind of truth: balance. The flux that enters the voice coil's cylinder from one end leaves through its side."""
    design = read(write(tmp_path, motor))
    coil = design.field_coil
    D_w, N = (float(coil.D_f) + 6e-3, 1000.0) if coil else (0.0, 0.0)
    solved = field.solve(iron_field.problem(design, D_w, N), 1000.0 if coil else 0.0, None, 2, field.SEARCH)
    low, high = (float(z) for z in design.iron.plate_levels())
    r, D = float(design.voice_coil.D_f) / 2, 1e-4
    Bl = float(solved.Bl(r, r + D, low, high, 1.0, np.zeros(1))[0])
    through = [float(solved.A_at([r + D / 2], [z])[0, 0]) * 2 * np.pi * (r + D / 2) for z in (low, high)]
    assert abs(Bl) * (high - low) == pytest.approx(abs(through[1] - through[0]), rel=1e-3)
    B_g = abs(Bl) / (2 * np.pi * (r + D / 2))
    assert 0.02 < B_g < 2.3, "between a motor with no return path and what steel can carry"


def test_legs_hold_as_much_iron_as_their_flat_bars(tmp_path) -> None:
    """Kind of truth: closed form, by hand: two of 30 x 5 mm are 300 mm², and 68² - 4 · 300/pi = 65.132² mm²."""
    legs = next(ring for ring in read(write(tmp_path, "strap yoke")).iron.rings if ring.name == "legs")
    assert float(legs.d_out) == pytest.approx(68e-3)
    assert float(legs.d_in) == pytest.approx(65.13e-3, abs=1e-5)
    assert np.pi / 4 * (legs.d_out**2 - legs.d_in**2) == pytest.approx(300e-6, rel=1e-12)


def test_only_their_iron_is_uncertain_of_legs(tmp_path) -> None:
    """Kind of truth: closed form. 3 % of the thickness are 3 % of 300 mm², wherever on the rim they stand."""
    folder = write(tmp_path, "strap yoke")
    stock = (folder / "stock.toml").read_text(encoding="utf8").replace('t = "5 mm"', 't = "5 ± 0.15 mm"', 1)
    (folder / "stock.toml").write_text(stock, encoding="utf8")
    legs = next(ring for ring in read(folder).iron.rings if ring.name == "legs")
    half = dict(legs.spread)
    assert set(half) == {"d_in", "joint"}
    area = [np.pi / 4 * (legs.d_out**2 - d_in**2) for d_in in (legs.d_in - half["d_in"], legs.d_in + half["d_in"])]
    assert (area[0] - area[1]) / 2 == pytest.approx(0.03 * 300e-6, rel=1e-3)


def test_a_pile_is_as_high_as_its_pieces_and_joints(tmp_path) -> None:
    """Kind of truth: added up by hand: the cup 6, then three of 3 mm with 0.03 mm under each."""
    iron = read(write(tmp_path, "cup magnet")).iron
    assert [ring.name for ring in iron.rings][2:5] == ["magnet 1", "magnet 2", "magnet 3"]
    assert iron.levels()["magnet 3"] == pytest.approx((12.09e-3, 15.09e-3))
    assert iron.levels()["pole"][0] == pytest.approx(15.12e-3)


def test_a_bolt_carries_its_flanges_between_head_and_nut(tmp_path) -> None:
    """Kind of truth: added up by hand. Head 60 mm up; washers of 2 mm with joints of 0.05 mm hang under it."""
    levels = read(write(tmp_path, "bolt")).iron.levels()
    assert levels["head"] == pytest.approx((60e-3, 65.3e-3))
    assert levels["top 1"] == pytest.approx((57.95e-3, 59.95e-3))
    assert levels["top 3"] == pytest.approx((53.85e-3, 55.85e-3))
    assert levels["nut"] == pytest.approx((0.0, 6.8e-3))
    assert levels["back 1"][0] == pytest.approx(6.85e-3)


def rings_of(folder: Path, motor: str, old: str, new: str) -> dict[str, Ring]:
    """The rings of a motor with one thing in it changed."""
    assert old in MOTORS[motor]
    return {ring.name: ring for ring in read(write(folder, motor, MOTORS[motor].replace(old, new, 1))).iron.rings}


@pytest.mark.parametrize(("way", "turned"), [("up", "down"), ("down", "up")])
def test_a_bucking_magnet_is_turned_round(way, turned, tmp_path) -> None:
    """Kind of truth: limit. Behind the back plate stray flux is pushed back by the like pole, whichever it is."""
    magnet = f'magnet = {{ from = "ferrite 72", magnetised = "{way}" }}'
    rings = rings_of(tmp_path, "ring magnet", 'magnet = "ferrite 72"', magnet)
    assert [rings[name].magnetised for name in ("magnet", "bucking")] == [way, turned]


def test_a_pile_at_the_bottom_has_a_joint_of_its_own(tmp_path) -> None:
    """Kind of truth: added up by hand: two plates of 6 mm with 0.13 mm of paint between them."""
    back = 'back = { from = "plate 68", count = 2, joint = "painted" }\n'
    top = 'top = { from = "bar 80", t = "6 mm", d_in = "28 mm" }\n'
    folder = write(tmp_path, "pot", re.sub(r"back = .*\n", back, re.sub(r"top = .*\n", top, MOTORS["pot"])))
    bar = '\n[[steel]]\nname = "bar 80"\nform = "bar"\nd_out = "68 mm"\nlength = "20 mm"\n'
    stock = (folder / "stock.toml").read_text(encoding="utf8") + bar
    (folder / "stock.toml").write_text(stock, encoding="utf8")
    design = (folder / "design.toml").read_text(encoding="utf8").replace('z_w = "7.5', 'z_w = "13.7')
    design = design.replace('h_w = "43.2', 'h_w = "42')
    (folder / "design.toml").write_text(design.replace('t = "52.0', 't = "46.0'), encoding="utf8")
    iron = read(folder).iron
    assert iron.levels()["back 2"] == pytest.approx((6.13e-3, 12.13e-3))
    assert iron.rings[0].joint == 0.0


def test_a_sleeve_may_stand_at_a_level_of_its_own(tmp_path) -> None:
    sleeve = 'sleeve = { from = "copper sheet", d_in = "25 mm", d_out = "25.4 mm", z = "45 mm" }\n'
    rings = rings_of(tmp_path, "pot", "pole = {", f"{sleeve}pole = {{")
    assert (rings["sleeve"].z, rings["sleeve"].joint, rings["sleeve"].under) == (pytest.approx(45e-3), 0.0, None)


def test_many_discs_come_from_their_bars_without_waiting(tmp_path) -> None:
    """Kind of truth: closed form: fifteen of 6.6 mm from each bar of 100 mm. All ways to saw them would take hours."""
    lengths = [6.6e-3] * 30
    start = perf_counter()
    assert iron._sawn(lengths, [0.1, 0.1])
    assert not iron._sawn([*lengths, 6.6e-3], [0.1, 0.1])
    assert not iron._sawn([6.6e-3] * 30, [0.102, 0.097])
    uneven = [40e-3 - 0.37e-3 * k for k in range(40)]
    assert not iron._sawn(uneven, [0.3, 0.3, 0.3])
    iron._sawn(uneven, [sum(uneven) / 3 + 1e-6] * 3)
    assert perf_counter() - start < 5


@settings(max_examples=100)
@given(st.lists(st.integers(1, 9), max_size=6), st.lists(st.integers(4, 15), min_size=1, max_size=3))
def test_what_can_be_sawn_is_found(lengths, bars) -> None:
    """Kind of truth: second method: every ring on every bar."""
    ways = product(range(len(bars)), repeat=len(lengths))
    fits = any(
        all(sum(each for each, of in zip(lengths, way, strict=True) if of == n) <= bar for n, bar in enumerate(bars))
        for way in ways
    )
    assert iron._sawn(sorted((each * 1e-3 for each in lengths), reverse=True), [bar * 1e-3 for bar in bars]) is fits


def said(folder: Path) -> list[str]:
    with pytest.raises(FileError) as told:
        read(folder)
    return [str(fault).removeprefix(f"{folder}/design.toml:") for fault in told.value.faults]


FAULTS = [
    ("pot", 'arrangement = "pot"', 'arrangement = "pots"',
     ['3: iron: arrangement: must be a usual motor, or left out for a free list of rings; found "pots". '
      'Did you mean "pot"? Arrangements: open spool, pot, strap yoke, ring magnet, cup magnet, bolt.']),
    ("pot", 'shell = "pipe 60"\n', "",
     ["1: iron: shell: must be the name of a piece, or a table of the keys of a ring, such as "
      '{ from = "plate" }; found nothing.']),
    ("pot", 'shell = "pipe 60"', 'shell = "pipe 60"\nshel = "pipe 60"',
     ['7: iron: shel: must be one of the keys of [iron]; found "shel". Did you mean "shell"?']),
    ("ring magnet", 'magnet = "ferrite 72"', 'magnet = { from = "ferrite 72", d_out = "70 mm" }',
     ['6: iron: magnet: d_out: must be left out for a magnet; found d_out of "ferrite 72". '
      "A magnet is not cut or drilled: it shatters, and its dust can burn."]),
    ("ring magnet", 'magnet = "ferrite 72"', 'magnet = { from = "ferrite 72", magnetised = "out" }',
     ['6: iron: magnet: magnetised: must be "up" or "down" for a magnet that is axial; found "out".']),
    ("ring magnet", 'bucking = "ferrite 50"', 'bucking = { from = "ferrite 72", count = 2 }',
     ['10: iron: bucking: from: must be a piece that is still there ("ferrite 72"); found 3 rings from it in the '
      "design, 2 in stock.toml."]),
    ("ring magnet", 'bucking = "ferrite 50"', 'bucking = { from = "ferrite 50", on = "magnet" }',
     ["10: iron: bucking: must be clear of ring \"top\"; found 6 mm of it in ring \"top\". It may "
      "begin 27.1 mm above the zero of the stack.",
      '10: iron: bucking: magnetised: must be "up" as ring "magnet", which it touches; found "down". '
      "Two like poles push each other off: turn one, or put iron between them."]),
    ("cup magnet", "count = 3", "count = 9",
     ['6: iron: magnet: from: must be a piece that is still there ("disc 20"); found 9 rings from it in the design, '
      "5 in stock.toml."]),
    ("cup magnet", "count = 3", "count = 0", ["6: iron: magnet: count: must be between 1 and 50; found 0."]),
    ("strap yoke", "n_legs = 2", "n_legs = 8",
     ["5: iron: legs: n_legs: must be so few that the legs stand beside each other; found 8 of 30 mm round 68 mm."]),
    ("strap yoke", 'from = "flat 30", n_legs', 'from = "bar 25", n_legs',
     ['5: iron: legs: n_legs: must be left out where the piece is no flat bar; found "bar 25", a bar.']),
    ("pot", 'pole = { from = "bar 25", t = "52.0 ± 0.05 mm" }',
     'pole = { from = "bar 25", t = "52 mm", magnetised = "up" }',
     ['8: iron: pole: magnetised: must be left out where the piece is no magnet; found "bar 25".']),
    ("pot", 'pole = { from = "bar 25", t = "52.0 ± 0.05 mm" }',
     'pole = { from = "bar 25", t = "52 mm", d_out_hi = "26 mm" }',
     ["8: iron: pole: d_out_hi: must be at most 25 mm; found 26 mm from bar 25, which cannot grow."]),
    ("pot", 'pole = { from = "bar 25", t = "52.0 ± 0.05 mm" }',
     'pole = { from = "bar 25", t = "52 mm", on = "back", under = "top" }',
     ["8: iron: pole: under: must be left out where the ring stands on another; found on and under for pole."]),
    ("ring magnet", 'magnet = "ferrite 72"', 'magnet = { from = "ferrite 72", grade = "Y35" }',
     ['6: iron: magnet: grade: must be left out for a magnet; found grade of "ferrite 72". It is told in stock.toml.']),
    ("ring magnet", 'magnet = "ferrite 72"', 'magnet = { from = "bar 25", t = "15 mm" }',
     ['6: iron: magnet: from: must be the name of a [[magnet]] in stock.toml; found "bar 25", a [[steel]]. '
      "What is meant otherwise is written as [[iron.ring]], without the arrangement."]),
    ("cup magnet", 'pole = { from = "bar 25", t = "6 mm" }', 'pole = "disc 20"',
     ['7: iron: pole: from: must be the name of a [[steel]] in stock.toml; found "disc 20", a [[magnet]]. '
      "What is meant otherwise is written as [[iron.ring]], without the arrangement."]),
    ("ring magnet", 'from = "copper sheet"', 'from = "plate 68"',
     ['9: iron: cap: from: must be the name of a [[metal]] in stock.toml; found "plate 68", a [[steel]]. '
      "What is meant otherwise is written as [[iron.ring]], without the arrangement.",
      '9: iron: cap: from: must be a piece that is still there ("plate 68"); found 3 rings from it in the design, '
      "2 in stock.toml."]),
    ("strap yoke", "n_legs = 2, ", "",
     ["5: iron: legs: n_legs: must be the number of flat bars; found nothing. "
      'Such as legs = { from = "flat bar", n_legs = 2 }.']),
    ("strap yoke", "n_legs = 2", "n_legs = 40",
     ["5: iron: legs: n_legs: must be so few that the legs stand beside each other; found 40 of 30 mm round 68 mm.",
      '5: iron: legs: from: must be a piece that is long enough ("flat 30"); found 40 × 46 mm in the design, 500 mm in '
      "stock.toml."]),
    ("bolt", 'bolt = "bolt M8"\n', "",
     ["1: iron: bolt: must be the name of a piece, or a table of the keys of a ring, such as "
      '{ from = "plate" }; found nothing.']),
    ("bolt", 'bolt = "bolt M8"\n', 'bolt = { t = "60 mm" }\nhead = { grade = "dc01" }\n',
     ["5: iron: bolt: from: must be given; found nothing."]),
]  # fmt: skip


@pytest.mark.parametrize(("motor", "old", "new", "told"), FAULTS)
def test_a_slip_is_told_in_its_own_words(motor, old, new, told, tmp_path) -> None:
    """Kind of truth: each sentence was written out and judged by reading."""
    assert old in MOTORS[motor]
    assert said(write(tmp_path, motor, MOTORS[motor].replace(old, new, 1))) == told


ALONE = """\
[iron]
name = "x"
plate = "magnet"

[[iron.ring]]
name = "magnet"
from = "ferrite 72"
"""


def test_a_magnet_alone_drives_nothing(tmp_path) -> None:
    """Kind of truth: limit, by symmetry: round the middle of a magnet along the axis no flux crosses a coil's side."""
    assert said(write(tmp_path, "ring magnet", ALONE)) == [
        "1: iron: must be a stack with steel, which leads the magnet's flux through the voice coil; found none, and so "
        "no force on the coil. Add a plate and a pole of steel."
    ]
    stock = (
        (tmp_path / "stock.toml").read_text(encoding="utf8").replace("[[magnet]]", '[[magnet]]\nmagnetised = "radial"')
    )
    (tmp_path / "stock.toml").write_text(
        stock.replace('name = "disc 20"', 'name = "disc 20"\nd_in = "9 mm"'), encoding="utf8"
    )
    assert read(tmp_path).has_magnets


def test_names_of_steels_magnets_and_metals_are_told_apart() -> None:
    names = [*steels.names(), *magnets.names(), *metals.names()]
    assert len(set(names)) == len(names)


@settings(max_examples=150)
@given(st.sampled_from(list(MOTORS)), st.data())
def test_a_value_of_any_kind_earns_a_sentence(motor, data) -> None:
    """Anything but a HandwoundError goes through and fails the test."""
    lines = MOTORS[motor].splitlines()
    number = data.draw(st.sampled_from([n for n, line in enumerate(lines) if " = " in line]))
    key, _, value = lines[number].partition(" = ")
    inner = data.draw(st.sampled_from([None, "d_in", "d_out_hi", "t", "count", "n_legs", "on", "under", "magnetised"]))
    spoiled = data.draw(VALUES)
    table = value[:-1] if value.startswith("{") else f'{{ from = "{value}"'
    lines[number] = f"{key} = {spoiled}" if inner is None else f"{key} = {table}, {inner} = {spoiled} }}"
    with tempfile.TemporaryDirectory() as folder:
        try:
            read(write(Path(folder), motor, "\n".join(lines)))
        except FileError as error:
            assert all(": must be " in str(fault) for fault in error.faults)

"""Where the bands come from, in words: the right inputs, in their order, each with what to do."""

from __future__ import annotations

from dataclasses import replace

from handwound.parts.prediction import Weight
from handwound.sheet.doubt import HEAVIEST, MOST, TIED, tables
from tests.sheet import demo

_, _, MADE = demo.job()


def weight(part: str, quantity: str, S_i: float) -> Weight:
    return Weight(part=part, quantity=quantity, S_i=S_i)


def test_nothing_is_said_where_nothing_is_uncertain() -> None:
    assert tables(replace(MADE, weights={})) == ()
    assert tables(replace(MADE, weights={"driver.Re": ()})) == ()


def test_each_result_names_its_heaviest_inputs() -> None:
    """By hand: 0.612 is 61 %; the fourth is not told; a result that nobody asks first has no line."""
    heavy = tuple(weight(f"reel {k}", "d_cu", share) for k, share in enumerate((0.612, 0.2, 0.1, 0.05)))
    first, _ = tables(replace(MADE, weights={"driver.Re": heavy, "moving.m_f": heavy}))
    assert len(heavy) > HEAVIEST
    told = "reel 0, bare wire 61 %; reel 1, bare wire 20 %; reel 2, bare wire 10 %"
    (row,) = first.rows[1:]
    assert tuple(cell.replace(TIED, " ") for cell in row) == ("voice coil on the meter", told)


def test_what_helps_most_stands_first_and_once() -> None:
    weights = {
        "driver.Re": (weight("reel", "d_cu", 0.9), weight("brief", "T_room", 0.05)),
        "driver.fs": (weight("foam", "E", 0.95),),
        "motor.Bl": (weight("mild_steel", "k_H", 0.6), weight("reel", "d_cu", 0.04)),
    }
    _, helps = tables(replace(MADE, weights=weights))
    assert [cells[0] for cells in helps.rows[1:]] == [
        "foam, stiffness of the material", "reel, bare wire", "mild steel, how hard it is to magnetise",
        "the room's temperature",
    ]  # fmt: skip
    assert "weight" in helps.rows[1][1] and "tables only" in helps.rows[3][1]


def test_no_evening_is_too_short_for_it() -> None:
    many = tuple(weight(f"ring {k}", "d_in", 0.04) for k in range(3))
    weights = {key: tuple(replace(each, part=f"{each.part} {key}") for each in many) for key in MADE.numbers()}
    assert len(tables(replace(MADE, weights=weights))[1].rows) == 1 + MOST

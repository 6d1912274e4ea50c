"""What insulation and glue bear, from outside the project."""

from __future__ import annotations

import pytest

from handwound.files.stock import read_stock
from handwound.files.wire import thermal_classes
from handwound.materials.tables import table
from handwound.parts.wire import SALVAGED
from handwound.quantities import quantities

LETTERS = {"Y": 90, "A": 105, "E": 120, "B": 130, "F": 155, "H": 180, "N": 200, "R": 220}
ROOM = 40.0
"""The hottest room that limits of rise are printed for. [°C]"""


def test_the_thermal_classes() -> None:
    """Kind of truth: printed example (excerpts of motor manuals); IEC 60085 (from memory)."""
    assert thermal_classes() == LETTERS
    rising = list(thermal_classes().values())
    assert rising == sorted(rising)


@pytest.mark.parametrize(("letter", "rise"), [("B", 80), ("F", 105), ("H", 125)])
def test_the_printed_rise_of_a_winding_leaves_room_for_its_hottest_spot(letter, rise) -> None:
    """Kind of truth: printed example (excerpt of a motor manual): allowed rise by resistance in a room of 40 °C.

    Resistance tells the mean of a winding; the hottest spot is taken as 10 to 15 K above it (from memory).
    """
    assert 10 <= thermal_classes()[letter] - ROOM - rise <= 15


@pytest.mark.parametrize(
    ("enamel", "index"),
    [("polyurethane enamel that solders", 130), ("polyurethane enamel for more heat", 155),
     ("polyesterimide enamel", 180), ("coat of polyamide-imide", 200)],
)  # fmt: skip
def test_the_enamels(enamel, index) -> None:
    """Kind of truth: from memory. Temperature indices of IEC 60317 wires; 155 also in a wire maker's page (excerpt)."""
    (line,) = [line for line in table("thermal_classes") if enamel in str(line["words"])]
    assert line["T_max"] == index


@pytest.mark.parametrize(("line", "T_max"), [(f'thermal_class = "{c}"\n', T) for c, T in LETTERS.items()] + [("", 105)])
def test_a_wire_bears_what_its_label_says_and_old_wire_little(line, T_max, tmp_path) -> None:
    """Kind of truth: common practice, no source, for wire without a label: old enamel is class A."""
    (tmp_path / "stock.toml").write_text(f'[[wire]]\nname = "?"\nsize = "0.50"\n{line}', encoding="utf8")
    (wire,) = read_stock(tmp_path / "stock.toml").wires
    assert wire.T_max == T_max
    assert thermal_classes()["A"] == SALVAGED


@pytest.mark.parametrize(
    ("kinds", "low", "high"),
    [
        (["white glue"], 60, 70),
        (["contact glue"], 60, 70),
        (["quick epoxy", "slow epoxy"], 50, 80),
        (["heat-cured epoxy"], 100, 120),
        (["bonding enamel"], 150, 200),
    ],
)
def test_glues(kinds, low, high) -> None:
    """Kind of truth: from memory, weak. Ranges of workshop glues; a warning to the maker, never pass or fail."""
    lines = [line for line in table("adhesives") if line["kind"] in kinds]
    assert len(lines) == len(kinds)
    assert min(line["T_max_low"] for line in lines) == low
    assert max(line["T_max_high"] for line in lines) == high


def test_cyanoacrylate() -> None:
    """Kind of truth: from memory, weak. About 80 °C; special kinds to 120 °C are not counted on."""
    (line,) = [line for line in table("adhesives") if line["kind"] == "cyanoacrylate"]
    assert line["T_max_low"] < 80 < line["T_max_high"] < 120


def test_a_glue_is_taken_at_its_weakest_and_its_table_says_how_weak_it_is(tmp_path) -> None:
    """Kind of truth: limit. Nobody may read more into the table than it knows."""
    for n, line in enumerate(table("adhesives")):
        text = f'[[adhesive]]\nname = "{n}"\nkind = "{line["kind"]}"\n'
        (tmp_path / "stock.toml").write_text(text, encoding="utf8")
        (glue,) = read_stock(tmp_path / "stock.toml").adhesives
        assert quantities()["T_max"].low < glue.T_max == line["T_max_low"] < line["T_max_high"]
        assert "weak: measure" in str(line["source"])

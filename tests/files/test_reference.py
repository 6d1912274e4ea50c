"""docs/reference/files.md says every key that a file may hold, no other, and its examples can be used."""

from __future__ import annotations

import re
import tomllib

import pytest

from handwound.files import (
    brief,
    centring,
    coil,
    heat,
    iron,
    magnet,
    mounting,
    moving,
    readings,
    ring,
    sheet,
    steel,
    stock,
    suspension,
    wire,
)
from handwound.files.row import Row
from handwound.materials import fillers, insulators, joints, surfaces, tables
from handwound.quantities import quantities, read
from tests.rules import house

PAGE = (house.ROOT / "docs/reference/files.md").read_text(encoding="utf8")
LINE = re.compile(r"^\| `(\w+)` \| `(.+?)` \| (.+) \| (.+) \|$", re.M)
ROWS: dict[str, type[Row]] = {
    "### `[[wire]]`": wire.WireRow,
    "### `[[steel]]`": steel.SteelRow,
    **{f'`form = "{form}"`': model for form, model in steel.FORMS.items()},
    "### `[[magnet]]`": magnet.MagnetRow,
    "### `[[metal]]`": steel.SteelRow,
    "### `[[sheet]]`": sheet.SheetRow,
    "### `[[adhesive]]`": sheet.AdhesiveRow,
    "### `[[supply]]`": stock.SupplyRow,
    "### `[[amplifier]]`": stock.AmplifierRow,
    "### `[[bit]]`": stock.BitRow,
    "## brief.toml": brief.BriefRow,
    "### `[iron]`": iron.IronRow,
    "### `[[iron.ring]]`": ring.RingRow,
    "### `[field_coil]`": coil.FieldCoilRow,
    "### `[voice_coil]`": coil.VoiceCoilRow,
    "### `[diaphragm]`": moving.DiaphragmRow,
    "### `[diaphragm.ribs]`": moving.RibsRow,
    "### `[cap]`": moving.CapRow,
    "### `[surround]`": suspension.SurroundRow,
    "### `[spider]`": suspension.SpiderRow,
    "### `[[bond]]`": moving.BondRow,
    "### `[moving]`": moving.MovingRow,
    "### `[centring]`": centring.CentringRow,
    "### `[frame]`": heat.FrameRow,
    "### `[back]`": mounting.BackRow,
    "### `[flange]`": mounting.FlangeRow,
}


def lines(heading: str) -> dict[str, tuple[str, bool]]:
    """Each key under a heading, with its example and whether leaving it out is a fault."""
    text = PAGE.split(f"\n{heading}\n")[1].split("| key |")[1].split("\n\n")[0]
    return {key: (example, left_out == "a fault") for key, example, _, left_out in LINE.findall(text)}


def keys(model: type[Row]) -> dict[str, bool]:
    """Each key of a table, and whether it must be given."""
    return {field.alias or name: field.is_required() for name, field in model.model_fields.items()}


@pytest.mark.parametrize("heading", ROWS)
def test_every_key_is_described_and_no_other(heading) -> None:
    shared = keys(steel.SteelRow) if heading.startswith("`form") else {}
    described = {key: must for key, (_, must) in lines(heading).items()}
    assert described == {key: must for key, must in keys(ROWS[heading]).items() if key not in shared}


@pytest.mark.parametrize("heading", ROWS)
def test_the_examples_can_be_used(heading) -> None:
    shared = {"name": "x", "form": "bar"} if heading.startswith("`form") else {}
    examples = {key: tomllib.loads(f"{key} = {example}")[key] for key, (example, _) in lines(heading).items()}
    assert ROWS[heading].model_validate({**shared, **examples})


def test_the_columns_of_the_log_are_described() -> None:
    described = lines("## readings.csv")
    assert tuple(described) == readings.COLUMNS
    assert described["quantity"][0] in quantities()
    assert read(described["quantity"][0], described["value"][0]).spread > 0


@pytest.mark.parametrize("known", [surfaces.surfaces(), fillers.fillers(), insulators.insulators(), joints.joints()])
def test_every_word_of_a_table_is_told(known) -> None:
    assert [word for word in known if f"`{word}`" not in PAGE] == []


def test_the_surfaces_are_those_of_the_table() -> None:
    """Kind of truth: the table itself, of which the page prints the numbers."""
    listed = re.findall(r"^\| `(.+?)` \| (.+) \| (\S+) ± (\S+) \|$", PAGE.split("#### Surfaces")[1], re.M)
    lines = tables.table("surfaces")
    assert listed[: len(lines)] == [
        (line["surface"], line["words"], f"{line['eps']:g}", f"{line['eps_spread']:g}") for line in lines
    ]


def test_every_table_has_its_heading() -> None:
    headings = set(re.findall(r"^### (`\[.+?\]+`)$", PAGE, re.M))
    assert headings == {name.removeprefix("### ") for name in ROWS if name.startswith("###")}

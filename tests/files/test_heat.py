"""What heat meets, as it is written: whose word on a surface counts, spools and fillings, a frame, a box, a place."""

from __future__ import annotations

from pathlib import Path

import pint
import pytest

from handwound.materials import fillers, insulators, surfaces
from handwound.parts.design import Brief, Design
from tests.files import bench, usual

UNITS = pint.UnitRegistry()
FRAME = """\
[frame]
on = "{}"
metal = "aluminium"
t_frame = "1.5 ± 0.2 mm"
A_frame = "240 ± 40 cm²"

[moving]"""


def design(folder: Path, old: str = "", new: str = "") -> Design:
    bench.write(folder, "design.toml" if old else "", old, new)
    return bench.read(folder)[2]


def brief(folder: Path, told: str) -> Brief:
    bench.write(folder, "brief.toml", 'x_pk = "2 mm"', f'x_pk = "2 mm"\n{told}')
    return bench.read(folder)[1]


def seen(found: Design) -> dict[str, str]:
    """The surface of each ring."""
    return {ring.name: ring.surface.name if ring.surface else "" for ring in found.iron.rings}


def test_nobody_has_looked(tmp_path) -> None:
    """Kind of truth: limit. What nobody knows has the widest doubt of the table."""
    found = design(tmp_path)
    assert set(seen(found).values()) == {"unknown"}
    (doubt,) = {ring.surface.spread for ring in found.iron.rings if ring.surface}
    assert doubt == max(each.spread for each in surfaces.surfaces().values())


@pytest.mark.parametrize("of_piece", ["", "rusty"])
@pytest.mark.parametrize("of_iron", ["", "painted"])
@pytest.mark.parametrize("of_ring", ["", "bright steel"])
def test_the_nearest_word_counts(of_piece, of_iron, of_ring, tmp_path) -> None:
    """Common practice, no source: a ring's own word, then what was done to the whole, then how the piece came."""

    def line(word: str) -> str:
        return f'surface = "{word}"\n' if word else ""

    bench.write(tmp_path)
    stock = bench.STOCK.replace('name = "plate"\n', f'name = "plate"\n{line(of_piece)}')
    build = bench.DESIGN.replace('[iron]\nname = "pot"\n', f'[iron]\nname = "pot"\n{line(of_iron)}')
    build = build.replace('name = "top"\n', f'name = "top"\n{line(of_ring)}')
    (tmp_path / "stock.toml").write_text(stock, encoding="utf8")
    (tmp_path / "design.toml").write_text(build, encoding="utf8")
    found = seen(bench.read(tmp_path)[2])
    assert found["top"] == (of_ring or of_iron or of_piece or "unknown")
    assert found["back"] == (of_iron or of_piece or "unknown")
    assert found["pole"] == (of_iron or "unknown")


def test_the_rings_of_an_arrangement_have_surfaces_too(tmp_path) -> None:
    text = usual.MOTORS["ring magnet"].replace(
        'magnet = "ferrite 72"', 'magnet = { from = "ferrite 72", surface = "ferrite" }'
    )
    text = text.replace("[iron]\n", '[iron]\nsurface = "galvanised"\n')
    found = seen(usual.read(usual.write(tmp_path, "ring magnet", text)))
    assert found.pop("magnet") == "ferrite"
    assert set(found.values()) == {"galvanised"}


def test_a_magnet_and_a_bolt_s_head_keep_the_surface_of_their_piece(tmp_path) -> None:
    usual.write(tmp_path, "bolt")
    stock = tmp_path / "stock.toml"
    text = stock.read_text(encoding="utf8")
    stock.write_text(text.replace('name = "bolt M8"\n', 'name = "bolt M8"\nsurface = "galvanised"\n'), encoding="utf8")
    found = seen(usual.read(tmp_path))
    assert {name for name, word in found.items() if word == "galvanised"} == {"bolt", "head"}
    ring = usual.write(tmp_path, "ring magnet")
    stock.write_text(text.replace('grade = "Y30"\n', 'grade = "Y30"\nsurface = "ferrite"\n'), encoding="utf8")
    assert seen(usual.read(ring))["magnet"] == "ferrite"


def test_what_a_coil_is_wound_on_and_filled_with(tmp_path) -> None:
    found = design(tmp_path, 'h_w = "42 mm"', 'h_w = "42 mm"\nspool = "PLA"\nfill = "wax"')
    assert found.field_coil
    assert found.field_coil.spool == insulators.insulator("PLA")
    assert found.field_coil.filler == fillers.filler("wax")
    assert found.voice_coil.filler == fillers.filler("air"), "where nothing is said"
    plain = design(tmp_path, 'h_w = "12 mm"', 'h_w = "12 mm"\nfill = "epoxy"')
    assert plain.field_coil
    assert plain.field_coil.spool == insulators.insulator("card"), "where nothing is said"
    assert plain.voice_coil.filler == fillers.filler("epoxy")


def test_a_frame(tmp_path) -> None:
    """Kind of truth: a general library, for the units."""
    frame = design(tmp_path, "[moving]", FRAME.format("top")).frame
    assert frame
    assert (frame.on, frame.metal, frame.surface.name) == ("top", "aluminium", "unknown")
    assert (frame.t_frame, frame.A_frame) == pytest.approx((1.5e-3, UNITS.Quantity(240, "cm²").to("m²").magnitude))
    assert dict(frame.spread) == pytest.approx({"t_frame": 0.2e-3, "A_frame": 40e-4})


def test_a_frame_on_a_flange_of_a_pile(tmp_path) -> None:
    """Of several alike it is screwed to one, which has its own name."""
    usual.write(tmp_path, "bolt")
    build = tmp_path / "design.toml"
    text = build.read_text(encoding="utf8").replace("[moving]", FRAME.format("top 3"))
    build.write_text(text, encoding="utf8")
    frame = usual.read(tmp_path).frame
    assert frame
    assert frame.on == "top 3"


def test_a_steel_frame_where_no_metal_is_told(tmp_path) -> None:
    text = FRAME.format("back").replace('metal = "aluminium"\n', 'surface = "painted"\n')
    frame = design(tmp_path, "[moving]", text).frame
    assert frame
    assert (frame.metal, frame.surface) == ("mild_steel", surfaces.surface("painted"))


def test_a_box_and_a_place(tmp_path) -> None:
    """Kind of truth: a general library, for the units."""
    found = brief(tmp_path, 'V_box = "12 ± 1 l"\nt_box = "12 mm"\nplaced = "face down"')
    assert found.placed == "face down"
    assert found.box
    assert found.box.V_box == pytest.approx(UNITS.Quantity(12, "liter").to("m³").magnitude)
    assert found.box.t_box == pytest.approx(0.012)
    assert dict(found.box.spread) == pytest.approx({"V_box": 1e-3})


def test_a_driver_in_the_room(tmp_path) -> None:
    found = brief(tmp_path, 'crest = "9 dB"')
    assert found.box is None
    assert found.placed == "in a baffle"

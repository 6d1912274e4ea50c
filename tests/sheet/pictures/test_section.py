"""The section is to scale: what is read back from the drawing is the design."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from handwound.cone import whole
from handwound.parts.iron import Iron, Ring
from handwound.parts.moving import Cap, Ribs, Spider
from handwound.sheet.drawing import section, shapes
from handwound.sheet.drawing.gap import elsewhere, gap_picture
from handwound.sheet.drawing.section import cross_section
from tests.sheet import demo
from tests.sheet.drawing import SVG, parsed, part, texts

MM = 1e-3


def washers(count: int):
    """A motor whose back is a pile of washers, for many parts and many names."""
    design, wish, _ = demo.job()
    rings = design.iron.rings
    pile = [
        Ring(name=f"washer {k + 1}", grade="mild steel", d_in=8 * MM, d_out=68 * MM, t=1.6 * MM, joint=0.03 * MM,
             on=f"washer {k}" if k else None)
        for k in range(count)
    ]  # fmt: skip
    first = replace(rings[0], on=pile[-1].name)
    iron = Iron(name="washers", plate=("top plate",), rings=(*pile, first, *rings[1:]))
    high = count * 1.63 * MM
    made = replace(design, iron=iron, field_coil=replace(design.field_coil, z_w=design.field_coil.z_w + high))
    return made, wish, demo.prediction(made, wish)


def many(count: int):
    """So many different washers that their names need more than a page's height at any scale."""
    design, wish, _ = washers(count)
    rings = tuple(
        replace(ring, d_in=(8 + k % 2) * MM) if ring.name.startswith("washer") else ring
        for k, ring in enumerate(design.iron.rings)
    )
    made = replace(design, iron=replace(design.iron, rings=rings))
    return made, wish, demo.prediction(made, wish)


def flat():
    """A flat disc that closes a short former: nothing fits under it."""
    design, wish, made = demo.job()
    disc = replace(design.diaphragm, form="disc", d_in=0.0, h_c=0.0)
    return replace(design, diaphragm=disc, voice_coil=replace(design.voice_coil, l_f=14 * MM)), wish, made


def shaped():
    """A dome under a cap with ribs, a roll, and a spider of arms."""
    design, wish, made = demo.job()
    ribs = Ribs(sheet=demo.CARD, n_rib=6, h_rib=4 * MM, d_in=50 * MM, d_out=90 * MM)
    dome = replace(design.diaphragm, form="dome", d_in=0.0, h_c=12 * MM, ribs=ribs)
    cap = Cap(form="dome", sheet=demo.CARD, d_out=40 * MM, h_c=6 * MM)
    roll = replace(design.surround, form="roll", h_r=8 * MM)
    arms = Spider(form="arms", sheet=demo.CARD, n_arm=3, l_arm=30 * MM, w_arm=5 * MM, z_sp=5 * MM)
    return replace(design, diaphragm=dome, cap=cap, surround=roll, spider=arms), wish, made


def pleated():
    """Pleats at the rim and a pleated spider of which all sizes are known."""
    design, wish, made = demo.job()
    pleats = replace(design.surround, form="pleats", h_r=3 * MM, n_pleat=3)
    spider = Spider(
        form="pleats", sheet=demo.FOAM, n_pleat=4, h_r=3 * MM, d_in=26 * MM, d_out=64 * MM, z_sp=4 * MM
    )  # fmt: skip
    return replace(design, surround=pleats, spider=spider), wish, made


JOBS = {
    "as planned": demo.job(),
    "tiny": demo.job(0.3),
    "huge": demo.job(3.0),
    "forty layers": demo.job(1.0, 40),
    "washers": washers(7),
    "flat": flat(),
    "shaped": shaped(),
    "pleated": pleated(),
}


def test_the_example_is_drawn_at_its_true_size() -> None:
    """Closed form: at 1:1 a millimetre of the part is a millimetre of the paper."""
    design, _, made = demo.job()
    root = parsed(cross_section(design, made))
    (pole,) = part(root, "pole, bar")
    plates, coils = part(root, "top plate"), part(root, "field coil")
    assert (pole.width, pole.height) == pytest.approx((25.0, 52.0), abs=0.002)
    assert [box.width for box in plates] == pytest.approx([20.0, 20.0], abs=0.002)
    assert plates[1].x - plates[0].x - plates[0].width == pytest.approx(28.0, abs=0.002)
    assert [box.height for box in coils] == pytest.approx([43.5, 43.5], abs=0.002)
    assert coils[1].x + coils[1].width - coils[0].x == pytest.approx(made.field_winding.D_w / MM, abs=0.002)


@pytest.mark.parametrize("name", JOBS)
def test_every_ring_stands_where_the_design_puts_it(name) -> None:
    design, _, made = JOBS[name]
    root = parsed(cross_section(design, made))
    first = design.iron.rings[0].name
    scale = sum(box.width for box in part(root, first)) / (design.iron.rings[0].d_out - design.iron.rings[0].d_in) * MM
    axis = (part(root, first)[0].x + part(root, first)[-1].x + part(root, first)[-1].width) / 2
    zero = part(root, first)[0].y + part(root, first)[0].height + design.iron.levels()[first][0] * scale / MM
    for ring in design.iron.rings:
        boxes, (z_lo, z_hi) = part(root, ring.name), design.iron.levels()[ring.name]
        assert len(boxes) == (1 if ring.d_in == 0 else 2)
        for box in boxes:
            assert (zero - box.y - box.height, zero - box.y) == pytest.approx(
                (z_lo * scale / MM, z_hi * scale / MM), abs=0.005
            )
        right = boxes[-1].x + boxes[-1].width - axis
        assert right == pytest.approx(ring.d_out / 2 * scale / MM, abs=0.005)
        if ring.d_in:
            assert boxes[-1].x - axis == pytest.approx(ring.d_in / 2 * scale / MM, abs=0.005)


@pytest.mark.parametrize("name", JOBS)
def test_the_voice_coil_stands_about_its_plate(name) -> None:
    design, _, made = JOBS[name]
    deep = replace(design, voice_coil=replace(design.voice_coil, x_0=0.1 * design.voice_coil.h_w))
    for made_of, shift in ((design, 0.0), (deep, 0.1 * design.voice_coil.h_w)):
        root = parsed(cross_section(made_of, made))
        plate, coil = part(root, "top plate")[0], part(root, "voice coil")[0]
        scale = plate.height / design.iron.rings[-1].t
        rise = plate.y + plate.height / 2 - coil.y - coil.height / 2
        assert rise == pytest.approx(shift * scale, abs=0.02)
        assert coil.height == pytest.approx(design.voice_coil.h_w * scale, rel=2e-3)


@pytest.mark.parametrize("name", JOBS)
def test_no_text_lies_on_another_or_off_the_paper(name) -> None:
    design, _, made = JOBS[name]
    for svg in (cross_section(design, made), gap_picture(design, made)):
        root, boxes = parsed(svg), texts(parsed(svg))
        width, height = float(root.get("width")[:-2]), float(root.get("height")[:-2])
        assert [f"{a.text} | {b.text}" for a, b in combinations(boxes, 2) if a.overlaps(b)] == []
        assert [b.text for b in boxes if b.x < 0 or b.y < 0 or b.x + b.width > width or b.y + b.height > height] == []


@pytest.mark.parametrize("name", JOBS)
def test_the_drawing_fits_its_page(name) -> None:
    design, _, made = JOBS[name]
    root = parsed(cross_section(design, made))
    assert float(root.get("width")[:-2]) == section.WIDTH
    assert float(root.get("height")[:-2]) <= section.HEIGHT
    assert part(root, "top plate")[0].width > 4


def test_a_long_row_of_names_does_not_make_the_section_tiny() -> None:
    design, _, made = many(24)
    root = parsed(cross_section(design, made))
    assert float(root.get("height")[:-2]) > section.HEIGHT
    assert part(root, "top plate")[0].width >= 9.9
    boxes = texts(root)
    assert [f"{a.text} | {b.text}" for a, b in combinations(boxes, 2) if a.overlaps(b)] == []


@pytest.mark.parametrize("name", JOBS)
def test_parts_are_named_and_hatched(name) -> None:
    design, _, made = JOBS[name]
    root = parsed(cross_section(design, made))
    words = " ".join(item.text for item in root.iter(f"{SVG}text"))
    for needed in ("top plate", "field coil", "voice coil", "former", "A the gap", "surround", "diaphragm"):
        assert needed in words.replace("A  the", "A the")
    hatched = [item for item in root.iter(f"{SVG}path") if item.get("class") == "hatch"]
    assert len(hatched) >= sum(2 if ring.d_in else 1 for ring in design.iron.rings)
    assert len({part.get("d")[:40] for part in hatched}) > 1


def test_seven_washers_have_one_name() -> None:
    design, _, made = washers(7)
    words = [item.text for item in parsed(cross_section(design, made)).iter(f"{SVG}text")]
    assert "washer 1 to washer 7" in words
    assert any("7 pieces" in word for word in words)


def test_the_lens_gives_the_millimetres_of_the_gap() -> None:
    """By hand from the design: 25.0 | 0.30 | 25.6-25.9 | wire to 26.75 | 0.625 | 28.0."""
    design, _, made = demo.job()
    words = [item.text for item in parsed(gap_picture(design, made)).iter(f"{SVG}text")]
    assert {"⌀25", "⌀25.6", "⌀25.9", "⌀26.75", "⌀28"} <= set(words)
    numbers = [word for word in words if re.fullmatch(r"\d\.\d\d", word)]
    assert [float(word) for word in numbers] == pytest.approx([0.30, 0.15, 0.425, 0.625], abs=0.0051)
    assert sum(float(word) for word in numbers) == pytest.approx((28.0 - 25.0) / 2, abs=0.011)


def test_less_air_elsewhere_is_told_under_the_lens() -> None:
    design, _, made = demo.job()
    assert elsewhere(design, made) == []
    tight = replace(made, clearance=replace(made.clearance, c_o=0.1 * MM))
    for svg in (gap_picture(design, tight), cross_section(design, tight)):
        words = [item.text for item in parsed(svg).iter(f"{SVG}text")]
        assert "Least air outside: 0.1 mm, elsewhere on its way." in " ".join(words)
    assert elsewhere(design, replace(made, clearance=replace(made.clearance, c_o=None))) == []


def test_iron_on_one_side_goes_by_its_own_name() -> None:
    design, _, made = demo.job()
    bare = replace(design, iron=replace(design.iron, plate=("pole, bar",), rings=design.iron.rings[:2]))
    words = [item.text for item in parsed(gap_picture(bare, made)).iter(f"{SVG}text")]
    assert "pole, bar" in words and "pole" not in words and "plate" not in words
    both = [item.text for item in parsed(gap_picture(design, made)).iter(f"{SVG}text")]
    assert "pole" in both and "plate" in both
    assert elsewhere(bare, made) == ["Least air outside: 0.625 mm, elsewhere on its way."]


def test_the_lens_shows_each_wire_in_its_layer() -> None:
    design, _, made = demo.job()
    root = parsed(gap_picture(design, made))
    circles = [(float(c.get("cx")), float(c.get("r"))) for c in root.iter(f"{SVG}circle")]
    layers = sorted({x for x, _ in circles})
    assert len(layers) == 2
    # stacked layers lie one overall diameter apart, so circles of two layers touch
    assert layers[1] - layers[0] == pytest.approx(2 * max(r for _, r in circles), rel=1e-3)


@pytest.mark.parametrize(("scale", "part_mm", "paper_mm"), [(1.0, 100, 100.0), (0.3, 20, 60.0), (3.0, 200, 66.67)])
def test_the_bar_is_as_long_as_it_says(scale, part_mm, paper_mm) -> None:
    design, _, made = demo.job(scale)
    root = parsed(cross_section(design, made))
    bar = root.find(f"{SVG}g[@class='scale-bar']")
    outline = bar.findall(f"{SVG}rect")[-1]
    assert float(outline.get("width")) == pytest.approx(paper_mm, abs=0.01)
    assert f"{part_mm} mm" in bar.find(f"{SVG}text").text
    drawn = part(root, "pole, bar")[0].width / (25 * scale)
    assert paper_mm / part_mm == pytest.approx(drawn, rel=1e-3)


def test_equal_designs_give_equal_bytes() -> None:
    assert cross_section(*demo.job()[::2]) == cross_section(*demo.job()[::2])


def test_a_name_may_hold_anything() -> None:
    design, wish, _ = demo.job()
    odd = demo.design(name='pole <"&> #$*_@\\ {}')
    words = " ".join(i.text for i in parsed(cross_section(odd, demo.prediction(odd, wish))).iter(f"{SVG}text"))
    assert 'pole <"&> #$*_@\\ bar' in words


@pytest.mark.parametrize("name", ["as planned", "shaped", "pleated"])
def test_what_is_drawn_is_what_is_followed_as_a_shell(name) -> None:
    """Second method: the nodes of the shell of all that moves lie on the drawing, to the thickness of the sheets."""
    design, _, made = JOBS[name]
    moves = whole(design, made.moving)
    seen = np.concatenate([moves.pieces[name] for name in ("diaphragm", "cap", "surround") if name in moves.pieces])
    nodes = np.unique(moves.shell.elements[seen])
    drawn = [_fine(skin.outline) for skin in shapes.skins(design) if skin.name != "ribs"]
    lines, z_neck = np.concatenate(drawn), shapes.z_neck(design)
    r, z = moves.shell.r[nodes], moves.shell.z[nodes] + z_neck
    off = np.hypot(lines[:, 0] - r[:, None], lines[:, 1] - z[:, None]).min(axis=1)
    assert off.max() < demo.FOAM.t / 2 + demo.CARD.t + 0.2 * MM


def _fine(outline) -> np.ndarray:
    """Many points along a polygon."""
    ends = np.array([*outline, outline[0]])
    return np.concatenate([np.linspace(a, b, 100) for a, b in zip(ends, ends[1:], strict=False)])


def test_each_form_has_its_words_and_its_measures() -> None:
    """By hand: arms of 30 mm along a tangent of ⌀25.9 reach out to 2 hypot(12.95, 30) = 65.4 mm."""
    words = {skin.name: skin.words for skin in shapes.skins(JOBS["shaped"][0])}
    assert words["cap"] == "⌀40, 6 high, card 160 g/m²" and "half a roll 8 high" in words["surround"]
    assert "3 arms, 30 long, 5 wide" in words["spider"] and words["ribs"].startswith("6 of card 160 g/m², 4 high")
    assert "12 high" in words["diaphragm"]
    shown = " ".join(item.text for item in parsed(cross_section(*JOBS["shaped"][::2])).iter(f"{SVG}text"))
    assert "cap ⌀40" in shown and "ribs ⌀90" in shown and "surround ⌀122" in shown and "3 arms, 30 long" in shown
    (spider,) = [skin for skin in shapes.skins(JOBS["shaped"][0]) if skin.name == shapes.SPIDER]
    assert 2 * max(r for r, _ in spider.outline) == pytest.approx(65.35 * MM, abs=0.01 * MM)
    waved = {skin.name: skin.words for skin in shapes.skins(JOBS["pleated"][0])}
    assert "3 waves 3 deep" in waved["surround"] and "4 waves 3 deep" in waved["spider"]


def test_the_highest_point_of_a_roll_is_as_high_as_it_is_said() -> None:
    """By hand: half a roll of 8 mm of 2 mm foam: its back is 1 mm above its middle line, that 8 mm above the foot."""
    (roll,) = [skin for skin in shapes.skins(JOBS["shaped"][0]) if skin.name == "surround"]
    foot = (roll.outline[0][1] + roll.outline[-1][1]) / 2
    assert max(z for _, z in roll.outline) - foot == pytest.approx(9 * MM, abs=0.05 * MM)


def test_a_spider_of_which_only_the_stiffness_is_known_is_not_drawn() -> None:
    design = replace(demo.design(), spider=Spider(K_sp=1000.0, m_sp=1e-3))
    assert [skin.name for skin in shapes.skins(design)] == ["diaphragm", "surround"]

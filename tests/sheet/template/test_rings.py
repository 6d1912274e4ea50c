"""Suspension, strips, gauges and frame: lengths and areas against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from handwound.parts.mounting import Back, Flange
from handwound.parts.moving import Bond, Cap, Spider
from handwound.parts.prediction import Band
from handwound.sheet.drawing import steps_moving
from handwound.sheet.said import figures
from handwound.sheet.template import frame, rings
from handwound.sheet.template.frame import motor_across, screws, vents
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import box, is_circle, piece_area, points
from handwound.sheet.template.templates import templates
from tests.sheet import demo
from tests.sheet.demo import CARD, FOAM, MM


def made(**changes: object) -> dict[str, Template]:
    design, brief, prediction = demo.job()
    found = templates(replace(design, **changes), brief, prediction)
    assert len({each.key for each in found}) == len(found)
    return {each.key: each for each in found}


def circles(template: Template, role: str) -> list[float]:
    return sorted(
        math.dist(line.corners[0][:2], line.corners[1][:2])
        for line in template.lines
        if is_circle(line) and line.role == role
    )


def test_a_flat_surround_laps_as_its_glue_does() -> None:
    glue = demo.design().glue
    rim = Bond(name="rim", at="rim", glue=glue, w_bond=6 * MM, t_bond=0.1 * MM)
    ring = made(bonds=(rim,))["surround"]
    # sum of the sizes: 100 - 2 x 6 inside; outside no further than the outline of 130
    assert circles(ring, "cut") == pytest.approx([88 * MM, 130 * MM])
    assert circles(ring, "mark") == pytest.approx([100 * MM, 122 * MM])


def test_half_a_roll_is_wider_by_its_arc() -> None:
    roll = replace(demo.design().surround, form="roll", h_r=2.75 * MM, d_in=100 * MM, d_out=111 * MM)
    ring = made(surround=roll)["surround"]
    # closed form: half a circle over a chord of 5.5 mm at half its height is pi/2 times as long
    free = 100 * MM + 2 * math.pi / 2 * 5.5 * MM
    assert circles(ring, "mark")[-1] == pytest.approx(free, abs=0.05 * MM)
    (crest,) = circles(ring, "fold")
    assert crest == pytest.approx((100 * MM + free) / 2, abs=0.05 * MM)


def test_a_pleated_spider_is_wider_by_its_waves() -> None:
    part = Spider(form="pleats", sheet=FOAM, d_in=30 * MM, d_out=70 * MM, h_r=4 * MM, n_pleat=5)
    blank = made(spider=part)["spider"]
    # second method: the length of a cosine wave by numerical integration
    r = np.linspace(15, 35, 200001)
    slope = 2 * np.sin(2 * np.pi * 5 * (r - 15) / 20) * 2 * np.pi * 5 / 20
    way = np.trapezoid(np.hypot(1.0, slope), r) * MM
    assert circles(blank, "mark")[-2] == pytest.approx(30 * MM + 2 * way, rel=0.01)
    assert len(circles(blank, "fold")) == 9


def test_a_measured_spider_has_no_template() -> None:
    assert "spider" not in made(spider=Spider(K_sp=300.0, m_sp=1e-3))


@given(st.integers(1, 8), st.floats(5.0, 80.0), st.floats(1.0, 25.0), st.floats(6.0, 60.0))
def test_arms_are_free_for_their_length_and_never_lie_on_each_other(n_arm, l_arm, w_arm, D_f) -> None:
    part = Spider(form="arms", sheet=CARD, n_arm=n_arm, l_arm=l_arm * MM, w_arm=w_arm * MM)
    design = replace(demo.design(), spider=part)
    design = replace(design, voice_coil=replace(design.voice_coil, D_f=D_f * MM))
    r_ring = D_f / 2 * MM + rings.LAP
    if not rings.arms_fit(r_ring, w_arm * MM, n_arm):
        assert list(rings.spider(design, demo.brief())) == []
        return
    (template,) = rings.spider(design, demo.brief())
    outline = template.lines[0]
    pad = rings.spider_pad(design, demo.brief())
    # second method: the corner of the drawn outline that is farthest from the middle
    farthest = 2 * max(math.hypot(*corner[:2]) for corner in outline.corners)
    assert farthest == pytest.approx(rings.spider_reach(design, pad)) and 4 * MM - 1e-12 <= pad <= 8 * MM
    assert farthest <= 130 * MM + 1e-9 or pad == pytest.approx(4 * MM)
    ends = [line for line in template.lines if line.role == "mark"][: 2 * n_arm]
    for begin, end in zip(ends[::2], ends[1::2], strict=True):
        for one, other in zip(begin.corners, end.corners, strict=True):
            assert math.dist(one[:2], other[:2]) == pytest.approx(l_arm * MM)
        assert math.dist(begin.corners[0][:2], begin.corners[1][:2]) == pytest.approx(w_arm * MM)
        # the arm lies along a tangent: its outer edge touches the ring, at a right angle to the radius
        along = np.subtract(end.corners[0][:2], begin.corners[0][:2])
        foot = np.array(begin.corners[0][:2]) - along / np.linalg.norm(along) * np.dot(
            begin.corners[0][:2], along / np.linalg.norm(along)
        )
        assert np.linalg.norm(foot) == pytest.approx(r_ring)
    # one piece: a ring, and n times what stands out of it, all alike
    assert len(outline.corners) % n_arm == 0
    assert piece_area(template) > math.pi * (r_ring**2 - (D_f * MM / 2) ** 2) + n_arm * l_arm * w_arm * MM**2 * 0.999


def test_former_and_tube_are_pi_times_the_middle_of_their_wall() -> None:
    found = made()
    for key, length, height in (("former", math.pi * 25.75, 24.0), ("spool-tube", math.pi * 27.7, 43.5)):
        x, y, x_2, y_2 = box(points(found[key].lines[0]))
        # closed form: a cylinder laid flat at the middle of its wall
        assert (x_2 - x, y_2 - y) == pytest.approx((length * MM, height * MM))


def test_the_wrap_tells_a_mandrels_diameter_to_the_twentieth() -> None:
    wrap = made()["mandrel-wrap"]
    marks = [line.corners for line in wrap.lines if line.role == "mark"]
    edge = marks[0][0][1]
    main = [start[0] for start, end in marks if end[1] > edge]
    lines = [start[0] for start, end in marks if end[1] < edge]
    for D in np.arange(25.0, 26.5, 0.05) * MM:
        # closed form: a strip bends about the middle of its thickness, 0.1 mm of paper: one turn is pi (D + 0.1)
        laid = np.array(lines) + math.pi * (D + 0.1 * MM)
        off = np.abs(laid[:, None] - np.array(main))
        line, _ = np.unravel_index(np.argmin(off[:10]), off[:10].shape)
        whole = 24.6 * MM + 0.5 * MM * np.searchsorted(main, laid[0] + 1e-7, side="right") - 0.5 * MM
        assert whole + 0.05 * MM * line == pytest.approx(D, abs=1e-8)


def test_the_cheek_has_two_notches_and_its_hole() -> None:
    design, _, prediction = demo.job()
    cheek = made()["spool-cheek"]
    band = prediction.bands["field_winding.D_w"]
    d_in = float(design.field_coil.D_f - 2 * design.field_coil.t_f)
    full = math.pi / 4 * (band.high**2 - d_in**2)
    assert cheek.count == 2
    assert 0.9 * full < piece_area(cheek) < full  # limit: a ring less two narrow notches
    nearest = min(points(cheek.lines[0]), key=lambda at: math.hypot(*at))
    assert math.hypot(*nearest) == pytest.approx(float(design.field_coil.D_f) / 2, abs=0.05 * MM)  # down to the tube
    assert nearest[0] == pytest.approx(0.0, abs=1 * MM) and nearest[1] < 0  # at 6 o'clock


def test_of_odd_layers_each_cheek_has_the_notch_of_its_own_lead() -> None:
    odd = replace(demo.design().field_coil, n_l=13)
    found = made(field_coil=odd)
    back, front = found["spool-cheek-back"], found["spool-cheek-front"]
    assert "spool-cheek" not in found and back.count == front.count == 1
    d_out = 2 * max(math.hypot(*at) for at in points(front.lines[0]))
    notch = [at for at in points(front.lines[0]) if math.hypot(*at) < d_out / 2 - 2 * MM]
    # the clock: at 7 hours a place is left of the middle by half of what it is below it times the root of 3
    x, y = np.mean(notch, axis=0)
    assert y < 0 and x / y == pytest.approx(math.tan(math.radians(30)), rel=0.05)
    assert "F leaves" in front.notes[-1] and "S leaves" in back.notes[-1]


def test_a_cheek_passes_the_shell() -> None:
    design, brief, prediction = demo.job()
    D_w = float(prediction.field_winding.D_w)
    bands = {**prediction.bands, "field_winding.D_w": Band(D_w, D_w - 30 * MM, D_w + 30 * MM, D_w)}
    made = templates(design, brief, replace(prediction, bands=bands))
    cheek = next(each for each in made if each.key == "spool-cheek")
    bore = float(design.iron.room(D_w, design.field_coil.z_w, design.field_coil.z_w + design.field_coil.h_w)[1])
    d_out = 2 * max(math.hypot(*at) for at in points(cheek.lines[0]))
    assert D_w - 1e-9 <= d_out <= max(bore - 0.5 * MM, D_w) + 1e-9 and "no wider" in cheek.notes[0]


def test_no_glue_is_drawn_under_a_neck_that_stands_on_the_edge() -> None:
    glue = demo.design().glue
    bond = Bond(name="neck", at="neck", glue=glue, w_bond=4 * MM, t_bond=0.1 * MM)
    for d_in, over in ((25.0, False), (25.9, True)):
        texts = " ".join(
            each.text
            for each in made(bonds=(bond,), diaphragm=replace(demo.design().diaphragm, d_in=d_in * MM))["former"].words
        )
        assert ("glue of the neck" in texts, "on this edge only" in texts) == (over, not over)


def test_gauges_carry_the_band_that_is_accepted() -> None:
    design, brief, prediction = demo.job()
    spread = replace(design.voice_coil, spread=(("D_f", 0.1 * MM),))
    found = {each.key: each for each in templates(replace(design, voice_coil=spread), brief, prediction)}
    band = prediction.bands["voice_winding.D_w"]
    assert circles(found["go-coil"], "cut") == pytest.approx([band.low, band.high])
    assert circles(found["go-former"], "cut") == pytest.approx([25.8 * MM, 26.0 * MM])
    assert "go-former" not in made()  # nothing is known of how exact it is: nothing to hold against it


def test_the_depth_gauge_hooks_over_the_winding_or_stands_up_to_the_formers_edge() -> None:
    gauge = made()["depth-gauge"]
    ys = sorted({round(y, 9) for _, y, _ in gauge.lines[0].corners})
    # sum of the sizes: half of the winding less half of the plate stands out in front
    assert ys[1] == pytest.approx((11.9 / 2 - 6 / 2) * MM)
    sunk = replace(demo.design().voice_coil, x_0=-4 * MM)
    plain = made(voice_coil=sunk)["depth-gauge"]
    ys = sorted({round(y, 9) for _, y, _ in plain.lines[0].corners})
    assert ys == pytest.approx([0.0, (24 - 11.9 / 2 - 3 - 4) * MM]) and "out of sight" in plain.notes[0]


def test_vents_lie_between_motor_and_surround_and_apart() -> None:
    design = demo.design()
    back = Back(V_back=1e-3, n_vent=8, d_vent=16 * MM, t_vent=2 * MM)
    holes = vents(replace(design, back=back))
    assert holes is not None
    inner, outer = motor_across(design) / 2, float(design.surround.d_out) / 2
    for k, (x, y) in enumerate(holes.places):
        assert inner + 8 * MM < math.hypot(x, y) < outer - 8 * MM
        assert math.dist((x, y), holes.places[k - 1]) > 16 * MM
    assert len(circles(made(back=back)["frame-vents"], "cut")) == 8
    assert vents(replace(design, back=replace(back, d_vent=30 * MM))) is None
    assert vents(replace(design, back=replace(back, n_vent=30))) is None


@pytest.mark.parametrize(("D_outline", "n"), [(130, None), (156, None), (158, 4), (220, 8)])
def test_screws_go_between_the_lap_and_the_edge(D_outline, n) -> None:
    # sum of the sizes: the surround of 122 mm laps for 8 mm; holes of 4.5 mm (5.5 mm) keep 2.5 mm on both sides
    design, brief = demo.design(), replace(demo.brief(), D_outline=D_outline * MM)
    held = screws(design, brief)
    rim = next(each for each in frame.frame(design, brief) if each.key == "frame-rim")
    assert (held and held.n) == n
    if held is None:
        assert "Too narrow for screws" in rim.notes[-1]
        return
    assert held.D - held.d - 2 * 2.5 * MM >= 138 * MM - 1e-9 and held.D + held.d + 2 * 2.5 * MM <= D_outline * MM + 1e-9
    assert "punch the same holes" not in " ".join(rim.notes)


def test_screws_that_the_design_puts_through_the_lap_are_told() -> None:
    told = Flange(n_screw=4, d_screw=4 * MM, D_screw=134 * MM)
    design, brief = replace(demo.design(), flange=told), replace(demo.brief(), D_outline=150 * MM)
    (rim,) = frame.frame(design, brief)
    assert "They go through the lap of the surround: punch the same holes in it." in rim.notes


def test_the_picture_of_the_frame_has_the_holes_of_its_templates() -> None:
    back = Back(V_back=1e-3, n_vent=6, d_vent=16 * MM, t_vent=2 * MM)
    design, brief, prediction = demo.job()
    design, brief = replace(design, back=back), replace(brief, D_outline=180 * MM)
    drawn = etree.fromstring(steps_moving.frame(design, brief, prediction))
    round_ = [[float(each.get(key)) for key in ("cx", "cy", "r")] for each in drawn.iter("{*}circle")]
    (x, y, rim), scale = round_[0], 2 * round_[0][2] / (180 * MM)
    cut = [line for each in frame.frame(design, brief) for line in each.lines if is_circle(line) and line.role == "cut"]
    assert rim == pytest.approx(21.0) and len(round_) == len(cut)
    found = {(line.corners[0][0] + line.corners[1][0], line.corners[0][1]) for line in cut}
    for both, high in found:
        near = min(math.dist((x + scale * both / 2, y - scale * high), each[:2]) for each in round_)
        assert near < 0.02


def test_every_size_that_a_note_tells_is_a_figure() -> None:
    cap = Cap(form="dome", sheet=CARD, d_out=38 * MM, h_c=7 * MM)
    for template in made(cap=cap).values():
        told = [figure for note in template.notes for figure in figures(note)]
        assert told, template.key
        assert all(math.isfinite(figure.value) and figure.value > 0 for figure in told), template.key


@given(st.floats(0.2, 8.0))
def test_every_template_stands_on_numbers_whatever_the_size(scale) -> None:
    for template in templates(*demo.job(scale)):
        assert piece_area(template) > 0 and template.notes and template.words
        assert all(math.isfinite(each) for line in template.lines for corner in line.corners for each in corner)

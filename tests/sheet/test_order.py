"""In which order the parts go together, and what cannot: held against parts that are pushed in step by step."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handwound.parts.iron import Iron, Ring
from handwound.parts.moving import Cap, Spider
from handwound.sheet.build import order
from handwound.sheet.build.operations import operations
from tests.sheet import demo
from tests.sheet.demo import CARD, FOAM, JOINT, MM

DESIGN, BRIEF, MADE = demo.job()


def ring(name: str, d_in: float, d_out: float, t: float, on: str, joint: float = JOINT, **more: float) -> Ring:
    """One more ring, in millimetres."""
    return Ring(
        name=name, grade="mild steel", d_in=d_in * MM, d_out=d_out * MM, t=t * MM, on=on, joint=joint,
        **{key: value * MM for key, value in more.items()},
    )  # fmt: skip


def with_rings(*more: Ring, **changed: dict[str, float]):
    """The demo's pot with more rings, or with sizes of its own changed, in millimetres."""
    old = DESIGN.iron
    rings = tuple(
        replace(each, **{key: value * MM for key, value in changed.get(each.name.replace(" ", "_"), {}).items()})
        for each in old.rings
    )
    return replace(DESIGN, iron=Iron(name="pot", plate=old.plate, rings=rings + more))


def found(design) -> list[str]:
    return [str(fault) for fault in order.faults(design, BRIEF, MADE)]


def test_the_demo_goes_together_and_its_spool_before_its_top_plate() -> None:
    assert found(DESIGN) == []
    names = [step.name for step in order.sequence(DESIGN, MADE)]
    assert names.index("back plate") < names.index("spool") < names.index("top plate") < names.index("moving parts")
    assert names[-1] == "surround"
    codes = {step.name: step.code for step in order.sequence(DESIGN, MADE)}
    assert (codes["back plate"], codes["spool"], codes["top plate"]) == ("IR", "SP", "CL")


def test_every_step_is_of_an_operation_of_the_sheet() -> None:
    codes = {each.code for each in operations(DESIGN, BRIEF, MADE)}
    assert {step.code for step in order.sequence(DESIGN, MADE)} <= codes


def test_a_spider_that_cannot_pass_the_winding_is_there_before_the_diaphragm() -> None:
    """By hand: the winding is 26.75 mm wide, the former 25.9 mm."""
    for d_in, code, before in ((26.0, "DI", True), (27.0, "AS", False)):
        spider = Spider(form="pleats", sheet=FOAM, d_in=d_in * MM, d_out=60 * MM, h_r=2 * MM, n_pleat=4)
        steps = order.sequence(replace(DESIGN, spider=spider), MADE)
        names = [each.name for each in steps]
        assert (names.index("spider") < names.index("diaphragm")) == before
        assert [each.code for each in steps if each.name == "spider"] == [code]


def test_every_part_stands_on_one_that_is_there() -> None:
    there: set[str] = set()
    for step in order.sequence(DESIGN, MADE):
        assert step.onto in there | {""} | {name for each in DESIGN.iron.rings for name in (each.name,)}
        there |= {step.name, *step.parts}


def test_a_mushroom_pole_lets_no_former_over_it() -> None:
    """A head of 27 mm on a pole of 25: the former is 25.6 inside."""
    (fault,) = order.faults(with_rings(ring("head", 0, 27, 1, "pole, bar")), BRIEF, MADE)
    assert fault.where == "operation AS, Assembly on shims"
    assert "25.6 mm inside" in fault.found and "⌀27 mm" in fault.found and "head" in fault.do


def test_a_plate_bored_narrower_in_front_lets_no_winding_in() -> None:
    """Kind of truth: the bore tapers from 28 to 26.2 mm; the winding, wider than that, rests partly behind it."""
    wide = 1e3 * float(MADE.voice_winding.D_w)
    assert wide > 26.3
    (fault,) = order.faults(with_rings(top_plate={"d_in": 28.0, "d_in_hi": 26.2}), BRIEF, MADE)
    assert "top plate" in fault.must and fault.where.startswith("operation AS")
    need = wide + 2e3 * float(BRIEF.c_min)
    assert f"{need:.4g} mm" in fault.do


def test_a_ring_before_the_plate_with_a_narrow_hole_is_met() -> None:
    assert "a hole of ⌀26.2 mm" in found(with_rings(ring("washer", 26.2, 60, 2, "top plate")))[0]
    assert found(with_rings(ring("washer", 28, 60, 2, "top plate"))) == []


def test_a_lip_turned_in_one_with_pipe_and_back_locks_the_spool() -> None:
    """A pot turned from solid cannot take a spool wider than its mouth; with a joint it can."""

    def turned(joint: float):
        rings = tuple(
            replace(each, joint=joint if each.name in ("pipe", "top plate") else 0.0) for each in DESIGN.iron.rings
        )
        return replace(DESIGN, iron=replace(DESIGN.iron, rings=rings))

    (fault,) = order.faults(turned(0.0), BRIEF, MADE)
    assert fault.where == "operation SP, Spool of the field coil"
    assert "a hole of 28 mm" in fault.found and "piece of its own" in fault.do
    assert found(turned(JOINT)) == []


def test_a_head_turned_in_one_with_back_and_pole_locks_the_spool() -> None:
    """A head of 40 mm over a spool of 26.9 mm inside; as a piece of its own it stops only the voice coil."""
    rings = tuple(each for each in DESIGN.iron.rings if each.name != "top plate")
    iron = Iron(name="open", plate=("pole, bar",), rings=(*rings, ring("head", 0, 40, 3, "pole, bar", 0.0)))
    stopped = {fault.where[10:12] for fault in order.faults(replace(DESIGN, iron=iron), BRIEF, MADE)}
    assert stopped == {"SP", "AS"}
    loose = replace(iron, rings=(*rings, ring("head", 0, 40, 3, "pole, bar")))
    assert {f.where[10:12] for f in order.faults(replace(DESIGN, iron=loose), BRIEF, MADE)} == {"AS"}


def test_edges_that_glue_cannot_join() -> None:
    part, rim = DESIGN.diaphragm, DESIGN.surround
    wide = replace(DESIGN, diaphragm=replace(part, d_in=27.5 * MM))
    assert "operation DI" in found(wide)[0] and "27.5 mm round a former of 25.9 mm" in found(wide)[0]
    tight = replace(DESIGN, diaphragm=replace(part, d_in=25.2 * MM))
    assert found(tight)[0].startswith("operation DI, ") and "25.3 mm or more" in found(tight)[0]
    unsure = replace(tight, diaphragm=replace(tight.diaphragm, spread=(("d_in", 0.2 * MM),)))
    assert found(unsure) == [] and found(replace(DESIGN, diaphragm=replace(part, d_in=25.35 * MM))) == []
    far = replace(DESIGN, surround=replace(rim, d_in=103 * MM))
    assert found(far)[0].startswith("operation SU, Surround: ") and "103 mm" in found(far)[0]
    small = replace(DESIGN, cap=Cap(form="disc", sheet=CARD, d_out=25 * MM))
    assert found(small)[0].startswith("operation DC, Dust cap: ")
    large = replace(DESIGN, cap=Cap(form="disc", sheet=CARD, d_out=110 * MM))
    assert found(large)[0].startswith("operation DC, Dust cap: ")
    assert found(replace(DESIGN, cap=Cap(form="disc", sheet=CARD, d_out=38 * MM))) == []


def test_a_diaphragm_that_meets_the_motor_wants_a_longer_former() -> None:
    short = replace(DESIGN, voice_coil=replace(DESIGN.voice_coil, l_f=8 * MM))
    assert any("diaphragm" in each and "Make the former longer" in each for each in found(short))


def test_a_spider_needs_its_hole_and_its_stroke() -> None:
    narrow = Spider(form="pleats", sheet=FOAM, d_in=25 * MM, d_out=60 * MM, h_r=2 * MM, n_pleat=4)
    assert any("26" in each or "25.9" in each for each in found(replace(DESIGN, spider=narrow)))
    plate = DESIGN.iron.levels()["top plate"][1]
    neck = float(np.mean(DESIGN.iron.plate_levels())) - DESIGN.voice_coil.h_w / 2 + DESIGN.voice_coil.l_f
    low = Spider(form="measured", sheet=FOAM, d_in=26 * MM, d_out=60 * MM, z_sp=neck - plate - 2 * MM)
    assert any("a spider with its stroke" in each for each in found(replace(DESIGN, spider=low)))


def test_a_motor_without_a_bare_face_has_no_place_for_a_depth_gauge() -> None:
    rings = (ring("lip", 66, 68, 9, "top plate"), ring("cover", 28, 66, 3, "top plate"))
    covered = with_rings(rings[1], ring("rim", 65, 67, 2, "cover"))
    assert "for the depth gauge" in found(covered)[0]
    assert found(with_rings(rings[1])) == []


# ---- pushed in, step by step: nothing but rectangles that overlap ---------------------------------------------------

Box = tuple[float, float, float, float]
STEP = 0.2 * MM


def boxes(design) -> list[Box]:
    """Rings as piles of thin rectangles, and the spool: r_in, r_out, z_lo, z_hi."""
    made = []
    for each, (low, high) in zip(design.iron.rings, design.iron.levels().values(), strict=True):
        n = 1 if each.d_in_hi is None else 200
        for k in range(n):
            d_in, d_out = each.across((k + 0.5) / n)
            made.append((d_in / 2, d_out / 2, low + (high - low) * k / n, low + (high - low) * (k + 1) / n))
    field = design.field_coil
    z_lo, z_hi = field.z_w - field.t_fl, field.z_w + field.h_w + field.t_fl
    return [*made, (field.D_f / 2 - field.t_f, float(MADE.field_winding.D_w) / 2, z_lo, z_hi)]


def pushed(moving: list[Box], fixed: list[Box]) -> float:
    """The deepest overlap across, of all steps from far in front to rest. [m]"""
    one, lift = np.array(moving)[:, None, None, :], np.arange(0.0, 40 * MM, STEP)[None, None, :]
    other = np.array(fixed).reshape(-1, 4)[None, :, None, :]
    along = np.minimum(one[..., 3] + lift, other[..., 3]) - np.maximum(one[..., 2] + lift, other[..., 2])
    across = np.minimum(one[..., 1], other[..., 1]) - np.maximum(one[..., 0], other[..., 0])
    met = np.where(along > 1e-9, np.broadcast_to(across, along.shape), 0.0)
    return max(float(met.max(initial=0.0)), 0.0)


@settings(max_examples=60, deadline=None)
@given(
    head=st.floats(20.0, 29.0), bore=st.floats(25.5, 30.0), front=st.floats(25.5, 30.0), washer=st.floats(25.5, 30.0),
    D_fi=st.floats(24.6, 26.5), x_0=st.floats(-4.0, 6.0),
)  # fmt: skip
def test_what_is_accepted_can_be_pushed_in_and_what_is_refused_collides(head, bore, front, washer, D_fi, x_0) -> None:
    """Kind of truth: a second method, the parts pushed in by fifths of a millimetre."""
    design = with_rings(
        ring("head", 0, head, 1.5, "pole, bar"), ring("washer", washer, 60, 2, "top plate"),
        top_plate={"d_in": bore, "d_in_hi": front},
    )  # fmt: skip
    voice = replace(DESIGN.voice_coil, D_fi=D_fi * MM, D_f=(D_fi + 0.3) * MM, x_0=x_0 * MM, l_f=30 * MM)
    design = replace(design, voice_coil=voice, diaphragm=replace(DESIGN.diaphragm, d_in=(D_fi + 0.3) * MM))
    wound = replace(MADE.voice_winding, D_w=(D_fi + 1.1) * MM)
    made = replace(MADE, voice_winding=wound)
    z_lo, z_hi = (float(z) for z in design.iron.plate_levels())
    low = (z_lo + z_hi) / 2 + x_0 * MM - voice.h_w / 2
    former = (D_fi / 2 * MM, (D_fi + 0.3) / 2 * MM, low, low + 30 * MM)
    coil = ((D_fi + 0.3) / 2 * MM, (D_fi + 1.1) / 2 * MM, low, low + voice.h_w)
    deepest = pushed([former, coil], boxes(design))
    refused = [f for f in order.faults(design, BRIEF, made) if "former" in f.found or "voice coil" in f.found]
    slope = abs(bore - front) / 2 * MM / 200 + 1e-5  # the piles' steps
    if refused:
        assert deepest > 0
    else:
        assert deepest <= slope
    assert bool(refused) == (deepest > slope) or deepest < 5 * slope


@settings(max_examples=40, deadline=None)
@given(
    sizes=st.lists(st.tuples(st.floats(0.0, 20.0), st.floats(1.0, 20.0), st.floats(0.0, 20.0), st.floats(1.0, 8.0)),
                   min_size=2, max_size=6)
)  # fmt: skip
def test_what_is_taken_apart_in_turn_goes_free_at_every_step(sizes) -> None:
    """Kind of truth: balance, every step of the order pushed in by itself against those before it."""
    bodies: list[order.Body] = []
    for k, (r_in, wide, z, t) in enumerate(sizes):
        piece = order.Piece.straight(f"{k}", r_in * MM, (r_in + wide) * MM, z * MM, (z + t) * MM)
        hits = any(
            min(piece.r_out[0], p.r_out[0]) > max(piece.r_in[0], p.r_in[0])
            and min(piece.z[1], p.z[1]) > max(piece.z[0], p.z[0])
            for body in bodies for p in body.pieces
        )  # fmt: skip
        if not hits:
            bodies.append(order.Body(f"{k}", "IR", (piece,)))
    steps, locked = order._together(bodies)
    assert locked == [] and len(steps) == len(bodies), "whole rings can always be taken off, the foremost first"
    there: list[Box] = []
    for body, side in steps:
        (p,) = body.pieces
        sign = 1 if side == "front" else -1
        box = (p.r_in[0], p.r_out[0], sign * p.z[0], sign * p.z[1])
        mine = (*box[:2], *sorted(box[2:]))
        others = [(a, b, *sorted((sign * c, sign * d))) for a, b, c, d in there]
        assert pushed([mine], others) <= 1e-6
        there.append((p.r_in[0], p.r_out[0], p.z[0], p.z[1]))


def test_a_free_way_meets_nothing() -> None:
    piece, other = order.Piece.straight("a", 0.0, 1.0, 0.0, 1.0), order.Piece.straight("b", 1.0, 2.0, 0.0, 1.0)
    assert order.meets([piece], [other], "front") is None
    over = order.meets([piece], [order.Piece.straight("c", 0.5, 2.0, 1.0, 2.0)], "front")
    assert over is not None and over.depth == pytest.approx(0.5) and over.outside
    assert order.meets([piece], [over.other], "back") is None

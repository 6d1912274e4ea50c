"""From a design to its network: what stores and leads heat is there once, and what helps a bench helps here."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound import Job, predict, spread, stages, thermal, warmth
from handwound.materials import fillers, insulators, surfaces
from handwound.parts.design import Brief, Design
from handwound.parts.heat import DOUBTS, PLACES, Box, Doubts, Frame
from handwound.physics.heat.bodies import Body
from handwound.physics.layers import LAY
from handwound.search.table import Table
from tests.examples import started


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    return Job(started(tmp_path_factory.mktemp("thermal") / "job", "open-day"))


def settled(design: Design, brief: Brief, doubts: Doubts = DOUBTS) -> warmth.Settled:
    """At rest, the motor with its voice coil."""
    coil = design.voice_coil
    place = stages.coil_place(design.iron, coil, stages.winding(coil, brief.T_room).D_w)
    assert design.field_coil
    return warmth.settle(design, brief, doubts, stages.winding(design.field_coil, brief.T_room), place)


def with_ring(design: Design, name: str, **more) -> Design:
    """The design with one ring changed."""
    rings = tuple(replace(ring, **more) if ring.name == name else ring for ring in design.iron.rings)
    return replace(design, iron=replace(design.iron, rings=rings))


def test_windings_store_what_their_wire_stores(job: Job) -> None:
    """Balance: mass of the wire times c_p of copper (385, from memory), with the enamel's share up to a fifth more; and
    under the voice coil the paper of its former, weighed by its area, 1400 J/(kg·K) (from memory)."""
    found = settled(job.design, job.brief)
    C_th = found.model.network.C_th
    coil = job.design.voice_coil
    paper = np.pi * (coil.D_f - coil.t_f) * coil.h_w * coil.former.rho_A * 1400
    for wound, nodes, former in ((job.design.field_coil, found.model.field, 0.0), (coil, found.model.voice, paper)):
        m_w = stages.winding(wound, 20.0).m_w
        assert 1.0 < (C_th[list(nodes)].sum() - former) / (m_w * 385) < 1.25
    assert found.model.field_share.sum() == pytest.approx(1.0)
    assert found.model.voice_share.sum() == pytest.approx(1.0)


def test_the_iron_is_there_once(job: Job) -> None:
    """Balance: volumes of the rings by hand from the drawing, steel of 7870 kg/m³ and 448 to 460 J/(kg·K)."""
    found = settled(job.design, job.brief).model
    volume = np.pi / 4 * (68**2 * 6 + (60.3**2 - 53.1**2) * 46 + (68**2 - 28**2) * 6 + 25**2 * 52) * 1e-9
    iron = [k for k in range(found.network.n) if k not in (*found.field, *found.voice)]
    assert found.network.C_th[iron].sum() == pytest.approx(volume * 7870 * 454, rel=0.03)


def test_legs_hold_as_much_iron_as_their_ring(job: Job) -> None:
    """Balance: flat bars on a part of the round have the section of the ring that stands for them."""
    whole = settled(job.design, job.brief).model
    legs = settled(with_ring(job.design, "shell", t_leg=6e-3), job.brief).model
    kept = [
        sum(float(piece.c_v * piece.volume) for piece in model.cells.pieces if piece.name == "shell")
        for model in (whole, legs)
    ]
    assert kept[1] == pytest.approx(kept[0], rel=1e-9)
    assert {float(piece.share) < 1 for piece in legs.cells.pieces if piece.name == "shell"} == {True}


def bodies_of(design: Design, brief: Brief, name: str) -> list[Body]:
    """The pieces of one body."""
    return [piece for piece in settled(design, brief).model.cells.pieces if piece.name == name]


def test_tape_takes_the_place_of_wire(job: Job) -> None:
    """Balance: with tape the coil stores what its wire did, and the volume of its tape by 1390 kg/m³, 1170 J/(kg·K)."""
    taped = replace(job.design, field_coil=replace(job.design.field_coil, n_tape=2, t_tape=0.1e-3))
    stored, volume = zip(
        *((sum(p.c_v * p.volume for p in pieces), sum(p.volume for p in pieces))
          for pieces in (bodies_of(design, job.brief, thermal.FIELD) for design in (job.design, taped))), strict=True,
    )  # fmt: skip
    layers, pieces = (job.design.field_coil.n_l - 1) // 2, bodies_of(taped, job.brief, thermal.FIELD)
    thick = max(piece.r_out for piece in pieces) - min(piece.r_in for piece in pieces)
    of_tape = volume[1] * layers * 0.1e-3 / thick
    per_wire = stored[0] / volume[0]
    assert stored[1] == pytest.approx(per_wire * (volume[1] - of_tape) + of_tape * 1390 * 1170, rel=1e-6)


@pytest.mark.parametrize(("kind", "rho_m", "c_p"), [("varnish", 1100, 1500), ("wax", 900, 2200), ("epoxy", 1150, 1100)])
def test_what_fills_a_winding_stores_heat(job: Job, kind: str, rho_m: float, c_p: float) -> None:
    """Balance: the room between the wires, plane geometry, full of it; air there stores a thousandth of that."""
    coil = job.design.field_coil
    rest = 1 - np.pi / 4 * coil.k_p / LAY[coil.lay]
    air, full = (bodies_of(replace(job.design, field_coil=replace(coil, filler=fillers.filler(name))), job.brief,
                           thermal.FIELD)[0].c_v for name in ("air", kind))  # fmt: skip
    assert full - air == pytest.approx(rest * (rho_m * c_p - 1.1 * 1007), rel=1e-6)


def test_a_metal_former_evens_out_the_voice_coil(job: Job) -> None:
    """Closed form: along the axis the sections of winding and former stand side by side: sum of k A."""
    coil = job.design.voice_coil
    can = replace(coil.former, k_th=200.0)
    bare, with_metal = (
        bodies_of(replace(job.design, voice_coil=replace(coil, former=former)), job.brief, thermal.VOICE)
        for former in (replace(coil.former, k_th=1e-9), can)
    )
    piece = bare[0]
    section, former = np.pi * (piece.r_out**2 - piece.r_in**2), np.pi * (coil.D_f - coil.t_f) * coil.t_f
    more = 200.0 * former / section
    assert with_metal[0].k_z - piece.k_z == pytest.approx(more, rel=0.01)


@pytest.mark.parametrize("like", ["open-day", "repair-pair"])
def test_the_voice_coil_is_cut_where_it_leaves_the_gap(like: str, tmp_path) -> None:
    """Counted by hand: below the plate, beside it and above, however wide the gap is."""
    job = Job(started(tmp_path / like, like))
    for more in (0.0, 4e-3):
        plate = job.design.iron.plate[0]
        ring = next(ring for ring in job.design.iron.rings if ring.name == plate)
        design = with_ring(job.design, plate, d_in=ring.d_in + more)
        pieces = thermal.thermal(design, job.brief, DOUBTS, None, coil_at(design)).cells.pieces
        cuts = [float(piece.z_lo) for piece in pieces if piece.name == thermal.VOICE][1:]
        assert cuts == [pytest.approx(float(level)) for level in design.iron.plate_levels()]


@pytest.mark.parametrize(
    ("placed", "film", "size"), [(PLACES[0], "cylinder", "round"), (PLACES[1], "vertical", "high")]
)
def test_the_free_end_lies_as_the_driver_does(job: Job, placed: str, film: str, size: str) -> None:
    """Closed form: in a baffle a lying cylinder of its own diameter; on its back a wall as high as itself."""
    design = job.design
    model = thermal.thermal(design, replace(job.brief, placed=placed), DOUBTS, None, coil_at(design))
    k = model.voice[-1]
    piece, face = model.cells.pieces[k], model.network.faces[film]
    sizes = {float(each) for i, each in zip(face.i, face.size, strict=True) if i == k}
    assert sizes == {float(2 * piece.r_out if film == "cylinder" else piece.z_hi - piece.z_lo)}


def coil_at(design: Design) -> thermal.Rectangle:
    """The voice coil's rectangle."""
    return stages.coil_place(design.iron, design.voice_coil, stages.winding(design.voice_coil, 20.0).D_w)


def test_a_box_of_wood_takes_hours(job: Job) -> None:
    """Balance: its air and half of its wall, 600 kg/m³ and 1600 J/(kg·K): most of it is the wall."""
    box = Box(V_box=0.008, t_box=0.018)
    C_th = settled(job.design, replace(job.brief, box=box)).model.network.C_th[-1]
    assert C_th == pytest.approx(0.008 * 1.2 * 1005 + 6 * 0.2**2 * 0.018 / 2 * 600 * 1600)


@pytest.mark.parametrize(
    "change",
    [
        lambda d, b: (with_ring(d, "shell", surface=surfaces.surface("bright steel")), b),
        lambda d, b: (d, replace(b, placed=PLACES[1])),
        lambda d, b: (d, replace(b, box=Box(V_box=0.010, t_box=0.018))),
    ],
    ids=["bare shell", "on its back", "in a box"],
)
def test_what_keeps_heat_in(job: Job, change) -> None:
    """Limit: a bare surface, a table below and a box around make the winding hotter."""
    before, after = settled(job.design, job.brief), settled(*change(job.design, job.brief))
    assert after.fed.T_mean(after.T) > before.fed.T_mean(before.T) + 0.3


def test_tape_stands_in_a_row_with_the_wire(job: Job) -> None:
    """Closed form: over a winding the resistance along r is that of its wire and that of ten layers of tape."""
    taped = replace(job.design, field_coil=replace(job.design.field_coil, n_tape=2, t_tape=0.1e-3))
    way = []
    for design in (job.design, taped):
        pieces = [piece for piece in settled(design, job.brief).model.cells.pieces if piece.name == thermal.FIELD]
        way.append(((max(p.r_out for p in pieces) - min(p.r_in for p in pieces)) / pieces[0].k_r, pieces[0].k_r))
    layers = (job.design.field_coil.n_l - 1) // 2
    more = layers * 0.1e-3
    k_tape = insulators.insulator("polyester film").k_th
    assert way[1][0] == pytest.approx(way[0][0] + more / k_tape, rel=2e-3)


@pytest.mark.parametrize(
    "change",
    [
        lambda d: replace(d, field_coil=replace(d.field_coil, filler=fillers.filler("varnish"))),
        lambda d: replace(d, frame=Frame(on="top", metal="aluminium", t_frame=1e-3, A_frame=0.04,
                                         surface=surfaces.surface("painted"))),
    ],
    ids=["varnish", "frame"],
)  # fmt: skip
def test_what_lets_heat_out(job: Job, change) -> None:
    """Limit: varnish between the wires, a frame screwed to the plate."""
    before, after = settled(job.design, job.brief), settled(change(job.design), job.brief)
    assert after.model.hot_spot(after.T, after.q) < before.model.hot_spot(before.T, before.q) - 0.5


def test_the_air_of_a_box_is_the_node_before_the_room(job: Job) -> None:
    """Closed form: at rest the walls of a box and the cone carry all watts: A (T_box - T_room) / (2 / h + t / k) and
    A h (T_air - T_room) / 2."""
    box = Box(V_box=0.008, t_box=0.018)
    found = settled(job.design, replace(job.brief, box=box))
    A = 6 * 0.2**2
    carried = A * (found.T[-2] - found.T[-1]) / (2 / thermal.H_WALL + 0.018 / thermal.K_WOOD)
    cone = np.pi / 4 * job.design.diaphragm.d_out**2 * thermal.H_WALL / 2 * (found.T[-3] - found.T[-1])
    assert carried + cone == pytest.approx(found.q.sum(), rel=1e-4)


def test_finer_pieces_hardly_move_the_winding(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    """Limit: twice as many pieces of the winding each way move its rise by less than 1 %."""
    few = settled(job.design, job.brief)
    monkeypatch.setattr(thermal, "CELLS", (6, 6))
    many = settled(replace(job.design), replace(job.brief, T_room=job.brief.T_room + 1e-9))  # past what was kept
    assert len(many.model.field) == 4 * len(few.model.field)
    rise = few.fed.T_mean(few.T) - few.T[-1]
    assert many.fed.T_mean(many.T) - many.T[-1] == pytest.approx(rise, rel=0.01)


def test_a_table_of_windings_like_each_alone(job: Job) -> None:
    """Second method: all windings of a search's table at once; who sees whom is that of their mean. Half a kelvin."""
    field = predict.field_of(job.design, job.brief)
    table = Table(job.design, tuple((w, n) for w in job.stock.wires[:3] for n in (6, 12, 20)),
                  ((job.stock.wires[0], 2),))  # fmt: skip
    many = predict.chain(table.all_at_once, job.brief, field, voices=False).heat
    for index in np.ndindex(table.shape):
        one = predict.chain(table.one(index), job.brief, field, voices=False).heat
        for name in ("T_case", "T_f", "T_hot"):
            several = np.broadcast_to(getattr(many, name), table.shape)[index]
            assert several == pytest.approx(getattr(one, name), abs=0.5), (name, index)


@pytest.mark.parametrize(
    "change",
    [
        lambda d, b: (d, replace(b, placed=PLACES[1])),
        lambda d, b: (d, replace(b, placed=PLACES[2])),
        lambda d, b: (d, replace(b, box=Box(V_box=0.010, t_box=0.018, spread=(("V_box", 1e-3),)))),
        lambda d, b: (replace(d, frame=Frame(on="top", metal="aluminium", t_frame=1e-3, A_frame=0.04,
                                             surface=surfaces.surface("painted"), spread=(("A_frame", 4e-3),))), b),
        lambda d, b: (d, replace(b, supply=replace(b.supply, V_max=30.0, I_max=0.5))),
    ],
    ids=["on its back", "face down", "in a box", "with a frame", "at a fixed current"],
)  # fmt: skip
def test_draws_lie_about_the_build(job: Job, change) -> None:
    """Limit: the median of the draws is near the plain build, whatever stands around it."""
    design, brief = change(job.design, job.brief)
    alone, drawn = settled(design, brief), spread.draw(design, brief, {}, count=400)
    many = settled(drawn.design, drawn.brief, drawn.doubts)
    assert np.median(many.fed.T_mean(many.T)) == pytest.approx(float(alone.fed.T_mean(alone.T)), abs=1.0)
    assert np.median(many.T_case) == pytest.approx(float(alone.T_case), abs=1.0)

"""The driver as bodies that hold and lead heat: its iron, its windings with their walls, its frame, the box around."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.materials import fillers, insulators, magnets, metals, steels, surfaces
from handwound.parts.coil import Coil, FieldCoil, VoiceCoil
from handwound.parts.design import Brief, Design
from handwound.parts.heat import PLACES, Box, Doubts, Frame
from handwound.parts.iron import Iron, Ring
from handwound.physics.heat.bodies import Body, Coat
from handwound.physics.heat.cells import Cells, Fin, Placed
from handwound.physics.heat.winding_heat import (
    K_ENAMEL,
    fill_factor,
    mixture_conductivity,
    winding_capacity,
    winding_conductivity,
)
from handwound.physics.layers import LAY
from handwound.quantities import Num

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array, Network

Rectangle = tuple[Num, Num, Num, Num]
"""r_in, r_out, z_lo and z_hi. [m]"""
FIELD, VOICE = "field coil", "voice coil"
"""How the windings are called among the bodies."""
LIES = {
    PLACES[0]: ("cylinder", "cylinder", "vertical", "vertical"),
    PLACES[1]: ("vertical", "vertical", "", "up"),
    PLACES[2]: ("vertical", "vertical", "up", "down"),
}
"""How the faces of a motor lie, inner, outer, back and front, by how the driver is placed; "" gives off no heat."""
K_WOOD, H_WALL = 0.12, 8.0
"""Conductivity of wood across its grain, and the film on either side of a box's wall. [W/(m·K)], [W/(m²·K)]
From memory."""
H_FIN = 10.0
"""Film on a frame, for how warm its far end is. [W/(m²·K)] Common practice, no source."""
CELLS = (3, 3)
"""A winding is cut into so many pieces along r and z: finer moves its rise by less than 1 % (a test looks)."""


class Thermal(NamedTuple):
    """The network of a driver with the nodes of its windings, and the share of a winding's wire in each of them.

    ``magnets`` are the names of those among the bodies, with their grades.
    """

    cells: Cells
    field: tuple[int, ...]
    voice: tuple[int, ...]
    field_share: Array
    voice_share: Array
    magnets: tuple[tuple[str, str], ...]

    @property
    def network(self) -> Network:
        """The network itself."""
        return self.cells.network

    def hot_spot(self, T: Array, q: Array) -> Num:
        r"""The warmest place inside the field winding: a parabola over each of its pieces. [°C]

        .. math:: T_{hot} = \max \left( T_k + q_v \min(\Delta r^2 / k_r, \Delta z^2 / k_z) / 24 \right)

        The heat leaves along the shorter way, and nearly all of it where a piece is slender.
        """
        peaks = []
        for k in self.field:
            piece = self.cells.pieces[k]
            bent = np.minimum((piece.r_out - piece.r_in) ** 2 / piece.k_r, (piece.z_hi - piece.z_lo) ** 2 / piece.k_z)
            peaks.append(T[k] + q[k] / piece.volume * bent / 24)
        hottest: Num = np.max(np.stack(np.broadcast_arrays(*peaks)), axis=0)
        return hottest

    def spool(self, T: Array) -> Num:
        """The warmest piece of the field winding that lies on the wall or a cheek of its spool. [°C]"""
        laid = [k for k in self.field if any(np.any(coat.t) for coat in self.cells.pieces[k].coats)]
        return np.max(T[laid or list(self.field)], axis=0)


def thermal(design: Design, brief: Brief, doubts: Doubts, D_w: Num | None, voice: Rectangle | None = None) -> Thermal:
    """The network of a design whose field coil is ``D_w`` across; ``voice`` is its voice coil as a rectangle in r-z."""
    bodies = [_ring(ring, design.iron) for ring in design.iron.rings]
    if design.field_coil is not None and D_w is not None:
        bodies.append(_field_winding(design.field_coil, D_w, doubts.k_w))
    if voice is not None:
        bodies.append(_voice_winding(design.voice_coil, voice, doubts.k_w))
    placed = Placed(LIES[brief.placed], design.diaphragm.d_out / 2, doubts.k_cover * _behind_cone(design))
    found = Cells.cut(bodies, placed, doubts.k_conv, [_fin(design.frame, design.iron)] if design.frame else [])
    if brief.box:
        found = found._replace(network=_in_box(found.network, brief.box))
    field, of_voice = (tuple(found.of(name)) for name in (FIELD, VOICE))
    magnetic = tuple((ring.name, ring.grade) for ring in design.iron.rings if ring.magnetised)
    return Thermal(found, field, of_voice, found.shares(field), found.shares(of_voice), magnetic)


def _behind_cone(design: Design) -> Num:
    """The share of a free face's cooling that is left behind the cone: its own film and two at the cone in a row.

    .. math:: 1 / (1 + 2 A_{front} / A_{cone})
    """
    cone = design.diaphragm.d_out
    front = np.minimum(max((ring.d_out for ring in design.iron.rings), key=np.mean), cone)
    return 1 / (1 + 2 * (front / cone) ** 2)


def _ring(ring: Ring, iron: Iron) -> Body:
    """A ring of the iron; sloped sides as straight ones in their middle, flat bars as thick as they are."""
    z_lo, z_hi = iron.levels()[ring.name]
    (in_lo, out_lo), (in_hi, out_hi) = ring.across(0.0), ring.across(1.0)
    d_in, d_out = (in_lo + in_hi) / 2, (out_lo + out_hi) / 2
    share: Num = 1.0
    if ring.t_leg is not None:
        of_legs, d_in = d_out**2 - d_in**2, d_out - 2 * ring.t_leg
        share = of_legs / (d_out**2 - d_in**2)
    of = magnets if ring.magnetised else metals if ring.grade in metals.names() else steels
    k_th, c_v = of.k_th(ring.grade), of.rho_m(ring.grade) * of.c_p(ring.grade)
    # a wide doubt reaches beyond what can be: nothing radiates more than a black body
    eps = np.minimum(ring.surface.eps if ring.surface else surfaces.surface("unknown").eps, 1.0)
    return Body(ring.name, d_in / 2, d_out / 2, z_lo, z_hi, k_th, k_th, c_v, eps, share=share)


def _field_winding(coil: FieldCoil, D_w: Num, k_w: Num) -> Body:
    """The field winding with the wall and the cheeks of its spool around."""
    k_spool = coil.spool.k_th if coil.spool else insulators.insulator("card").k_th
    cheek, bare = Coat(coil.t_fl, k_spool), Coat()
    coats = (Coat(coil.t_f, k_spool), bare, cheek, cheek)
    return _winding(FIELD, coil, (coil.D_f / 2, D_w / 2, coil.z_w, coil.z_w + coil.h_w), k_w, coats, CELLS)


def _voice_winding(coil: VoiceCoil, place: Rectangle, k_w: Num) -> Body:
    """The voice coil's winding; its former is the coat inside. The bare end of the former leads little: left out."""
    bare = Coat()
    return _winding(VOICE, coil, place, k_w, (Coat(coil.t_f, coil.former.k_th), bare, bare, bare), (1, 1))


def _winding(
    name: str, coil: Coil, place: Rectangle, k_w: Num, coats: tuple[Coat, Coat, Coat, Coat],
    pieces: tuple[int, int],
) -> Body:  # fmt: skip
    assert coil.wire is not None
    wire, of = coil.wire, (coil.wire.d_cu, coil.wire.d_o, coil.k_p, LAY[coil.lay])
    k_wire, k_fill = metals.k_th(wire.metal), coil.filler.k_th if coil.filler else fillers.filler("air").k_th
    # from layer to layer wires touch; along the layer they stand apart
    f_cu, f_enamel, _ = fill_factor(*of)
    coated = mixture_conductivity(k_wire, K_ENAMEL, (wire.d_cu / wire.d_o) ** 2)
    k_r = k_w * winding_conductivity(*of, k_wire, K_ENAMEL, k_fill)
    k_z = k_w * mixture_conductivity(coated, k_fill, f_cu + f_enamel)
    c_v = winding_capacity(*of, wire.rho_m * metals.c_p(wire.metal))
    eps = surfaces.surface("enamelled wire").eps
    return Body(name, *place, k_r=_taped(coil, place, k_r), k_z=k_z, c_v=c_v, eps=eps, coats=coats,
                pieces=pieces, cuts=False, covered=name == VOICE, heat=True)  # fmt: skip


def _taped(coil: Coil, place: Rectangle, k_th: Num) -> Num:
    """Conductivity along r with the layers of tape in a row with the wire."""
    if not coil.n_tape:
        return k_th
    k_tape = insulators.insulator("polyester film").k_th
    thick = place[1] - place[0]
    tape = (coil.n_l - 1) // coil.n_tape * coil.t_tape
    return np.asarray(thick / ((thick - tape) / k_th + tape / k_tape))


def _fin(frame: Frame, iron: Iron) -> Fin:
    r"""The frame as a fin of sheet round the ring that it is screwed to: it cools with tanh(m l) / (m l) of its area.

    .. math:: m^2 = 2 h / (k t)

    The film is taken as a rule of the bench for m alone.
    """
    d_out = next(ring.d_out for ring in iron.rings if ring.name == frame.on)
    length = frame.A_frame / (2 * np.pi * d_out)
    of = metals if frame.metal in metals.names() else steels
    ml = length * np.sqrt(2 * H_FIN / (of.k_th(frame.metal) * frame.t_frame))
    return Fin(frame.on, "vertical", frame.A_frame * np.tanh(ml) / ml, d_out, frame.surface.eps)


def _in_box(network: Network, box: Box) -> Network:
    """The network with the air of the box as a node between its faces and the room. The box is a cube."""
    A = 6 * box.V_box ** (2 / 3)
    G = A / (2 / H_WALL + box.t_box / K_WOOD)
    return network.behind(G, 1.2 * 1005.0 * box.V_box)

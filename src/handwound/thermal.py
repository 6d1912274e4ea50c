"""The driver as bodies that hold and lead heat: its iron, its windings with their walls, its frame, the box around."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.materials import fillers, insulators, magnets, metals, steels, surfaces
from handwound.parts.coil import Coil, FieldCoil, Rectangle
from handwound.parts.design import Brief, Design
from handwound.parts.heat import PLACES, Box, Doubts, Frame, Surface
from handwound.parts.iron import Iron, Ring
from handwound.parts.moving import Diaphragm
from handwound.physics.heat.bodies import Body, Coat
from handwound.physics.heat.cells import Cells, Cover, Fin, Placed
from handwound.physics.heat.winding_heat import (
    K_ENAMEL,
    fill_factor,
    mixture_conductivity,
    winding_capacity,
    winding_conductivity,
)
from handwound.physics.layers import LAY, tapes
from handwound.quantities import Num

if TYPE_CHECKING:
    from handwound.physics.heat.network import Array, Network

FIELD, VOICE = "field coil", "voice coil"
"""How the windings are called among the bodies."""
LIES = {
    PLACES[0]: ("cylinder", "cylinder", "vertical", "vertical"),
    PLACES[1]: ("vertical", "vertical", "", "up"),
    PLACES[2]: ("vertical", "vertical", "up", "down"),
}
"""How the faces of a motor lie, inner, outer, back and front, by how the driver is placed; "" gives off no heat."""
K_WOOD, C_WOOD = 0.12, 600.0 * 1600.0
"""Conductivity of wood across its grain, and the heat that it stores. [W/(m·K)], [J/(m³·K)] From memory."""
C_AIR = 1.2 * 1005.0
"""Heat that air stores. [J/(m³·K)] From memory."""
H_WALL = 8.0
"""Film on either side of a box's wall and of the cone. [W/(m²·K)] Common practice, no source."""
DEPTH = 0.1
"""Mean depth of the air behind a cone, in diameters of it; it settles within seconds anyway. Common practice, no
source."""
TAPE = "polyester film"
"""What lies between the layers of a winding, where something does."""
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

        The heat leaves along the shorter way, and nearly all of it where a piece is slender. The parabola is that of a
        rest: just switched on, while the pieces still warm, it is there a fraction of a kelvin too early.
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
        bodies.append(_voice_winding(design, voice, doubts.k_w))
    placed = Placed(LIES[brief.placed], _behind_cone(design.diaphragm, doubts.k_cover))
    found = Cells.cut(bodies, placed, doubts.k_conv, [_fin(design.frame, design.iron)] if design.frame else [])
    if brief.box:
        found = found._replace(network=_in_box(found.network, brief.box, doubts.k_conv))
    field, of_voice = (tuple(found.of(name)) for name in (FIELD, VOICE))
    magnetic = tuple((ring.name, ring.grade) for ring in design.iron.rings if ring.magnetised)
    return Thermal(found, field, of_voice, found.shares(field), found.shares(of_voice), magnetic)


def _behind_cone(diaphragm: Diaphragm, k_cover: Num) -> Cover:
    """The air between motor and cone: its heat leaves through the two films on the cone, one after the other."""
    d_out = diaphragm.d_out
    A = np.pi / 4 * d_out**2
    return Cover(d_out / 2, k_cover * A * H_WALL / 2, C_AIR * A * DEPTH * d_out)


def emissivity(surface: Surface | None) -> Num:
    """Emissivity of a surface; one of which nothing is known where none is named. [1]

    A wide doubt reaches beyond what can be: nothing radiates more than a black body.
    """
    return np.minimum((surface or surfaces.surface("unknown")).eps, 1.0)


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
    return Body(ring.name, d_in / 2, d_out / 2, z_lo, z_hi, k_th, k_th, c_v, emissivity(ring.surface), share=share)


def _field_winding(coil: FieldCoil, D_w: Num, k_w: Num) -> Body:
    """The field winding with the wall and the cheeks of its spool around."""
    k_spool = coil.spool.k_th if coil.spool else insulators.insulator("card").k_th
    cheek, bare = Coat(coil.t_fl, k_spool), Coat()
    coats = (Coat(coil.t_f, k_spool), bare, cheek, cheek)
    place = (coil.D_f / 2, D_w / 2, coil.z_w, coil.z_w + coil.h_w)
    return replace(_winding(FIELD, coil, place, k_w), coats=coats, pieces=CELLS)


def _voice_winding(design: Design, place: Rectangle, k_w: Num) -> Body:
    """The voice coil's winding, cut where it leaves the gap. Its former is the coat inside, leads along the axis beside
    it, and stores heat with it. The bare end of the former leads little: left out."""
    coil, bare = design.voice_coil, Coat()
    wound, former = _winding(VOICE, coil, place, k_w), coil.former
    # round of the former over the section of the winding
    beside = (2 * place[0] - coil.t_f) / (place[1] ** 2 - place[0] ** 2)
    return replace(
        wound, coats=(Coat(coil.t_f, former.k_th), bare, bare, bare), covered=True, levels=design.iron.plate_levels(),
        k_z=wound.k_z + beside * coil.t_f * former.k_th, c_v=wound.c_v + beside * former.rho_A * former.c_p,
    )  # fmt: skip


def _winding(name: str, coil: Coil, place: Rectangle, k_w: Num) -> Body:
    """Wire, what is between, and tape: in a row along the radius, side by side along the axis."""
    assert coil.wire is not None
    wire, of = coil.wire, (coil.wire.d_cu, coil.wire.d_o, coil.k_p, LAY[coil.lay])
    k_wire, filler = metals.k_th(wire.metal), coil.filler or fillers.filler("air")
    # from layer to layer wires touch; along the layer they stand apart
    f_cu, f_enamel, _ = fill_factor(*of)
    coated = mixture_conductivity(k_wire, K_ENAMEL, (wire.d_cu / wire.d_o) ** 2)
    k_r = k_w * winding_conductivity(*of, k_wire, K_ENAMEL, filler.k_th)
    k_z = k_w * mixture_conductivity(coated, filler.k_th, f_cu + f_enamel)
    c_v = winding_capacity(*of, wire.rho_m * metals.c_p(wire.metal), filler.c_v)
    tape = np.asarray(tapes(coil.n_l, coil.n_tape) * coil.t_tape / (place[1] - place[0]), float)
    k_tape = insulators.insulator(TAPE).k_th
    c_tape = insulators.rho_m(TAPE) * insulators.c_p(TAPE)
    return Body(
        name, *place, k_r=1 / ((1 - tape) / k_r + tape / k_tape), k_z=k_z + tape * (k_tape - k_z),
        c_v=c_v + tape * (c_tape - c_v), eps=surfaces.surface("enamelled wire").eps, cuts=False, heat=True,
    )  # fmt: skip


def _fin(frame: Frame, iron: Iron) -> Fin:
    r"""The frame as a fin of sheet round the ring that it is screwed to: it cools with tanh(m l) / (m l) of its area.

    .. math:: m^2 = 2 h / (k t)

    The film is taken as a rule of the bench for m alone.
    """
    d_out = next(ring.d_out for ring in iron.rings if ring.name == frame.on)
    length = frame.A_frame / (2 * np.pi * d_out)
    of = metals if frame.metal in metals.names() else steels
    ml = length * np.sqrt(2 * H_FIN / (of.k_th(frame.metal) * frame.t_frame))
    cools = frame.A_frame * np.tanh(ml) / ml
    return Fin(frame.on, "vertical", cools, d_out, emissivity(frame.surface), frame.A_frame)


def _in_box(network: Network, box: Box, k_conv: Num) -> Network:
    """The network with the air of the box, and half of its wall, as a node between its faces and the room.

    The box is a cube; the cone looks out of it.
    """
    A = 6 * box.V_box ** (2 / 3)
    G = A / (2 / (k_conv * H_WALL) + box.t_box / K_WOOD)
    return network.behind(G, C_AIR * box.V_box + C_WOOD * A * box.t_box / 2)

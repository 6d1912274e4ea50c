"""Where the driver is built in: what is behind it and around it."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Count, Num


@dataclass(frozen=True, kw_only=True)
class Baffle(Part):
    """An open board with the driver in its middle; without one, and without a box, the board has no end."""

    W_baffle: Num
    H_baffle: Num


@dataclass(frozen=True, kw_only=True)
class Port(Part):
    """Tubes that let the air out of a box: ``n_port`` of inner diameter ``d_port`` and length ``l_port``; ``Q_leak``
    tells how tight the box is: energy kept over energy lost through its joints in a swing at its tuning."""

    n_port: Count
    d_port: Num
    l_port: Num
    Q_leak: Num


@dataclass(frozen=True, kw_only=True)
class Back(Part):
    """The driver's own back, where its frame is closed: ``V_back`` of air behind the diaphragm, let out by ``n_vent``
    holes of ``d_vent`` in a wall of ``t_vent``, of which ``n_taped`` are taped over; their middles lie on a circle of
    ``D_vent``, where that was told."""

    V_back: Num
    n_vent: Count
    d_vent: Num
    t_vent: Num
    n_taped: Count = 0
    D_vent: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Flange(Part):
    """The frame's rim: ``n_screw`` holes of ``d_screw``, evenly on a circle of ``D_screw``."""

    n_screw: Count
    d_screw: Num
    D_screw: Num

"""A coil wound in layers: the field coil on its spool, the voice coil on its former."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.heat import Filler, Insulator
from handwound.parts.part import Part
from handwound.parts.sheet import Sheet
from handwound.parts.wire import Wire
from handwound.quantities import Count, Num

Rectangle = tuple[Num, Num, Num, Num]
"""A winding as a rectangle in r-z: r_in, r_out, z_lo and z_hi. [m]"""


@dataclass(frozen=True, kw_only=True)
class Coil(Part):
    """What both coils share. ``wire`` is None while the search has yet to choose it.

    ``lay`` is "stacked" or "nested"; ``connection`` of the ``n_sec`` equal sections is "series" or "parallel".
    ``N_counted`` are the turns of the first layers where they are wound already.
    """

    wire: Wire | None
    n_l: Count
    D_f: Num
    h_w: Num
    k_p: Num
    lay: str = "stacked"
    n_tape: int = 0
    t_tape: Num = 0.0
    n_sec: int = 1
    connection: str = "series"
    N_counted: tuple[int, ...] = ()
    n_splice: int = 0
    filler: Filler | None = None


@dataclass(frozen=True, kw_only=True)
class FieldCoil(Coil):
    """The coil that makes the field: begins at level ``z_w``; its spool has a wall ``t_f`` and two cheeks ``t_fl``."""

    z_w: Num
    t_f: Num
    t_fl: Num
    spool: Insulator | None = None


@dataclass(frozen=True, kw_only=True)
class VoiceCoil(Coil):
    """The coil that moves: its middle rests ``x_0`` from the middle of its plate; wound on a strip of ``former``.

    The winding begins at the end of the former that is at the motor; the rest of ``l_f`` stands free up to the cone.
    ``oval`` is how far from round the former was found to be; None where nobody looked.
    """

    former: Sheet
    D_fi: Num
    t_f: Num
    l_f: Num
    x_0: Num = 0.0
    oval: Num | None = None

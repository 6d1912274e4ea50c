"""What a fault in a winding would do; one frozen record per fault."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.part import Part
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class WindingFault(Part):
    """The field coil with one fault, cold and on its supply.

    ``kind`` is "none", "left out", "reversed", "shorted" or "spliced". ``NI_V`` and ``NI_I`` are the ampere-turns at
    the voltage of the coil as planned and at its current: between the two lies whatever the supply does. ``dL`` is the
    level beside that of the coil as planned. ``L_ac`` is what a meter reads; None for sections in parallel, which close
    each other.
    """

    name: str
    kind: str
    N_net: Num
    R_T: Num
    I_f: Num
    NI: Num
    NI_V: Num
    NI_I: Num
    P_f: Num
    dL: Num
    L_f: Num
    L_ac: Num | None


@dataclass(frozen=True, kw_only=True)
class VoiceFault(Part):
    """The voice coil with one fault, cold. ``kind`` as above.

    ``Bl`` is the size of its force factor, ``dL`` the level beside that of the coil as planned on the same voltage,
    ``R_drag`` what shorted turns brake, ``L_vc`` the inductance at 1 kHz; None for sections in parallel.
    """

    name: str
    kind: str
    N_net: Num
    Re: Num
    Bl: Num
    dL: Num
    R_drag: Num
    Z_max: Num
    L_vc: Num | None

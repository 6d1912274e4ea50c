"""The motor in full: what its field gives, costs, pulls and hums; one frozen record per question."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from handwound.parts.faults import VoiceFault, WindingFault
from handwound.parts.part import Part
from handwound.parts.prediction import MagnetState
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]
    Phasors = npt.NDArray[np.complex128]


@dataclass(frozen=True, kw_only=True)
class Travel(Part):
    """Bl over the coil's way, how far the coil may move, and where it would rest better.

    Displacements count from where the coil rests now. What lies beyond the computed way is nan.
    """

    x: Array
    Bl_x: Array
    Bl_max: Num
    x_max: Num
    x_down: Num
    x_up: Num
    x_82: Num
    A_Bl: Num
    x_most: Num
    x_even: Num


@dataclass(frozen=True, kw_only=True)
class Gap(Part):
    """Radial flux density along the winding at rest, from its back end ``z`` = 0 on, and the flux it stands in.

    ``phi_g`` crosses the gap over the height of the plate; ``phi`` is the greatest of the whole motor, through any disc
    or ring about the axis; what is between the two goes round the gap: ``leak`` is its share.
    """

    z: Array
    B_r: Array
    phi_g: Num
    phi: Num
    leak: Num


@dataclass(frozen=True, kw_only=True)
class Filled(Part):
    """One ring of steel: the greatest flux through a section of it, the flux density of its fullest, and the word."""

    name: str
    phi: Num
    B_s: Num
    word: str


@dataclass(frozen=True, kw_only=True)
class Worth(Part):
    """What one change of the motor does to the level."""

    name: str
    dL: Num


@dataclass(frozen=True, kw_only=True)
class Pull(Part):
    """What draws a ring, with all that stands on it, to the ring that carries it; negative where it is pushed off.

    ``F_hold`` is that of the finished motor; ``F_lift`` that at each distance ``lift`` from its place while it is put
    there, with no current: only magnets pull then, so without any it is empty.
    """

    name: str
    F_hold: Num
    lift: Array
    F_lift: Array


@dataclass(frozen=True, kw_only=True)
class Sideways(Part):
    """What draws a pole that stands ``e_pole`` off the middle of its bore to the near side."""

    e_pole: Num
    F_side: Num


@dataclass(frozen=True, kw_only=True)
class Lift(Part):
    """The lift test: a disc of mild steel lying over the front on a card, and the current that just lifts it.

    ``I_f`` is None where the full current does not, 0 where magnets do it alone.
    """

    d_out: Num
    t: Num
    z: Num
    m: Num
    F_hold: Num
    I_f: Num | None


@dataclass(frozen=True, kw_only=True)
class Switching(Part):
    """The field coil switched on and off: times to 63 and 95 % of current and flux, what is given back, what stays.

    ``V_max`` is the highest voltage that the supply puts across the coil; ``Bl_left`` is None where there are magnets,
    whose field stays anyway.
    """

    t_I: tuple[float, float]
    t_psi: tuple[float, float]
    tau_e: Num
    W_off: Num
    t_off: Num
    I_diode: Num
    V_reverse: Num
    V_max: Num
    H_c: Num
    Bl_left: Num | None


@dataclass(frozen=True, kw_only=True)
class Alternating(Part):
    """The blocked voice coil at rest, against frequency: its impedance without Re, with the field coil open and closed.

    A supply that holds its voltage closes the field coil by its own resistance, as a wire across it would.
    ``Z_closed`` is ``Z_open`` where there is no field coil. ``L_step`` and ``R_step`` are the fewest R-L steps in
    series that follow ``Z_closed``, beside ``L_0``; ``Z_1k`` and ``n_L`` its power law; ``e_steps`` and ``e_power``
    their worst errors.
    """

    f: Array
    Z_open: Phasors
    Z_closed: Phasors
    x: Array
    L_x: Array
    dL_dx: Num
    L_0: Num
    L_step: tuple[float, ...]
    R_step: tuple[float, ...]
    e_steps: Num
    Z_1k: Num
    n_L: Num
    e_power: Num
    L_soft: Array


@dataclass(frozen=True, kw_only=True)
class Tone(Part):
    """One tone of the hum."""

    f: Num
    V_ripple: Num
    I_ripple: Num
    U_hum: Num
    I_hum: Num
    L_hum: Num


@dataclass(frozen=True, kw_only=True)
class Hum(Part):
    """What a ripple of the supply sounds like at 1 m, and what helps.

    ``dV`` is the ripple from peak to peak, a likely one where it is not ``known``; ``dV_least`` that at which the
    hum ``L_A`` is down to ``L_want``, both A-weighted, ``C_s`` the capacitor behind a full bridge for it.
    ``N_bucking`` turns over the field coil, against the voice coil and in series with it, leave ``dL_bucking`` of the
    lowest tone.
    """

    dV: Num
    known: bool
    tones: tuple[Tone, ...]
    L_A: Num
    L_want: Num
    dV_least: Num
    C_s: Num
    N_bucking: int
    dL_bucking: Num


@dataclass(frozen=True, kw_only=True)
class MotorStudy(Part):
    """Everything about the motor; what needs a field coil, a magnet or a pole in a bore is empty without one."""

    travel: Travel
    gap: Gap
    iron: tuple[Filled, ...]
    magnets: tuple[MagnetState, ...]
    worths: tuple[Worth, ...]
    dL_legs: Num | None
    pulls: tuple[Pull, ...]
    sideways: Sideways | None
    lift_test: Lift | None
    switching: Switching | None
    alternating: Alternating
    hum: Hum | None
    winding_faults: tuple[WindingFault, ...] = ()
    voice_faults: tuple[VoiceFault, ...] = ()

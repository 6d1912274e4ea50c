"""What a design will do: one frozen record per stage of the spine, and the band around each number."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, NamedTuple

from handwound.parts.part import Part
from handwound.parts.rub import Rub
from handwound.parts.sound import Mounted, Sound, Stiff
from handwound.quantities import Count, Num

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]


class Band(NamedTuple):
    """A number with its 5-95 % band and the median of its draws, in SI units.

    ``value`` is that of the build as written; where the draws bend, the median is another.
    """

    value: float
    low: float
    high: float
    median: float


@dataclass(frozen=True, kw_only=True)
class Weight(Part):
    """What the doubt of one number, ``quantity`` of the part called ``part``, brings to that of a result."""

    part: str
    quantity: str
    S_i: float


@dataclass(frozen=True, kw_only=True)
class Layer(Part):
    """One line of the winding ladder: what the coil is when this layer is full."""

    n_layer: int
    N_l: int
    N: int
    D_l: float
    D_w: float
    l_w: float
    R_20: float
    R_T: float
    R_T_band: Band


@dataclass(frozen=True, kw_only=True)
class Winding(Part):
    """A whole coil as its terminals see it: turns, size, wire, resistance; ``k_I`` of the current in one section.

    It stands out by ``bulge`` on the side of its crossings and splices, beyond ``D_w``.
    """

    N: Num
    N_l: Count
    D_m: Num
    D_w: Num
    l_w: Num
    m_w: Num
    R_20: Num
    R_T: Num
    k_I: Num = 1.0
    bulge: Num = 0.0


@dataclass(frozen=True, kw_only=True)
class Excitation(Part):
    """The field coil on its supply. ``limit`` says which limit of the supply sets the current."""

    I_f: Num
    V_f: Num
    NI: Num
    P_f: Num
    J: Num
    limit: str


@dataclass(frozen=True, kw_only=True)
class Heat(Part):
    """The motor when it no longer warms: its warmest outside, its winding on the mean and at its hot spot, and what
    the coil then draws and gives. ``A_case`` is all that a hand can reach."""

    A_case: Num
    T_case: Num
    T_f: Num
    T_hot: Num
    I_f: Num
    NI: Num
    P_f: Num
    Bl: Num
    L_1W: Num


@dataclass(frozen=True, kw_only=True)
class Rating(Part):
    """What the voice coil bears beside a warm motor until its weakest part, which bears ``T_lim``, has that
    temperature: heat for good, for a minute, for a second. Then what the programme of the brief does to it."""

    T_lim: Num
    P_cont: Num
    P_long: Num
    P_short: Num
    tau_vc: Num
    U_prog: Num
    P_prog: Num
    T_vc: Num
    dL_hot: Num


@dataclass(frozen=True, kw_only=True)
class Warming(Part):
    """The driver over the times ``t_w`` since it was switched on; those of the field coil are None without one."""

    t_w: Array
    T_case: Array
    T_vc: Array
    T_f: Array | None = None
    T_hot: Array | None = None
    T_spool: Array | None = None
    I_f: Array | None = None
    NI: Array | None = None
    P_f: Array | None = None
    Bl: Array | None = None

    @property
    def R_f(self) -> Array | None:
        """Volts over amperes of the field coil. [Ω]"""
        return None if self.I_f is None or self.P_f is None else self.P_f / self.I_f**2


@dataclass(frozen=True, kw_only=True)
class Reel(Part):
    """What the build takes from one reel, ``l_w`` for all its coils, and what stays on it.

    ``l_reel`` is the length left after the build, where the wire's own ``l_reel`` is that before it; None where the
    stock does not say how much there was.
    """

    name: str
    l_w: float
    l_reel: float | None


@dataclass(frozen=True, kw_only=True)
class IronState(Part):
    """Flux density in one ring and the word for it."""

    name: str
    B_s: float
    word: str


@dataclass(frozen=True, kw_only=True)
class Held(Part):
    """The pull that holds a ring, with all that it carries, to the ring ``at`` on which it stands or under which it
    hangs; negative where it is pushed off."""

    name: str
    at: str
    F_hold: float


@dataclass(frozen=True, kw_only=True)
class MagnetState(Part):
    """One magnet at work: mean flux density and field strength, and how far its worst place is from the knee.

    ``T_knee`` is where that place would meet it, nan for never. ``word`` is "cold" or "hot", the way to it. ``T_end``
    is how warm the magnet gets in the end, with music; None where that is not asked.
    """

    name: str
    grade: str
    T: Num
    B_m: Num
    H_m: Num
    dH: Num
    T_knee: Num
    word: str
    T_end: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Motor(Part):
    """The magnetic field as the resting voice coil and the supply meet it.

    Inductance and energy ``L_f`` and ``W_m`` are those of the field coil; None where there is none.
    """

    B_g: Num
    Bl: Num
    L_f: Num | None = None
    W_m: Num | None = None


@dataclass(frozen=True, kw_only=True)
class MotorCurves(Part):
    """``Bl_x`` over the displacements ``x``, ``Bl_NI`` at rest over the ampere-turns ``NI``, and the field's picture.

    Each flux line is a polyline of (r, z) in metres. ``held`` is of the finished motor, weights left out.
    """

    x: Array
    Bl_x: Array
    NI: Array
    Bl_NI: Array
    iron: tuple[IronState, ...]
    flux_lines: tuple[Array, ...]
    held: tuple[Held, ...] = ()
    magnets: tuple[MagnetState, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Moving(Part):
    """Masses of what moves, and what holds it. ``m_d`` is that of the bare diaphragm, ``m_g`` that of all glue."""

    m_vc: Num
    m_f: Num
    m_d: Num
    m_rib: Num
    m_cap: Num
    m_g: Num
    m_s: Num
    m_sp: Num
    m_bits: Num
    m_air: Num
    Mmd: Num
    Mms: Num
    Kms: Num
    Rms: Num
    Sd: Num
    a: Num


@dataclass(frozen=True, kw_only=True)
class Driver(Part):
    """The driver as its terminals and the room see it."""

    Re: Num
    fs: Num
    Cms: Num
    Qms: Num
    Qes: Num
    Qts: Num
    Vas: Num
    eta_0: Num
    L_1W: Num
    L_2V83: Num
    Z_max: Num
    Z_min: Num


@dataclass(frozen=True, kw_only=True)
class Response(Part):
    """Impedance, and what is heard on the axis at 1 m for 2.83 V as the driver is built in, against frequency.

    ``L_lo`` to ``L_hi`` is the level's 5-95 % band; ``x_f`` the peak excursion.
    """

    f: Array
    Z: Array
    L_p: Array
    L_lo: Array
    L_hi: Array
    phase: Array
    t_group: Array
    x_f: Array
    f_piston: float


@dataclass(frozen=True, kw_only=True)
class Clearance(Part):
    """Least air beside the voice coil over its stroke: inside the former, outside the wire. None where no iron is."""

    c_i: Num | None
    c_o: Num | None


STAGES = (
    "field_winding", "voice_winding", "excitation", "motor", "moving", "driver", "mounted", "stiff", "heat", "rating",
    "clearance",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Chain(Part):
    """The stages that are made of single numbers (arrays, where candidates or draws were asked for).

    Those of the field coil are None in a motor that has none.
    """

    field_winding: Winding | None = None
    voice_winding: Winding
    excitation: Excitation | None = None
    heat: Heat | None = None
    rating: Rating | None = None
    motor: Motor
    moving: Moving
    driver: Driver
    mounted: Mounted | None = None
    stiff: Stiff | None = None
    clearance: Clearance

    @property
    def L_1W(self) -> Num:
        """The level that stays: that of the warm motor, where a field coil warms it. [dB]"""
        return self.heat.L_1W if self.heat else self.driver.L_1W

    def numbers(self) -> dict[str, Num]:
        """Every number of every stage that there is, as "stage.quantity" -> SI value."""
        return {
            f"{stage}.{item.name}": value
            for stage in STAGES
            if (done := getattr(self, stage)) is not None
            for item in fields(done)
            if not isinstance(value := getattr(done, item.name), (str, tuple)) and value is not None
        }


@dataclass(frozen=True, kw_only=True)
class Prediction(Chain):
    """Everything the design will do.

    ``bands`` holds "stage.quantity" -> Band for every number of the stages, ``weights`` which inputs make it wide, the
    heaviest first; nothing for a number without a doubt.
    """

    curves: MotorCurves
    response: Response
    field_ladder: tuple[Layer, ...]
    voice_ladder: tuple[Layer, ...]
    reels: tuple[Reel, ...]
    bands: dict[str, Band] = field(default_factory=dict)
    weights: dict[str, tuple[Weight, ...]] = field(default_factory=dict)
    rub: Rub | None = None
    warming: Warming | None = None
    sound: Sound | None = None

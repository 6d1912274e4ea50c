"""The driver's sound in full: masses, suspension, bending, response, places, one tone; one frozen record a question."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from handwound.parts.part import Part
from handwound.parts.prediction import Band
from handwound.parts.sound import Bend, Held, Mounted, Place, Sound, Tone
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Mass(Part):
    """One thing that moves: its mass and its share, how that is known, how much louder it were if it weighed nothing.

    What all parts weighed together have more or less than their sum is the one that may be negative.
    """

    name: str
    m: Num
    m_share: Num
    known: str
    dL: Num


@dataclass(frozen=True, kw_only=True)
class Copper(Part):
    """The wire of the voice coil with its enamel as it is planned, and its copper by its length and by its ohms.

    ``m_cu`` takes the ohms that ``R_20`` says: those of the plan, or, ``is_read``, those that were read on the coil.
    """

    m_w: Num
    R_20: Num
    m_cu: Num
    is_read: bool


@dataclass(frozen=True, kw_only=True)
class Budget(Part):
    """All that moves, the heaviest first; ``dL_gram`` is what one gram more takes from the level."""

    masses: tuple[Mass, ...]
    Mmd: Num
    m_air: Num
    Mms: Num
    dL_gram: Num
    copper: tuple[Copper, ...]


@dataclass(frozen=True, kw_only=True)
class Hung(Part):
    """One way to hang the same parts: stiffness of the whole, the stroke at which it is a third stiffer, None beyond
    three times the wanted one, and the resonance."""

    name: str
    Kms: Num
    x_75: Num | None
    fs: Num


@dataclass(frozen=True, kw_only=True)
class Suspension(Part):
    """What holds it: stiffness of surround and spider, of both at displacements ``x`` and the force that takes, against
    rocking as it is and ``bare`` of its spider; ``k_dyn`` is that of both together. ``others`` begins with this one."""

    x_pk: Num
    K_s: Num
    K_sp: Num | None
    k_dyn: Num
    x: Array
    K_x: Array
    F_x: Array
    held: Held
    bare: Held | None
    others: tuple[Hung, ...]


@dataclass(frozen=True, kw_only=True)
class Card(Part):
    """One diaphragm on the same coil and surround: all that moves with it, level for 1 W, how far up it is stiff."""

    name: str
    Mmd: Num
    fs: Num
    L_1W: Num
    f_stiff: Num


@dataclass(frozen=True, kw_only=True)
class Thirds(Part):
    """What is heard and seen in each third-octave ``f`` for 2.83 V, as the driver is built in.

    ``L_p`` is the mean power of the bending diaphragm on the axis, ``L_stiff`` that of one that does not bend, with the
    band ``L_lo`` to ``L_hi`` where it moves as a whole, nan above. ``dL_off`` has a column for each angle ``theta``, in
    a wall. All else is at the middle of the third, of a stiff diaphragm.
    """

    f: Array
    theta: Array
    L_p: Array
    L_stiff: Array
    L_lo: Array
    L_hi: Array
    dL_off: Array
    Z: Array
    phase_Z: Array
    phase: Array
    t_group: Array
    x_f: Array


@dataclass(frozen=True, kw_only=True)
class Step(Part):
    """What arrives at 1 m after a step of 1 V: its peak, when it has nearly gone, the note on which it swings; None
    where it does not swing."""

    p_pk: float
    t_fall: float
    f_swing: float | None


@dataclass(frozen=True, kw_only=True)
class Boards(Part):
    """What a box is sawn from: see :func:`handwound.physics.alignment.panels`; ``V_more`` is taken by the driver and
    its ports."""

    t_box: Num
    V_more: Num
    W_in: Num
    H_in: Num
    D_in: Num
    W_out: Num
    H_out: Num


@dataclass(frozen=True, kw_only=True)
class Lodged(Part):
    """One place to put the driver, the loudest steady tone there at ``f_low``, the lowest note wished for, what sets
    it; the boards of a box, None where it is too small for the driver, the least air beside which that has room, and
    how fast the air in its ports gets with the loudest tones."""

    place: Place
    f_low: Num
    L_max: float
    by: str
    boards: Boards | None
    V_least: Num | None
    v_port: float | None


@dataclass(frozen=True, kw_only=True)
class Taped(Part):
    """The frame's own back with so many of its holes taped over: what is open beside the diaphragm, what it gives."""

    n_taped: Num
    open_share: Num
    found: Mounted


@dataclass(frozen=True, kw_only=True)
class Full(Part):
    """The amplifier turned up at the driver's least impedance: the heat that this makes in the voice coil, and what
    that bears for good where it is known."""

    P_max: Num
    P_vc: Num
    P_cont: Num | None


@dataclass(frozen=True, kw_only=True)
class Through(Part):
    """One tone through a resistance; with the turns that are loudest there, in wire of that diameter."""

    tone: Tone
    N_best: Num | None
    d_best: Num | None


@dataclass(frozen=True, kw_only=True)
class SoundStudy(Part):
    """Everything about the sound of a driver; ``bands`` are those of the prediction, ``form`` is its diaphragm's.

    ``lodged`` begins with the place where it is built in, ``tones`` with the one that was asked for.
    """

    form: str
    sound: Sound
    bands: dict[str, Band]
    budget: Budget
    suspension: Suspension
    bends: tuple[Bend, ...]
    cards: tuple[Card, ...]
    thirds: Thirds
    step: Step
    lodged: tuple[Lodged, ...]
    taped: tuple[Taped, ...]
    full: Full
    tones: tuple[Through, ...]

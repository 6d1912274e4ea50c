"""What is heard of a driver: where its diaphragm bends, how far it moves, how loud it gets, what it is built into."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from handwound.parts.part import Part
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Held(Part):
    """The suspension over its stroke, and against what would tilt it: stiffness ``K_x`` at the displacements ``x``.

    ``tilt`` is how far it leans where it plays with its axis level, by the weight of coil and former; ``m_off`` is the
    mass on the rim that leans it as far as it usually may while it plays.
    """

    x: Array
    K_x: Array
    sag: float
    K_rock: float
    f_rock: float
    tilt: float
    m_off: float


@dataclass(frozen=True, kw_only=True)
class Bend(Part):
    """One way the diaphragm bends by itself: how many lines of rest cross it, and its frequency."""

    n_across: int
    f_bend: float


@dataclass(frozen=True, kw_only=True)
class Breakup(Part):
    """The diaphragm with all that moves as a shell that bends, for 2.83 V in a large baffle.

    ``L_off`` has a row for each frequency and a column for each angle ``theta``; 0 is the axis. ``f_bent`` is where its
    impedance peaks in the lows; up to ``f_even`` the level is that of a stiff diaphragm within 3 dB; ``f_ring`` is
    where its rim swings as a ring (a cone's), ``f_deep`` from where its depth shifts what arrives; None where it is
    flat.
    """

    f: Array
    theta: Array
    L_off: Array
    Z: Array
    f_bent: float
    f_even: float
    f_ring: float | None
    f_deep: float | None


@dataclass(frozen=True, kw_only=True)
class Travel(Part):
    """How far it may move to each side, and what ends that first, ``by``.

    ``x_82`` by the force factor, ``x_75`` by the stiffness, ``x_stop`` until something is hit, ``x_rub`` until the gap
    closes; None where that end is not met within what is known.
    """

    x_82: float | None
    x_75: float | None
    x_stop: float | None
    x_rub: float | None
    x_lim: float
    by: str


@dataclass(frozen=True, kw_only=True)
class Loudest(Part):
    """The loudest steady tone at each frequency, at 1 m as the driver is mounted, and what sets it: ``by[k]``."""

    f: Array
    L_max: Array
    U_max: Array
    by: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Mounted(Part):
    """The driver where the brief builds it in: its resonance there, with a port the upper of two; how low it plays, how
    much it booms.

    ``f_10`` and ``f_3`` are where the level has fallen by 10 and by 3 dB from its reference; ``dL_peak`` is how far it
    stands above that where it booms most.
    """

    f_c: Num
    f_10: Num
    f_3: Num
    dL_peak: Num


@dataclass(frozen=True, kw_only=True)
class Stiff(Part):
    """How far up the diaphragm moves as a whole."""

    f_stiff: Num


@dataclass(frozen=True, kw_only=True)
class Place(Part):
    """One thing the driver could be built into, and what it gives there. ``kind`` says what; ``is_least`` where it is
    the smallest of its kind that plays the lowest note wished for."""

    kind: str
    why: str
    found: Mounted
    is_least: bool = False
    W_baffle: float | None = None
    V_box: float | None = None
    d_port: float | None = None
    l_port: float | None = None
    f_box: float | None = None


@dataclass(frozen=True, kw_only=True)
class Load(Part):
    """What the amplifier meets, at ``f_least`` its least: it is ``used`` so far of the load it is rated for. ``I_max``
    is what it would be asked for at its full voltage ``U_max``. ``R_add`` is the resistor that keeps it safe, None
    where none is needed, and ``dL_add`` what that takes from the level."""

    Z_min: float
    f_least: float
    used: float
    U_max: float
    I_max: float
    R_add: float | None
    dL_add: float | None


@dataclass(frozen=True, kw_only=True)
class Tone(Part):
    """One tone through the resistance ``R_source`` of its source: the loudest it gets, ``U_tone`` from the source, and
    what sets it, ``by``; the level ``L_1V`` that a volt makes.

    What would make it louder at the same voltage: ``k_N`` times the turns of the voice coil in the same room, None
    where nothing is in series and fewer turns are always louder; or the resonance put on the tone by a mass or a
    stiffness, None for the one that would be less than nothing.
    """

    f_tone: float
    R_source: float
    U_tone: float
    L_tone: float
    by: str
    L_1V: float
    k_N: float | None
    dL_turns: float | None
    m_add: float | None
    K_add: float | None
    dL_tuned: float


@dataclass(frozen=True, kw_only=True)
class Sound(Part):
    """All of it. ``f_flat`` is how far up a flat card of the diaphragm's sheet would move as a whole; None where it is
    flat."""

    held: Held
    breakup: Breakup
    f_flat: float | None
    travel: Travel
    loudest: Loudest
    load: Load
    places: tuple[Place, ...]
    tone: Tone | None = None

    @property
    def wall(self) -> Place:
        """The driver with its own back in a wall without end."""
        return next(each for each in self.places if not each.V_box and not each.W_baffle)

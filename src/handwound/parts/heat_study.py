"""The driver's heat in full: from cold, on other supplies, in a duty, with music; one frozen record per question."""

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
class State(Part):
    """The driver at one moment; what belongs to a field coil is None without one."""

    T_case: Num
    T_vc: Num
    T_f: Num | None = None
    T_hot: Num | None = None
    T_spool: Num | None = None
    I_f: Num | None = None
    NI: Num | None = None
    P_f: Num | None = None
    Bl: Num | None = None

    @property
    def R_f(self) -> Num | None:
        """Volts over amperes of the field coil; None without a current. [Ω]"""
        return self.P_f / self.I_f**2 if self.P_f and self.I_f else None


@dataclass(frozen=True, kw_only=True)
class FromCold(Part):
    """Switched on cold and left on: a state at each of the times ``t_w``, and the one that it all comes to.

    After ``t_near`` nothing is further than 1 K from that; None where that takes longer than was followed. At ``t_out``
    the field coil burns out, and the times end; None where it does not.
    """

    t_w: Array
    states: tuple[State, ...]
    end: State
    t_near: float | None
    t_out: float | None


@dataclass(frozen=True, kw_only=True)
class Limit(Part):
    """Something that heat may spoil, or hurt: what it bears, what it comes to, what is left and how much is used.

    It is as warm as ``place``, a temperature of a state; ``is_field`` where the field coil is to blame. ``t_lim`` is
    when, from cold, it has come as far as it bears; None for never.
    """

    name: str
    place: str
    is_field: bool
    T_lim: Num
    T_end: Num
    dT_left: Num
    used: Num
    t_lim: float | None

    @property
    def is_over(self) -> bool:
        """Whether it gets as warm as it bears."""
        return bool(self.dT_left <= 0)


@dataclass(frozen=True, kw_only=True)
class Feeding(Part):
    """One way to feed the field coil, cold and in the end; ``limit`` says for both what sets the current.

    ``end`` is None where the warming has no end. ``t_cross`` is when the supply goes from its limit of current to that
    of voltage, None where it does not. ``dL`` is the level of the end beside that of the supply as it is, cold.
    """

    name: str
    limit: tuple[str, str]
    cold: State
    end: State | None
    dL: Num | None
    t_cross: float | None


@dataclass(frozen=True, kw_only=True)
class Constant(Part):
    """What a constant current may be: above ``I_rest`` it runs away, past ``T_none``, which no insulation bears; with
    ``I_keep`` the field coil keeps all its limits, of which ``first`` is reached first, and so it does with ``V_keep``
    as a constant voltage.

    Both are None where the music alone, or the room, is too warm.
    """

    I_rest: Num
    T_none: Num
    I_keep: Num | None
    V_keep: Num | None
    first: str


@dataclass(frozen=True, kw_only=True)
class Duty(Part):
    """On and off, again and again, both coils: the highest temperatures of a round in the long run.

    ``hottest`` has these with what the coil draws and gives when it is switched off, ``again`` is the moment when it is
    switched on; ``dL`` is what the level loses from one to the other. ``over`` names the limits that do not hold.
    """

    t_on: float
    t_rest: float
    hottest: State
    again: State
    dL: Num | None
    over: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Music(Part):
    """A programme at one level: its voltage, its heat, where the voice coil ends and what level it then loses.

    ``T_pk`` and ``dL_pk`` are those of the hottest moment of a sound file; None for a programme that is as loud always.
    """

    level: Num
    U_prog: Num
    P_prog: Num
    T_vc: Num
    dL_hot: Num
    T_pk: Num | None
    dL_pk: Num | None


@dataclass(frozen=True, kw_only=True)
class Bears(Part):
    """What the voice coil bears for a while: heat, the programme's voltage that makes it, and its nominal power."""

    name: str
    P_prog: Num
    U_prog: Num
    P_nom: Num


@dataclass(frozen=True, kw_only=True)
class Borne(Part):
    """What one part of the voice coil bears."""

    name: str
    T_max: Num


@dataclass(frozen=True, kw_only=True)
class VoiceHeat(Part):
    """The voice coil under a programme: at several levels, what it bears, and which part gives way first."""

    programme: str
    crest: Num
    music: tuple[Music, ...]
    bears: tuple[Bears, ...]
    parts: tuple[Borne, ...]


@dataclass(frozen=True, kw_only=True)
class Help(Part):
    """One change and where all then ends; ``dT_place`` where a limit is reached first, ``dL`` of the level."""

    name: str
    end: State
    dT_place: Num
    dL: Num


@dataclass(frozen=True, kw_only=True)
class HeatStudy(Part):
    """Everything about the heat of a driver; what belongs to a field coil is empty without one.

    ``t_keep`` is the longest time on, with as long a rest, that keeps all limits, where they do not hold for good.
    """

    t_run: float
    from_cold: FromCold
    limits: tuple[Limit, ...]
    feedings: tuple[Feeding, ...]
    constant: Constant | None
    duties: tuple[Duty, ...]
    t_keep: float | None
    voice: VoiceHeat
    place: str
    helps: tuple[Help, ...]
    V_max: Num | None
    W_m: Num | None

"""The job's three documents as parts: what is on the shelf, what is wished for, what will be built."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import FieldCoil, VoiceCoil
from handwound.parts.iron import Iron
from handwound.parts.moving import Bit, Diaphragm, Spider, Surround
from handwound.parts.part import Part
from handwound.parts.sheet import Adhesive, Sheet
from handwound.parts.source import Amplifier, Supply
from handwound.parts.steel import Steel
from handwound.parts.wire import Wire
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Stock(Part):
    """Everything on the shelf."""

    wires: tuple[Wire, ...] = ()
    steels: tuple[Steel, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    adhesives: tuple[Adhesive, ...] = ()
    supplies: tuple[Supply, ...] = ()
    amplifiers: tuple[Amplifier, ...] = ()
    bits: tuple[Bit, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Brief(Part):
    """The wish and its limits, with the supply and the amplifier that it names."""

    name: str
    iron: str
    supply: Supply
    amplifier: Amplifier
    Z_rated: Num
    D_outline: Num
    L_want: Num
    f_low: Num
    T_touch: Num
    c_min: Num
    x_pk: Num
    T_room: Num = 20.0


@dataclass(frozen=True, kw_only=True)
class Design(Part):
    """The whole build."""

    iron: Iron
    field_coil: FieldCoil
    voice_coil: VoiceCoil
    diaphragm: Diaphragm
    surround: Surround
    spider: Spider | None = None
    bits: tuple[Bit, ...] = ()
    glue: Adhesive | None = None

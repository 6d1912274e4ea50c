"""The job's three documents as parts: what is on the shelf, what is wished for, what will be built."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.parts.coil import Coil, FieldCoil, VoiceCoil
from handwound.parts.heat import PLACES, Box, Frame
from handwound.parts.iron import Iron
from handwound.parts.mounting import Back, Baffle, Flange, Port
from handwound.parts.moving import Bit, Bond, Cap, Diaphragm, Spider, Surround
from handwound.parts.part import Part
from handwound.parts.rub import Centring
from handwound.parts.sheet import Adhesive, Sheet
from handwound.parts.source import Amplifier, Supply
from handwound.parts.steel import Magnet, Metal, Piece, Steel
from handwound.parts.wire import Wire
from handwound.quantities import Num


@dataclass(frozen=True, kw_only=True)
class Stock(Part):
    """Everything on the shelf."""

    wires: tuple[Wire, ...] = ()
    steels: tuple[Steel, ...] = ()
    magnets: tuple[Magnet, ...] = ()
    metals: tuple[Metal, ...] = ()
    sheets: tuple[Sheet, ...] = ()
    adhesives: tuple[Adhesive, ...] = ()
    supplies: tuple[Supply, ...] = ()
    amplifiers: tuple[Amplifier, ...] = ()
    bits: tuple[Bit, ...] = ()

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All that rings of the iron are made from."""
        return (*self.steels, *self.magnets, *self.metals)


@dataclass(frozen=True, kw_only=True)
class Brief(Part):
    """The wish and its limits, with the supply and the amplifier that it names.

    ``supply`` and ``T_touch`` belong to a field coil; without one both are None. ``crest`` and ``level`` say what is
    played: as broadcast music commonly is, no source, its peaks as high as the amplifier gives. ``box``, with or
    without a ``port``, or a ``baffle`` is what the driver is built into; with neither it plays in a wall without end.
    ``R_series`` is put between amplifier and driver; ``f_tone`` is a single note that shall be loud.
    """

    name: str
    iron: str
    supply: Supply | None = None
    amplifier: Amplifier
    Z_rated: Num
    D_outline: Num
    L_want: Num
    f_low: Num
    T_touch: Num | None = None
    c_min: Num
    x_pk: Num
    T_room: Num = 20.0
    crest: Num = 12.0
    level: Num = 0.0
    placed: str = PLACES[0]
    box: Box | None = None
    baffle: Baffle | None = None
    port: Port | None = None
    R_series: Num = 0.0
    f_tone: Num | None = None


@dataclass(frozen=True, kw_only=True)
class Design(Part):
    """The whole build. A motor whose field comes from magnets alone has no ``field_coil``.

    ``m_weighed`` is all that moves, weighed before surround and spider were glued on; it stands above the sum.
    """

    iron: Iron
    field_coil: FieldCoil | None = None
    voice_coil: VoiceCoil
    diaphragm: Diaphragm
    surround: Surround
    spider: Spider | None = None
    bits: tuple[Bit, ...] = ()
    glue: Adhesive | None = None
    centring: Centring = Centring()
    frame: Frame | None = None
    cap: Cap | None = None
    bonds: tuple[Bond, ...] = ()
    back: Back | None = None
    flange: Flange | None = None
    m_weighed: Num | None = None

    @property
    def coils(self) -> dict[str, Coil]:
        """The coils that there are, by the names of their tables."""
        fed: dict[str, Coil] = {"field_coil": self.field_coil} if self.field_coil else {}
        return fed | {"voice_coil": self.voice_coil}

    @property
    def has_magnets(self) -> bool:
        """Whether there is a field without any current."""
        return any(ring.magnetised for ring in self.iron.rings)

"""All builds of a search as one design: a column of field coils against a row of voice coils, held as arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from handwound.parts.coil import Coil
from handwound.parts.design import Design
from handwound.parts.wire import Wire
from handwound.quantities import Num

Array = npt.NDArray[np.float64]
C = TypeVar("C", bound=Coil)
Wound = tuple[Wire, int]
"""A wire and its number of layers."""
UNFED: tuple[None] = (None,)
"""The one row of a table of motors without a field coil."""
NUMBERS_OF_WIRE = ("d_cu", "d_o", "rho_20", "alpha_20", "rho_m")


@dataclass(frozen=True)
class Table:
    """The field coils (rows) and the voice coils (columns) to try in one design; without a field coil one row."""

    design: Design
    field_coils: tuple[Wound | None, ...]
    voice_coils: tuple[Wound, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return len(self.field_coils), len(self.voice_coils)

    @cached_property
    def all_at_once(self) -> Design:
        """The design with arrays in place of the numbers that differ from build to build."""
        design, fed = self.design, self.design.field_coil
        return replace(
            design,
            field_coil=_many(fed, [each for each in self.field_coils if each], (-1, 1)) if fed else None,
            voice_coil=_many(design.voice_coil, self.voice_coils, (1, -1)),
        )

    def one(self, index: tuple[int, int]) -> Design:
        """The design of one cell."""
        fed, of_field, of_voice = self.design.field_coil, self.field_coils[index[0]], self.voice_coils[index[1]]
        return replace(
            self.design,
            field_coil=_wound(fed, of_field) if fed and of_field else None,
            voice_coil=_wound(self.design.voice_coil, of_voice),
        )

    @property
    def l_reel(self) -> tuple[Array, Array]:
        """Wire on the reels of the rows and of the columns; without end where the stock does not say. [m]"""
        rows, columns = ([_on_reel(choice) for choice in choices] for choices in self._both)
        return np.array(rows, float)[:, None], np.array(columns, float)[None, :]

    @property
    def same_reel(self) -> npt.NDArray[np.bool_]:
        """Where both coils come from one reel."""
        rows, columns = ([choice[0].name if choice else "" for choice in choices] for choices in self._both)
        return np.asarray(np.array(rows)[:, None] == np.array(columns)[None, :])

    @property
    def _both(self) -> tuple[tuple[Wound | None, ...], tuple[Wound | None, ...]]:
        return self.field_coils, self.voice_coils


def _on_reel(choice: Wound | None) -> Num:
    return np.inf if choice is None or choice[0].l_reel is None else choice[0].l_reel


def _wound(coil: C, choice: Wound) -> C:
    return replace(coil, wire=choice[0], n_l=choice[1])


def _many(coil: C, choices: Sequence[Wound], shape: tuple[int, int]) -> C:
    wires = [wire for wire, _ in choices]
    numbers: dict[str, Any] = {
        name: np.array([getattr(w, name) for w in wires], float).reshape(shape) for name in NUMBERS_OF_WIRE
    }
    layers = np.array([n_l for _, n_l in choices]).reshape(shape)
    return replace(coil, n_l=layers, wire=replace(wires[0], name="all", spread=(), **numbers))

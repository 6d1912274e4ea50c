"""All builds of a search as one design: a column of field coils against a row of voice coils, held as arrays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from handwound.parts.coil import Coil
from handwound.parts.design import Design
from handwound.parts.wire import Wire

Array = npt.NDArray[np.float64]
C = TypeVar("C", bound=Coil)
Wound = tuple[Wire, int]
"""A wire and its number of layers."""
NUMBERS_OF_WIRE = ("d_cu", "d_o", "rho_20", "alpha_20", "rho_m")


@dataclass(frozen=True)
class Table:
    """The field coils (rows) and the voice coils (columns) to try in one design."""

    design: Design
    field_coils: tuple[Wound, ...]
    voice_coils: tuple[Wound, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return len(self.field_coils), len(self.voice_coils)

    @cached_property
    def all_at_once(self) -> Design:
        """The design with arrays in place of the numbers that differ from build to build."""
        design = self.design
        return replace(
            design,
            field_coil=_many(design.field_coil, self.field_coils, (-1, 1)),
            voice_coil=_many(design.voice_coil, self.voice_coils, (1, -1)),
        )

    def one(self, index: tuple[int, int]) -> Design:
        """The design of one cell."""
        (field_wire, field_n_l), (voice_wire, voice_n_l) = self.field_coils[index[0]], self.voice_coils[index[1]]
        return replace(
            self.design,
            field_coil=replace(self.design.field_coil, wire=field_wire, n_l=field_n_l),
            voice_coil=replace(self.design.voice_coil, wire=voice_wire, n_l=voice_n_l),
        )

    @property
    def l_reel(self) -> tuple[Array, Array]:
        """Wire on the reels of the rows and of the columns; without end where the stock does not say. [m]"""
        rows, columns = ([np.inf if w.l_reel is None else w.l_reel for w, _ in c] for c in self._both)
        return np.array(rows, float)[:, None], np.array(columns, float)[None, :]

    @property
    def same_reel(self) -> npt.NDArray[np.bool_]:
        """Where both coils come from one reel."""
        rows, columns = ([wire.name for wire, _ in choices] for choices in self._both)
        return np.asarray(np.array(rows)[:, None] == np.array(columns)[None, :])

    @property
    def _both(self) -> tuple[tuple[Wound, ...], tuple[Wound, ...]]:
        return self.field_coils, self.voice_coils


def _many(coil: C, choices: tuple[Wound, ...], shape: tuple[int, int]) -> C:
    wires = [wire for wire, _ in choices]
    numbers: dict[str, Any] = {
        name: np.array([getattr(w, name) for w in wires], float).reshape(shape) for name in NUMBERS_OF_WIRE
    }
    layers = np.array([n_l for _, n_l in choices]).reshape(shape)
    return replace(coil, n_l=layers, wire=replace(wires[0], name="all", spread=(), **numbers))

"""What the amplifier plays: a sound file by itself, and any programme as the heat that it makes in one voice coil."""

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
class Recording(Part):
    """A sound file as a voltage whose highest peak is 1: block by block, how much of it lies at which frequency.

    Block k lasts from ``t_b[k]`` to ``t_b[k + 1]``; ``u_f[k]`` is its mean square at each of the frequencies ``f``.
    """

    name: str
    crest: Num
    t_b: Array
    f: Array
    u_f: Array


@dataclass(frozen=True, kw_only=True)
class Programme(Part):
    """A programme in one voice coil: the heat from ``t_b[k]`` to ``t_b[k + 1]``, then the same again.

    ``P_rel[k]`` times U_pk²/Re is that heat in watts while the coil is cold; at R it is (Re/R) to the power ``n_hot``
    of it.
    """

    name: str
    crest: Num
    level: Num
    heat_share: Num
    n_hot: Num
    t_b: Array
    P_rel: Array

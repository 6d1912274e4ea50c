"""What every part has in common: a name, and for each number half of its 5-95 % band where one is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Num: TypeAlias = float | npt.NDArray[np.float64]
else:
    Num = float
"""A number of a part in SI units; an array where many candidates or draws are evaluated at once."""


@dataclass(frozen=True, kw_only=True)
class Part:
    """The root of all parts. ``spread`` holds (quantity, half of the 5-95 % band) for the numbers that carry one."""

    spread: tuple[tuple[str, float], ...] = ()

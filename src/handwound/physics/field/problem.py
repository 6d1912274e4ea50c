"""What the solver is asked: iron rings and one winding, all rectangles in the r-z half plane."""

from __future__ import annotations

from dataclasses import dataclass

from handwound.errors import FieldError
from handwound.physics.field.bh import Curve

Rectangle = tuple[float, float, float, float]


@dataclass(frozen=True)
class Ring:
    """A solid of revolution with a rectangular section: a washer, a pipe, a plate or (r_in = 0) a bolt. Metres."""

    name: str
    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    curve: Curve

    @property
    def rectangle(self) -> Rectangle:
        """r_in, r_out, z_lo, z_hi."""
        return self.r_in, self.r_out, self.z_lo, self.z_hi


@dataclass(frozen=True)
class Winding:
    """The field coil: N turns spread evenly over a rectangle. Metres."""

    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    N: float

    @property
    def rectangle(self) -> Rectangle:
        """r_in, r_out, z_lo, z_hi."""
        return self.r_in, self.r_out, self.z_lo, self.z_hi


@dataclass(frozen=True)
class Problem:
    """Iron, winding, and the zones (r_in, r_out, z_lo, z_hi) where the field must be known best: the voice coil's way.

    ``ghosts`` are rectangles of nothing whose edges get grid lines as if they were steel, so that two motors that
    differ a little can stand on one grid.
    """

    rings: tuple[Ring, ...]
    winding: Winding
    zones: tuple[Rectangle, ...] = ()
    ghosts: tuple[Rectangle, ...] = ()

    def __post_init__(self) -> None:
        named = [(ring.name, ring.rectangle) for ring in self.rings]
        for name, (r_in, r_out, z_lo, z_hi) in [*named, ("winding", self.winding.rectangle)]:
            if not (0 <= r_in < r_out and z_lo < z_hi):
                raise FieldError(
                    f"{name}: must have 0 <= r_in < r_out and z_lo < z_hi; found r {r_in:g} to {r_out:g} m, "
                    f"z {z_lo:g} to {z_hi:g} m."
                )
        for k, (name, ring) in enumerate(named):
            for other, rectangle in [*named[k + 1 :], ("the winding", self.winding.rectangle)]:
                if _overlap(ring, rectangle):
                    raise FieldError(f"{name}: must not lie in the same place as {other}. Move or shorten one of them.")

    @property
    def solids(self) -> tuple[Rectangle, ...]:
        """The rings' rectangles and then the winding's."""
        return (*(ring.rectangle for ring in self.rings), self.winding.rectangle)

    @property
    def size(self) -> float:
        """Half of the largest dimension of the whole, against which grid and box are measured. [m]"""
        return max(max(s[1] for s in self._all), (max(s[3] for s in self._all) - min(s[2] for s in self._all)) / 2)

    @property
    def z_middle(self) -> float:
        """Half height of the whole. [m]"""
        return (min(s[2] for s in self._all) + max(s[3] for s in self._all)) / 2

    @property
    def _all(self) -> tuple[Rectangle, ...]:
        return (*self.solids, *self.ghosts)


def _overlap(a: Rectangle, b: Rectangle) -> bool:
    """Whether two rectangles share more than a sliver (a hundredth of a micrometre), so that touching is allowed."""
    sliver = 1e-8
    r = min(a[1], b[1]) - max(a[0], b[0])
    z = min(a[3], b[3]) - max(a[2], b[2])
    return r > sliver and z > sliver

"""What the solver is asked: rings of iron, magnet or metal and one winding, in the r-z half plane."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from handwound.errors import FieldError
from handwound.physics.field.bh import Curve

Rectangle = tuple[float, float, float, float]
Direction = Literal["up", "down", "out", "in"]
DIRECTIONS: dict[str, tuple[float, float]] = {"up": (0, 1), "down": (0, -1), "out": (1, 0), "in": (-1, 0)}
"""The (r, z) parts of each direction in which a magnet can be magnetised."""


@dataclass(frozen=True)
class Magnet:
    """A magnet on its recoil line, B = mu_0 mu_rec H + B_rem along its direction. ``B_rem`` is that at its temperature.

    ``B_rem`` in tesla; the direction is that of its flux inside: along the axis up or down, or along the radius.
    """

    B_rem: float
    mu_rec: float
    direction: Direction


@dataclass(frozen=True)
class Ring:
    """A solid of revolution with a rectangular section: a washer, a pipe, a plate or (r_in = 0) a bolt. Metres.

    Steel has a ``curve``, a magnet its ``magnet``; a ring with neither is not magnetic (copper, brass). ``sigma`` is
    its conductivity in S/m; it matters to alternating current alone.
    """

    name: str
    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    curve: Curve | None = None
    magnet: Magnet | None = None
    sigma: float = 0.0

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
    """Rings, winding (none in a motor with magnets alone), and the zones where the field must be known best.

    A zone (r_in, r_out, z_lo, z_hi) is the voice coil's way.

    ``ghosts`` are rectangles of nothing whose edges get grid lines as if they were steel, so that two motors that
    differ a little can stand on one grid.
    """

    rings: tuple[Ring, ...]
    winding: Winding | None = None
    zones: tuple[Rectangle, ...] = ()
    ghosts: tuple[Rectangle, ...] = ()

    def __post_init__(self) -> None:
        named = [(ring.name, ring.rectangle) for ring in self.rings]
        wound = [("the winding", self.winding.rectangle)] if self.winding else []
        if not named and not wound:
            raise FieldError("motor: must have a ring or a winding; found neither.")
        for name, (r_in, r_out, z_lo, z_hi) in [*named, *wound]:
            if not (0 <= r_in < r_out and z_lo < z_hi):
                raise FieldError(
                    f"{name}: must have 0 <= r_in < r_out and z_lo < z_hi; found r {r_in:g} to {r_out:g} m, "
                    f"z {z_lo:g} to {z_hi:g} m."
                )
        for ring in self.rings:
            if ring.curve and ring.magnet:
                raise FieldError(f"{ring.name}: must be steel or a magnet; found a curve and a recoil line.")
        for k, (name, place) in enumerate(named):
            for other, rectangle in [*named[k + 1 :], *wound]:
                if _overlap(place, rectangle):
                    raise FieldError(f"{name}: must not lie in the same place as {other}. Move or shorten one of them.")

    @property
    def solids(self) -> tuple[Rectangle, ...]:
        """The rings' rectangles and then the winding's, where there is one."""
        wound = (self.winding.rectangle,) if self.winding else ()
        return (*(ring.rectangle for ring in self.rings), *wound)

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

"""What the solver is asked: rings of iron, magnet or metal and one winding, in the r-z half plane."""

from __future__ import annotations

from dataclasses import dataclass, replace
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
    """A solid of revolution: a washer, a pipe, a plate or (r_in = 0) a bolt. Metres.

    Its section is a rectangle, or has sloped sides: ``r_in_hi`` and ``r_out_hi`` are the radii at its upper face where
    they differ from ``r_in`` and ``r_out`` at the lower one (a tapered pole, an undercut, a countersink).

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
    r_in_hi: float | None = None
    r_out_hi: float | None = None

    def raised(self, by: float) -> Ring:
        """The ring so much higher."""
        return replace(self, z_lo=self.z_lo + by, z_hi=self.z_hi + by)

    @property
    def lower(self) -> tuple[float, float]:
        """Inner and outer radius at the lower face."""
        return self.r_in, self.r_out

    @property
    def upper(self) -> tuple[float, float]:
        """Inner and outer radius at the upper face."""
        return (
            self.r_in if self.r_in_hi is None else self.r_in_hi,
            self.r_out if self.r_out_hi is None else self.r_out_hi,
        )

    @property
    def sloped(self) -> bool:
        """Whether a side is not parallel to the axis."""
        return self.upper != self.lower

    @property
    def rectangle(self) -> Rectangle:
        """r_in, r_out, z_lo, z_hi of the ring or, where it is sloped, of the rectangle around it."""
        return min(self.r_in, self.upper[0]), max(self.r_out, self.upper[1]), self.z_lo, self.z_hi


@dataclass(frozen=True)
class Winding:
    """The field coil: N turns spread evenly over a rectangle. Metres."""

    r_in: float
    r_out: float
    z_lo: float
    z_hi: float
    N: float

    def raised(self, by: float) -> Winding:
        """The winding so much higher."""
        return replace(self, z_lo=self.z_lo + by, z_hi=self.z_hi + by)

    @property
    def lower(self) -> tuple[float, float]:
        """Inner and outer radius, as those of a ring at its lower face."""
        return self.r_in, self.r_out

    upper = lower

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
        named: list[tuple[str, Ring | Winding]] = [(ring.name, ring) for ring in self.rings]
        if self.winding:
            named.append(("the winding", self.winding))
        if not named:
            raise FieldError("motor: must have a ring or a winding; found neither.")
        for name, solid in named:
            _check_section(name, solid)
        for ring in self.rings:
            if ring.curve and ring.magnet:
                raise FieldError(f"{ring.name}: must be steel or a magnet; found a curve and a recoil line.")
        for k, (name, solid) in enumerate(named):
            for other, another in named[k + 1 :]:
                if _overlap(solid, another):
                    raise FieldError(f"{name}: must not lie in the same place as {other}. Move or shorten one of them.")

    @property
    def sloped(self) -> bool:
        """Whether any ring has a side that is not parallel to the axis."""
        return any(ring.sloped for ring in self.rings)

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


def _check_section(name: str, solid: Ring | Winding) -> None:
    """Inside before outside at both faces, and the lower face below the upper one."""
    z_lo, z_hi = solid.z_lo, solid.z_hi
    for face, (r_in, r_out) in (("", solid.lower), (" at the upper face", solid.upper)):
        if not (0 <= r_in < r_out and z_lo < z_hi):
            raise FieldError(
                f"{name}: must have 0 <= r_in < r_out{face} and z_lo < z_hi; found r {r_in:g} to {r_out:g} m, "
                f"z {z_lo:g} to {z_hi:g} m."
            )


def _overlap(a: Ring | Winding, b: Ring | Winding) -> bool:
    """Whether two solids share more than a sliver (a hundredth of a micrometre), so that touching is allowed.

    Their sides are straight: where one lies inside the other at both ends of their common height, it does between.
    """
    sliver = 1e-8
    z_lo, z_hi = max(a.z_lo, b.z_lo), min(a.z_hi, b.z_hi)
    if z_hi - z_lo <= sliver:
        return False
    ends = [(_radii(a, z), _radii(b, z)) for z in (z_lo, z_hi)]
    a_inside = all(of_a[1] - of_b[0] <= sliver for of_a, of_b in ends)
    b_inside = all(of_b[1] - of_a[0] <= sliver for of_a, of_b in ends)
    return not (a_inside or b_inside)


def _radii(solid: Ring | Winding, z: float) -> tuple[float, float]:
    """Inner and outer radius at a level."""
    share = (z - solid.z_lo) / (solid.z_hi - solid.z_lo)
    (r_in, r_out), (r_in_hi, r_out_hi) = solid.lower, solid.upper
    return r_in + share * (r_in_hi - r_in), r_out + share * (r_out_hi - r_out)

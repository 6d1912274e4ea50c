"""Two small motors for the field's tests: a closed pot and an open spool. Millimetres in, metres out."""

from __future__ import annotations

from dataclasses import replace

from handwound.materials import steels
from handwound.physics.field import Problem, Ring, Winding

MM = 1e-3
COIL = (10.5 * MM, 11 * MM, 24 * MM, 34 * MM)  # the pot's voice coil
SPOOL_COIL = (25.3 * MM, 25.9 * MM, 19 * MM, 29 * MM)


def motor(places: dict[str, tuple], winding: tuple, zone: tuple, steel: str) -> Problem:
    curve = steels.curve(steel)
    rings = tuple(Ring(name, *(MM * v for v in place), curve) for name, place in places.items())
    return Problem(rings, Winding(*(MM * v for v in winding), 800), (tuple(MM * v for v in zone),))


def pot(joint: float = 0.0, steel: str = "mild_steel") -> Problem:
    """A pot with a pole; ``joint`` is air under the wall, the pole and the top plate."""
    j = joint
    places = {
        "back": (0, 28, 0, 6),
        "wall": (24, 28, 6 + j, 26 + j),
        "top": (11.5, 28, 26 + j, 32 + j),
        "pole": (0, 10, 6 + j, 32 + j),
    }
    return motor(places, (11, 23, 7, 25), (10.5, 11, 21, 37), steel)


def spool(steel: str = "mild_steel") -> Problem:
    """Two washers on a bolt, the voice coil around the upper one."""
    places = {"bolt": (0, 6, -4, 28), "lower": (6, 25, 0, 4), "upper": (6, 25, 22, 26)}
    return motor(places, (7, 24, 4.5, 21.5), (25.3, 25.9, 16, 32), steel)


def changed(problem: Problem, name: str, **by: float) -> Problem:
    """The motor with some numbers of one ring changed by so many millimetres."""
    old = next(ring for ring in problem.rings if ring.name == name)
    new = replace(old, **{key: getattr(old, key) + MM * value for key, value in by.items()})
    return replace(problem, rings=tuple(new if ring is old else ring for ring in problem.rings))

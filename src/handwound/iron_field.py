"""The field stage: from the iron to its solved magnetic field, kept on disk, and how it answers small changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from handwound.errors import FieldError
from handwound.files import cache
from handwound.materials import magnets, metals, steels
from handwound.parts.coil import Rectangle
from handwound.parts.design import Design
from handwound.parts.iron import Iron, Ring
from handwound.parts.prediction import IronState
from handwound.physics import field as field_physics
from handwound.physics.field import Problem, Solution, Winding
from handwound.physics.field.coils import force_factors
from handwound.physics.field.harmonic import Harmonic, harmonic
from handwound.physics.field.sensitivity import sensitivity
from handwound.quantities import Num

Array = npt.NDArray[np.float64]
STEP = 0.1
"""Share of a number's half band over which Bl's slope is taken: small, so that no edge passes another."""
WEAKER = 0.05
"""Share of a magnet's remanence over which Bl's slope is taken: what a ferrite loses over 25 K."""


class Answer(NamedTuple):
    """Relative change of Bl over u half bands of a number: slope * u + bend * u²."""

    slope: float
    bend: float = 0.0


Change = tuple[tuple[str, str], Problem, Answer]
"""What is changed, the changed motor, and what its change of Bl adds to the slope and the bend."""
THIN = 0.02
"""Share of the winding's thickness that a hum-bucking layer on top of it takes."""
AROUND = (0.4, 0.6, 0.8, 1.0, 1.2, 1.5, 2.0)
"""Ampere-turns solved beside the working point, as shares of it: for the field curve and for the spread."""


@dataclass(frozen=True, eq=False)
class Field:
    """The field of one iron at a rising row of ampere-turns; ``at`` is the index of the working point.

    Where there are magnets the row begins at no current; without a field coil it ends there.
    """

    problem: Problem
    solutions: tuple[Solution, ...]
    at: int

    @property
    def solution(self) -> Solution:
        """The field at the working point."""
        return self.solutions[self.at]

    @cached_property
    def NI(self) -> Array:
        """The ampere-turns solved for. [A]"""
        return np.array([each.NI for each in self.solutions])

    def Bl_x(self, place: Rectangle, N: Num, x: Array) -> Array:
        """Bl of N turns spread over ``place``, moved by each x, at the working point. [T·m]"""
        return np.asarray(self.solution.Bl(*place, N, x))

    def Bl(self, place: Rectangle, N: Num, NI: Num) -> Num:
        """Size of Bl at rest for candidate coils and ampere-turns, arrays broadcast together. [T·m]"""
        rows = force_factors(self.solutions, *place, N, 0.0)
        return self._from_nothing(list(np.sign(rows[self.at]) * rows), NI)

    def L_f(self, N: Num, NI: Num) -> Num:
        """Inductance of the field coil at direct current, its linkage over its current. [H]"""
        return N**2 * between(self.NI, self._L_per_turn, NI)

    def W_m(self, NI: Num) -> Num:
        """Energy that the field coil has put into the field. [J]"""
        return self._from_nothing(self._energies, NI)

    @cached_property
    def _L_per_turn(self) -> Array:
        """Inductance of one turn at each of the ampere-turns. [H]"""
        _, N = wound(self.problem)
        return np.array([each.L_static() / N**2 for each in self.solutions])

    @cached_property
    def _energies(self) -> list[float]:
        """Energy at each of the ampere-turns: asked for the nominal build and again for its draws. [J]"""
        found = [each.energy() for each in self.solutions]
        return [each - found[0] for each in found] if self.NI[0] == 0 else found

    def _from_nothing(self, rows: Sequence[float | Array], NI: Num) -> Num:
        """Interpolate from no current on, where all is nothing unless it was solved: the steel keeps no field here."""
        if self.NI[0] > 0:
            return between(np.append(0.0, self.NI), np.array([np.zeros_like(rows[0]), *rows]), NI)
        return between(self.NI, np.array(rows), NI) if len(rows) > 1 else rows[0]

    @cached_property
    def by_magnet(self) -> dict[str, float]:
        """Relative change of Bl at the working point over that of a magnet's remanence, for each of them. [1]

        To first order, for a coil that fills the air beside the plate: where it stands there hardly matters.
        """
        of = [ring.name for ring in self.problem.rings if ring.magnet]
        found = _relative_changes(self, self.problem.zones[0], tuple(_weaker(self.problem, name) for name in of))
        return {name: -dBl / WEAKER for name, dBl in zip(of, found, strict=True)}

    def iron_states(self) -> tuple[IronState, ...]:
        """How full of flux each ring is."""
        return tuple(IronState(name=ring.name, B_s=ring.B_s, word=ring.word) for ring in self.solution.ring_B())

    def flux_lines(self, count: int = 14) -> tuple[Array, ...]:
        """Lines between which equal parts of the greatest flux run, as (r, z). [m]"""
        return tuple(np.asarray(line) for line in self.solution.flux_lines(count))


def between(nodes: Array, rows: Array, at: Num) -> Num:
    """Monotone cubic interpolation along the first axis of ``rows``, each column at its own ``at``.

    Beyond the last node it goes on straight: an upper bound where the iron fills, and never a wild cubic.
    """
    from scipy.interpolate import PchipInterpolator

    shape = rows.shape[1:]
    pieces = PchipInterpolator(nodes, rows.reshape(len(nodes), -1)).c
    at_, column = np.broadcast_arrays(np.asarray(at, float), np.arange(pieces.shape[2]).reshape(shape))
    inside = np.clip(at_, nodes[0], nodes[-1])
    k = np.clip(np.searchsorted(nodes, inside, side="right") - 1, 0, len(nodes) - 2)
    d = inside - nodes[k]
    c = pieces[:, k, column]
    last = (rows[-1] - rows[-2]) / (nodes[-1] - nodes[-2])
    return np.asarray(((c[0] * d + c[1]) * d + c[2]) * d + c[3] + (at_ - inside) * last)[()]


def problem(
    design: Design, D_w: float, N: float, grade: str = "", k_B: float = 1.0, k_H: float = 1.0, T: float = 20.0
) -> Problem:
    """The iron and the wound field coil as the solver takes them; the curve of one ``grade`` of steel may be scaled.

    Magnets and metals are as they are at ``T``.
    """
    iron = design.iron
    levels = iron.levels()

    def solid(ring: Ring) -> field_physics.Ring:
        r_in, r_out, z_lo, z_hi = (float(e) for e in (ring.d_in / 2, ring.d_out / 2, *levels[ring.name]))
        made = field_physics.Ring(
            ring.name, r_in, r_out, z_lo, z_hi, r_in_hi=_half(ring.d_in_hi), r_out_hi=_half(ring.d_out_hi)
        )
        return replace(made, **_stuff(ring, T, (k_B, k_H) if ring.grade == grade else (1.0, 1.0)))

    rings, zones = tuple(solid(ring) for ring in iron.rings), (_zone(iron, float(design.voice_coil.D_f)),)
    coil = design.field_coil
    if coil is None:
        return Problem(rings, None, zones)
    D_f, z_w, h_w = float(coil.D_f), float(coil.z_w), float(coil.h_w)
    return Problem(rings, Winding(D_f / 2, D_w / 2, z_w, z_w + h_w, N), zones)


def _half(d: Num | None) -> float | None:
    return None if d is None else float(d) / 2


def _stuff(ring: Ring, T: float, factors: tuple[float, float]) -> dict[str, Any]:
    """What a ring is made of: the curve of its steel, the recoil line of its magnet; and what it conducts.

    Legs conduct nothing here: a current round the axis ends at a bar's edge. What turns within a bar is left out.
    """
    if ring.magnetised:
        known = magnets.grade(ring.grade)
        B_rem = (known.B_rem if ring.B_rem is None else float(ring.B_rem)) * magnets.warmed(ring.grade, T)
        sigma = 1 / known.rho_20 if known.rho_20 else 0.0
        return {"magnet": field_physics.Magnet(B_rem, known.mu_rec, ring.magnetised), "sigma": sigma}
    if ring.grade in metals.names():
        return {"sigma": 0.0 if ring.n_legs else 1 / metals.rho(ring.grade, T)}
    curve = steels.curve(ring.grade)
    sigma = 0.0 if ring.n_legs else 1 / steels.rho_20(ring.grade)
    return {"curve": curve if factors == (1.0, 1.0) else curve.scaled(*factors), "sigma": sigma}


def with_spread_legs(asked: Problem, iron: Iron) -> Problem:
    """The same motor with the legs of its yoke taken in the other way: as thick as they are, of diluted steel.

    Flat bars are no ring. The ring of equal cross-section is too thin, with a joint as small as theirs; this one is too
    dilute, with a joint all round. How far the two answers are apart says what the missing shape may cost.
    """
    legs = {ring.name: ring for ring in iron.rings if ring.t_leg is not None}

    def spread(ring: field_physics.Ring) -> field_physics.Ring:
        if ring.name not in legs or ring.curve is None:
            return ring
        r_in = ring.r_out - float(legs[ring.name].t_leg or 0.0)
        share = (ring.r_out**2 - ring.r_in**2) / (ring.r_out**2 - r_in**2)
        return replace(ring, r_in=r_in, curve=ring.curve.scaled(share))

    return replace(asked, rings=tuple(spread(ring) for ring in asked.rings))


def wound(asked: Problem) -> tuple[float, float]:
    """Outer diameter and turns of the field coil in a problem; nothing where there is none."""
    return (2 * asked.winding.r_out, asked.winding.N) if asked.winding else (0.0, 0.0)


def _zone(iron: Iron, D_f: float) -> tuple[float, float, float, float]:
    """Where the field must be known best: the air beside the plate in which the voice coil moves.

    It hangs on the voice coil only through the side of the plate it is on, so another coil meets the same field.
    """
    low, high = (float(level) for level in iron.plate_levels())
    t = high - low
    d_i, d_o = iron.room(D_f, low, high)
    r_in = float(d_i) / 2 if d_i is not None else max(float(d_o or D_f) / 2 - t, 0.0)
    r_out = float(d_o) / 2 if d_o is not None else r_in + t
    return r_in, r_out, low - t, high + t


def find(design: Design, D_w: float, N: float, NI: float, T: float = 20.0) -> Field:
    """The field at these ampere-turns and around them, from the disk where it was found before; magnets at ``T``."""
    asked = problem(design, D_w, N, T=T)
    if design.field_coil is None:
        return over(asked, (0.0,), 0)
    return over(asked, tuple(share * NI for share in AROUND), AROUND.index(1.0))


@lru_cache(maxsize=16)
def over(asked: Problem, NI: tuple[float, ...], at: int) -> Field:
    """The field over a rising row of ampere-turns, one warm-started sweep; with magnets from no current on."""
    if NI[0] > 0 and any(ring.magnet for ring in asked.rings):
        NI, at = (0.0, *NI), at + 1
    name = cache.key("field", _solver(), asked, NI)
    kept = cache.get(name)
    if kept is None:
        solutions = tuple(field_physics.sweep(asked, NI))
        cache.put(name, {f"{k}.{item}": a for k, s in enumerate(solutions) for item, a in s.to_arrays().items()})
        return Field(asked, solutions, at)
    parts: list[dict[str, Array]] = [{} for _ in NI]
    for item, array in kept.items():
        k, inner = item.split(".", 1)
        parts[int(k)][inner] = array
    return Field(asked, tuple(Solution.from_arrays(asked, arrays) for arrays in parts), at)


@lru_cache(maxsize=16)
def answers(field: Field, design: Design, place: Rectangle, T: float = 20.0) -> dict[tuple[str, str], Answer]:
    """How Bl answers each uncertain number of the iron: to first order, for the steels to second.

    Keys are (ring, quantity); for the steels (grade, "k_B") and (grade, "k_H"), for the magnets (grade, "B_rem").
    """
    changes = [
        *_sizes_changed(field, design, T),
        *_steels_changed(field, design, T),
        *_magnets_changed(field, design, T),
    ]
    relative = _relative_changes(field, place, tuple(changed for _, changed, _ in changes))
    found: dict[tuple[str, str], Answer] = {}
    for (key, _, counts), dBl in zip(changes, relative, strict=True):
        slope, bend = found.get(key, (0.0, 0.0))
        found[key] = Answer(slope + counts.slope * dBl, bend + counts.bend * dBl)
    return found


def _relative_changes(field: Field, place: Rectangle, problems: tuple[Problem, ...]) -> list[float]:
    """What changed motors do to Bl at the working point, from the disk where it was found before. [1]"""
    name = cache.key("answers", _solver(), field.problem, field.solution.NI, place, problems)
    kept = cache.get(name)
    if kept is None:
        r_in, r_out, z_lo, z_hi = (float(each) for each in place)
        # slopes need no fine grid: both ends of each stand on the same one
        coarse = field_physics.solve(field.problem, field.solution.NI, field.solution, 2, field_physics.SEARCH)
        first_order = sensitivity(coarse, (r_in, r_out, z_lo, z_hi), problems)
        kept = {"dBl": first_order.Bl / first_order.Bl_0}
        cache.put(name, kept)
    changes: list[float] = kept["dBl"].tolist()
    return changes


def _weaker(asked: Problem, name: str) -> Problem:
    """The motor with one of its magnets weaker."""

    def weaker(ring: field_physics.Ring) -> field_physics.Ring:
        if ring.name != name or ring.magnet is None:
            return ring
        return replace(ring, magnet=replace(ring.magnet, B_rem=(1 - WEAKER) * ring.magnet.B_rem))

    return replace(asked, rings=tuple(weaker(ring) for ring in asked.rings))


def _sizes_changed(field: Field, design: Design, T: float) -> Iterator[Change]:
    """Each uncertain size of the iron, changed by a small share of half its band to the side where there is room.

    A sleeve that sits tight on its pole can only be wider; what is wedged in on both sides has no doubt of its own.
    """
    as_wound = wound(field.problem)
    for ring in design.iron.rings:
        for name, half in ring.spread:
            for step in (STEP, -STEP) if half > 0 and name != "B_rem" else ():
                iron = changed_iron(design.iron, ring.name, name, step * half)
                try:
                    changed = problem(replace(design, iron=iron), *as_wound, T=T)
                except FieldError:
                    continue
                yield (ring.name, name), changed, Answer(1 / step)
                break


def _magnets_changed(field: Field, design: Design, T: float) -> Iterator[Change]:
    """Each grade of magnet, its pieces stronger by a small share of half their bands: one batch is alike."""
    as_wound = wound(field.problem)
    for grade in sorted({ring.grade for ring in design.iron.rings if dict(ring.spread).get("B_rem")}):
        iron = design.iron
        for ring in iron.rings:
            if ring.grade == grade:
                iron = changed_iron(iron, ring.name, "B_rem", STEP * dict(ring.spread).get("B_rem", 0.0))
        yield (grade, "B_rem"), problem(replace(design, iron=iron), *as_wound, T=T), Answer(1 / STEP)


def _steels_changed(field: Field, design: Design, T: float) -> Iterator[Change]:
    """Each steel at both ends of its bands; a factor is as likely to be k as 1/k.

    Both ends count: full iron gives Bl little more than it can take from it.
    """
    as_wound = wound(field.problem)
    for grade in sorted({ring.grade for ring in design.iron.rings} & set(steels.names())):
        for name, half in (("k_B", steels.k_B_spread(grade)), ("k_H", steels.k_H_spread(grade))):
            for sign in (1, -1):
                factor = float(np.exp(sign * np.arcsinh(half)))
                yield (grade, name), problem(design, *as_wound, grade, T=T, **{name: factor}), Answer(sign / 2, 1 / 2)


def changed_iron(iron: Iron, name: str, quantity: str, step: float) -> Iron:
    """The iron with one number of one ring changed by a step."""

    def change(ring: Ring) -> Ring:
        return replace(ring, **{quantity: getattr(ring, quantity) + step}) if ring.name == name else ring

    return replace(iron, rings=tuple(change(ring) for ring in iron.rings))


@lru_cache(maxsize=16)
def alternating(field: Field, coils: tuple[Winding, ...], error: float = 0.02, k_mu: float = 1.0) -> Harmonic:
    """What coils, iron and metal do to alternating current at the working point, from the disk where it was found."""
    name = cache.key("alternating", _solver(), field.problem, field.solution.NI, coils, error, k_mu)
    kept = cache.get(name)
    if kept is None:
        found = harmonic(field.solution, coils, error=error, k_mu=k_mu)
        cache.put(name, {item: np.asarray(getattr(found, item)) for item in ("tau", "psi", "of_rings", "elements")})
        return found
    rings = tuple(ring.name for ring in field.problem.rings if ring.sigma > 0)
    return Harmonic(coils, kept["tau"], kept["psi"], kept["of_rings"], rings, int(kept["elements"]))


def coil_of(place: Rectangle, N: Num) -> Winding:
    """N turns spread over a place, as the solver takes a coil."""
    r_in, r_out, z_lo, z_hi = (float(each) for each in place)
    return Winding(r_in, r_out, z_lo, z_hi, float(N))


def coils(field: Field, place: Rectangle, N: Num) -> tuple[Winding, ...]:
    """The voice coil, and where there is one the field coil with one turn of a hum-bucking layer on top of it."""
    wound = field.problem.winding
    if wound is None:
        return (coil_of(place, N),)
    layer = replace(wound, r_in=wound.r_out - THIN * (wound.r_out - wound.r_in), N=1.0)
    return coil_of(place, N), wound, layer


@lru_cache(maxsize=1)
def _solver() -> str:
    """The text of the solver itself: a field found by another solver is not this one's."""
    place = Path(field_physics.__file__).parent
    return "".join(path.read_text(encoding="utf8") for path in sorted(place.glob("*.py")))

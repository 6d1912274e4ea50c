"""All that moves as one shell: former, diaphragm, cap and surround, with the coil as a ring; how far up it is stiff."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound import masses, suspension
from handwound.kept import stage
from handwound.parts.design import Design
from handwound.parts.moving import Bond, Cap, Diaphragm, Ribs, Surround
from handwound.parts.prediction import Moving
from handwound.parts.sheet import Sheet
from handwound.physics.rayleigh import Radiator
from handwound.physics.shell import meridian
from handwound.physics.shell.breakup import F_TOP, Driven
from handwound.physics.shell.linear import axial_stiffness
from handwound.physics.shell.meridian import Shell
from handwound.quantities import Num

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

SHORTEST, LONGEST, PER_WAVE = 0.25e-3, 1e-3, 5
"""Elements are no shorter, however soft a sheet is, and no longer [m]; so many are in one bending wave at ``F_TOP``."""
ON_FORMER = 2e-3
"""A diaphragm whose hole is narrower than its former by more than this closes it. [m]"""
LEAST_LEFT = 0.1
"""Share of the former's mass that is left to it where all was weighed together and the sum of its parts is more."""
AS_ONE = 3.0
"""A diaphragm that loses this much on its axis by moving unevenly no longer moves as a whole. [dB]"""
FACE, AT_NECK = ("diaphragm", "cap"), ("former", "behind", "diaphragm")
SIMPSON = np.array([1.0, 4.0, 1.0]) / 6
TRIED = np.geomspace(50.0, F_TOP, 50)
"""Where that is looked for. [Hz]"""
FINER = 17
"""Places between two of those."""
USUAL_NECK = 3e-3, 0.2e-3, 2e9
"""Width and thickness of the glue round a neck of which nothing is told [m], and its modulus [Pa]: common practice, no
source."""
RIM_TURNS = 4.0
"""A narrow ring whose rim turns freely is softer by this: 3 E I / l³ for 12 E I / l³."""
TURNED, LEAST_SHARE = 3, 0.3
"""Rounds in which a surround is made as stiff as the whole is on it; least share of the strain that is told as its."""
AT_ONCE = 10
"""So many of them are asked for together, from the lowest up."""


@dataclass(frozen=True, eq=False)
class Whole:
    """The shell, the node where the coil drives it, those that the frame holds, ring and spider at the coil.

    ``pieces`` holds the elements of each: former, behind (what a cap covers), diaphragm, cap, surround.
    """

    shell: Shell
    coil: int
    held: tuple[int, ...]
    m_ring: float
    K_ring: complex
    pieces: dict[str, NDArray[np.intp]]
    f_top: float

    @cached_property
    def driven(self) -> Driven:
        """The whole in the frequency domain, pushed by its coil, its skin in the air."""
        return Driven(self.shell, self.coil, self.held, self.m_ring, self.K_ring, self.skin, self.f_top)

    @cached_property
    def skin(self) -> Radiator:
        """What faces the room."""
        return self._radiator("diaphragm", "cap", "surround")

    def _radiator(self, *names: str) -> Radiator:
        of = np.concatenate([self.pieces[name] for name in names if name in self.pieces])
        return Radiator(self.shell.r, self.shell.z, self.shell.elements[of])

    def uneven(self, f: Array, rho_0: float, c_0: float) -> Array:
        r"""What diaphragm and cap lose on the axis against a stiff one of the same mean square of the velocity. [dB]

        .. math:: 10 \lg \frac{A \int |w|^2 dA}{\left| \int w \, dA \right|^2}
        """
        skin = self.shell.elements[np.concatenate([self.pieces[name] for name in FACE if name in self.pieces])]
        r, w = self.shell.r[skin], self.driven.answer(f, rho_0, c_0).v[:, 1, skin]
        dA = SIMPSON * r * (r[:, 2:] - r[:, :1])  # times 2 pi, as is everything it is compared with
        mean, square = np.abs((w * dA).sum(axis=(1, 2))) ** 2, (np.abs(w) ** 2 * dA).sum(axis=(1, 2))
        return np.asarray(10 * np.log10(dA.sum() * square / mean))

    def piston_to(self, fs: float, rho_0: float, c_0: float) -> float:
        """How far up the diaphragm moves as a whole; 0 where that is further than this shell is followed. [Hz]"""
        f = TRIED[(TRIED > 2 * fs) & (TRIED < self.f_top)]
        for k in range(0, len(f) - 1, AT_ONCE):
            some = f[k : k + AT_ONCE + 1]
            beyond = self.uneven(some, rho_0, c_0) > AS_ONE
            if beyond.any():
                first = int(np.argmax(beyond))
                if k + first == 0:
                    return float(some[0])
                between = np.geomspace(f[k + first - 1], some[first], FINER)
                return float(between[np.argmax(self.uneven(between, rho_0, c_0) > AS_ONE)])
        return 0.0 if self.f_top < F_TOP else F_TOP


class Stuff(NamedTuple):
    """A sheet as a shell asks for it: thickness [m], modulus [Pa], Poisson's ratio, mass per area, loss factor."""

    t: float
    E: float
    nu: float
    rho_A: float
    eta: float

    @classmethod
    def of(cls, sheet: Sheet, t: Num | None = None) -> Stuff:
        """The numbers of a sheet, or of one that is not as thick."""
        sizes = (sheet.t if t is None else t, sheet.E, sheet.nu, sheet.rho_A, sheet.eta_s)
        return cls(*(float(each) for each in sizes))

    def shell(self, nodes: tuple[Array, Array], m: float, ribs: Array | None = None) -> Shell:
        """A line of it, turned round the axis, that weighs so much."""
        return meridian.piece(*nodes, self.t, self.E, self.nu, m / area(*nodes), self.eta, ribs)

    def cut(self, length: float, f_top: float) -> int:
        """Elements for a length of it: fine enough for its bending waves up to a frequency."""
        D = self.E * self.t**3 / (12 * (1 - self.nu**2))
        wave = 2 * np.pi * (D / self.rho_A / (2 * np.pi * f_top) ** 2) ** 0.25
        longest = LONGEST * (F_TOP / f_top) ** 0.5
        return int(np.ceil(length / np.clip(wave / PER_WAVE, SHORTEST, longest)))


@stage
def whole(design: Design, moving: Moving, f_top: float = F_TOP) -> Whole:
    """The shell of a design with plain numbers, as heavy as its budget and hung as stiffly as its suspension.

    Glue, leads and the moving share of a spider have no place of their own here: they ride on the former.
    """
    part, coil, r_neck = design.diaphragm, design.voice_coil, neck(design)
    m_d, m_f, r_rim = float(moving.m_d), float(moving.m_f), float(part.d_out) / 2
    named: list[tuple[str, Shell]] = []
    r_cap = None
    if design.cap:
        r_cap = max(r_neck, min(float(design.cap.d_out) / 2, r_rim))
        named.append(("cap", _cap(design.cap, float(moving.m_cap), r_cap, float(level(part, r_neck, r_cap)), f_top)))
    ring = _surround(design.surround, r_rim, float(level(part, r_neck, r_rim)))
    free = float(max(coil.l_f - coil.h_w, LEAST_LEFT * coil.l_f) / coil.l_f)  # of the former, above the winding
    z_coil = -free * float(coil.l_f)
    m_ring = float(moving.m_vc) + m_f * (1 - free)
    others = m_ring + m_d + float(moving.m_cap + moving.m_rib + moving.m_s)
    former = Stuff.of(coil.former, coil.t_f)
    along = meridian.line(r_neck, z_coil, r_neck, 0.0, former.cut(-z_coil, f_top))
    named.append(("former", former.shell(along, max(float(moving.Mmd) - others, LEAST_LEFT * m_f))))
    named += [*_diaphragm(design, m_d, r_cap, f_top), ("surround", ring)]
    shell, pieces = _joined(named)
    _lapped(shell, pieces["diaphragm"], design)
    _glued(shell, np.concatenate([pieces[name] for name in AT_NECK if name in pieces]), design.bonds, r_neck)
    held = meridian.node_at(shell, float(ring.r[-1]), float(ring.z[-1]))
    driven = meridian.node_at(shell, r_neck, z_coil)
    _turning(shell, pieces["surround"], held, driven, float(suspension.surround_stiffness(design.surround)))
    return Whole(shell, driven, (held,), m_ring, _spider(design), pieces, f_top)


def _turning(shell: Shell, ring: NDArray[np.intp], held: int, driven: int, K_s: float) -> None:
    """Make the surround as stiff as the whole is on it, and lose as much.

    A paper rim turns and gives a little; what was measured, and counts as the whole's stiffness and its loss, has that
    in it. What gives more, as a flat card, is the diaphragm.
    """
    E, eta, turns, K = shell.E[ring], shell.eta[ring], 1.0, np.zeros(TURNED)
    for k in range(TURNED):
        shell.E[ring] = E * turns
        K[k] = axial_stiffness(shell, [held], [driven])
        before, turns = turns, float(np.clip(turns * K_s / K[k], 1.0, RIM_TURNS))
    # the share of all strain that is the surround's, by how the whole answers its modulus
    share = float(np.clip(np.log(K[-1] / K[0]) / np.log(before), LEAST_SHARE, 1.0)) if before > 1 else 1.0
    rest = np.delete(np.arange(len(shell.eta)), ring)
    shell.eta[ring] = np.maximum((eta - (1 - share) * np.mean(shell.eta[rest])) / share, eta)


def neck(design: Design) -> float:
    """Radius at which the diaphragm stands on its former. [m]"""
    d_in, D_f = float(design.diaphragm.d_in), float(design.voice_coil.D_f)
    return (d_in if d_in > D_f - ON_FORMER else D_f) / 2


def level(part: Diaphragm, r_neck: float, r: Array | float) -> Array:
    """Level of the diaphragm above its neck. [m]"""
    return np.asarray(part.rise(2 * r) - part.rise(2 * r_neck)) + np.zeros_like(r)


def area(r: Array, z: Array) -> float:
    """Area of a line turned round the axis, by Simpson's rule in each element. [m²]"""
    long = np.hypot(r[2::2] - r[:-2:2], z[2::2] - z[:-2:2])
    mean = np.stack([r[:-2:2], r[1:-1:2], r[2::2]], axis=1) @ SIMPSON
    return float(2 * np.pi * long @ mean)


def _joined(named: list[tuple[str, Shell]]) -> tuple[Shell, dict[str, NDArray[np.intp]]]:
    """The pieces as one shell, and which elements belong to each name."""
    pieces: dict[str, NDArray[np.intp]] = {}
    first = 0
    for name, each in named:
        own = np.arange(first, first := first + len(each.elements))
        pieces[name] = np.append(pieces[name], own) if name in pieces else own
    return meridian.join(*(each for _, each in named)), pieces


def _lapped(shell: Shell, diaphragm: NDArray[np.intp], design: Design) -> None:
    """Lay the surround's lap, which weighs and is not stiff, on the rim of the diaphragm."""
    r = shell.r[shell.elements[diaphragm]]
    outer = diaphragm[r[:, 1] > r.max() - masses.lap_width(design)]
    of = shell.elements[outer]
    shell.rho_A[outer] += float(masses.lap_mass(design)) / sum(area(shell.r[each], shell.z[each]) for each in of)


def _diaphragm(design: Design, m_d: float, r_cap: float | None, f_top: float) -> Iterator[tuple[str, Shell]]:
    """The diaphragm in pieces that end where former, cap and lap are glued to it; what a cap covers is behind."""
    part, r_neck = design.diaphragm, neck(design)
    r_in, r_rim, stuff = float(part.d_in) / 2, float(part.d_out) / 2, Stuff.of(part.sheet)
    ends = {r for r in (r_in, r_neck, r_cap, r_rim) if r is not None and r >= r_in}
    r_lap = r_rim - masses.lap_width(design)
    if min(abs(r - r_lap) for r in ends) > LONGEST / 2 and r_lap > r_in:
        ends.add(r_lap)
    lines = []
    for r_1, r_2 in pairwise(sorted(ends)):
        climb = float(level(part, r_neck, r_2) - level(part, r_neck, r_1))
        r = np.linspace(r_1, r_2, 2 * stuff.cut(float(np.hypot(r_2 - r_1, climb)), f_top) + 1)
        lines.append((r, level(part, r_neck, r)))
    whole_area = sum(area(*each) for each in lines)
    for r, z in lines:
        name = "behind" if r_cap is not None and r[-1] <= r_cap else "diaphragm"
        yield name, stuff.shell((r, z), m_d * area(r, z) / whole_area, _ribs(part.ribs, r))


def _ribs(ribs: Ribs | None, r: Array) -> Array | None:
    if ribs is None:
        return None
    of, sizes = Stuff.of(ribs.sheet), (ribs.h_rib, ribs.d_in / 2, ribs.d_out / 2)
    h_rib, r_in, r_out = (float(each) for each in sizes)
    return meridian.smeared(r, of.E, of.t, of.rho_A, int(ribs.n_rib), h_rib, r_in, r_out)


def _cap(cap: Cap, m_cap: float, r_cap: float, z: float, f_top: float) -> Shell:
    stuff, h_c = Stuff.of(cap.sheet), float(cap.h_c) if cap.form == "dome" else 0.0
    return stuff.shell(meridian.dome(r_cap, h_c, z, stuff.cut(float(np.hypot(r_cap, h_c)), f_top)), m_cap)


def _glued(shell: Shell, of: NDArray[np.intp], bonds: tuple[Bond, ...], r: float) -> None:
    """Lay the glue of the neck on former and diaphragm, half of its width on each: it keeps the neck from growing wider
    and narrower as the diaphragm is pushed. Its mass rides with the rest."""
    w, t, E = neck_glue(bonds)
    near = of[np.hypot(shell.r[shell.elements[of, 1]] - r, shell.z[shell.elements[of, 1]]) < w / 2]
    sum_t = shell.t[near] + t
    shell.E[near] = (shell.E[near] * shell.t[near] + E * t) / sum_t
    shell.t[near] = sum_t


def neck_glue(bonds: tuple[Bond, ...]) -> tuple[float, float, float]:
    """Width and thickness of the glue round the neck [m], and its modulus [Pa]; as is usual where nothing is told."""
    told = next((each for each in bonds if each.at == "neck" and each.w_bond is not None), None)
    if told is None or told.w_bond is None:
        return USUAL_NECK
    return float(told.w_bond), float(told.t_bond), float(told.glue.E)


def _surround(surround: Surround, r_in: float, z: float) -> Shell:
    """The surround at the rim, as stiff where that does not turn as it was measured or reckoned."""
    shell = suspension.surround_shell(surround)
    r_out = float(shell.r[-1])
    r = r_out - (r_out - shell.r) * (r_out - r_in) / (r_out - float(shell.r[0]))  # to the very rim
    ring = shell._replace(r=r, z=shell.z - shell.z[0] + z)
    K_s = float(suspension.surround_stiffness(surround))
    return ring._replace(E=ring.E * K_s / axial_stiffness(ring, [len(r) - 1], [0]))


def _spider(design: Design) -> complex:
    """Stiffness of the spider with its loss. [N/m]"""
    if design.spider is None:
        return 0.0
    return complex(float(suspension.spider_stiffness(design.spider)) * (1 + 1j * float(suspension.spider_loss(design))))

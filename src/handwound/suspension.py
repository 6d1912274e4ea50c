"""Surround and spider of a design as springs: how stiff, how much of them moves, over the stroke, against rocking.

What was measured stands above what follows from a shape; the shape then says only how the stiffness changes.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from handwound.parts.design import Design
from handwound.parts.moving import Spider, Surround
from handwound.parts.prediction import Moving
from handwound.parts.rub import ROCK, ROCK_SPIDER
from handwound.physics import rocking as rocking_physics
from handwound.physics import suspension as suspension_physics
from handwound.physics.masses import moving_share
from handwound.physics.moving import ring_stiffness
from handwound.physics.rocking import Against
from handwound.physics.shell import meridian
from handwound.physics.shell.large import large_stroke
from handwound.physics.shell.linear import axial_share, axial_stiffness, rocking_stiffness
from handwound.physics.shell.meridian import Shell
from handwound.quantities import Num

if TYPE_CHECKING:
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

FLAT, ROLL, WAVE = 20, 24, 8
"""Elements of a flat ring, of a roll, of one pleat: stiffness to 0.1 %, over the stroke to 0.2 %. (measured)"""
STEP = 0.05
"""Share by which a size is changed to see what hangs on it."""
AT_REST = 1e-9
"""Nearer to rest, force over displacement would be noise; it is their slope there. [m]"""
SIDEWAYS = 30.0
"""Least stiffness sideways of pleated cloth over that along the axis: shells of 4 to 6 waves give 34 to 80."""
RINGS = 10
"""Rings that a diaphragm is cut in for its moment of inertia."""


class Rocking(NamedTuple):
    """How the moving parts sink and lean by their weight, and what rocks them; see ``Held``."""

    sag: float
    K_rock: float
    f_rock: float
    tilt: float
    m_off: float


class Sizes(NamedTuple):
    """A ring of sheet: its thickness, free width, mean radius and height. [m]"""

    t: Num
    wide: Num
    r: Num
    h_r: Num


def surround_shell(surround: Surround) -> Shell:
    """The surround as a shell, at the mean of its draws; from the diaphragm outwards, a roll bulging to the front."""
    return _shell(surround)


def spider_shell(spider: Spider) -> Shell:
    """A spider of pleats as a shell, at the mean of its draws, from the former outwards."""
    return _shell(spider)


def surround_stiffness(surround: Surround) -> Num:
    """Stiffness of the surround along the axis: as measured, or from its sheet and its shape. [N/m]"""
    if surround.K_s is not None:
        return surround.K_s
    sheet = surround.sheet
    if surround.form == "flat":
        return ring_stiffness(sheet.E, sheet.nu, sheet.t, surround.d_in, surround.d_out)
    return sheet.E * _hung(surround)[0]


def spider_stiffness(spider: Spider) -> Num:
    """Stiffness of the spider along the axis: as measured, or from its sheet and its shape. [N/m]"""
    if spider.K_sp is not None:
        return spider.K_sp
    assert spider.sheet is not None, "a spider that nobody measured has a sheet"
    if spider.form == "arms":
        return suspension_physics.arms_stiffness(spider.sheet.E, spider.sheet.t, *_arms(spider))
    return spider.sheet.E * _hung(spider)[0]


def spider_loss(design: Design) -> Num:
    """Loss factor of the spider; one of which nothing is told loses as the surround does. [1]"""
    of = design.spider.sheet if design.spider and design.spider.sheet else design.surround.sheet
    return of.eta_s


def surround_share(surround: Surround) -> Num:
    """Share of the surround's mass that moves. [kg]"""
    if surround.form == "flat":
        return moving_share(surround.d_in, surround.d_out, surround.sheet.rho_A)
    return surround.sheet.rho_A * _hung(surround)[1]


def spider_share(spider: Spider) -> Num:
    """Share of the spider's mass that moves: as weighed, or from its shape. [kg]"""
    if spider.m_sp is not None:
        return spider.m_sp
    assert spider.sheet is not None, "a spider that nobody weighed has a sheet"
    if spider.form == "arms":
        return suspension_physics.arms_share(*_arms(spider), spider.sheet.rho_A)
    return spider.sheet.rho_A * _hung(spider)[1]


def stiffness_over_stroke(design: Design, x: Array) -> Array:
    """Stiffness of surround and spider together at displacements, of plain numbers; nan where one snaps. [N/m]

    It is the force over the displacement, at rest what that tends to: a push of K(x) x holds it at x. A spider of which
    only the stiffness is known is taken as equally stiff everywhere.
    """
    K = float(surround_stiffness(design.surround)) * _course(surround_shell(design.surround), x)
    spider = design.spider
    if spider is None:
        return K
    course: Num = np.ones(len(x))
    if spider.form == "pleats":
        course = _course(spider_shell(spider), x)
    elif spider.form == "arms" and spider.sheet:
        _, _, w_arm = _arms(spider)
        course = suspension_physics.arms_stiffening(x, spider.sheet.t, w_arm, design.voice_coil.D_f / 2)
    return np.asarray(K + float(spider_stiffness(spider)) * course)


def gives(design: Design) -> float:
    """How many times as far surround and spider give under a weight that has lain for a minute as they do to music."""
    surround, spider = design.surround, design.spider
    K = [(float(surround_stiffness(surround)), float(surround.sheet.k_dyn))]
    if spider:
        K.append((float(spider_stiffness(spider)), float(spider.sheet.k_dyn) if spider.sheet else 1.0))
    return sum(each for each, _ in K) / sum(each / k_dyn for each, k_dyn in K)


def rocking(design: Design, moving: Moving, x_pk: float) -> Rocking:
    """How a design of plain numbers sinks, leans and rocks."""
    surround, spider, coil = design.surround, design.spider, design.voice_coil
    K_s, K_sp = float(surround_stiffness(surround)), float(spider_stiffness(spider)) if spider else 0.0
    k_dyn = gives(design)
    hung = [(*_against(surround_shell(surround), K_s), _rim(design))]
    if spider:
        hung.append((*_spider_against(spider, K_sp, float(coil.D_f) / 2), -float(spider.z_sp)))
    K = rocking_physics.hung_together(*np.array(hung).transpose())
    m, r, level = np.array(list(_rings(design, moving)), float).transpose()
    m *= moving.Mmd / m.sum()  # as heavy as it was weighed
    centre, I_rock = float(m @ level / m.sum()), rocking_physics.tilt_inertia(m, r, level)
    K_rock = rocking_physics.tilt_stiffness(*K)
    usual = design.centring.rock or (ROCK_SPIDER if spider else ROCK)
    one_gram = rocking_physics.tilt_by_mass(K_rock, 1e-3, surround.d_in / 2, x_pk * moving.Kms / moving.Mms)
    return Rocking(
        sag=float(suspension_physics.sag(K_s + K_sp, moving.Mmd, k_dyn)),
        K_rock=float(K_rock),
        f_rock=float(rocking_physics.rocking_frequency(*K, moving.Mmd, centre, I_rock)),
        tilt=float(rocking_physics.lean(*K, moving.Mmd, centre) * k_dyn),
        m_off=float(1e-3 * usual / one_gram),
    )


def _sizes(part: Surround | Spider) -> Sizes:
    assert part.sheet is not None and part.d_in is not None and part.d_out is not None, "a shape has its sizes"
    return Sizes(part.sheet.t, (part.d_out - part.d_in) / 2, (part.d_out + part.d_in) / 4, part.h_r)


def _arms(spider: Spider) -> tuple[Num, Num, Num]:
    assert spider.l_arm is not None and spider.w_arm is not None, "arms have their sizes"
    return float(spider.n_arm), spider.l_arm, spider.w_arm


def _shell(part: Surround | Spider) -> Shell:
    assert part.sheet is not None
    sheet, sizes = part.sheet, tuple(float(np.mean(each)) for each in _sizes(part))
    # a cloth has no modulus of its own: what hangs on its shape alone is asked of it
    E, nu, rho_A, eta = (float(np.mean(each)) for each in (sheet.E or 1.0, sheet.nu, sheet.rho_A, sheet.eta_s))
    return _drawn(part.form, int(part.n_pleat), nu, Sizes(*sizes), E, rho_A, eta)


def _drawn(
    form: str, n_pleat: int, nu: float, sizes: Sizes, E: float = 1.0, rho_A: float = 1.0, eta: float = 0.0
) -> Shell:
    """A ring's middle line as a shell, from its inner edge outwards."""
    t, wide, r, h_r = (float(each) for each in sizes)
    ends = r - wide / 2, r + wide / 2
    if form == "pleats":
        nodes = meridian.wave(*ends, 0.0, h_r, n_pleat, WAVE * n_pleat)
    elif form == "roll":
        nodes = meridian.arc(ends[0], 0.0, ends[1], 0.0, h_r, ROLL)
    else:
        nodes = meridian.line(ends[0], 0.0, ends[1], 0.0, FLAT)
    return meridian.piece(*nodes, t, E, nu, rho_A, eta)


def _ends(shell: Shell) -> tuple[list[int], list[int]]:
    """What holds it and what moves it: its last node and its first."""
    return [len(shell.r) - 1], [0]


def _hung(part: Surround | Spider) -> tuple[Num, Num]:
    """Stiffness over the modulus, and moving share over the mass per area, of a shape. [m], [m²]

    Draws follow a law of powers, with a bend, about their mean; that is rounded, so that all portions of the draws ask
    for the same law.
    """
    assert part.sheet is not None
    sizes, kind = _sizes(part), (part.form, int(part.n_pleat), float(np.mean(part.sheet.nu)))
    if not any(np.ndim(each) for each in sizes):
        return _answers(*kind, Sizes(*(float(each) for each in sizes)))
    about = Sizes(*(float(f"{np.mean(each):.1e}") for each in sizes))
    middle, first, second = _law(*kind, about)
    steps = [np.log(each / mean) for each, mean in zip(sizes, about, strict=True)]
    K, m = (
        np.exp(middle[k] + sum(step * (first[j, k] + step * second[j, k]) for j, step in enumerate(steps)))
        for k in range(2)
    )
    return K, m


@lru_cache(maxsize=256)
def _answers(form: str, n_pleat: int, nu: float, sizes: Sizes) -> tuple[float, float]:
    shell = _drawn(form, n_pleat, nu, sizes)
    return axial_stiffness(shell, *_ends(shell)), axial_share(shell, *_ends(shell))


@lru_cache(maxsize=64)
def _law(form: str, n_pleat: int, nu: float, about: Sizes) -> tuple[Array, Array, Array]:
    """Logarithms of stiffness and share about some sizes: themselves, and their slope and bend over each size's."""

    def log_at(k: int, step: float) -> Array:
        sizes = about._replace(**{about._fields[k]: about[k] * np.exp(step)})
        return np.log(_answers(form, n_pleat, nu, sizes))

    middle = log_at(0, 0.0)
    sides = [(log_at(k, STEP), log_at(k, -STEP)) for k in range(len(about))]
    first = np.array([(up - down) / (2 * STEP) for up, down in sides])
    second = np.array([(up + down - 2 * middle) / (2 * STEP**2) for up, down in sides])
    return middle, first, second


def _course(shell: Shell, x: Array) -> Array:
    """Stiffness at displacements over that at rest."""
    F, slope = large_stroke(shell, *_ends(shell), np.append(x, 0.0))
    still = np.abs(x) < AT_REST
    return np.where(still, 1.0, F[:-1] / (slope[-1] * np.where(still, 1.0, x)))


def _against(shell: Shell, K: float) -> Against:
    """What a shell sets against shift and tilt, where it is as stiff along the axis as ``K``."""
    matrix = rocking_stiffness(shell, *_ends(shell)) * K / axial_stiffness(shell, *_ends(shell))
    return Against(*(float(matrix[at]) for at in ((0, 0), (0, 1), (1, 1))))


def _spider_against(spider: Spider, K_sp: float, r: float) -> Against:
    if spider.form == "pleats":
        return _against(spider_shell(spider), K_sp)
    sideways = SIDEWAYS * K_sp
    if spider.form == "arms" and spider.sheet:
        arms = spider.sheet.E, spider.sheet.t, *_arms(spider)
        sideways = K_sp * float(suspension_physics.arms_sideways(*arms) / suspension_physics.arms_stiffness(*arms))
    return Against(sideways, 0.0, float(rocking_physics.tilt_of_springs(K_sp, r)))


def _rim(design: Design) -> float:
    """Level of the diaphragm's rim above its neck. [m]"""
    return float(design.diaphragm.rise(design.diaphragm.d_out) - design.diaphragm.rise(design.voice_coil.D_f))


def _rings(design: Design, moving: Moving) -> Iterator[tuple[Num, Num, Num]]:
    """Mass, radius and level above the neck of rings that stand for all that moves. Glue and leads sit at the neck."""
    coil, diaphragm, r_neck = design.voice_coil, design.diaphragm, design.voice_coil.D_f / 2
    yield moving.m_vc, r_neck, coil.h_w / 2 - coil.l_f
    for share in (-1, 1):  # two rings with the moments of a tube
        yield moving.m_f / 2, r_neck, -coil.l_f / 2 * (1 + share / 3**0.5)
    r = np.linspace(diaphragm.d_in, diaphragm.d_out, 2 * RINGS + 1)[1::2] / 2
    z = np.asarray(diaphragm.rise(2 * r) - diaphragm.rise(2 * r_neck)) * np.ones(RINGS)
    area = r * np.hypot(1.0, np.gradient(z, r))
    yield from zip((moving.m_d + moving.m_rib) * area / area.sum(), r, z, strict=True)
    if design.cap:
        r_cap = design.cap.d_out / 2
        yield moving.m_cap, r_cap / 2**0.5, float(diaphragm.rise(2 * r_cap) - diaphragm.rise(2 * r_neck))
    yield moving.m_s, design.surround.d_in / 2, _rim(design)
    if design.spider:
        yield moving.m_sp, r_neck, -design.spider.z_sp
    yield moving.m_g + moving.m_bits, r_neck, 0.0

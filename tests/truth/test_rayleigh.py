"""Check values of surfaces in an endless wall, from outside the project."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipe, j1, jv, struve

from handwound.physics.rayleigh import Radiator, deep_limit

RHO_0, C_0, A = 1.204, 343.2, 0.08
ANGLES = np.radians(np.linspace(0, 90, 19))
SHAPES = {  # z of the skin at r/a: what a maker glues
    "flat": lambda x: 0 * x,
    "cone": lambda x: -0.5 * A * (1 - x),
    "dome": lambda x: 0.3 * A * (1 - x**2),
    "half roll at the rim": lambda x: np.where(x > 0.8, A * np.sqrt(np.maximum(0.01 - (x - 0.9) ** 2, 0)), 0.0),
}


def surface(shape: str = "flat", n: int = 20) -> Radiator:
    x = np.linspace(0, 1, 2 * n + 1)
    return Radiator(A * x, SHAPES[shape](x), np.arange(0, 2 * n, 2)[:, None] + np.arange(3))


def along(w: np.ndarray) -> np.ndarray:
    """Velocities along the axis only."""
    return np.concatenate([np.zeros(len(w)), w])


X = np.linspace(0, 1, 41)
RIGID, PLATE = along(np.ones(41)), along((1 - X**2) ** 2)


def sound_of(ka: float) -> float:
    return ka * C_0 / (2 * np.pi * A)


@pytest.mark.parametrize("shape", ["flat", "cone"])
@pytest.mark.parametrize("ka", [0.05, 0.3, 1.0, 2.5, 5.0, 8.0, 10.0])
def test_a_rigid_disc(ka, shape) -> None:
    """Kind of truth: closed form. 1 - 2 J1(x)/x and 2 H1(x)/x, x = 2ka (Rayleigh, § 302, from memory).

    A rigid cone displaces the volume of the disc over it, ring by ring, so flattened it is that disc.
    """
    x = 2 * ka
    Z = surface(shape).on(RIGID[:, None]).load(sound_of(ka), RHO_0, C_0)[0, 0, 0] / (RHO_0 * C_0 * np.pi * A**2)
    assert Z.real == pytest.approx(1 - 2 * j1(x) / x, rel=1e-6)
    assert Z.imag == pytest.approx(2 * struve(1, x) / x, rel=2e-4)


def test_the_air_of_a_slow_disc() -> None:
    """Kind of truth: limit. 8/3 rho a³ on one side (Beranek, Acoustics, from memory)."""
    Z = surface().on(RIGID[:, None]).load(1.0, RHO_0, C_0)[0, 0, 0]
    assert Z.imag / (2 * np.pi) == pytest.approx(8 / 3 * RHO_0 * A**3, rel=1e-5)


@pytest.mark.parametrize("ka", [0.1, 1.0, 3.0, 10.0])
def test_pressure_of_a_rigid_disc_at_all_angles(ka) -> None:
    """Kind of truth: closed form. p = j rho f S v/r · 2 J1(y)/y, y = ka sin theta; 0.1 dB of the axis is 1.2 %."""
    f, y = sound_of(ka), np.maximum(ka * np.sin(ANGLES), 1e-9)
    p = surface().pressure(f, ANGLES, RIGID, RHO_0, C_0, 2.0)[0]
    assert p == pytest.approx(1j * RHO_0 * f * np.pi * A**2 / 2.0 * 2 * j1(y) / y, abs=1e-9 * RHO_0 * f)


@pytest.mark.parametrize(
    ("ka", "beams"), [(0.05, 3.012), (0.5, 3.191), (1, 3.734), (2, 5.880), (3, 9.159), (5, 14.017), (10, 20.029)]
)
def test_directivity_index_of_a_disc(ka, beams) -> None:
    """Kind of truth: closed form. 10 lg((ka)²/R1(2ka)), evaluated to 0.001 dB."""
    disc, f = surface(), sound_of(ka)
    p, P = disc.pressure(f, 0.0, RIGID, RHO_0, C_0, 1.0)[0, 0], disc.power(f, RIGID, RHO_0, C_0)[0]
    all_round = P / (4 * np.pi) * RHO_0 * C_0  # |p|² at 1 m of the same power sent to all sides alike
    assert 10 * np.log10(np.abs(p) ** 2 / all_round) == pytest.approx(beams, abs=6e-4)


@pytest.mark.parametrize("ka", [0.3, 2.0, 6.0, 10.0])
def test_a_surface_that_moves_as_a_clamped_plate(ka) -> None:
    """Kind of truth: closed form, second method. (1 - x²)² has the transform 8 J3(u)/u³ (Sonine, from memory).

    The air before it by ordinary quadrature of that transform over the waves that leave and those that cling.
    """

    def flow(u: float) -> float:
        return float(2 * np.pi * A**2 * 8 * jv(3, u) / u**3)

    plate, f, k = surface(), sound_of(ka), ka / A
    p = plate.pressure(f, ANGLES, PLATE, RHO_0, C_0, 1.0)[0]
    wanted = [1j * RHO_0 * f * flow(max(ka * np.sin(angle), 1e-2)) for angle in ANGLES]
    assert p == pytest.approx(np.array(wanted), abs=2e-5 * abs(wanted[0]))
    leaving = quad(lambda s: flow(max(A * np.sqrt(k**2 - s**2), 1e-2)) ** 2, 0, k, limit=200)[0]
    clinging = quad(lambda s: flow(A * np.hypot(k, s)) ** 2, 0, 60 / A, limit=500)[0]
    Z = plate.on(PLATE[:, None]).load(f, RHO_0, C_0)[0, 0, 0]
    assert Z == pytest.approx(RHO_0 * C_0 * k / (2 * np.pi) * (leaving + 1j * clinging), rel=1e-4)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_volume_it_displaces(shape) -> None:
    """Kind of truth: closed form. Gauss: the flow of u = (b r, c z) through the skin is (2b + c) times its volume.

    At low notes p = j rho f Q/r tells the flow Q. The skin ends at z = 0, so the volume is that between it and there.
    """
    x = np.linspace(0, 1, 401)
    r, z = A * x, SHAPES[shape](x)
    skin = Radiator(r, z, np.arange(0, 400, 2)[:, None] + np.arange(3))
    volume = 2 * np.pi * A**2 * quad(lambda x: x * float(SHAPES[shape](np.array(x))), 0, 1, points=[0.8])[0]
    b, c = 2.0, -0.7
    v = np.concatenate([b * r, c * z])
    Q = skin.pressure(1.0, 0.0, v, RHO_0, C_0, 1.0)[0, 0] / (1j * RHO_0)
    assert skin.volume @ v == pytest.approx((2 * b + c) * volume, rel=2e-3, abs=1e-9)
    assert Q == pytest.approx((2 * b + c) * volume, rel=2e-3, abs=1e-9)


@pytest.mark.parametrize("shape", SHAPES)
def test_power_sent_is_power_arriving(shape) -> None:
    """Kind of truth: balance. Force times velocity at the skin is what passes the far half sphere, for any motion."""
    rng = np.random.default_rng(7)
    f = sound_of(np.array([0.02, 0.2, 1.0, 3.0, 10.0, 25.0]))
    v = rng.normal(size=(6, 82)) + 1j * rng.normal(size=(6, 82))
    skin = surface(shape)
    given = np.einsum("fi,fij,fj->f", v.conj(), skin.load(f, RHO_0, C_0), v).real
    assert skin.power(f, v, RHO_0, C_0) == pytest.approx(given, rel=1e-6)


@pytest.mark.parametrize("shape", SHAPES)
def test_air_only_takes(shape) -> None:
    """Kind of truth: limit. No motion of any skin draws power or spring from the air before it: R and X are positive.

    Quiet motions are zero but for the table's 1e-7, hence the bounds.
    """
    skin = surface(shape)
    Z = skin.load(sound_of(np.array([0.1, 1.0, 5.0, 20.0])), RHO_0, C_0)
    for part in (np.linalg.eigvalsh(Z.real), np.linalg.eigvalsh(Z.imag)):
        assert np.all(part[:, 0] > -1e-7 * part[:, -1])


@pytest.mark.parametrize("ka", [1.5, 6.0])
def test_pressure_by_adding_up_the_rings(ka) -> None:
    """Kind of truth: second method. Rayleigh's integral j rho f v exp(-jkR)/R over small patches, 2 km away."""
    k, f, far = ka / A, sound_of(ka), 2000.0
    w = np.sin(5 * X) - 0.4j * np.cos(3 * X)
    r = A * (np.arange(2000) + 0.5) / 2000
    phi = np.radians(np.arange(0, 360, 2) + 1)
    v = np.sin(5 * r / A) - 0.4j * np.cos(3 * r / A)
    patch = r * A / 2000 * np.radians(2)
    p = surface().pressure(f, ANGLES[::6], along(w), RHO_0, C_0, far)[0]
    for angle, found in zip(ANGLES[::6], p, strict=True):
        way = np.sqrt(far**2 + r[:, None] ** 2 - 2 * far * r[:, None] * np.sin(angle) * np.cos(phi))
        added = np.sum((patch * v)[:, None] * np.exp(-1j * k * (way - far)) / way)
        assert found == pytest.approx(1j * RHO_0 * f * added, abs=1e-3 * abs(p[0]))


def test_two_rings_hear_each_other_alike() -> None:
    """Kind of truth: second method. The slow air between a disc and a ring, by the potential of discs in contact.

    A disc of even flow has p = 2 j w rho b v E(r/b)/π within it (complete elliptic integral, from memory). Its force
    on a smaller one inside is that integrated, and the air must give the larger one the same for the smaller's motion.
    """
    inner = 0.5 * A
    x = np.concatenate([np.linspace(0, 0.5, 21), np.linspace(0.5, 1, 21)])
    elements = np.concatenate([np.arange(0, 20, 2), np.arange(21, 41, 2)])[:, None] + np.arange(3)
    skin = Radiator(A * x, 0 * x, elements)
    n = len(x)
    small, whole = along((np.arange(n) < 21) * 1.0), along(np.ones(n))
    Z = skin.on(np.stack([small, whole], axis=1)).load(1.0, RHO_0, C_0)[0].imag / (2 * np.pi)
    mass = quad(lambda r: 2 * RHO_0 * A / np.pi * ellipe((r / A) ** 2) * 2 * np.pi * r, 0, inner)[0]
    assert Z[0, 1] == pytest.approx(mass, rel=1e-4)
    assert Z[1, 1] == pytest.approx(8 / 3 * RHO_0 * A**3, rel=1e-4)
    assert Z[0, 0] == pytest.approx(8 / 3 * RHO_0 * inner**3, rel=2e-3)


def test_where_depth_shifts_phases() -> None:
    """Kind of truth: closed form. A rigid cone seen from the axis, each ring late by its depth: 0.24 dB lost at kh = 1.

    The mean of exp(j h) over the area of a cone of depth 1, by quadrature.
    """
    real = quad(lambda x: 2 * x * np.cos(1 - x), 0, 1)[0]
    imaginary = quad(lambda x: 2 * x * np.sin(1 - x), 0, 1)[0]
    assert 20 * np.log10(np.hypot(real, imaginary)) == pytest.approx(-0.24, abs=0.005)
    assert 2 * np.pi * deep_limit(0.03, C_0) / C_0 * 0.03 == pytest.approx(1.0, rel=1e-12)

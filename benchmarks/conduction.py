"""Heat on its way out of a coil through its pot: handwound's few nodes beside NGSolve, in one run.

    OPENBLAS_NUM_THREADS=1 python -m benchmarks.conduction

Both sides have the same solids, air at rest between them, nothing radiated, and one film of ``H`` on what faces
the room: so only the ways of the heat are compared. NGSolve is a general finite element library; it solves the section
of the motor in full, the corners of the air and of the spool too.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any, NamedTuple
from unittest.mock import patch

import netgen.occ as occ
import ngsolve as ng
import numpy as np

from handwound import thermal
from handwound.physics.heat import bodies, network
from handwound.physics.heat.bodies import INNER, LOWER, OUTER, Body, Coat, Sight
from handwound.physics.heat.cells import Cells, Placed
from handwound.physics.heat.sources import Fixed

MM = 1e-3
K_STEEL, K_AIR, K_CARD, H = 52.0, 0.027, 0.12, 12.0
WOUND = "winding"
LIES = Placed(("vertical",) * 4)
Place = tuple[float, float, float, float]


class Case(NamedTuple):
    """A coil in its motor: bodies, the rectangles that hold air at rest, watts."""

    name: str
    bodies: tuple[Body, ...]
    air: tuple[Place, ...]
    P: float


class Warm(NamedTuple):
    """Rise of the winding on the mean and at its hottest spot, and of the warmest face. [K]"""

    mean: float
    hot: float
    case: float


def case(
    name: str, rings: dict[str, Place], coil: Place, coat: float, k: tuple[float, float], air: Sequence[Place], P: float
) -> Case:
    """A case from millimetres; the winding's walls of card inside, above and below are ``coat`` thick."""
    card = Coat(coat * MM, K_CARD)
    stuff = {"c_v": 3.5e6, "eps": 0.9}
    solids = [Body(ring, *(MM * v for v in place), K_STEEL, K_STEEL, **stuff) for ring, place in rings.items()]
    wound = Body(
        WOUND, *(MM * v for v in coil), *k, **stuff, coats=(card, Coat(), card, card), pieces=thermal.CELLS,
        cuts=False, heat=True,
    )  # fmt: skip
    rectangles = tuple((a * MM, b * MM, c * MM, d * MM) for a, b, c, d in air)
    return Case(name, (*solids, wound), rectangles, P)


POT = case(
    "pot",
    {"back": (0, 28, 0, 6), "wall": (24, 28, 6.03, 26.03), "top": (11.5, 28, 26.06, 32.06), "pole": (0, 10, 6.03, 32)},
    (12, 23, 7.5, 24.5), 1.0, (0.44, 0.19), [(0, 28, 6, 6.03), (0, 24, 6.03, 26.06), (24, 28, 26.03, 26.06),
                                             (10, 11.5, 26.06, 32)], 6.0,
)  # fmt: skip
VARNISHED = case(
    "full pot, varnished",
    {"back": (0, 34, 0, 6), "shell": (26.55, 30.15, 6.03, 52.03), "top": (14, 34, 52.06, 58.06),
     "pole": (0, 12.5, 6.03, 58.03)},
    (14.5, 26, 7.5, 50.7), 0.5, (1.1, 0.9), [(0, 30.15, 6, 6.03), (0, 26.55, 6.03, 52.06), (26.55, 30.15, 52.03, 52.06),
                                             (12.5, 14, 52.06, 58.03)], 8.0,
)  # fmt: skip
SPOOL = case(
    "open spool",
    {"bolt": (0, 6, -4, 28), "lower": (6, 25, 0, 4), "upper": (6, 25, 22, 26)},
    (7, 24, 4.5, 21.5), 0.5, (0.44, 0.19), [(6, 7, 4, 22)], 5.0,
)  # fmt: skip
STRAP = case(
    "strap yoke",
    {"back": (0, 25.2, 0, 6), "wall": (24, 25.2, 6, 26), "top": (11.5, 25.2, 26.1, 32), "pole": (0, 10, 6.1, 32)},
    (11, 20, 7, 25), 0.5, (0.35, 0.15), [(0, 10, 6, 6.1), (0, 24, 6, 26.1), (24, 25.2, 26, 26.1), (10, 11.5, 26.1, 32)],
    5.0,
)  # fmt: skip
CASES = (POT, VARNISHED, SPOOL, STRAP)


@contextmanager
def one_film() -> Iterator[None]:
    """Air that stands still between walls, one film on the outside, and nothing radiated."""

    def film(T_s: Any, T_a: Any, size: Any) -> Any:
        return np.full_like(T_s, H)

    def at_rest(T_1: Any, T_2: Any, d_gap: Any, height: Any) -> Any:
        return K_AIR / d_gap + 0 * T_1

    def nothing(T_s: Any, T_a: Any, eps: Any) -> Any:
        return 0 * T_s

    with (
        patch.object(network, "FILMS", dict.fromkeys(network.FILMS, film)),
        patch.object(network, "h_layer", at_rest),
        patch.object(network, "h_radiation", nothing),
    ):
        yield


def ours(case: Case, finer: int = 1) -> Warm:
    """By handwound, with so many times its pieces each way."""
    wound = case.bodies[-1]
    wound = replace(wound, pieces=(finer * wound.pieces[0], finer * wound.pieces[1]))
    with (
        one_film(),
        patch.object(bodies, "LONGEST", bodies.LONGEST / finer),
        patch.object(bodies, "SHORTEST", bodies.SHORTEST / finer),
    ):
        cells = Cells.cut([*case.bodies[:-1], wound], LIES)
        nodes = tuple(cells.of(WOUND))
        share = cells.shares(nodes)
        made = Fixed(nodes, share * case.P)
        T = cells.network.steady(0.0, made)
        model = thermal.Thermal(cells, nodes, (), share, share, ())
        hot, warmest = model.hot_spot(T, made(T[:-1])[0]), cells.network.outside(T)[1]
    return Warm(float(share @ T[list(nodes)]), float(hot), float(warmest))


def peer(case: Case, order: int = 3, size: float = 2.0) -> Warm:
    """By NGSolve: triangles of at most ``size`` millimetres, polynomials of this degree."""
    mesh, leads = _mesh(case, size)
    free = _free(case)
    fes = ng.H1(mesh, order=order)
    u, v = fes.TnT()
    r, wound = ng.x, case.bodies[-1]
    k_r, k_z = (mesh.MaterialCF({name: k[axis] for name, k in leads.items()}) for axis in (0, 1))
    form = ng.BilinearForm(fes, symmetric=True)
    form += (k_r * ng.grad(u)[0] * ng.grad(v)[0] + k_z * ng.grad(u)[1] * ng.grad(v)[1]) * r * ng.dx
    form += _film(free) * u * v * r * ng.ds
    load = ng.LinearForm(fes)
    load += case.P / float(wound.volume) * MM**2 * v * r * ng.dx(WOUND)  # lengths in mm
    form.Assemble()
    load.Assemble()
    found = ng.GridFunction(fes)
    found.vec.data = form.mat.Inverse(fes.FreeDofs(), "sparsecholesky") * load.vec
    mean = ng.Integrate(found * r * ng.dx(WOUND), mesh) / ng.Integrate(r * ng.dx(WOUND), mesh)
    fine = np.linspace(0.005, 0.995, 100)
    a, b, low, high = (v / MM for v in (wound.r_in, wound.r_out, wound.z_lo, wound.z_hi))
    rr, zz = np.meshgrid(a + (b - a) * fine, low + (high - low) * fine)
    faces = np.concatenate([_along(side, edges, fine) for side, edges, _ in free])
    at_face = found(mesh(faces[:, 0], faces[:, 1]))
    return Warm(mean, float(np.max(found(mesh(rr.ravel(), zz.ravel())))), float(np.max(at_face)))


Free = list[tuple[int, list[float], float]]


def _free(case: Case) -> Free:
    """Sides that face the room, with their edges in millimetres, and the share of each: as handwound sees them."""
    pieces = [piece for body in case.bodies for piece in body.cut(case.bodies)]
    return [
        (side, [float(pieces[k].outline(each)) / MM for each in range(4)], share)
        for k, side, share in Sight.all(pieces)[1]
    ]


def _film(free: Free) -> ng.CoefficientFunction:
    """The film on the edges of the section that face the room."""
    near, found = 1e-6, ng.CF(0.0)
    for side, edges, share in free:
        across, along = (ng.x, ng.y) if side in (INNER, OUTER) else (ng.y, ng.x)
        low, high = edges[LOWER:] if side in (INNER, OUTER) else edges[:LOWER]
        there = (near - ng.sqrt((across - edges[side]) ** 2), along - low + near, high - along + near)
        found = found + share * H * MM * np.prod([ng.IfPos(each, 1.0, 0.0) for each in there])
    return found


def _along(side: int, edges: list[float], fine: np.ndarray) -> np.ndarray:
    """Points along a side."""
    across, (low, high) = edges[side], edges[LOWER:] if side in (INNER, OUTER) else edges[:LOWER]
    points = np.stack([np.full_like(fine, across), low + (high - low) * fine], axis=1)
    return points if side in (INNER, OUTER) else points[:, ::-1]


def _mesh(case: Case, size: float) -> tuple[ng.Mesh, dict[str, tuple[float, float]]]:
    """Triangles in millimetres, and the conductivity of each face by its name."""
    leads: dict[str, tuple[float, float]] = {"air": (K_AIR, K_AIR)}
    solids: list[occ.Face] = []
    for body in case.bodies:
        places = [(body.name, (body.r_in, body.r_out, body.z_lo, body.z_hi), (body.k_r, body.k_z))]
        places += [
            (f"{body.name} {side}", _coat(body, side), (coat.k_th, coat.k_th))
            for side, coat in enumerate(body.coats) if coat.t
        ]  # fmt: skip
        for name, place, k in places:
            solids.append(_face(place, name, size / 2))
            leads[name] = k
    filled = occ.Glue(solids)
    air: list[occ.Face] = []
    for rectangle in case.air:
        left = _face(rectangle, "air", size / 2) - filled
        left.faces.name = "air"
        air.append(left)
    geometry = occ.OCCGeometry(occ.Glue([*solids, *air]), dim=2)
    return ng.Mesh(geometry.GenerateMesh(maxh=size, grading=0.5)), leads


def _coat(body: Body, side: int) -> Any:
    """The rectangle of a coat; those below and above reach over the one inside."""
    a, b, low, high = (body.outline(each) for each in range(4))
    return (
        (a, body.r_in, body.z_lo, body.z_hi), (body.r_out, b, body.z_lo, body.z_hi),
        (a, b, low, body.z_lo), (a, b, body.z_hi, high),
    )[side]  # fmt: skip


def _face(place: Any, name: str, size: float) -> occ.Face:
    a, b, low, high = (float(v) / MM for v in place)
    made = occ.WorkPlane().MoveTo(a, low).Rectangle(b - a, high - low).Face()
    made.faces.name, made.faces.maxh = name, size
    return made


def main() -> None:
    """Print the table."""
    print(f"rise of a coil in its motor, K; one film of {H} W/(m²·K) on both sides")
    print(f"{'motor':22}{'':14}{'mean':>8}{'hot spot':>10}{'case':>8}{'time':>10}")
    for each in CASES:
        rows = [("handwound", lambda c=each: ours(c)), ("4 times finer", lambda c=each: ours(c, 4)),
                ("NGSolve", lambda c=each: peer(c))]  # fmt: skip
        for word, run in rows:
            began = time.perf_counter()
            warm = run()
            lasted = time.perf_counter() - began
            print(f"{each.name:22}{word:14}{warm.mean:8.2f}{warm.hot:10.2f}{warm.case:8.2f}{lasted * 1e3:7.0f} ms")


if __name__ == "__main__":
    main()

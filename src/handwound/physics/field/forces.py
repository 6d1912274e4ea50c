"""Pulls between the parts of a motor, from the stress of the field in the air between them."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike
from scipy.sparse import csc_matrix, dia_array, diags_array, kron
from scipy.sparse.linalg import splu

from handwound.errors import FieldError
from handwound.physics.field.axis import Axis
from handwound.physics.field.bh import MU_0, Array
from handwound.physics.field.grid import SEARCH, Fineness
from handwound.physics.field.problem import Problem, Ring
from handwound.physics.field.solution import Solution
from handwound.physics.field.solver import solve, sweep

LIFTS = (0.0, 0.0005, 0.001, 0.002, 0.005, 0.010, 0.020)
"""Distances at which the pull on a part that is being put on is told; 0 is where it rests on its joint. [m]"""


def pull(solution: Solution, names: str | Collection[str]) -> float:
    r"""Axial pull of field on a set of rings that move together.

    .. math:: F_z = -\int (T_{zr} \, \partial_r g + T_{zz} \, \partial_z g + g f_z) \, dV, \quad
        T_{zr} = B_r B_z / \mu_0, \; T_{zz} = (B_z^2 - B_r^2) / 2 \mu_0, \; f_z = -J B_r

    Parameters
    ----------
    solution : Solution
        The field. [-]
    names : list
        Names of the rings of the set, or the one name. [-]

    Returns
    -------
    F_pull : float
        Force on the set, positive away from the back. [N]

    Notes
    -----
    ``g`` is 1 on the set, 0 on all other steel and magnets and smooth between: the rate at which the field's energy
    changes while the air around the set is stretched. Every g gives the same force when the field is exact; this one
    leans little on the corners, where the field is known worst. The winding's own force f inside the air is taken out.
    Off by 0.2 % on the grid FULL and 1.4 % on SEARCH (a top plate 0.1 mm above its pot, against the change of the
    co-energy on a finest grid).
    Copper and brass are pulled by no steady field. Weights are not in it.

    References
    ----------
    .. [1] Maxwell's stress, and the virtual work that makes it a volume integral: textbook matter (from memory).

    Examples
    --------
    >>> from handwound.physics.field import Magnet
    >>> discs = (Ring("a", 0, 0.010, 0, 0.010, magnet=Magnet(1.2, 1.0, "up")),
    ...          Ring("b", 0, 0.010, 0.015, 0.025, magnet=Magnet(1.2, 1.0, "up")))
    >>> round(pull(solve(Problem(discs), 0), ["a"]), 1)
    36.7
    """
    system = solution.system
    g = _weight(solution, _each(names))
    of_air = [ring.curve is None and ring.magnet is None for ring in solution.problem.rings]
    elements = np.flatnonzero(np.array([*of_air, True])[system.owner])
    weight = system.curl_at(elements)[1]
    B_r, B_z = system.B(elements, solution.A.ravel())
    g_here = g[system.nodes[elements]] @ system.value.T
    minus_g_z, g_r = system.B(elements, g)  # of any nodal values -d/dz, and d/dr with the value over r
    g_r -= g_here / system.places(elements)[0]
    stress = (B_r * B_z * g_r - (B_z**2 - B_r**2) / 2 * minus_g_z) / MU_0
    on_winding = -_current_density(solution)[elements, None] * B_r
    return float(-2 * np.pi * np.sum(weight * (stress + g_here * on_winding)))


def _each(names: str | Collection[str]) -> Collection[str]:
    """A name alone is a set of one."""
    return [names] if isinstance(names, str) else names


def _current_density(solution: Solution) -> Array:
    """The winding's current density in each element."""
    system, winding = solution.system, solution.problem.winding
    J = np.zeros((system.z.elements, system.r.elements))
    if winding:
        in_r, in_z = system.spans[-1]
        r_in, r_out, z_lo, z_hi = winding.rectangle
        J[in_z, in_r] = solution.NI / ((r_out - r_in) * (z_hi - z_lo))
    return J.ravel()


def _weight(solution: Solution, names: Collection[str]) -> Array:
    """The weight g at all nodes: harmonic on the lines of the grid, straight between them."""
    system = solution.system
    r, z = (Axis(axis.lines, 1) for axis in (system.r, system.z))
    shape = z.count, r.count
    held, moved = _touched(solution, names, shape)
    fixed = held | moved
    fixed[[0, -1]] = fixed[:, -1] = True
    g = moved.astype(float)
    K = csc_matrix(kron(_mass(z), _stiffness(r)) + kron(_stiffness(z), _mass(r)))
    free = np.flatnonzero(~fixed)
    g.ravel()[free] = splu(K[free][:, free]).solve(-(K[free] @ g.ravel()))
    return (z.values(system.z.places) @ g @ r.values(system.r.places).T).ravel()


def _touched(solution: Solution, names: Collection[str], shape: tuple[int, int]) -> tuple[Array, Array]:
    """The lines' crossings on the steel and magnets that stay, and on those that move."""
    rings = solution.problem.rings
    unknown = sorted(set(names) - {ring.name for ring in rings})
    if unknown or not names:
        raise FieldError(
            f"pull: must be asked for rings of the motor; found {', '.join(unknown) or 'none'}. "
            f"There are {', '.join(ring.name for ring in rings) or 'none'}."
        )
    held, moved = np.zeros(shape, bool), np.zeros(shape, bool)
    places: list[tuple[Ring, slice, slice]] = []
    for ring, (in_r, in_z) in zip(rings, solution.system.spans, strict=False):
        if ring.curve or ring.magnet:
            places.append((ring, slice(in_z.start, in_z.stop + 1), slice(in_r.start, in_r.stop + 1)))
            (moved if ring.name in names else held)[places[-1][1:]] = True
    for ring, *place in places:
        if ring.name not in names and moved[tuple(place)].any():
            other = next(one for one, *at in places if one.name in names and _share(at, place))
            raise FieldError(
                f"pull: must have air all around what moves; found {other.name} touching {ring.name}. "
                "Put a joint between them, or let them move together."
            )
    return held, moved


def _share(a: Sequence[slice], b: Sequence[slice]) -> bool:
    return all(max(one.start, two.start) < min(one.stop, two.stop) for one, two in zip(a, b, strict=True))


def _stiffness(axis: Axis) -> dia_array:
    """Integrals of the products of slopes of straight elements, as a sparse matrix."""
    slope = 1 / axis.width
    return diags_array([-slope, np.append(slope, 0) + np.append(0, slope), -slope], offsets=[-1, 0, 1])


def _mass(axis: Axis) -> dia_array:
    """Integrals of the products of straight elements, as a sparse matrix."""
    width = axis.width
    main = (np.append(width, 0) + np.append(0, width)) / 3
    return diags_array([width / 6, main, width / 6], offsets=[-1, 0, 1])


def approach(
    problem: Problem, NI: float, names: str | Collection[str], lift: Sequence[float] = LIFTS,
    fineness: Fineness = SEARCH,
) -> Array:  # fmt: skip
    r"""Pull on a part that is being put on, at several distances above where it rests.

    .. math:: F(d) = F_z(z_k + d)

    Parameters
    ----------
    problem : Problem
        The motor as assembled, with a joint under what is lifted. [-]
    NI : float
        Ampere-turns; 0 while nothing is switched on. [A]
    names : list
        Names of the rings that are lifted together, or the one name. [-]
    lift : float
        Distances to lift them by; 0 is where they rest. [m]
    fineness : Fineness
        How close the grid lines are; SEARCH or FULL. [-]

    Returns
    -------
    F_pull : float
        Force on the set at each distance, positive away from the back; negative where it is drawn down. [N]

    Notes
    -----
    A magnet's parts snap together over the last millimetres with the largest of these forces, and fingers are in
    between: use wedges or a jig, never fingertips. SEARCH is within 0.4 % of a finest grid (plate on a ferrite ring,
    every distance); the air of the joint, seldom known to half, decides the force at rest. A part that slides down
    askew is not in it.

    References
    ----------
    .. [1] :func:`pull` at each distance.
    """
    names, forces = _each(names), []
    for distance in lift:
        rings = (ring.raised(distance) if ring.name in names else ring for ring in problem.rings)
        forces.append(pull(solve(replace(problem, rings=tuple(rings)), NI, fineness=fineness), names))
    return np.array(forces)


def lifting_force(problem: Problem, piece: Ring, NI: Sequence[float], fineness: Fineness = SEARCH) -> Array:
    r"""Pull on a known piece of steel held near the motor, over the ampere-turns.

    .. math:: F(NI) = F_z \text{ of the piece}

    Parameters
    ----------
    problem : Problem
        The motor. [-]
    piece : Ring
        The piece of steel where it is held: a disc or ring on the axis, with air (a card) under it. [-]
    NI : float
        Ampere-turns, rising. [A]
    fineness : Fineness
        How close the grid lines are; SEARCH or FULL. [-]

    Returns
    -------
    F_pull : float
        Force on the piece at each current, positive away from the back. [N]

    Notes
    -----
    The lift test: the smallest current at which the coil lifts a piece of known weight. Lay a card of known thickness
    between: without it the force is that of an unknown film of air. The test is good to 20 % (common practice).

    References
    ----------
    .. [1] :func:`pull` at each current.
    """
    whole = replace(problem, rings=(*problem.rings, piece))
    return np.array([pull(found, [piece.name]) for found in sweep(whole, NI, fineness=fineness)])


def lifting_NI(NI: ArrayLike, F_pull: ArrayLike, m: float) -> float:
    r"""Ampere-turns at which a piece of known mass is just lifted.

    .. math:: |F(NI)| = m g

    Parameters
    ----------
    NI : float
        Ampere-turns, rising. [A]
    F_pull : float
        Pull on the piece at each. [N]
    m : float
        Mass of the piece. [kg]

    Returns
    -------
    NI : float
        Ampere-turns that lift it, nan where the largest do not; where the smallest lift it already, those. [A]

    Notes
    -----
    The root of the force is taken as straight between two currents, which it is below the knee.

    References
    ----------
    .. [1] Standard acceleration of fall, 9.80665 m/s².

    Examples
    --------
    >>> round(float(lifting_NI([0.0, 100.0, 200.0], [0.0, -0.5, -2.0], 0.1)), 1)
    140.0
    """
    root, wanted = np.sqrt(np.abs(F_pull)), np.sqrt(m * 9.80665)
    rising = np.maximum.accumulate(root)
    if wanted > rising[-1]:
        return float("nan")
    return float(np.interp(wanted, rising, np.asarray(NI, float)))

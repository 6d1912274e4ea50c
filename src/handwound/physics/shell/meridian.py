"""The middle line of a body of revolution, in r-z, cut into elements: straight, round, in waves; joined to a shell."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[Any]
TOUCH = 1e-9
"""Nodes as near as this are one. [m]"""


class Shell(NamedTuple):
    """A body of revolution: nodes r, z [m]; elements [e, 3] as first end, middle, second end; a sheet per element.

    The sheet: t [m], E [Pa], nu, rho_A [kg/m²], loss factor eta. ``ribs`` [e, 3] are smeared: their E n t / 2π [N/m],
    their height [m] and their mass n rho_A / 2π [kg/m²]; all 0 where there are none. They stand on the side of the
    normal, which is the line's direction turned a quarter from r to z: upwards where it runs outwards.
    """

    r: Array
    z: Array
    elements: Array
    t: Array
    E: Array
    nu: Array
    rho_A: Array
    eta: Array
    ribs: Array


def line(r_1: float, z_1: float, r_2: float, z_2: float, n: int) -> tuple[Array, Array]:
    r"""Nodes of a straight line: a ring, a cone, a former.

    .. math:: (r, z) = (1 - s) (r_1, z_1) + s (r_2, z_2), \quad s = 0, \tfrac{1}{2 n}, \dots, 1

    Parameters
    ----------
    r_1 : float
        Radius where it begins. [m]
    z_1 : float
        Level where it begins. [m]
    r_2 : float
        Radius where it ends. [m]
    z_2 : float
        Level where it ends. [m]
    n : int
        Elements of three nodes. [1]

    Returns
    -------
    r : array
        Radii of the nodes. [m]
    z : array
        Levels of the nodes. [m]

    Notes
    -----
    All elements are equally long.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> line(0.0, 0.0, 0.2, 0.1, 1)
    (array([0. , 0.1, 0.2]), array([0.  , 0.05, 0.1 ]))
    """
    return np.linspace(r_1, r_2, 2 * n + 1), np.linspace(z_1, z_2, 2 * n + 1)


def arc(r_1: float, z_1: float, r_2: float, z_2: float, height: float, n: int) -> tuple[Array, Array]:
    r"""Nodes of a part of a circle over a chord: a roll; half a roll where it is half as high as the chord is long.

    .. math:: (r, z) = \vec{m} + \left[ h - R (1 - \cos \varphi) \right] \vec{n} + R \sin \varphi \, \vec{e}, \quad
        R = \frac{c^2 / 4 + h^2}{2 h}, \; |\varphi| \le 2 \arctan \frac{2 h}{c}

    Parameters
    ----------
    r_1 : float
        Radius where it begins. [m]
    z_1 : float
        Level where it begins. [m]
    r_2 : float
        Radius where it ends. [m]
    z_2 : float
        Level where it ends. [m]
    height : float
        How far its middle stands off the chord, to the side of the normal: upwards where it runs outwards. [m]
    n : int
        Elements of three nodes. [1]

    Returns
    -------
    r : array
        Radii of the nodes. [m]
    z : array
        Levels of the nodes. [m]

    Notes
    -----
    A height of 0 is the chord itself, a negative one bulges to the other side.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> r, z = arc(0.05, 0.0, 0.06, 0.0, 0.005, 1)
    >>> r.round(4), z.round(4)
    (array([0.05 , 0.055, 0.06 ]), array([0.   , 0.005, 0.   ]))
    """
    if height == 0:
        return line(r_1, z_1, r_2, z_2, n)
    chord = np.hypot(r_2 - r_1, z_2 - z_1)
    e = np.array([r_2 - r_1, z_2 - z_1]) / chord
    up = np.array([-e[1], e[0]])
    R = (chord**2 / 4 + height**2) / (2 * height)
    phi = 2 * np.arctan(2 * height / chord) * np.linspace(-1, 1, 2 * n + 1)[:, None]
    middle = np.array([r_1 + r_2, z_1 + z_2]) / 2
    r, z = (middle + (height - R * (1 - np.cos(phi))) * up + R * np.sin(phi) * e).T
    # the ends exactly as given: others are joined to them
    r[[0, -1]], z[[0, -1]] = (r_1, r_2), (z_1, z_2)
    return r, z


def wave(r_1: float, r_2: float, z: float, h_r: float, n_pleat: int, n: int) -> tuple[Array, Array]:
    r"""Nodes of pleats between two radii: whole waves that begin and end level.

    .. math:: z(r) = z + \frac{h_r}{2} \left[ 1 - \cos 2 \pi n_{pleat} \frac{r - r_1}{r_2 - r_1} \right]

    Parameters
    ----------
    r_1 : float
        Radius where they begin. [m]
    r_2 : float
        Radius where they end. [m]
    z : float
        Level of both ends. [m]
    h_r : float
        Depth from valley to crest. [m]
    n_pleat : int
        Number of waves. [1]
    n : int
        Elements of three nodes. [1]

    Returns
    -------
    r : array
        Radii of the nodes. [m]
    z : array
        Levels of the nodes. [m]

    Notes
    -----
    All waves stand on one side of their ends; cloth that is pressed between combs is a little sharper. Take at least 6
    elements a wave.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> wave(0.02, 0.04, 0.0, 0.003, 1, 1)[1].round(4)
    array([0.   , 0.003, 0.   ])
    """
    r, level = line(r_1, z, r_2, z, n)
    return r, level + h_r / 2 * (1 - np.cos(np.linspace(0, 2 * np.pi * n_pleat, 2 * n + 1)))


def dome(r_out: float, height: float, z: float, n: int) -> tuple[Array, Array]:
    r"""Nodes of a part of a sphere, from the axis out to its rim.

    .. math:: r = R \sin \varphi, \quad z = z + h - R (1 - \cos \varphi), \quad R = \frac{r_{out}^2 + h^2}{2 h}

    Parameters
    ----------
    r_out : float
        Radius of its rim. [m]
    height : float
        How far its middle stands above the rim; 0 for a disc, negative where it is hollow. [m]
    z : float
        Level of its rim. [m]
    n : int
        Elements of three nodes. [1]

    Returns
    -------
    r : array
        Radii of the nodes. [m]
    z : array
        Levels of the nodes. [m]

    Notes
    -----
    All elements are equally long.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> r, z = dome(0.030, 0.010, 0.0, 1)
    >>> r.round(4), z.round(4)
    (array([0.    , 0.0158, 0.03  ]), array([0.01  , 0.0074, 0.    ]))
    """
    r, level = arc(-r_out, z, r_out, z, height, 2 * n)
    r, level = r[2 * n :], level[2 * n :]
    r[0] = 0.0
    return r, level


def piece(
    r: Array, z: Array, t: float, E: float, nu: float, rho_A: float, eta: float = 0.0, ribs: Array | None = None
) -> Shell:
    r"""One line of nodes as a shell of one sheet.

    .. math:: e_k = (2 k, \, 2 k + 1, \, 2 k + 2)

    Parameters
    ----------
    r : array
        Radii of the nodes in their order, an odd number. [m]
    z : array
        Levels of the nodes. [m]
    t : float
        Thickness of the sheet. [m]
    E : float
        Modulus of elasticity. [Pa]
    nu : float
        Poisson's ratio. [1]
    rho_A : float
        Mass of the sheet per area. [kg/m²]
    eta : float
        Loss factor of the sheet. [1]
    ribs : array
        Smeared ribs of each element, or none; see ``smeared``. [-]

    Returns
    -------
    shell : Shell
        The shell. [-]

    Notes
    -----
    Paper is stiffer along the machine than across; going round, a cone takes the mean of both.

    References
    ----------
    .. [1] Every second node ends an element.

    Examples
    --------
    >>> piece(*line(0.0, 0.0, 0.05, 0.0, 2), 0.0002, 3e9, 0.3, 0.14).elements
    array([[0, 1, 2],
           [2, 3, 4]])
    """
    first = np.arange(0, len(r) - 1, 2)
    elements = np.stack([first, first + 1, first + 2], axis=1)
    of_each = [np.full(len(first), float(value)) for value in (t, E, nu, rho_A, eta)]
    of_each.append(np.zeros((len(first), 3)) if ribs is None else ribs)
    return Shell(np.asarray(r), np.asarray(z), elements, *of_each)


def smeared(
    r: Array, E_rib: float, t_rib: float, rho_rib: float, n_rib: int, h_rib: float, r_in: float, r_out: float
) -> Array:
    r"""Ribs along radii, spread evenly round the circle, for each element of a line.

    .. math:: \frac{E \, n \, t}{2 \pi}, \quad h, \quad \frac{n \, \rho_A}{2 \pi}

    Parameters
    ----------
    r : array
        Radii of the nodes in their order, an odd number. [m]
    E_rib : float
        Modulus of the ribs. [Pa]
    t_rib : float
        Thickness of a rib. [m]
    rho_rib : float
        Mass of a rib's sheet per area. [kg/m²]
    n_rib : int
        Number of ribs. [1]
    h_rib : float
        How high they stand. [m]
    r_in : float
        Radius where they begin. [m]
    r_out : float
        Radius where they end. [m]

    Returns
    -------
    ribs : array
        Over the radius, stiffness and mass of a rib's strip round the circle, with the height, for each element. [-]

    Notes
    -----
    They stiffen along the radius only, and push the line of no strain out of the sheet. They take its Poisson's ratio
    and its loss factor. Fair where the waves on the
    diaphragm are longer than the distance between two ribs; shorter ones pass between them. An element belongs to
    them by its middle.

    References
    ----------
    .. [1] Smeared stiffeners, usual in thin shells (from memory).

    Examples
    --------
    >>> smeared(line(0.01, 0.0, 0.05, 0.0, 2)[0], 3e9, 0.0002, 0.14, 6, 0.004, 0.03, 0.05)[1].round(3)
    array([5.72957795e+05, 4.00000000e-03, 1.34000000e-01])
    """
    middle = r[1::2]
    has = (middle >= r_in) & (middle <= r_out)
    row = [E_rib * n_rib * t_rib / (2 * np.pi), h_rib, n_rib * rho_rib / (2 * np.pi)]
    return np.asarray(has[:, None] * np.array(row))


def join(*pieces: Shell) -> Shell:
    r"""Pieces as one shell: nodes at the same place become one, so what meets there is glued.

    .. math:: |\vec{x}_i - \vec{x}_j| < 1 \, nm \; \Rightarrow \; i \equiv j

    Parameters
    ----------
    pieces : Shell
        The pieces. [-]

    Returns
    -------
    shell : Shell
        All of them. [-]

    Notes
    -----
    The angle between two sheets that meet stays as it is: the line of glue is as stiff as a weld.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> one, two = (piece(*line(r, 0.0, r + 0.01, 0.0, 1), 0.0002, 3e9, 0.3, 0.14) for r in (0.01, 0.02))
    >>> join(one, two).r
    array([0.01 , 0.015, 0.02 , 0.025, 0.03 ])
    """
    r, z = (np.concatenate([getattr(shell, name) for shell in pieces]) for name in ("r", "z"))
    before = np.cumsum([0, *(len(shell.r) for shell in pieces)])
    elements = np.concatenate([shell.elements + start for shell, start in zip(pieces, before, strict=False)])
    first = np.argmax(np.hypot(np.subtract.outer(r, r), np.subtract.outer(z, z)) < TOUCH, axis=1)
    kept, number = np.unique(first, return_inverse=True)
    sheets = (np.concatenate(values) for values in zip(*(shell[3:] for shell in pieces), strict=True))
    return Shell(r[kept], z[kept], number[elements], *sheets)


def node_at(shell: Shell, r: float, z: float) -> int:
    r"""The number of the node at a place.

    .. math:: \min_i |\vec{x}_i - \vec{x}|

    Parameters
    ----------
    shell : Shell
        The shell. [-]
    r : float
        Radius. [m]
    z : float
        Level. [m]

    Returns
    -------
    node : int
        Its number. [-]

    Notes
    -----
    There must be one within 1 µm.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> node_at(piece(*line(0.0, 0.0, 0.05, 0.0, 2), 0.0002, 3e9, 0.3, 0.14), 0.05, 0.0)
    4
    """
    away = np.hypot(shell.r - r, shell.z - z)
    if away.min() > 1e-6:
        raise ValueError(f"no node of the shell is at r = {r * 1e3:g} mm, z = {z * 1e3:g} mm")
    return int(np.argmin(away))
